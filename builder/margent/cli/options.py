"""The options that several commands share, so that they are spelt and explained in one place."""

from __future__ import annotations

from pathlib import Path

import click

home_option = click.option(
    "--home",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Folder that holds vocab/, shapes/ and site/ (else MARGENT_HOME, else Margent's own).",
)

authority_option = click.option(
    "--authority",
    "authorities",
    multiple=True,
    metavar="FOLDER",
    help="Folder with an institution's makers and marks; repeatable; `demo` is an invented one (else MARGENT_AUTHORITY).",
)

"""The options of commands that work through a file of letterings."""

from __future__ import annotations

import os
from pathlib import Path

import click

from margent.exchange.batch_file import BatchFile
from margent.exchange.columns import wanted_columns

column_option = click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="OURS=THEIRS",
    help="A column of the table under another name, as lettering=Inscription; repeatable. Ours are id, lettering, date, place, "
    "technique, complete, and places on the sheet as lower left or in image.",
)

encoding_option = click.option(
    "--encoding",
    metavar="NAME",
    help="How a CSV or TSV file is encoded (UTF-8 if not said): cp1252, mac_roman, utf-16.",
)

sheet_option = click.option("--sheet", metavar="NAME", help="The sheet of a workbook (the first if not said).")

jobs_option = click.option(
    "--jobs",
    type=click.IntRange(min=1, max=256),
    metavar="N",
    help="How many processes read at once (as many as the machine has cores).",
)


def batch_file(path: Path, columns: tuple[str, ...], encoding: str | None, sheet: str | None) -> BatchFile:
    """The file of letterings that the options describe."""
    return BatchFile(path, wanted_columns(columns), encoding, sheet)


def processes(jobs: int | None) -> int:
    """How many processes are to read."""
    return jobs or os.cpu_count() or 1

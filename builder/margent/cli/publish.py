"""`margent publish`: the site, the dumps and the compiled reader, in one folder."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from margent.checking.check import all_rules
from margent.cli.options import authority_option, home_option
from margent.publishing.publish import publish
from margent.publishing.rule_page import rule_page
from margent.vocabulary.here import authority_folders, room

EXAMPLE = """\b
Examples:
  margent publish
  margent publish --to /srv/prints --authority ./our-makers
"""


@click.command(name="publish", epilog=EXAMPLE)
@click.option(
    "--to",
    "target",
    type=click.Path(path_type=Path),
    default=Path("public"),
    metavar="FOLDER",
    help="Where to; the folder is replaced whole (public, if not said).",
)
@click.option(
    "--address",
    default="",
    metavar="URL",
    help="Where the site will be found, for links that programs follow; mg:siteAddress of publication.ttl, if not said.",
)
@authority_option
@home_option
def command(target: Path, address: str, authorities: tuple[str, ...], home: Path | None) -> None:
    """Write the site, the dumps and the compiled reader to a folder, and print the page to begin with.

    The folder is built beside its place and put there when it is whole. It may be opened from the disk or served by any
    web server; it asks nobody else for anything.
    """
    told = sys.stderr.isatty()

    def progress(what: str) -> None:
        if told:
            click.echo(f"\r\033[K{what}", err=True, nl=False)

    try:
        folders = authority_folders(authorities, home)
        shapes = room("shapes", home)
        rules = rule_page(all_rules(shapes), shapes)
        done = publish(room("vocab", home), room("site", home), target, folders, address, progress, [rules])
    finally:
        if told:
            click.echo("\r\033[K", err=True, nl=False)
    anew = f" ({done.new:,} of them written anew)" if done.new < done.pages else ""
    click.echo(f"{done.pages:,} pages{anew} and {done.files} data files", err=True)
    click.echo(done.start)

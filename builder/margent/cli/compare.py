"""`margent compare`: what is another in a newer version of a vocabulary, and what that breaks."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

import click

from margent.cli.data_out import data_out
from margent.cli.options import home_option
from margent.faults import Fault
from margent.vocabulary.here import room

EXAMPLE = """\b
Example:
  margent compare main                                what is another now than on the branch main
  margent compare 2026.10 2026.11 --as markdown       between two revisions, for a pull request
  margent compare old/public new/public               between two published folders
  margent compare main --letterings ours.jsonl        and which of our letterings read differently
"""


@click.command(
    "compare",
    epilog=EXAMPLE,
    help="""Say what was added, changed and withdrawn, field by field, and what breaks for those who use the older version.

    OLD and NEW are folders of a vocabulary, published folders, dumps, or git revisions; without NEW it is the folder as it
    is now. The exit code is 1 when something breaks: an IRI that has vanished, a name that leads elsewhere, a role or sense
    that means less than it did. An entry that was withdrawn breaks nothing.""",
)
@click.argument("old", metavar="OLD")
@click.argument("new", metavar="[NEW]", required=False)
@click.option(
    "--in",
    "folder",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="The folder that revisions are of (else vocab/).",
)
@click.option(
    "--letterings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="A JSON Lines file of letterings: tell which are read differently.",
)
@click.option(
    "--as", "form", type=click.Choice(["text", "json", "markdown"]), default="text", help="Form of the answer."
)
@home_option
def command(
    old: str, new: str | None, folder: Path | None, letterings: Path | None, form: str, home: Path | None
) -> int:
    """The exit code: 1 when something breaks, else 0."""
    from margent.vocabulary.compare import Comparison, changes, read_version
    from margent.vocabulary.compare_breaks import breaks
    from margent.vocabulary.compare_text import as_json, as_markdown, as_text, summary

    with ExitStack() as open_folders:
        before = open_folders.enter_context(_place(old, folder, home))
        after = open_folders.enter_context(_place(new, folder, home))
        older, newer = read_version(before), read_version(after)
        found = Comparison(changes(older, newer), breaks(older, newer), newer.bases or older.bases)
        readings = None
        if letterings is not None:
            from margent.exchange.compare_readings import other_readings

            readings = list(other_readings(letterings, _reader(before), _reader(after)))
    forms = {"text": as_text, "json": as_json, "markdown": as_markdown}
    data_out().write(forms[form](found, readings))
    click.echo(summary(found, readings), err=True)
    return 1 if found.breaks else 0


@contextmanager
def _place(said: str | None, folder: Path | None, home: Path | None) -> Iterator[Path]:
    """The folder or dump that is meant: a path that is there, a git revision of the folder, or the folder itself."""
    from margent.vocabulary.revisions import at_revision

    if said is not None and Path(said).exists():
        yield Path(said)
        return
    ours = folder or (Path("vocab") if Path("vocab").is_dir() else room("vocab", home))
    if not ours.is_dir():
        raise Fault(f"{ours}: no such folder; name the folder that the revisions are of")
    if said is None:
        yield ours
        return
    with at_revision([ours], said) as (there,):
        yield there


def _reader(place: Path) -> Any:
    """The compiled reader of a published folder, or of the files of a vocabulary; raises Fault where there is none."""
    for made in (place / "data" / "reader.json", place / "reader.json"):
        if made.is_file():
            return json.loads(made.read_text("utf-8"))
    if not (place / "ns.ttl").is_file():
        raise Fault(f"{place}: has no reader; letterings are read with a general vocabulary or a published folder")
    from margent.publishing.reader_file import as_json, compile_reader
    from margent.vocabulary.load import load

    return json.loads(as_json(compile_reader(load(place))))

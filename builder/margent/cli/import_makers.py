"""`margent import makers`: a list of makers from elsewhere, taken into an authority."""

from __future__ import annotations

import csv
import datetime as dt
import io
from pathlib import Path

import click

from margent.cli.batch_options import encoding_option, sheet_option
from margent.cli.options import home_option
from margent.cli.progress import told
from margent.exchange.listed_words import ListedWords
from margent.exchange.makers_file import MakersFile
from margent.exchange.makers_import import ListSource, Outcome, import_makers
from margent.exchange.makers_table import MakerColumns, wanted_maker_columns
from margent.faults import Fault
from margent.vocabulary.here import room
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.iris import is_language
from margent.vocabulary.load import load

SHOWN = 12
"""Lines of each kind on stderr at most; the report has them all."""

EXAMPLE = """\b
Examples:
  margent import makers artists.csv --to ours/ --base https://prints.museum.example/authority/
  margent import makers artists.xlsx --to ours/ --column id="Artist No" --column name=Artist --report not-taken.csv
  margent import makers names.mrc --to ours/ --source "names of the union catalogue"
  margent check ours/
"""

GROUP_EXAMPLE = """\b
Example:
  margent import makers artists.csv --to ours/ --base https://prints.museum.example/authority/
"""


@click.group("import", epilog=GROUP_EXAMPLE, help="Take a list from elsewhere into an authority.")
def command() -> None:
    """Nothing comes back: the group only holds what can be taken in."""


@command.command("makers", epilog=EXAMPLE)
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--to",
    "folder",
    required=True,
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="The folder of the authority; a new one is begun.",
)
@click.option(
    "--base", metavar="IRI", help="What the IRIs of its makers begin with; needed where FOLDER has no publication.ttl."
)
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="OURS=THEIRS",
    help="A column of the table under another name, as name=Artist; repeatable. Ours are id, name, variants, dates, born, died, "
    "active, begin, end, nationality, kind, roles, places, same as, note. What is not said is guessed from the header.",
)  # fmt: skip
@encoding_option
@sheet_option
@click.option(
    "--source",
    metavar="NAME",
    help="What the list is called; the same list must have the same name at its next import (the name of FILE if not said).",
)
@click.option(
    "--language",
    default="en",
    show_default=True,
    metavar="TAG",
    help="The language in which the list writes its headings.",
)
@click.option(
    "--report",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write everything that must be looked at to a CSV file.",
)
@click.option("--dry", is_flag=True, help="Write nothing but the report.")
@home_option
def makers(
    file: Path,
    folder: Path,
    base: str | None,
    columns: tuple[str, ...],
    encoding: str | None,
    sheet: str | None,
    source: str | None,
    language: str,
    report: Path | None,
    dry: bool,
    home: Path | None,
) -> int:
    """Take the makers of FILE into an authority, as tidy Turtle under stable IRIs.

    FILE is CSV, TSV or XLSX with a header, MARC 21 authority records (.mrc, .xml), or SKOS (.ttl, .rdf, .jsonld, .nt). The
    IRI of a maker ends with its id in the list. Taken in again, a list brings its makers up to date: what only the
    authority says is kept, and what vanished from the list is reported and stays. Nothing is fetched.
    """
    if report is not None and (report.is_dir() or not report.absolute().parent.is_dir()):
        raise Fault(
            f"{report}: {'is a folder' if report.is_dir() else 'its folder is not there'}; name a file in a folder that is"
        )
    if not is_language(language):
        raise Fault(f"--language {language!r}: is no tag of a language; write en, fr, de")
    listed = MakersFile(file, wanted_maker_columns(columns), encoding, sheet, language)
    words = ListedWords(lambda: load(room("vocab", home)))
    found = listed.makers(words)
    if listed.found is not None:
        _tell_columns(listed.found)
    name = ListSource(source or file.stem, file.name, listed.form)
    outcome = import_makers(told(found), folder, base, name, dt.datetime.now(tz=dt.UTC).date(), dry=dry)
    _tell(outcome, dry=dry)
    if report is not None:
        put_in_place({report: _as_csv(outcome)})
        click.echo(f"{report}: what must be looked at", err=True)
    return 1 if outcome.left_out or not outcome.new + outcome.changed + outcome.same else 0


def _tell_columns(found: MakerColumns) -> None:
    """Nothing comes back: stderr says which columns were guessed, and which were left."""
    if found.guessed:
        click.echo(
            "columns guessed from the header: " + ", ".join(f"{ours}={theirs}" for ours, theirs in found.guessed),
            err=True,
        )
    if found.left:
        click.echo("columns left out: " + ", ".join(found.left), err=True)


def _tell(outcome: Outcome, *, dry: bool) -> None:
    """Nothing comes back: stderr says what came of it."""
    _some(
        "not taken", [f"{each.where}{f' (id {each.id})' if each.id else ''} {each.why}" for each in outcome.not_taken]
    )
    _some("ids written anew", [f"<{each.iri}>: {each.what}" for each in outcome.renamed])
    _some("changed by the list", [f"<{each.iri}>: {each.what}" for each in outcome.changes])
    _some("no longer on the list, and kept", [f"<{each.iri}>: {each.what}" for each in outcome.vanished])
    if outcome.began is not None:
        click.echo(
            f"{outcome.began}: {'would be' if dry else 'was'} begun; put in it who answers for the data, and under which licence it is given",
            err=True,
        )
    done = f"{outcome.new:,} new, {outcome.changed:,} brought up to date, {outcome.same:,} as they were, {outcome.left_out:,} left out"
    files = len(outcome.files)
    click.echo(f"{done}; {files} file{'' if files == 1 else 's'} {'would be ' if dry else ''}written", err=True)


def _some(title: str, lines: list[str]) -> None:
    """Nothing comes back: the first lines under a title that says how many there are."""
    if lines:
        click.echo(f"{title}: {len(lines):,}", err=True)
        for line in lines[:SHOWN]:
            click.echo(f"  {line}", err=True)
        if len(lines) > SHOWN:
            click.echo(f"  and {len(lines) - SHOWN:,} more, all of them with --report FILE", err=True)


def _as_csv(outcome: Outcome) -> str:
    """The report: a row for each thing that must be looked at."""
    written = io.StringIO()
    rows = csv.writer(written, lineterminator="\n")
    rows.writerow(("what", "where", "id", "said"))
    for each in outcome.not_taken:
        rows.writerow(("left out" if each.left_out else "not taken", each.where, each.id or "", each.why))
    for what, changes in (("id", outcome.renamed), ("changed", outcome.changes), ("vanished", outcome.vanished)):
        for change in changes:
            rows.writerow((what, change.iri, change.iri.rpartition("/")[2], change.what))
    return written.getvalue()

"""`margent read`: a lettering into statements."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from margent.cli.options import authority_option, home_option
from margent.exchange.letterings import Row, lettering_from, rows
from margent.exchange.reading_text import reading_text
from margent.faults import Fault
from margent.lettering.reader import Reader
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room

CAUTION = "A reading is a proposal for a trained eye: look at the print before you record it."

EXAMPLE = """\b
Examples:
  margent read "A. Verrou pinxit / B. Holm sculp."
  margent read --date 1612 --as json "B. Holm fecit"
  margent read --from letterings.jsonl --as jsonl > readings.jsonl
"""


@click.command(name="read", epilog=EXAMPLE)
@click.argument("text", required=False)
@click.option("--from", "source", type=click.Path(path_type=Path), metavar="FILE", help="Read a JSON Lines file: one object with \"lines\" a line.")
@click.option("--date", metavar="EDTF", help="When the print was made: 1612, 161X, 1610/1614.")
@click.option("--technique", metavar="WORD", help="How it was made: etching, lithograph, mezzotint.")
@click.option("--complete", is_flag=True, help="The whole lettering is there: roles that silence implies may be inferred.")
@click.option("--why", is_flag=True, help="Show the reasons of each statement.")
@click.option("--as", "form", type=click.Choice(("table", "json", "jsonl")), help="table (the usual), json, or jsonl.")
@home_option
@authority_option
def command(
    text: str | None,
    source: Path | None,
    date: str | None,
    technique: str | None,
    complete: bool,
    why: bool,
    form: str | None,
    home: Path | None,
    authorities: tuple[str, ...],
) -> int:
    """Read the lettering TEXT: who made the print, in which role, how sure, and why.

    A new line, /, // or | in TEXT is a line break on the print. TEXT may be - to read it from standard input.
    """
    del authorities  # resolved once makers can be matched; given already so that scripts need not change
    if (text is None) == (source is None):
        raise Fault("margent read needs a lettering: give TEXT, or a file with --from, one of the two")
    reader = Reader(compiled_reader(room("vocab", home)))
    if source is not None:
        return _batch(reader, source, form or "jsonl", why)
    assert text is not None
    given = sys.stdin.read() if text == "-" else text
    lettering = lettering_from(
        {"lines": [{"text": line} for line in given.replace("\r\n", "\n").split("\n")], "date": date, "technique": technique, "complete": "yes" if complete else None}
    )
    reading = reader.read(lettering)
    if form in ("json", "jsonl"):
        click.echo(json.dumps(reading.as_dict(), ensure_ascii=False, indent=None if form == "jsonl" else 2))
    else:
        click.echo(reading_text(reading.as_dict(), why=why), nl=False)
        if reading.statements:
            click.echo(CAUTION, err=True)
    return 0 if reading.statements or reading.notices else 1


def _batch(reader: Reader, source: Path, form: str, why: bool) -> int:
    """Reads every row of a file; 1 where a row was broken."""
    broken = 0
    answers: list[dict[str, Any]] = []
    for answer in _answers(reader, source):
        broken += "error" in answer
        if form == "json":
            answers.append(answer)
        elif form == "jsonl":
            click.echo(json.dumps(answer, ensure_ascii=False))
        elif "error" in answer:
            click.echo(f"{answer['id'] or '-'}  {answer['error']}\n")
        else:
            click.echo(f"{answer['id'] or '-'}\n" + reading_text(answer, why=why))
    if form == "json":
        click.echo(json.dumps(answers, ensure_ascii=False, indent=2))
    if broken:
        click.echo(f"{broken} row{'s' if broken > 1 else ''} could not be read; each stands in its place with an error", err=True)
    return 1 if broken else 0


def _answers(reader: Reader, source: Path) -> Iterator[dict[str, Any]]:
    """The reading of each row as plain data, or its id and what is wrong with it."""
    for row in rows(source):
        yield _answer(reader, row)


def _answer(reader: Reader, row: Row) -> dict[str, Any]:
    if row.lettering is None:
        return {"id": row.id, "error": row.error}
    try:
        return reader.read(row.lettering).as_dict()
    except Fault as fault:
        return {"id": row.id, "error": f"row {row.number}: {fault}"}



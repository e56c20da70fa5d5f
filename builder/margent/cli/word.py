"""`margent word`: what a word on a print means."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from margent.cli.options import home_option
from margent.exchange.letterings import years_of
from margent.faults import Fault
from margent.lettering.reader import Reader
from margent.lettering.words import Answer, Words
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room
from margent.vocabulary.load import load

EXAMPLE = """\b
Examples:
  margent word sculp.
  margent word "ex formis" --date 1580
  margent word --from words.csv --column term --as jsonl
"""


@click.command(name="word", epilog=EXAMPLE)
@click.argument("text", required=False)
@click.option(
    "--from", "source", type=click.Path(path_type=Path), metavar="FILE", help="Look up every row of a CSV or TSV file."
)
@click.option("--column", metavar="NAME", help="The column of the file that holds the words.")
@click.option("--date", metavar="EDTF", help="Only what was in use then: 1612, 161X, 1610/1614.")
@click.option("--as", "form", type=click.Choice(("table", "json", "jsonl")), help="table (the usual), json, or jsonl.")
@home_option
def command(
    text: str | None, source: Path | None, column: str | None, date: str | None, form: str | None, home: Path | None
) -> int:
    """Look up a word, phrase or abbreviation as it stands on a print."""
    if (text is None) == (source is None):
        raise Fault("margent word needs a word: give TEXT, or a file with --from and --column, one of the two")
    if source is not None and not column:
        raise Fault("margent word --from needs --column: name the column that holds the words")
    span = years_of(date)
    vocab = room("vocab", home)
    words = Words(Reader(compiled_reader(vocab)), load(vocab))
    queries = [text] if text is not None else list(_column(source, column)) if source is not None and column else []
    found = 0
    for query in queries:
        answers = words.ask(query, span)
        found += bool(answers)
        if form in ("json", "jsonl") or (form is None and source is not None):
            click.echo(json.dumps(_data(query, answers), ensure_ascii=False, indent=2 if form == "json" else None))
        else:
            click.echo(_table(query, answers), nl=False)
    return 0 if found else 1


def _data(query: str, answers: list[Answer]) -> dict[str, Any]:
    return {"query": query, "senses": [answer.as_dict() for answer in answers]}


def _table(query: str, answers: list[Answer]) -> str:
    """The senses of one word for the eye."""
    if not answers:
        return f"{query}: not in the vocabulary\n"
    out = [query]
    for answer in answers:
        said = answer.role or (f"notice: {answer.notice}" if answer.notice else "no role")
        language = f" ({answer.language})" if answer.language else ""
        out.append(f"  {said}  {answer.term}{language}" + ("" if answer.when == "always" else f"; {answer.when}"))
        if answer.reason:
            out.append(f"      {answer.reason}")
        out.append(f"      {answer.source}")
    return "\n".join(out) + "\n"


def _column(source: Path, column: str) -> Iterator[str]:
    """The values of one column of a CSV file, or of a TSV file by its name's ending; raises Fault where there is none such."""
    try:
        with source.open(encoding="utf-8-sig", newline="") as file:
            rows = csv.DictReader(file, delimiter="\t" if source.suffix == ".tsv" else ",")
            if column not in (rows.fieldnames or ()):
                raise Fault(f"{source}: has no column {column!r}; it has {', '.join(rows.fieldnames or ()) or 'none'}")
            for row in rows:
                yield row[column] or ""
    except (OSError, UnicodeDecodeError) as error:
        raise Fault(f"{source}: cannot be read as UTF-8 text ({error}); name a CSV file") from None

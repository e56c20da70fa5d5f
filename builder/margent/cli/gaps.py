"""`margent gaps`: the words of a batch that the vocabulary does not know, the commonest first."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import click

from margent.cli.batch_options import batch_file, column_option, encoding_option, jobs_option, processes, sheet_option
from margent.cli.data_out import data_out
from margent.cli.options import home_option
from margent.cli.progress import told
from margent.exchange.answers import answers
from margent.exchange.batch_file import BatchFile
from margent.exchange.batch_out import csv_text
from margent.exchange.gaps import GAP_HEADER, Seen, everyday_words, gap_data, gap_row, gap_text, gathered, unread_words
from margent.exchange.json_lines import are_readings, reading_lines
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room

EXAMPLE = """\b
Examples:
  margent gaps letterings.csv --least 3
  margent gaps readings.jsonl --as csv > work-list.csv
"""


@click.command(name="gaps", epilog=EXAMPLE)
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--least", type=click.IntRange(min=1), default=1, metavar="N", help="Leave out words met fewer than N times (1)."
)
@column_option
@encoding_option
@sheet_option
@jobs_option
@click.option(
    "--as", "form", type=click.Choice(("table", "json", "csv")), default="table", help="table (the usual), json or csv."
)
@home_option
def command(
    file: Path,
    least: int,
    columns: tuple[str, ...],
    encoding: str | None,
    sheet: str | None,
    jobs: int | None,
    form: str,
    home: Path | None,
) -> int:
    """List the unread words of FILE by how often they stand, each with up to three places; everyday words come last.

    FILE holds letterings, as for margent read --from, or the readings that margent read --as jsonl wrote.
    Many are words of titles and verses, which stay unread by right; a word of makers among them is one to add.
    """
    broken = 0

    def seen() -> Iterator[tuple[str | None, list[Seen]]]:
        nonlocal broken
        for each in told(_seen(batch_file(file, columns, encoding, sheet), processes(jobs), home)):
            broken += each is None
            if each is not None:
                yield each

    everyday = everyday_words(compiled_reader(room("vocab", home)))
    gaps = [gap for gap in gathered(seen(), everyday) if gap.count >= least]
    out = data_out()
    if form == "json":
        out.write(json.dumps([gap_data(gap) for gap in gaps], ensure_ascii=False, indent=2) + "\n")
    elif form == "csv":
        out.write(csv_text([GAP_HEADER, *map(gap_row, gaps)]))
    else:
        out.writelines(gap_text(gaps))
    out.flush()
    if broken:
        click.echo(
            f"{broken} row{'s' if broken > 1 else ''} could not be read: margent read --from says what is wrong",
            err=True,
        )
    return 1 if broken else 0


def _seen(batch: BatchFile, jobs: int, home: Path | None) -> Iterator[tuple[str | None, list[Seen]] | None]:
    """The unread words of each row; None for a row that could not be read."""
    if batch.kind == "lines" and are_readings(batch.path):
        for reading in reading_lines(batch.path):
            yield None if reading is None or "error" in reading else unread_words(reading)
        return
    for answer in answers(compiled_reader(room("vocab", home)), batch.rows(), unread_words, jobs):
        yield None if answer.broken else answer.written

"""`margent read`: a lettering into statements, or a file of letterings into a file of readings."""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import click

from margent.cli.batch_options import batch_file, column_option, encoding_option, jobs_option, processes, sheet_option
from margent.cli.data_out import data_out
from margent.cli.options import authority_option, home_option
from margent.cli.progress import told
from margent.exchange.answers import Answer, answers
from margent.exchange.batch_file import BatchFile
from margent.exchange.batch_out import FORMS, Written, written_all
from margent.exchange.letterings import lettering_from
from margent.exchange.makers_named import Makers
from margent.exchange.reading_text import reading_text
from margent.exchange.unfinished import Belongs, Unfinished
from margent.faults import Fault
from margent.lettering.reader import Reader
from margent.publishing.reader_cache import cache_folder, compiled_reader
from margent.vocabulary.here import authority_folders, room

CAUTION = "A reading is a proposal for a trained eye: look at the print before you record it."

MOST_BYTES = 1_000_000
"""Of standard input; the longest lettering that is read has a tenth of it."""

ENDINGS = {".jsonl": "jsonl", ".ndjson": "jsonl", ".json": "json", ".csv": "csv", ".xlsx": "xlsx"}
"""The form that the ending of a file's name asks for."""

EXAMPLE = """\b
Examples:
  margent read "A. Verrou pinxit / B. Holm sculp."
  margent read --date 1612 --as json "B. Holm fecit"
  margent read --from letterings.jsonl --as jsonl > readings.jsonl
  margent read --from prints.xlsx --column lettering=Inscription --to readings.xlsx
"""


@click.command(name="read", epilog=EXAMPLE)
@click.argument("text", required=False)
@click.option(
    "--from",
    "source",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help='Read every row of a file: CSV, TSV or XLSX with a header, or JSON Lines, one object with "lines" a line.',
)
@column_option
@encoding_option
@sheet_option
@click.option(
    "--to",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the readings of --from to a file, whole or not at all.",
)
@click.option(
    "--resume", is_flag=True, help="Go on with a run into --to that was stopped; the rows in FILE.part are kept."
)
@jobs_option
@click.option("--date", metavar="EDTF", help="When the print was made: 1612, 161X, 1610/1614.")
@click.option("--technique", metavar="WORD", help="How it was made: etching, lithograph, mezzotint.")
@click.option(
    "--complete", is_flag=True, help="The whole lettering is there: roles that silence implies may be inferred."
)
@click.option("--why", is_flag=True, help="Show the reasons of each statement; a column of its own in CSV and XLSX.")
@click.option(
    "--as",
    "form",
    type=click.Choice(FORMS),
    help="table (the usual for TEXT), jsonl (the usual for --from), json, csv or xlsx; else as the name of --to ends.",
)
@home_option
@authority_option
def command(
    text: str | None,
    source: Path | None,
    columns: tuple[str, ...],
    encoding: str | None,
    sheet: str | None,
    to: Path | None,
    resume: bool,
    jobs: int | None,
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
    A row of a file that cannot be read is answered in its place with what is wrong with it.
    """
    if (text is None) == (source is None):
        raise Fault("margent read needs a lettering: give TEXT, or a file with --from, one of the two")
    if source is not None:
        if date or technique or complete:
            raise Fault(
                "--date, --technique and --complete are for a single TEXT; a file of --from says them in each row"
            )
        batch = batch_file(source, columns, encoding, sheet)
        return _batch(batch, _form(form, to), why, to, resume, processes(jobs), home, _makers(authorities, home))
    if to or resume or columns or encoding or sheet or jobs:
        raise Fault(
            "--to, --resume, --column, --encoding, --sheet and --jobs are for a file of letterings: name it with --from"
        )
    assert text is not None
    if form == "xlsx":
        raise Fault("--as xlsx is for a file of letterings: name it with --from, and the workbook with --to")
    return _one(
        _from_input() if text == "-" else text,
        date,
        technique,
        complete,
        why,
        form or "table",
        home,
        _makers(authorities, home),
    )


def _makers(authorities: tuple[str, ...], home: Path | None) -> Makers | None:
    """The makers to be asked; None where no authority was named."""
    folders = authority_folders(authorities, home)
    return Makers(tuple(folders), room("vocab", home), cache_folder()) if folders else None


def _one(
    given: str,
    date: str | None,
    technique: str | None,
    complete: bool,
    why: bool,
    form: str,
    home: Path | None,
    makers: Makers | None,
) -> int:
    """Reads one lettering; 1 where nothing is said in it."""
    lettering = lettering_from(
        {
            "lines": [{"text": line} for line in given.replace("\r\n", "\n").split("\n")],
            "date": date,
            "technique": technique,
            "complete": "yes" if complete else None,
        }
    )
    reading = Reader(compiled_reader(room("vocab", home))).read(lettering)
    answer = reading.as_dict()
    if makers is not None:
        makers.open().fill(answer, lettering)
    if form == "table":
        click.echo(reading_text(answer, why=why), nl=False)
        if reading.statements:
            click.echo(CAUTION, err=True)
    elif form == "csv":
        written_all("csv", why, [Written("csv", why)(answer)], data_out())
    else:
        click.echo(json.dumps(answer, ensure_ascii=False, indent=None if form == "jsonl" else 2))
    return 0 if reading.statements or reading.notices else 1


def _from_input() -> str:
    """The text on standard input, no more of it than shows that it is too long for a lettering."""
    try:
        return sys.stdin.buffer.read(MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Fault("standard input is not UTF-8 text; save the lettering as UTF-8") from None


def _form(said: str | None, to: Path | None) -> str:
    """The form of a batch's answers: what was said, else what the name of the file ends in, else JSON Lines."""
    form = said or (ENDINGS.get(to.suffix.lower(), "jsonl") if to is not None else "jsonl")
    if form == "xlsx" and to is None:
        raise Fault("--as xlsx needs a file to write: name it with --to")
    if form == "table" and to is not None:
        raise Fault("--as table is for the eye: write jsonl, json, csv or xlsx to a file")
    return form


def _batch(
    batch: BatchFile,
    form: str,
    why: bool,
    to: Path | None,
    resume: bool,
    jobs: int,
    home: Path | None,
    makers: Makers | None,
) -> int:
    """Reads every row of a file; 1 where a row was broken, or none was there."""
    if resume and to is None:
        raise Fault("--resume goes on with a file: name it with --to")
    compiled = compiled_reader(room("vocab", home))
    if to is None:
        number, broken = _printed(batch, compiled, form, why, jobs, makers)
    else:
        number, broken = _filed(batch, compiled, form, why, to, resume, jobs, makers)
    if broken:
        click.echo(
            f"{broken} row{'s' if broken > 1 else ''} could not be read; each stands in its place with an error",
            err=True,
        )
    if not number:
        click.echo(f"{batch.path}: holds no letterings", err=True)
    return 1 if broken or not number else 0


def _printed(
    batch: BatchFile, compiled: dict[str, Any], form: str, why: bool, jobs: int, makers: Makers | None
) -> tuple[int, int]:
    """The number of rows, and of broken ones among them, all printed."""
    counted = [0, 0]

    def texts() -> Iterator[str]:
        for answer in told(answers(compiled, batch.rows(), Written(form, why), jobs, makers)):
            counted[0] += 1
            counted[1] += answer.broken
            yield answer.written

    rows = texts()
    first = list(islice(rows, 1))  # a file that cannot be read must leave nothing on stdout
    out = data_out()
    written_all(form, why, (text for part in (first, rows) for text in part), out)
    out.flush()
    return counted[0], counted[1]


def _filed(
    batch: BatchFile,
    compiled: dict[str, Any],
    form: str,
    why: bool,
    to: Path,
    resume: bool,
    jobs: int,
    makers: Makers | None,
) -> tuple[int, int]:
    """The number of rows, and of broken ones among them, all in the file `to`."""
    if to.is_dir() or not to.parent.is_dir():
        raise Fault(
            f"{to}: {'is a folder' if to.is_dir() else 'its folder is not there'}; name a file in a folder that is"
        )
    if to.exists() and batch.path.exists() and to.samefile(batch.path):
        raise Fault(f"{to}: is the file that is read; name another with --to")
    asked = makers.digest() if makers is not None else ""
    digest = hashlib.sha256((json.dumps(compiled, ensure_ascii=False) + asked).encode()).hexdigest()
    unfinished = Unfinished(to, Belongs(batch.digest(), str(compiled["vocabulary"]), digest))
    done = unfinished.done() if resume else 0
    rows = islice(batch.rows(), done, None)
    found: Iterator[Answer] = told(answers(compiled, rows, Written("jsonl"), jobs, makers), done)
    first = list(islice(found, 1))  # a file that cannot be read must not cost an unfinished one
    try:
        unfinished.add((answer.written for part in (first, found) for answer in part), anew=not done)
    except KeyboardInterrupt:
        click.echo(f"stopped; what was read stands in {unfinished.part}: go on with --resume", err=True)
        raise
    return unfinished.finish(form, why)

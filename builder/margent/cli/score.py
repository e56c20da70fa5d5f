"""`margent score`: how well the vocabulary reads a collection's own judged letterings."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

import click

from margent.cli.data_out import data_out
from margent.cli.options import home_option
from margent.cli.progress import told
from margent.exchange.calibration import Example, calibrated, source_of, turtle
from margent.exchange.json_lines import parsed
from margent.exchange.letterings import lettering_from
from margent.exchange.score_page import score_page
from margent.exchange.score_report import (
    Judged,
    confidences,
    misses_data,
    misses_text,
    report_data,
    report_of,
    report_text,
)
from margent.exchange.scoring import Scorer
from margent.faults import Fault
from margent.lettering.reader import Reader
from margent.publishing.grammar_tables import grammar_tables
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room
from margent.vocabulary.load import load

PRINTED = "-"
"""The name of the file of misses that stands for the output."""
AS_IT_IS = [[0, 0], [1000, 1000]]
"""The curve of confidence that leaves the raw share as it is."""

EXAMPLE = """\b
Examples:
  margent score judged.jsonl
  margent score judged.jsonl --readings readings.jsonl --misses misses.txt
  margent score judged.jsonl --report report.html

Each line of the judged file is a lettering with what each name did; "lang", "date" and "source" are of use as well:
  {"id": "x1", "lines": [{"text": "A. Verrou sculp."}],
   "statements": [{"name": "A. Verrou", "roles": ["engrave"]}]}
"""


@click.command(name="score", epilog=EXAMPLE)
@click.argument("judged", type=click.Path(path_type=Path))
@click.option(
    "--readings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Readings made before, as margent read --as jsonl writes them; else the letterings are read now.",
)
@click.option(
    "--misses",
    is_flag=False,
    flag_value=PRINTED,
    metavar="[FILE]",
    help="Tell each lettering that is not wholly right: into FILE, or before the figures where no FILE is named.",
)
@click.option("--report", type=click.Path(path_type=Path), metavar="FILE", help="Write a page with plots, FILE.html.")
@click.option(
    "--calibrate",
    is_flag=True,
    help="Print no figures but the points of a curve of confidence fitted to the judged letterings, as Turtle (needs scikit-learn).",
)
@click.option("--as", "form", type=click.Choice(("table", "json")), default="table", help="table (the usual) or json.")
@home_option
def command(
    judged: Path,
    readings: Path | None,
    misses: str | None,
    report: Path | None,
    calibrate: bool,
    form: str,
    home: Path | None,
) -> int:
    """Compare readings with the letterings of the file JUDGED, by pairs of a name and a role."""
    if calibrate and (readings or misses or report or form == "json"):
        raise Fault(
            "--calibrate reads the letterings itself and prints Turtle: leave out --readings, --misses, --report and --as"
        )
    vocab = room("vocab", home)
    records = _records(judged)
    if not records:
        raise Fault(f"{judged}: holds no letterings; write one judged lettering a line")
    scorer = Scorer.of(grammar_tables(load(vocab)).settings)
    compiled = compiled_reader(vocab)
    if calibrate:
        pairs = _read(judged, records, {**compiled, "confidence": AS_IT_IS})
        data_out().write(turtle(calibrated(_examples(scorer, pairs))))
        return 0
    pairs = _made_before(records, readings) if readings else _read(judged, records, compiled)
    found = report_of(scorer, pairs)
    if report is not None:
        _write(report, [score_page(judged.name, str(compiled["vocabulary"]), found, pairs)])
    if misses not in (None, PRINTED):
        _write(Path(misses), misses_text(found, pairs))
    out = data_out()
    if form == "json":
        listed = {"misses": misses_data(found, pairs)} if misses == PRINTED else {}
        out.write(json.dumps({**report_data(found), **listed}, ensure_ascii=False, indent=2) + "\n")
        return 0
    if misses == PRINTED:
        out.writelines(misses_text(found, pairs))
    out.writelines(report_text(found))
    return 0


def _read(path: Path, records: Sequence[Mapping[str, Any]], compiled: Mapping[str, Any]) -> list[Judged]:
    """Each record with its reading; raises Fault with the number of one that describes no lettering."""
    reader = Reader(compiled)
    pairs: list[Judged] = []
    for number, record in enumerate(told(records), 1):
        try:
            pairs.append((record, reader.read(lettering_from(record)).as_dict()))
        except Fault as fault:
            raise Fault(f"{path}: lettering {number}: {fault}") from None
    return pairs


def _made_before(records: Sequence[Mapping[str, Any]], readings: Path) -> list[Judged]:
    """Each record with the reading of its id; one without counts as nothing read."""
    answers = {str(each.get("id")): each for each in _records(readings)}
    return [(record, answers.get(str(record.get("id")), {})) for record in records]


def _examples(scorer: Scorer, pairs: Sequence[Judged]) -> list[Example]:
    return [
        Example(raw, right, source_of(record))
        for record, reading in pairs
        for raw, right in confidences(scorer, record, reading)
    ]


def _write(path: Path, texts: Iterable[str]) -> None:
    try:
        path.write_text("".join(texts), encoding="utf-8", newline="\n")
    except OSError as error:
        raise Fault(f"{path}: cannot be written ({error.strerror}); name a file in a folder that is there") from None


def _records(path: Path) -> list[dict[str, Any]]:
    """The objects of a JSON Lines file; raises Fault with the row where one is broken."""
    records: list[dict[str, Any]] = []
    try:
        for number, line in enumerate(path.read_text(encoding="utf-8-sig").split("\n"), 1):
            if line.strip():
                try:
                    record = parsed(line)
                except (ValueError, RecursionError):
                    raise Fault(f"{path}:{number}: is not JSON; write one object a line") from None
                if not isinstance(record, dict):
                    raise Fault(f"{path}:{number}: is no JSON object; write one object a line")
                _shaped(path, number, record)
                records.append(record)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a JSON Lines file") from None
    except UnicodeDecodeError:
        raise Fault(f"{path}: is not UTF-8 text; save it as UTF-8, one JSON object a line") from None
    return records


def _shaped(path: Path, number: int, record: Mapping[str, Any]) -> None:
    """Nothing comes back; raises Fault where the statements of a record have not the form of statements."""
    statements = record.get("statements", [])
    if not isinstance(statements, list) or not all(
        isinstance(each, dict)
        and isinstance(each.get("name"), str)
        and all(isinstance(each.get(key, []), list) for key in ("roles", "also"))
        for each in statements
    ):
        raise Fault(
            f'{path}:{number}: its statements are not understood; write [{{"name": "A. Holm", "roles": ["engrave"]}}]'
        )

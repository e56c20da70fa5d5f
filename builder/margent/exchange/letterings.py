"""Letterings from the files that cataloguers have: one JSON object a line."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from margent.faults import Fault
from margent.lettering.reader import Lettering
from margent.lettering.transcription import Line
from margent.vocabulary.edtf import years

COMPLETE = ("yes", "trimmed", "part", "unknown")
"""How much of the lettering is there; only `yes` gives implied roles full weight."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a batch: the lettering, or what is wrong with it. `number` counts from 1."""

    number: int
    id: str | None
    lettering: Lettering | None
    error: str | None = None


def lettering_from(record: Any) -> Lettering:
    """The lettering that a JSON object describes; keys other than the contract's are ignored.

    Raises Fault where a key of the contract holds what it cannot hold.
    """
    if not isinstance(record, Mapping):
        raise Fault("the row is no JSON object: write {\"lines\": [{\"text\": \"...\"}]}")
    given = record.get("lines")
    if not isinstance(given, list):
        raise Fault('the row has no list under "lines": write {"lines": [{"text": "..."}]}')
    lines = tuple(_line(each, number) for number, each in enumerate(given, 1))
    complete = record.get("complete") or "unknown"
    if complete not in COMPLETE:
        raise Fault(f'"complete" is {complete!r}: write one of {", ".join(COMPLETE)}')
    date = _text(record, "date")
    return Lettering(
        lines=lines,
        id=None if record.get("id") is None else str(record["id"]),
        date=date,
        years=years_of(date),
        place=_text(record, "place"),
        technique=_text(record, "technique"),
        complete=complete,
    )


def years_of(date: str | None) -> tuple[int, int] | None:
    """The years an EDTF date allows, None without a date; raises Fault for what is no EDTF."""
    if not date:
        return None
    try:
        return years(date)
    except ValueError:
        raise Fault(f"{date!r} is no date in EDTF: write 1612, 1612~, 161X or 1610/1614") from None


def _line(given: Any, number: int) -> Line:
    if isinstance(given, str):
        return Line(_printable(given))
    if not isinstance(given, Mapping) or not isinstance(given.get("text"), str):
        raise Fault(f'line {number} of the lettering has no "text": write {{"text": "..."}}')
    return Line(_printable(given["text"]), _text(given, "place"), _text(given, "how"), _text(given, "hand"))


def _printable(text: str) -> str:
    """The text; raises Fault where it holds half of a surrogate pair, which no encoding can write."""
    if any("\ud800" <= char <= "\udfff" for char in text):
        raise Fault("the lettering holds half a character (a lone surrogate): transcribe that sign anew")
    return text


def _text(record: Mapping[str, Any], key: str) -> str | None:
    value = record.get(key)
    if value is not None and not isinstance(value, str):
        raise Fault(f'"{key}" is not text: write it in quotation marks')
    return value or None


def rows(path: Path) -> Iterator[Row]:
    """The rows of a JSON Lines file, in order, read one at a time; a broken row comes with its error.

    Raises Fault where the file is not there or is no UTF-8 text.
    """
    try:
        with path.open("rb") as file:
            for number, raw in enumerate(file, 1):
                if raw.strip():
                    yield _row(number, raw)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a JSON Lines file") from None


def _row(number: int, raw: bytes) -> Row:
    name: str | None = None
    try:
        record = json.loads(raw.decode("utf-8-sig"))
        if isinstance(record, Mapping) and record.get("id") is not None:
            name = str(record["id"])
        return Row(number, name, lettering_from(record))
    except UnicodeDecodeError:
        return Row(number, name, None, f"row {number} is not UTF-8 text: save the file as UTF-8")
    except (json.JSONDecodeError, RecursionError):
        return Row(number, name, None, f"row {number} is not JSON: write one object a line")
    except Fault as fault:
        return Row(number, name, None, f"row {number}: {fault}")

"""A lettering from the record that describes it, and the row of a batch that it stands in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from margent.faults import Fault
from margent.lettering.transcription import Lettering, Line
from margent.vocabulary.edtf import years

COMPLETE = ("yes", "trimmed", "part", "unknown")
"""How much of the lettering is there; only `yes` gives implied roles full weight."""

LONGEST_ID = 1000
"""Characters of an id at most: it is repeated in every row of the answer."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a batch: the lettering, or what is wrong with it. `number` counts from 1."""

    number: int
    id: str | None
    lettering: Lettering | None
    error: str | None = None


def row_from(number: int, record: Any) -> Row:
    """The row that a record gives; a record that describes no lettering gives a row with its error."""
    try:
        name = id_of(record)
    except Fault as fault:
        return Row(number, None, None, f"row {number}: {fault}")
    try:
        return Row(number, name, lettering_from(record))
    except Fault as fault:
        return Row(number, name, None, f"row {number}: {fault}")


def lettering_from(record: Any) -> Lettering:
    """The lettering that a JSON object describes; keys other than the contract's are ignored.

    Raises Fault where a key of the contract holds what it cannot hold.
    """
    if not isinstance(record, Mapping):
        raise Fault('the row is no JSON object: write {"lines": [{"text": "..."}]}')
    given = record.get("lines")
    if not isinstance(given, list):
        raise Fault('the row has no list under "lines": write {"lines": [{"text": "..."}]}')
    lines = tuple(_line(each, number) for number, each in enumerate(given, 1))
    complete = _text(record, "complete") or "unknown"
    if complete not in COMPLETE:
        raise Fault(f'"complete" is {_short(complete)}: write one of {", ".join(COMPLETE)}')
    date = _text(record, "date")
    return Lettering(
        lines=lines,
        id=id_of(record),
        date=date,
        years=years_of(date),
        place=_text(record, "place"),
        technique=_text(record, "technique"),
        complete=complete,
    )


def id_of(record: Any) -> str | None:
    """The id of a record as text, None where it has none; raises Fault for an id that is neither text nor a whole number."""
    given = record.get("id") if isinstance(record, Mapping) else None
    if given is None:
        return None
    if isinstance(given, bool) or not isinstance(given, str | int):
        raise Fault('"id" is neither text nor a whole number: write it in quotation marks')
    name = str(given)
    if len(name) > LONGEST_ID:
        raise Fault(f'"id" has {len(name):,} characters: write at most {LONGEST_ID:,}')
    return printable(name, '"id"')


def years_of(date: str | None) -> tuple[int, int] | None:
    """The years an EDTF date allows, None without a date; raises Fault for what is no EDTF."""
    if not date:
        return None
    try:
        return years(date)
    except (ValueError, RecursionError):
        raise Fault(f"{_short(date)} is no date in EDTF: write 1612, 1612~, 161X or 1610/1614") from None


def _line(given: Any, number: int) -> Line:
    if isinstance(given, str):
        return Line(printable(given, "the lettering"))
    if not isinstance(given, Mapping) or not isinstance(given.get("text"), str):
        raise Fault(f'line {number} of the lettering has no "text": write {{"text": "..."}}')
    return Line(
        printable(given["text"], "the lettering"), _text(given, "place"), _text(given, "how"), _text(given, "hand")
    )


def printable(text: str, what: str) -> str:
    """The text; raises Fault where it holds half of a surrogate pair, which no encoding can write."""
    if not text.isascii() and any("\ud800" <= char <= "\udfff" for char in text):
        raise Fault(f"{what} holds half a character (a lone surrogate): transcribe that sign anew")
    return text


def _text(record: Mapping[str, Any], key: str) -> str | None:
    value = record.get(key)
    if value is None:
        return None
    if not isinstance(value, str):
        raise Fault(f'"{key}" is not text: write it in quotation marks')
    return printable(value, f'"{key}"') or None


def _short(value: str) -> str:
    """A value as it is quoted in a message: a hostile one must not fill the screen."""
    return repr(value if len(value) <= 40 else value[:40] + "…")

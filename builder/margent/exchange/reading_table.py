"""A reading as rows of a table, one row a statement, for spreadsheets."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Cell = str | int | float | None

HEADER = (
    "id", "line", "name", "roles", "implied", "term", "of", "after", "same_as", "maker", "confidence", "doubtful", "instead",
    "notices", "places", "dates", "unread", "error",
)  # fmt: skip
"""The columns: what the statement says, then what the whole lettering says, repeated for each of its statements.

Each is called as in the JSON of a reading, and `line` and `after` count from 0 as there.
"""

WITH_REASONS = (*HEADER, "because")

BETWEEN = "; "
"""Stands between several values of one cell."""


def header(why: bool) -> tuple[str, ...]:
    """The names of the columns."""
    return WITH_REASONS if why else HEADER


def table_rows(answer: Mapping[str, Any], why: bool = False) -> list[list[Cell]]:
    """The rows of one answer: one for each statement; one without a name where nothing is stated or the row was broken."""
    if "error" in answer:
        return [_row({"id": answer["id"], "error": answer["error"]}, why)]
    whole: dict[str, Cell] = {
        "id": answer["id"],
        "notices": BETWEEN.join(f"{each['kind']}: {each['text']}" for each in answer["notices"]),
        "places": BETWEEN.join(each["text"] for each in answer["places"]),
        "dates": BETWEEN.join(each["edtf"] or each["text"] for each in answer["dates"]),
        "unread": BETWEEN.join(each["text"] for each in answer["unread"]),
    }
    return [_row({**whole, **_statement(each)}, why) for each in answer["statements"]] or [_row(whole, why)]


def _statement(given: Mapping[str, Any]) -> dict[str, Cell]:
    return {
        "line": given["line"],
        "name": given["name"],
        "roles": BETWEEN.join(given["roles"]),
        "implied": BETWEEN.join(given["implied"]),
        "term": given["term"],
        "of": given["of"],
        "after": given["after"],
        "same_as": given["same_as"],
        "maker": given["maker"],
        "confidence": given["confidence"],
        "doubtful": "yes" if given["doubtful"] else "no",
        "instead": BETWEEN.join(", ".join(each["roles"]) for each in given["instead"]),
        "because": " ".join(given["because"]),
    }


def _row(given: Mapping[str, Cell], why: bool) -> list[Cell]:
    return [given.get(name) for name in header(why)]


def risky(value: Cell) -> bool:
    """Whether a spreadsheet might take a text for a formula and compute it.

    >>> risky("=1+1"), risky(" @SUM(A1)"), risky("A. Holm"), risky(-1)
    (True, True, False, False)
    """
    return isinstance(value, str) and (value[:1] in "\t\r\n" or value.lstrip()[:1] in "=+-@＝＋－＠") and value != ""


def inert(value: Cell) -> Cell:
    """The value, a text that might be taken for a formula behind an apostrophe, as spreadsheets themselves mark text.

    >>> inert("=1+1"), inert("A. Holm"), inert(0.5)
    ("'=1+1", 'A. Holm', 0.5)
    """
    return f"'{value}" if risky(value) else value

"""Letterings from a JSON Lines file: one JSON object a line, read one at a time."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any, NoReturn

from margent.exchange.letterings import Row, row_from
from margent.faults import Fault

LONGEST_ROW = 4_000_000
"""Bytes of one row at most; a longer one is passed over piece by piece and answered with an error.

The longest lettering that is read needs a twentieth of it, written wholly in escapes.
"""


def json_line_rows(path: Path) -> Iterator[Row]:
    """The rows of a JSON Lines file, in order; a broken row comes with its error, an empty line is passed over.

    `number` is the line's.  Raises Fault where the file cannot be read.
    """
    try:
        with path.open("rb") as file:
            for number, raw in raw_lines(file):
                if raw is None:
                    yield Row(
                        number,
                        None,
                        None,
                        f"row {number} is longer than {LONGEST_ROW:,} bytes: give one print's lettering a row",
                    )
                elif raw.strip():
                    yield _row(number, raw)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a JSON Lines file") from None


def are_readings(path: Path) -> bool:
    """Whether the first row of a file that is an object is a reading or an error of one, and no lettering."""
    if not path.is_file():
        return False
    for row in reading_lines(path):
        if row is not None:
            return "lines" not in row and ("unread" in row or "error" in row)
    return False


def reading_lines(path: Path) -> Iterator[dict[str, Any] | None]:
    """The readings of a JSON Lines file; None for a row that is none."""
    try:
        with path.open("rb") as file:
            for _, raw in raw_lines(file):
                if raw is None or raw.strip():
                    yield _reading(raw)
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a JSON Lines file") from None


def _reading(raw: bytes | None) -> dict[str, Any] | None:
    """The object of a row, where it is one and what it holds of unread stretches has their form."""
    try:
        found = parsed(raw.decode("utf-8-sig")) if raw is not None else None
    except (ValueError, RecursionError):
        return None
    if not isinstance(found, dict):
        return None
    unread = found.get("unread", [])
    whole = isinstance(unread, list) and all(
        isinstance(each, dict) and isinstance(each.get("text"), str) for each in unread
    )
    return found if whole else None


def raw_lines(file: IO[bytes]) -> Iterator[tuple[int, bytes | None]]:
    """Each line with its number, or None for one longer than LONGEST_ROW; never more than one row is held."""
    number = 0
    while raw := file.readline(LONGEST_ROW + 1):
        number += 1
        if len(raw) > LONGEST_ROW and not raw.endswith(b"\n"):
            while rest := file.readline(LONGEST_ROW):
                if rest.endswith(b"\n"):
                    break
            yield number, None
        else:
            yield number, raw


def parsed(text: str) -> Any:
    """The JSON value of a text; raises ValueError for what JSON does not have, NaN and endless numbers among it."""
    return json.loads(text, parse_constant=_no_number, parse_float=_finite)


def _no_number(name: str) -> NoReturn:
    raise ValueError(f"{name} is no JSON")


def _finite(digits: str) -> float:
    number = float(digits)
    if number in (float("inf"), float("-inf")):
        raise ValueError("the number has no end")
    return number


def _row(number: int, raw: bytes) -> Row:
    try:
        return row_from(number, parsed(raw.decode("utf-8-sig")))
    except UnicodeDecodeError:
        return Row(number, None, None, f"row {number} is not UTF-8 text: save the file as UTF-8")
    except (ValueError, RecursionError):  # a whole number of thousands of digits is a ValueError of its own
        return Row(number, None, None, f"row {number} is not JSON: write one object a line")

"""A file of names to be looked up among makers: one name a row, with what else is known of the print."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from margent.exchange.columns import plain
from margent.exchange.delimited import Record, delimited_records
from margent.exchange.workbook import workbook_records
from margent.faults import Fault

OURS = ("name", "date", "role", "place", "with")
"""What a column may hold; a cell may hold several roles, places or other makers, with semicolons between them."""


class Asked(NamedTuple):
    """One row: the name and the cells that say more, by our names; or what is wrong with the row."""

    number: int
    name: str | None
    further: dict[str, str]
    error: str | None = None


def wanted_name_columns(said: Sequence[str]) -> dict[str, str]:
    """Our name -> theirs, from the texts of --column: THEIRS alone, for the names, or OURS=THEIRS.

    Raises Fault where no column has the names, or something is said twice.
    """
    wanted: dict[str, str] = {}
    for each in said:
        ours, sign, theirs = each.partition("=")
        if not sign or plain(ours) not in OURS:
            ours, theirs = "name", each
        if plain(ours) in wanted:
            raise Fault(
                f"--column {each!r}: {plain(ours)!r} is already said to be {wanted[plain(ours)]!r}; say it once"
            )
        if not theirs.strip():
            raise Fault(f"--column {each!r}: write the name of a column, or OURS=THEIRS, as in --column date=Year")
        wanted[plain(ours)] = theirs.strip()
    if "name" not in wanted:
        raise Fault("a file of names needs --column: name the column that holds the names")
    return wanted


def asked_in(path: Path, wanted: Mapping[str, str]) -> Iterator[Asked]:
    """The rows of a CSV, TSV or XLSX file, in order; empty ones are passed over.

    Raises Fault where the file cannot be read or lacks a wanted column.
    """
    records = _records(path, wanted)
    header = next(records).cells
    places = {ours: _place(path, header, theirs) for ours, theirs in wanted.items()}
    for number, cells, broken in records:
        wrong = broken
        if not wrong and any(cell.strip() for cell in cells[len(header) :]):
            wrong = (
                f"has {len(cells)} cells where the header has {len(header)}: "
                "put a cell that holds a separator in quotation marks"
            )
        held = {ours: cells[at].strip() if at < len(cells) else "" for ours, at in places.items()}
        if wrong:
            yield Asked(number, held["name"] or None, {}, f"row {number} {wrong}")
        else:
            yield Asked(number, held.pop("name"), held)


def _records(path: Path, wanted: Mapping[str, str]) -> Iterator[Record]:
    if path.suffix.lower() == ".xlsx":
        return workbook_records(path)
    names = {plain(theirs) for theirs in wanted.values()}
    return delimited_records(path, lambda cells: len({plain(cell) for cell in cells} & names))


def _place(path: Path, header: Sequence[str], theirs: str) -> int:
    """The number of the cell under that name, from 0."""
    for same in (lambda name: name.strip() == theirs, lambda name: plain(name) == plain(theirs)):
        places = [at for at, name in enumerate(header) if same(name)]
        if len(places) > 1:
            raise Fault(f"{path}: has {len(places)} columns called {theirs!r}; rename all but one")
        if places:
            return places[0]
    has = ", ".join(name.strip() for name in header if name.strip())[:300] or "none"
    raise Fault(f"{path}: has no column {theirs!r}; its columns are: {has}")

"""Which column of a table holds what: our names for columns, and the record that a row of cells gives."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from margent.exchange.letterings import LONGEST_ID
from margent.faults import Fault

RECORD_COLUMNS = ("id", "lettering", "date", "place", "technique", "complete")
"""Columns that say one thing of the print; `lettering` has the whole text, with the line breaks inside the cell."""

SHEET_COLUMNS = (
    "in image", "above image", "below image",
    "upper left", "upper centre", "upper right", "upper margin",
    "lower left", "lower centre", "lower right", "lower margin",
    "left margin", "right margin", "verso",
)  # fmt: skip
"""Columns named for the place on the sheet where their text stands."""

OURS = (*RECORD_COLUMNS, *SHEET_COLUMNS)

_BREAK = re.compile(r"\r\n|\n|\r")


def plain(name: str) -> str:
    """A column's name without case, underlines and hyphens, in British spelling.

    >>> plain(" Lower_Left "), plain("lower-center")
    ('lower left', 'lower centre')
    """
    words = re.sub(r"[\s_-]+", " ", name.replace("\ufeff", "")).strip().casefold()
    return re.sub(r"\bcenter\b", "centre", words)


def wanted_columns(said: Sequence[str]) -> dict[str, str]:
    """Our name -> theirs, from the texts OURS=THEIRS; raises Fault for one that is not so or is said twice."""
    wanted: dict[str, str] = {}
    for each in said:
        ours, sign, theirs = each.partition("=")
        ours = plain(ours)
        if not sign or not theirs.strip():
            raise Fault(f"--column {each!r}: write OURS=THEIRS, as in --column lettering=Inscription")
        if ours not in OURS:
            raise Fault(f"--column {each!r}: Margent has no column {ours!r}; it has {', '.join(OURS)}")
        if ours in wanted:
            raise Fault(f"--column {each!r}: {ours!r} is already said to be {wanted[ours]!r}; say it once")
        wanted[ours] = theirs.strip()
    return wanted


@dataclass(frozen=True, slots=True)
class Columns:
    """Where each of our columns stands: pairs of our name and the number of the cell, from 0, in the table's order."""

    places: tuple[tuple[str, int], ...]
    width: int

    def id_in(self, cells: Sequence[str]) -> str | None:
        """The cell of the id, as a row that is broken otherwise may still have it."""
        at = dict(self.places).get("id")
        return cells[at].strip()[:LONGEST_ID] or None if at is not None and at < len(cells) else None

    def record(self, cells: Sequence[str]) -> dict[str, Any]:
        """The record of a row of cells; missing cells are empty.

        Raises Fault where the row has more cells than the header, for then nobody knows which cell is which.
        """
        if any(cell.strip() for cell in cells[self.width :]):
            raise Fault(
                f"has {len(cells)} cells where the header has {self.width}: put a cell that holds a separator in quotation marks"
            )
        record: dict[str, Any] = {}
        lines: list[dict[str, str | None]] = []
        for ours, at in self.places:
            cell = cells[at] if at < len(cells) else ""
            if ours == "lettering" or ours in SHEET_COLUMNS:
                place = None if ours == "lettering" else ours
                lines += [{"text": line, "place": place} for line in _BREAK.split(cell) if line.strip()]
            elif cell.strip():
                record[ours] = cell.strip().casefold() if ours == "complete" else cell.strip()
        record["lines"] = lines
        return record


def known_columns(header: Sequence[str], wanted: Mapping[str, str]) -> int:
    """How many cells of a header are columns of ours or wanted ones."""
    names = {plain(name) for name in header}
    return len(names & set(OURS)) + len(names & {plain(theirs) for theirs in wanted.values()})


def columns_of(where: str, header: Sequence[str], wanted: Mapping[str, str]) -> Columns:
    """Where our columns stand under a header; columns that are not ours are ignored.

    `where` begins the sentence of a Fault, which is raised where a wanted column is missing, a column stands twice or no
    column has the lettering.
    """
    names = [plain(name) for name in header]
    has = ", ".join(name.strip() for name in header if name.strip())[:300] or "none"
    found: dict[str, int] = {}
    for ours, theirs in wanted.items():
        places = [at for at, name in enumerate(header) if name.strip() == theirs] or [
            at for at, name in enumerate(names) if name == plain(theirs)
        ]
        if not places:
            raise Fault(f"{where}: has no column {theirs!r}; its columns are: {has}")
        found[ours] = _only(where, theirs, places)
    for ours in OURS:
        places = [at for at, name in enumerate(names) if name == ours and at not in found.values()]
        if places and ours not in found:
            found[ours] = _only(where, ours, places)
    if not found.keys() & {"lettering", *SHEET_COLUMNS}:
        raise Fault(
            f"{where}: has no column with the lettering; the first row must name the columns: call one `lettering` "
            f"(or `lower left`, `lower right` ...), or say which it is with --column lettering=THEIRS; its columns are: {has}"
        )
    return Columns(tuple(sorted(found.items(), key=lambda pair: pair[1])), len(header))


def _only(where: str, name: str, places: Sequence[int]) -> int:
    if len(places) > 1:
        raise Fault(f"{where}: has {len(places)} columns called {name!r}; rename all but one")
    return places[0]

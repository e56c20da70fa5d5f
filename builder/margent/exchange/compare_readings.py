"""Letterings that two versions of the compiled reader read differently: who did what, name by name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from margent.exchange.json_lines import json_line_rows
from margent.faults import Fault
from margent.lettering.reader import Reader


@dataclass(frozen=True, slots=True)
class OtherReading:
    """One lettering that is read differently: what only the older version says, and what only the newer one."""

    id: str
    gone: tuple[str, ...]
    come: tuple[str, ...]


def other_readings(letterings: Path, old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[OtherReading]:
    """The letterings of a JSON Lines file that the two compiled readers read differently, in order.

    Raises Fault for a row that describes no lettering.
    """
    readers = Reader(old), Reader(new)
    for row in json_line_rows(letterings):
        if row.lettering is None:
            raise Fault(f"{letterings}: {row.error}")
        before, after = (_said(reader.read(row.lettering).as_dict()) for reader in readers)
        if before != after:
            gone = tuple(each for each in before if each not in after)
            come = tuple(each for each in after if each not in before)
            yield OtherReading(row.id or str(row.number), gone, come)


def _said(reading: Mapping[str, Any]) -> list[str]:
    """What a reading says, a line for each statement and notice; how sure it is of it is left out."""
    said = []
    for statement in reading["statements"]:
        roles = ", ".join(statement["roles"]) or "no role"
        implied = f" (and by implication {', '.join(statement['implied'])})" if statement["implied"] else ""
        said.append(f"{statement['name']}: {roles}{implied}")
    said += [f"notice of {notice['kind']}: {notice['text']}" for notice in reading["notices"]]
    return said

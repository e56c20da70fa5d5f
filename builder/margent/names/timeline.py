"""When makers lived and worked, drawn as lines of text under one scale of years.

    1600       1620       1640
      ---==========----          A. Verrou
                ^^               the print

A life is drawn with hyphens, working years with equals signs, and the years of the print with carets.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from margent.names.evidence import Lifetime, Years
from margent.vocabulary.edtf import EARLIEST, LATEST

WIDTH = 60
STEPS = (5, 10, 20, 25, 50, 100, 200, 250, 500)
LABEL_ROOM = 9
"""Columns that a year on the scale takes with the space after it, at least."""


class Line(NamedTuple):
    """One maker on the timeline."""

    label: str
    life: Lifetime


def timeline(makers: Sequence[Line], asked: Years | None, width: int = WIDTH) -> list[str]:
    """The lines of the drawing, the scale first; none where neither a maker nor the print has a date.

    A maker without dates has an empty line, so that one line answers to each maker.
    """
    spans = [span for line in makers if (span := _whole(line.life)) is not None]
    if asked is not None and asked[0] > EARLIEST and asked[1] < LATEST:
        spans.append(asked)
    else:
        asked = None
    if not spans:
        return []
    step, first, last = _scale(min(low for low, _ in spans), max(high for _, high in spans), width)

    def column(year: int) -> int:
        return (min(max(year, first), last) - first) * (width - 1) // (last - first)

    def drawn(*parts: tuple[Years | None, str]) -> str:
        cells = [" "] * width
        for span, sign in parts:
            if span is not None:
                for at in range(column(span[0]), column(span[1]) + 1):
                    cells[at] = sign
        return "".join(cells)

    scale = [" "] * (width + LABEL_ROOM)
    for year in range(first, last + 1, step):
        for at, char in enumerate(str(year), column(year)):
            scale[at] = char
    out = ["".join(scale).rstrip()]
    out += [f"{drawn((_whole(line.life), '-'), (_cut(line.life), '='))}  {line.label}" for line in makers]
    if asked is not None:
        out.append(f"{drawn((asked, '^'))}  the print")
    return out


def _cut(life: Lifetime) -> Years | None:
    """The years at work without an open end, which goes on for ever."""
    if life.active is None or life.active[1] < LATEST:
        return life.active
    return life.active[0], life.active[0] + life.ages.long_life


def _whole(life: Lifetime) -> Years | None:
    """From birth, or the first work, to death, or the last; None without any date."""
    ends = [span for span in (life.born, life.died, life.active) if span is not None]
    if not ends:
        return None
    low, high = min(low for low, _ in ends), max(high for _, high in ends)
    if high >= LATEST:
        high = low + life.ages.long_life
    return max(low, EARLIEST + 1), high


def _scale(low: int, high: int, width: int) -> tuple[int, int, int]:
    """The step of the scale and its first and last year, round numbers both."""
    for step in STEPS:
        first, last = low // step * step, -(-high // step) * step
        if last == first:
            last += step
        if (last - first) // step * LABEL_ROOM < width or step == STEPS[-1]:
            return step, first, last
    raise AssertionError("the last step was taken")

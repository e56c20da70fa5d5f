"""Periods as bars: a scale of years, and where on it a period begins and ends, in hundredths of its width.

The bars stand beside the years in words and say nothing that the words do not say; they are drawn as SVG in hundredths,
so that they fit every width without the lettering growing or shrinking with them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from margent.vocabulary.edtf import EARLIEST, LATEST, years
from margent.vocabulary.model import Edtf

STEPS = (10, 20, 50, 100, 200, 500)
MOST_TICKS = 6


@dataclass(frozen=True, slots=True)
class Span:
    """The years of a period; an end that is open is None."""

    first: int | None
    last: int | None

    def holds(self, year: int) -> bool:
        """Whether the year lies in it."""
        return (self.first is None or self.first <= year) and (self.last is None or year <= self.last)


@dataclass(frozen=True, slots=True)
class Bar:
    """A span on a scale: where it begins and how wide it is, in hundredths; whether it runs on at either end."""

    left: float
    width: float
    open_left: bool
    open_right: bool


def span(period: Edtf | None) -> Span | None:
    """The years that a date or a period allows; None without one, and for one that no calendar knows."""
    if not period:
        return None
    try:
        first, last = years(period)
    except ValueError:
        return None
    return Span(None if first == EARLIEST else first, None if last == LATEST else last)


def around(spans: Iterable[Span | None]) -> Span | None:
    """The span from the first beginning to the last end of several; None without any that is known."""
    known = [each for each in spans if each is not None]
    firsts = [each.first for each in known if each.first is not None]
    lasts = [each.last for each in known if each.last is not None]
    ends = firsts + lasts
    return Span(min(ends), max(ends)) if ends else None


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale of years from `first` to `last`, with marks every `step` years."""

    first: int
    last: int
    step: int

    @property
    def ticks(self) -> list[tuple[int, float]]:
        """The marked years and their places in hundredths."""
        return [(year, self.place(year)) for year in range(self.first, self.last + 1, self.step)]

    def place(self, year: int) -> float:
        """Where the year lies, in hundredths of the width."""
        within = min(max(year, self.first), self.last)
        return round(100 * (within - self.first) / (self.last - self.first), 2)

    def bar(self, period: Span | None) -> Bar | None:
        """The bar of a period, at least a hair wide; None without a period."""
        if period is None:
            return None
        left = 0.0 if period.first is None else self.place(period.first)
        right = 100.0 if period.last is None else self.place(period.last)
        return Bar(left, max(round(right - left, 2), 0.6), period.first is None, period.last is None)


def scale(spans: Iterable[Span | None]) -> Scale | None:
    """The scale on which all of the spans can be seen, in round years; None where none of them has a year."""
    whole = around(spans)
    if whole is None or whole.first is None or whole.last is None:
        return None
    step = next((each for each in STEPS if (whole.last - whole.first) / each <= MOST_TICKS - 1), STEPS[-1])
    first = whole.first // step * step
    last = max(-(-whole.last // step) * step, first + step)
    return Scale(first, last, step)

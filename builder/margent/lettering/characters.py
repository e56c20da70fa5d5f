"""What the reader knows of single characters: their kind and their folded letters."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from typing import Any

UPPER, LOWER, DIGIT, SPACE, MARK, SIGN = "u", "l", "d", "s", "m", "p"


class Characters:
    """The compiled character tables: `kind` of a code point and its `fold`.

    A kind is one letter: u (capital letter), l (other letter), d (digit), s (space), m (a mark that adds
    nothing to reading: combining accents, zero-width and directional signs), p (any other sign).
    """

    def __init__(self, table: Mapping[str, Any]) -> None:
        runs: Sequence[Sequence[Any]] = table["kinds"]
        self._starts = [int(run[0]) for run in runs]
        self._ends = [int(run[1]) for run in runs]
        self._kinds = [str(run[2]) for run in runs]
        self._fold: Mapping[str, str] = table["fold"]
        self._seen: dict[str, str] = {}

    def kind(self, char: str) -> str:
        """The kind of one character."""
        known = self._seen.get(char)
        if known is None:
            point = ord(char)
            at = bisect_right(self._starts, point) - 1
            known = self._kinds[at] if at >= 0 and point <= self._ends[at] else SIGN
            if len(self._seen) < 4096:  # hostile input may hold any number of distinct characters
                self._seen[char] = known
        return known

    def fold(self, text: str) -> str:
        """The text without case, accents, ligatures and long s, by the compiled table."""
        table = self._fold
        return "".join([table.get(char, char) for char in text])

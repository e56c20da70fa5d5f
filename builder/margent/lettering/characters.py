"""What the reader knows of single characters: their kind and their folded letters."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from typing import Any, Final

COMMON: Final = ((0, 0x250), (0x2000, 0x2070))
"""Code points, first and past the last, whose kinds are looked up once: Latin letters and the signs set between them."""
UPPER: Final = "u"
LOWER: Final = "l"
DIGIT: Final = "d"
SPACE: Final = "s"
MARK: Final = "m"
SIGN: Final = "p"


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
        self._fold: dict[str, str] = table["fold"]
        self._folding = str.maketrans(self._fold)
        self._common = {chr(point): self._kind(point) for first, last in COMMON for point in range(first, last)}
        self._ascii = str.maketrans({char: kind for char, kind in self._common.items() if char.isascii()})

    def kind(self, char: str) -> str:
        """The kind of one character."""
        return self._common.get(char) or self._kind(ord(char))

    def kinds(self, text: str) -> str:
        """The kind of each character of a text."""
        if text.isascii():
            return text.translate(self._ascii)
        common = self._common
        return "".join([common.get(char) or self._kind(ord(char)) for char in text])

    def fold(self, text: str) -> str:
        """The text without case, accents, ligatures and long s, by the compiled table."""
        return text.translate(self._folding)

    def folded(self, text: str) -> list[str]:
        """The folded letters of each character of a text; none for some, several for a ligature."""
        table = self._fold
        return [table.get(char, char) for char in text]

    def _kind(self, point: int) -> str:
        at = bisect_right(self._starts, point) - 1
        return self._kinds[at] if at >= 0 and point <= self._ends[at] else SIGN

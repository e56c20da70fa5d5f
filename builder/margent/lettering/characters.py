"""What the reader knows of single characters: their kind and their folded letters."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from typing import Any, Final

COMMON: Final = ((0, 0x250), (0x2000, 0x2070))
"""Code points, first and past the last, whose kinds are looked up once: Latin letters and the signs set between them."""
ASCII: Final = 128
BYTES: Final = 256
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
        ascii_kinds = "".join([self._common[chr(point)] for point in range(ASCII)])
        self._ascii_kinds = ascii_kinds.encode("ascii").ljust(BYTES)
        ascii_fold = [self._fold.get(chr(point), chr(point)) for point in range(ASCII)]
        self._left_out = bytes([point for point, folded in enumerate(ascii_fold) if not folded])
        self._ascii_fold = "".join([folded or " " for folded in ascii_fold]).encode("ascii").ljust(BYTES)

    def kind(self, char: str) -> str:
        """The kind of one character."""
        return self._common.get(char) or self._kind(ord(char))

    def kinds(self, text: str) -> str:
        """The kind of each character of a text."""
        if text.isascii():  # most lines are, and bytes are turned at once
            return text.encode("ascii").translate(self._ascii_kinds).decode("ascii")
        common = self._common
        return "".join([common.get(char) or self._kind(ord(char)) for char in text])

    def fold(self, text: str) -> str:
        """The text without case, accents, ligatures and long s, by the compiled table."""
        if text.isascii():
            return text.encode("ascii").translate(self._ascii_fold, self._left_out).decode("ascii")
        return text.translate(self._folding)

    def folded(self, text: str) -> list[str]:
        """The folded letters of each character of a text; none for some, several for a ligature."""
        table = self._fold
        return [table.get(char, char) for char in text]

    def _kind(self, point: int) -> str:
        at = bisect_right(self._starts, point) - 1
        return self._kinds[at] if at >= 0 and point <= self._ends[at] else SIGN

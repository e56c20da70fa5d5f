"""Texts without case, accents and signs: the key by which pages sort and look up words, the same on every machine.

The letters come from the character tables of the compiled reader, not from the locale of the machine.
"""

from __future__ import annotations

from margent.lettering.characters import DIGIT, LOWER, MARK, UPPER
from margent.publishing.character_table import kind, table_fold

APOSTROPHES = "'’ʼ"


class _Plain(dict[int, str]):
    """What each character becomes; a character is looked at when it is first met."""

    def __missing__(self, point: int) -> str:
        self[point] = plain = _plain(chr(point))
        return plain


def _plain(char: str) -> str:
    what = kind(char)
    if what in (UPPER, LOWER, DIGIT):
        return table_fold(char)
    if char == "&":
        return " & "
    return "" if what == MARK or char in APOSTROPHES else " "


_plain_letters = _Plain()


def folded(text: str) -> str:
    """The words of the text in plain small letters, parted by one space: `d'après  l'AEquator` gives `dapres laequator`."""
    return " ".join(text.translate(_plain_letters).split())


def alphabetical(text: str) -> tuple[list[str], str]:
    """A key that sorts word by word without regard to case, accents and signs, and tells any two texts apart."""
    return folded(text).split(" "), text


def initial(text: str) -> str:
    """The letter under which a word stands in an index, as a capital; empty where it begins with no letter."""
    first = folded(text)[:1]
    return first.upper() if first.isalpha() else ""

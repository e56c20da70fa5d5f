"""Texts without case, accents and signs: the key by which pages sort and look up words, the same on every machine.

The letters come from the character tables of the compiled reader, not from the locale of the machine.
"""

from __future__ import annotations

from functools import cache

from margent.lettering.characters import DIGIT, LOWER, MARK, UPPER, Characters
from margent.publishing.character_table import character_table

APOSTROPHES = "'’ʼ"


@cache
def characters() -> Characters:
    """The character tables, made once."""
    return Characters(character_table())


def folded(text: str) -> str:
    """The words of the text in plain small letters, parted by one space: `d'après  l'AEquator` gives `dapres laequator`."""
    known = characters()
    out: list[str] = []
    for char in text:
        kind = known.kind(char)
        if kind in (UPPER, LOWER, DIGIT):
            out.append(known.fold(char))
        elif char == "&":
            out.append(" & ")
        elif kind != MARK and char not in APOSTROPHES:
            out.append(" ")
    return " ".join("".join(out).split())


def alphabetical(text: str) -> tuple[list[str], str]:
    """A key that sorts word by word without regard to case, accents and signs, and tells any two texts apart."""
    return folded(text).split(" "), text


def initial(text: str) -> str:
    """The letter under which a word stands in an index, as a capital; empty where it begins with no letter."""
    first = folded(text)[:1]
    return first.upper() if first.isalpha() else ""

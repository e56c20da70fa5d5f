"""The character tables of the compiled reader, made from Unicode's own data so that no host needs them."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from functools import cache
from itertools import chain
from typing import Any

from margent.lettering.tokens import WORD_SIGNS

FOLDED = ((0, 0x2C00), (0xFB00, 0xFB07), (0xFF01, 0xFF5F))
"""Code points, first and past-last, of which letters get a folded form: beyond lie no scripts of Western prints."""

SPECIAL = {
    "ſ": "s",
    "ß": "ss",
    "æ": "ae",
    "Æ": "ae",
    "œ": "oe",
    "Œ": "oe",
    "ø": "o",
    "Ø": "o",
    "đ": "d",
    "Đ": "d",
    "ł": "l",
    "Ł": "l",
    "ħ": "h",
    "þ": "th",
    "Þ": "th",
    "ð": "d",
    "Ð": "d",
    "ı": "i",
    "°": "o",
    "⁊": "&",  # the Tironian sign
}
"""Letters that Unicode does not decompose; the degree sign stands for a raised o (C.°). From memory of the letterforms; no table fetched."""


@cache
def kind(char: str) -> str:
    """The kind of a character, by its general category: see `margent.lettering.characters`."""
    category = unicodedata.category(char)
    if (
        char == "°"
        or category in {"Ll", "Lo", "Lm"}
        or (category == "No" and unicodedata.normalize("NFKD", char).isalpha())
    ):
        return "l"
    if category in {"Lu", "Lt"}:
        return "u"
    if category == "Nd":
        return "d"
    if category[0] == "Z" or char in "\t\n\r\v\f":
        return "s"
    if category in {"Mn", "Mc", "Me", "Cf", "Cc"}:
        return "m"
    return "p"


@cache
def folded(char: str) -> str:
    """The letter without case and accents."""
    if char in SPECIAL:
        return SPECIAL[char]
    parts = unicodedata.normalize("NFKD", char).casefold()
    return "".join(SPECIAL.get(part, part) for part in parts if unicodedata.category(part) not in {"Mn", "Cf"})


def folded_words(text: str, kind_of: Callable[[str], str] = kind, fold: Callable[[str], str] = folded) -> list[str]:
    """The folded words of a form, as the tokeniser would cut them, but for elisions."""
    out: list[str] = []
    word = ""
    for char in text:
        what = kind_of(char)
        if what in "uld":
            word += fold(char)
        elif what == "m" or char in "'’":
            continue
        elif char in WORD_SIGNS:
            out.extend((word, fold(char)))
            word = ""
        else:
            out.append(word)
            word = ""
    out.append(word)
    return [each for each in out if each]


def table_fold(char: str) -> str:
    """What the table folds a character to: marks to nothing, letters without folded form and signs to themselves."""
    point = ord(char)
    if char != "⁊" and not any(first <= point < last for first, last in FOLDED):
        return char
    what = kind(char)
    if what == "m":
        return ""
    return folded(char) if what in "uld" or char == "⁊" else char


@cache
def character_table() -> dict[str, Any]:
    """`kinds` as runs [first, last, kind] in order, every other code point being a sign; `fold` for each character that folding changes.

    Left out are surrogates, the planes 4 to 13, in which nothing is assigned, and those of private use: signs all.
    """
    runs: list[list[Any]] = []
    for point in chain(range(0xD800), range(0xE000, 0x40000), range(0xE0000, 0xF0000)):
        mine = kind(chr(point))
        if mine == "p":
            continue
        if runs and runs[-1][2] == mine and runs[-1][1] == point - 1:
            runs[-1][1] = point
        else:
            runs.append([point, point, mine])
    letters = [chr(point) for first, last in FOLDED for point in range(first, last)]
    fold = {char: plain for char in letters if (plain := table_fold(char)) != char}
    return {"kinds": runs, "fold": fold}

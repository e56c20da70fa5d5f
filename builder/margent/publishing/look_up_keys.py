"""The key under which the pages look up a text: its words in letters that early spelling does not tell apart.

The browser makes the same key (`site/scripts/look-up/keys.js`) from the one table that is published with the data, and
from no rule of its own. A key never changes its beginning while somebody types on: so only habits of spelling that
concern one letter (v and u, j and i, y and i) are undone, and a letter doubled counts once.
"""

from __future__ import annotations

import re

from margent.lettering.characters import DIGIT, LOWER, UPPER
from margent.publishing.character_table import kind, table_fold
from margent.publishing.folding import APOSTROPHES
from margent.vocabulary.model import Vocabulary
from margent.vocabulary.name_rules import NameSpelling

# Letters that somebody may type or paste: Latin with its extensions, Greek and Cyrillic, and the ligatures of typefaces.
_TYPED = ((0x30, 0x39), (0x41, 0x24F), (0x370, 0x4FF), (0x1E00, 0x1FFF), (0xA720, 0xA7FF), (0xFB00, 0xFB06))

_MARKS = ((0x300, 0x36F), (0x1DC0, 0x1DFF))
"""Signs above or below a letter, which say nothing by themselves."""


_DOUBLED = re.compile(r"([^0-9])\1+")


class _Letters(dict[int, str]):
    """What each character is counted as; any other parts words."""

    def __missing__(self, point: int) -> str:
        return " "


class Keys:
    """Makes keys, and has the table from which a browser makes the same."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        habits = _habits(vocabulary)
        self.table: dict[str, str] = {"&": " & "}
        for first, last in _TYPED:
            for point in range(first, last + 1):
                char = chr(point)
                if kind(char) in (UPPER, LOWER, DIGIT):
                    self.table[char] = "".join(habits.get(each, each) for each in table_fold(char))
        for first, last in _MARKS:
            self.table |= {chr(point): "" for point in range(first, last + 1)}
        self.table |= dict.fromkeys(APOSTROPHES, "")
        self._letters = _Letters({ord(char): to for char, to in self.table.items()})

    def __call__(self, text: str) -> str:
        """The key; empty where the text has no letter and no figure that the table knows."""
        return _DOUBLED.sub(r"\1", text.translate(self._letters)).strip()

    def published(self) -> dict[str, str]:
        """The table without the plain letters and figures that stand for themselves."""
        return {char: to for char, to in self.table.items() if char != to or not char.isascii()}


def _habits(vocabulary: Vocabulary) -> dict[str, str]:
    """The letters that are written for others, each with the one it is counted as."""
    rules = sorted(
        (rule for rule in vocabulary.name_rules.values() if isinstance(rule, NameSpelling)),
        key=lambda rule: (rule.order, rule.iri),
    )
    single = [(rule.find, rule.put) for rule in rules if len(rule.find) == len(rule.put) == 1]
    found: dict[str, str] = {}
    for letter in {find for find, _ in single}:
        to = letter
        for find, put in single:
            to = put if to == find else to
        found[letter] = to
    return found

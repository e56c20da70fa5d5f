"""The letters of a mark, compared in any order, in part, and with the letters alike that were one on old prints."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

UNREAD = "?"
"""A letter that was seen and could not be read."""

_SEPARATE = str.maketrans({"Æ": "AE", "Œ": "OE", "ß": "SS", "ẞ": "SS", "ſ": "S", "Ø": "O", "Ł": "L"})
_ALIKE = {"J": "I", "U": "V", "W": "VV"}
"""I and J, U and V were one letter each, and W two Vs."""


def letters_of(text: str) -> tuple[str, ...]:
    """The letters and figures of a mark as they are compared; a question mark stands for one that was not read.

    >>> letters_of("J. v. W"), letters_of("5 c."), letters_of("Æ?")
    (('I', 'V', 'V', 'V'), ('5', 'C'), ('A', 'E', '?'))
    """
    plain = unicodedata.normalize("NFKD", text.translate(_SEPARATE)).upper().translate(_SEPARATE)
    found = (_ALIKE.get(char, char) for char in plain if char.isalnum() or char == UNREAD)
    return tuple("".join(found))


@dataclass(frozen=True, slots=True)
class LettersFit:
    """How the letters that were read fit those of a mark: how many are alike, which are missing, which too many."""

    alike: int
    missing: tuple[str, ...]
    """Letters of the mark that were not read, and are not covered by a question mark either."""
    extra: tuple[str, ...]
    in_order: bool
    """Whether the letters that are alike were read in the mark's own order."""


def compared(read: Sequence[str], mark: Sequence[str]) -> LettersFit:
    """How the letters fit.

    >>> compared(letters_of("VA"), letters_of("AU"))
    LettersFit(alike=2, missing=(), extra=(), in_order=False)
    >>> compared(letters_of("A?"), letters_of("ABC"))
    LettersFit(alike=1, missing=('C',), extra=(), in_order=True)
    """
    said = [letter for letter in read if letter != UNREAD]
    unread = len(read) - len(said)
    common = Counter(said) & Counter(mark)
    missing, extra = _beyond(mark, common), _beyond(said, common)
    return LettersFit(
        common.total(),
        tuple(missing[unread:]),
        (*extra, *(UNREAD for _ in range(unread - len(missing)))),
        _kept(said, common) == _kept(mark, common),
    )


def _beyond(letters: Sequence[str], common: Counter[str]) -> list[str]:
    """The letters that are not among the common ones, each as often as it is too many."""
    left = common.copy()
    found = []
    for letter in letters:
        if left[letter] > 0:
            left[letter] -= 1
        else:
            found.append(letter)
    return found


def _kept(letters: Sequence[str], common: Counter[str]) -> list[str]:
    left = common.copy()
    found = []
    for letter in letters:
        if left[letter] > 0:
            left[letter] -= 1
            found.append(letter)
    return found

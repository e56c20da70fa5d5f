"""From characters to tokens: the words, numbers and signs of a lettering and the gaps between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from margent.lettering.characters import DIGIT, LOWER, MARK, SPACE, UPPER, Characters
from margent.lettering.transcription import Characterwise, Line, transcribe

INITIAL, CAPITALISED, CAPITALS, LETTERS, LOWERCASE, NUMBER, ELIDED, OTHER = "i", "c", "a", "m", "l", "n", "e", "x"

APOSTROPHES = "'’‘`´"

WORD_SIGNS = "&⁊©"
"""Signs that are words by themselves."""

WIDE = 3
"""So many spaces at least set two parts of a line apart."""

HYPHENS = "-=~⸗"
"""Signs that divide a word at the end of a line."""

GROUP = 4
"""Capitals that may be a monogram's letters, at most."""


@dataclass(slots=True)
class Token:
    """One word, number or sign.

    `line`, `start` and `end` point into the text as given.  `full` and `plain` are folded letters, with
    and without what an editor supplied.  `shape` is one letter (initial, capitalised, all capitals, a few capitals,
    lower case, number, elided, other).  `gap` says what stands before it: g nothing, k a stop without a space,
    s a space, a a stop after a short word, `.` `,` `:` `;` with a space, h a hyphen, d a dash, b a line
    break sign, o another sign, n a new line, p a new line elsewhere on the sheet, ^ the very beginning.
    """

    line: int
    start: int
    end: int
    full: str
    plain: str
    shape: str
    gap: str
    stop: bool
    supplied: bool


def _pieces(
    chars: str, kinds: Sequence[str], elisions: frozenset[str], characters: Characters
) -> list[tuple[int, int]]:
    """Where each token begins and ends among the characters of a line."""
    found: list[tuple[int, int]] = []
    size = len(chars)
    index = 0
    while index < size:
        kind = kinds[index]
        if kind in (UPPER, LOWER, DIGIT):
            start = index
            numeric = kind == DIGIT
            index += 1
            while index < size:
                kind = kinds[index]
                if kind in (UPPER, LOWER, DIGIT, MARK):
                    before = kinds[index - 1]
                    if not numeric and kind == UPPER and before == LOWER:
                        break  # CarloFontana: two words run together
                    if kind == LOWER and before == UPPER and index - start > 1 and kinds[index - 2] == UPPER:
                        found.append((start, index - 1))  # PTesta: the last capital begins the next word
                        start = index - 1
                    index += 1
                elif chars[index] in APOSTROPHES and index + 1 < size and kinds[index + 1] in (UPPER, LOWER):
                    index += 1
                    if characters.fold(chars[start : index - 1]) in elisions:
                        break  # l'auteur: two words
                elif chars[index] == "/" and numeric and index + 1 < size and kinds[index + 1] == DIGIT:
                    index += 1  # 73/100 is one number
                else:
                    break
            found.append((start, index))
        elif chars[index] in WORD_SIGNS:
            found.append((index, index + 1))
            index += 1
        else:
            index += 1
    return found


def _shape(kinds: Sequence[str]) -> str:
    """The shape of a word, from the kinds of its characters."""
    first = kinds[0]
    letters = [kind for kind in kinds if kind in (UPPER, LOWER)]
    if first == DIGIT:
        return NUMBER
    if not letters:
        return OTHER
    if first == LOWER:
        return LOWERCASE
    if len(letters) == 1:
        return INITIAL
    if LOWER in letters:
        return CAPITALISED
    return LETTERS if len(letters) <= GROUP else CAPITALS


def _gap(between: str, kinds: Sequence[str], short: bool, lower: bool) -> str:
    """The class of what stands between two tokens of one line.

    `short`: the word before has at most three letters; `lower`: the word behind begins with a small letter.
    """
    if not between:
        return "g"
    spaced = SPACE in kinds
    signs = [char for char, kind in zip(between, kinds, strict=True) if kind not in (SPACE, MARK)]
    if not signs:
        return ("b" if len(between) >= WIDE else "s") if spaced else "g"
    if lower and not spaced and between in ("/", "|"):
        return "w"
    if lower and signs[0] in HYPHENS and signs[-1] in "/|":
        return "w"  # Kerck- | hoven
    for sign, gap in (("/", "b"), ("|", "b"), (";", ";"), ("–", "d"), ("—", "d")):
        if sign in signs:
            return gap
    if signs[0] in "-_=~":
        return "d" if spaced else "h"
    if "," in signs:
        return ","
    if signs[0] in ".:·^*°'’´`":
        if not spaced:
            return "k"
        return "a" if short else ("." if signs[0] == "." else ":")
    return "o"


def tokenise(
    lines: Sequence[Line], characters: Characters, elisions: frozenset[str], notes: Sequence[str]
) -> list[Token]:
    """The tokens of all lines in order.  A line in a later hand or stamped by a collector must be left out before."""
    tokens: list[Token] = []
    place: str | None = None
    divided = False
    for number, line in enumerate(lines):
        read: Characterwise = transcribe(line.text, notes)
        chars = read.chars
        kinds = [characters.kind(char) for char in chars]
        last = 0
        first = True
        for start, end in _pieces(chars, kinds, elisions, characters):
            letters = [i for i in range(start, end) if kinds[i] in (UPPER, LOWER, DIGIT) or chars[i] in WORD_SIGNS]
            given = [i for i in letters if not read.supplied[i]]
            full = characters.fold("".join([chars[i] for i in letters]))
            plain = full if len(given) == len(letters) else characters.fold("".join([chars[i] for i in given]))
            if first:
                gap = "^" if not tokens else ("n" if line.place == place else "p")
                if divided and gap == "n" and kinds[start] == LOWER:
                    gap = "w"
            else:
                before = tokens[-1]
                gap = _gap(chars[last:start], kinds[last:start], len(before.full) <= 3, kinds[start] == LOWER)
                before.stop = end > 0 and last < len(chars) and chars[last] in ".:·"
            tokens.append(
                Token(
                    number,
                    read.at[start],
                    read.at[end - 1] + 1,
                    full,
                    plain,
                    ELIDED if chars[end - 1] in APOSTROPHES else _shape(kinds[start:end]),
                    gap,
                    False,
                    not given,
                )
            )
            last = end
            first = False
        if not first:
            tokens[-1].stop = last < len(chars) and chars[last] in ".:·"
            divided = last < len(chars) and chars[last] in HYPHENS
            place = line.place
    return tokens

"""From characters to tokens: the words, numbers and signs of a lettering and the gaps between them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from margent.lettering.characters import DIGIT, LOWER, MARK, SIGN, SPACE, UPPER, Characters
from margent.lettering.transcription import Characterwise, Line, transcribe

INITIAL: Final = "i"
CAPITALISED: Final = "c"
CAPITALS: Final = "a"
LETTERS: Final = "m"
LOWERCASE: Final = "l"
NUMBER: Final = "n"
ELIDED: Final = "e"
OTHER: Final = "x"

APOSTROPHES: Final = "'’‘`´"

WORD_SIGNS: Final = "&⁊©"
"""Signs that are words by themselves."""

WIDE: Final = 3
"""So many spaces at least set two parts of a line apart."""

HYPHENS: Final = "-=~⸗"
"""Signs that divide a word at the end of a line."""

GROUP: Final = 4
"""Capitals that may be a monogram's letters, at most."""


_WORDS: Final = re.compile("[uld][uldm]*")
"""Words by the kinds of their characters, where no word is two and no sign a word."""
_PARTING: Final = re.compile(f"[{APOSTROPHES}{WORD_SIGNS}/]")


class Token:
    """One word, number or sign.

    `line`, `start` and `end` point into the text as given.  `full` and `plain` are folded letters, with
    and without what an editor supplied.  `shape` is one letter (initial, capitalised, all capitals, a few capitals,
    lower case, number, elided, other).  `gap` says what stands before it: g nothing, k a stop without a space,
    s a space, a a stop after a short word, `.` `,` `:` `;` with a space, h a hyphen, d a dash, b a line
    break sign, e one behind a stop, o another sign, n a new line, p a new line elsewhere on the sheet, ^ the very beginning.
    """

    __slots__ = ("end", "full", "gap", "line", "plain", "shape", "start", "stop", "supplied")

    def __init__(
        self, line: int, start: int, end: int, full: str, plain: str, shape: str, gap: str, stop: bool, supplied: bool
    ) -> None:
        self.line = line
        self.start = start
        self.end = end
        self.full = full
        self.plain = plain
        self.shape = shape
        self.gap = gap
        self.stop = stop
        self.supplied = supplied


def _pieces(chars: str, kinds: str, folded: Sequence[str], elisions: frozenset[str]) -> list[tuple[int, int]]:
    """Where each token begins and ends among the characters of a line."""
    found: list[tuple[int, int]] = []
    longest = max(map(len, elisions), default=0)
    size = len(chars)
    index = 0
    while index < size:
        kind = kinds[index]
        if kind in "uld":
            start = index
            numeric = kind == DIGIT
            index += 1
            while index < size:
                kind = kinds[index]
                if kind in "uldm":
                    if kind == UPPER and kinds[index - 1] == LOWER and not numeric:
                        break  # PaoloTobler: two words run together
                    if kind == LOWER and kinds[index - 2 : index] == "uu" and index - start > 1:
                        found.append((start, index - 1))  # PTobler: the last capital begins the next word
                        start = index - 1
                    index += 1
                elif chars[index] in APOSTROPHES and index + 1 < size and kinds[index + 1] in "ul":
                    index += 1
                    if index - 1 - start <= longest and "".join(folded[start : index - 1]) in elisions:
                        break  # l'auteur: two words
                elif chars[index] == "/" and numeric and index + 1 < size and kinds[index + 1] == DIGIT:
                    index += 1  # 73/100 is one number
                else:
                    break
            found.append((start, index))
        else:
            if chars[index] in WORD_SIGNS:
                found.append((index, index + 1))
            index += 1
    return found


def _shape(kinds: str) -> str:
    """The shape of a word, from the kinds of its characters."""
    first = kinds[0]
    if first == DIGIT:
        return NUMBER
    letters = kinds.count(UPPER) + kinds.count(LOWER)
    if not letters:
        return OTHER
    if first == LOWER:
        return LOWERCASE
    if letters == 1:
        return INITIAL
    if LOWER in kinds:
        return CAPITALISED
    return LETTERS if letters <= GROUP else CAPITALS


def _gap(between: str, kinds: str, short: bool, lower: bool) -> str:
    """The class of what stands between two tokens of one line.

    `short`: the word before has at most three letters; `lower`: the word behind begins with a small letter.
    """
    if not between:
        return "g"
    if kinds == SPACE:
        return "s"
    if between == ". ":
        return "a" if short else "."
    spaced = SPACE in kinds
    signs = [char for char, kind in zip(between, kinds, strict=True) if kind not in (SPACE, MARK)]
    if not signs:
        return ("b" if len(between) >= WIDE else "s") if spaced else "g"
    if lower and not spaced and between in ("/", "|"):
        return "w"
    if lower and signs[0] in HYPHENS and signs[-1] in "/|":
        return "w"  # Tob- | ler
    for sign, gap in (("/", "b"), ("|", "b"), (";", ";"), ("–", "d"), ("—", "d")):
        if sign in signs:
            return "e" if sign in "/|" and signs[0] == "." and not short else gap
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
        kinds = characters.kinds(chars)
        edited = "[" in line.text and True in read.supplied
        known = characters.fold(chars) if chars.isascii() else ""
        if len(known) != len(chars):
            known = ""  # a character was left out, so that no place in it is that of the line
        last = 0
        first = True
        begun = len(tokens)
        if "lu" in kinds or "uul" in kinds or _PARTING.search(chars):
            spans = _pieces(chars, kinds, characters.folded(chars), elisions)
        else:  # so are most lines
            spans = [word.span() for word in _WORDS.finditer(kinds)]
        for start, end in spans:
            kind = kinds[start:end]
            if edited or MARK in kind or SIGN in kind:
                folded = characters.folded(chars[start:end])
                letters = [i for i in range(start, end) if kinds[i] in "uld" or chars[i] in WORD_SIGNS]
                given = [i for i in letters if not read.supplied[i]]
                full = "".join([folded[i - start] for i in letters])
                plain = full if len(given) == len(letters) else "".join([folded[i - start] for i in given])
                supplied = not given
            else:
                full = plain = known[start:end] if known else characters.fold(chars[start:end])
                supplied = False
            lower = kind[0] == LOWER
            if first:
                gap = "^" if not tokens else ("n" if line.place == place else "p")
                if divided and gap == "n" and lower:
                    gap = "w"
            else:
                before = tokens[-1]
                gap = _gap(chars[last:start], kinds[last:start], len(before.full) <= 3, lower)
                before.stop = chars[last] in ".:·"
            tokens.append(
                Token(
                    number,
                    read.at[start],
                    read.at[end - 1] + 1,
                    full,
                    plain,
                    ELIDED if chars[end - 1] in APOSTROPHES else _shape(kind),
                    gap,
                    False,
                    supplied,
                )
            )
            last = end
            first = False
        if not first:
            tokens[-1].stop = last < len(chars) and chars[last] in ".:·"
            divided = last < len(chars) and chars[last] in HYPHENS
            place = line.place
        if "/" in chars or "|" in chars:
            _part_titles(tokens[begun:])
    return tokens


def _part_titles(tokens: Sequence[Token]) -> None:
    """Parts the breaks at which a line goes on from capitals to small letters: there a title ends."""
    loud = False
    for index, token in enumerate(tokens):
        if index == 0 or token.gap in "be":
            words = _phrase(tokens, index)
            small = any(each.shape in (CAPITALISED, LOWERCASE) for each in words)
            if token.gap == "b" and loud and small:
                token.gap = "e"
            loud = not small and any(each.shape == CAPITALS for each in words)


def _phrase(tokens: Sequence[Token], start: int) -> Sequence[Token]:
    """The tokens up to the next break."""
    end = start + 1
    while end < len(tokens) and tokens[end].gap not in "be":
        end += 1
    return tokens[start:end]

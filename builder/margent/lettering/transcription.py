"""From a transcription to the characters that are read.

Square brackets are the editor's: letters inside them are read and marked as supplied, notes such as
[sic], [?], [= another spelling] and [...] are left out.  Double brackets enclose what was burnished out
of the plate; it is read.  Round brackets stand on the print, save those that hold a note.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

LONGEST: Final = 20_000
"""Characters of one lettering at most, all lines together; a longer one is refused."""


class Line(NamedTuple):
    """One entry of a lettering's lines: its text and what is known of where and how it stands."""

    text: str
    place: str | None = None
    how: str | None = None
    hand: str | None = None


class Lettering(NamedTuple):
    """The text of one impression and what its record says of it; all but the lines may be unknown."""

    lines: tuple[Line, ...]
    id: str | None = None
    date: str | None = None
    years: tuple[int, int] | None = None
    place: str | None = None
    technique: str | None = None
    complete: str = "unknown"


class Characterwise:
    """The characters of a line that are read, each with its index in the text and whether it is supplied."""

    __slots__ = ("at", "chars", "supplied")

    def __init__(self, chars: str, at: Sequence[int], supplied: Sequence[bool]) -> None:
        self.chars = chars
        self.at = at
        self.supplied = supplied


def _note(inside: str, notes: Sequence[str]) -> bool:
    """Whether what stands between two brackets is an editor's note and not letters of the print."""
    bare = inside.strip(" .!?…")
    return not bare or inside.lstrip().startswith("=") or bare in notes


def transcribe(text: str, notes: Sequence[str]) -> Characterwise:
    """The characters of `text` that are read; `notes` are the words that make a bracket a note.

    Brackets without a partner are read as signs.  The time taken is linear in the length of the text.
    """
    if "[" not in text and "(" not in text:
        return Characterwise(text, range(len(text)), [False] * len(text))
    return _bracketed(text, notes)


def _bracketed(text: str, notes: Sequence[str]) -> Characterwise:
    """The characters that are read of a text with brackets."""
    partner: dict[int, int] = {}
    open_square: list[int] = []
    open_round: list[int] = []
    for index, char in enumerate(text):
        if char == "[":
            open_square.append(index)
        elif char == "]" and open_square:
            partner[open_square.pop()] = index
        elif char == "(":
            open_round = [index]
        elif char == ")" and open_round:
            partner[open_round.pop()] = index
    closing = {end for start, end in partner.items() if text[start] == "["}
    chars: list[str] = []
    at: list[int] = []
    supplied: list[bool] = []
    depth = 0
    index = 0
    burnished: set[int] = set()
    while index < len(text):
        char = text[index]
        end = partner.get(index)
        if end is not None and char == "[":
            if end - index <= 200 and _note(text[index + 1 : end], notes):
                if any(mark in text[index:end] for mark in (".", "…")):  # lost letters: the word is cut short
                    chars.append(".")
                    at.append(index)
                    supplied.append(True)
                index = end + 1
                continue
            if partner.get(index + 1) == end - 1 and text[index + 1] == "[":
                burnished.update((index, index + 1, end - 1, end))
            if index not in burnished:
                depth += 1
            index += 1
            continue
        if index in closing:
            if index not in burnished:
                depth -= 1
            index += 1
            continue
        if end is not None and char == "(" and end - index <= 12 and _note(text[index + 1 : end], notes):
            index = end + 1
            continue
        if not (depth and char == "?"):
            chars.append(char)
            at.append(index)
            supplied.append(depth > 0)
        index += 1
    return Characterwise("".join(chars), at, supplied)

"""Numbers within an edition, such as 12/40 in pencil or beside a signature."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from margent.lettering.lexicon import Item
from margent.lettering.tokens import LOWERCASE, NUMBER, Token
from margent.lettering.transcription import Line

PENCIL: Final = "pencil"
FIGURES: Final = 4
"""Figures of either number at most."""


class Editions:
    """Finds the impression's number within its edition, which is a pattern and no word of the list."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        self._term = str(compiled["edition-number"])
        self._weight: int = compiled["grammar"]["lookup"]["edition"]

    def items(self, tokens: list[Token], lines: Sequence[Line]) -> list[Item]:
        """The numbers that count an impression: in pencil, or in a line that holds nothing but names and numbers."""
        if not any(token.shape == NUMBER for token in tokens):
            return []
        wordy = {token.line for token in tokens if token.shape == LOWERCASE}
        return [
            Item(index, index + 1, "notice", self._weight, self._term)
            for index, token in enumerate(tokens)
            if token.shape == NUMBER
            and (lines[token.line].how == PENCIL or token.line not in wordy)
            and within_edition(lines[token.line].text[token.start : token.end])
        ]


def within_edition(text: str) -> bool:
    """Whether a text is two whole numbers with a stroke between them, of which the first is not the greater: 1/25, not 25/1."""
    first, stroke, last = text.partition("/")
    if not stroke or not (_figures(first) and _figures(last)):
        return False
    return 1 <= int(first) <= int(last)


def _figures(text: str) -> bool:
    return 1 <= len(text) <= FIGURES and all("0" <= char <= "9" for char in text)

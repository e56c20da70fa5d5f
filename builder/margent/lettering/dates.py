"""Dates on prints: years in figures or Roman numerals, with month and day, as EDTF."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any, Final

from margent.lettering.lexicon import RAISED, Item
from margent.lettering.tokens import CAPITALS, INITIAL, LETTERS, LOWERCASE, NUMBER, Token

DIGITS: Final = "0123456789"
SUBTRACTED: Final = ((1, 5), (1, 10), (10, 50), (10, 100), (100, 500), (100, 1000))
"""A lesser numeral and the greater one that it may stand before."""
PARTED: Final = range(1400, 1900)
"""Years that may be parted by stops; later ones have two M, and are rather a name: M. MIX."""


class Dates:
    """Finds the dates of a lettering by the compiled table of months, ordinals and numerals."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        table: dict[str, Any] = compiled["dates"]
        self._months: dict[str, int] = table["months"]
        self._fillers: frozenset[str] = frozenset(table["fillers"])
        self._numerals: dict[str, int] = table["numerals"]
        self._ordinals: frozenset[str] = frozenset(table["ordinals"])
        self._figures: dict[str, str] = table["figures"]
        self._digits = frozenset(DIGITS)
        self._first = frozenset((*DIGITS, "m", "c"))
        self._weight: int = compiled["grammar"]["lookup"]["date"]
        self._more: int = compiled["grammar"]["lookup"]["date-more"]

    def items(self, tokens: list[Token]) -> list[Item]:
        """Every date, longest first from each token; the item's `ref` is its EDTF."""
        found: list[Item] = []
        for start in range(len(tokens)):
            item = self._date(tokens, start)
            if item is not None:
                found.append(item)
        return found

    def year(self, token: Token) -> int | None:
        """The year that a token states (1400 to 2099), in figures, in Roman numerals, or in figures with letters (i57i)."""
        text = token.full
        value: int | None = None
        if token.shape == NUMBER and len(text) == 4 and all(char in DIGITS for char in text):
            value = int(text)
        elif len(text) == 4 and any(char in DIGITS for char in text):
            figures = "".join([self._figures.get(char, char) for char in text])
            if all(char in DIGITS for char in figures):
                value = int(figures)
        elif len(text) >= 3 and text[0] in "mc" and all(char in self._numerals for char in text):
            value = self.roman(text)
        return value if value is not None and 1400 <= value <= 2099 else None

    def roman(self, text: str) -> int:
        """The value of a folded Roman numeral, additive forms such as MDXXXX included."""
        total = 0
        before = 0
        for char in reversed(text):
            value = self._numerals[char]
            total += -value if value < before else value
            before = max(before, value)
        return total

    def parted(self, tokens: list[Token], start: int) -> tuple[int, int] | None:
        """The year in capitals parted by stops or spaces, and the token after it: M. DC. XII; None for letters that may be initials.

        Each piece is one letter or all in capitals, one piece has more than one letter, and the whole is a numeral.
        """
        found: tuple[int, int] | None = None
        text = ""
        end = start
        while end < len(tokens) and (end == start or tokens[end].gap in ".aks"):
            piece = tokens[end]
            if piece.shape not in (INITIAL, LETTERS, CAPITALS) or not all(
                char in self._numerals for char in piece.full
            ):
                break
            text += piece.full
            end += 1
            if end - start > 1 and len(text) > end - start and text[0] == "m" and self._well_formed(text):
                value = self.roman(text)
                found = (value, end) if value in PARTED else found
        return found

    def _well_formed(self, text: str) -> bool:
        """Whether numerals fall from left to right, but for a lesser one before the greater that it is taken from."""
        values = [self._numerals[char] for char in text]
        return all(
            left >= right or ((left, right) in SUBTRACTED and (at == 0 or values[at - 1] >= right))
            for at, (left, right) in enumerate(pairwise(values))
        )

    def _may_begin(self, token: Token) -> bool:
        """Whether a date may begin with a token; spares most words the asking whether they are a year, a month, a day."""
        text = token.full
        return (
            text[:1] in self._first
            or text in self._months
            or text in self._fillers
            or (len(text) == 4 and not self._digits.isdisjoint(text))
        )

    def _day(self, token: Token) -> int | None:
        digits = token.full
        for ending in ("st", "nd", "rd", "th", "d", "e", "o", "a", "er", "me", "ten", "ste", "t"):
            if (
                digits.endswith(ending)
                and digits[: -len(ending)].isascii()
                and all(c in DIGITS for c in digits[: -len(ending)])
                and digits[: -len(ending)]
            ):
                digits = digits[: -len(ending)]
                break
        if digits and len(digits) <= 2 and all(char in DIGITS for char in digits):
            day = int(digits)
            return day if 1 <= day <= 31 else None
        return None

    def _date(self, tokens: list[Token], start: int) -> Item | None:
        if not self._may_begin(tokens[start]) or _raised(tokens[start]):
            return None
        year = month = day = None
        at = start
        end = start
        while at < len(tokens) and at - start < 9:
            token = tokens[at]
            if at > start and token.gap in "np;":
                break
            word = token.full
            if year is None and (parted := self.parted(tokens, at)) is not None:
                year, end = parted
                at = end
                continue
            # 8bre and 7bris come as figure and word run together or apart
            if year is None and (value := self.year(token)) is not None:
                year = value
                end = at + 1
            elif month is None and word in self._months:
                month = self._months[word]
                end = at + 1
            elif day is None and year is None and (value := self._day(token)) is not None:
                day = value
                end = at + 1
            elif word in self._ordinals and at > start:
                end = max(end, at)
            elif at > start and _raised(token):
                pass  # Jan.y: the raised ending of a month
            elif word not in self._fillers:
                break
            at += 1
        if year is None and (month is None or day is None):
            return None
        weight = self._weight + self._more * (end - start - 1)
        if year is None:
            return Item(start, end, "date", weight, "")
        if tokens[start].full in self._ordinals and start + 1 < end:
            return None
        edtf = f"{year:04d}"
        if month is not None:
            edtf += f"-{month:02d}" + (f"-{day:02d}" if day is not None else "")
        return Item(start, end, "date", weight, edtf)


def _raised(token: Token) -> bool:
    """Whether a token is a raised ending."""
    return token.gap == "k" and token.shape == LOWERCASE and len(token.full) <= RAISED

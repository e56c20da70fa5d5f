"""The dates of a life as catalogues write them, `c. 1755/1761 - 1802` or `active late 16th century`, in EDTF."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from margent.vocabulary.edtf import years
from margent.vocabulary.model import Edtf

_TOKEN = re.compile(
    r"""
      (?P<bc>      (?:(?<=\d)|(?<=\dth)|(?<=\d[sn][td])|(?<=century)|(?<=cent\.))\s*b\.?\s?c )
    | (?P<born>    \b(?:born|b\.|n\.|geb\.|founded|est\.|established) | [*] )
    | (?P<died>    \b(?:died|d\.|gest\.|closed|dissolved) | † )
    | (?P<active>  \b(?:active|act\.|fl\.|flourished|working|mentioned|documented|recorded) )
    | (?P<unknown> \bunknown\b )
    | (?P<after>   \b(?:in\ or\ |or\ )?(?:after|later)\b )
    | (?P<before>  \b(?:in\ or\ |or\ )?(?:before|earlier)\b )
    | (?P<about>   \b(?:c\.|ca\.|circa\b|c(?=\d)|approximately\b|about\b|around\b|um\b|vers\b) | ~ )
    | (?P<doubt>   \b(?:probably|possibly|perhaps|prob\.)\s | [?] )
    | (?P<part>    \b(?:early|mid|late|(?:first|second|1st|2nd|last)\ half|(?:first|second|third|fourth|last|1st|2nd|3rd|4th)\ quarter
                     |(?:first|second|third|last)\ third)\b(?:\s+of\s+the\b)? )
    | (?P<century> \b(?P<nth>\d{1,2})(?:st|nd|rd|th)\b(?:\s+(?:century|centuries|cent\.))? )
    | (?P<date>    \b\d{3,4}(?:'?s)?\b )
    | (?P<either>  \s*/\s* | \bor\b )
    | (?P<dash>    (?<=\d)-|(?<=\ds)-|(?<=[?)])-|(?<!\S)-(?!\S)|-(?=\s*\d)|\bto\b|\band\b|\buntil\b )
    | (?P<figures> \d+ )
    """,
    re.VERBOSE,
)
_PARTS = {
    "early": (0, 33), "mid": (34, 66), "late": (67, 99),
    "first half": (0, 49), "1st half": (0, 49), "second half": (50, 99), "2nd half": (50, 99), "last half": (50, 99),
    "first quarter": (0, 24), "1st quarter": (0, 24), "second quarter": (25, 49), "2nd quarter": (25, 49),
    "third quarter": (50, 74), "3rd quarter": (50, 74), "fourth quarter": (75, 99), "4th quarter": (75, 99), "last quarter": (75, 99),
    "first third": (0, 33), "second third": (34, 66), "third third": (67, 99), "last third": (67, 99),
}  # fmt: skip
"""Years of a century that each part of it has, counted from its first."""


@dataclass(frozen=True, slots=True)
class Life:
    """Birth, death and years of activity, each as far as it is said."""

    born: Edtf | None = None
    died: Edtf | None = None
    active: Edtf | None = None


class UnreadableDatesError(Exception):
    """The text has figures that make no dates."""


@dataclass(slots=True)
class _Side:
    """What stands on one side of the dash."""

    mode: str = ""
    low: int = 0
    high: int = 0
    about: bool = False
    doubt: bool = False
    open_end: str = ""
    """`after` or `before`, where only one bound is said."""
    found: bool = False
    unknown: bool = False
    part: tuple[int, int] | None = None
    either: bool = False


def life_in(text: str, *, person: bool = True, anonymous: bool = False) -> Life:
    """The dates in the text; empty where there are none. Of a maker whose name is not known, all years are those of activity.

    Words that are no dates, as a nationality or a place of birth before them, are passed over.
    Raises UnreadableDatesError where figures are left that make no date, or the dates run backwards.

    >>> life_in("Flemish, c. 1602 - 1671 or after")
    Life(born='1602~', died='[1671..]', active=None)
    >>> life_in("active 1620s - 1640"), life_in("born Maastricht, 1590/1594")
    (Life(born=None, died=None, active='1620/1640'), Life(born='[1590..1594]', died=None, active=None))
    """
    said: dict[str, Edtf] = {}
    for statement in _statements(_plain(text)):
        for name, date in _dates(statement, person=person, anonymous=anonymous).items():
            if said.setdefault(name, date) != date:
                raise UnreadableDatesError
    _forward(said)
    return Life(**said)


def span(first: str, last: str) -> Edtf | None:
    """The years from the first to the last as an EDTF interval, either of which may be empty; None where both are, or none is a year."""
    if not any(re.fullmatch(r"\d{4}", year) for year in (first, last)):
        return None
    if not all(re.fullmatch(r"(\d{4})?", year) for year in (first, last)) or (first and last and first > last):
        return None
    return Edtf(first if first == last else f"{first or '..'}/{last or '..'}")


def _plain(text: str) -> str:
    """Without what stands in brackets, with one kind of dash, in small letters."""
    text = "".join(char for char in text if unicodedata.category(char) != "Cf")
    text = re.sub(r"\((?=[^)]*\))[^)]*\)|\[|\]|[()]", " ", text)
    text = re.sub(r"[\u2010-\u2015\u2212]", "-", text).lower()
    return re.sub(r"\bmid-", "mid ", text)


class _Token(NamedTuple):
    kind: str
    text: str


def _tokens(text: str) -> Iterator[_Token]:
    for match in _TOKEN.finditer(text):
        named = match.lastgroup or ""
        kind = "century" if named == "nth" else named
        yield _Token(kind, match["nth"] if kind == "century" else match.group().strip())


def _statements(text: str) -> list[list[_Side]]:
    """What is said one after the other, as `born 1602, active 1620 - 1670`: of each what stands before and behind the dash."""
    statements = [[_Side()]]
    for kind, said in _tokens(text):
        side = statements[-1][-1]
        match kind:
            case "dash":
                # `early - mid 16th century` is one date, and so is `second and third quarter`.
                if side.found or side.unknown or not (side.part or said[0].isalpha()):
                    statements[-1].append(_Side())
            case "born" | "died" | "active":
                if side.found:
                    statements.append([_Side()])
                statements[-1][-1].mode = kind
            case "after" | "before":  # `after 1602` may mean that year: it is when somebody was last heard of
                side.open_end = kind
            case "about":
                side.about = True
            case "doubt":
                side.doubt = True
            case "unknown":
                side.unknown = True
            case "either":
                side.either = True
            case "part":
                side.part = _PARTS[re.sub(r"\s+of\s+the$", "", said)]
            case "century":
                _note(side, *_century(int(said), side.part))
            case "date":
                _note(side, *_date(said))
            case "bc":
                raise UnreadableDatesError  # no print is so old
            case _:
                _figures(side, said)
    return statements


def _century(number: int, part: tuple[int, int] | None) -> tuple[int, int]:
    first = (number - 1) * 100
    return (first + part[0], first + part[1]) if part else (first, first + 99)


def _date(said: str) -> tuple[int, int]:
    """The years of `1623`, `1620s` and `1600s`, which may be the century."""
    year = int(said.rstrip("'s"))
    return year, year + (0 if said[-1] != "s" else 99 if year % 100 == 0 else 9)


def _figures(side: _Side, said: str) -> None:
    """The `61` of `1755/61`; other figures make no date."""
    if not (side.found and side.either and len(said) == 2):
        raise UnreadableDatesError
    _note(side, *[side.low // 100 * 100 + int(said)] * 2)


def _note(side: _Side, low: int, high: int) -> None:
    """Nothing comes back: the side has these years as well; a second date must stand behind a stroke or `or`."""
    if side.found and not side.either:
        raise UnreadableDatesError
    if side.found and low < side.low:
        raise UnreadableDatesError
    side.low, side.high = (min(side.low, low), max(side.high, high)) if side.found else (low, high)
    side.found, side.either, side.part = True, False, None


def _dates(sides: list[_Side], *, person: bool, anonymous: bool) -> dict[str, Edtf]:
    """The dates of one statement, by the names of their fields."""
    if not any(side.found for side in sides):
        return {}
    if len(sides) > 2:
        raise UnreadableDatesError
    first, second = sides[0], sides[-1]
    if first is second:
        name = first.mode or "active"
        return {name: _instant(first, name)}
    if (first.mode == "active" and second.mode in {"", "active"}) or (anonymous and not person and not first.mode):
        return {"active": _interval(first, second)}
    named = ((first.mode or "born", first), (second.mode or "died", second))
    return {field: _instant(side, field) for field, side in named if side.found}


def _instant(side: _Side, name: str) -> Edtf:
    """The date of one side for the field of that name."""
    if side.open_end:
        return Edtf(f"[{side.low:04}..]" if side.open_end == "after" else f"[..{side.high:04}]")
    low, high = side.low, side.high
    sign = _sign(side)
    if low == high:
        return Edtf(f"{low:04}{sign}")
    if low % 10 == 0 and high == low + 9:
        return Edtf(f"{low // 10:03}X{sign}")
    if low % 100 == 0 and high == low + 99:
        return Edtf(f"{low // 100:02}XX{sign}")
    if name == "active":
        return Edtf(f"{low:04}/{high:04}")
    return Edtf(f"[{low:04}..{high:04}]")


def _interval(first: _Side, second: _Side) -> Edtf:
    """From the one to the other, by their outermost years."""
    low = ".." if not first.found or first.open_end == "before" else _end(first, first.low)
    high = ".." if not second.found or second.open_end == "after" else _end(second, second.high)
    return Edtf(f"{low}/{high}")


def _end(side: _Side, year: int) -> str:
    return f"{year:04}{_sign(side) if side.low == side.high else ''}"


def _sign(side: _Side) -> str:
    return "%" if side.about and side.doubt else "~" if side.about else "?" if side.doubt else ""


def _forward(said: dict[str, Edtf]) -> None:
    """Nothing comes back; raises UnreadableDatesError where somebody is at work before birth or after death, or a period runs backwards."""
    try:
        spans = {name: years(date) for name, date in said.items()}
    except ValueError:
        raise UnreadableDatesError from None
    for earlier, later in (("born", "died"), ("born", "active"), ("active", "died")):
        if earlier in spans and later in spans and spans[earlier][0] > spans[later][1]:
            raise UnreadableDatesError

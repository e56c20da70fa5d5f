"""The years of dates as whole numbers, in triples that rules across entries may ask for.

SPARQL cannot compare EDTF dates. Of `mg:born "1580~"` a rule sees `years:bornFirst 1575` and `years:bornLast 1585`; of
`mg:active "1600/1620"` also `years:activeBegunBy 1600` and `years:activeNotEndedBefore 1620`, which differ from the two others
where an end is about a year. An open end has no triple, so that nothing is concluded from it.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from functools import cache

from pyoxigraph import Literal, NamedNode, Triple

from margent.checking.statements import Statement
from margent.vocabulary.edtf import EARLIEST, LATEST, years
from margent.vocabulary.namespaces import XSD, expand

YEARS = "https://w3id.org/margent/years#"
_EDTF = NamedNode(expand("edtf:EDTF"))
_INTEGER = NamedNode(f"{XSD}integer")


def year_triples(said: Iterable[Statement], wanted: Container[str]) -> Iterator[Triple]:
    """The wanted years of the dates that are stated; none of a date that cannot be read."""
    for _, name, value, triple in said:
        if isinstance(value, Literal) and value.datatype == _EDTF:
            for predicate, year in _years(name, value.value):
                if predicate.value in wanted:
                    yield Triple(triple.subject, predicate, year)


@cache
def _years(predicate: str, date: str) -> tuple[tuple[NamedNode, Literal], ...]:
    """The derived properties of one property, and the years; the same few hundred dates come again and again."""
    try:
        first, last = years(date)
        begun, ended = _ends(date)
    except ValueError:  # told by the rules on dates
        return ()
    name = predicate.replace("#", "/").rsplit("/", 1)[-1]
    return tuple(
        (NamedNode(f"{YEARS}{name}{part}"), Literal(str(year), datatype=_INTEGER))
        for part, year in (("First", first), ("Last", last), ("BegunBy", begun), ("NotEndedBefore", ended))
        if EARLIEST < year < LATEST
    )


def _ends(text: str) -> tuple[int, int]:
    """The last year in which the period may begin, and the first in which it may end.

    >>> _ends("1600~/1620"), _ends("1611"), _ends("1600/..")
    ((1605, 1620), (1611, 1611), (1600, 9999))
    """
    left, slash, right = text.partition("/")
    if not slash:
        first, last = years(text)
        return last, first
    open_ends = {"", ".."}
    return (EARLIEST if left in open_ends else years(left)[1]), (LATEST if right in open_ends else years(right)[0])

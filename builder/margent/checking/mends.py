"""Faults with only one cure, cured: stray blanks, a language or a datatype left out, a date in another notation, a thing said twice.

A cure is tried on the triple and kept when the value then keeps its shape, or when the rule says that nothing but removing
it will do. The file is written in the tidy form; one that cannot be (a blank node, a comment inside) is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from pyoxigraph import Literal, NamedNode, Triple

from margent.checking.check import gathered
from margent.checking.findings import Hit
from margent.checking.forms import DATE, INVISIBLE, is_possible, without_invisible
from margent.checking.kept import NOTHING
from margent.checking.material import Material, Source
from margent.checking.shapes import SHAPES, Shapes, shapes_of
from margent.checking.wording import shown
from margent.faults import Fault
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.namespaces import XSD, expand
from margent.vocabulary.tidy import tidied
from margent.vocabulary.visible import visible

# The rules whose only cure is to take away the value they tell.
_REMOVED = {"X002", "X040", "X047", "X051", "X052"}
# What these point to must be there: taking it away would only make another fault.
_NEEDED = {expand("mg:to"), expand("mg:mistakenFor")}
_EDTF = NamedNode(expand("edtf:EDTF"))
_MOST_ROUNDS = 5
# How cataloguers write dates, and how EDTF does.
_NOTATIONS = (
    (re.compile(r"(?:c|ca|circa|about|um|env|vers)\.?\s*(\d{4})"), r"\1~"),
    (re.compile(r"(\d{4})\s*\?"), r"\1?"),
    (re.compile(r"(\d{4})\s*[-\u2013]\s*(\d{4})"), r"\1/\2"),
    (re.compile(r"(\d{4})\s*[-\u2013]\s*(\d\d)"), None),  # the century is the first year's
    (re.compile(r"(?:before|ante|-)\s*(\d{4})"), r"../\1"),
    (re.compile(r"(?:after|post)\s*(\d{4})|(\d{4})\s*[-\u2013]"), r"\1\2/.."),
    (re.compile(r"(\d{4})/(\d{4})"), r"\2/\1"),  # tried last: an interval that runs backwards
)


def mend(checked: Sequence[Path], beside: Sequence[Path], shapes: Path) -> Iterator[str]:
    """Nothing but a sentence for each cure, after the file has been written; one cure may make the next one plain."""
    for _round in range(_MOST_ROUNDS):
        hits, stuff = gathered(checked, beside, shapes, NOTHING)
        cured = _cured(hits, stuff, shapes_of(shapes))
        if not cured:
            return
        done: dict[Path, str] = {}
        for source, cures in cured:
            try:
                done[source.path] = _text(source, [cure for cure, _ in cures])
            except Fault:
                yield f"{shown(source.path)}: left alone, because it has comments or blank nodes that a tidy file has not"
                continue
            for _cure, sentence in cures:
                yield visible(sentence)
        if not done:
            return
        put_in_place(done)


Cure = tuple[Triple, NamedNode | Literal | None]


def _cured(hits: Sequence[Hit], stuff: Material, shapes: Shapes) -> list[tuple[Source, list[tuple[Cure, str]]]]:
    """The cures for each file: a triple, and the value to put in its place or None where it goes."""
    found: dict[int, tuple[Source, dict[Triple, tuple[Cure, str]]]] = {}
    for hit in hits:
        if hit.property is None or hit.value is None or hit.property in _NEEDED:
            continue
        triple = Triple(NamedNode(hit.entry), NamedNode(hit.property), hit.value)
        better = _better(hit, hit.value, shapes)
        if better is None and hit.rule not in _REMOVED:
            continue
        for source in stuff.places.get(hit.entry, ()):
            if triple in source.turtle().triples and any(source is each for each in stuff.files):
                _, cures = found.setdefault(id(source), (source, {}))
                was = stuff.wording.value(hit.value)
                now = f"is now {stuff.wording.value(better)}" if better is not None else "is gone"
                where = f"{shown(source.path)}: {stuff.wording.entry(hit.entry)} [{hit.rule}]"
                cures.setdefault(triple, ((triple, better), f"{where} {stuff.wording.iri(hit.property)} {was} {now}"))
    return [(source, list(cures.values())) for source, cures in found.values()]


def _text(source: Source, cures: Sequence[Cure]) -> str:
    """The tidy text of the file with the cures in it."""
    file = source.turtle()
    instead = dict(cures)
    triples = []
    for triple in file.triples:
        if triple not in instead:
            triples.append(triple)
        elif (better := instead[triple]) is not None:
            triples.append(Triple(triple.subject, triple.predicate, better))
    return tidied(replace(file, triples=triples))


def _better(hit: Hit, value: NamedNode | Literal, shapes: Shapes) -> NamedNode | Literal | None:
    """The value that keeps the rule and differs as little as can be; None where there is none, or it must be chosen."""
    if not isinstance(value, Literal) or hit.rule in _REMOVED:
        return None
    if hit.rule == DATE.id:
        return _first_valid(value, _dates(value))
    if hit.rule == INVISIBLE.id:
        text = without_invisible(value.value)
        return Literal(text, language=value.language) if value.language else Literal(text, datatype=value.datatype)
    if hit.rule[0] in "XY" or hit.closes:
        return None
    constraints = shapes.of_values(SHAPES + hit.rule)
    candidates = [
        *_spaced(value),
        *_among(value, constraints.members),
        *(Literal(value.value.strip(), language=tag) for tag in constraints.only_language),
        *(
            Literal(value.value.strip(), datatype=NamedNode(kind))
            for kind in constraints.datatypes
            if kind.startswith(XSD)
        ),
        *(_dates(value) if constraints.datatypes == [_EDTF.value] else ()),
        *(
            NamedNode(value.value.strip())
            for _ in constraints.wants_iri
            if re.match(r"https?://\S+$", value.value.strip())
        ),
    ]
    return next((each for each in candidates if each != value and constraints.keeps(each)), None)


def _first_valid(value: Literal, candidates: Iterator[Literal]) -> Literal | None:
    """The first of the dates that allows a year."""
    return next((each for each in candidates if is_possible(each.value) and each != value), None)


def _spaced(value: Literal) -> Iterator[Literal]:
    """The text without stray blanks, and without a point or colon at its end."""
    tidy = " ".join(value.value.split())
    for text in (tidy, tidy.rstrip(" .:")):
        yield Literal(text, language=value.language) if value.language else Literal(text, datatype=value.datatype)


def _among(value: Literal, members: Sequence[NamedNode | Literal]) -> Iterator[NamedNode | Literal]:
    """The one allowed value that differs only in case, blanks and hyphens, or is the name of one of ours."""
    alike = [member for member in members if _plain(member) == _plain(value)]
    if len(alike) == 1:
        yield alike[0]


def _plain(value: NamedNode | Literal) -> str:
    return re.sub(r"[\s_-]+", "", value.value.replace("#", "/").rsplit("/", 1)[-1]).casefold()


def _dates(value: Literal) -> Iterator[Literal]:
    """The date in the notation of EDTF: as it stands, and as the notations of cataloguers are rewritten."""
    text = " ".join(value.value.split())
    yield Literal(text, datatype=_EDTF)
    for notation, written in _NOTATIONS:
        match = notation.fullmatch(text)
        if match and written:
            yield Literal(match.expand(written), datatype=_EDTF)
        elif match:
            yield Literal(f"{match[1]}/{match[1][:2]}{match[2]}", datatype=_EDTF)

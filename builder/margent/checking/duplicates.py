"""Makers that may be one maker entered twice: alike by name, and not told apart by their dates.

A judgement, so a warning with its score: 1 is the same name with the same dates. Two makers who are tied to each other, as
father and son or as partners, were told apart by whoever entered them and are passed over.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from pyoxigraph import Literal, NamedNode
from rapidfuzz.distance import Indel

from margent.checking.findings import Hit, Rule, filled
from margent.checking.statements import Statement
from margent.checking.wording import Wording
from margent.vocabulary.edtf import years
from margent.vocabulary.namespaces import TYPE, expand
from margent.vocabulary.slugs import slug

RULE = Rule(
    "X100",
    "warning",
    "may be the same maker as {other}: {name}, {score}",
    "merge the two, or say how they are tied (mg:kin, mg:comparedWith) if they are two",
    "Each of the two would take half of the prints, and neither would be sure.",
)
_LABEL = expand("skos:prefLabel")
_DEPRECATED = expand("owl:deprecated")
_KINDS = {expand(f"mg:{name}") for name in ("Person", "Family", "Workshop", "Firm")}
_TIES = {expand(f"mg:{name}") for name in ("to", "comparedWith", "partnerOf", "successorOf", "pupilOf", "memberOf")}
_BORN, _DIED = expand("mg:born"), expand("mg:died")
_ASKED = {TYPE, _LABEL, _DEPRECATED, _BORN, _DIED, *_TIES}

_LEAST = 0.8
_LEAST_WORD = 0.75
# Words of a name that say nothing by themselves: no two names are compared for having them in common.
_SMALL = {
    "de",
    "van",
    "von",
    "der",
    "den",
    "di",
    "da",
    "du",
    "la",
    "le",
    "the",
    "of",
    "and",
    "et",
    "family",
    "workshop",
}


Span = tuple[int, int]


class Maker(NamedTuple):
    """What of a maker decides whether it may be another one too."""

    iri: str
    kind: str
    label: str
    language: str
    words: tuple[str, ...]
    born: Span | None
    died: Span | None
    ties: frozenset[str]


def rows(said_of_all: Iterable[Statement]) -> list[str]:
    """A row of JSON for each maker of a file that is in use; kept between runs, and read by `makers_of`."""
    said: dict[str, dict[str, list[str]]] = {}
    for subject, key, value, _ in said_of_all:
        if key in _ASKED and subject:
            whole = subject.partition("#")[0]
            if isinstance(value, Literal):
                written = f"{value.value}\0{value.language or ''}"
            else:
                written = value.value if isinstance(value, NamedNode) else ""
            said.setdefault(whole, {}).setdefault(key, []).append(written)
    return [json.dumps(row) for iri, of in said.items() if (row := _row(iri, of)) is not None]


def _row(iri: str, said: dict[str, list[str]]) -> list[object] | None:
    """The row of one maker; None for what is no maker, has no name or is withdrawn."""
    kind = max(_KINDS.intersection(said.get(TYPE, ())), default="")
    names = sorted(said.get(_LABEL, ()))
    withdrawn = any(value.partition("\0")[0] in {"true", "1"} for value in said.get(_DEPRECATED, ()))
    if not kind or not names or withdrawn:
        return None
    label, _, language = names[0].partition("\0")
    words = sorted(filter(None, slug(label).split("-")))
    ties = sorted({each for tie in _TIES for each in said.get(tie, ())})
    return [iri, kind, label, language, words, _span(said.get(_BORN)), _span(said.get(_DIED)), ties]


def _span(dates: list[str] | None) -> Span | None:
    """The years of the first of the dates; None where it cannot be read."""
    try:
        return years(dates[0].partition("\0")[0]) if dates else None
    except ValueError:
        return None


def makers_of(files: Iterable[bytes]) -> list[Maker]:
    """The makers of those files, each a row a line."""
    found = []
    for lines in files:
        for iri, kind, label, language, words, born, died, ties in json.loads(b"[%s]" % lines.replace(b"\n", b",")):
            found.append(Maker(iri, kind, label, language, tuple(words), born, died, frozenset(ties)))
    return found


def duplicate_hits(
    makers: Iterable[Maker], is_checked: Callable[[str], bool], wording: Wording, only: Container[str] | None = None
) -> Iterator[tuple[str, str, Hit]]:
    """The IRIs of the two of each pair and the warning, at the later of the two in the order of their IRIs.

    With `only`, the pairs of which one at least is among these.
    """
    seen: set[tuple[str, str]] = set()
    for one, other in _pairs(makers, only):
        score = _score(one, other)
        if score < _LEAST or (one.iri, other.iri) in seen or one.iri in other.ties or other.iri in one.ties:
            continue
        seen.add((one.iri, other.iri))
        if is_checked(one.iri) or is_checked(other.iri):
            late, early = (other, one) if is_checked(other.iri) else (one, other)
            words = {"other": wording.iri(early.iri), "name": wording.value(_name(early)), "score": f"{score:.2f}"}
            wrong = filled(RULE.wrong, **words)
            yield one.iri, other.iri, Hit(RULE.id, RULE.severity, late.iri, wrong, RULE.mend, _LABEL, _name(late))


def _pairs(makers: Iterable[Maker], only: Container[str] | None) -> Iterator[tuple[Maker, Maker]]:
    """The makers that are compared with each other, the lesser first; a pair may come again."""
    keys = [(maker, [(maker.kind, *key) for key in _keys(maker.words)]) for maker in makers]
    wanted = {key for maker, of in keys if only is not None and maker.iri in only for key in of}
    blocks: dict[tuple[str, ...], list[Maker]] = {}
    for maker, of in keys:
        for key in of:
            if only is None or key in wanted:
                blocks.setdefault(key, []).append(maker)
    for block in blocks.values():
        if only is None:
            yield from combinations(sorted(block), 2)
        else:
            block.sort()
            for place, maker in enumerate(block):
                if maker.iri in only:
                    yield from ((other, maker) for other in block[:place] if other.iri not in only)
                    yield from ((maker, other) for other in block[place + 1 :])


def _name(maker: Maker) -> Literal:
    return Literal(maker.label, language=maker.language) if maker.language else Literal(maker.label)


def _keys(words: Sequence[str]) -> set[tuple[str, ...]]:
    """Under which beginnings a name is compared with others: those of two of its words, or of the only one."""
    beginnings = sorted({word[:3] for word in words if word not in _SMALL})
    return set(combinations(beginnings, 2)) or {tuple(beginnings)}


def _score(one: Maker, other: Maker) -> float:
    """How far the two are one, from 0 to 1: how alike the names are, times how well the dates agree."""
    agreement = _agreement(one, other)
    return agreement * _likeness(one.words, other.words) if agreement >= _LEAST else 0.0


def _likeness(one: Sequence[str], other: Sequence[str]) -> float:
    """How alike two names are: every word of the shorter has its like in the longer, and what is left over is short."""
    short, long = sorted((one, other), key=len)
    left = list(long)
    for word in short:
        like = max(left, key=lambda each: Indel.normalized_similarity(word, each))
        if Indel.normalized_similarity(word, like) < _LEAST_WORD:
            return 0.0
        left.remove(like)
    if any(len(word) > 1 for word in left):  # an initial may be left out; "the younger" may not
        return 0.0
    return Indel.normalized_similarity(" ".join(short), " ".join(long))


def _agreement(one: Maker, other: Maker) -> float:
    """How well the dates of the two agree; 0 where they cannot be of one life."""
    agreement = 1.0
    for mine, theirs in ((one.born, other.born), (one.died, other.died)):
        if mine is None or theirs is None:
            agreement *= 0.92  # nothing speaks for it or against it
        elif mine[0] != theirs[0] or mine[1] != theirs[1]:
            if mine[0] > theirs[1] or theirs[0] > mine[1]:
                return 0.0
            agreement *= 0.95
    return agreement

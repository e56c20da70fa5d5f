"""Makers that may be one maker entered twice: alike by name, and not told apart by their dates.

A judgement, so a warning with its score: 1 is the same name with the same dates. Two makers who are tied to each other, as
father and son or as partners, were told apart by whoever entered them and are passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from pyoxigraph import Literal, NamedNode, Triple
from rapidfuzz.distance import Indel

from margent.checking.derived_years import YEARS
from margent.checking.findings import Hit, Rule, filled
from margent.checking.wording import Wording
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
_YEARS = {f"{YEARS}{name}{end}": (name, end) for name in ("born", "died") for end in ("First", "Last")}
NAMES = frozenset({_LABEL, _DEPRECATED, *_TIES, *_YEARS, *_KINDS})
"""Every property and class whose triples decide the rule."""

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


@dataclass(slots=True)
class _Maker:
    kind: str = ""
    label: Literal | None = None
    words: tuple[str, ...] = ()
    years: dict[tuple[str, str], int] = field(default_factory=dict)
    withdrawn: bool = False


def duplicate_hits(triples: Iterable[Triple], is_checked: Callable[[str], bool], wording: Wording) -> Iterator[Hit]:
    """A warning for each pair, at the later of the two in the order of their IRIs."""
    makers, ties = _makers(triples)
    blocks: dict[tuple[str, ...], list[str]] = {}
    for iri, maker in makers.items():
        if maker.kind and maker.words and not maker.withdrawn:
            for key in _keys(maker.words):
                blocks.setdefault((maker.kind, *key), []).append(iri)
    seen: set[tuple[str, str]] = set()
    for iris in blocks.values():
        for one, other in combinations(sorted(iris), 2):
            if (one, other) in seen or frozenset((one, other)) in ties:
                continue
            seen.add((one, other))
            score = _score(makers[one], makers[other])
            if score >= _LEAST and (is_checked(one) or is_checked(other)):
                late, early = (other, one) if is_checked(other) else (one, other)
                label = makers[early].label
                assert label is not None
                words = {"other": wording.iri(early), "name": wording.value(label), "score": f"{score:.2f}"}
                wrong = filled(RULE.wrong, **words)
                yield Hit(RULE.id, RULE.severity, late, wrong, RULE.mend, _LABEL, makers[late].label)


def _keys(words: Sequence[str]) -> set[tuple[str, ...]]:
    """Under which beginnings a name is compared with others: those of two of its words, or of the only one."""
    beginnings = sorted({word[:3] for word in words if word not in _SMALL})
    return set(combinations(beginnings, 2)) or {tuple(beginnings)}


def _makers(triples: Iterable[Triple]) -> tuple[dict[str, _Maker], set[frozenset[str]]]:
    """Every subject with what is said of it, and the pairs that are tied to each other."""
    makers: dict[str, _Maker] = {}
    ties: set[frozenset[str]] = set()
    for triple in triples:
        assert isinstance(triple.subject, NamedNode)
        predicate, value = triple.predicate.value, triple.object
        whole = triple.subject.value.partition("#")[0]
        maker = makers.setdefault(whole, _Maker())
        if predicate == TYPE and isinstance(value, NamedNode):
            maker.kind = max(maker.kind, value.value)
        elif predicate in _TIES and isinstance(value, NamedNode):
            ties.add(frozenset((whole, value.value)))
        elif isinstance(value, Literal):
            _take(maker, predicate, value)
    return makers, ties


def _take(maker: _Maker, predicate: str, value: Literal) -> None:
    """Nothing comes back: a name, a year or a withdrawal is noted; of several names the first in order counts."""
    if predicate == _LABEL and (maker.label is None or value.value < maker.label.value):
        maker.label, maker.words = value, tuple(sorted(filter(None, slug(value.value).split("-"))))
    elif predicate in _YEARS:
        maker.years[_YEARS[predicate]] = int(value.value)
    elif predicate == _DEPRECATED:
        maker.withdrawn = value.value in {"true", "1"}


def _score(one: _Maker, other: _Maker) -> float:
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


def _agreement(one: _Maker, other: _Maker) -> float:
    """How well the dates of the two agree; 0 where they cannot be of one life."""
    agreement = 1.0
    for event in ("born", "died"):
        mine, theirs = (
            [each.years[event, end] for end in ("First", "Last") if (event, end) in each.years] for each in (one, other)
        )
        if not mine or not theirs:
            agreement *= 0.92  # nothing speaks for it or against it
        elif mine != theirs:
            if max(mine[0], theirs[0]) > min(mine[-1], theirs[-1]):
                return 0.0
            agreement *= 0.95
    return agreement

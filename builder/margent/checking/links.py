"""Rules about what lies in different files, from the facts of all of them: references, withdrawn entries, one IRI or form twice."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from pyoxigraph import NamedNode

from margent.checking.findings import Hit, Rule
from margent.checking.forms import TERM, NormalForm, normal_form
from margent.checking.material import Material, Source
from margent.checking.references import hit_of
from margent.checking.wording import shown
from margent.vocabulary.namespaces import expand

DANGLING = Rule(
    "Y004",
    "violation",
    "refers to {word}, which is not there",
    "write that entry, or correct the IRI",
    "The page would have a link that leads nowhere.",
)
IN_TWO_FILES = Rule(
    "Y005",
    "violation",
    "also stands in {word}",
    "keep one of the two",
    "Read together, the two become one entry with everything double; corrected in one file, it stays wrong in the other.",
)
HOMOGRAPH = Rule(
    "Y008",
    "violation",
    "is written like {other}, and neither says so",
    "merge the two, or add mg:homographOf to the later one",
    "Two entries for one word are most often one entry written twice; where they are not, the reader must know both.",
)
WITHDRAWN = Rule(
    "X010",
    "violation",
    "refers to {word}, which has been withdrawn",
    "name the entry that took its place",
    "A withdrawn entry keeps its page for old links; nothing new may lead there.",
)
PART_OF_TWO = Rule(
    "X025",
    "violation",
    "is a part of {word} too, whose IRI it does not begin with",
    "give each entry a part of its own",
    "A part belongs to the entry whose IRI it bears; changed for one, it would change for the other unseen.",
)
ALIKE_BUT_FOR_CASE = Rule(
    "X050",
    "violation",
    "differs from {word} only in small and capital letters",
    "rename one of them",
    "On many disks the two pages would be one file.",
)
RULES = (DANGLING, IN_TWO_FILES, HOMOGRAPH, WITHDRAWN, PART_OF_TWO, ALIKE_BUT_FOR_CASE)

_LITERAL = expand("skosxl:literalForm")
_REPLACED_BY = expand("dcterms:isReplacedBy")
_PART = expand("mg:Part")
# Values that are addresses or files, not entries.
_NOT_REFERENCES = {expand(name) for name in ("mg:base", "mg:siteAddress", "mg:address", "mg:drawing")}


def link_hits(material: Material) -> list[Hit]:
    """The breaches of the rules of this module by subjects of the checked files."""
    return [
        *_dangling(material),
        *_in_two_files(material),
        *_homographs(material),
        *_to_withdrawn(material),
        *_parts_of_two(material),
        *_alike_but_for_case(material),
    ]


def _dangling(material: Material) -> Iterator[Hit]:
    """References to what stands nowhere."""
    for source in material.files:
        lost = [name for name in source.facts.links if name not in material.places and material.lacks(name)]
        uses = source.uses() if lost else {}
        for name in lost:
            for entry, predicate in uses[name]:
                if predicate not in _NOT_REFERENCES:
                    words = {"word": material.wording.iri(name)}
                    yield hit_of(DANGLING, entry, words, property=predicate, value=NamedNode(name))


def _in_two_files(material: Material) -> Iterator[Hit]:
    """Subjects that stand in two files: told in each that is checked."""
    checked = {id(source) for source in material.files}
    for entry, sources in material.shared.items():
        for source in sources:
            if id(source) in checked:
                other = next(other for other in sources if other is not source)
                yield hit_of(IN_TWO_FILES, entry, {"word": shown(other.path)}, file=source.path)


def _homographs(material: Material) -> Iterator[Hit]:
    """The terms written like an earlier one, where neither is linked to the other by mg:homographOf, even by way of a third."""
    group: dict[str, str] = {}

    def leader(iri: str) -> str:
        while (above := group.get(iri, iri)) != iri:
            iri = above
        return iri

    for source in material.known_files:
        for term, like in source.facts.homographs:
            one, other = leader(term), leader(like)
            if one != other:
                group[one] = other
    alike: dict[tuple[str, NormalForm], list[str]] = {}
    for iri, (text, language) in sorted(_literals(material).items()):
        alike.setdefault((language, normal_form(text)), []).append(iri)
    for terms in alike.values():
        for before, term in itertools.pairwise(terms):
            if leader(before) != leader(term) and (material.is_checked(before) or material.is_checked(term)):
                late, early = (term, before) if material.is_checked(term) else (before, term)
                yield hit_of(HOMOGRAPH, late, {"other": material.wording.iri(early)}, property=_LITERAL)


def _literals(material: Material) -> dict[str, tuple[str, str]]:
    """The first literal form of each term, in all files."""
    found: dict[str, tuple[str, str]] = {}
    for source in material.known_files:
        for iri, literal in source.facts.literals.items():
            if TERM in material.types(iri):
                found.setdefault(iri, literal)
    return found


def _to_withdrawn(material: Material) -> Iterator[Hit]:
    """References from what is in use to what has been withdrawn."""
    withdrawn = {iri for source in material.known_files for iri in source.facts.withdrawn}
    if not withdrawn:
        return
    for source in material.files:
        for entry, predicate, name in _references(source, withdrawn):
            if predicate != _REPLACED_BY and withdrawn.isdisjoint((entry, entry.partition("#")[0])):
                words = {"word": material.wording.iri(name)}
                yield hit_of(WITHDRAWN, entry, words, property=predicate, value=NamedNode(name))


def _references(source: Source, wanted: set[str]) -> Iterator[tuple[str, str, str]]:
    """Who refers how to one of those; within a file the triples themselves are asked."""
    if not wanted.isdisjoint(source.facts.links):
        for name, uses in source.uses().items():
            if name in wanted:
                for entry, predicate in uses:
                    yield entry, predicate, name
    if not wanted.isdisjoint(source.facts.subjects):
        for triple in source.turtle().triples:
            if isinstance(triple.object, NamedNode) and isinstance(triple.subject, NamedNode):
                name = triple.object.value
                if name in wanted and name in source.facts.subjects:
                    yield triple.subject.value, triple.predicate.value, name


def _parts_of_two(material: Material) -> Iterator[Hit]:
    """Parts that an entry mentions whose IRI they do not begin with."""
    for source in material.known_files:
        names = (name for name in {*source.facts.links, *source.facts.strange_parts} if "#" in name)
        parts = [name for name in names if name in material.places and _is_part(name, material)]
        elsewhere = source.uses() if parts else {}
        for name in parts:
            uses = [*elsewhere.get(name, ()), *source.facts.strange_parts.get(name, ())]
            for user in sorted({entry.partition("#")[0] for entry, _ in uses}):
                if user != name.partition("#")[0] and material.is_checked(name):
                    yield hit_of(PART_OF_TWO, name, {"word": material.wording.iri(user)}, value=NamedNode(user))


def _is_part(iri: str, material: Material) -> bool:
    return any(kind != _PART and _PART in material.above.get(kind, ()) for kind in material.types(iri))


def _alike_but_for_case(material: Material) -> Iterator[Hit]:
    """IRIs of which another one differs only in case: told of the last, of however many."""
    alike: dict[str, set[str]] = {}
    for source in material.known_files:
        for iri in source.facts.capitals:
            alike.setdefault(iri.lower(), set()).add(iri)
    for low, iris in alike.items():
        first, last = min(iris), max(iris | ({low} & material.places.keys()))
        if first != last and material.is_checked(last):
            yield hit_of(ALIKE_BUT_FOR_CASE, last, {"word": material.wording.iri(first)}, value=NamedNode(first))

"""What one file says that matters to others: kept between runs, so that an unchanged file need not be read again.

Facts follow from the text of the file alone, and from which properties the rules across entries ask for.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from hashlib import blake2b
from typing import Any

from pyoxigraph import Literal, NamedNode

from margent.checking.derived_years import year_triples
from margent.checking.duplicates import rows
from margent.checking.statements import Statement
from margent.vocabulary.namespaces import MG, RDF, TYPE, expand

MAKERS = "makers"
"""The key under which the makers are kept that may have been entered twice."""
USES = "uses"
"""The key under which it is kept by whom and how each link is made: asked only of links that are at fault."""
DEPRECATED = expand("owl:deprecated")
SUBCLASS = expand("rdfs:subClassOf")
_CLASS = expand("owl:Class")
_BASE = expand("mg:base")
_LITERAL = expand("skosxl:literalForm")
_HOMOGRAPH_OF = expand("mg:homographOf")
_NO_LINK = {TYPE, f"{RDF}first", f"{RDF}rest", expand("rdfs:isDefinedBy"), expand("dcterms:license")}

Uses = dict[str, list[tuple[str, str]]]
"""What is referred to: by whom, and by which property."""


@dataclass(slots=True)
class Facts:
    """What one file says that matters to others."""

    base: str | None = None  # the base of the file's relative IRIs
    publication_base: str | None = None  # mg:base, in a publication.ttl
    kinds: list[list[str]] = field(default_factory=lambda: [[]])  # every combination of classes that a subject has
    subjects: dict[str, int] = field(default_factory=dict)  # each with the number of its kinds, in the file's order
    entries: int = 0  # how many of the subjects are no parts
    words: list[str] = field(default_factory=list)  # the subjects that are words of our ontology
    capitals: list[str] = field(default_factory=list)  # the other subjects with a capital letter in them
    links: list[str] = field(default_factory=list)  # what is referred to elsewhere
    strange_parts: Uses = field(default_factory=dict)  # parts here that another entry mentions
    literals: dict[str, tuple[str, str]] = field(
        default_factory=dict
    )  # first literal form of a subject, and its language
    homographs: list[tuple[str, str]] = field(default_factory=list)
    classes: list[str] = field(default_factory=list)  # the subjects that are themselves classes of an ontology
    withdrawn: list[str] = field(default_factory=list)
    above: list[tuple[str, str]] = field(default_factory=list)  # a class, and one right above it
    asked: dict[str, list[str]] = field(default_factory=dict)  # the triples that rules across entries need, by key
    digests: dict[str, str] = field(default_factory=dict)  # one for each key of `asked`

    def types(self, iri: str) -> list[str]:
        """The classes of one of the subjects, as written."""
        return self.kinds[self.subjects[iri]]

    def as_json(self) -> dict[str, Any]:
        """Everything but `asked`, which is kept apart because it is needed only where something has changed."""
        return {name: getattr(self, name) for name in self.__slots__ if name != "asked"}


def facts_of(said: Sequence[Statement], base: str | None, asked: frozenset[str]) -> Facts:
    """The facts of a file; `asked` holds the keys of the triples that rules across entries need (see `key_of`)."""
    facts = Facts(base=base)
    kinds: dict[str, list[str]] = {}
    references: list[tuple[str, str, str]] = []
    for subject, predicate, value, triple in said:
        if not subject:
            continue
        key = predicate
        if isinstance(value, NamedNode):
            name = value.value
            if predicate == TYPE:
                kinds.setdefault(subject, []).append(name)
                key = key_of(TYPE, name)
            elif subject not in kinds:
                kinds[subject] = []
            if predicate not in _NO_LINK and not name.startswith(MG):
                references.append((subject, predicate, name))
            else:
                _take_of_ontology(facts, subject, predicate, name)
        else:
            if subject not in kinds:
                kinds[subject] = []
            if isinstance(value, Literal):
                _take_text(facts, subject, predicate, value)
        if key in asked:
            facts.asked.setdefault(key, []).append(f"{triple} .")
    for year in year_triples(said, asked):
        facts.asked.setdefault(year.predicate.value, []).append(f"{year} .")
    _take_subjects(facts, kinds)
    uses: Uses = {}
    for reference in references:
        _take_reference(facts, uses, *reference)
    facts.links = list(uses)
    if makers := rows(said):
        facts.asked[MAKERS] = makers
    for key, lines in facts.asked.items():
        lines.sort()
        facts.digests[key] = blake2b("\n".join(lines).encode(), digest_size=12).hexdigest()
    facts.asked[USES] = [json.dumps(uses, ensure_ascii=False)]  # without a digest: no rule is asked of them
    return facts


def _take_subjects(facts: Facts, kinds: dict[str, list[str]]) -> None:
    """Nothing comes back: the subjects are noted, with the number of their combination of classes."""
    numbers: dict[tuple[str, ...], int] = {(): 0}
    for subject, classes in kinds.items():
        combination = tuple(classes)
        if combination not in numbers:
            numbers[combination] = len(facts.kinds)
            facts.kinds.append(classes)
        facts.subjects[subject] = numbers[combination]
    facts.entries = sum("#" not in subject for subject in kinds)
    facts.words = [subject for subject in kinds if subject.startswith(MG)]
    # A class and a property of the ontology may differ in case alone: they share a page.
    facts.capitals = [subject for subject in kinds if subject != subject.lower() and not subject.startswith(MG)]


def _take_of_ontology(facts: Facts, subject: str, predicate: str, name: str) -> None:
    """Nothing comes back: what makes a class of the subject is noted."""
    if predicate == SUBCLASS:
        facts.above.append((subject, name))
    elif predicate == TYPE and name == _CLASS:
        facts.classes.append(subject)


def _take_text(facts: Facts, subject: str, predicate: str, value: Literal) -> None:
    """Nothing comes back: a first literal form and a withdrawal are noted."""
    if predicate == _LITERAL and value.language:
        facts.literals.setdefault(subject, (value.value, value.language))
    elif predicate == DEPRECATED and value.value in {"true", "1"}:
        facts.withdrawn.append(subject)


def _take_reference(facts: Facts, uses: Uses, subject: str, predicate: str, name: str) -> None:
    """Nothing comes back: a reference to what is not of this file, or of another entry, is noted."""
    if predicate == _HOMOGRAPH_OF:
        facts.homographs.append((subject, name))
    elif predicate == _BASE:
        facts.publication_base = name
    elif predicate == SUBCLASS:
        facts.above.append((subject, name))
    if name not in facts.subjects:
        uses.setdefault(name, []).append((subject, predicate))
    elif "#" in name and name.partition("#")[0] != subject.partition("#")[0]:
        facts.strange_parts.setdefault(name, []).append((subject, predicate))


def facts_from_json(record: dict[str, Any]) -> Facts:
    """The facts as they were kept, without `asked`."""
    return Facts(**record)


def key_of(predicate: str, kind: str | None = None) -> str:
    """The key under which the triples of a property are kept; those of rdf:type are kept by class."""
    return f"{TYPE} {kind}" if predicate == TYPE else predicate

"""What one file says that matters to others: kept between runs, so that an unchanged file need not be read again.

Facts follow from the text of the file alone, and from which properties the rules across entries ask for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from hashlib import blake2b
from typing import Any

from pyoxigraph import Literal, NamedNode, Triple

from margent.checking.derived_years import YEARS, year_triples
from margent.checking.duplicates import rows
from margent.vocabulary.namespaces import MG, RDF, TYPE, expand

MAKERS = "makers"
"""The key under which the makers are kept that may have been entered twice."""
DEPRECATED = expand("owl:deprecated")
SUBCLASS = expand("rdfs:subClassOf")
_CLASS = expand("owl:Class")
_BASE = expand("mg:base")
_LITERAL = expand("skosxl:literalForm")
_HOMOGRAPH_OF = expand("mg:homographOf")
_NO_LINK = {TYPE, f"{RDF}first", f"{RDF}rest", expand("rdfs:isDefinedBy"), expand("dcterms:license")}


@dataclass(slots=True)
class Facts:
    """What one file says that matters to others."""

    base: str | None = None  # the base of the file's relative IRIs
    publication_base: str | None = None  # mg:base, in a publication.ttl
    subjects: dict[str, list[str]] = field(
        default_factory=dict
    )  # each with its classes as written, in the file's order
    links: dict[str, list[tuple[str, str]]] = field(
        default_factory=dict
    )  # what is referred to elsewhere: by whom and how
    strange_parts: dict[str, list[tuple[str, str]]] = field(
        default_factory=dict
    )  # parts here that another entry mentions
    literals: dict[str, tuple[str, str]] = field(
        default_factory=dict
    )  # first literal form of a subject, and its language
    homographs: list[tuple[str, str]] = field(default_factory=list)
    classes: list[str] = field(default_factory=list)  # the subjects that are themselves classes of an ontology
    withdrawn: list[str] = field(default_factory=list)
    above: list[tuple[str, str]] = field(default_factory=list)  # a class, and one right above it
    asked: dict[str, list[str]] = field(default_factory=dict)  # the triples that rules across entries need, by key
    digests: dict[str, str] = field(default_factory=dict)  # one for each key of `asked`

    def as_json(self) -> dict[str, Any]:
        """Everything but `asked`, which is kept apart because it is needed only where something has changed."""
        return {name: getattr(self, name) for name in self.__slots__ if name != "asked"}

    def ask(self, triple: Triple, asked: frozenset[str]) -> None:
        """Nothing comes back: the triple is kept where a rule asks for it."""
        key = triple.predicate.value
        if key == TYPE:
            key = key_of(TYPE, triple.object.value if isinstance(triple.object, NamedNode) else None)
        if key in asked:
            self.asked.setdefault(key, []).append(f"{triple} .")


def facts_of(triples: Sequence[Triple], base: str | None, asked: frozenset[str]) -> Facts:
    """The facts of a file; `asked` holds the keys of the triples that rules across entries need (see `key_of`)."""
    facts = Facts(base=base)
    references: list[tuple[str, str, str]] = []
    with_years = any(key.startswith(YEARS) for key in asked)
    for triple in triples:
        if not isinstance(triple.subject, NamedNode):
            continue
        subject, predicate, value = triple.subject.value, triple.predicate.value, triple.object
        kinds = facts.subjects.setdefault(subject, [])
        if isinstance(value, NamedNode):
            if predicate == TYPE:
                kinds.append(value.value)
            if predicate not in _NO_LINK and not value.value.startswith(MG):
                references.append((subject, predicate, value.value))
            else:
                _take_of_ontology(facts, subject, predicate, value.value)
        elif isinstance(value, Literal):
            _take_text(facts, subject, predicate, value)
            if with_years:
                for derived in year_triples(triple, asked):
                    facts.ask(derived, asked)
        facts.ask(triple, asked)
    for reference in references:
        _take_reference(facts, *reference)
    if makers := rows(triples):
        facts.asked[MAKERS] = makers
    for key, lines in facts.asked.items():
        lines.sort()
        facts.digests[key] = blake2b("\n".join(lines).encode(), digest_size=12).hexdigest()
    return facts


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


def _take_reference(facts: Facts, subject: str, predicate: str, name: str) -> None:
    """Nothing comes back: a reference to what is not of this file, or of another entry, is noted."""
    if predicate == _HOMOGRAPH_OF:
        facts.homographs.append((subject, name))
    elif predicate == _BASE:
        facts.publication_base = name
    elif predicate == SUBCLASS:
        facts.above.append((subject, name))
    if name not in facts.subjects:
        facts.links.setdefault(name, []).append((subject, predicate))
    elif "#" in name and name.partition("#")[0] != subject.partition("#")[0]:
        facts.strange_parts.setdefault(name, []).append((subject, predicate))


def facts_from_json(record: dict[str, Any]) -> Facts:
    """The facts as they were kept, without `asked`."""
    return Facts(**record)


def key_of(predicate: str, kind: str | None = None) -> str:
    """The key under which the triples of a property are kept; those of rdf:type are kept by class."""
    return f"{TYPE} {kind}" if predicate == TYPE else predicate

"""One entry of a vocabulary with its parts, as triples that can be added to and changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from urllib.parse import urldefrag

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.vocabulary.model import Iri, Text
from margent.vocabulary.namespaces import TYPE, expand, shorten
from margent.vocabulary.slugs import slug

LONGEST_SLUG = 60
"""Letters of the name of a part at most."""

_TYPE = NamedNode(TYPE)

Value = NamedNode | Literal | BlankNode | Triple


def named(name: str) -> NamedNode:
    """The property or class of a prefixed name."""
    return NamedNode(expand(name))


def text_of(text: Text) -> Literal:
    """The text as a literal, with its language where it has one."""
    return Literal(text.value, language=text.lang) if text.lang else Literal(text.value)


@dataclass(slots=True)
class Entry:
    """One entry and its parts, as triples; `changed` says in words what an import made other than it was."""

    iri: Iri
    triples: set[Triple] = field(default_factory=set)
    changed: list[str] = field(default_factory=list)
    added: int = 0

    def values(self, subject: str, name: str) -> list[Value]:
        """What the entry says of a subject of it under a property."""
        wanted, predicate = NamedNode(subject), named(name)
        return [each.object for each in self.triples if each.subject == wanted and each.predicate == predicate]

    def add(self, subject: str, name: str, value: Value) -> None:
        """Nothing comes back: the entry says this as well."""
        triple = Triple(NamedNode(subject), _TYPE if name == "a" else named(name), value)
        self.added += triple not in self.triples
        self.triples.add(triple)

    def state(self, name: str, value: NamedNode | Literal) -> None:
        """Nothing comes back: the property has this one value, in its language where it has one, and the change is noted."""
        language = value.language if isinstance(value, Literal) else None
        before = [
            old
            for old in self.values(self.iri, name)
            if isinstance(old, NamedNode | Literal) and (old.language if isinstance(old, Literal) else None) == language
        ]
        if before == [value]:
            return
        for old in before:
            self.triples.discard(Triple(NamedNode(self.iri), named(name), old))
        if before:
            was = ", ".join(sorted(_said(old) for old in before))
            self.changed.append(f"{name} was {was}, and is now {_said(value)}")
        self.add(self.iri, name, value)

    def part(self, name: str) -> Iri:
        """The IRI of a part that is not there yet, called so or so and a number."""
        name = slug(name)[:LONGEST_SLUG].strip("-") or "form"
        taken = {urldefrag(each.subject.value).fragment for each in self.triples if isinstance(each.subject, NamedNode)}
        number = 1
        while (wanted := name if number == 1 else f"{name}-{number}") in taken:
            number += 1
        return Iri(f"{self.iri}#{wanted}")

    def parts(self, link: str) -> Iterator[str]:
        """The IRIs of the parts under a property, in a fixed order."""
        yield from sorted(part.value for part in self.values(self.iri, link) if isinstance(part, NamedNode))

    @property
    def withdrawn(self) -> bool:
        """Whether the entry was withdrawn."""
        return bool(self.values(self.iri, "owl:deprecated"))

    def cites(self, source: Iri) -> bool:
        """Whether any part of it rests on the source."""
        predicate, work = named("mg:work"), NamedNode(source)
        return any(each.predicate == predicate and each.object == work for each in self.triples)

    def works(self) -> set[str]:
        """Everything that it cites."""
        predicate = named("mg:work")
        return {
            each.object.value
            for each in self.triples
            if each.predicate == predicate and isinstance(each.object, NamedNode)
        }


def dated(text: str) -> Literal:
    """A date or a period as a literal."""
    return Literal(text, datatype=NamedNode(expand("edtf:EDTF")))


def _said(value: NamedNode | Literal) -> str:
    return shorten(value.value) if isinstance(value, NamedNode) else repr(value.value)

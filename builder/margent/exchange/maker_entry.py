"""The entry of a maker from a list: its triples, new or laid into what stands in the authority already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from urllib.parse import urldefrag

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.exchange.listed_maker import ListedMaker
from margent.vocabulary.model import Iri, Text
from margent.vocabulary.namespaces import TYPE, expand, shorten
from margent.vocabulary.slugs import slug

LONGEST_SLUG = 60
"""Letters of the name of a part at most."""

_TYPE = NamedNode(TYPE)
_EDTF = NamedNode(expand("edtf:EDTF"))

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


def lay_in(entry: Entry, maker: ListedMaker, source: Iri) -> list[str]:
    """What vanished from the list, in words; the entry now says what the list says, beside all that only the entry says.

    Where the list says something of a property that holds one value, it wins, and the entry notes what it said before.
    """
    entry.state("rdf:type", named(f"mg:{maker.kind}"))
    for name, texts in (("skos:prefLabel", maker.labels), ("skos:definition", maker.definitions)):
        for text in texts:
            entry.state(name, text_of(text))
    for field_, date in (("born", maker.born), ("died", maker.died), ("active", maker.active)):
        if date:
            entry.state(f"mg:{field_}", Literal(date, datatype=_EDTF))
    for name, iris in (("skos:exactMatch", maker.exact_matches), ("skos:closeMatch", maker.close_matches)):
        for iri in iris:
            if iri != entry.iri:  # a list of our own, come home
                entry.add(entry.iri, name, NamedNode(iri))
    for note in maker.notes:
        entry.add(entry.iri, "skos:note", text_of(note))
    citation = Iri(f"{entry.iri}#cite-{source.rpartition('/')[2]}")
    entry.add(entry.iri, "mg:citation", NamedNode(citation))
    entry.add(citation, "a", named("mg:Citation"))
    entry.add(citation, "mg:work", NamedNode(source))
    if not entry.values(citation, "mg:locator"):
        entry.add(citation, "mg:locator", Literal(f"id {maker.id}"))
    vanished = list(_forms(entry, maker, citation))
    for link, class_, property_, prefix, iris in (
        ("mg:practised", "mg:Practice", "mg:role", "as", maker.roles),
        ("mg:workingPlace", "mg:WorkingPlace", "mg:place", "in", maker.places),
    ):
        vanished += _references(entry, link, class_, property_, prefix, iris, citation)
    return vanished


def _forms(entry: Entry, maker: ListedMaker, citation: Iri) -> Iterator[str]:
    """Adds the forms of the name that no form of the entry has; tells of those that were on the list and are not any more."""
    listed = {form.text.value for form in maker.forms}
    there = {text for label in maker.labels for text in (label.value,)}
    for part in entry.parts("mg:nameForm"):
        for literal in entry.values(part, "mg:literal"):
            if not isinstance(literal, Literal):
                continue
            there.add(literal.value)
            if literal.value not in listed and entry.values(part, "mg:citation") == [NamedNode(citation)]:
                yield f"the name {literal.value!r}"
    for form in maker.forms:
        if form.text.value in there:
            continue
        there.add(form.text.value)
        part = entry.part(form.text.value)
        entry.add(entry.iri, "mg:nameForm", NamedNode(part))
        entry.add(part, "a", named("mg:NameForm"))
        entry.add(part, "mg:literal", text_of(form.text))
        entry.add(part, "mg:formKind", named(f"mg:{form.kind}"))
        entry.add(part, "mg:citation", NamedNode(citation))


def _references(
    entry: Entry, link: str, class_: str, property_: str, prefix: str, iris: Iterable[Iri], citation: Iri
) -> Iterator[str]:
    """Adds the practices or working places that the entry has not; tells of those that vanished from the list."""
    iris = tuple(iris)
    there: set[str] = set()
    for part in entry.parts(link):
        for value in entry.values(part, property_):
            if isinstance(value, NamedNode):
                there.add(value.value)
                if value.value not in iris and entry.values(part, "mg:citation") == [NamedNode(citation)]:
                    yield f"{shorten(expand(property_))} {value.value.rpartition('/')[2]}"
    for iri in iris:
        if iri in there:
            continue
        there.add(iri)
        part = entry.part(f"{prefix}-{iri.rpartition('/')[2]}")
        entry.add(entry.iri, link, NamedNode(part))
        entry.add(part, "a", named(class_))
        entry.add(part, property_, NamedNode(iri))
        entry.add(part, "mg:citation", NamedNode(citation))


def _said(value: NamedNode | Literal) -> str:
    return shorten(value.value) if isinstance(value, NamedNode) else repr(value.value)

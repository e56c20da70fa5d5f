"""The entry of a maker from a list: its triples, new or laid into what stands in the authority already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pyoxigraph import Literal, NamedNode

from margent.exchange.listed_maker import ListedMaker
from margent.vocabulary.entry import Entry, dated, named, text_of
from margent.vocabulary.model import Iri
from margent.vocabulary.namespaces import expand, shorten


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
            entry.state(f"mg:{field_}", dated(date))
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

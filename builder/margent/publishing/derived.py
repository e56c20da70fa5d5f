"""What follows from the entries and is said only at publication: SKOS classes, schemes, and labels drawn from senses.

Nothing here is written by hand in vocab/, so nothing can contradict the senses it follows from.  The integrity
conditions of SKOS hold by the way it is made: of preferred, alternative and hidden labels the first that claims a
form in a language keeps it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from pyoxigraph import Literal, NamedNode, Triple

from margent.vocabulary.cataloguing_words import MarkWord
from margent.vocabulary.model import Iri, Labelled, Sense, Term, Text, Vocabulary
from margent.vocabulary.namespaces import TYPE, expand

USUAL = -2000
"""A sense at or below this weight is rare: its term helps to find the concept, but is no name for it."""

LANGUAGES = ("en", "fr", "it", "de", "nl", "es", "la")


@dataclass(frozen=True, slots=True)
class Scheme:
    """A concept scheme: its slug, the table of the Vocabulary whose entries are in it, and its English title."""

    slug: str
    table: str
    title: str


SCHEMES = (
    Scheme("stages", "stages", "Stages in the life of a print"),
    Scheme("roles", "roles", "Roles: what a maker did for a print"),
    Scheme("notices", "notice_kinds", "Kinds of notices on prints"),
    Scheme("qualifiers", "qualifiers", "Qualifiers of attributions"),
    Scheme("places", "places", "Places of print making and print selling"),
    Scheme("mark-words", "mark_words", "What marks show, and how their letters stand"),
)


@dataclass
class Labels:
    """The labels of one concept, each form in one language once, by the strongest claim."""

    preferred: frozenset[Text]
    alternative: set[Text] = field(default_factory=set)
    hidden: set[Text] = field(default_factory=set)

    def offer(self, alternative: Iterable[Text], hidden: Iterable[Text]) -> None:
        """Nothing comes back: the forms are taken in; call it for all alternatives before reading what is hidden."""
        self.alternative.update(text for text in alternative if text not in self.preferred)
        self.hidden.update(text for text in hidden if text not in self.preferred)

    def triples(self, concept: Iri) -> Iterator[Triple]:
        """The plain SKOS labels."""
        for text in self.alternative:
            yield said(concept, "skos:altLabel", text)
        for text in self.hidden - self.alternative:
            yield said(concept, "skos:hiddenLabel", text)


def derived(vocabulary: Vocabulary) -> list[Triple]:
    """All that follows from the general vocabulary, without the authorities."""
    triples = list(_schemes(vocabulary))
    triples += _concepts(vocabulary)
    triples += [linked(term.iri, TYPE, "skosxl:Label") for term in vocabulary.terms.values()]
    triples += _labels_from_senses(vocabulary)
    triples += _labels_of_places(vocabulary)
    triples += _labels_of_qualifiers(vocabulary)
    triples += _labels_of_mark_words(vocabulary)
    return triples


def derived_of_authority(vocabulary: Vocabulary, base: str) -> list[Triple]:
    """What follows from the makers of one authority, known by the base of its IRIs: their name forms as plain labels."""
    triples: list[Triple] = []
    for maker in vocabulary.makers.values():
        if maker.iri.startswith(base) and not maker.withdrawn:
            labels = Labels(frozenset(maker.labels))
            right = [form.literal for form in maker.name_forms if form.form_kind != "misspelt"]
            labels.offer(right, [form.literal for form in maker.name_forms if form.form_kind == "misspelt"])
            triples += labels.triples(maker.iri)
    return triples


def scheme_iri(vocabulary: Vocabulary, scheme: Scheme) -> Iri:
    """The IRI of a concept scheme."""
    return Iri(f"{vocabulary.publication.base}scheme/{scheme.slug}")


def said(subject: str, predicate: str, text: Text) -> Triple:
    """A triple whose object is a text."""
    literal = Literal(text.value, language=text.lang) if text.lang else Literal(text.value)
    return Triple(NamedNode(subject), NamedNode(_whole(predicate)), literal)


def linked(subject: str, predicate: str, object_: str) -> Triple:
    """A triple whose object is an IRI; predicate and object may be prefixed names."""
    return Triple(NamedNode(subject), NamedNode(_whole(predicate)), NamedNode(_whole(object_)))


def _whole(name: str) -> str:
    return name if "://" in name else expand(name)


def _schemes(vocabulary: Vocabulary) -> Iterator[Triple]:
    publication = vocabulary.publication
    for scheme in SCHEMES:
        if not getattr(vocabulary, scheme.table):
            continue
        iri = scheme_iri(vocabulary, scheme)
        yield linked(iri, TYPE, "skos:ConceptScheme")
        yield said(iri, "dcterms:title", Text(scheme.title, "en"))
        yield linked(iri, "dcterms:isPartOf", publication.iri)
        if publication.licence:
            yield linked(iri, "dcterms:license", publication.licence)


def _concepts(vocabulary: Vocabulary) -> Iterator[Triple]:
    """Class and scheme of every concept, what stands at the top, and the way down where only the way up is written."""
    for scheme in SCHEMES:
        iri = scheme_iri(vocabulary, scheme)
        entries: dict[Iri, Labelled] = getattr(vocabulary, scheme.table)
        for entry in entries.values():
            yield linked(entry.iri, TYPE, "skos:Concept")
            yield linked(entry.iri, "skos:inScheme", iri)
            broader: Sequence[Iri] = getattr(entry, "broader", ())
            for above in broader:
                yield linked(above, "skos:narrower", entry.iri)
            if not broader and not entry.withdrawn:
                yield linked(entry.iri, "skos:topConceptOf", iri)
                yield linked(iri, "skos:hasTopConcept", entry.iri)


def _labels_from_senses(vocabulary: Vocabulary) -> Iterator[Triple]:
    """Links from roles and notices to the terms that say them, and the terms' forms as plain labels."""
    concepts: dict[Iri, Labelled] = {**vocabulary.roles, **vocabulary.notice_kinds}
    said_by: dict[Iri, list[tuple[Term, Sense]]] = {}
    for term in vocabulary.terms.values():
        for sense in term.senses if not term.withdrawn else ():
            for concept in sense.says:
                said_by.setdefault(concept, []).append((term, sense))
    for iri, entry in concepts.items():
        pairs = said_by.get(iri, [])
        usual = {term.iri: term for term, sense in pairs if sense.weight > USUAL}
        rare = {term.iri: term for term, sense in pairs if term.iri not in usual}
        labels = Labels(frozenset(entry.labels))
        labels.offer(
            [term.literal for term in usual.values()],
            [
                *(form for term in usual.values() for form in forms_beside(term)),
                *(term.literal for term in rare.values()),
            ],
        )
        yield from labels.triples(iri)
        # Two terms may be written alike: the form decides, or the two links would name it alternative and hidden at once.
        for term in (*usual.values(), *rare.values()):
            if term.literal in labels.alternative:
                yield linked(iri, "skosxl:altLabel", term.iri)
            elif term.literal in labels.hidden:
                yield linked(iri, "skosxl:hiddenLabel", term.iri)


def forms_beside(term: Term) -> tuple[Text, ...]:
    """The forms of a term besides its headword: short forms, the shortest truncation, other spellings."""
    shortest = (term.shortened_to,) if term.shortened_to is not None else ()
    return (*term.short_forms, *shortest, *term.variant_forms)


def _labels_of_places(vocabulary: Vocabulary) -> Iterator[Triple]:
    """Names of places in the case in which they are cited are alternative labels; inflected and short ones are hidden."""
    for place in vocabulary.places.values():
        if not place.withdrawn:
            labels = Labels(frozenset(place.labels))
            named = [form.literal for form in place.forms if form.case in (None, "nominative")]
            inflected = [form.literal for form in place.forms if form.case not in (None, "nominative")]
            labels.offer(named, [*inflected, *(short for form in place.forms for short in form.short_forms)])
            yield from labels.triples(place.iri)


def _labels_of_qualifiers(vocabulary: Vocabulary) -> Iterator[Triple]:
    for qualifier in vocabulary.qualifiers.values():
        if not qualifier.withdrawn:
            labels = Labels(frozenset(qualifier.labels))
            # the sign says where a name stands in the phrase; a label has none
            bare = [Text(phrase.value.replace("…", "").strip(), phrase.lang) for phrase in qualifier.phrases]
            labels.offer(bare, ())
            yield from labels.triples(qualifier.iri)


def _labels_of_mark_words(vocabulary: Vocabulary) -> Iterator[Triple]:
    for word in vocabulary.mark_words.values():
        if isinstance(word, MarkWord) and not word.withdrawn:
            labels = Labels(frozenset(word.labels))
            labels.offer(word.wordings, ())
            yield from labels.triples(word.iri)

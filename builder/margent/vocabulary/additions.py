"""New entries of an authority, from what an editor says: a term, a maker, a form of a maker's name, a mark."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from pyoxigraph import Literal, NamedNode

from margent.vocabulary.entry import Entry, dated, named, text_of
from margent.vocabulary.model import Choice, Iri, Text
from margent.vocabulary.namespaces import expand
from margent.vocabulary.slugs import slug

_TRUE = Literal("true", datatype=NamedNode(expand("xsd:boolean")))
_FALSE = Literal("false", datatype=NamedNode(expand("xsd:boolean")))


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """What something rests on: a passage of a source, or a plain word that there is none."""

    work: Iri | None = None
    locator: str | None = None
    as_found: str | None = None
    standing: Choice | None = None

    def lay_under(self, entry: Entry, subject: str) -> None:
        """Nothing comes back: the subject rests on it."""
        if self.work is not None:
            citation = entry.part(f"cite-{self.work.rpartition('/')[2]}")
            entry.add(subject, "mg:citation", NamedNode(citation))
            entry.add(citation, "a", named("mg:Citation"))
            entry.add(citation, "mg:work", NamedNode(self.work))
            if self.locator:
                entry.add(citation, "mg:locator", Literal(self.locator))
            if self.as_found:
                entry.add(citation, "mg:asFound", Literal(self.as_found))
        elif self.standing is not None:
            entry.add(subject, "mg:standing", named(f"mg:{self.standing}"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """Where a form or a mark was met; quoted, where it was not seen, from what `support` names."""

    object: str
    seen: bool = True
    state: str | None = None
    sheet_place: str | None = None
    date: str | None = None
    transcription: str | None = None
    support: Support = field(default_factory=Support)

    def lay_under(self, entry: Entry, subject: str) -> None:
        """Nothing comes back: the subject is attested by it."""
        part = entry.part("seen" if self.seen else "quoted")
        entry.add(subject, "mg:attestation", NamedNode(part))
        entry.add(part, "a", named("mg:Attestation"))
        entry.add(part, "mg:object", Literal(self.object))
        entry.add(part, "mg:seen", _TRUE if self.seen else _FALSE)
        for name, said in (
            ("mg:state", self.state),
            ("mg:sheetPlace", self.sheet_place),
            ("mg:transcription", self.transcription),
        ):
            if said:
                entry.add(part, name, Literal(said))
        if self.date:
            entry.add(part, "mg:date", dated(self.date))
        self.support.lay_under(entry, part)


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTerm:
    """A term with one sense."""

    literal: Text
    kind: Choice
    says: Sequence[Iri]
    reason: str
    support: Support
    name_position: Choice | None = None
    word_class: Choice | None = None
    shortened_to: str | None = None
    short_forms: Sequence[str] = ()
    variants: Sequence[str] = ()
    period: str | None = None
    note: str | None = None
    homograph_of: Iri | None = None

    def iri(self, base: str) -> Iri:
        """The IRI that the form asks for."""
        name = f"{base}term/{self.literal.lang}-{slug(self.literal.value)}"
        return Iri(name)

    def entry(self, iri: Iri) -> Entry:
        """The entry under that IRI."""
        entry = Entry(iri)
        lang = self.literal.lang
        entry.add(iri, "a", named("mg:Term"))
        entry.add(iri, "skosxl:literalForm", text_of(self.literal))
        for name, choice in (
            ("mg:kind", self.kind),
            ("mg:namePosition", self.name_position),
            ("mg:wordClass", self.word_class),
        ):
            if choice:
                entry.add(iri, name, named(f"mg:{choice}"))
        for name, forms in (
            ("mg:shortenedTo", [self.shortened_to] if self.shortened_to else []),
            ("mg:shortForm", self.short_forms),
            ("mg:variantForm", self.variants),
        ):
            for form in forms:
                entry.add(iri, name, text_of(Text(form, lang)))
        if self.period:
            entry.add(iri, "mg:period", dated(self.period))
        if self.note:
            entry.add(iri, "skos:note", text_of(Text(self.note, "en")))
        if self.homograph_of:
            entry.add(iri, "mg:homographOf", NamedNode(self.homograph_of))
        sense = entry.part("-and-".join(each.rpartition("/")[2] for each in self.says))
        entry.add(iri, "mg:sense", NamedNode(sense))
        entry.add(sense, "a", named("mg:Sense"))
        for each in self.says:
            entry.add(sense, "mg:says", NamedNode(each))
        entry.add(sense, "mg:weight", Literal(0))
        entry.add(sense, "mg:reason", text_of(Text(self.reason, "en")))
        self.support.lay_under(entry, iri)
        # One citation may support the term and its sense.
        for name in ("mg:citation", "mg:standing"):
            for value in entry.values(iri, name):
                entry.add(sense, name, value)
        return entry


@dataclass(frozen=True, slots=True, kw_only=True)
class NewMaker:
    """A maker, as far as is known."""

    name: Text
    kind: Choice
    definition: str | None = None
    born: str | None = None
    died: str | None = None
    active: str | None = None
    roles: Sequence[Iri] = ()
    places: Sequence[Iri] = ()
    matches: Sequence[Iri] = ()
    note: str | None = None
    support: Support = field(default_factory=Support)

    def iri(self, base: str) -> Iri:
        """The IRI that the name asks for: `anna-verrou` for Verrou, Anna."""
        surname, comma, rest = self.name.value.partition(",")
        return Iri(f"{base}maker/{slug(f'{rest} {surname}' if comma else surname)}")

    def entry(self, iri: Iri) -> Entry:
        """The entry under that IRI."""
        entry = Entry(iri)
        entry.add(iri, "a", named(f"mg:{self.kind}"))
        entry.add(iri, "skos:prefLabel", text_of(self.name))
        for name, said in (("skos:definition", self.definition), ("skos:note", self.note)):
            if said:
                entry.add(iri, name, text_of(Text(said, "en")))
        for name, date in (("mg:born", self.born), ("mg:died", self.died), ("mg:active", self.active)):
            if date:
                entry.add(iri, name, dated(date))
        for match in self.matches:
            entry.add(iri, "skos:exactMatch", NamedNode(match))
        self._parts(entry, "mg:practised", "mg:Practice", "mg:role", "as", self.roles)
        self._parts(entry, "mg:workingPlace", "mg:WorkingPlace", "mg:place", "in", self.places)
        self.support.lay_under(entry, iri)
        return entry

    def _parts(self, entry: Entry, link: str, class_: str, property_: str, prefix: str, iris: Iterable[Iri]) -> None:
        for each in dict.fromkeys(iris):
            part = entry.part(f"{prefix}-{each.rpartition('/')[2]}")
            entry.add(entry.iri, link, NamedNode(part))
            entry.add(part, "a", named(class_))
            entry.add(part, property_, NamedNode(each))


@dataclass(frozen=True, slots=True, kw_only=True)
class NewForm:
    """A form of the name of a maker who is there."""

    literal: Text
    kind: Choice
    case: Choice | None = None
    sighting: Sighting | None = None
    support: Support = field(default_factory=Support)

    def lay_into(self, entry: Entry) -> Iri:
        """The IRI of the form, which the maker's entry now has."""
        part = entry.part(self.literal.value)
        entry.add(entry.iri, "mg:nameForm", NamedNode(part))
        entry.add(part, "a", named("mg:NameForm"))
        entry.add(part, "mg:literal", text_of(self.literal))
        entry.add(part, "mg:formKind", named(f"mg:{self.kind}"))
        if self.case:
            entry.add(part, "mg:case", named(f"mg:{self.case}"))
        if self.sighting is not None:
            self.sighting.lay_under(entry, part)
        else:
            self.support.lay_under(entry, part)
        return part


@dataclass(frozen=True, slots=True, kw_only=True)
class NewMark:
    """A mark, whom it stands for and what it states."""

    kind: Choice
    letters: str | None = None
    device: str | None = None
    arrangement: str | None = None
    label: str | None = None
    makers: Sequence[Iri] = ()
    states: Sequence[Iri] = ()
    period: str | None = None
    sheet_places: Sequence[str] = ()
    note: str | None = None
    drawn: bool = False
    on_copies: bool = False
    sighting: Sighting | None = None
    support: Support = field(default_factory=Support)

    def iri(self, base: str) -> Iri:
        """The IRI that the letters and the first thing shown ask for: `av-heron`."""
        if self.label:
            return Iri(f"{base}mark/{slug(self.label)}")
        shown = re.sub(r"^(?:an?|the)\b", "", (self.device or "").strip(), flags=re.IGNORECASE)
        first = re.split(r"[,;(]|\b(?:on|in|with|over|under|at|to|from|and)\b", shown)[0]
        return Iri(f"{base}mark/{slug(f'{self.letters or str()} {first}')}")

    def entry(self, iri: Iri) -> Entry:
        """The entry under that IRI."""
        entry = Entry(iri)
        entry.add(iri, "a", named("mg:Mark"))
        entry.add(iri, "mg:markKind", named(f"mg:{self.kind}"))
        for name, said in (
            ("skos:prefLabel", self.label),
            ("mg:arrangement", self.arrangement),
            ("mg:device", self.device),
            ("skos:note", self.note),
        ):
            if said:
                entry.add(iri, name, text_of(Text(said, "en")))
        if self.letters:
            entry.add(iri, "mg:letters", Literal(self.letters))
        for place in self.sheet_places:
            entry.add(iri, "mg:sheetPlace", Literal(place))
        if self.period:
            entry.add(iri, "mg:period", dated(self.period))
        if self.on_copies:
            entry.add(iri, "mg:onCopies", _TRUE)
        if self.drawn:
            entry.add(iri, "mg:drawing", NamedNode(f"{iri}.svg"))
        for name, iris in (("mg:standsFor", self.makers), ("mg:states", self.states)):
            for each in iris:
                entry.add(iri, name, NamedNode(each))
        if self.sighting is not None:
            self.sighting.lay_under(entry, iri)
        self.support.lay_under(entry, iri)
        return entry

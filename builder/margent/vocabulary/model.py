"""The vocabulary as frozen dataclasses.

Each field names, beside its type, the property it is filled from; `load.py` needs nothing else to fill it:
a bare type is one value that must be there, a default makes it optional, a tuple holds any number in a fixed order.
Fields whose type is another class hold that part itself; `Iri` fields hold the name of an entry to look up.

A maker in Turtle, as an authority writes it (every IRI under the base of the authority's publication.ttl):

    <maker/anna-verrou> a mg:Person ;                        # or mg:Family mg:Workshop mg:Firm mg:UnidentifiedHand
        skos:prefLabel "Verrou, Anna"@en ;
        mg:born "1602"^^edtf:EDTF ; mg:died "1671~"^^edtf:EDTF ; mg:active "1620/1670"^^edtf:EDTF ;
        mg:nameForm <maker/anna-verrou#a-verrou> ; mg:workingPlace <maker/anna-verrou#antwerp> ;
        mg:practised <maker/anna-verrou#engraver> ; mg:kin <maker/anna-verrou#daughter-of-jan> ;
        mg:memberOf <maker/verrou-family> ; mg:pupilOf <..> ; mg:partnerOf <..> ; mg:successorOf <..> ;
        mg:trait "short strokes at the edge of shadows"@en ; mg:comparedWith <..> ; mg:mark <mark/av-joined> .
    <maker/anna-verrou#a-verrou> a mg:NameForm ; mg:literal "A. Verrou"@nl ; mg:formKind mg:asSigned ; mg:attestation <..> .
    <maker/anna-verrou#seen-1> a mg:Attestation ; mg:object "..." ; mg:state "2" ; mg:sheetPlace "lower right" ;
        mg:date "1633"^^edtf:EDTF ; mg:transcription "A. Verrou sculp." ; mg:seen true .
    <maker/anna-verrou#antwerp> a mg:WorkingPlace ; mg:place <https://w3id.org/margent/place/antwerp> ; mg:period "1620/.."^^edtf:EDTF .
    <maker/anna-verrou#engraver> a mg:Practice ; mg:role <https://w3id.org/margent/role/engraver> ; mg:period "..."^^edtf:EDTF .
    <maker/anna-verrou#daughter-of-jan> a mg:Kinship ; mg:relation mg:daughter ; mg:to <maker/jan-verrou> .
    <mark/av-joined> a mg:Mark ; mg:markKind mg:makersMark ; mg:letters "AV" ; mg:arrangement "joined, V under A"@en ;
        mg:device "a crescent"@en ; mg:sheetPlace "lower left" ; mg:period "..."^^edtf:EDTF ; mg:drawing <mark/av-joined.svg> ;
        mg:standsFor <maker/anna-verrou> ; mg:states <https://w3id.org/margent/role/engraver> .
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, NamedTuple, NewType

# A newer number than this is refused: the entries may then say things this program would silently misread.
DATA_FORMAT = 1

Iri = NewType("Iri", str)
"""The whole IRI of an entry or a part."""

Edtf = NewType("Edtf", str)
"""A date or period as written, in the Extended Date/Time Format; not yet known to be well formed."""

Choice = NewType("Choice", str)
"""One of a closed list of our ontology, by its local name: `nameAfter` for mg:nameAfter."""


class Text(NamedTuple):
    """Words in a language: `lang` is the tag in lower case, empty where none is given."""

    value: str
    lang: str


def in_language(texts: Iterable[Text], lang: str) -> str | None:
    """The first of the texts in that language, else in English, else the first of all; None without any."""
    first = english = None
    for text in texts:
        if text.lang == lang:
            return text.value
        if text.lang == "en" and english is None:
            english = text.value
        if first is None:
            first = text.value
    return english if english is not None else first


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Anything with an IRI."""

    iri: Iri

    @property
    def slug(self) -> str:
        """The last part of the IRI: `engraver` for role/engraver."""
        return self.iri.rsplit("/", 1)[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation(Thing):
    """One passage of a source: where it stands in the work, and the form exactly as it stands there."""

    work: Annotated[Iri, "mg:work"]
    locator: Annotated[str | None, "mg:locator"] = None
    as_found: Annotated[tuple[str, ...], "mg:asFound"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Supported(Thing):
    """Anything that needs a reason to be believed: citations, or a plain word that there is none."""

    citations: Annotated[tuple[Citation, ...], "mg:citation"] = ()
    standing: Annotated[Choice | None, "mg:standing"] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry(Supported):
    """Anything with a page of its own. A withdrawn entry keeps its IRI and says what took its place."""

    withdrawn: Annotated[bool, "owl:deprecated"] = False
    replaced_by: Annotated[tuple[Iri, ...], "dcterms:isReplacedBy"] = ()
    notes: Annotated[tuple[Text, ...], "skos:note"] = ()
    editorial_notes: Annotated[tuple[Text, ...], "skos:editorialNote"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Labelled(Entry):
    """An entry with one preferred label in each language."""

    labels: Annotated[tuple[Text, ...], "skos:prefLabel"]
    definitions: Annotated[tuple[Text, ...], "skos:definition"] = ()
    scope_notes: Annotated[tuple[Text, ...], "skos:scopeNote"] = ()

    def label(self, lang: str = "en") -> str:
        """The label in that language, else the English one, else the first."""
        return in_language(self.labels, lang) or self.slug


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage(Labelled):
    """A step in the life of a print; `order` counts from the conceiving of the image."""

    order: Annotated[int, "mg:order"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Confusion(Supported):
    """Another role for which a role is easily taken, and how to tell."""

    mistaken_for: Annotated[Iri, "mg:mistakenFor"]
    how_to_tell: Annotated[tuple[Text, ...], "mg:howToTell"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Role(Labelled):
    """What a maker did."""

    stage: Annotated[Iri, "mg:stage"]
    broader: Annotated[tuple[Iri, ...], "skos:broader"] = ()
    related: Annotated[tuple[Iri, ...], "skos:related"] = ()
    period: Annotated[Edtf | None, "mg:period"] = None
    of: Annotated[Choice | None, "mg:of"] = None
    introduced_by: Annotated[tuple[Text, ...], "mg:introducedBy"] = ()
    confusions: Annotated[tuple[Confusion, ...], "mg:confusion"] = ()
    exact_matches: Annotated[tuple[Iri, ...], "skos:exactMatch"] = ()
    close_matches: Annotated[tuple[Iri, ...], "skos:closeMatch"] = ()
    broad_matches: Annotated[tuple[Iri, ...], "skos:broadMatch"] = ()
    narrow_matches: Annotated[tuple[Iri, ...], "skos:narrowMatch"] = ()
    related_matches: Annotated[tuple[Iri, ...], "skos:relatedMatch"] = ()
    match_notes: Annotated[tuple[Text, ...], "mg:matchNote"] = ()
    breadth_notes: Annotated[tuple[Text, ...], "mg:breadthNote"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NoticeKind(Labelled):
    """A kind of statement that names no maker by itself: privilege, price, edition."""

    broader: Annotated[tuple[Iri, ...], "skos:broader"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense(Supported):
    """One thing a term may say: roles, all at once, or one notice.

    The conditions must all hold; several values of one condition are alternatives; an empty one asks for nothing.
    `weight` is in thousandths of a nat, against the other senses of the term.
    """

    says: Annotated[tuple[Iri, ...], "mg:says"]
    weight: Annotated[int, "mg:weight"] = 0
    reasons: Annotated[tuple[Text, ...], "mg:reason"] = ()
    implies: Annotated[tuple[Iri, ...], "mg:implies"] = ()
    of: Annotated[Choice | None, "mg:of"] = None
    alone: Annotated[bool, "mg:alone"] = False
    beside_role: Annotated[tuple[Iri, ...], "mg:besideRole"] = ()
    same_name_role: Annotated[tuple[Iri, ...], "mg:sameNameRole"] = ()
    technique: Annotated[tuple[str, ...], "mg:technique"] = ()
    during: Annotated[tuple[Edtf, ...], "mg:during"] = ()
    sheet_place: Annotated[tuple[str, ...], "mg:sheetPlace"] = ()
    name_position: Annotated[tuple[Choice, ...], "mg:namePosition"] = ()
    name_kind: Annotated[tuple[Choice, ...], "mg:nameKind"] = ()
    place_near: Annotated[bool, "mg:placeNear"] = False
    on_map: Annotated[bool, "mg:onMap"] = False
    in_pencil: Annotated[bool, "mg:inPencil"] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Term(Entry):
    """A word, phrase, abbreviation or siglum that states a role or a notice."""

    literal: Annotated[Text, "skosxl:literalForm"]
    kind: Annotated[Choice, "mg:kind"]
    senses: Annotated[tuple[Sense, ...], "mg:sense"] = ()
    word_class: Annotated[Choice | None, "mg:wordClass"] = None
    grammar: Annotated[tuple[Text, ...], "mg:grammar"] = ()
    name_position: Annotated[Choice | None, "mg:namePosition"] = None
    governs: Annotated[tuple[Choice, ...], "mg:governs"] = ()
    period: Annotated[Edtf | None, "mg:period"] = None
    shortened_to: Annotated[Text | None, "mg:shortenedTo"] = None
    short_forms: Annotated[tuple[Text, ...], "mg:shortForm"] = ()
    variant_forms: Annotated[tuple[Text, ...], "mg:variantForm"] = ()
    short_for: Annotated[tuple[Iri, ...], "mg:shortFor"] = ()
    inflection_of: Annotated[tuple[Iri, ...], "mg:inflectionOf"] = ()
    homograph_of: Annotated[tuple[Iri, ...], "mg:homographOf"] = ()

    @property
    def language(self) -> str:
        """The language of the literal form."""
        return self.literal.lang


@dataclass(frozen=True, slots=True, kw_only=True)
class WordList(Entry):
    """Words the reader must know that state neither role nor notice."""

    word_kind: Annotated[Choice, "mg:wordKind"]
    words: Annotated[tuple[Text, ...], "mg:word"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SpellingRule(Entry):
    """One habit of spelling, undone before a word is looked up; `cost` is in thousandths of a nat."""

    find: Annotated[str, "mg:find"]
    put: Annotated[str, "mg:put"]
    why: Annotated[tuple[Text, ...], "mg:why"] = ()
    cost: Annotated[int, "mg:cost"] = 0
    order: Annotated[int, "mg:order"] = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceForm(Supported):
    """One spelling, language and case in which a place stands on prints."""

    literal: Annotated[Text, "mg:literal"]
    case: Annotated[Choice | None, "mg:case"] = None
    short_forms: Annotated[tuple[Text, ...], "mg:shortForm"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Place(Labelled):
    """A town, with the forms of its name in imprints."""

    forms: Annotated[tuple[PlaceForm, ...], "mg:form"] = ()
    exact_matches: Annotated[tuple[Iri, ...], "skos:exactMatch"] = ()
    close_matches: Annotated[tuple[Iri, ...], "skos:closeMatch"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Forename(Labelled):
    """One given name with its equivalents and abbreviations."""

    gender: Annotated[Choice | None, "mg:gender"] = None
    forms: Annotated[tuple[Text, ...], "mg:form"] = ()
    short_forms: Annotated[tuple[Text, ...], "mg:shortForm"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Qualifier(Labelled):
    """How sure, or how near to the named hand, an attribution is; `rank` orders within one axis only."""

    axis: Annotated[Choice, "mg:axis"]
    rank: Annotated[int, "mg:rank"]
    phrases: Annotated[tuple[Text, ...], "mg:phrase"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Source(Entry):
    """A book, article or page from which something was taken."""

    title: Annotated[Text, "dcterms:title"]
    creators: Annotated[tuple[str, ...], "dcterms:creator"] = ()
    published_at: Annotated[tuple[str, ...], "mg:publishedAt"] = ()
    issued: Annotated[Edtf | None, "dcterms:issued"] = None
    addresses: Annotated[tuple[Iri, ...], "mg:address"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Attestation(Supported):
    """Where a form or a mark was met; `seen` is false where it is quoted from somebody else."""

    object: Annotated[str, "mg:object"]
    seen: Annotated[bool, "mg:seen"]
    state: Annotated[str | None, "mg:state"] = None
    sheet_place: Annotated[str | None, "mg:sheetPlace"] = None
    date: Annotated[Edtf | None, "mg:date"] = None
    transcription: Annotated[str | None, "mg:transcription"] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NameForm(Supported):
    """One way in which a maker's name stands on prints."""

    literal: Annotated[Text, "mg:literal"]
    form_kind: Annotated[Choice, "mg:formKind"]
    case: Annotated[Choice | None, "mg:case"] = None
    attestations: Annotated[tuple[Attestation, ...], "mg:attestation"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingPlace(Supported):
    """A place where a maker worked, and when."""

    place: Annotated[Iri, "mg:place"]
    period: Annotated[Edtf | None, "mg:period"] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice(Supported):
    """A role that a maker is known to have had, and when."""

    role: Annotated[Iri, "mg:role"]
    period: Annotated[Edtf | None, "mg:period"] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Kinship(Supported):
    """What a maker is to another: with `son`, the maker is the other's son."""

    to: Annotated[Iri, "mg:to"]
    relation: Annotated[Choice, "mg:relation"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Maker(Labelled):
    """A person, family, workshop, firm, or a hand known only by its mark: `kind` is the name of its class."""

    kind: Annotated[Choice, "rdf:type"]
    name_forms: Annotated[tuple[NameForm, ...], "mg:nameForm"] = ()
    born: Annotated[Edtf | None, "mg:born"] = None
    died: Annotated[Edtf | None, "mg:died"] = None
    active: Annotated[Edtf | None, "mg:active"] = None
    working_places: Annotated[tuple[WorkingPlace, ...], "mg:workingPlace"] = ()
    practices: Annotated[tuple[Practice, ...], "mg:practised"] = ()
    member_of: Annotated[tuple[Iri, ...], "mg:memberOf"] = ()
    kin: Annotated[tuple[Kinship, ...], "mg:kin"] = ()
    pupil_of: Annotated[tuple[Iri, ...], "mg:pupilOf"] = ()
    partner_of: Annotated[tuple[Iri, ...], "mg:partnerOf"] = ()
    successor_of: Annotated[tuple[Iri, ...], "mg:successorOf"] = ()
    traits: Annotated[tuple[Text, ...], "mg:trait"] = ()
    compared_with: Annotated[tuple[Iri, ...], "mg:comparedWith"] = ()
    marks: Annotated[tuple[Iri, ...], "mg:mark"] = ()
    exact_matches: Annotated[tuple[Iri, ...], "skos:exactMatch"] = ()
    close_matches: Annotated[tuple[Iri, ...], "skos:closeMatch"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(Entry):
    """A monogram, cipher, device, chop or stamp, whom it may stand for and what it then states."""

    mark_kind: Annotated[Choice, "mg:markKind"]
    labels: Annotated[tuple[Text, ...], "skos:prefLabel"] = ()
    letters: Annotated[str | None, "mg:letters"] = None
    arrangements: Annotated[tuple[Text, ...], "mg:arrangement"] = ()
    devices: Annotated[tuple[Text, ...], "mg:device"] = ()
    sheet_place: Annotated[tuple[str, ...], "mg:sheetPlace"] = ()
    period: Annotated[Edtf | None, "mg:period"] = None
    drawing: Annotated[Iri | None, "mg:drawing"] = None
    stands_for: Annotated[tuple[Iri, ...], "mg:standsFor"] = ()
    states: Annotated[tuple[Iri, ...], "mg:states"] = ()
    on_copies: Annotated[bool, "mg:onCopies"] = False
    attestations: Annotated[tuple[Attestation, ...], "mg:attestation"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Publisher(Thing):
    """Who answers for a publication."""

    names: Annotated[tuple[Text, ...], "rdfs:label"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Publication(Entry):
    """What publication.ttl says of a vocabulary or an authority as a whole."""

    titles: Annotated[tuple[Text, ...], "dcterms:title"]
    base: Annotated[Iri, "mg:base"]
    version: Annotated[str, "mg:version"]
    data_format: Annotated[int, "mg:dataFormat"]
    descriptions: Annotated[tuple[Text, ...], "dcterms:description"] = ()
    publisher: Annotated[Publisher | None, "dcterms:publisher"] = None
    licence: Annotated[Iri | None, "dcterms:license"] = None
    languages: Annotated[tuple[str, ...], "dcterms:language"] = ()
    issued: Annotated[str | None, "dcterms:issued"] = None
    site_address: Annotated[Iri | None, "mg:siteAddress"] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Vocabulary:
    """The general vocabulary and the authorities asked for; each table is by IRI, in the order of the IRIs."""

    publication: Publication
    authorities: tuple[Publication, ...] = ()
    stages: dict[Iri, Stage] = field(default_factory=dict)
    roles: dict[Iri, Role] = field(default_factory=dict)
    terms: dict[Iri, Term] = field(default_factory=dict)
    notice_kinds: dict[Iri, NoticeKind] = field(default_factory=dict)
    word_lists: dict[Iri, WordList] = field(default_factory=dict)
    spelling_rules: dict[Iri, SpellingRule] = field(default_factory=dict)
    places: dict[Iri, Place] = field(default_factory=dict)
    forenames: dict[Iri, Forename] = field(default_factory=dict)
    qualifiers: dict[Iri, Qualifier] = field(default_factory=dict)
    sources: dict[Iri, Source] = field(default_factory=dict)
    reading_rules: dict[Iri, Supported] = field(default_factory=dict)
    """Grammar, scores and settings of the reader: the classes of `reading_rules.py`."""
    name_rules: dict[Iri, Supported] = field(default_factory=dict)
    """How names are written and weighed: the classes of `name_rules.py`."""
    attribution_words: dict[Iri, Supported] = field(default_factory=dict)
    """Words round attributions, and of marks below: the classes of `cataloguing_words.py`."""
    mark_words: dict[Iri, Supported] = field(default_factory=dict)
    makers: dict[Iri, Maker] = field(default_factory=dict)
    marks: dict[Iri, Mark] = field(default_factory=dict)
    files: dict[Iri, Path] = field(default_factory=dict)
    """The file in which each entry stands."""

"""Makers from SKOS: every concept with a preferred label, read from Turtle, N-Triples, RDF/XML or JSON-LD by pyoxigraph."""

from __future__ import annotations

import io
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from urllib.parse import unquote

from pyoxigraph import BlankNode, Literal, NamedNode, RdfFormat, parse

from margent.exchange.listed_dates import UnreadableDatesError, life_in
from margent.exchange.listed_maker import LONGEST_NAME, Listed, ListedForm, ListedMaker, NotTaken, clean, kind_of
from margent.faults import Fault
from margent.vocabulary.edtf import years
from margent.vocabulary.iris import is_iri
from margent.vocabulary.model import Choice, Edtf, Iri, Text
from margent.vocabulary.namespaces import TYPE, expand, shorten

FORMATS: Final = {
    ".ttl": RdfFormat.TURTLE,
    ".nt": RdfFormat.N_TRIPLES,
    ".rdf": RdfFormat.RDF_XML,
    ".owl": RdfFormat.RDF_XML,
    ".jsonld": RdfFormat.JSON_LD,
    ".json": RdfFormat.JSON_LD,
    ".xml": RdfFormat.RDF_XML,
}
MOST_BYTES = 300_000_000
"""Bytes of a file at most: it is held in memory whole."""

_SCHEMA = ("https://schema.org/", "http://schema.org/")
_DATES = {
    "born": (expand("mg:born"), *(name + "birthDate" for name in _SCHEMA), *(name + "foundingDate" for name in _SCHEMA)),
    "died": (expand("mg:died"), *(name + "deathDate" for name in _SCHEMA), *(name + "dissolutionDate" for name in _SCHEMA)),
    "active": (expand("mg:active"),),
}  # fmt: skip
_PREFERRED = (expand("skos:prefLabel"), expand("skosxl:prefLabel"))
_OTHERS = (expand("skos:altLabel"), expand("skos:hiddenLabel"), expand("skosxl:altLabel"), expand("skosxl:hiddenLabel"))
_NOTES = (expand("skos:note"), expand("skos:scopeNote"), expand("skos:historyNote"))
_DEFINITION, _EXACT, _CLOSE = expand("skos:definition"), expand("skos:exactMatch"), expand("skos:closeMatch")
_SAME = expand("owl:sameAs")
_CONCEPT, _LITERAL_FORM = expand("skos:Concept"), expand("skosxl:literalForm")
_TAKEN = {
    TYPE,
    *_PREFERRED,
    *_OTHERS,
    *_NOTES,
    _DEFINITION,
    _EXACT,
    _CLOSE,
    _SAME,
    *(p for ps in _DATES.values() for p in ps),
}
_SAYS_NOTHING = {expand(name) for name in ("skos:inScheme", "skos:topConceptOf", "rdfs:isDefinedBy")}

Value = NamedNode | BlankNode | Literal
Properties = dict[str, list[Value]]


def skos_makers(path: Path, language: str) -> Iterator[Listed]:
    """The makers of a SKOS file, in the order in which it first names them, and what could not be taken.

    The id of a maker is the last part of its IRI, which is kept as a match. Raises Fault where the file cannot be read or
    holds no concept. Nothing is fetched: a JSON-LD context that lies elsewhere is refused, and so is a document type.
    """
    subjects = _subjects(path)
    unplaced: Counter[str] = Counter()
    number = 0
    for subject, properties in subjects.items():
        types = {value.value for value in properties.get(TYPE, ()) if isinstance(value, NamedNode)}
        kind = next((found for name in sorted(types) if (found := kind_of(name))), None)
        labelled = any(name in properties for name in _PREFERRED)
        if not labelled or not (kind or _CONCEPT in types):
            continue
        number += 1
        if not isinstance(subject, NamedNode):
            yield NotTaken(f"concept {number}", None, "has no IRI of its own: it was left out", left_out=True)
            continue
        unplaced.update(set(properties) - _TAKEN - _SAYS_NOTHING)
        yield from _Concept(subject.value, properties, subjects, language, kind or Choice("Person")).listed()
    if not number:
        raise Fault(f"{path}: holds no skos:Concept with a skos:prefLabel; name a SKOS file of makers")
    if unplaced:
        said = ", ".join(f"{shorten(name)} ({count:,})" for name, count in sorted(unplaced.items()))
        yield NotTaken("the whole file", None, f"has properties that have no place here, left out: {said}")


def _subjects(path: Path) -> dict[NamedNode | BlankNode, Properties]:
    """What the file says of each subject."""
    format_ = FORMATS[path.suffix.lower()]
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Fault(
                f"{path}: has more than {MOST_BYTES // 1_000_000} MB; split it, and import the parts under one --source"
            )
        data = path.read_bytes()
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a SKOS file") from None
    if format_ == RdfFormat.RDF_XML:
        _refuse_document_type(path, data)
    found: dict[NamedNode | BlankNode, Properties] = {}
    try:
        for quad in parse(io.BytesIO(data), format=format_):
            if isinstance(quad.subject, NamedNode | BlankNode) and isinstance(
                quad.object, NamedNode | BlankNode | Literal
            ):
                found.setdefault(quad.subject, {}).setdefault(quad.predicate.value, []).append(quad.object)
    except SyntaxError as wrong:
        line = f":{wrong.lineno}" if wrong.lineno else ""
        if "remote context" in str(wrong.msg):
            raise Fault(
                f"{path}{line}: its context lies elsewhere, and nothing is fetched; write the context into the file"
            ) from None
        raise Fault(f"{path}{line}: cannot be read ({wrong.msg}); mend it there") from None
    return found


def _refuse_document_type(path: Path, data: bytes) -> None:
    """Nothing comes back; raises Fault for a document type, whose entities could stand for anything."""
    from xml.sax import SAXException
    from xml.sax.handler import ContentHandler

    from defusedxml import DefusedXmlException
    from defusedxml.sax import parseString

    try:
        parseString(data, ContentHandler(), forbid_dtd=True)
    except DefusedXmlException:
        raise Fault(
            f"{path}: has a document type or entities, which are refused; save it without <!DOCTYPE ...>"
        ) from None
    except SAXException:
        return  # told by the parser of RDF, which knows the line


class _Concept:
    """One concept on the way to being a maker."""

    def __init__(
        self,
        iri: str,
        properties: Properties,
        subjects: dict[NamedNode | BlankNode, Properties],
        language: str,
        kind: Choice,
    ) -> None:
        self.iri, self.properties, self.subjects, self.language, self.kind = iri, properties, subjects, language, kind
        self.id = unquote(re.split(r"[/#:]", iri.rstrip("/#"))[-1])
        self.lost: list[NotTaken] = []

    def listed(self) -> list[Listed]:
        """The maker, behind what of it could not be taken."""
        labels: dict[str, Text] = {}
        spare: list[Text] = []
        for text in self._texts(*_PREFERRED):
            labelled = Text(text.value, text.lang or self.language)
            if labels.setdefault(labelled.lang, labelled) != labelled:
                self._lose(
                    f"has a second preferred label in {labelled.lang!r}, {text.value!r}: kept as a form of the name"
                )
                spare.append(labelled)
        if not labels:
            return [
                NotTaken(
                    f"<{self.iri}>",
                    self.id,
                    "has no preferred label that could be a name: it was left out",
                    left_out=True,
                )
            ]
        known = {text.value for text in labels.values()}
        forms: list[ListedForm] = []
        for text in [*spare, *self._texts(*_OTHERS)]:
            if text.value not in known:
                known.add(text.value)
                forms.append(ListedForm(text))
        maker = ListedMaker(
            id=self.id,
            where=f"<{self.iri}>",
            kind=self.kind,
            labels=tuple(labels[lang] for lang in sorted(labels)),
            forms=tuple(forms),
            definitions=self._one_each(_DEFINITION),
            born=self._date("born"),
            died=self._date("died"),
            active=self._date("active"),
            exact_matches=(*((Iri(self.iri),) if is_iri(self.iri) else ()), *self._iris(_EXACT), *self._iris(_SAME)),
            close_matches=self._iris(_CLOSE),
            notes=tuple(Text(text.value, text.lang or self.language) for text in self._texts(*_NOTES)),
        )
        return [*self.lost, maker]

    def _lose(self, why: str) -> None:
        self.lost.append(NotTaken(f"<{self.iri}>", self.id, why))

    def _texts(self, *predicates: str) -> list[Text]:
        """The literals under the properties, those of SKOS-XL labels among them, sorted."""
        found: dict[Text, None] = {}
        for predicate in predicates:
            for value in self.properties.get(predicate, ()):
                given = [value] if isinstance(value, Literal) else self.subjects.get(value, {}).get(_LITERAL_FORM, [])
                for literal in given:
                    if isinstance(literal, Literal) and (text := clean(literal.value)):
                        if len(text) > LONGEST_NAME and predicate not in _NOTES and predicate != _DEFINITION:
                            self._lose(f"has a label of {len(text):,} characters, which is no name")
                        else:
                            found[Text(text, (literal.language or "").lower())] = None
        return sorted(found)

    def _one_each(self, predicate: str) -> tuple[Text, ...]:
        """One text in each language; a second one is told of."""
        found: dict[str, Text] = {}
        for text in self._texts(predicate):
            said = Text(text.value, text.lang or self.language)
            if found.setdefault(said.lang, said) != said:
                self._lose(f"has a second {shorten(predicate)} in {said.lang!r}, which was not taken")
        return tuple(found.values())

    def _iris(self, predicate: str) -> tuple[Iri, ...]:
        found = sorted({value.value for value in self.properties.get(predicate, ()) if isinstance(value, NamedNode)})
        for iri in found:
            if not is_iri(iri):
                self._lose(f"has under {shorten(predicate)} <{iri[:80]}>, which is no address of the web: not taken")
        return tuple(Iri(iri) for iri in found if is_iri(iri))

    def _date(self, name: str) -> Edtf | None:
        """The first date under the properties that say it, as EDTF."""
        given = [
            value.value
            for predicate in _DATES[name]
            for value in self.properties.get(predicate, ())
            if isinstance(value, Literal)
        ]
        for said in sorted(given)[:1]:
            date = said.partition("T")[0].strip()
            try:
                years(date)
            except ValueError:
                try:
                    life = life_in(f"{name} {date}")
                except UnreadableDatesError:
                    life = life_in("")
                found: Edtf | None = getattr(life, name)
                if found is None:
                    self._lose(f"has the date {said!r}, which could not be read")
                return found
            return Edtf(date)
        return None

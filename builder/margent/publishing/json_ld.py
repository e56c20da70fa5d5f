"""Triples as JSON-LD 1.1: a context that does not change with the data, and one object a subject, sorted.

The context is made from the ontology and from the model: a property's range says how its values are written, and the
model says whether there may be several, so that a program finds the same shape in every release.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from typing import Any, get_args, get_origin, get_type_hints

from pyoxigraph import Literal, NamedNode, Triple

from margent.vocabulary import model
from margent.vocabulary.load import ENTRIES
from margent.vocabulary.namespaces import MG, PREFIXES, RDF, TYPE, XSD, expand, shorten
from margent.vocabulary.tidy import natural

EDTF = expand("edtf:EDTF")
HEAD_END = ',\n"@graph": [\n'
"""What stands in a document between its context and the line of its first subject."""
_INTEGER = re.compile(r"0|-?[1-9][0-9]{0,14}")

# Properties of other ontologies: under which word they are written, and what their values are.
TEXTS = ("skos:prefLabel", "skosxl:literalForm", "skos:definition", "skos:scopeNote", "skos:note", "skos:editorialNote")
MANY_TEXTS = ("skos:altLabel", "skos:hiddenLabel")
LINKS = (
    "skos:broader",
    "skos:narrower",
    "skos:related",
    "skos:inScheme",
    "skos:topConceptOf",
    "skos:hasTopConcept",
    "skos:exactMatch",
    "skos:closeMatch",
    "skos:broadMatch",
    "skos:narrowMatch",
    "skos:relatedMatch",
    "dcterms:isReplacedBy",
)
PREFIXED_LINKS = ("skosxl:altLabel", "skosxl:hiddenLabel")
"""Written with their prefix, for the plain word is that of SKOS itself."""


def context(ontology: Iterable[Triple], base: str) -> dict[str, Any]:
    """The context: our properties by the ontology's ranges, those of other ontologies by the tables above."""
    made: dict[str, Any] = {"@version": 1.1, "@vocab": MG, "id": "@id", "type": "@type", "margent": base, **PREFIXES}
    for name in TEXTS:
        made[_local(name)] = {"@id": name, "@container": "@language"}
    for name in MANY_TEXTS:
        made[_local(name)] = {"@id": name, "@container": ["@language", "@set"]}
    for name in LINKS:
        made[_local(name)] = {"@id": name, "@type": "@id", "@container": "@set"}
    for name in PREFIXED_LINKS:
        made[name] = {"@id": name, "@type": "@id", "@container": "@set"}
    ranges, members = _ontology(ontology)
    many = _repeatable()
    for iri, wanted in sorted(ranges.items()):
        about: dict[str, Any] = {"@id": shorten(iri)}
        if wanted == RDF + "langString":
            about["@container"] = "@language"
        else:
            if wanted == EDTF:
                about["@type"] = "edtf:EDTF"
            elif wanted in members:
                about["@type"] = "@vocab"
            elif not wanted.startswith(XSD):
                about["@type"] = "@id"
            if iri in many:
                about["@container"] = "@set"
        if len(about) > 1:
            made[_local(shorten(iri))] = about
    return made


def json_ld(triples: Iterable[Triple], context_: dict[str, Any]) -> str:
    """The document, the context inlined, with a line for each subject."""
    return _document(triples, _Writer(context_), json.dumps(context_, ensure_ascii=False, indent=1))


class EntryWriter:
    """Writes documents of few subjects each, which name the context that they share instead of holding it."""

    def __init__(self, context_: dict[str, Any]) -> None:
        self._writer = _Writer(context_)

    def document(self, triples: Iterable[Triple], address: str) -> str:
        """The document; `address` leads to the context."""
        return _document(triples, self._writer, json.dumps(address))


def _document(triples: Iterable[Triple], writer: _Writer, head: str) -> str:
    subjects: dict[str, dict[str, list[NamedNode | Literal]]] = {}
    for subject, predicate, value in set(triples):
        assert isinstance(subject, NamedNode)
        assert isinstance(value, NamedNode | Literal)
        subjects.setdefault(subject.value, {}).setdefault(predicate.value, []).append(value)
    lines = [
        json.dumps(writer.node(iri, subjects[iri]), ensure_ascii=False, separators=(", ", ": "))
        for iri in sorted(subjects, key=natural)
    ]
    return '{"@context": ' + head + HEAD_END + ",\n".join(lines) + "\n]}\n"


def compact_names(iris: Iterable[str], context_: dict[str, Any]) -> set[str]:
    """The IRIs as documents with that context write them."""
    writer = _Writer(context_)
    return {writer.compact(iri) for iri in iris}


def expanded(name: str, context_: dict[str, Any]) -> str:
    """The IRI that a document with that context writes so."""
    prefix, _, rest = name.partition(":")
    namespace = context_.get(prefix)
    return name if rest.startswith("//") or not isinstance(namespace, str) else namespace + rest


class _Writer:
    """Writes values as the context wants them; what it has no fitting word for is written out in full."""

    def __init__(self, context_: dict[str, Any]) -> None:
        self.terms = context_
        self.by_property = {expand(about["@id"]): word for word, about in context_.items() if isinstance(about, dict)}
        self.prefixes = sorted(
            ((word, text) for word, text in context_.items() if isinstance(text, str) and text.endswith(("/", "#"))),
            key=lambda item: (-len(item[1]), item[0]),
        )

    def node(self, iri: str, properties: dict[str, list[NamedNode | Literal]]) -> dict[str, Any]:
        """One subject."""
        made: dict[str, Any] = {"id": self.compact(iri)}
        kinds = properties.get(TYPE, [])
        if kinds:
            made["type"] = sorted(self.word(kind.value) for kind in kinds)
        pairs: list[tuple[str, Any]] = []
        for predicate, values in properties.items():
            if predicate != TYPE:
                pairs += self.property(predicate, sorted(values, key=_order))
        return made | dict(sorted(pairs))

    def property(self, predicate: str, values: list[NamedNode | Literal]) -> Iterator[tuple[str, Any]]:
        """The property's word and its values; those the word cannot hold come under the prefixed name."""
        word = self.by_property.get(predicate)
        if word is None:
            found = [self.full(value) for value in values]
            name = _local(predicate.replace(MG, "mg:")) if predicate.startswith(MG) else self.compact(predicate)
            yield name, found if len(found) > 1 or predicate in _repeatable() else found[0]
            return
        about = self.terms[word]
        by_language = "@language" in _listed(about.get("@container"))
        several = "@set" in _listed(about.get("@container"))
        fitting = [
            value for value in values if (isinstance(value, Literal) and bool(value.language)) or not by_language
        ]
        if by_language:
            languages: dict[str, list[str]] = {}
            for value in fitting:
                assert isinstance(value, Literal)
                languages.setdefault((value.language or "").lower(), []).append(value.value)
            if languages:
                yield (
                    word,
                    {lang: texts if several or len(texts) > 1 else texts[0] for lang, texts in languages.items()},
                )
        elif fitting:
            found = [self.typed(value, about.get("@type")) for value in fitting]
            yield word, found if several or len(found) > 1 else found[0]
        strangers = [self.full(value) for value in values if value not in fitting]
        if strangers:
            yield self.compact(predicate), strangers

    def typed(self, value: NamedNode | Literal, kind: str | None) -> Any:
        """A value under a word whose type the context knows."""
        if isinstance(value, NamedNode) and kind in ("@id", "@vocab"):
            return self.compact(value.value) if kind == "@id" else self.word(value.value)
        if isinstance(value, Literal) and kind == "edtf:EDTF" and value.datatype.value == EDTF:
            return value.value
        return self.full(value, coerced=kind is not None)

    def full(self, value: NamedNode | Literal, *, coerced: bool = False) -> Any:
        """A value that says itself what it is; plain JSON where that means the same and no type is forced on it."""
        if isinstance(value, NamedNode):
            return {"@id": self.compact(value.value)}
        datatype = value.datatype.value
        if value.language:
            return {"@language": value.language.lower(), "@value": value.value}
        if not coerced:
            if datatype == XSD + "integer" and _INTEGER.fullmatch(value.value):
                return int(value.value)
            if datatype == XSD + "boolean" and value.value in {"true", "false"}:
                return value.value == "true"
            if datatype == XSD + "string":
                return value.value
        return {"@type": self.compact(datatype), "@value": value.value}

    def word(self, iri: str) -> str:
        """The IRI where the vocabulary's own words stand bare."""
        local = iri.removeprefix(MG)
        if iri.startswith(MG) and local.isalnum():
            about = self.terms.get(local)
            meant = expand(about["@id"]) if isinstance(about, dict) else MG + local
            if meant == iri and not isinstance(about, str):
                return local
        return self.compact(iri)

    def compact(self, iri: str) -> str:
        """The IRI by a prefix, else whole."""
        for prefix, namespace in self.prefixes:
            if iri.startswith(namespace) and not iri[len(namespace) :].startswith("//"):
                return f"{prefix}:{iri[len(namespace) :]}"
        return iri


def _order(value: NamedNode | Literal) -> tuple[str, str, Any]:
    if isinstance(value, NamedNode):
        return "", "", natural(value.value)
    return (value.language or "").lower(), value.datatype.value, natural(value.value)


def _local(name: str) -> str:
    return name.partition(":")[2]


def _listed(container: str | list[str] | None) -> list[str]:
    return [container] if isinstance(container, str) else container or []


def _ontology(triples: Iterable[Triple]) -> tuple[dict[str, str], set[str]]:
    """The range of each property of ours, and the classes whose members are named in the ontology itself."""
    ranges: dict[str, str] = {}
    members: set[str] = set()
    for subject, predicate, value in triples:
        if isinstance(subject, NamedNode) and isinstance(value, NamedNode) and subject.value.startswith(MG):
            if predicate.value == expand("rdfs:range"):
                ranges[subject.value] = value.value
            elif predicate.value == TYPE and value.value.startswith(MG):
                members.add(value.value)
    return ranges, members


_many: set[str] = set()


def _repeatable() -> set[str]:
    """The properties that may have several values, as the model has them."""
    if not _many:
        todo: list[Any] = [model.Publication, *(cls for cls, _ in ENTRIES.values())]
        seen: set[Any] = set()
        while todo:
            cls = todo.pop()
            if cls in seen:
                continue
            seen.add(cls)
            for hint in get_type_hints(cls, include_extras=True).values():
                if not hasattr(hint, "__metadata__"):
                    continue
                wanted, predicate = get_args(hint)
                if get_origin(wanted) is tuple:
                    _many.add(expand(predicate))
                    part = get_args(wanted)[0]
                    if isinstance(part, type) and issubclass(part, model.Thing):
                        todo.append(part)
    return _many

"""The publication.ttl of an authority that has none yet."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from pyoxigraph import Literal, NamedNode, Triple

from margent.faults import Fault
from margent.vocabulary.iris import is_iri
from margent.vocabulary.model import DATA_FORMAT
from margent.vocabulary.namespaces import TYPE, expand
from margent.vocabulary.tidy import tidied
from margent.vocabulary.turtle import TurtleFile

NOT_EVALUATED = "http://rightsstatements.org/vocab/CNE/1.0/"
"""The rights statement for what nobody has looked into; the keeper of the authority puts a licence in its place."""

_BASE = re.compile(r"https?://[^\s<>\"{}|^`\\#?/]+/(?:[^\s<>\"{}|^`\\#?]+/)*\Z")


@dataclass(frozen=True, slots=True)
class NewAuthority:
    """What a new authority says of itself."""

    base: str
    title: str
    publisher: str
    licence: str = NOT_EVALUATED
    languages: Sequence[str] = ("en",)

    def publication(self, path: Path, today: dt.date) -> str:
        """The text of its publication.ttl."""
        authority, keeper = NamedNode(self.base), NamedNode(self.base + "#publisher")

        def say(subject: NamedNode, name: str, value: NamedNode | Literal) -> Triple:
            return Triple(subject, NamedNode(TYPE if name == "a" else expand(name)), value)

        triples = [
            say(authority, "a", NamedNode(expand("mg:Publication"))),
            say(authority, "dcterms:title", Literal(self.title, language="en")),
            say(authority, "dcterms:publisher", keeper),
            say(authority, "dcterms:license", NamedNode(self.licence)),
            *(say(authority, "dcterms:language", Literal(language)) for language in self.languages),
            say(authority, "dcterms:issued", Literal(today.isoformat(), datatype=NamedNode(expand("xsd:date")))),
            say(authority, "mg:base", authority),
            say(authority, "mg:version", Literal(f"{today.year}.{today.month:02}")),
            say(authority, "mg:dataFormat", Literal(DATA_FORMAT)),
            say(keeper, "a", NamedNode(expand("dcterms:Agent"))),
            say(keeper, "rdfs:label", Literal(self.publisher, language="en")),
        ]
        return tidied(TurtleFile(path, "", self.base, {}, triples))


def checked_base(said: str, option: str = "--base") -> str:
    """The base IRI, with the slash that it must end in; raises Fault where it is none that entries can stand under."""
    base = said if said.endswith("/") else f"{said}/"
    if not _BASE.match(base) or not is_iri(base):
        raise Fault(
            f"{option} {said!r}: is no base for IRIs; write it whole, without # and ?, as https://prints.museum.example/authority/"
        )
    return base

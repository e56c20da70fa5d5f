"""What a body of data says about itself to programs: a DCAT 3 dataset with its distributions, and VoID counts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from pyoxigraph import Literal, NamedNode, Triple

from margent.publishing.derived import linked, said
from margent.vocabulary.model import Publication, Text
from margent.vocabulary.namespaces import MG, PREFIXES, TYPE, XSD

SPDX = "http://spdx.org/rdf/terms#"

# Media type -> the name under which VoID knows the form.
FORMATS = {
    "text/turtle": "http://www.w3.org/ns/formats/Turtle",
    "application/ld+json": "http://www.w3.org/ns/formats/JSON-LD",
    "application/n-triples": "http://www.w3.org/ns/formats/N-Triples",
}


@dataclass(frozen=True, slots=True)
class Body:
    """What is described: the publication, where its files lie, and their counts and digests."""

    publication: Publication
    folder: str
    stem: str
    triples: int
    subjects: int
    files: list[tuple[str, str, str, int, str]]
    """Path, media type, what it is, size in bytes, SHA-256."""


def description(body: Body) -> list[Triple]:
    """The description; every node has an IRI."""
    return list(_description(body))


def _description(body: Body) -> Iterator[Triple]:
    publication = body.publication
    data = (
        (publication.site_address or publication.base).rstrip("/")
        + "/data/"
        + (f"{body.folder}/" if body.folder else "")
    )
    dataset = publication.iri
    for kind in ("dcat:Dataset", "void:Dataset"):
        yield linked(dataset, TYPE, kind)
    for title in publication.titles:
        yield said(dataset, "dcterms:title", title)
    for text in publication.descriptions:
        yield said(dataset, "dcterms:description", text)
    if publication.publisher:
        yield linked(dataset, "dcterms:publisher", publication.publisher.iri)
        yield linked(publication.publisher.iri, TYPE, "foaf:Agent")
        for name in publication.publisher.names:
            yield said(publication.publisher.iri, "foaf:name", name)
    if publication.licence:
        yield linked(dataset, "dcterms:license", publication.licence)
    if publication.issued:
        yield _typed(dataset, "dcterms:issued", publication.issued, "date")
    for language in publication.languages:
        yield said(dataset, "dcterms:language", Text(language, ""))
    yield said(dataset, "dcat:version", Text(publication.version, ""))
    yield linked(dataset, "dcat:landingPage", (publication.site_address or publication.base))
    yield said(dataset, "void:uriSpace", Text(publication.base, ""))
    for namespace in sorted({MG, PREFIXES["skos"], PREFIXES["skosxl"], PREFIXES["dcterms"]}):
        yield linked(dataset, "void:vocabulary", namespace)
    yield _typed(dataset, "void:triples", str(body.triples), "integer")
    yield _typed(dataset, "void:distinctSubjects", str(body.subjects), "integer")
    described = data + "void.ttl"
    yield linked(described, TYPE, "void:DatasetDescription")
    yield linked(described, "foaf:primaryTopic", dataset)
    # The N-Triples are canonical, so that their digest is that of the graph itself.
    yield linked(dataset, SPDX + "checksum", f"{data}{body.stem}.nt#sha256")
    for path, form, about, size, sha256 in body.files:
        file = data + path
        yield linked(dataset, "dcat:distribution", file)
        yield linked(file, TYPE, "dcat:Distribution")
        yield said(file, "dcterms:title", Text(about, "en"))
        yield linked(file, "dcat:downloadURL", file)
        yield linked(file, "dcat:accessURL", publication.site_address or publication.base)
        yield linked(file, "dcat:mediaType", f"https://www.iana.org/assignments/media-types/{form}")
        yield _typed(file, "dcat:byteSize", str(size), "nonNegativeInteger")
        if publication.licence:
            yield linked(file, "dcterms:license", publication.licence)
        yield from _checksum(file, f"{file}#sha256", sha256)
        if path.startswith(f"{body.stem}."):
            yield linked(dataset, "void:dataDump", file)
            yield linked(dataset, "void:feature", FORMATS[form])


def _checksum(of: str, iri: str, sha256: str) -> Iterator[Triple]:
    yield linked(of, SPDX + "checksum", iri)
    yield linked(iri, TYPE, SPDX + "Checksum")
    yield linked(iri, SPDX + "algorithm", SPDX + "checksumAlgorithm_sha256")
    yield _typed(iri, SPDX + "checksumValue", sha256, "hexBinary")


def _typed(subject: str, predicate: str, value: str, datatype: str) -> Triple:
    plain = linked(subject, predicate, subject)
    return Triple(plain.subject, plain.predicate, Literal(value, datatype=NamedNode(XSD + datatype)))

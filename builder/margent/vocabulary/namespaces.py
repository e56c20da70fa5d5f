"""The namespaces the vocabulary is written in, under the one prefix each has in every file."""

from __future__ import annotations

MG = "https://w3id.org/margent/ns#"
RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
XSD = "http://www.w3.org/2001/XMLSchema#"
TYPE = RDF + "type"

PREFIXES: dict[str, str] = {
    "dcat": "http://www.w3.org/ns/dcat#",
    "dcterms": "http://purl.org/dc/terms/",
    "edtf": "http://id.loc.gov/datatypes/edtf/",
    "foaf": "http://xmlns.com/foaf/0.1/",
    "mg": MG,
    "owl": "http://www.w3.org/2002/07/owl#",
    "prov": "http://www.w3.org/ns/prov#",
    "rdf": RDF,
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "relator": "http://id.loc.gov/vocabulary/relators/",
    "skos": "http://www.w3.org/2004/02/skos/core#",
    "skosxl": "http://www.w3.org/2008/05/skos-xl#",
    "void": "http://rdfs.org/ns/void#",
    "xsd": XSD,
}


def expand(name: str) -> str:
    """The whole IRI of a prefixed name such as `mg:Term`; raises KeyError for a prefix that is not ours."""
    prefix, _, local = name.partition(":")
    return PREFIXES[prefix] + local


def shorten(iri: str) -> str:
    """The prefixed name of an IRI in one of our namespaces, for a message; any other IRI comes back as it is."""
    for prefix, namespace in PREFIXES.items():
        if iri.startswith(namespace):
            return f"{prefix}:{iri[len(namespace) :]}"
    return iri

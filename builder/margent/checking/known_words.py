"""The words of the ontologies in use: which exist, and what an unknown one may have been meant for."""

from __future__ import annotations

import difflib

from margent.checking.material import Material
from margent.vocabulary.namespaces import MG, PREFIXES, expand, shorten

# SKOS Reference, W3C Recommendation 18 August 2009, https://www.w3.org/TR/skos-reference/: kept here so that a slip in
# one of its words is found without asking the network.
_SKOS_WORDS = frozenset(
    (
        *("Collection", "Concept", "ConceptScheme", "OrderedCollection", "altLabel", "broadMatch", "broader"),
        *("broaderTransitive", "changeNote", "closeMatch", "definition", "editorialNote", "exactMatch", "example"),
        *("hasTopConcept", "hiddenLabel", "historyNote", "inScheme", "mappingRelation", "member", "memberList"),
        *("narrowMatch", "narrower", "narrowerTransitive", "notation", "note", "prefLabel", "related", "relatedMatch"),
        *("scopeNote", "semanticRelation", "topConceptOf"),
    )
)
_SKOSXL_WORDS = frozenset(("Label", "altLabel", "hiddenLabel", "labelRelation", "literalForm", "prefLabel"))
_NEAR = 0.7  # less alike, another word is no help
# Kinds that come from elsewhere and may be used.
_OUTSIDE_KINDS = {
    *map(expand, ("owl:Ontology", "owl:Class", "owl:ObjectProperty", "owl:DatatypeProperty", "owl:SymmetricProperty")),
    *map(expand, ("rdf:Property", "dcterms:Agent", "foaf:Agent", "foaf:Organization", "foaf:Person")),
}


class KnownWords:
    """The words of our own ontology as the files define it, and those of SKOS and SKOS-XL."""

    def __init__(self, material: Material) -> None:
        own = frozenset(iri.removeprefix(MG) for file in material.known_files for iri in file.facts.words)
        self._names = {MG: own, PREFIXES["skos"]: _SKOS_WORDS, PREFIXES["skosxl"]: _SKOSXL_WORDS}
        self._classes = {iri for file in material.known_files for iri in file.facts.classes}

    @property
    def of_the_ontology(self) -> tuple[list[str], list[str]]:
        """The words of our own ontology, and which of them are classes: what an answer given here follows from."""
        return sorted(self._names[MG]), sorted(self._classes)

    def has(self, iri: str) -> bool:
        """True unless the IRI is in a namespace whose words are all known, and is none of them."""
        return all(
            not iri.startswith(space) or iri.removeprefix(space) in names for space, names in self._names.items()
        )

    def has_namespace(self, iri: str) -> bool:
        """True for an IRI in one of the namespaces that the vocabulary is written in."""
        return shorten(iri) != iri

    def is_kind(self, iri: str) -> bool:
        """True for a class of the ontology, or one of the few from elsewhere that may be used."""
        return iri in self._classes or iri in _OUTSIDE_KINDS

    def remedy(self, iri: str) -> str:
        """How to mend the use of an unknown word: the nearest known one, where one is near."""
        for space, names in self._names.items():
            if iri.startswith(space):
                near = difflib.get_close_matches(iri.removeprefix(space), sorted(names), 1, _NEAR)
                if near:
                    return f"write {shorten(space + near[0])}, if that is meant; else define the word in ns.ttl first"
        return "use a word that exists, or define it in ns.ttl first"

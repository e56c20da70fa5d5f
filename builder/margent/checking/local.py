"""Everything that is wrong in one file, or in a few that share a subject: shapes, rules about one entry, words and letters.

The answer follows from the text of the files, from the classes of what they refer to, from the ontology and from the bases;
`digest_of` puts these together, so that a kept answer is used only where all of them are the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from hashlib import blake2b
from itertools import chain
from pathlib import Path

from pyoxigraph import NamedNode, RdfFormat, Triple

from margent.checking.derived_years import YEARS, year_triples
from margent.checking.facts import SUBCLASS
from margent.checking.findings import Hit
from margent.checking.forms import form_hits
from margent.checking.graph import Graph
from margent.checking.known_words import KnownWords
from margent.checking.material import Folder, Material, Source
from margent.checking.queries import hits, queries, store_of
from margent.checking.references import reference_hits
from margent.checking.shapes import Shapes
from margent.checking.statements import statements
from margent.vocabulary.namespaces import TYPE

_TYPE, _SUBCLASS = NamedNode(TYPE), NamedNode(SUBCLASS)


class Local:
    """The rules about one file, held against one unit of files after the other."""

    def __init__(self, material: Material, shapes: Shapes, rules: Path) -> None:
        self._material = material
        self._shapes = shapes
        self._rules = [query for query in queries(rules) if query.of_a_file]
        self._years = frozenset(name for query in self._rules for name in query.names if name.startswith(YEARS))
        self._known = KnownWords(material)
        self._folders: dict[int, Folder] = {id(file): folder for folder in material.checked for file in folder.files}
        everywhere = [self._known.of_the_ontology, material.superclasses, material.bases]
        self._everywhere = blake2b(json.dumps(everywhere).encode(), digest_size=16).hexdigest()

    def digest_of(self, unit: Sequence[Source]) -> str:
        """The digest of everything that the findings in those files follow from."""
        said = [
            self._everywhere,
            [(file.digest, self._base(file)) for file in unit],
            sorted(self._elsewhere(unit).items()),
        ]
        return blake2b(json.dumps(said).encode(), digest_size=16).hexdigest()

    def hits(self, unit: Sequence[Source]) -> list[Hit]:
        """The findings in those files."""
        elsewhere = self._elsewhere(unit)
        files = [file.turtle() for file in unit]
        said = [statement for file in files for statement in statements(file.triples)]
        graph = Graph(said, elsewhere, self._material.above)
        found = list(self._shapes.hits(self._shapes.results(graph), graph, self._material.wording))
        store = store_of(chain(self._beside(elsewhere), year_triples(said, self._years)))
        for file in unit:
            # Read once more: that is quicker than making quads of the triples.
            store.load(file.data, format=RdfFormat.TURTLE)
        for query in self._rules:
            found += hits(query, store, graph.subjects.__contains__, self._material.wording)
        for file, turtle in zip(unit, files, strict=True):
            own = said if len(unit) == 1 else statements(turtle.triples)
            found += reference_hits(file, own, self._base(file), self._material, self._known)
            found += form_hits(file, own, self._material)
        return found

    def _base(self, file: Source) -> str | None:
        return self._folders[id(file)].base

    def _elsewhere(self, unit: Sequence[Source]) -> dict[str, list[str]]:
        """The classes of what the files refer to in others."""
        inside = {id(file) for file in unit}
        found: dict[str, list[str]] = {}
        for file in unit:
            for name in file.facts.links:
                others = [other for other in self._material.places.get(name, ()) if id(other) not in inside]
                if others:
                    found[name] = sorted({kind for other in others for kind in other.facts.types(name)})
        return found

    def _beside(self, elsewhere: dict[str, list[str]]) -> Iterator[Triple]:
        """The triples that the rules need from outside the files."""
        for kind, above in self._material.superclasses:
            yield Triple(NamedNode(kind), _SUBCLASS, NamedNode(above))
        for name, kinds in elsewhere.items():
            for kind in kinds:
                yield Triple(NamedNode(name), _TYPE, NamedNode(kind))

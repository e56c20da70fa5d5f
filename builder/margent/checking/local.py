"""Everything that is wrong in one file, or in a few that share a subject: shapes, rules about one entry, words and letters.

The answer follows from the text of the files, from the classes of what they refer to, from the ontology and from the bases;
`digest_of` puts these together, so that a kept answer is used only where all of them are the same.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from hashlib import blake2b
from itertools import chain
from pathlib import Path

from pyoxigraph import BlankNode, NamedNode, RdfFormat, Triple

from margent.checking.derived_years import YEARS, year_triples
from margent.checking.facts import SUBCLASS
from margent.checking.findings import Hit
from margent.checking.forms import form_hits
from margent.checking.graph import Graph
from margent.checking.known_words import KnownWords
from margent.checking.material import Folder, Material, Source
from margent.checking.queries import hits, queries, store_of
from margent.checking.references import OF_FILES, reference_hits, whole_file_hits
from margent.checking.shapes import Shapes
from margent.checking.statements import Statement, statements
from margent.vocabulary.namespaces import TYPE

_TYPE, _SUBCLASS = NamedNode(TYPE), NamedNode(SUBCLASS)

Before = tuple[dict[str, str], list[Hit]]
"""The digests that the entries of a file had, and what was found in it."""


class Local:
    """The rules about one file, held against one unit of files after the other."""

    def __init__(self, material: Material, shapes: Shapes, rules: Path, keeps: bool = False) -> None:
        """`keeps` says whether the digests of entries are of use to anybody."""
        self._material = material
        self._keeps = keeps
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

    def digest_around(self, unit: Sequence[Source]) -> str:
        """The digest of what the findings follow from beside the entries of those files and what these refer to."""
        around = [self._everywhere, [(str(file.path), self._base(file)) for file in unit]]
        return blake2b(json.dumps(around).encode(), digest_size=16).hexdigest()

    def hits(self, unit: Sequence[Source], before: Before | None = None) -> tuple[list[Hit], dict[str, str] | None]:
        """The findings in those files, and the digest of each entry, or None where an entry does not stand by itself.

        What was found `before` of an entry with the same digest is not worked out again.
        """
        elsewhere = self._elsewhere(unit)
        files = [file.turtle() for file in unit]
        said = [statements(file.triples) for file in files]
        graph = Graph(chain.from_iterable(said), elsewhere, self._material.above)
        found = [hit for file, own in zip(unit, said, strict=True) for hit in whole_file_hits(file, own)]
        digests = self._digests(unit, said, graph) if before is not None or self._keeps else None
        if before is not None and digests is not None:
            known, hits_before = before
            same = {entry for entry, digest in digests.items() if known.get(entry) == digest}
            found += (
                hit._replace(line=None)
                for hit in hits_before
                if hit.rule not in OF_FILES and hit.entry.partition("#")[0] in same
            )
            changed = [[each for each in own if each[0].partition("#")[0] not in same] for own in said]
            return found + self._entry_hits(unit, changed, graph, elsewhere, whole=False), digests
        return found + self._entry_hits(unit, said, graph, elsewhere, whole=True), digests

    def _entry_hits(
        self,
        unit: Sequence[Source],
        said: Sequence[Sequence[Statement]],
        graph: Graph,
        elsewhere: dict[str, list[str]],
        *,
        whole: bool,
    ) -> list[Hit]:
        """The findings in what is said of entries: of all of those files, or of some."""
        subjects = dict.fromkeys(subject for own in said for subject, *_ in own if subject)
        found = list(self._shapes.hits(self._shapes.results(graph, subjects), graph, self._material.wording))
        years = (year for own in said for year in year_triples(own, self._years))
        if whole:
            store = store_of(chain(self._beside(elsewhere), years))
            for file in unit:
                # Read once more: that is quicker than making quads of the triples.
                store.load(file.data, format=RdfFormat.TURTLE)
        else:
            around = {name: graph.written(name) for own in said for name in _referred(own) if name not in subjects}
            store = store_of(chain(self._beside(around), years, (triple for own in said for *_, triple in own)))
        for query in self._rules:
            found += hits(query, store, subjects.__contains__, self._material.wording)
        for file, own in zip(unit, said, strict=True):
            found += reference_hits(file, own, self._base(file), self._material, self._known)
            found += form_hits(file, own, self._material)
        return found

    def _digests(
        self, unit: Sequence[Source], said: Sequence[Sequence[Statement]], graph: Graph
    ) -> dict[str, str] | None:
        """The digest of each entry: of what is said of it and its parts, and of the classes of what these refer to.

        None where that does not decide: the entry stands in two files, has parts without a name, or parts of another one;
        or a shape looks further.
        """
        if len(unit) > 1 or unit[0].facts.strange_parts or self._shapes.look_further:
            return None
        entries: dict[str, list[str]] = {}
        for subject, _, value, triple in said[0]:
            if not subject or isinstance(value, BlankNode):
                return None
            lines = entries.setdefault(subject.partition("#")[0], [])
            lines.append(str(triple))
            if isinstance(value, NamedNode):
                lines += graph.written(value.value)
        return {
            entry: blake2b("\n".join(lines).encode(), digest_size=12).hexdigest() for entry, lines in entries.items()
        }

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

    def _beside(self, elsewhere: Mapping[str, Iterable[str]]) -> Iterator[Triple]:
        """The triples that the rules need from outside the files."""
        for kind, above in self._material.superclasses:
            yield Triple(NamedNode(kind), _SUBCLASS, NamedNode(above))
        for name, kinds in elsewhere.items():
            for kind in kinds:
                yield Triple(NamedNode(name), _TYPE, NamedNode(kind))


def _referred(said: Sequence[Statement]) -> Iterator[str]:
    """The IRIs that the statements refer to."""
    for _, _, value, _ in said:
        if isinstance(value, NamedNode):
            yield value.value

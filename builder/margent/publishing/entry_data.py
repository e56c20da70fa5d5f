"""The data of one entry by itself, as Turtle and as JSON-LD: what lies beside its page under the same name."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from pyoxigraph import NamedNode, Triple

from margent.publishing.json_ld import EntryWriter
from margent.vocabulary.model import Iri
from margent.vocabulary.tidy import tidied
from margent.vocabulary.turtle import TurtleFile

HEAD = "# One entry by itself, written by `margent publish`: everything together is in data/.\n"


class EntryData:
    """Writes the data of entries; `triples` gives those of the dumps for some entries, to be asked for before they are written."""

    def __init__(
        self, triples: Callable[[Sequence[Iri]], Iterable[Triple]], context: Mapping[str, Any], bases: Iterable[str]
    ) -> None:
        self._triples = triples
        self._own: dict[str, list[Triple]] = {}
        self._writer = EntryWriter(dict(context))
        self._bases = sorted(bases, key=len, reverse=True)

    def prepare(self, iris: Sequence[Iri]) -> None:
        """Nothing comes back: the data of those entries can be written from now on."""
        if iris:
            self._own |= by_entry(self._triples(iris))

    def turtle(self, iri: Iri) -> str:
        """The entry with its parts, and what follows from the other entries, as Turtle."""
        base = next((base for base in self._bases if iri.startswith(base)), None)
        return tidied(TurtleFile(Path(iri), HEAD, base, {}, self._own[iri]))

    def json_ld(self, iri: Iri, context: str) -> str:
        """The same as JSON-LD; `context` is the way from the file to the context that all entries share."""
        return self._writer.document(self._own[iri], context)


def by_entry(triples: Iterable[Triple]) -> dict[str, list[Triple]]:
    """The triples of each entry and its parts."""
    found: dict[str, list[Triple]] = defaultdict(list)
    for triple in triples:
        if isinstance(triple.subject, NamedNode):
            found[triple.subject.value.partition("#")[0]].append(triple)
    return found

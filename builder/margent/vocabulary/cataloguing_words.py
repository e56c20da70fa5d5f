"""The words of catalogues, as they stand in vocab/qualifiers/ and vocab/marks-words/: round attributions, and of marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from margent.vocabulary.model import Choice, Entry, Iri, Labelled, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class AttributionWords(Entry):
    """Words that do one thing in attribution phrases: part two names, open an alternative, say that nobody is named."""

    key: Annotated[str, "mg:attributionKey"]
    words: Annotated[tuple[Text, ...], "mg:attributionWord"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkWord(Labelled):
    """One thing that a mark may show, or one way in which its letters may stand: `kind` is DeviceWord or ArrangementWord."""

    kind: Annotated[Choice, "rdf:type"]
    broader: Annotated[tuple[Iri, ...], "skos:broader"] = ()
    wordings: Annotated[tuple[Text, ...], "mg:markWording"] = ()

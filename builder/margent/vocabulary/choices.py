"""The closed lists of the ontology: which kinds of form, of mark, of maker there are, by their names and labels."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from pyoxigraph import Literal, NamedNode

from margent.vocabulary.model import Choice
from margent.vocabulary.namespaces import MG, TYPE, expand
from margent.vocabulary.turtle import read_file


class Choices:
    """The individuals of each class of ns.ttl, with their English labels."""

    def __init__(self, vocab: Path) -> None:
        self._labels: dict[str, str] = {}
        self._of: dict[str, list[str]] = {}
        label = expand("rdfs:label")
        for triple in read_file(vocab / "ns.ttl", vocab).triples:
            subject, value = triple.subject, triple.object
            if not isinstance(subject, NamedNode) or not subject.value.startswith(MG):
                continue
            if triple.predicate.value == label and isinstance(value, Literal):
                self._labels[subject.value] = value.value
            elif triple.predicate.value == TYPE and isinstance(value, NamedNode):
                self._of.setdefault(value.value, []).append(subject.value)

    def of(self, name: str) -> Mapping[Choice, str]:
        """The choices of a class, by its local name, with their labels."""
        found = sorted(self._of.get(MG + name, ()))
        return {Choice(iri.removeprefix(MG)): self._labels.get(iri, iri.removeprefix(MG)) for iri in found}

    def find(self, name: str, said: str) -> Choice | None:
        """The choice meant by its name or label, in whatever way its words are parted: `as signed`, `as-signed`, `asSigned`."""
        wanted = _key(said)
        for choice, label in self.of(name).items():
            if wanted in {_key(choice), _key(label)}:
                return choice
        return None


def _key(said: str) -> str:
    return re.sub(r"[^a-z0-9]", "", said.casefold())

"""What a word that says no role does in a lettering: words of kinship, honours, offices, towns, forenames and the like."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from margent.lettering.lexicon import Item
from margent.vocabulary.model import Vocabulary
from margent.vocabulary.reading_rules import Template

KEY = "kind-"
"""Templates whose key begins so say what one kind of word does."""


class Kind(NamedTuple):
    """What kind of word it is, in which language (empty where that is not known), and what such a word does."""

    name: str
    language: str
    says: str


class WordKinds:
    """Answers by the items that the compiled word list gives for a word."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._says = {
            rule.key.removeprefix(KEY): rule.wording.value
            for rule in vocabulary.reading_rules.values()
            if isinstance(rule, Template) and rule.key.startswith(KEY)
        }
        self._towns = {place.slug: place.label() for place in vocabulary.places.values()}

    def of(self, items: Sequence[Item]) -> list[Kind]:
        """The kinds, in the order of the items, each once; items of kinds that nothing is said of are passed over."""
        found: dict[Kind, None] = {}
        for item in items:
            if item.label not in self._says:
                continue
            for ref in (item.ref, *(other for other, _ in item.others)):
                language = ref.removeprefix("~") if ref.startswith("~") else ""
                says = self._says[item.label].format(name=self._towns.get(ref, ref))
                found.setdefault(Kind(item.label, language, says))
        return list(found)

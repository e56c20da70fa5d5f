"""What a page is made from, as keys, and which keys a change touches: a page is written anew where the two meet.

A key is an entry (`https://...`), what points to an entry (`>https://...`), or a table (`#roles`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from typing import Any

from margent.publishing.folding import initial
from margent.publishing.kept_entries import Change, decoded, mentions
from margent.publishing.kinship import Node
from margent.publishing.material import EVERY_MAKER, Page, initial_table, language_table
from margent.vocabulary.model import Iri, Maker, Supported, Term


class Dependencies:
    """Knows what every entry mentions."""

    def __init__(self, texts: Mapping[Iri, str]) -> None:
        self._texts = texts
        self._mentioned: dict[str, frozenset[str]] = {}

    def of(self, page: Page, told: Mapping[str, Any]) -> list[str]:
        """The keys of a page, by what its template is told."""
        if page.tables is None and not page.entry:
            return ["#*"]
        keys = {f"#{table}" for table in page.tables or ()}
        if page.entry:
            keys.add(f">{page.entry}")
            self._take(told, keys)
        return sorted(keys)

    def _take(self, value: Any, keys: set[str]) -> None:
        if isinstance(value, str):
            if value in self._texts:
                keys.add(value)
        elif isinstance(value, Mapping):
            for each in value.values():
                self._take(each, keys)
        elif isinstance(value, (tuple, list, set)):
            for each in value:
                self._take(each, keys)
        elif isinstance(value, Supported) and value.iri in self._texts:
            keys.update(self._mentions(value.iri))
            if isinstance(value, Maker):  # its marks and its kin are told by others
                keys.add(f">{value.iri}")
        elif dataclasses.is_dataclass(value) and not isinstance(value, type):
            if isinstance(value, Node) and value.person:
                keys.add(f">{value.person}")
            for each in dataclasses.fields(value):
                self._take(getattr(value, each.name), keys)

    def _mentions(self, iri: Iri) -> frozenset[str]:
        """The entry and every entry that it mentions."""
        if iri not in self._mentioned:
            self._mentioned[iri] = frozenset(
                {iri, *(each for each in mentions(self._texts[iri]) if each in self._texts)}
            )
        return self._mentioned[iri]


def touched(changes: Iterable[Change]) -> set[str]:
    """The keys that the changes touch."""
    keys: set[str] = set()
    for change in changes:
        keys |= {change.iri, f"#{change.table}", "#*"}
        for text in (change.before, change.after):
            keys |= {f">{iri}" for iri in mentions(text)}
        if change.table == "terms":
            terms = [decoded(Term, text) for text in (change.before, change.after) if text]
            keys |= {f"#{language_table(term.language)}" for term in terms if isinstance(term, Term)}
        if change.table == "makers":
            makers = [decoded(Maker, text) for text in (change.before, change.after) if text]
            keys |= {f"#{initial_table(initial(maker.label()))}" for maker in makers if isinstance(maker, Maker)}
            if len({getattr(maker, "withdrawn", False) for maker in makers}) + (2 - len(makers)) > 1:
                keys.add(f"#{EVERY_MAKER}")
    return keys

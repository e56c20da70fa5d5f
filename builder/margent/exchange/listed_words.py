"""Roles and places by the words that other lists have for them, looked up in the general vocabulary."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from margent.vocabulary.model import Iri, Text, Vocabulary


class ListedWords:
    """The general vocabulary, loaded once a word is asked for; a word that means two things means neither."""

    def __init__(self, vocabulary: Callable[[], Vocabulary]) -> None:
        self._load = vocabulary

    def role(self, word: str) -> Iri | None:
        """The role called so in any language, in one or in many: `engraver`, `Engravers`, `role/engraver`, the relator `egr`."""
        word = _key(word.rpartition("/")[2])
        return self._roles.get(word) or self._roles.get(word.removesuffix("s"))

    def place(self, word: str) -> Iri | None:
        """The town called so in any language or form, whatever region stands in brackets or behind a comma."""
        for tried in (word, word.partition("(")[0], word.partition(",")[0], word.rpartition("/")[2]):
            if found := self._places.get(_key(tried)):
                return found
        return None

    @cached_property
    def _vocabulary(self) -> Vocabulary:
        return self._load()

    @cached_property
    def _roles(self) -> dict[str, Iri | None]:
        found: dict[str, Iri | None] = {}
        for iri, role in self._vocabulary.roles.items():
            codes = [match.rpartition("/")[2] for match in role.exact_matches]
            _note(found, iri, [role.slug, role.slug.replace("-", " "), *codes], sure=True)
            _note(found, iri, _values(role.labels), sure=False)
        return found

    @cached_property
    def _places(self) -> dict[str, Iri | None]:
        found: dict[str, Iri | None] = {}
        for iri, place in self._vocabulary.places.items():
            _note(found, iri, [place.slug, *_values(place.labels)], sure=True)
            _note(found, iri, _values(form.literal for form in place.forms), sure=False)
        return found


def _note(found: dict[str, Iri | None], iri: Iri, words: Iterable[str], *, sure: bool) -> None:
    """Nothing comes back: the words mean the entry; one that already means another means neither, unless `sure`."""
    for word in words:
        key = _key(word)
        if found.setdefault(key, iri) != iri:
            found[key] = iri if sure else None


def _values(texts: Iterable[Text]) -> list[str]:
    return [text.value for text in texts]


def _key(word: str) -> str:
    return " ".join(word.split()).strip(" .").casefold()

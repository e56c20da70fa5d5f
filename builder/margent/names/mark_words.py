"""The things and arrangements that a description of a mark names, in any of seven languages, as entries of vocab/marks-words/."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from margent.names.normal import Folded, fold
from margent.vocabulary.cataloguing_words import MarkWord
from margent.vocabulary.model import Iri, Vocabulary

LEAST_STEM = 4
"""Letters that a word must have for another with a short ending behind it to be taken for its plural."""

LONGEST_ENDING = 2
_WORD = re.compile(r"[^\W_]+")

Words = tuple[Folded, ...]


class Asked(NamedTuple):
    """A word of a question: the entries it may mean, none where the vocabulary has none, and the word as it was said."""

    entries: frozenset[Iri]
    said: str


class MarkWords:
    """The mark words of one kind, `DeviceWord` or `ArrangementWord`, by everything they are called."""

    def __init__(self, vocabulary: Vocabulary, kind: str) -> None:
        self.words = {
            iri: word
            for iri, word in vocabulary.mark_words.items()
            if isinstance(word, MarkWord) and word.kind == kind and not word.withdrawn
        }
        self.called: dict[Words, set[Iri]] = defaultdict(set)
        self._english: dict[Words, set[Iri]] = defaultdict(set)
        for iri, word in self.words.items():
            for text in (*word.labels, *word.wordings):
                called = folded_words(text.value)
                self.called[called].add(iri)
                if text.lang == "en":
                    for each in _numbers(called):
                        self._english[each].add(iri)
        for called, entries in self._english.items():
            self.called.setdefault(called, set()).update(entries)
        self._longest = max(map(len, self.called), default=0)

    def label(self, iri: Iri) -> str:
        """The English label of an entry."""
        return self.words[iri].label()

    def asked(self, text: str) -> list[Asked]:
        """What a question means, in whatever language: its longest phrases that are known, or the whole as one unknown word."""
        words = folded_words(text)
        found = [
            Asked(frozenset(entries), " ".join(words[start:end]))
            for start, end, entries in self._phrases(words, loosely=True)
        ]
        return found or [Asked(frozenset(), " ".join(words))]

    def shown(self, text: str) -> frozenset[Iri]:
        """The entries that an English description names."""
        return frozenset(iri for _, _, entries in self._phrases(folded_words(text), loosely=False) for iri in entries)

    def broader(self, iri: Iri) -> frozenset[Iri]:
        """The entry and all that are broader, as far as there are any."""
        found: set[Iri] = set()
        waiting = [iri]
        while waiting:
            each = waiting.pop()
            if each not in found and each in self.words:
                found.add(each)
                waiting += self.words[each].broader
        return frozenset(found)

    def _phrases(self, words: Sequence[Folded], *, loosely: bool) -> Iterator[tuple[int, int, set[Iri]]]:
        """The phrases that are known, the longest from each place, without overlap."""
        table = self.called if loosely else self._english
        at = 0
        while at < len(words):
            for end in range(min(len(words), at + self._longest), at, -1):
                phrase = tuple(words[at:end])
                entries = table.get(phrase) or (self._nearly(phrase) if loosely else None)
                if entries:
                    yield at, end, entries
                    at = end
                    break
            else:
                at += 1

    def _nearly(self, phrase: Words) -> set[Iri]:
        """The entries called so but for a short ending: a plural, a case."""
        if len(phrase) != 1:
            return set()
        (word,) = phrase
        found: set[Iri] = set()
        for cut in range(1, LONGEST_ENDING + 1):
            if len(word) - cut >= LEAST_STEM:
                found |= self.called.get((Folded(word[:-cut]),), set())
        return found


def folded_words(text: str) -> Words:
    """The words of a text in small letters, without accents and signs."""
    return tuple(Folded(word) for word in _WORD.findall(fold(text)))


def weighty(words: Iterable[str]) -> frozenset[str]:
    """The words that are long enough to mean something by themselves, in whatever language."""
    return frozenset(word for word in words if len(word) >= LEAST_STEM)


def _numbers(called: Words) -> Iterator[Words]:
    """An English phrase, and its plural."""
    yield called
    *first, last = called
    ending = "ies" if re.search(r"[^aeiou]y$", last) else "es" if re.search(r"(s|x|z|ch|sh)$", last) else "s"
    yield (*first, Folded((last[:-1] if ending == "ies" else last) + ending))

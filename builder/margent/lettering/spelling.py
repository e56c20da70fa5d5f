"""Early-modern spelling: which words of the list a spelling may stand for, and by which rule."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from operator import add
from typing import Any, Final

SURE_LENGTH: Final = 3
"""A word of the list of at most so many letters is taken as it stands; any so short is respelt letter for letter only."""
GUESSED: Final = "guess"
"""Stands among the rules of a word that was only found as the nearest spelling in the list."""


Spelt = tuple[str, int, tuple[str, ...]]
"""A word of the list that a spelling may stand for, what that costs, and by which rules."""


class Spelling:
    """The compiled spelling rules and the words of the list by their levelled spelling."""

    def __init__(self, compiled: Mapping[str, Any], keys: Iterable[str]) -> None:
        rules = [(name, find, put) for name, find, put in compiled["spelling"]["rules"]]
        self._words: frozenset[str] = frozenset(" ".join(keys).split(" "))
        self._levelled: dict[str, list[str]] = compiled["spelling"]["levelled"]
        self._cost: int = compiled["grammar"]["lookup"]["respelt"]
        self._guess_cost: int = compiled["grammar"]["lookup"]["guessed"]
        self._guessable: Sequence[str] = compiled["spelling"]["guessable"]
        self._heads = frozenset((pair[0], pair[1]) for pair in compiled["spelling"]["heads"])
        self._without: dict[str, dict[str, list[str]]] = {}
        single = 0
        while single < len(rules) and len(rules[single][1]) == 1:
            single += 1
        self._single_letters = rules[:single]
        self._longer = rules[single:]
        self._letters = frozenset(find for _, find, _ in self._single_letters)
        self._pairs = frozenset(find[:2] for _, find, _ in self._longer)
        self._alike: dict[str, list[Spelt]] = {}
        for words in self._levelled.values():
            if len(words) > 1:
                self._know_alike(words)

    def _know_alike(self, words: Sequence[str]) -> None:
        """Keeps for each of some words of the list, which are the same when levelled, what it may stand for."""
        fired = [self.level(word)[1] for word in words]
        for word, own in zip(words, fired, strict=True):
            likes = [
                (like, self._cost, _told_apart(own, other))
                for like, other in zip(words, fired, strict=True)
                if like != word
            ]
            self._alike[word] = [(word, 0, ()), *likes]

    def is_word(self, word: str) -> bool:
        """Whether a folded word occurs in any form of the list."""
        return word in self._words

    def level(self, word: str) -> tuple[str, tuple[str, ...]]:
        """The word with every rule applied in order, and the names of the rules that changed it.

        Levelling twice changes nothing more than levelling once for words of the list; the result is a key, not a spelling.
        """
        fired: list[str] = []
        if not self._letters.isdisjoint(word):
            for name, find, put in self._single_letters:
                if find in word:
                    word = word.replace(find, put)
                    fired.append(name)
        if not self._pairs.isdisjoint(map(add, word, word[1:])):
            for name, find, put in self._longer:
                if find in word:
                    word = word.replace(find, put)
                    fired.append(name)
        return word, tuple(fired)

    def alternatives(self, word: str) -> list[Spelt]:
        """The words of the list that a folded word may stand for: itself, its levelled likes, else near guesses."""
        if word in self._words:
            alike = self._alike.get(word)
            return [(word, 0, ())] if alike is None or len(word) <= SURE_LENGTH else alike
        levelled, fired = self.level(word)
        found = [
            (like, self._cost, _told_apart(fired, self.level(like)[1]))
            for like in self._levelled.get(levelled, ())
            if len(word) > SURE_LENGTH or len(like) == len(word)
        ]
        if not found and levelled != word and levelled in self._words:
            found.append((levelled, self._cost, fired))
        if not found and 5 <= len(word) <= 20:
            found = [(like, self._guess_cost, (GUESSED,)) for like in self._near(word)]
        if not found:
            found.append((word, 0, ()))
        return found

    def _near(self, word: str) -> list[str]:
        """Words of the list one letter away: one more, one fewer, one other, or two changed about; the first is seldom misread."""
        first = word[0]
        listed = self._without.get(first)
        if listed is None:
            listed = self._without[first] = {}
            for like in self._guessable:
                if like[0] != first and (first, like[0]) not in self._heads:
                    continue
                for key in {like, *_without_one(like)}:
                    listed.setdefault(key, []).append(like)
        near: list[str] = []
        for key in (word, *_without_one(word)):
            for like in listed.get(key, ()):
                if like not in near:
                    near.append(like)
        near.sort()
        return near[:3]


def _told_apart(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    """The rules that changed one of two words only, for these are what tells them apart; all of the first where none did."""
    apart = [name for name in one if name not in other] + [name for name in other if name not in one]
    return tuple(apart) or one


def _without_one(word: str) -> list[str]:
    """The word with each letter left out in turn."""
    return [word[:index] + word[index + 1 :] for index in range(len(word))]

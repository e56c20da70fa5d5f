"""What one word of a name that was read proves beside one word of a form that it is like."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from rapidfuzz.distance import OSA

from margent.names.index import Index, initial_of
from margent.names.likes import Like
from margent.names.parts import EXTRA, FAMILY, GIVEN, PHRASE, Word

CROSSED = {GIVEN, FAMILY}
TRANSLATED = frozenset({"equivalent", "short-equivalent"})
ALIKE = frozenset({"same", "spelling", "equivalent"})
ALONE = ALIKE | {"short", "short-equivalent"}
"""How a word that stands alone may be like a forename, where it was cut short."""
NEAR_SPELLING = 2
"""Letters by which two spellings of a name may well differ."""


class Pair(NamedTuple):
    """One word read beside one word of a form: what it proves and how they are alike."""

    weight: int
    key: str
    asked: int
    word: int
    part: int


class Asked(NamedTuple):
    """One word of a name that is looked for, with the words of the index that it may be; `given` counts the forenames before it."""

    at: int
    given: int
    word: Word
    likes: Mapping[int, Like]
    initial: str
    made: bool = False
    """Whether the word was made of two that were read."""


class Pairing:
    """Weighs pairs of words against one index."""

    def __init__(self, index: Index) -> None:
        self.index = index
        self._weight = {key: weighed.weight for key, weighed in index.lore.weights.items()}

    def of_words(self, asked: Asked, like: Like, number: int, part: int, crossing: int, *, aside: bool) -> Pair | None:
        """What a word read proves beside a word of a form that it is like; None where the two do not answer to each other."""
        mine = asked.word.part
        as_given = part == GIVEN
        if (not as_given and like.how in TRANSLATED) or (asked.made and like.how not in ALIKE):
            return None
        key = ("forename-" if as_given else "family-") + like.how
        cost = self._weight[key]
        if not crossing and mine == FAMILY and as_given and like.how not in (ALONE if asked.word.cut else ALIKE):
            return None
        if crossing and mine != part and (PHRASE in (mine, part) or {mine, part} == CROSSED):
            if like.how not in ALIKE:
                return None
            key = "family-crossed" if as_given else "forename-crossed"
            cost += self._weight[key] * crossing
        word = self.index.words[number]
        if like.how.startswith("near"):
            if aside:
                return None  # a slip in a name that was first put together or taken apart is one guess too many
            cost = min(cost + self.index.likes.near_cost(asked.word.text, number), self._weight["near-least"])
        elif like.how == "spelling":
            cost += self._weight["spelling-far"] * max(0, OSA.distance(asked.word.text, word) - NEAR_SPELLING)
        proof = self.index.rarity(number, part) + cost
        if EXTRA in {mine, part}:
            proof = min(proof, self._weight["title-most"])
        elif as_given and mine == GIVEN:
            of_father = self.index.lore.is_patronymic(word)
            if of_father != self.index.lore.is_patronymic(asked.word.text):
                return None  # Willem is not Willemsz
            if of_father:
                proof, key = min(proof, self._weight["patronymic-same"]), "patronymic-same"
        return Pair(proof, key, asked.at, number, part)

    def full_for_initial(self, asked: Asked, number: int, part: int) -> Pair | None:
        """A full forename read beside an initial in the file."""
        index = self.index
        if (
            part == GIVEN
            and asked.word.part == GIVEN
            and not asked.made
            and len(index.words[number]) == 1
            and asked.initial == initial_of(index.words[number])
        ):
            proof = index.proof(index.of_initial.get(asked.initial, 0))
            return Pair(proof + self._weight["forename-initial"], "forename-initial", asked.at, number, part)
        return None

    def of_initial(self, asked: Asked, number: int, part: int) -> Pair | None:
        """What an initial proves beside a word of a form."""
        index, letter, mine = self.index, asked.initial, asked.word.part
        if part == GIVEN and mine != FAMILY:
            initials = index.initials(number)
            if letter not in initials:
                return None
            key = "forename-initial" if initials[0] == letter else "forename-initial-equivalent"
            return Pair(index.proof(index.of_initial.get(letter, 0)) + self._weight[key], key, asked.at, number, part)
        if part == FAMILY and mine == FAMILY and initial_of(index.words[number]) == letter:
            proof = index.proof(index.of_family_initial.get(letter, 0))
            return Pair(proof + self._weight["family-initial"], "family-initial", asked.at, number, part)
        if index.words[number] == asked.word.text and {mine, part} != CROSSED:
            return Pair(index.proof(index.of_initial.get(letter, 0)), "family-initial", asked.at, number, part)
        return None

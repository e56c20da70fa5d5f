"""Which words of an index may be a word that was read, and how: by spelling, ending, another language, its beginning, a slip.

Words a few letters away are looked for only among those that have their first or their last letters in common with it, for
most slips leave one end of a word whole, and scanning all words would take far longer.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from margent.names.lore import Lore
from margent.names.normal import Folded, Level
from margent.names.parts import Word

BLOCKS = {letter: letters[0] for letters in ("aeio", "bpu", "ckgq", "dt") for letter in letters}
"""First letter -> the block of all that are spoken alike; u stands for v, w and f as well."""
LEAST_STEM = 3
LEAST_NEAR = 3
VOWELS = ("a", "e", "i", "o", "u")
ENDS = ((8, 4, 5), (6, 3, 3), (0, 2, 2))
"""From so many letters on, so many of the first must agree or so many of the last, where Latin endings tell little."""
REMEMBERED = 20_000

Note = Callable[[int, str, int], None]
"""A function that notes a word, how it is like the one asked for, and how good that way is beside other ways."""


class Like(NamedTuple):
    """How a word of the index is like a word that was asked for: `how` names the evidence, `cost` is below zero."""

    how: str
    cost: int


class Likes:
    """The words of one index, by everything by which a like word is found. `levels` are the words levelled, `classes` their forenames."""

    def __init__(
        self, lore: Lore, words: Sequence[Folded], levels: Sequence[Level], classes: Sequence[tuple[str, ...]]
    ) -> None:
        self._lore, self._words, self._levels, self._class_of = lore, words, levels, classes
        self._by_level: dict[Level, list[int]] = {}
        self._by_class: dict[str, list[int]] = {}
        for number, level in enumerate(levels):
            self._by_level.setdefault(level, []).append(number)
            for each in classes[number]:
                self._by_class.setdefault(each, []).append(number)
        ends: dict[str, list[Level]] = {}
        for level in sorted(self._by_level, key=lambda level: (len(level), level)):
            if len(level) >= LEAST_NEAR:
                for key in _ends(level, _sizes(len(level))):
                    ends.setdefault(key, []).append(level)
        self._by_end = {key: ([len(level) for level in levels], levels) for key, levels in ends.items()}
        self._sorted = sorted(range(len(words)), key=words.__getitem__)
        self._sorted_words = [words[number] for number in self._sorted]
        self._known: dict[tuple[Folded, bool], dict[int, Like]] = {}

    def of_text(self, word: Folded) -> list[int]:
        """The number of exactly this word, or none."""
        return [number for number in self._by_level.get(self._lore.level(word), ()) if self._words[number] == word]

    def forget(self) -> None:
        """Nothing comes back: what was remembered of words that were asked is gone."""
        self._known.clear()

    def of(self, asked: Word) -> dict[int, Like]:
        """Words of the index that may be the word asked for, and how; not for initials, which are like too many."""
        key = (asked.text, asked.cut)
        known = self._known.get(key)
        if known is None:
            known = self._find_likes(asked.text, cut=asked.cut)
            if len(self._known) > REMEMBERED:
                self._known.clear()
            self._known[key] = known
        return known

    def _find_likes(self, text: Folded, *, cut: bool) -> dict[int, Like]:
        lore, level = self._lore, self._lore.level(text)
        found: dict[int, Like] = {}

        def note(number: int, how: str, cost: int) -> None:
            if number not in found or found[number].cost < cost:
                found[number] = Like(how, cost)

        classes = set(lore.classes(text))

        def note_alike(number: int, how: str, cost: int) -> None:
            # Two words that are both known as forenames, and not as the same, are two forenames, however alike.
            if not (classes and self._class_of[number] and classes.isdisjoint(self._class_of[number])):
                note(number, how, cost)

        for number in self._by_level.get(level, ()):
            same = self._words[number] == text
            if not same and len(level) < LEAST_STEM and len(text) < 4 and any(char in VOWELS for char in text):
                continue  # hardly anything is left of so short a word
            note(number, "same" if same else "spelling", 0 if same else -1)
        for each in sorted(classes):
            for number in self._by_class.get(each, ()):
                note(number, "equivalent", -2)
        self._note_inflected(level, note_alike)
        for ending in lore.vernacular_endings:
            if text.endswith(ending) and len(text) > len(ending) + LEAST_STEM:
                # Taken off before spelling is undone, which would join the ending to the letters before it: -ks as -x.
                for number in self._by_level.get(lore.level(Folded(text[: -len(ending)])), ()):
                    note_alike(number, "inflected", -3)
        if cut or (not found and 2 < len(text) < 5):
            self._note_cut(text, note)
        if len(level) >= LEAST_NEAR:
            self._note_near(level, note_alike)
        return found

    def _note_inflected(self, level: Level, note: Note) -> None:
        """Notes the words that give this one with an ending put on, taken off or exchanged."""

        def note_all(stem: str, ending: str, how: str, cost: int) -> None:
            if len(stem) >= LEAST_STEM:
                # A bare stem is levelled anew: what now stands last may be spelt in another way there.
                bare = Level(stem + ending) if ending else self._lore.level(Folded(stem))
                for number in self._by_level.get(bare, ()):
                    note(number, how, cost)

        for ending in self._lore.unendings:
            if level.endswith(ending.text):
                stem = level[: -len(ending.text)]
                for instead in ending.instead:
                    vowels = len(ending.text) == len(instead) == 1 or (
                        len(ending.text) == 1 and ending.text != "i" and not instead
                    )
                    vowels = vowels and ending.text in VOWELS
                    how = "vowel" if vowels else "latin" if ending.language == "la" else "inflected"
                    note_all(stem, instead, how, -4 if vowels else -3)
        for vernacular, nominatives in self._lore.latinisings:
            if level.endswith(vernacular):
                for nominative in nominatives:
                    note_all(level[: len(level) - len(vernacular)], nominative, "latin", -3)
        stem = level[:-1] if level[-1] in VOWELS else level
        for vowel in ("", *VOWELS):
            if stem + vowel != level:
                note_all(stem, vowel, "vowel", -4)

    def _note_cut(self, text: Folded, note: Note) -> None:
        """Notes the words that begin so, and the forenames that have a form which begins so."""
        at = bisect_left(self._sorted_words, text)
        taken = 0
        classes: set[str] = set()
        while at < len(self._sorted_words) and self._sorted_words[at].startswith(text) and taken < 400:
            number = self._sorted[at]
            if self._sorted_words[at] != text:
                note(number, "short", -2)
                classes.update(self._class_of[number])
            at += 1
            taken += 1
        letters = text.replace("j", "i")
        for each, forms in self._lore.forename_forms.items():
            if each in classes or any(form.replace("j", "i").startswith(letters) for form in forms):
                for number in self._by_class.get(each, ()):
                    own = self._words[number].replace("j", "i").startswith(letters)
                    note(number, "short" if own else "short-equivalent", -2 if own else -3)

    def _note_near(self, level: Level, note: Note) -> None:
        """Notes the words that are one, two or three letters away, by their length, and begin or end alike."""
        furthest = 1 if len(level) <= 6 else 2 if len(level) <= 10 else 3
        for near, distance, _ in process.extract(
            level,
            self._neighbours(level, furthest),
            scorer=OSA.distance,
            score_cutoff=furthest,
            limit=40,
            processor=None,
        ):
            if distance:
                for number in self._by_level[near]:
                    note(number, f"near-{int(distance)}", -5 - int(distance))

    def _neighbours(self, level: Level, furthest: int) -> list[Level]:
        """The levelled words that may be so near: a slip spares the letters at one of the two ends."""
        found: dict[Level, None] = {}
        for sizes_of_ends in {_sizes(length) for length in range(len(level) - furthest, len(level) + furthest + 1)}:
            for key in _ends(level, sizes_of_ends):
                sizes, levels = self._by_end.get(key, ((), ()))
                begin, end = bisect_left(sizes, len(level) - furthest), bisect_left(sizes, len(level) + furthest + 1)
                found.update(dict.fromkeys(levels[begin:end]))
        return list(found)

    def near_cost(self, asked: Folded, word: int) -> int:
        """What is forgiven of a slip: long words are seldom alike by chance, and vowels are changed lightly."""
        level, other = self._lore.level(asked), self._levels[word]
        forgiven = max(0, min(len(level), len(other)) - 5) * self._lore.weight("near-long")
        if [char for char in level if char not in VOWELS] == [char for char in other if char not in VOWELS]:
            forgiven += self._lore.weight("near-vowel")
        return forgiven


def _sizes(length: int) -> tuple[int, int]:
    """How many letters of each end a word of that length is found by."""
    return next((first, last) for least, first, last in ENDS if length >= least or not least)


def _ends(level: Level, sizes: tuple[int, int]) -> tuple[str, str]:
    """The keys of the two ends of a word: its first letters, the very first by those it is spoken like, and its last."""
    return f"{BLOCKS.get(level[0], level[0])}{level[1 : sizes[0]]}-{sizes[0]}", f"{sizes[1]}-{level[-sizes[1] :]}"

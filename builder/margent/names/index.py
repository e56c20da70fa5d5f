"""The index of an authority: every form of every maker's name as numbers of words, and which forms hold a word.

Which of its words are like one that was read is in `likes.py`.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import log

from margent.names.index_stream import KINDS, Record
from margent.names.likes import Likes
from margent.names.lore import RELATIONS, Lore
from margent.names.normal import Folded, Level
from margent.names.parts import FAMILY, GIVEN, Parts, parts_of, taken_apart

PARTICLE = 4
"""Part of a word in the index, beside those of `parts.py`."""
_PART_BITS = 3
_ATTESTED, _FIRM, _INVERTED = 1 << 12, 1 << 13, 1 << 14


class Index:
    """Makers and the forms of their names. Numbers of makers, forms and words count from 0."""

    def __init__(self, lore: Lore) -> None:
        self.lore = lore
        self.iris: list[str] = []
        self.labels: list[str] = []
        self.kinds = bytearray()
        self.dates = array("h")
        """Six numbers a maker: born from, to, died from, to, active from, to; 0 where nothing is known."""
        self.roles: list[tuple[str, ...]] = []
        self.places: list[tuple[str, ...]] = []
        self.ties: dict[int, list[tuple[str, str]]] = {}
        self.objects: dict[int, list[str]] = {}
        self.words: list[Folded] = []
        self.form_texts: list[str] = []
        self.form_maker = array("i")
        self.form_flags = array("H")
        self.form_start = array("i", [0])
        self.form_words = array("i")
        self.number_of: dict[str, int] = {}
        self._numbers: dict[Folded, int] = {}
        self._derived = False

    # ---------------------------------------------------------------- building

    def add(self, record: Record) -> None:
        """Nothing comes back: the maker is in the index, with every form of the name."""
        maker = len(self.iris)
        self.iris.append(record.iri)
        self.number_of[record.iri] = maker
        self.labels.append(record.label)
        self.kinds.append(KINDS.index(record.kind))
        for span in (record.born, record.died, record.active):
            self.dates.extend(span if span is not None else (0, 0))
        self.roles.append(tuple(record.roles))
        self.places.append(tuple(record.places))
        if record.ties:
            self.ties[maker] = record.ties
        if record.objects:
            self.objects[maker] = record.objects
        seen: set[tuple[int, ...]] = set()
        for form in record.forms:
            named = parts_of(form.text, self.lore)
            named = tuple(_known_by_forename(parts, self.lore) for parts in named)
            for parts in (*named, *(way for each in named if (way := taken_apart(each, self.lore)) is not None)):
                self._add_form(maker, form.text, parts, attested=form.attested, seen=seen)

    def _add_form(self, maker: int, text: str, parts: Parts, *, attested: bool, seen: set[tuple[int, ...]]) -> None:
        packed = [self._number(word.text) << _PART_BITS | word.part for word in parts.words]
        packed += [self._number(word) << _PART_BITS | PARTICLE for word in parts.particles]
        flags = parts.generation | (RELATIONS.index(parts.relation) + 1 if parts.relation else 0) << 4
        flags |= (_ATTESTED if attested else 0) | (_FIRM if parts.firm else 0) | (_INVERTED if parts.inverted else 0)
        key = (flags & ~(_ATTESTED | _INVERTED), *packed)
        if key in seen and not attested:
            return  # the same form in another spelling of its points
        seen.add(key)
        self.form_texts.append(text)
        self.form_maker.append(maker)
        self.form_flags.append(flags)
        self.form_words.extend(packed)
        self.form_start.append(len(self.form_words))

    def _number(self, word: Folded) -> int:
        number = self._numbers.get(word)
        if number is None:
            number = self._numbers[word] = len(self.words)
            self.words.append(word)
        return number

    @classmethod
    def of(cls, records: Iterable[Record], lore: Lore) -> Index:
        """The index of those makers, ready to be asked."""
        index = cls(lore)
        for record in records:
            index.add(record)
        index.derive()
        return index

    # ---------------------------------------------------------------- what follows from the forms

    def derive(self) -> None:
        """Nothing comes back: the tables by which words and forms are found are made from the forms."""
        self._numbers = {}
        self.levels: list[Level] = [self.lore.level(word) for word in self.words]
        self._count()
        self._post()
        self.class_of: list[tuple[str, ...]] = [self.lore.classes(word) for word in self.words]
        self.likes = Likes(self.lore, self.words, self.levels, self.class_of)
        self._initials: dict[int, str] = {}
        self.tied_to: dict[int, list[tuple[str, int]]] = {}
        """For each maker, who is tied to him: what the other is to him, and the other's number."""
        for maker, ties in self.ties.items():
            for tie, iri in ties:
                if iri in self.number_of:
                    self.tied_to.setdefault(self.number_of[iri], []).append((tie, maker))
        self._generation_of: dict[int, int] = {}
        for form, maker in enumerate(self.form_maker):
            if self.form_flags[form] & 0xF:
                self._generation_of.setdefault(maker, self.generation(form))
        self.total = len(self.iris) + self.lore.weight("background")
        self._derived = True

    def _count(self) -> None:
        """How many makers have each word, each levelled spelling, each forename and each first letter."""
        self.of_word = array("i", bytes(4 * len(self.words)))
        last = array("i", b"\xff\xff\xff\xff" * len(self.words))
        by_level: dict[Level, int] = {}
        by_class: dict[str, int] = {}
        by_initial: dict[str, int] = {}
        by_family_initial: dict[str, int] = {}
        level_last: dict[str, int] = {}
        for form in range(len(self.form_maker)):
            maker = self.form_maker[form]
            for packed in self.form_words[self.form_start[form] : self.form_start[form + 1]]:
                word, part = packed >> _PART_BITS, packed & 7
                if last[word] == maker:
                    continue
                last[word] = maker
                self.of_word[word] += 1
                if part == PARTICLE:
                    continue
                text, level = self.words[word], self.levels[word]
                if level_last.get(level) != maker:
                    level_last[level] = maker
                    by_level[level] = by_level.get(level, 0) + 1
                if part == GIVEN:
                    for each in self.lore.classes(text):
                        if level_last.get("/" + each) != maker:
                            level_last["/" + each] = maker
                            by_class[each] = by_class.get(each, 0) + 1
                    by_initial[initial_of(text)] = by_initial.get(initial_of(text), 0) + 1
                elif part == FAMILY:
                    by_family_initial[initial_of(text)] = by_family_initial.get(initial_of(text), 0) + 1
        self.of_level, self.of_class = by_level, by_class
        self.of_initial, self.of_family_initial = by_initial, by_family_initial

    def _post(self) -> None:
        """For each word the forms that hold it, in one array with the place where each word's forms start."""
        counts = array("i", bytes(4 * (len(self.words) + 1)))
        for packed in self.form_words:
            counts[(packed >> _PART_BITS) + 1] += 1
        for number in range(len(self.words)):
            counts[number + 1] += counts[number]
        self.post_start = array("i", counts)
        self.posted = array("i", bytes(4 * len(self.form_words)))
        for form in range(len(self.form_maker)):
            for packed in self.form_words[self.form_start[form] : self.form_start[form + 1]]:
                word = packed >> _PART_BITS
                self.posted[counts[word]] = form
                counts[word] += 1
        self._by_initials: dict[str, list[int]] | None = None

    # ---------------------------------------------------------------- asking

    def forms_with(self, word: int) -> Sequence[int]:
        """The forms that hold the word."""
        return self.posted[self.post_start[word] : self.post_start[word + 1]]

    def form(self, number: int) -> Sequence[int]:
        """The packed words of a form."""
        return self.form_words[self.form_start[number] : self.form_start[number + 1]]

    def generation(self, form: int) -> int:
        """1 for the elder, 2 for the younger, 0 where the form says nothing."""
        return self.form_flags[form] & 0xF

    def generation_of(self, maker: int) -> int:
        """Which of several of the name the maker is by any form of the name, the authorised one first; 0 where none says it."""
        return self._generation_of.get(maker, 0)

    def relation(self, form: int) -> str:
        """What the form says that its bearer is to the one named; empty where nothing."""
        at = self.form_flags[form] >> 4 & 0xF
        return RELATIONS[at - 1] if at else ""

    def firm(self, form: int) -> bool:
        """Whether the form is that of a house."""
        return bool(self.form_flags[form] & _FIRM)

    def inverted(self, form: int) -> bool:
        """Whether the form has the surname first, before a comma, so that the parts of its words are certain."""
        return bool(self.form_flags[form] & _INVERTED)

    def attested(self, form: int) -> bool:
        """Whether the form was met, not made up for the file."""
        return bool(self.form_flags[form] & _ATTESTED)

    def kind(self, maker: int) -> str:
        """The class of a maker by its local name."""
        return KINDS[self.kinds[maker]]

    def rarity(self, word: int, part: int) -> int:
        """How much the word proves, in thousandths of a nat: the rarer among the makers, the more."""
        count = self.of_level.get(self.levels[word], 0)
        if part == GIVEN:
            count = max([count, *(self.of_class.get(each, 0) for each in self.class_of[word])])
        return self.proof(count)

    def proof(self, count: int) -> int:
        """What being one of so many makers proves, in thousandths of a nat."""
        return int(1000 * log(self.total / (count + 0.5)))

    def bearers(self, word: int) -> int:
        """How many makers have the word, in any spelling of the same level."""
        return self.of_level.get(self.levels[word], 0)

    def initials(self, word: int) -> str:
        """First letters by which the forename may be cut short: its own first, then those of its likes in other languages."""
        known = self._initials.get(word)
        if known is None:
            own = initial_of(self.words[word])
            others = {initial_of(form) for each in self.class_of[word] for form in self.lore.forename_forms[each]}
            known = own + "".join(sorted(others - {own}))
            self._initials[word] = known
        return known

    def forms_by_initials(self, given: str, family: str) -> Sequence[int]:
        """The forms whose first forename and surname begin so; any forename without `given`."""
        if self._by_initials is None:
            table: dict[str, list[int]] = {}
            for form in range(len(self.form_maker)):
                first = second = ""
                for packed in self.form(form):
                    word, part = packed >> _PART_BITS, packed & 7
                    if part == GIVEN and not first:
                        first = initial_of(self.words[word])
                    elif part == FAMILY and not second:
                        second = initial_of(self.words[word])
                if second:
                    table.setdefault(first + second if first else "_" + second, []).append(form)
            self._by_initials = table
        return self._by_initials.get(given + family, ()) if given else self._by_initials.get("_" + family, ())


def _known_by_forename(parts: Parts, lore: Lore) -> Parts:
    """The name of one who has only a forename in the file, with that word as a forename: Raphael."""
    if len(parts.words) == 1 and parts.words[0].part == FAMILY and lore.classes(parts.words[0].text):
        return replace(parts, words=(parts.words[0]._replace(part=GIVEN),))
    return parts


def initial_of(word: str) -> str:
    """The first letter, with I for J and U for V and W."""
    first = word[:1]
    return {"j": "i", "y": "i", "v": "u", "w": "u"}.get(first, first)

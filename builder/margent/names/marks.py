"""Marks looked up: which monograms, devices and stamps of an authority fit what was seen, for whom they stand and what they state.

marks = Marks(vocabulary)
found = marks.find(Seen(letters="VA", devices=("heron",), years=(1624, 1624)))
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from margent.names.lore import Weighed
from margent.names.mark_letters import UNREAD, LettersFit, compared, letters_of
from margent.names.mark_words import Asked, MarkWords, folded_words, weighty
from margent.vocabulary.edtf import EARLIEST, LATEST, years
from margent.vocabulary.model import Iri, Maker, Mark, Text, Vocabulary
from margent.vocabulary.name_rules import EvidenceWeight

MAKERS_MARKS = ("makersMark", "printersChop", "publishersMark")
"""Kinds of marks that a maker put on the matrix or the impression; all others tell what befell a sheet, and name no maker."""

NEAR = 15
"""Years by which a mark may be off and is still near."""

MOST_FOUND = 10

Years = tuple[int, int]


class Seen(NamedTuple):
    """What was seen of a mark, as far as it was: letters in any order, words for what it shows and how the letters stand, years."""

    letters: str = ""
    devices: tuple[str, ...] = ()
    arrangements: tuple[str, ...] = ()
    years: Years | None = None


class Reason(NamedTuple):
    """One thing that speaks for or against a mark."""

    weight: int
    wording: str


@dataclass(frozen=True, slots=True)
class FoundMark:
    """One mark that may be meant, for whom it stands, and why: `weight` adds up the reasons, in thousandths of a nat."""

    mark: Mark
    makers: tuple[Maker, ...]
    weight: int
    because: tuple[str, ...]

    @property
    def makers_mark(self) -> bool:
        """Whether it is a maker's mark at all, and not a stamp on the sheet or a mark in the paper."""
        return self.mark.mark_kind in MAKERS_MARKS


class Answer(NamedTuple):
    """The marks that fit, the best first, and the words of the question that the vocabulary does not know."""

    found: tuple[FoundMark, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Described:
    """What a mark is compared by."""

    mark: Mark
    letters: tuple[str, ...]
    devices: frozenset[Iri]
    arrangements: frozenset[Iri]
    words: frozenset[str]
    period: Years | None


class Marks:
    """The marks of the authorities in a vocabulary, ready to be looked up."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._vocabulary = vocabulary
        self.devices = MarkWords(vocabulary, "DeviceWord")
        self.arrangements = MarkWords(vocabulary, "ArrangementWord")
        self.weights = {
            rule.key: Weighed(rule.weight, rule.wording.value if rule.wording else "")
            for rule in vocabulary.name_rules.values()
            if isinstance(rule, EvidenceWeight) and rule.key.startswith("mark-")
        }
        self.described = [self._description(mark) for mark in vocabulary.marks.values() if not mark.withdrawn]

    def find(self, seen: Seen, limit: int = MOST_FOUND) -> Answer:
        """The marks that fit what was seen. One that has nothing of it, or has more against it than for it, is not answered."""
        read = letters_of(seen.letters)
        devices = [asked for text in seen.devices for asked in self.devices.asked(text)]
        arrangements = [asked for text in seen.arrangements for asked in self.arrangements.asked(text)]
        found: list[FoundMark] = []
        for each in self.described:
            reasons = list(self._reasons(each, read, devices, arrangements, seen.years))
            weight = sum(reason.weight for reason in reasons)
            if weight > 0 and self._has_something(each, read, devices, arrangements):
                because = tuple(reason.wording for reason in reasons if reason.wording)
                found.append(FoundMark(each.mark, self._makers(each.mark), weight, because))
        found.sort(key=lambda each: (-each.weight, each.mark.iri))
        described = frozenset().union(*(each.words for each in self.described))
        unknown = [asked.said for asked in devices if not asked.entries and not described & weighty(asked.said.split())]
        unknown += [asked.said for asked in arrangements if not asked.entries]
        return Answer(tuple(found[:limit]), tuple(dict.fromkeys(unknown)))

    def _has_something(
        self, each: Described, read: Sequence[str], devices: Sequence[Asked], arrangements: Sequence[Asked]
    ) -> bool:
        """Whether it has a letter that was read, or shows a thing that was asked for; or stands so, where nothing else is known."""
        if any(letter in each.letters for letter in read):
            return True
        if any(self._device(each, asked).weight > 0 for asked in devices):
            return True
        return not read and not devices and bool(arrangements)

    def _reasons(
        self,
        each: Described,
        read: tuple[str, ...],
        devices: Sequence[Asked],
        arrangements: Sequence[Asked],
        asked_years: Years | None,
    ) -> Iterator[Reason]:
        if read:
            yield from self._by_letters(each, read)
        for asked in devices:
            yield self._device(each, asked)
        for asked in arrangements:
            if asked.entries and each.arrangements:
                yield self._arrangement(each, asked)
        if asked_years is not None and each.period is not None:
            yield self._by_date(each.period, asked_years)

    def _by_letters(self, each: Described, read: tuple[str, ...]) -> Iterator[Reason]:
        if not each.letters:
            yield self._told("mark-letters-none")
            return
        fit = compared(read, each.letters)
        if fit.alike:
            yield self._told("mark-letter", fit.alike, letters=each.mark.letters)
            if not fit.in_order:
                yield self._told("mark-letter-order")
        if fit.missing:
            yield self._told("mark-letter-missing", len(fit.missing), letters=" and ".join(fit.missing))
        if fit.extra:
            yield self._extra(read, fit)

    def _extra(self, read: tuple[str, ...], fit: LettersFit) -> Reason:
        """What the letters that are too many weigh: little, where they stand last and may be a term."""
        behind = "".join(read[-len(fit.extra) :])
        if fit.in_order and fit.alike and tuple(behind) == fit.extra and (term := self.terms.get(behind)):
            return self._told("mark-letter-term", letters=behind, term=term)
        letters = [letter for letter in fit.extra if letter != UNREAD] or ["a letter that was not read"]
        return self._told("mark-letter-extra", len(fit.extra), letters=" and ".join(letters))

    def _device(self, each: Described, asked: Asked) -> Reason:
        if not asked.entries:
            if each.words & weighty(asked.said.split()):
                return self._told("mark-device-word", device=asked.said)
            return self._told("mark-device-other", device=asked.said)
        if asked.entries & each.devices:
            return self._told("mark-device", device=self.devices.label(min(asked.entries & each.devices)))
        device = self.devices.label(min(asked.entries))
        for shown in sorted(each.devices):
            if asked.entries & self.devices.broader(shown):
                return self._told("mark-device-narrower", shown=self.devices.label(shown), device=device)
        broader = frozenset().union(*(self.devices.broader(entry) for entry in asked.entries))
        for shown in sorted(each.devices & broader):
            return self._told("mark-device-broader", shown=self.devices.label(shown), device=device)
        return self._told("mark-device-other", device=device)

    def _arrangement(self, each: Described, asked: Asked) -> Reason:
        words = self.arrangements
        if asked.entries & each.arrangements:
            return self._told("mark-arrangement", arrangement=words.label(min(asked.entries & each.arrangements)))
        wanted = words.label(min(asked.entries))
        around = frozenset().union(*(words.broader(entry) for entry in asked.entries))
        for shown in sorted(each.arrangements):
            if shown in around or asked.entries & words.broader(shown):
                return self._told("mark-arrangement-near", shown=words.label(shown), arrangement=wanted)
        return self._told("mark-arrangement-other", arrangement=wanted)

    def _by_date(self, period: Years, asked: Years) -> Reason:
        said = _span(period)
        gap = max(asked[0] - period[1], period[0] - asked[1], 0)
        if not gap:
            return self._told("mark-date-fit", period=said)
        if gap <= NEAR:
            return self._told("mark-date-near", period=said, gap=gap, years="year" if gap == 1 else "years")
        return self._told("mark-date-far", period=said, gap=gap)

    def _told(self, key: str, times: int = 1, **blanks: object) -> Reason:
        weighed = self.weights[key]
        return Reason(weighed.weight * times, weighed.wording.format(**blanks))

    def _description(self, mark: Mark) -> Described:
        label = " ".join(text.value for text in mark.labels)
        device = " ".join(text.value for text in mark.devices)
        arrangement = " ".join(text.value for text in mark.arrangements)
        return Described(
            mark,
            letters_of((mark.letters or "").replace(UNREAD, "")),
            self.devices.shown(f"{device} . {label}"),
            self.arrangements.shown(f"{arrangement} . {label}"),
            frozenset(folded_words(f"{device} {label}")),
            _period(mark),
        )

    def _makers(self, mark: Mark) -> tuple[Maker, ...]:
        return tuple(self._vocabulary.makers[iri] for iri in mark.stands_for if iri in self._vocabulary.makers)

    @cached_property
    def terms(self) -> dict[str, str]:
        """Letters behind a name that may state a role, with the term they are short for: F for fecit."""
        found: dict[str, list[Text]] = {}
        for term in self._vocabulary.terms.values():
            if (
                term.withdrawn
                or " " in term.literal.value
                or not any("/role/" in said for sense in term.senses for said in sense.says)
            ):
                continue
            full = self._vocabulary.terms.get(term.short_for[0]) if term.short_for else None
            forms = [term.literal.value, *(form.value for form in term.short_forms)]
            if term.shortened_to is not None:
                word = term.literal.value
                forms += [word[:end] for end in range(len(term.shortened_to.value), len(word))]
            for form in forms:
                letters = "".join(letters_of(form))
                found.setdefault(letters, []).append((full or term).literal)
        # Latin first: it is the language of most terms behind monograms; then the shortest.
        return {
            letters: min(literals, key=lambda text: (text.lang != "la", len(text.value), text.value)).value
            for letters, literals in found.items()
        }


def _period(mark: Mark) -> Years | None:
    """The years of use; None where they are not said, or not as EDTF, which is checked elsewhere."""
    if mark.period is None:
        return None
    try:
        return years(mark.period)
    except ValueError:
        return None


def _span(period: Years) -> str:
    first, last = period
    if first <= EARLIEST:
        return f"until {last}"
    return f"from {first}" if last >= LATEST else str(first) if first == last else f"{first} to {last}"

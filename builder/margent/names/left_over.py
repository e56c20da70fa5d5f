"""What it says that a name and a form of a maker's name each have words that the other lacks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from rapidfuzz.distance import Indel

from margent.names.index import Index
from margent.names.normal import Folded
from margent.names.parts import FAMILY, PHRASE, Parts, Word

LIKENESS = 0.6
"""Share of letters that two surnames must have in common, in order, to have some likeness."""
GENERATION_WORDS = ("", "elder", "younger", "third", "fourth")


class Other(NamedTuple):
    """Evidence that is no pair of words: its key, what was read and what stands in the form."""

    key: str
    read: tuple[str, ...] = ()
    form: tuple[str, ...] = ()


@dataclass(slots=True)
class Left:
    """The words of the name that was read, and of a form, which found no like on the other side."""

    extra_given: list[Word]
    extra_family: list[Word]
    missing_given: list[Folded]
    missing_family: list[Folded]
    missing_phrase: list[Folded]
    given_met: bool
    family_met: bool
    known_by_forename: bool
    """Whether the form has a forename first and then an origin or a father: Duccio di Buoninsegna."""
    first_given: Folded | None
    """The first forename of the form."""


class LeftOver:
    """Weighs nothing itself: it names the evidence that lies in words which found no like."""

    def __init__(self, index: Index) -> None:
        self.index = index
        self.lore = index.lore

    def of_words(self, parts: Parts, words: Sequence[tuple[int, int]], left: Left) -> list[Other]:
        """What it says that words were read which the form lacks, and the other way about."""
        others = [Other("phrase-left-out", (), (word,)) for word in left.missing_phrase]
        if any(word.part == PHRASE for word in parts.words) != any(part == PHRASE for _, part in words):
            others.append(Other("conventional-other"))
        others += self._surname_left_over(parts, words, left)
        others += self._forenames_left_over(parts, left)
        others += [Other("word-added", (word.text,)) for word in left.extra_family]
        return others

    def _surname_left_over(self, parts: Parts, words: Sequence[tuple[int, int]], left: Left) -> list[Other]:
        """Surnames on one side only; of those that were read the first is taken off `left` where another stands in its place."""
        there = [self.index.words[number] for number, part in words if part == FAMILY]
        if left.family_met or not there or not (left.missing_family or left.extra_family):
            return [Other("family-part-left-out", (), (word,)) for word in left.missing_family]
        missing = left.missing_family or there
        if not left.extra_family:
            return [Other("origin-left-out" if left.known_by_forename else "family-left-out", (), tuple(missing))]
        there_origin = left.known_by_forename or missing[0] in self.lore.origins
        key = "origin-other" if there_origin != bool(self._origin(parts)) else "family-other"
        read = left.extra_family.pop(0).text
        others = [Other(key, (), tuple(missing))]
        if self._some_likeness(read, missing[0]):
            others.append(Other("family-likeness", (read,), (missing[0],)))
        return others

    def _forenames_left_over(self, parts: Parts, left: Left) -> list[Other]:
        """Forenames on one side only; the fathers' names among them are told apart."""
        of_father = self.lore.is_patronymic
        fathers_read = [word.text for word in left.extra_given if of_father(word.text)]
        fathers_there = [word for word in left.missing_given if of_father(word)]
        extra = [word for word in left.extra_given if not of_father(word.text)]
        missing = [word for word in left.missing_given if not of_father(word)]
        others: list[Other] = []
        while fathers_read and fathers_there:
            others.append(Other("patronymic-other", (fathers_read.pop(0),), (fathers_there.pop(0),)))
        others += [Other("patronymic-added", (word,)) for word in fathers_read]
        others += [Other("patronymic-left-out", (), (word,)) for word in fathers_there]
        if missing and not left.given_met:
            if not extra:
                others.append(Other("forename-left-out"))
            else:
                others.append(Other("forename-other", (extra.pop(0).text,), tuple(missing)))
                if left.family_met and (origin := self._origin(parts)):
                    others.append(Other("origin-alone", (origin,)))
        else:
            while extra and missing:
                read, there = extra.pop(0), missing.pop(0)
                first = there == left.first_given or read is parts.given[0]
                others.append(Other("forename-first-other" if first else "forename-part-other", (read.text,), (there,)))
            others += [
                Other("forename-first-left-out" if word == left.first_given else "forename-part-left-out", (), (word,))
                for word in missing
            ]
        for word in extra:
            key = "forename-first-added" if left.given_met and word is parts.given[0] else "forename-added"
            others.append(Other("initial-added" if word.initial else key, (word.text,)))
        return others

    def _origin(self, parts: Parts) -> str:
        """The surname where it rather is a place of origin: Marco da Siena, Agostino Veneziano; empty where it is not."""
        family = parts.family
        if len(family) != 1 or not parts.given:
            return ""
        named = family[0].text
        if named in self.lore.origins or (
            len(parts.particles) == 1
            and parts.particles[0] in self.lore.origin_particles
            and self.lore.classes(parts.given[0].text)
        ):
            return named
        return ""

    def _some_likeness(self, read: Folded, form: Folded) -> bool:
        """Whether two surnames that are no spellings of each other have most of their letters in common, in order."""
        return Indel.normalized_similarity(self.lore.level(read), self.lore.level(form), score_cutoff=LIKENESS) > 0

    def beside(self, parts: Parts, form: int, there: tuple[Folded, ...], others: list[Other]) -> None:
        """Adds what the words beside the name say: particles, which of several, house."""
        index = self.index
        if parts.particles or there:
            if not there:
                others.append(Other("particle-added", parts.particles))
            elif not parts.particles:
                others.append(Other("particle-left-out", (), there))
            elif not _same_particles(parts.particles, there):
                others.append(Other("particle-other", parts.particles, there))
        maker = index.form_maker[form]
        generation = index.generation(form)
        if parts.generation and not generation:
            generation = index.generation_of(maker)
        if parts.generation or generation:
            read, stands = (parts.generation_word,), (GENERATION_WORDS[min(generation, 4)],)
            if not generation:
                others.append(Other("generation-added", read))
            elif not parts.generation:
                others.append(Other("generation-left-out", (), stands))
            else:
                others.append(
                    Other("generation-same" if generation == parts.generation else "generation-other", read, stands)
                )
        relation = index.relation(form)
        if relation and relation != parts.relation:
            others.append(Other("relation-other", (relation,), (index.labels[maker],)))
        elif relation:
            others.append(Other("relation-same", (parts.relation_word,)))
        if index.kind(maker) == "Family":
            others.append(Other("family-for-person" if parts.given else "family-answer"))
        firm = index.firm(form) or index.kind(maker) == "Firm"
        if parts.firm or firm:
            others.append(
                Other("firm-same" if parts.firm and firm else "firm-added" if parts.firm else "firm-left-out")
            )


def _same_particles(left: Sequence[str], right: Sequence[str]) -> bool:
    """Whether two rows of particles are the same, v. standing for van or von and vander for van der."""
    if "".join(left) == "".join(right):
        return True
    short, long = sorted(("".join(left), "".join(right)), key=len)
    return bool(short) and long.startswith(short) and short[0] in "vd"

"""A name weighed against the forms of an index: which makers may be meant, by which form, and what each word of it proves.

All weights are whole numbers, thousandths of a nat, and say how much likelier a maker of the file is than somebody drawn
at random. The share of "somebody not in the file" follows from how rare the name is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from margent.names.evidence import Evidence, told
from margent.names.index import PARTICLE, Index, initial_of
from margent.names.left_over import Left, LeftOver, Other
from margent.names.pairs import TRANSLATED, Asked, Pair, Pairing
from margent.names.parts import EXTRA, FAMILY, GIVEN, PHRASE, Parts
from margent.names.ways import readings_of

MOST_WEIGHED, MOST_WEIGHED_ASIDE = 48, 24
"""Forms that are weighed word by word, for the plain way of taking a name apart and for each other way."""
MOST_FORMS = 4000
"""Forms taken from words that many makers share, once rarer words have found some."""
SLACK = 8000
"""A form whose words prove so much less than the best form's weight is not weighed: it could only come behind."""
NAMING = frozenset({FAMILY, PHRASE})
INITIALS = frozenset({"forename-initial", "forename-initial-equivalent"})


@dataclass(frozen=True, slots=True)
class Matched:
    """The best form of one maker: `weight` is the sum, `pairs` and `others` what it is the sum of."""

    maker: int
    form: int
    weight: int
    parts: Parts
    pairs: tuple[Pair, ...]
    others: tuple[Other, ...]

    def evidence(self, index: Index) -> list[Evidence]:
        """Every piece of evidence with its weight in words; together they weigh `weight`."""
        found = []
        for pair in sorted(self.pairs, key=lambda each: each.asked):
            word = self.parts.words[pair.asked]
            count = f"{index.bearers(pair.word):,} of {len(index.iris):,}"
            wording = index.lore.weights[pair.key].wording.format(
                read=shown(word.text, cut=word.cut or word.initial), form=shown(index.words[pair.word]), count=count
            )
            found.append(Evidence(pair.key, pair.weight, wording))
        for other in self.others:
            read, form = (
                " ".join(shown(word) if other.key not in AS_READ else word for word in words) for words in other[1:]
            )
            found.append(told(index.lore, other.key, read=read, form=form))
        return found


AS_READ = frozenset({
    "particle-added", "particle-left-out", "particle-other", "generation-same", "generation-other", "generation-added", "generation-left-out", "joined",
})  # fmt: skip
"""Evidence about words that are no names and keep their small letters."""


def shown(word: str, *, cut: bool = False) -> str:
    """A folded word for the eye: with a capital letter, and a point where it was cut short."""
    return word[:1].upper() + word[1:] + ("." if cut else "")


class Found(NamedTuple):
    """The makers whose name may be meant, the likeliest first, and how many further ones are as good as the last."""

    matched: list[Matched]
    as_good: int


class Matcher:
    """Weighs names against one index; it remembers nothing of the names but which words are alike."""

    def __init__(self, index: Index) -> None:
        self.index = index
        self.lore = index.lore
        self._weight = {key: weighed.weight for key, weighed in self.lore.weights.items()}
        self._pairing = Pairing(index)
        self._left_over = LeftOver(index)

    def match(self, text: str) -> Found:
        """The makers whose name may be meant, each by its best form."""
        best: dict[int, Matched] = {}
        top, as_good = -(10**9), 0
        readings = readings_of(text, self.lore)
        plain = frozenset(readings[0].words) if readings else frozenset()
        for number, parts in enumerate(readings):
            aside = number > 0
            asked = [
                Asked(
                    at,
                    sum(each.part == GIVEN for each in parts.words[:at]),
                    word,
                    {} if word.initial else self.index.likes.of(word),
                    initial_of(word.text),
                    aside and word not in plain,
                )
                for at, word in enumerate(parts.words)
            ]
            scored = self._forms(parts, asked, aside=aside)
            most = MOST_WEIGHED_ASIDE if aside else MOST_WEIGHED
            for proof, form in scored[:most]:
                if proof + SLACK < top:
                    break
                matched = self._weigh(parts, asked, form, aside=aside)
                if matched is not None:
                    top = max(top, matched.weight)
                    known = best.get(matched.maker)
                    if known is None or known.weight < matched.weight:
                        best[matched.maker] = matched
            if not aside and len(scored) > most:
                least = scored[most - 1][0]
                as_good = len(
                    {self.index.form_maker[form] for proof, form in scored[most:] if proof == least} - best.keys()
                )
        return Found(sorted(best.values(), key=lambda each: (-each.weight, each.maker)), as_good)

    # ---------------------------------------------------------------- which forms are weighed at all

    def _forms(self, parts: Parts, asked: Sequence[Asked], *, aside: bool) -> list[tuple[int, int]]:
        """The forms worth weighing, with what their words prove by a quick sum, the most first."""
        index = self.index
        worth: dict[int, int] = {}
        sized: list[tuple[int, Sequence[int]]] = []
        for each in asked:
            for number, like in each.likes.items():
                value = index.rarity(number, GIVEN if like.how in TRANSLATED else each.word.part) + like.cost * 700
                if worth.get(number, -1) < value:
                    worth[number] = value
            size = sum(index.post_start[number + 1] - index.post_start[number] for number in each.likes)
            if size:
                sized.append((size, tuple(each.likes)))
        sized.sort(key=lambda each: each[0])
        forms: set[int] = set()
        for size, numbers in sized:
            if size > MOST_FORMS and (forms or aside):
                continue
            for number in numbers:
                forms.update(
                    index.forms_with(number)[: max(0, MOST_FORMS - len(forms))]
                    if size > MOST_FORMS
                    else index.forms_with(number)
                )
        if all(each.word.initial for each in asked):
            forms.update(self._forms_by_initials(parts))
        initials = {
            each.initial: index.proof(index.of_initial.get(each.initial, 0))
            for each in asked
            if each.word.initial and each.word.part == GIVEN
        }
        for each in asked:
            if each.word.initial and each.word.part == PHRASE:  # the letters of a monogrammist
                for number in index.likes.of_text(each.word.text):
                    worth[number] = 3000
                    forms.update(index.forms_with(number))
        start, words, get = index.form_start, index.form_words, worth.get
        scored: list[tuple[int, int]] = []
        for form in forms:
            total = 0
            for packed in words[start[form] : start[form + 1]]:
                total += get(packed >> 3, 0)
                if initials and packed & 7 == GIVEN:
                    total += initials.get(index.initials(packed >> 3)[:1], 0)
            scored.append((-total, form))
        scored.sort()
        return [(-total, form) for total, form in scored]

    def _forms_by_initials(self, parts: Parts) -> list[int]:
        """The forms that fit initials alone."""
        family = [initial_of(word.text) for word in parts.family]
        given = [initial_of(word.text) for word in parts.given]
        if not family:
            return []
        found = list(self.index.forms_by_initials(given[0] if given else "", family[0]))
        for word in parts.words:
            for number in self.index.likes.of_text(word.text):
                found += self.index.forms_with(number)
        return found

    # ---------------------------------------------------------------- one form

    def _weigh(self, parts: Parts, asked: Sequence[Asked], form: int, *, aside: bool) -> Matched | None:
        """The name weighed against one form; None where no word is alike."""
        index = self.index
        packed = index.form(form)
        words = [(each >> 3, each & 7) for each in packed if each & 7 != PARTICLE]
        crossing = (
            0
            if sum([word.part != EXTRA for word in parts.words]) == 1
            else 3
            if parts.inverted and index.inverted(form)
            else 1
        )
        pairs: list[tuple[Pair, int]] = []
        given = -1
        for place, (number, part) in enumerate(words):
            given += part == GIVEN
            for each in asked:
                if each.word.initial:
                    pair = self._pairing.of_initial(each, number, part)
                else:
                    like = each.likes.get(number)
                    pair = (
                        self._pairing.of_words(each, like, number, part, crossing, aside=aside)
                        if like is not None
                        else self._pairing.full_for_initial(each, number, part)
                    )
                if pair is None:
                    continue
                if each.given != given and part == GIVEN and pair.key in INITIALS:
                    pair = pair._replace(weight=pair.weight + self._weight["initial-displaced"])
                pairs.append((pair, place))
        if not pairs:
            return None
        if len(pairs) > 1:
            pairs.sort(reverse=True)
        taken_asked: set[int] = set()
        taken_words: set[int] = set()
        chosen: list[Pair] = []
        for pair, place in pairs:
            if pair.asked not in taken_asked and place not in taken_words:
                taken_asked.add(pair.asked)
                taken_words.add(place)
                chosen.append(pair)
        there = tuple([index.words[each >> 3] for each in packed if each & 7 == PARTICLE])
        chosen = self._bounded(chosen)
        missing = [(index.words[number], part) for at, (number, part) in enumerate(words) if at not in taken_words]
        extra = [word for at, word in enumerate(parts.words) if at not in taken_asked]
        extra_family = [word for word in extra if word.part in NAMING]
        first = next((index.words[number] for number, part in words if part == GIVEN), None)
        left = Left(
            [word for word in extra if word.part == GIVEN],
            extra_family,
            [word for word, part in missing if part == GIVEN],
            [word for word, part in missing if part == FAMILY],
            [word for word, part in missing if part == PHRASE],
            any(
                pair.part == GIVEN == parts.words[pair.asked].part and pair.key != "patronymic-same" for pair in chosen
            ),
            any(
                pair.part in NAMING and (parts.words[pair.asked].part in NAMING or not extra_family) for pair in chosen
            ),
            bool(there) and not index.inverted(form),
            first,
        )
        others = self._left_over.of_words(parts, words, left)
        self._left_over.beside(parts, form, there, others)
        if aside:
            others.append(Other("joined", (parts.text,)))
        if any(pair.key == "family-latin" for pair in chosen) and any(
            pair.part == GIVEN and parts.words[pair.asked].text in self.lore.latin_words for pair in chosen
        ):
            others.append(Other("latin-both"))
        total = sum([pair.weight for pair in chosen]) + sum([self._weight[other.key] for other in others])
        return Matched(index.form_maker[form], form, total, parts, tuple(chosen), tuple(others))

    def _bounded(self, chosen: Sequence[Pair]) -> list[Pair]:
        """The pairs, where all words of a surname together prove no more than that one maker has it, and forenames so much at most.

        The words of a double surname go together, and a family has its forenames.
        """
        room = {GIVEN: self._weight["forenames-most"], FAMILY: self.index.proof(1)}
        if not any(pair.part == FAMILY for pair in chosen):
            return list(chosen)
        bounded = []
        for pair in chosen:
            most = room.get(pair.part)
            if most is not None and pair.weight > 0:
                weight = min(pair.weight, most)
                room[pair.part] = most - weight
                bounded.append(pair._replace(weight=weight))
            else:
                bounded.append(pair)
        return bounded

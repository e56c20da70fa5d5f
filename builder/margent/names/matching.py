"""A name weighed against the forms of an index: which makers may be meant, by which form, and what each word of it proves.

All weights are whole numbers, thousandths of a nat, and say how much likelier a maker of the file is than somebody drawn
at random. The share of "somebody not in the file" follows from how rare the name is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from rapidfuzz.distance import Indel

from margent.names.evidence import Evidence, told
from margent.names.index import PARTICLE, Index, Like, initial_of
from margent.names.lore import Lore
from margent.names.normal import Folded
from margent.names.parts import EXTRA, FAMILY, GIVEN, PHRASE, Parts, Word, parts_of, taken_apart

MOST_WEIGHED, MOST_WEIGHED_ASIDE = 48, 24
"""Forms that are weighed word by word, for the plain way of taking a name apart and for each other way."""
MOST_FORMS = 4000
"""Forms taken from words that many makers share, once rarer words have found some."""
SLACK = 8000
"""A form whose words prove so much less than the best form's weight is not weighed: it could only come behind."""
CROSSED = {GIVEN, FAMILY}
NAMING = frozenset({FAMILY, PHRASE})
TRANSLATED = frozenset({"equivalent", "short-equivalent"})
ALIKE = frozenset({"same", "spelling", "equivalent"})
INITIALS = frozenset({"forename-initial", "forename-initial-equivalent"})
LIKENESS = 0.6
"""Share of letters that two surnames must have in common, in order, to have some likeness."""
LEAST_SLIP = -2500
"""What a slip costs at least, however long the word."""
TITLE = 300
"""What a word proves that may as well be missing."""
GENERATION_WORDS = ("", "elder", "younger", "third", "fourth")


class Pair(NamedTuple):
    """One word read beside one word of a form: what it proves and how they are alike."""

    weight: int
    key: str
    asked: int
    word: int
    part: int


class Other(NamedTuple):
    """Evidence that is no pair of words: its key, what was read and what stands in the form."""

    key: str
    read: tuple[str, ...] = ()
    form: tuple[str, ...] = ()


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


def readings_of(text: str, lore: Lore) -> tuple[Parts, ...]:
    """The ways in which a name that was read may be taken apart.

    Beside the plain one: particles written together with the name (Delamotte for de la Motte), and the other way about.
    """
    found = parts_of(text, lore)
    if not found:
        return ()
    main = found[0]
    ways = [main, *found[1:]]
    ways += [
        way
        for way in (
            _joined(main, ""),
            _joined(main, lore.contraction(main.particles)),
            _monogram(main),
            _one_forename(main),
            taken_apart(main, lore),
        )
        if way is not None
    ]
    ways += _split(main, lore)
    if (way := _with_origin(main, lore)) is not None:
        ways.append(way)
    return tuple(ways)


def _joined(parts: Parts, contracted: str | None) -> Parts | None:
    """The particles, or what they are contracted to, taken together with the surname as one word; None without any."""
    if not parts.particles or not parts.family or contracted is None:
        return None
    first = parts.family[0]
    word = Word(Folded((contracted or "".join(parts.particles)) + first.text), FAMILY, first.cut)
    return _changed(parts, tuple(word if each is first else each for each in parts.words), ())


def _split(parts: Parts, lore: Lore) -> list[Parts]:
    """The surname without each particle that it may begin with."""
    if parts.particles or not parts.family:
        return []
    first = parts.family[0]
    ways = []
    for length in range(2, min(7, len(first.text) - 3) + 1):
        if first.text[:length] in lore.particles or first.text[:length] in lore.contractions:
            word = Word(Folded(first.text[length:]), FAMILY, first.cut)
            ways.append(
                _changed(
                    parts,
                    tuple(word if each is first else each for each in parts.words),
                    (Folded(first.text[:length]),),
                )
            )
    return ways


def _one_forename(parts: Parts) -> Parts | None:
    """The first two forenames taken together, as in Giancristoforo; None without two."""
    given = parts.given
    if len(given) < 2 or given[0].cut or given[0].initial or given[1].initial:
        return None
    first, second = given[:2]
    word = Word(Folded(first.text + second.text), GIVEN)
    return _changed(
        parts, tuple(word if each is first else each for each in parts.words if each is not second), parts.particles
    )


def _with_origin(parts: Parts, lore: Lore) -> Parts | None:
    """A name such as Holm of Breda with the place as a word that may be missing, and the word before it as the name; else None."""
    if (
        parts.inverted
        or not parts.particles
        or len(parts.words) != 2
        or [word.part for word in parts.words] != [GIVEN, FAMILY]
    ):
        return None
    first, place = parts.words
    if lore.classes(first.text):
        return None
    return _changed(parts, (Word(first.text, FAMILY, first.cut), Word(place.text, EXTRA)), ())


def _monogram(parts: Parts) -> Parts | None:
    """Two or three letters taken as initials: AV as A. V.; None for anything longer or with small letters."""
    letters = parts.text.strip(" .")
    if not (2 <= len(letters) <= 3 and letters.isalpha() and letters.isupper()):
        return None
    words = [Word(Folded(letter.lower()), GIVEN, cut=True) for letter in letters[:-1]]
    return _changed(parts, (*words, Word(Folded(letters[-1].lower()), FAMILY, cut=True)), ())


def _changed(parts: Parts, words: tuple[Word, ...], particles: tuple[Folded, ...]) -> Parts:
    return replace(parts, words=words, particles=particles)


@dataclass(slots=True)
class _Left:
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


class Asked(NamedTuple):
    """One word of a name that is looked for, with the words of the index that it may be; `given` counts the forenames before it."""

    at: int
    given: int
    word: Word
    likes: Mapping[int, Like]
    initial: str


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

    def match(self, text: str) -> Found:
        """The makers whose name may be meant, each by its best form."""
        best: dict[int, Matched] = {}
        top, as_good = -(10**9), 0
        for number, parts in enumerate(readings_of(text, self.lore)):
            aside = number > 0
            asked = [
                Asked(
                    at,
                    sum(each.part == GIVEN for each in parts.words[:at]),
                    word,
                    {} if word.initial else self.index.likes(word),
                    initial_of(word.text),
                )
                for at, word in enumerate(parts.words)
            ]
            scored = self._forms(parts, asked)
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

    def _forms(self, parts: Parts, asked: Sequence[Asked]) -> list[tuple[int, int]]:
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
            if forms and size > MOST_FORMS:
                continue
            for number in numbers:
                forms.update(index.forms_with(number))
        if all(each.word.initial for each in asked):
            forms.update(self._forms_by_initials(parts))
        initials = {
            each.initial: index.proof(index.of_initial.get(each.initial, 0))
            for each in asked
            if each.word.initial and each.word.part == GIVEN
        }
        for each in asked:
            if each.word.initial and each.word.part == PHRASE:  # the letters of a monogrammist
                for number in index.words_of_text(each.word.text):
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
            for number in self.index.words_of_text(word.text):
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
                    pair = self._initial_pair(each, number, part)
                else:
                    like = each.likes.get(number)
                    pair = (
                        self._pair(each, like, number, part, crossing, aside=aside)
                        if like is not None
                        else self._full_for_initial(each, number, part)
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
        missing = [(index.words[number], part) for at, (number, part) in enumerate(words) if at not in taken_words]
        extra = [word for at, word in enumerate(parts.words) if at not in taken_asked]
        extra_family = [word for word in extra if word.part in NAMING]
        left = _Left(
            [word for word in extra if word.part == GIVEN],
            extra_family,
            [word for word, part in missing if part == GIVEN],
            [word for word, part in missing if part == FAMILY],
            [word for word, part in missing if part == PHRASE],
            any(pair.part == GIVEN for pair in chosen),
            any(
                parts.words[pair.asked].part in NAMING or (not extra_family and pair.part in NAMING) for pair in chosen
            ),
            bool(there) and not index.inverted(form),
        )
        others = self._left_over(parts, words, left)
        self._beside(parts, form, there, others)
        if aside:
            others.append(Other("joined", (parts.text,)))
        total = sum([pair.weight for pair in chosen]) + sum([self._weight[other.key] for other in others])
        return Matched(index.form_maker[form], form, total, parts, tuple(chosen), tuple(others))

    def _pair(self, asked: Asked, like: Like, number: int, part: int, crossing: int, *, aside: bool) -> Pair | None:
        """What a word read proves beside a word of a form that it is like; None where the two do not answer to each other."""
        mine = asked.word.part
        as_given = part == GIVEN
        if not as_given and like.how in TRANSLATED:
            return None
        key = ("forename-" if as_given else "family-") + like.how
        cost = self._weight[key]
        if not crossing and mine == FAMILY and as_given and like.how not in ALIKE:
            return None
        if crossing and mine != part and (PHRASE in (mine, part) or {mine, part} == CROSSED):
            if like.how not in ALIKE:
                return None
            key = "family-crossed" if as_given else "forename-crossed"
            cost += self._weight[key] * crossing
        if like.how.startswith("near"):
            if aside:
                return None  # a slip in a name that was first put together or taken apart is one guess too many
            cost = min(cost + self.index.near_cost(asked.word.text, number), LEAST_SLIP)
        proof = self.index.rarity(number, part) + cost
        if EXTRA in {mine, part}:
            proof = min(proof, TITLE)
        return Pair(proof, key, asked.at, number, part)

    def _full_for_initial(self, asked: Asked, number: int, part: int) -> Pair | None:
        """A full forename read beside an initial in the file."""
        index = self.index
        if (
            part == GIVEN
            and asked.word.part == GIVEN
            and len(index.words[number]) == 1
            and asked.initial == initial_of(index.words[number])
        ):
            proof = index.proof(index.of_initial.get(asked.initial, 0))
            return Pair(proof + self._weight["forename-initial"], "forename-initial", asked.at, number, part)
        return None

    def _initial_pair(self, asked: Asked, number: int, part: int) -> Pair | None:
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

    def _left_over(self, parts: Parts, words: Sequence[tuple[int, int]], left: _Left) -> list[Other]:
        """What it says that words were read which the form lacks, and the other way about."""
        others = [Other("phrase-left-out", (), (word,)) for word in left.missing_phrase]
        if any(word.part == PHRASE for word in parts.words) != any(part == PHRASE for _, part in words):
            others.append(Other("conventional-other"))
        others += self._surname_left_over(words, left)
        others += self._forenames_left_over(parts, left)
        others += [Other("word-added", (word.text,)) for word in left.extra_family]
        return others

    def _surname_left_over(self, words: Sequence[tuple[int, int]], left: _Left) -> list[Other]:
        """Surnames on one side only; of those that were read the first is taken off `left` where another stands in its place."""
        there = [self.index.words[number] for number, part in words if part == FAMILY]
        if left.family_met or not there or not (left.missing_family or left.extra_family):
            return [Other("family-part-left-out", (), (word,)) for word in left.missing_family]
        missing = left.missing_family or there
        if not left.extra_family:
            return [Other("origin-left-out" if left.known_by_forename else "family-left-out", (), tuple(missing))]
        read = left.extra_family.pop(0).text
        others = [Other("family-other", (), tuple(missing))]
        if self._some_likeness(read, missing[0]):
            others.append(Other("family-likeness", (read,), (missing[0],)))
        return others

    def _forenames_left_over(self, parts: Parts, left: _Left) -> list[Other]:
        """Forenames on one side only."""
        extra, missing = left.extra_given, left.missing_given
        others: list[Other] = []
        if missing and not left.given_met:
            if not extra:
                others.append(Other("forename-left-out"))
            else:
                others.append(Other("forename-other", (extra.pop(0).text,), tuple(missing)))
                if left.family_met and (origin := self._origin(parts)):
                    others.append(Other("origin-alone", (origin,)))
        else:
            while extra and missing:  # brothers share the first forename and differ in the second
                others.append(Other("forename-part-other", (extra.pop(0).text,), (missing.pop(0),)))
            others += [Other("forename-part-left-out", (), (word,)) for word in missing]
        for word in extra:
            further = "patronymic-added" if self.lore.is_patronymic(word.text) else "forename-added"
            others.append(Other("initial-added" if word.initial else further, (word.text,)))
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

    def _beside(self, parts: Parts, form: int, there: tuple[Folded, ...], others: list[Other]) -> None:
        """Adds what the words beside the name say: particles, which of several, house."""
        index = self.index
        if parts.particles or there:
            if not there:
                others.append(Other("particle-added", parts.particles))
            elif not parts.particles:
                others.append(Other("particle-left-out", (), there))
            elif not _same_particles(parts.particles, there):
                others.append(Other("particle-other", parts.particles, there))
        generation = index.generation(form)
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
            others.append(Other("relation-other", (relation,), (index.labels[index.form_maker[form]],)))
        elif relation:
            others.append(Other("relation-same", (parts.relation_word,)))
        if index.kind(index.form_maker[form]) == "Family":
            others.append(Other("family-for-person" if parts.given else "family-answer"))
        firm = index.firm(form) or index.kind(index.form_maker[form]) == "Firm"
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

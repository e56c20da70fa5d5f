"""What the vocabulary knows of names, in the tables that the work on names asks for."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from margent.names.normal import Folded, Level, Leveller, fold, tokens
from margent.vocabulary.model import Vocabulary, WordList
from margent.vocabulary.name_rules import EvidenceWeight, NameEnding, NameParadigm, NameSpelling, NameWords

# What a word beside a name makes of the person meant: somebody who is not the one named.
RELATIONS = ("widow", "heirs", "brothers", "sons", "daughter", "wife", "nephew", "family")
GENERATIONS = ("elder", "younger", "third", "fourth")
ADJECTIVE_ENDINGS = ("us", "i", "o", "um", "is", "orum", "os", "a", "ae", "am")
"""First and second declension, as of any adjective in -us."""
ORDINAL = {"elder": 1, "younger": 2, "third": 3, "fourth": 4, "son": 2}


@dataclass(frozen=True, slots=True)
class Weighed:
    """One kind of evidence: its weight, and the wording with blanks."""

    weight: int
    wording: str


@dataclass(frozen=True, slots=True)
class Ending:
    """An ending that a name may have taken on, and those that the name may have in its place in a list."""

    text: Level
    language: str
    means: str
    instead: tuple[Level, ...]


class Ages(NamedTuple):
    """Years of a life, and round the dates of one, as vocab/names/evidence.ttl has them with their reasons."""

    grown: int
    long_life: int
    working_life: int
    child: int
    open_end: int
    shortly: int
    around: int


class Lore:
    """Forenames, words in names, habits of spelling, endings and weights of one vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        rules = vocabulary.name_rules.values()
        self.level = Leveller(rule for rule in rules if isinstance(rule, NameSpelling))
        self.weights: Mapping[str, Weighed] = {
            rule.key: Weighed(rule.weight, rule.wording.value if rule.wording else "")
            for rule in rules
            if isinstance(rule, EvidenceWeight)
        }
        self.paradigms = sorted(
            (rule for rule in rules if isinstance(rule, NameParadigm)), key=lambda rule: (rule.order, rule.iri)
        )
        self.endings = [rule for rule in rules if isinstance(rule, NameEnding)]
        self.vernacular_endings = sorted(
            {
                fold(text.value).replace("'", "")
                for rule in self.endings
                if not rule.of_forename and not rule.instead_of
                for text in rule.endings
            }
        )
        self._seen_patronymics: dict[Folded, bool] = {}
        self._patronymics = sorted(
            {fold(text.value) for rule in self.endings if rule.key == "patronymic" for text in rule.endings},
            key=lambda text: (-len(text), text),
        )
        words = [rule for rule in rules if isinstance(rule, NameWords)]
        self.phrases = _phrases(words)
        """First word -> (all words, key), the longest first: `the elder`, `& Co.`, `veuve`."""
        lists = vocabulary.word_lists.values()
        self.particles = frozenset(
            token.text
            for each in lists
            if each.word_kind == "particle"
            for word in each.words
            for token in tokens(word.value)
        ) | frozenset(word for each in words if each.key == "particle" for word in _single(each))
        self.origin_particles = frozenset(
            word for each in words if each.key == "origin-particle" for word in _single(each)
        )
        self.contractions = frozenset(word for each in words if each.key == "contraction" for word in _single(each))
        """Particles contracted and written together with the name: Verhaecht for van der Haecht."""
        self.links = frozenset(word for each in words if each.key == "link" for word in _single(each))
        self.master = frozenset(word for each in words if each.key in {"master", "anonymous"} for word in _single(each))
        self.titles = frozenset(word for each in words if each.key == "title" for word in _single(each)) | frozenset(
            found[0].text
            for each in lists
            if each.word_kind in {"honorific", "postnominal"}
            for word in each.words
            if len(found := tokens(word.value)) == 1 and len(found[0].text) > 3
        )
        """Words that may be left out of a name; some are surnames too, so that only their place in the name decides."""
        telling = {phrase for known in self.phrases.values() for phrase, _ in known}
        self.before_name = _phrases_of_lists(lists, "honorific") - telling
        self.behind_name = _phrases_of_lists(lists, "postnominal") - telling
        """Titles before a name, and honours and orders behind it, as words: le Sieur, R. A."""
        self.origins = frozenset(
            found[0].text
            for each in lists
            if each.word_kind == "origin"
            for word in each.words
            if len(found := tokens(word.value)) == 1
        )
        self._places = _places(vocabulary)
        self.stage_of = {role.slug: role.stage.rpartition("/")[2] for role in vocabulary.roles.values()}
        self.broader_of = {
            role.slug: tuple(each.rpartition("/")[2] for each in role.broader) for role in vocabulary.roles.values()
        }
        self.role_label = {role.slug: role.label() for role in vocabulary.roles.values()}
        self.place_label = {place.slug: place.label() for place in vocabulary.places.values()}
        self.forenames: dict[Folded, tuple[str, ...]] = {}
        """Folded forename or short form -> the entries it belongs to; a forename of two words under its joined words."""
        self.forename_forms: dict[str, tuple[Folded, ...]] = {}
        self.latin_forenames = {
            forename.slug: tuple(label.value for label in forename.labels if label.lang == "la")
            for forename in vocabulary.forenames.values()
        }
        self.latin_words = frozenset(
            token.text
            for forename in vocabulary.forenames.values()
            for text in (*forename.labels, *forename.forms)
            if text.lang == "la"
            for token in tokens(text.value)
        )
        """Forenames in Latin, in whatever case."""
        self.forename_gender = {forename.slug: forename.gender or "" for forename in vocabulary.forenames.values()}
        self.compounds: dict[Folded, tuple[Folded, Folded]] = {}
        """A forename of two, written as one word -> the two: Giambattista, Gio. Batta."""
        self._read_forenames(vocabulary)
        self.titles -= self.forenames.keys() | self.phrases.keys()
        self.titles_and_origins = self.titles | self.origins
        self.unendings = self._unendings()
        """Every ending that may be taken off a word, levelled, the longest first."""
        self.latinisings = self._latinisings()
        """Vernacular ending -> the Latin nominatives that may take its place, both levelled."""

    def place_of(self, said: str) -> tuple[str, ...]:
        """The places that may be meant by a name in any language and case, an IRI or the last part of one; none if unknown."""
        return self._places.get(fold(said.strip(" .,:;")), ()) or self._places.get(fold(said.rpartition("/")[2]), ())

    def weight(self, key: str) -> int:
        """The weight of one kind of evidence; KeyError where vocab/names/evidence.ttl has none of that name."""
        return self.weights[key].weight

    @cached_property
    def ages(self) -> Ages:
        """The years of a life that the vocabulary says."""
        return Ages(*(self.weight(f"years-{name.replace('_', '-')}") for name in Ages._fields))

    @cached_property
    def digest(self) -> str:
        """A digest of everything known of names that an index depends on."""
        known = (
            sorted(self.forenames.items()), sorted(self.phrases.items()), sorted(self.particles), sorted(self.titles), sorted(self.origins),
            sorted(self.master), sorted(self.compounds.items()), self.level.rules,
        )  # fmt: skip
        return hashlib.sha256(repr(known).encode()).hexdigest()

    def is_patronymic(self, word: Folded) -> bool:
        """Whether the word is a forename with a patronymic ending put on and no forename itself: Jansz, Pietersdr."""
        known = self._seen_patronymics.get(word)
        if known is None:
            known = (
                word not in self.forenames
                and any(
                    word.endswith(ending)
                    and len(word) > len(ending) + 1
                    and (word[: -len(ending)] in self.forenames or len(ending) > 1)
                    for ending in self._patronymics
                )
                and any(word[:cut] in self.forenames for cut in range(3, len(word)))
            )
            self._seen_patronymics[word] = known
        return known

    def contraction(self, particles: Iterable[str]) -> str | None:
        """What the particles are contracted to before a name; None where they are not."""
        first = next(iter(particles), "")
        return next((word for word in sorted(self.contractions) if first[:1] == word[:1]), None)

    def apart(self, word: Folded) -> tuple[Folded, Folded] | None:
        """The two forenames of which a forename unknown as a whole is made: Pierfrancesco; None where it is not."""
        if len(word) < 8 or word in self.forenames:
            return None
        for at in range(4, len(word) - 3):
            first, second = Folded(word[:at]), Folded(word[at:])
            if first in self.forenames and second in self.forenames:
                return first, second
        return None

    def classes(self, word: Folded) -> tuple[str, ...]:
        """The forename entries that the folded word is a form of; none for a word that is no forename."""
        known = self.forenames.get(word)
        if known is None and len(word) > 2:
            known = self._forenames_by_level.get(self.level(word))
        return known or ()

    def _read_forenames(self, vocabulary: Vocabulary) -> None:
        by_word: dict[Folded, list[str]] = {}
        for forename in vocabulary.forenames.values():
            forms: list[Folded] = []
            pair: tuple[Folded, Folded] | None = None
            for text in (*forename.labels, *forename.forms, *forename.short_forms):
                found = tokens(text.value)
                if not found or len(found) > 2 or any(len(token.text) < 2 for token in found):
                    continue
                word = Folded("".join(token.text for token in found))
                if len(found) == 2:
                    self.compounds.setdefault(word, (found[0].text, found[1].text))
                    pair = pair or (found[0].text, found[1].text)
                if forename.slug not in by_word.setdefault(word, []):
                    by_word[word].append(forename.slug)
                    forms.append(word)
            self.forename_forms[forename.slug] = tuple(forms)
            if pair is not None:
                for word in forms:
                    self.compounds.setdefault(word, pair)
        self.forenames = {word: tuple(slugs) for word, slugs in by_word.items()}
        by_level: dict[Level, dict[str, None]] = {}
        for word, slugs in by_word.items():
            if len(word) > 2:
                by_level.setdefault(self.level(word), {}).update((slug, None) for slug in slugs)
        self._forenames_by_level = {level: tuple(slugs) for level, slugs in by_level.items()}

    def _unendings(self) -> tuple[Ending, ...]:
        found: dict[Level, tuple[str, str, dict[Level, None]]] = {}

        def note(ending: str, language: str, means: str, instead: Iterable[str]) -> None:
            levelled = _levelled_ending(self.level, ending)
            targets = found.setdefault(levelled, (language, means, {}))[2]
            targets.update(
                (level, None) for text in instead if (level := _levelled_ending(self.level, text)) != levelled
            )

        for paradigm in self.paradigms:
            if paradigm.of_forename:
                continue  # forenames have their inflected forms in vocab/forenames
            names = (paradigm.nominative, *paradigm.made_from)
            for means, endings in cases(paradigm):
                for ending in endings:
                    if ending:
                        note(ending, "la", means, names)
        for rule in self.endings:
            for text in rule.endings:
                note(fold(text.value).replace("'", ""), text.lang, rule.key, rule.instead_of or ("",))
        return tuple(
            Ending(text, language, means, tuple(instead))
            for text, (language, means, instead) in sorted(found.items(), key=lambda each: (-len(each[0]), each[0]))
            if instead
        )

    def _latinisings(self) -> tuple[tuple[Level, tuple[Level, ...]], ...]:
        found: dict[Level, dict[Level, None]] = {}
        for paradigm in self.paradigms:
            if paradigm.of_forename or len(paradigm.nominative) < 2:
                continue
            nominative = _levelled_ending(self.level, paradigm.nominative)
            for text in paradigm.made_from:
                if text != paradigm.nominative:
                    found.setdefault(_levelled_ending(self.level, text), {})[nominative] = None
        return tuple((text, tuple(nominatives)) for text, nominatives in sorted(found.items()))


def cases(paradigm: NameParadigm) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The cases of a paradigm by name, each with its endings; feminine, plural and the adjective of the house too."""
    woman = paradigm.feminine if paradigm.feminine and paradigm.feminine.endswith("a") else None
    adjective = tuple(paradigm.adjective + end for end in ADJECTIVE_ENDINGS) if paradigm.adjective else ()
    return (
        ("nominative", (paradigm.nominative,)),
        ("genitive", paradigm.genitive),
        ("dative", paradigm.dative),
        ("accusative", paradigm.accusative),
        ("ablative", paradigm.ablative),
        ("plural nominative", paradigm.plural_nominative),
        ("plural genitive", paradigm.plural_genitive),
        ("plural dative", paradigm.plural_dative),
        ("plural accusative", paradigm.plural_accusative),
        ("feminine", (paradigm.feminine,) if paradigm.feminine else ()),
        ("feminine genitive", (paradigm.feminine_genitive,) if paradigm.feminine_genitive else ()),
        ("feminine accusative", (woman + "m",) if woman else ()),
        ("feminine ablative", (woman,) if woman else ()),
        ("adjective", adjective),
    )


def _places(vocabulary: Vocabulary) -> dict[Folded, tuple[str, ...]]:
    """Folded name, form or slug of a place -> the places it may mean."""
    found: dict[Folded, list[str]] = {}
    for place in vocabulary.places.values():
        texts = [label.value for label in place.labels]
        texts += [text.value for form in place.forms for text in (form.literal, *form.short_forms)]
        for text in (place.slug, *texts):
            slugs = found.setdefault(fold(text.strip(" .,:;")), [])
            if place.slug not in slugs:
                slugs.append(place.slug)
    return {text: tuple(slugs) for text, slugs in found.items()}


def _levelled_ending(level: Leveller, ending: str) -> Level:
    """The ending as it comes out at the end of a levelled word: levelled behind letters that no rule touches."""
    return Level(level(Folded("nal" + ending))[3:])


def _phrases_of_lists(lists: Iterable[WordList], kind: str) -> frozenset[tuple[Folded, ...]]:
    """The entries of the lists of one kind, each as its words; single letters are left out, for they may be initials."""
    found = {
        tuple(token.text for token in tokens(word.value))
        for each in lists
        if each.word_kind == kind
        for word in each.words
    }
    return frozenset(words for words in found if len(words) > 1 or (words and len(words[0]) > 1))


def _single(words: NameWords) -> list[Folded]:
    """The words of the list that are one word; words of two are met as phrases."""
    return [found[0].text for word in words.words if len(found := tokens(word.value)) == 1]


def _phrases(lists: Iterable[NameWords]) -> dict[Folded, list[tuple[tuple[Folded, ...], str]]]:
    """The words and phrases that are taken out of a name, by their first word."""
    taken = {*RELATIONS, *GENERATIONS, "son", "called", "firm"}
    phrases: dict[Folded, list[tuple[tuple[Folded, ...], str]]] = {}
    for each in lists:
        if each.key not in taken:
            continue
        for word in each.words:
            found = tuple(token.text for token in tokens(word.value))
            if found:
                phrases.setdefault(found[0], []).append((found, each.key))
    for known in phrases.values():
        known.sort(key=lambda phrase: (-len(phrase[0]), phrase))
    return phrases

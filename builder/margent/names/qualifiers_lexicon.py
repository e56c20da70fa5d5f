"""What the vocabulary knows of attribution phrases: for each language, which phrase begins at a word and what it does."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final, Literal, NamedTuple

from margent.names.normal import fold
from margent.vocabulary.cataloguing_words import AttributionWords
from margent.vocabulary.model import Text, Vocabulary

LANGUAGES: Final = ("en", "de", "fr", "it", "nl", "es", "la")
"""In this order: where two languages explain a phrase equally well, the earlier is taken."""

SLOT: Final = "…"
"""Stands in a phrase where the name does, if that is not behind the phrase."""

Does = Literal["before", "behind", "and", "firm", "or", "role", "alias", "kept"]
"""What a phrase does: qualify the name behind or before it, part two names, or belong to a name like any other word."""

# A slash inside a word is part of it (18th/19th); a word is parted behind an apostrophe or hyphen that a letter follows.
_WORD = re.compile(r"(?P<sign>[,;()\[\]?&:/])|(?:[^\s,;()\[\]?&:/]|(?<=[^\s,;()\[\]])[/:](?=[^\s,;()\[\]]))+")
_PARTED = re.compile(r".+?[’'‘\-‐](?=[^\W\d_])|.+")
INITIALS: Final = re.compile(r"(?:[^\W\d_]\.[ -]?)+")
"""Initials and nothing else: J., J. V., J.-B."""

ROMAN: Final = re.compile(r"[ivxl]+(?:e|o|th)?")


class Word(NamedTuple):
    """A word or sign of a phrase: its span, and how it is compared."""

    start: int
    end: int
    text: str
    fold: str
    sign: bool

    @property
    def small(self) -> bool:
        """True for a word that begins with a small letter."""
        return self.text[:1].islower()


def words(text: str) -> list[Word]:
    """The words and signs of the text in their order.

    >>> [word.fold for word in words("Atelier d’Honoré D. (?)")]
    ['atelier', "d'", 'honore', 'd', '(', '?', ')']
    """
    found: list[Word] = []
    for match in _WORD.finditer(text):
        if match["sign"]:
            found.append(Word(match.start(), match.end(), match[0], match[0], sign=True))
            continue
        for piece in _PARTED.finditer(match[0]):
            start = match.start() + piece.start()
            folded: str = fold(piece[0])
            folded = folded.rstrip(".-") or folded
            found.append(Word(start, start + len(piece[0]), piece[0], folded, sign=False))
    return found


class Phrase(NamedTuple):
    """A phrase that stands at a word: how many words it has, what it does, and for a qualifier its slug."""

    length: int
    does: Does
    slug: str = ""
    opening: bool = False
    """It counts only where a name could begin: at the start, behind a sign, behind another phrase."""
    proves: int = 0
    """How much it says for its language, in letters."""


class Tongue:
    """The phrases of one language, by their first word."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._phrases: dict[str, dict[tuple[str, ...], dict[tuple[Does, str], Phrase]]] = {}

    def add(self, folds: Sequence[str], does: Does, slug: str = "", *, opening: bool = False, proves: int = 0) -> None:
        """Nothing comes back: the phrase is known from now on; one that is known already stays as it is."""
        if folds:
            kinds = self._phrases.setdefault(folds[0], {}).setdefault(tuple(folds), {})
            kinds.setdefault((does, slug), Phrase(len(folds), does, slug, opening, proves))

    def at(self, found: Sequence[Word], place: int, end: int) -> list[Phrase]:
        """The phrases that begin at that word, the longest first."""
        matches: list[Phrase] = []
        for folds, kinds in self._phrases.get(found[place].fold, {}).items():
            if place + len(folds) <= end and all(
                found[place + step].fold == each for step, each in enumerate(folds) if step
            ):
                matches += kinds.values()
        return sorted(matches, key=lambda phrase: -phrase.length)


class Lexicon:
    """All that is known of attribution phrases, by language, and of the words that name nobody, in all languages."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        lists = [each for each in vocabulary.attribution_words.values() if isinstance(each, AttributionWords)]
        self._lists: dict[str, list[Text]] = {}
        for each in lists:
            self._lists.setdefault(each.key, []).extend(each.words)
        self.axes = {each.slug: str(each.axis) for each in vocabulary.qualifiers.values()}
        self.ranks = {each.slug: each.rank for each in vocabulary.qualifiers.values()}
        self.labels = {each.slug: each.labels for each in vocabulary.qualifiers.values()}
        self.phrases = {each.slug: each.phrases for each in vocabulary.qualifiers.values() if not each.withdrawn}
        self.century = self._single("century")
        self.school = self._single("school")
        self.nobody = self._single("nobody")
        self.somebody = self._single("somebody")
        self.lifetime = self._single("lifetime")
        self.of_a_school = frozenset(
            word.fold for text in self._lists.get("of-a-school", ()) for word in words(text.value)
        )
        self.nobodies = [tuple(w.fold for w in words(text.value)) for text in self._lists.get("nobody", ())]
        self.of_a_name = {
            tuple(word.fold for word in words(text.value))
            for text in (*self._lists.get("of-a-name", ()), *_kin(vocabulary))
        }
        self.possessives = tuple(fold(text.value) for text in self._lists.get("possessive", ()))
        self.places = frozenset(fold(label.value) for place in vocabulary.places.values() for label in place.labels)
        self.forenames = frozenset(
            word.fold
            for forename in vocabulary.forenames.values()
            for text in (*forename.labels, *forename.forms, *forename.short_forms)
            for word in words(text.value)
        )
        self.particles = frozenset(
            word.fold
            for each in vocabulary.word_lists.values()
            if each.word_kind == "particle"
            for text in each.words
            for word in words(text.value)
        )
        self.trades = frozenset(
            fold(text.value) for role in vocabulary.roles.values() for text in (*role.labels, *role.introduced_by)
        ) | {fold(text.value) for text in self._lists.get("somebody", ())}
        self.tongues = tuple(self._tongue(language, vocabulary) for language in LANGUAGES)

    def words_of(self, key: str, language: str) -> list[str]:
        """The words with that key in that language, as written."""
        return [text.value for text in self._lists.get(key, ()) if text.lang == language]

    def forms_of(self, preposition: str, language: str) -> list[str]:
        """The forms that a preposition takes on with an article, as written."""
        return self.words_of(f"form-of-{fold(preposition)}", language)

    def _single(self, key: str) -> frozenset[str]:
        return frozenset(found[0].fold for text in self._lists.get(key, ()) if len(found := words(text.value)) == 1)

    def _tongue(self, language: str, vocabulary: Vocabulary) -> Tongue:
        tongue = Tongue(language)
        openings = {tuple(w.fold for w in words(each)) for each in self.words_of("opening", language)}
        silent = {fold(each) for each in self.words_of("no-proof", language)}
        for slug, phrases in self.phrases.items():
            for phrase in phrases:
                if phrase.lang != language:
                    continue
                does: Does = "behind" if phrase.value.startswith(SLOT) else "before"
                folds = tuple(word.fold for word in words(phrase.value.removeprefix(SLOT)))
                proves = 0 if folds in openings else sum(len(each) for each in folds if each[0].isalpha())
                opening = folds in openings and does == "before"
                tongue.add(folds, does, slug, opening=opening, proves=proves)
                if does == "before":
                    for form in self.forms_of(folds[-1], language):
                        tail = tuple(word.fold for word in words(form))
                        tongue.add((*folds[:-1], *tail), "before", slug, opening=opening, proves=proves)
        parting: tuple[tuple[str, Does], ...] = (
            ("and", "and"),
            ("and-in-a-firm", "firm"),
            ("or", "or"),
            ("alias", "alias"),
        )
        for key, does in parting:
            for each in self.words_of(key, language):
                folds = tuple(word.fold for word in words(each))
                proves = 0 if " ".join(folds) in silent or does in {"firm", "alias"} else sum(map(len, folds))
                tongue.add(folds, does, proves=proves)
        for each in self.words_of("by", language):
            folds = tuple(word.fold for word in words(each))
            tongue.add(folds, "role", opening=True, proves=sum(map(len, folds)))
        for folds in self.of_a_name:
            if len(folds) > 1 and any(phrase.does in {"and", "firm"} for phrase in tongue.at(_bare(folds), 0, 1)):
                tongue.add(folds, "kept")
        for role in vocabulary.roles.values():
            for text in role.introduced_by:
                folds = tuple(word.fold for word in words(text.value))
                known = text.lang != language or len(folds) < 2 or tongue.at(_bare(folds), 0, len(folds))
                if not known:
                    tongue.add(folds, "role", proves=sum(map(len, folds)))
        return tongue


def _bare(folds: Iterable[str]) -> list[Word]:
    """The folded words as words without a place."""
    return [Word(0, 0, each, each, sign=False) for each in folds]


def _kin(vocabulary: Vocabulary) -> Iterable[Text]:
    """The words of kin and of honour that belong to a name though a comma stands before them."""
    for each in vocabulary.word_lists.values():
        if each.word_kind in {"kin", "postnominal", "firm"}:
            yield from each.words

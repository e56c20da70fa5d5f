"""The forms of the compiled reader: every spelling, short form and truncation of every term, and every listed word."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from margent.lettering.characters import Characters
from margent.lettering.forms import Row
from margent.lettering.lexicon import LANGUAGE_MARK
from margent.publishing.character_table import character_table, folded_words
from margent.publishing.grammar_tables import GrammarTables
from margent.vocabulary.model import Term, Text, Vocabulary

POSITIONS = {"nameAfter": ("front",), "nameBefore": ("back",), "nameEither": ("front", "back"), None: ("back",)}
"""Where the name stands -> where the term stands to it: a name after the term makes the term stand in front."""

COMMON = frozenset(("subjectword", "conjunction", "agent", "particle", "preposition"))
"""Kinds of word lists whose words are so common that no truncation of a term may be one of them."""

LABEL_OF = {
    "conjunction": "conj",
    "agent": "agent",
    "particle": "particle",
    "honorific": "honorific",
    "postnominal": "post",
    "origin": "origin",
    "kin": "kin",
    "firm": "firm",
    "office": "office",
    "sameman": "sameman",
    "street": "street",
    "grantor": "grantor",
    "dedicatory": "dedicatory",
    "subjectword": "subject",
    "preposition": "prep",
}
"""The kind of a word list -> what the grammar calls its words."""

TELLING = frozenset(("subject", "conj", "agent", "prep", "office"))
"""Labels whose words tell the language of a lettering."""

SURE_TO_BE_GUESSED = 5
"""Letters of a word at least, for a misspelling of it to be recognised."""

CUT = -30
"""What a truncation that only the rule gives stands behind an attested form."""


@dataclass(slots=True)
class Sides:
    """How a term may stand: label -> prior weight; `short` holds what only its short forms may be."""

    all: dict[str, int] = field(default_factory=dict)
    short: dict[str, int] = field(default_factory=dict)


class FormList:
    """Gathers forms under their folded keys."""

    def __init__(self, vocabulary: Vocabulary, grammar: GrammarTables) -> None:
        self.grammar = grammar
        self.table = character_table()
        self.characters = Characters(self.table)
        self.rows: dict[str, dict[tuple[str, str], tuple[int, str]]] = defaultdict(dict)
        self.guessable: set[str] = set()
        self._listed = {
            kind: {
                " ".join(self.words(text.value))
                for each in vocabulary.word_lists.values()
                if each.word_kind == kind
                for text in each.words
            }
            for kind in {*COMMON, "office"}
        }
        self._common = {word for kind in COMMON for word in self._listed[kind]}
        self._announcing = {word for kind in ("agent", "particle", "preposition") for word in self._listed[kind]}
        self._prepositions = self._listed["preposition"] - set(grammar.setting("sure-particles"))

    def words(self, text: str) -> list[str]:
        """The folded words of a form, by the tables that the reader has."""
        return folded_words(text, self.characters.kind, self.characters.fold)

    def as_rows(self) -> dict[str, list[Row]]:
        """The forms, sorted, each with what it may be."""
        return {
            key: [[label, ref, weight, how] for (label, ref), (weight, how) in sorted(rows.items())]
            for key, rows in sorted(self.rows.items())
        }

    def add(self, words: Sequence[str], label: str, ref: str, weight: int, how: str = "whole") -> None:
        """Enters a form; of two ways to make the same form the weightier stays."""
        if not words:
            return
        key = " ".join(words)
        slot = self.rows[key].get((label, ref))
        if slot is None or slot[0] < weight:
            self.rows[key][(label, ref)] = (weight, how)

    def weight(self, label: str, words: Sequence[str], plain: bool = False) -> int:
        """The standing of an item of this label: its own, and more for each further word of a phrase."""
        more = self.grammar.scores["term-more" if label in ("front", "back", "notice") and not plain else "word-more"]
        return self.grammar.labels.get(label, 0) + (len(words) - 1) * more

    def trade(self, term: Term) -> bool:
        """Whether a term is the name of a trade, which a list of offices has as well."""
        listed = " ".join(self.words(term.literal.value)) in self._listed["office"]
        return listed and term.word_class == "noun" and term.name_position != "nameAfter"

    def bare_agent(self, term: Term) -> bool:
        """Whether a term is only the word that announces a maker behind a participle: by, par, por."""
        return term.word_class == "preposition" and " ".join(self.words(term.literal.value)) in self._listed["agent"]

    def add_term(self, term: Term) -> None:
        """Enters every form of a term under every label it may have."""
        sides = self._sides(term)
        for words, (cost, how) in self._forms(term).items():
            if how == "cut" and len(words) == 1 and words[0] in self._common:
                continue  # an everyday word is never taken for a word cut short
            announces = (
                len(words) > 1 and len(words[-1]) > 1 and words[-1] in self._announcing
            )  # "dedicated by", "lith. de": a name must follow
            for label, prior in ({**sides.all, **sides.short} if how in ("short", "cut") else sides.all).items():
                cut_trade = label == "office" and how == "cut"  # "peint" is no painter cut short
                if not cut_trade and not (announces and label == "back"):
                    weight = self._standing(term, label, words, how) + cost + max(prior, -3000)
                    self.add(words, label, "" if label == "office" else term.slug, weight, how)

    def _standing(self, term: Term, label: str, words: Sequence[str], how: str) -> int:
        """What a form stands at by its length: long phrases are sure, two letters are not."""
        scores = self.grammar.scores
        size = sum(len(word) for word in words)
        standing = self.weight(label, words, self.trade(term))
        if how == "sign":
            standing = self.grammar.labels.get(label, 0) + scores["sign-more"] * (size - 1)
        if label in ("front", "back", "notice") and size <= 3:
            standing += scores[f"letters-{size}"]
            if label == "front" and term.name_position != "nameAfter":
                standing += scores[f"front-letters-{size}"]
        return standing

    def _forms(self, term: Term) -> dict[tuple[str, ...], tuple[int, str]]:
        """The forms of a term by their words: what each costs, and whether it is whole, a variant, short, a sign or cut."""
        made: dict[tuple[str, ...], tuple[int, str]] = {}

        def form(text: str, how: str) -> None:
            words = tuple(self.words(text))
            if 2 <= len(words) <= 3 and all(len(word) == 1 for word in words):
                how = "sign"  # spaced or stopped letters
            if words:
                made.setdefault(words, (0, how))
            if len(words) == 1 and how in ("whole", "variant") and len(words[0]) >= SURE_TO_BE_GUESSED:
                self.guessable.add(words[0])

        letters = "".join(self.words(term.literal.value))
        if term.kind == "siglum" and letters.isalpha() and len(letters) <= 8:
            form(letters, "sign")
            form(" ".join(letters), "sign")
        else:
            form(term.literal.value, "short" if term.kind in ("siglum", "abbreviation") else "whole")
        for text in term.variant_forms:
            form(text.value, "variant")
        for text in term.short_forms:
            form(text.value, "short")
        for words in self._cuts(term):
            made.setdefault(words, (CUT, "cut"))
        return made

    def _cuts(self, term: Term) -> Iterator[tuple[str, ...]]:
        """Every truncation of a term down to the shortest in use, and for a single word each with a raised ending."""
        if term.shortened_to is None:
            return
        whole = self.words(term.literal.value)
        least = self.words(term.shortened_to.value)
        if len(whole) != len(least):
            return
        cuts = [
            [word[:length] for length in range(len(short), len(word) + 1)] if word.startswith(short) else [short, word]
            for word, short in zip(whole, least, strict=True)
        ]
        combined: list[tuple[str, ...]] = [()]
        for options in cuts:
            combined = [(*before, option) for before in combined for option in options]
        yield from combined[:400]
        if len(whole) == 1:
            for stem in cuts[0][:-1]:
                for ending in self.grammar.setting("raised-endings"):
                    if whole[0].endswith(ending) and 2 <= len(stem) < len(whole[0]) - len(ending):
                        yield (stem + ending,)

    def _sides(self, term: Term) -> Sides:
        """Where the term may stand, and with what prior weight; the rarer sides by the scores of its word class."""
        sides = Sides()
        notices = [sense.weight for sense in term.senses if any("/notice/" in said for said in sense.says)]
        if notices:
            sides.all["notice"] = max(notices)
        roles = [sense for sense in term.senses if any("/role/" in said for said in sense.says)]
        if not roles:
            return sides
        top = max(sense.weight for sense in roles)
        usual = POSITIONS[term.name_position]
        sides.all.update(dict.fromkeys(usual, top))
        for sense in roles:
            for position in sense.name_position:
                for side in POSITIONS[position]:
                    weight = sense.weight - (0 if side in usual else 200)
                    sides.all[side] = max(sides.all.get(side, weight), weight)
        self._weigh_nouns(term, sides.all)
        scores = self.grammar.scores
        other_key = f"other-side-{term.word_class or 'verb'}"
        other = scores.get(f"{other_key}-{term.language}", scores.get(other_key))
        for side in {"front", "back"} - set(sides.all):
            if other is not None:
                sides.all[side] = top + other
            if term.word_class == "participle":
                sides.short[side] = top + max(scores["other-side-short"], other or scores["other-side-short"])
        return sides

    def _weigh_nouns(self, term: Term, sides: dict[str, int]) -> None:
        """A trade noun mostly describes the person whom another word has already named; no noun of either side likes to announce a name."""
        scores = self.grammar.scores
        if self.trade(term):
            for side in {"front", "back"} & set(sides):
                sides[side] += scores[f"trade-{side}"]
            sides["office"] = 0
        elif term.word_class == "noun" and term.name_position == "nameEither":
            sides["front"] += scores["noun-front"]

    def add_words(self, kind: str, words: Sequence[Text]) -> None:
        """Enters the words of a list of that kind; a kind that the grammar does not use is passed over."""
        label = LABEL_OF.get(kind)
        if label is None:
            return
        for text in words:
            folded = self.words(text.value)
            weight = self.weight(label, folded)
            if label == "particle" and " ".join(folded) in self._prepositions:
                weight += self.grammar.scores["preposition-in-name"]
            if label == "prep" and len(folded) > 1 and self.labels(folded[-1]) & {"place"}:
                continue  # "à Paris": the town is to be read as a town
            ref = "dedicatory" if label == "dedicatory" else LANGUAGE_MARK + text.lang if label in TELLING else ""
            self.add(folded, label, ref, weight)

    def labels(self, key: str) -> set[str]:
        """What a folded form may be, so far."""
        return {label for label, _ in self.rows.get(key, {})}


def levelled(rows: Mapping[str, object], rules: Iterable[tuple[str, str, str]]) -> dict[str, list[str]]:
    """The words of the list under their levelled spelling, where that differs from the word or is shared."""
    ordered = list(rules)
    by_level: dict[str, list[str]] = defaultdict(list)
    for word in sorted({word for key in rows for word in key.split(" ")}):
        level = word
        for _, find, put in ordered:
            level = level.replace(find, put)
        by_level[level].append(word)
    return {level: words for level, words in sorted(by_level.items()) if len(words) > 1 or words[0] != level}

"""The compiled reader: everything the vocabulary knows that a host needs to read a lettering, as one JSON object.

Compiling resolves what is general about the vocabulary (shortening rules, spelling rules levelled, languages merged),
so that the hosts only look up, add whole numbers and follow arcs.
"""

from __future__ import annotations

import json
import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from margent.lettering.characters import Characters
from margent.lettering.forms import pack
from margent.lettering.lexicon import LANGUAGE_MARK
from margent.lettering.reader import COMPILED_FORMAT
from margent.lettering.tokens import WORD_SIGNS
from margent.lettering.weights import STEP
from margent.publishing.character_table import character_table
from margent.publishing.grammar_tables import GrammarTables, grammar_tables, plain_numbers
from margent.vocabulary.edtf import years
from margent.vocabulary.model import Sense, Term, Text, Vocabulary
from margent.vocabulary.reading_rules import UnlabelledRule

POSITIONS = {"nameAfter": ("front",), "nameBefore": ("back",), "nameEither": ("front", "back"), None: ("back",)}
"""Where the name stands -> where the term stands to it: a name after the term makes the term stand in front."""

RAISED = ("t", "it", "st", "sit", "vit", "bat")
"""Last letters of Latin verbs that engravers raised behind a shortened word (sc^t, sculp^t, inv^t); common practice, no source."""

PREPOSITION_IN_NAME = 900
"""What it costs a word that is a preposition as well to be read as a particle of a name."""

COMMON = frozenset(("subjectword", "conjunction", "agent", "particle", "preposition"))
"""Kinds of word lists whose words are so common that no truncation of a term may be one of them."""


class Compiler:
    """Gathers forms under their folded keys."""

    def __init__(self, vocabulary: Vocabulary, grammar: GrammarTables) -> None:
        self.vocabulary = vocabulary
        self.grammar = grammar
        self.table = character_table()
        self.characters = Characters(self.table)
        self.forms: dict[str, dict[tuple[str, str], tuple[int, str]]] = defaultdict(dict)
        self.guessable: set[str] = set()
        self.trades = {
            " ".join(self.words(text.value)) for each in vocabulary.word_lists.values() if each.word_kind == "office" for text in each.words
        }
        self.agents = {
            "".join(self.words(text.value)) for each in vocabulary.word_lists.values() if each.word_kind == "agent" for text in each.words
        }
        self.prepositions = {
            "".join(self.words(text.value)) for each in vocabulary.word_lists.values() if each.word_kind == "preposition" for text in each.words
        } - {"van", "von", "de", "da", "di"}
        self.common = {
            word
            for each in vocabulary.word_lists.values()
            if each.word_kind in COMMON
            for text in each.words
            if len(found := self.words(text.value)) == 1
            for word in found
        }

    def words(self, text: str) -> list[str]:
        """The folded words of a form, as the tokeniser would cut them, but for elisions."""
        out: list[str] = []
        word = ""
        for char in text:
            kind = self.characters.kind(char)
            if kind in "uld":
                word += self.characters.fold(char)
            elif kind == "m" or char in "'’":
                continue
            elif char in WORD_SIGNS:
                out.extend((word, self.characters.fold(char)))
                word = ""
            else:
                out.append(word)
                word = ""
        out.append(word)
        return [each for each in out if each]

    def trade(self, term: Term) -> bool:
        """Whether a term is the name of a trade, which a list of offices has as well."""
        return term.word_class == "noun" and term.name_position != "nameAfter" and " ".join(self.words(term.literal.value)) in self.trades

    def add(self, words: Sequence[str], label: str, ref: str, weight: int, how: str) -> None:
        """Enters a form; of two ways to make the same form the weightier stays."""
        if not words:
            return
        key = " ".join(words)
        slot = self.forms[key].get((label, ref))
        if slot is None or slot[0] < weight:
            self.forms[key][(label, ref)] = (weight, how)

    def weight(self, label: str, words: Sequence[str], plain: bool = False) -> int:
        """The standing of an item of this label: its own, and more for each further word of a phrase."""
        more = self.grammar.scores["term-more" if label in ("front", "back", "notice") and not plain else "word-more"]
        return self.grammar.labels.get(label, 0) + (len(words) - 1) * more

    def term(self, term: Term) -> None:
        """Enters every form of a term: literal, variants, short forms, and all truncations its shortening rule allows."""
        made: dict[tuple[str, ...], tuple[int, str]] = {}

        def form(text: str, cost: int, how: str) -> None:
            words = tuple(self.words(text))
            if 2 <= len(words) <= 3 and all(len(word) == 1 for word in words):
                how = "sign"  # spaced or stopped letters
            if words and (words not in made or made[words][0] < cost):
                made[words] = (cost, how)
            if len(words) == 1 and how in ("whole", "variant") and len(words[0]) >= 5:
                self.guessable.add(words[0])

        form(term.literal.value, 0, "whole")
        for text in term.variant_forms:
            form(text.value, 0, "variant")
        for text in term.short_forms:
            form(text.value, 0, "short")
        if term.kind in ("siglum", "abbreviation"):
            letters = "".join(self.words(term.literal.value))
            if term.kind == "siglum" and letters.isalpha() and len(letters) <= 8:
                made.pop(tuple(self.words(term.literal.value)), None)
                form(letters, 0, "sign")
                form(" ".join(letters), 0, "sign")
            else:
                made[tuple(self.words(term.literal.value))] = (0, "short")
        if term.shortened_to is not None:
            for words, how in self.shortened(term):
                if words not in made:
                    made[words] = (-30, how)
        notices = [sense for sense in term.senses if any("/notice/" in said for said in sense.says)]
        roles = [sense for sense in term.senses if any("/role/" in said for said in sense.says)]
        lookup = self.grammar.scores
        labels: dict[str, int] = {}
        only_short: dict[str, int] = {}
        if notices:
            labels["notice"] = max(sense.weight for sense in notices)
        if roles:
            top = max(sense.weight for sense in roles)
            sides = POSITIONS[term.name_position]
            for side in sides:
                labels[side] = top
            for sense in roles:
                for position in sense.name_position:
                    for side in POSITIONS[position]:
                        labels[side] = max(labels.get(side, -100_000), sense.weight - (0 if side in sides else 200))
            if self.trade(term):
                # a trade noun mostly describes the person whom another word has already named
                labels["office"] = 0
                for side in ("front", "back"):
                    if side in labels:
                        labels[side] += lookup[f"trade-{side}"]
            elif term.word_class == "noun" and term.name_position == "nameEither":
                labels["front"] += lookup["noun-front"]
            side_key = f"other-side-{term.word_class or 'verb'}"
            other = lookup.get(f"{side_key}-{term.language}", lookup.get(side_key))
            for side in ("front", "back"):
                if side not in labels and other is not None:
                    labels[side] = top + other
                elif side not in labels and term.word_class == "participle":
                    only_short[side] = top + lookup["other-side-short"]
        for words, (cost, how) in made.items():
            if not words:
                continue
            if how == "cut" and len(words) == 1 and words[0] in self.common:
                continue  # an everyday word is never taken for a word cut short
            letters = sum(len(word) for word in words)
            announces = len(words) > 1 and words[-1] in self.agents  # "dedicated by": a name must follow
            for label, weight in (labels if how not in ("short", "cut") else {**only_short, **labels}).items():
                if announces and label == "back":
                    continue
                brief = 0
                if label in ("front", "back", "notice") and letters <= 3:
                    brief = lookup[f"letters-{letters}"] + (
                        lookup[f"front-letters-{letters}"] if label == "front" and term.name_position != "nameAfter" else 0
                    )
                ref = "" if label == "office" else term.slug
                standing = self.weight(label, words, self.trade(term)) if how != "sign" else self.grammar.labels.get(label, 0) + lookup["sign-more"] * (letters - 1)
                self.add(words, label, ref, standing + cost + brief + max(weight, -3000), how)

    def shortened(self, term: Term) -> Iterable[tuple[tuple[str, ...], str]]:
        """Every truncation of the last word down to the shortest in use, and each with a raised ending."""
        assert term.shortened_to is not None
        whole = self.words(term.literal.value)
        least = self.words(term.shortened_to.value)
        if len(whole) != len(least):
            return
        cuts: list[list[str]] = []
        for word, short in zip(whole, least, strict=True):
            if word.startswith(short):
                cuts.append([word[:length] for length in range(len(short), len(word) + 1)])
            else:
                cuts.append([short, word])
        combined: list[tuple[str, ...]] = [()]
        for options in cuts:
            combined = [(*before, option) for before in combined for option in options]
        for words in combined[:400]:
            yield words, "cut"
        if len(whole) == 1:
            for stem in cuts[0][:-1]:
                for ending in RAISED:
                    if whole[0].endswith(ending) and len(stem) + len(ending) < len(whole[0]) and len(stem) >= 2:
                        yield (stem + ending,), "cut"


def _sense(sense: Sense) -> dict[str, Any]:
    """A sense as the reader interprets it."""
    when: list[list[Any]] = []
    if sense.alone:
        when.append(["alone", []])
    if sense.beside_role:
        when.append(["beside", [slug(each) for each in sense.beside_role]])
    if sense.same_name_role:
        when.append(["same-name", [slug(each) for each in sense.same_name_role]])
    if sense.technique:
        when.append(["technique", list(sense.technique)])
    if sense.during:
        when.append(["during", [list(years(each)) for each in sense.during]])
    if sense.sheet_place:
        when.append(["sheet-place", list(sense.sheet_place)])
    if sense.name_position:
        when.append(["position", sorted({side for each in sense.name_position for side in POSITIONS[each]})])
    if sense.name_kind:
        when.append(["name-kind", list(sense.name_kind)])
    if sense.place_near:
        when.append(["place-near", []])
    if sense.on_map:
        when.append(["map", []])
    if sense.in_pencil:
        when.append(["pencil", []])
    roles = [slug(each) for each in sense.says if "/role/" in each]
    notices = [slug(each) for each in sense.says if "/notice/" in each]
    return {
        "roles": roles,
        "notice": notices[0] if notices else None,
        "weight": sense.weight,
        "when": when,
        "implies": [slug(each) for each in sense.implies],
        "of": sense.of,
        "reason": sense.reasons[0].value if sense.reasons else "",
    }


def slug(iri: str) -> str:
    """The last part of an IRI."""
    return iri.rsplit("/", 1)[-1]


NUMERALS = {"i": 1, "j": 1, "v": 5, "u": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}
"""Roman numerals by folded letter."""

DEDICATORY = {
    "form": "",
    "language": "mul",
    "class": "adjective",
    "senses": [
        {"roles": ["dedicatee"], "notice": None, "weight": 0, "when": [["beside", ["dedicator"]]], "implies": [], "of": None, "reason": ""}
    ],
}
"""Honours that open a dedication act as a term that names the receiver, where somebody dedicates."""


def compile_reader(vocabulary: Vocabulary) -> dict[str, Any]:
    """The compiled reader of a vocabulary; the same vocabulary always gives the same object."""
    grammar = grammar_tables(vocabulary)
    compiler = Compiler(vocabulary, grammar)
    for term in vocabulary.terms.values():
        if not term.withdrawn:
            compiler.term(term)
    for place in vocabulary.places.values():
        names = [text.value for text in place.labels] + [form.literal.value for form in place.forms] + [short.value for form in place.forms for short in form.short_forms]
        for name in names:
            folded = compiler.words(name)
            compiler.add(folded, "place", place.slug, compiler.weight("place", folded) - (600 if len("".join(folded)) <= 3 else 0), "whole")
    for words in vocabulary.word_lists.values():
        _word_list(compiler, words.word_kind, words.words)
    for forename in vocabulary.forenames.values():
        for text in (*forename.labels, *forename.forms, *forename.short_forms):
            folded = compiler.words(text.value)
            if len("".join(folded)) > 1:
                compiler.add(folded, "given", "", compiler.weight("given", folded), "whole")
    makes = {"conceiving", "matrix"}
    roles = {
        role.slug: {"label": role.label(), "stage": slug(role.stage), "of": role.of, "makes": slug(role.stage) in makes, "reported": grammar.exchanges["reported"].get(role.slug, role.slug)}
        for role in vocabulary.roles.values()
    }
    forms = {
        key: [[label, ref, weight, how] for (label, ref), (weight, how) in sorted(rows.items())] for key, rows in sorted(compiler.forms.items())
    }
    rules = [
        (rule.slug.removeprefix("spelling-"), rule.find, rule.put)
        for rule in sorted(vocabulary.spelling_rules.values(), key=lambda rule: (rule.order, rule.iri))
    ]
    terms: dict[str, Any] = {
        term.slug: {"form": term.literal.value, "language": term.language, "class": "trade" if compiler.trade(term) else term.word_class, "senses": [_sense(sense) for sense in term.senses]}
        for term in vocabulary.terms.values()
        if not term.withdrawn
    }
    terms["dedicatory"] = DEDICATORY
    return {
        "format": COMPILED_FORMAT,
        "vocabulary": vocabulary.publication.version,
        "base": vocabulary.publication.base,
        "characters": compiler.table,
        "notes": grammar.setting("notes"),
        "elisions": grammar.setting("elisions"),
        "spelling": {"rules": rules, "levelled": _levelled(forms, rules), "guessable": sorted(compiler.guessable)},
        "terms": terms,
        "forms": pack(forms),
        "dates": {
            "months": {word: number for find, number in plain_numbers(grammar.exchanges["months"]).items() for word in compiler.words(find)},
            "fillers": sorted({word for text in grammar.setting("date-fillers") for word in compiler.words(text)}),
            "ordinals": grammar.setting("date-ordinals"),
            "figures": grammar.exchanges["figures"],
            "numerals": NUMERALS,
        },
        "roles": roles,
        "grammar": {
            "arcs": grammar.arcs,
            "final": grammar.final,
            "bonds": grammar.bonds,
            "shapes": grammar.shapes,
            "places": grammar.places,
            "lookup": grammar.scores,
        },
        "unlabelled": [_unlabelled(rule) for rule in grammar.unlabelled],
        "firms": {"stages": grammar.setting("firm-stages"), "roles": grammar.setting("firm-roles")},
        "techniques": grammar.exchanges["techniques"],
        "mapwords": sorted({word for text in grammar.setting("map-words") for word in compiler.words(text)}),
        "modelwords": sorted({word for text in grammar.setting("model-words") for word in compiler.words(text)}),
        "powers": sorted({" ".join(compiler.words(text.value)) for each in vocabulary.word_lists.values() if each.word_kind == "grantor" for text in each.words}),
        "absorbed": grammar.exchanges["absorbed"],
        "superlatives": grammar.setting("superlatives"),
        "technique-roles": grammar.setting("technique-roles"),
        "kept-apart": sorted(role.slug for role in vocabulary.roles.values() if slug(role.stage) == "owning-the-original"),
        "hands": {"unread": grammar.setting("unread-hands"), "not-the-maker": grammar.setting("unread-ways")},
        "templates": grammar.templates,
        "confidence": grammar.confidence,
        "exp": [round(1_000_000 * math.exp(-index * STEP / 1000)) for index in range(1400)],
    }


def _unlabelled(rule: UnlabelledRule) -> dict[str, Any]:
    """A rule for names without a term, as the reader interprets it."""
    found = _sense(rule)
    if rule.monogram:
        found["when"].append(["monogram", []])
    return {"roles": found["roles"], "when": found["when"], "share": rule.share, "reason": found["reason"]}


LABEL_OF = {
    "conjunction": "conj", "agent": "agent", "particle": "particle", "honorific": "honorific", "postnominal": "post", "origin": "origin", "kin": "kin",
    "firm": "firm", "office": "office", "sameman": "sameman", "street": "street", "grantor": "grantor", "dedicatory": "dedicatory",
    "subjectword": "subject", "preposition": "prep",
}
"""The kind of a word list -> what the grammar calls its words."""


TELLING = frozenset(("subject", "conj", "agent", "prep", "office"))
"""Labels whose words tell the language of a lettering."""


def _word_list(compiler: Compiler, kind: str, words: Sequence[Text]) -> None:
    label = LABEL_OF.get(kind)
    if label is None:
        return
    for text in words:
        folded = compiler.words(text.value)
        if label == "particle" and len(folded) == 1 and folded[0] in compiler.prepositions:
            compiler.add(folded, label, "", compiler.weight(label, folded) - PREPOSITION_IN_NAME, "whole")
            continue
        if label == "prep" and len(folded) > 1 and "place" in {row for row, _ in compiler.forms.get(folded[-1], {})}:
            continue  # "à Paris": the town is to be read as a town
        ref = "dedicatory" if label == "dedicatory" else LANGUAGE_MARK + text.lang if label in TELLING else ""
        compiler.add(folded, label, ref, compiler.weight(label, folded), "whole")


def _levelled(forms: Mapping[str, Any], rules: Sequence[Sequence[str]]) -> dict[str, list[str]]:
    """The words of the list under their levelled spelling, where that differs from the word or is shared."""
    by_level: dict[str, list[str]] = defaultdict(list)
    for word in sorted({word for key in forms for word in key.split(" ")}):
        level = word
        for _, find, put in rules:
            level = level.replace(find, put)
        by_level[level].append(word)
    return {level: words for level, words in sorted(by_level.items()) if len(words) > 1 or words[0] != level}


def as_json(compiled: Mapping[str, Any]) -> str:
    """The compiled reader as one line of JSON, with the same bytes for the same vocabulary."""
    return json.dumps(compiled, ensure_ascii=False, separators=(",", ":"), sort_keys=False) + "\n"

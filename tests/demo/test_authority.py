"""The demonstration authority says that it is invented, hangs together, and draws its marks safely."""

import re
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import pytest

from margent.vocabulary.load import load

SVG = "{http://www.w3.org/2000/svg}"
KINDS_OF_FORM = {
    "asSigned",
    "latinised",
    "translated",
    "abbreviated",
    "initials",
    "byname",
    "married",
    "firmStyle",
    "misspelt",
}


@pytest.fixture(scope="module")
def vocabulary(root):
    """The general vocabulary with the demonstration authority."""
    return load(root / "vocab", [root / "vocab/demo"])


@pytest.fixture(scope="module")
def drawings(root):
    """The folder of drawings."""
    return root / "vocab/demo/marks/drawings"


def in_force(vocabulary):
    """The makers that have not been withdrawn."""
    return [maker for maker in vocabulary.makers.values() if not maker.withdrawn]


def test_the_publication_says_that_all_is_invented(vocabulary):
    """Nobody must take the demonstration for evidence."""
    (demo,) = vocabulary.authorities
    assert "invented" in demo.titles[0].value
    assert urlsplit(demo.base).hostname.endswith(".example")
    assert demo.version == vocabulary.publication.version


def test_every_kind_is_shown(vocabulary):
    """The demonstration is what guide and tests take their examples from."""
    makers = in_force(vocabulary)
    assert len(makers) >= 90
    assert {maker.kind for maker in makers} == {"Person", "Family", "Workshop", "Firm", "UnidentifiedHand"}
    assert {form.form_kind for maker in makers for form in maker.name_forms} == KINDS_OF_FORM
    assert {mark.mark_kind for mark in vocabulary.marks.values()} == {
        "makersMark",
        "printersChop",
        "publishersMark",
        "estateStamp",
        "collectorsMark",
        "institutionStamp",
        "taxStamp",
        "paperMark",
    }
    attestations = [each for maker in makers for form in maker.name_forms for each in form.attestations]
    assert {each.seen for each in attestations} == {True, False}


def test_the_form_stands_in_its_transcription(vocabulary):
    """What is said to have been read there must be readable there."""
    apart = [
        f"{maker.slug}: {form.literal.value} / {attestation.transcription}"
        for maker in in_force(vocabulary)
        for form in maker.name_forms
        for attestation in form.attestations
        if attestation.transcription and not _same_letters(form.literal.value, attestation.transcription)
    ]
    assert not apart


def _same_letters(form, transcription):
    """Whether the form stands in the transcription, but for old spelling, abbreviation strokes and spacing."""
    return _bare(form)[:5] in _bare(transcription) or _bare(form)[-5:] in _bare(transcription)


def _bare(text):
    text = text.casefold().translate(str.maketrans({"v": "u", "w": "uu", "j": "i", "y": "i", "k": "c", "æ": "ae"}))
    return re.sub(r"[^a-z]", "", text)


def test_marks_and_makers_name_each_other(vocabulary):
    """A mark found by its letters must lead to the maker, and the maker's page to the mark."""
    said_by_marks = {(maker, mark.iri) for mark in vocabulary.marks.values() for maker in mark.stands_for}
    said_by_makers = {(maker.iri, mark) for maker in vocabulary.makers.values() for mark in maker.marks}
    assert said_by_marks == said_by_makers


def test_kin_agree(vocabulary):
    """A tie told by one side only would show on one page only; heirs are told by the heir."""
    ties = {(maker.iri, tie.to) for maker in vocabulary.makers.values() for tie in maker.kin if tie.relation != "heir"}
    assert ties == {(to, own) for own, to in ties}


def test_every_drawing_belongs_to_a_mark_and_every_mark_has_one(vocabulary, drawings):
    """A forgotten file would be published for nothing."""
    named = {mark.drawing.rsplit("/", 1)[-1] for mark in vocabulary.marks.values()}
    assert named == {path.name for path in drawings.iterdir()}
    assert len(named) >= 40


def test_drawings_are_plain_shapes(drawings):
    """No script, style, link or text can hide in a drawing that has only a title and paths."""
    for path in drawings.glob("*.svg"):
        tree = ET.parse(path).getroot()
        assert tree.tag == f"{SVG}svg"
        assert tree.get("viewBox") == "0 0 120 120"
        assert tree[0].tag == f"{SVG}title"
        assert {child.tag for child in tree} == {f"{SVG}title", f"{SVG}path"}
        for child in tree.iter(f"{SVG}path"):
            assert set(child.keys()) <= {"d", "fill", "fill-rule", "stroke"}
            assert re.fullmatch(r"[MmLlHhVvCcQqAaZz0-9 .\-]+", child.get("d"))

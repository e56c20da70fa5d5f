"""Faults with one cure are cured and nothing else is touched."""

import shutil

import pytest

from margent.checking.check import check
from margent.checking.mends import mend
from margent.vocabulary.tidy import tidied
from margent.vocabulary.turtle import read_file

HEAD = """@base <https://fixture.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

"""
MAKER = """<maker/ada-holm> a mg:Person ;
    skos:prefLabel "Holm, Ada"@en ;
    mg:born "1602"^^edtf:EDTF ;
    mg:active "1620/1640"^^edtf:EDTF ;
    mg:trait "short strokes"@en ;
    mg:nameForm <maker/ada-holm#ada-holm> .
<maker/ada-holm#ada-holm> a mg:NameForm ;
    mg:literal "Ada Holm"@en ;
    mg:formKind mg:asSigned ;
    mg:attestation <maker/ada-holm#seen> .
<maker/ada-holm#seen> a mg:Attestation ;
    mg:sheetPlace "lower left" ;
    mg:object "Harbour office 1" ;
    mg:seen true .
"""


@pytest.fixture
def beside(tmp_path, root):
    folder = tmp_path / "beside"
    folder.mkdir()
    for path in (root / "vocab").glob("ns*.ttl"):
        shutil.copy(path, folder)
    return folder


@pytest.mark.parametrize(
    ("was", "is_now"),
    [
        pytest.param('"Ada Holm"@en', '" Ada  Holm "@en', id="stray blanks"),
        pytest.param('"1602"^^edtf:EDTF', '"1602"', id="no datatype"),
        pytest.param('"1602~"^^edtf:EDTF', '"c. 1602"', id="a circa"),
        pytest.param('"1620/1640"^^edtf:EDTF', '"1620-1640"^^edtf:EDTF', id="a hyphen"),
        pytest.param('"1620/1640"^^edtf:EDTF', '"1620-40"', id="two figures"),
        pytest.param('"1620/1640"^^edtf:EDTF', '"1640/1620"^^edtf:EDTF', id="runs backwards"),
        pytest.param('"short strokes"@en', '"short strokes"', id="no language"),
        pytest.param('"short strokes"@en', '"short \u200bstrokes\ufeff"@en', id="spaces of no width"),
        pytest.param('"lower left"', '"Lower-Left"', id="case and hyphen"),
        pytest.param("mg:seen true", 'mg:seen "true"', id="a truth in quotes"),
        pytest.param("mg:asSigned", '"as signed"', id="the name of a value"),
    ],
)
def test_one_cure(tmp_path, root, beside, turtle, was, is_now):
    good = MAKER if was in MAKER else MAKER.replace('"1602"^^edtf:EDTF', was)
    assert was in good
    path = turtle("ours/makers.ttl", HEAD + good.replace(was, is_now))
    assert check([tmp_path / "ours"], [beside], root / "shapes").violations
    (said,) = list(mend([tmp_path / "ours"], [beside], root / "shapes"))
    assert "is now" in said
    assert check([tmp_path / "ours"], [beside], root / "shapes").findings == ()
    expected = turtle("expected/makers.ttl", HEAD + good)
    assert path.read_text("utf-8") == tidied(read_file(expected))


@pytest.mark.parametrize(
    "broken",
    [
        pytest.param(MAKER.replace('"1602"^^edtf:EDTF', '"long ago"'), id="no date"),
        pytest.param(MAKER.replace("mg:asSigned", "mg:signed"), id="an unknown kind"),
        pytest.param(MAKER.replace("    mg:formKind mg:asSigned ;\n", ""), id="something left out"),
        pytest.param(MAKER.replace("#seen> .", "#saw> .", 1), id="a reference that leads nowhere"),
    ],
)
def test_what_must_be_chosen_is_left_alone(tmp_path, root, beside, turtle, broken):
    path = turtle("ours/makers.ttl", HEAD + broken)
    before = path.read_bytes()
    assert list(mend([tmp_path / "ours"], [beside], root / "shapes")) == []
    assert path.read_bytes() == before


def test_what_says_a_thing_twice_is_taken_away(tmp_path, root, beside, turtle):
    path = turtle(
        "ours/makers.ttl",
        HEAD + MAKER.replace("    mg:nameForm", "    mg:comparedWith <maker/ada-holm> ;\n    mg:nameForm"),
    )
    (said,) = list(mend([tmp_path / "ours"], [beside], root / "shapes"))
    assert "[X051] mg:comparedWith <maker/ada-holm> is gone" in said
    assert "comparedWith" not in path.read_text("utf-8")


def test_a_file_with_comments_inside_is_left_alone(tmp_path, root, beside, turtle):
    path = turtle(
        "ours/makers.ttl",
        HEAD
        + MAKER.replace('"Ada Holm"', '"Ada  Holm"').replace(
            "<maker/ada-holm#seen> a", "# here\n<maker/ada-holm#seen> a"
        ),
    )
    before = path.read_bytes()
    (said,) = list(mend([tmp_path / "ours"], [beside], root / "shapes"))
    assert "left alone" in said
    assert path.read_bytes() == before

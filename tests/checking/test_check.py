"""A whole run: what is told together, once, in order, and what decides the exit code."""

import json
import re
import shutil
import socket
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from margent.checking.check import check
from margent.checking.findings import Finding, filled, report
from margent.checking.forms import normal_form
from margent.cli import run
from margent.vocabulary.slugs import slug

HERE = Path(__file__).parent
GOLDEN = HERE / "golden"
FIXTURES = HERE / "fixtures"
ROOT = HERE.parent.parent

FORENAME = """@base <https://fixture.example/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .

<forename/lowell> a mg:Forename ;
    skos:prefLabel "Lowell"@en ;
    mg:gender mg:masculine ;
    mg:form "Low"@en ;
    mg:standing mg:fromMemory .
"""
PUBLICATION = """@base <https://fixture.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

<> a mg:Publication ;
    dcterms:title "Marks of the harbour"@en ;
    dcterms:publisher <#publisher> ;
    dcterms:license <https://creativecommons.org/publicdomain/zero/1.0/> ;
    dcterms:language "en" ;
    dcterms:issued "2026-11-25"^^xsd:date ;
    mg:base <> ;
    mg:version "2026.11" ;
    mg:dataFormat 1 .

<#publisher> a dcterms:Agent ;
    rdfs:label "The harbour office"@en .
"""


@pytest.fixture
def home(tmp_path):
    """A home with the shapes and the ontology, and hardly anything else, so that a run takes a moment."""
    vocab = tmp_path / "home" / "vocab"
    vocab.mkdir(parents=True)
    shutil.copy(ROOT / "vocab" / "ns.ttl", vocab)
    shutil.copy(ROOT / "vocab" / "publication.ttl", vocab)
    shutil.copytree(ROOT / "shapes", tmp_path / "home" / "shapes")
    return tmp_path / "home"


@pytest.fixture
def no_network(monkeypatch):
    """Any use of a socket fails."""

    def refuse(*args, **kwargs):
        raise AssertionError("the network was used")

    monkeypatch.setattr(socket, "socket", refuse)


def test_a_whole_report(monkeypatch, tmp_path):
    """Everything wrong in three untidy files, one of which cannot be read: this is what an editor sees."""
    shutil.copy(ROOT / "vocab" / "ns.ttl", tmp_path / "ns.ttl")
    monkeypatch.chdir(GOLDEN)
    outcome = check([Path("vocab")], [tmp_path], ROOT / "shapes")
    assert report(outcome.findings) == (GOLDEN / "report.txt").read_text("utf-8")
    assert (outcome.files, outcome.entries) == (3, 3)


def test_the_ontology_and_the_settings_keep_their_own_rules(home, capsys, no_network):
    assert run(["check", "--home", str(home)]) == 0
    assert capsys.readouterr() == ("", "2 files, 1 entry: nothing to mend\n")  # words of the ontology are no entries


def test_violations_leave_with_1_and_go_to_stdout(home, turtle, capsys, tmp_path):
    turtle("ours/forenames.ttl", FORENAME.replace("    mg:gender mg:masculine ;\n", ""))
    assert run(["check", "--home", str(home), str(tmp_path / "ours")]) == 1
    out, err = capsys.readouterr()
    assert out == (
        f"{tmp_path}/ours/forenames.ttl:5: lowell [F003]\n"
        "  wrong: does not have exactly one gender: it has none\n"
        "  mend:  write mg:gender mg:masculine or mg:gender mg:feminine\n"
    )
    assert err == "1 file, 1 entry: 1 to mend, 0 warnings\n"


def test_warnings_alone_are_shown_and_leave_with_0(home, turtle, capsys, tmp_path):
    turtle(
        "ours/sources.ttl",
        FORENAME[: FORENAME.index("<forename")]
        + '@prefix dcterms: <http://purl.org/dc/terms/> .\n<source/a> a mg:Source ; dcterms:title "A"@en ; skos:note "n"@en .\n',
    )
    assert run(["check", "--home", str(home), str(tmp_path / "ours")]) == 0
    out, err = capsys.readouterr()
    assert re.findall(r"\[.*\]", out) == ["[B007 warning]", "[X030 warning]"]
    assert err == "1 file, 1 entry: 0 to mend, 2 warnings\n"


def test_json_says_the_same(home, turtle, capsys, tmp_path):
    turtle("ours/forenames.ttl", FORENAME.replace("mg:masculine", "mg:male"))
    assert run(["check", "--home", str(home), str(tmp_path / "ours"), "--as", "json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found == {
        "format": 1,
        "files": 1,
        "entries": 1,
        "violations": 1,
        "warnings": 0,
        "findings": [
            {
                "file": f"{tmp_path}/ours/forenames.ttl",
                "line": 7,
                "rule": "F003",
                "entry": "lowell",
                "wrong": "does not have exactly one gender: mg:male",
                "mend": "write mg:gender mg:masculine or mg:gender mg:feminine",
                "severity": "violation",
            }
        ],
    }


def test_an_authority_is_checked_beside_the_general_vocabulary(home, turtle, capsys, tmp_path):
    turtle("ours/publication.ttl", PUBLICATION)
    turtle("ours/forenames.ttl", FORENAME)
    assert run(["check", "--home", str(home), "--authority", str(tmp_path / "ours")]) == 0
    assert capsys.readouterr().err.startswith("4 files, ")


def test_a_folder_named_twice_is_checked_once(home, turtle, capsys, tmp_path):
    turtle("ours/publication.ttl", PUBLICATION)
    ours = str(tmp_path / "ours")
    assert run(["check", "--home", str(home), ours, f"{ours}/../ours", "--authority", ours]) == 0
    assert capsys.readouterr().err == "1 file, 1 entry: nothing to mend\n"


def test_a_vocabulary_with_an_ontology_of_its_own_stands_alone(home, tmp_path, capsys):
    """A second checkout is compared with itself, not with the one the program comes from."""
    other = tmp_path / "other"
    shutil.copytree(home / "vocab", other)
    assert run(["check", "--home", str(home), str(other)]) == 0
    assert "nothing to mend" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("args", "said"),
    [
        pytest.param(["nowhere"], "nowhere: no such folder", id="no such folder"),
        pytest.param(["file.ttl"], "file.ttl: no such folder", id="a file"),
        pytest.param(["empty"], "empty: no Turtle file", id="no file"),
        pytest.param(["--authority", "empty"], "empty: not an authority", id="no authority"),
        pytest.param(["--as", "xml"], "'xml' is not one of", id="unknown form"),
    ],
)
def test_wrong_use_leaves_with_2_and_one_sentence(home, capsys, monkeypatch, tmp_path, args, said):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty").mkdir()
    (tmp_path / "file.ttl").write_text("", "utf-8")
    assert run(["check", "--home", str(home), *args]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert "Traceback" not in err


def test_files_that_cannot_be_read_are_all_told_and_the_others_still_checked(home, turtle, capsys, tmp_path):
    turtle("ours/a.ttl", b"\xff")
    turtle("ours/b.ttl", "<<<")
    turtle("ours/c.ttl", FORENAME.replace("mg:standing mg:fromMemory", "mg:standing mg:no"))
    assert run(["check", "--home", str(home), str(tmp_path / "ours")]) == 1
    out, err = capsys.readouterr()
    assert re.findall(r"(\w)\.ttl:(\d+):.*\[(\w+)\]", out) == [
        ("a", "1", "Y001"),
        ("b", "1", "Y001"),
        ("c", "9", "C021"),
    ]
    assert err.startswith("3 files, 1 entry: 3 to mend")


def test_references_into_a_file_that_cannot_be_read_are_not_told(home, turtle, capsys, tmp_path):
    """One missing full stop must not look like fifty lost sources."""
    turtle("ours/source.ttl", "<<<")
    turtle(
        "ours/forenames.ttl",
        FORENAME.replace("mg:standing mg:fromMemory .", "mg:citation <forename/lowell#cite> .")
        + '<forename/lowell#cite> a mg:Citation ; mg:work <source/a> ; mg:locator "p. 1" .\n',
    )
    run(["check", "--home", str(home), str(tmp_path / "ours")])
    assert re.findall(r"\[(\w+)\]", capsys.readouterr().out) == ["Y001"]


def test_an_entry_in_two_files_is_one_fault_and_not_also_too_many_labels(home, turtle, tmp_path):
    turtle("ours/publication.ttl", PUBLICATION)
    turtle("ours/one.ttl", FORENAME)
    turtle("ours/two.ttl", FORENAME.replace('"Lowell"', '"Lovell"').replace("mg:fromMemory", "mg:commonPractice"))
    found = check([tmp_path / "ours"], [home / "vocab"], home / "shapes").findings
    assert [(Path(finding.file).name, finding.rule) for finding in found] == [("one.ttl", "Y005"), ("two.ttl", "Y005")]


def test_a_part_that_was_left_behind_by_its_entry_is_told_once(home, turtle, tmp_path):
    """The entry was given another IRI, and its parts were not."""
    cited = "    mg:citation <forename/lowell#cite> .\n<forename/lowell#cite> a mg:Citation .\n"
    text = FORENAME.replace("    mg:standing mg:fromMemory .\n", cited).replace("lowell> a", "low> a")
    turtle("ours/publication.ttl", PUBLICATION)
    turtle("ours/f.ttl", text)
    found = check([tmp_path / "ours"], [home / "vocab"], home / "shapes").findings
    assert [finding.rule for finding in found if finding.entry == "lowell#cite" and finding.rule[0] in "XY"] == ["Y010"]


def test_what_a_message_says_already_is_not_said_again(home, turtle, tmp_path):
    turtle("ours/publication.ttl", PUBLICATION)
    turtle("ours/f.ttl", FORENAME.replace('    skos:prefLabel "Lowell"@en ;\n', ""))
    found = check([tmp_path / "ours"], [home / "vocab"], home / "shapes").findings
    assert [finding.wrong for finding in found] == ["has no preferred label"]


def test_what_is_there_as_something_else_is_not_called_lost(home, turtle, tmp_path):
    turtle("ours/publication.ttl", PUBLICATION)
    turtle("ours/f.ttl", FORENAME + "<term/la-a> a mg:Term ; mg:shortFor <forename/lowell>, <term/la-b> .\n")
    found = check([tmp_path / "ours"], [home / "vocab"], home / "shapes").findings
    wrong = {finding.wrong for finding in found if "short for a term" in finding.wrong}
    assert wrong == {
        "is short for a term that is not there: <forename/lowell>, which is there as mg:Forename",
        "is short for a term that is not there: <term/la-b>",
    }


def test_a_link_out_of_the_folder_is_refused(home, turtle, capsys, tmp_path):
    turtle("elsewhere/secret.ttl", FORENAME)
    turtle("ours/a.ttl", FORENAME)
    (tmp_path / "ours" / "b.ttl").symlink_to(tmp_path / "elsewhere" / "secret.ttl")
    assert run(["check", "--home", str(home), str(tmp_path / "ours")]) == 1
    assert "leads out of" in capsys.readouterr().out


def test_progress_is_not_written_to_a_file(home, capsys):
    run(["check", "--home", str(home)])
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_the_order_of_files_changes_nothing(home, turtle, tmp_path, order):
    names = ["a.ttl", "b.ttl"]
    for name, number in zip(names, order, strict=True):
        turtle(f"ours{order[0]}/{name}", FORENAME.replace("lowell", f"n{number}").replace("mg:masculine", "mg:x"))
    outcome = check([tmp_path / f"ours{order[0]}"], [home / "vocab"], ROOT / "shapes")
    assert [finding.entry for finding in outcome.findings] == [f"n{number}" for number in order]


@pytest.mark.slow
@pytest.mark.parametrize(("folder", "beside"), [("vocab", []), ("vocab/demo", ["vocab"])])
def test_what_we_publish_has_no_violations(monkeypatch, folder, beside):
    monkeypatch.chdir(ROOT)
    outcome = check([ROOT / folder], [ROOT / name for name in beside], ROOT / "shapes")
    assert report(finding for finding in outcome.findings if finding.severity == "violation") == ""


@given(
    st.lists(
        st.builds(
            Finding,
            st.sampled_from("ab"),
            st.integers(1, 3),
            st.sampled_from(["T001", "T002"]),
            st.just("e"),
            st.just("w"),
            st.just("m"),
        )
    )
)
def test_a_report_is_sorted_and_tells_nothing_twice(findings):
    blocks = re.findall(r"(?m)^(.):(\d): e \[(.*)\]$", report(findings))
    assert blocks == sorted({(finding.file, str(finding.line), finding.rule) for finding in findings})
    assert report(reversed(findings)) == report(findings)


def test_a_wording_keeps_names_without_a_value():
    assert filled("has {value} and {other}", value="{other}") == "has {other} and {other}"


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        pytest.param("sculpsit", "sculpsit", id="plain"),
        pytest.param("gravé à l'eau-forte", "grave-a-l-eau-forte", id="accents and apostrophe"),
        pytest.param("H.C.", "h-c", id="points"),
        pytest.param("Gebrüder Weiß", "gebruder-weiss", id="sharp s"),
        pytest.param("cæl.", "cael", id="ligature"),
        pytest.param("& Co.", "et-co", id="ampersand"),
    ],
)
def test_slug(form, expected):
    assert slug(form) == expected


@given(st.text())
def test_a_slug_is_made_of_slug_letters_and_making_it_again_changes_nothing(text):
    made = slug(text)
    assert re.fullmatch(r"([a-z0-9]+(-[a-z0-9]+)*)?", made)
    assert slug(made) == made
    assert normal_form(made) == normal_form(text)

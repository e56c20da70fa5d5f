import pytest

from margent.faults import Fault, Faults
from margent.vocabulary import turtle as module
from margent.vocabulary.turtle import TurtleFault, read_file, read_files, read_folder, turtle_files

HEAD = "@base <https://w3id.org/margent/> .\n@prefix mg: <https://w3id.org/margent/ns#> .\n"
ONE = HEAD + '<term/la-x> a mg:Term ;\n    mg:weight 0 ;\n    mg:says """two\nlines"""@LA .\n'


def test_base_and_prefixes_are_known(turtle):
    file = read_file(turtle("a.ttl", ONE))
    assert file.base == "https://w3id.org/margent/"
    assert file.prefixes == {"mg": "https://w3id.org/margent/ns#"}
    assert len(file.triples) == 3
    assert file.triples[0].subject.value == "https://w3id.org/margent/term/la-x"


@pytest.mark.parametrize(
    "changed",
    [
        pytest.param("\ufeff" + ONE, id="byte order mark"),
        pytest.param(ONE.replace("\n", "\r\n"), id="lines ended the Windows way"),
        pytest.param("\ufeff" + ONE.replace("\n", "\r\n"), id="both"),
    ],
)
def test_the_machine_a_file_was_written_on_does_not_show(turtle, changed):
    assert read_file(turtle("b.ttl", changed)).triples == read_file(turtle("a.ttl", ONE)).triples


@pytest.mark.parametrize(
    ("content", "line", "column", "said"),
    [
        pytest.param(HEAD + "<a> <b> <c>\n\n<d> <e> <f> .\n", 3, 1, "the statement has no end", id="no full stop"),
        pytest.param("<a> <b> <c> .\n", 1, 1, "write @base", id="no @base"),
        pytest.param((HEAD + '<a> mg:says "').encode() + b'\xe9t\xe9" .\n', 3, 14, "not UTF-8", id="not UTF-8"),
        pytest.param(HEAD + "<a> skos:note 1 .\n", 3, 5, "skos", id="prefix not declared"),
        pytest.param(HEAD + '<a> mg:says "b\n" .\n', 3, 15, "not closed", id="no second quotation mark"),
        pytest.param(HEAD + "<a> mg:says ; mg:of 1 .\n", 3, 13, '";" stands where a value should', id="no value"),
        pytest.param(HEAD + "<a> <b>, <c> .\n", 3, 8, '"," stands where a value should', id="no property"),
    ],
)
def test_a_syntax_fault_says_where(turtle, content, line, column, said):
    path = turtle("a.ttl", content)
    with pytest.raises(TurtleFault) as caught:
        read_file(path)
    assert (caught.value.line, caught.value.column) == (line, column)
    assert said in caught.value.message
    assert str(caught.value).startswith(f"{path}:{line}:{column}: ")


def test_the_faults_of_all_files_are_told_together(turtle, tmp_path):
    turtle("a.ttl", "<a")
    turtle("b.ttl", ONE)
    turtle("c/d.ttl", "x")
    with pytest.raises(Faults) as caught:
        read_folder(tmp_path)
    assert [fault.path.name for fault in caught.value.faults] == ["a.ttl", "d.ttl"]
    assert str(caught.value).count("\n") == 1


def test_files_come_sorted_without_the_vocabularies_inside(turtle, tmp_path):
    for name in (
        "z.ttl",
        "a/b.ttl",
        "a.ttl",
        "publication.ttl",
        "demo/publication.ttl",
        "demo/makers/a.ttl",
        "note.md",
        ".x.ttl",
    ):
        turtle(name, ONE)
    assert [str(path.relative_to(tmp_path)) for path in turtle_files(tmp_path)] == [
        "a/b.ttl",
        "a.ttl",
        "publication.ttl",
        "z.ttl",
    ]
    assert [str(path.relative_to(tmp_path)) for path in turtle_files(tmp_path / "demo")] == [
        "demo/makers/a.ttl",
        "demo/publication.ttl",
    ]


def test_a_link_out_of_the_folder_is_refused(turtle, tmp_path):
    outside = turtle("outside/secret.ttl", ONE)
    turtle("vocab/a.ttl", ONE)
    (tmp_path / "vocab/b.ttl").symlink_to(outside)
    with pytest.raises(Fault, match=r"b\.ttl: leads out of"):
        read_folder(tmp_path / "vocab")
    (tmp_path / "vocab/b.ttl").unlink()
    (tmp_path / "vocab/terms").symlink_to(outside.parent)
    with pytest.raises(Fault, match="terms: leads out of"):
        read_folder(tmp_path / "vocab")


def test_a_link_inside_the_folder_is_followed(turtle, tmp_path):
    (tmp_path / "b.ttl").symlink_to(turtle("a.ttl", ONE))
    assert len(read_folder(tmp_path)) == 2


def test_a_file_too_large_to_edit_is_refused(turtle, monkeypatch):
    path = turtle("a.ttl", ONE)
    monkeypatch.setattr(module, "MOST_BYTES", 20)
    with pytest.raises(Fault, match="split it into files of at most 500 entries"):
        read_file(path)


def test_a_missing_file_is_one_sentence(tmp_path):
    with pytest.raises(Faults, match=r"^\S+gone.ttl: no such file$"):
        read_files([tmp_path / "gone.ttl"])

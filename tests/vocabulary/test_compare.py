"""What two versions differ in, and what that breaks. The versions are made for the test; nobody in them is real."""

import json
import random
import re
import shutil
import subprocess

import pytest

from margent.cli import run
from margent.publishing.dumps import Graphs, write_dumps
from margent.vocabulary.compare import changes, read_version
from margent.vocabulary.compare_breaks import breaks
from margent.vocabulary.compare_text import as_markdown
from margent.vocabulary.load import load

HEAD = """@base <https://w3id.org/margent/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .

<> mg:base <> .
"""
CUTTER = """<role/cutter> a mg:Role ;
    skos:prefLabel "cutter"@en,
        "tailleur"@fr ;
    skos:broader <role/printmaker> ;
    skos:exactMatch <http://outside.example/cutter> .
"""
PRINTMAKER = '<role/printmaker> a mg:Role ; skos:prefLabel "printmaker"@en .\n<role/drawer> a mg:Role .\n'
WOODCUTTER = '<role/woodcutter> a mg:Role ; skos:prefLabel "woodcutter"@en ; skos:broader <role/cutter> .\n'
SENSE = "<term/la-x#one> a mg:Sense ; mg:says <role/cutter> .\n"
OLD = HEAD + CUTTER + PRINTMAKER + WOODCUTTER + SENSE


@pytest.fixture
def compared(turtle, tmp_path):
    """A function that gives the changes and the breaks between OLD and another text."""

    def compare(text):
        turtle("old/roles.ttl", OLD)
        turtle("new/roles.ttl", text)
        old, new = read_version(tmp_path / "old"), read_version(tmp_path / "new")
        found = [(change.kind, change.iri.removeprefix("https://w3id.org/margent/")) for change in changes(old, new)]
        return found, [(each.iri.removeprefix("https://w3id.org/margent/"), each.what) for each in breaks(old, new)]

    return compare


GONE = "owl:deprecated true ; dcterms:isReplacedBy <role/woodcutter>"


@pytest.mark.parametrize(
    ("text", "changed", "broken"),
    [
        pytest.param(OLD, [], [], id="the same"),
        pytest.param(HEAD + SENSE + WOODCUTTER + PRINTMAKER + CUTTER, [], [], id="another order"),
        pytest.param(
            OLD + '<role/etcher> a mg:Role ; skos:prefLabel "etcher"@en .\n', [("added", "role/etcher")], [], id="added"
        ),
        pytest.param(OLD.replace('"tailleur"', '"graveur"'), [("changed", "role/cutter")], [], id="a label reworded"),
        pytest.param(
            OLD.replace(WOODCUTTER, ""),
            [("vanished", "role/woodcutter")],
            [("role/woodcutter", "has vanished; whoever holds its IRI now holds nothing")],
            id="vanished",
        ),
        pytest.param(
            OLD.replace("skos:broader <role/printmaker>", GONE),
            [("withdrawn", "role/cutter")],
            [],
            id="withdrawn as it should be",
        ),
        pytest.param(
            OLD.replace('"cutter"@en', '"engraver"@en').replace('"woodcutter"@en', '"cutter"@en'),
            [("changed", "role/cutter"), ("changed", "role/woodcutter")],
            [("role/cutter", 'has lost the name "cutter"@en, which now leads to <role/woodcutter>')],
            id="a label moved",
        ),
        pytest.param(
            OLD.replace("skos:broader <role/printmaker>", GONE).replace('"woodcutter"@en', '"cutter"@en'),
            [("withdrawn", "role/cutter"), ("changed", "role/woodcutter")],
            [],
            id="a label moved to what took its place",
        ),
        pytest.param(
            OLD.replace("skos:broader <role/printmaker>", "skos:broader <role/printmaker>, <role/drawer>"),
            [("changed", "role/cutter")],
            [("role/cutter", "has been narrowed: it is now a kind of <role/drawer>")],
            id="a role narrowed",
        ),
        pytest.param(
            OLD.replace("skos:broader <role/printmaker>", "skos:broader <role/new>") + "<role/new> a mg:Role .\n",
            [("changed", "role/cutter"), ("added", "role/new")],
            [],
            id="a role put below a new one",
        ),
        pytest.param(
            OLD.replace("says <role/cutter>", "says <role/woodcutter>"),
            [("changed", "term/la-x")],
            [("term/la-x#one", "says <role/woodcutter> where it said the broader <role/cutter>")],
            id="a sense narrowed",
        ),
        pytest.param(
            OLD.replace("says <role/cutter>", "says <role/printmaker>"),
            [("changed", "term/la-x")],
            [],
            id="a sense widened",
        ),
        pytest.param(
            OLD.replace("exactMatch", "broadMatch"),
            [("changed", "role/cutter")],
            [("role/cutter", "no longer matches <http://outside.example/cutter> exactly")],
            id="a match made looser",
        ),
        pytest.param(
            OLD.replace("<role/woodcutter> a mg:Role", "<role/woodcutter> a mg:Term"),
            [("changed", "role/woodcutter")],
            [("role/woodcutter", "is no longer mg:Role but mg:Term")],
            id="another kind",
        ),
    ],
)
def test_compare(compared, text, changed, broken):
    assert compared(text) == (changed, broken)


def test_a_reader_s_rule_without_a_name_may_vanish(turtle, tmp_path):
    turtle("old/a.ttl", OLD + "<reading/arc> a mg:Arc .\n")
    turtle("new/a.ttl", OLD)
    assert breaks(read_version(tmp_path / "old"), read_version(tmp_path / "new")) == ()


@pytest.fixture
def dumps(root, tmp_path):
    """Dumps of the invented makers, and a function that writes them again with something done to the lines."""
    vocab, demo = root / "vocab", root / "vocab" / "demo"
    vocabulary = load(vocab, [demo])
    write_dumps([demo], vocabulary, Graphs(vocab, [demo], vocabulary), tmp_path / "one" / "data")

    def again(change):
        shutil.copytree(tmp_path / "one", tmp_path / "two")
        for path in (tmp_path / "two" / "data").rglob("*.nt"):
            path.write_text("".join(f"{line}\n" for line in change(path.read_text("utf-8").splitlines())), "utf-8")
        return tmp_path / "one", tmp_path / "two"

    return again


@pytest.mark.slow
def test_dumps_in_another_order_are_the_same(dumps, capsys):
    one, two = dumps(lambda lines: random.Random(1).sample(lines, len(lines)))
    assert run(["compare", str(one), str(two)]) == 0
    assert capsys.readouterr() == ("", "nothing has changed\n")


@pytest.mark.slow
def test_a_dump_that_lacks_an_entry_breaks(dumps, capsys):
    one, two = dumps(lambda lines: [line for line in lines if "/maker/anna-verrou" not in line.partition(" ")[0]])
    assert run(["compare", str(one), str(two), "--as", "json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert [each["iri"].rsplit("/", 1)[-1] for each in told["breaks"]] == ["anna-verrou"]
    assert [each["iri"].rsplit("/", 1)[-1] for each in told["vanished"]] == ["anna-verrou"]


def test_a_dump_and_files_are_not_compared(turtle, tmp_path, capsys):
    turtle("files/a.ttl", OLD)
    turtle("dump/a.nt", "<https://a.example/1> <https://a.example/is> <https://a.example/2> .\n")
    assert run(["compare", str(tmp_path / "files"), str(tmp_path / "dump")]) == 2
    assert (
        capsys.readouterr().err
        == "one of the two is a dump and the other is not: compare two dumps, or two folders of files\n"
    )


def test_text_says_it_field_by_field(turtle, tmp_path, capsys):
    turtle("old/a.ttl", OLD)
    turtle("new/a.ttl", OLD.replace('"tailleur"', '"graveur"').replace(WOODCUTTER, ""))
    assert run(["compare", str(tmp_path / "old"), str(tmp_path / "new")]) == 1
    text = (
        "role/woodcutter [breaks]\n"
        "  wrong: has vanished; whoever holds its IRI now holds nothing\n"
        "  mend:  put the entry back with owl:deprecated true, and dcterms:isReplacedBy with what took its place\n"
        "changed role/cutter (cutter)\n"
        "  skos:prefLabel\n"
        '    - "tailleur"@fr\n'
        '    + "graveur"@fr\n'
        "vanished role/woodcutter (woodcutter)\n"
    )
    assert capsys.readouterr() == (text, "1 changed, 1 vanished; 1 break\n")


def test_revisions_of_a_folder(turtle, tmp_path, capsys, monkeypatch):
    def git(*args):
        who = ["-c", "user.name=An editor", "-c", "user.email=editor@fixture.example"]
        subprocess.run(["git", "-C", tmp_path, *who, *args], check=True, capture_output=True)

    turtle("vocab/a.ttl", OLD)
    git("init", "-q")
    git("add", ".")
    git("commit", "-q", "-m", "The first version")
    turtle("vocab/a.ttl", OLD.replace(WOODCUTTER, ""))
    git("commit", "-aqm", "A role is gone")
    turtle("vocab/a.ttl", OLD.replace('"tailleur"', '"graveur"'))
    monkeypatch.chdir(tmp_path)
    assert run(["compare", "HEAD~1", "HEAD"]) == 1
    assert capsys.readouterr().err == "1 vanished; 1 break\n"
    assert run(["compare", "HEAD~1"]) == 0
    assert capsys.readouterr().err == "1 changed; 0 breaks\n"
    assert run(["compare", "HEAD", "HEAD~1", "--in", "vocab"]) == 0
    assert capsys.readouterr().err == "1 added; 0 breaks\n"


@pytest.mark.parametrize(
    ("args", "said"),
    [
        pytest.param(["no-such-revision", "--in", "old"], "not a git repository", id="no repository"),
        pytest.param(["old", "empty"], "empty: holds no Turtle file and no dump", id="an empty folder"),
        pytest.param(["old", "broken"], "broken/a.ttl:1:", id="not Turtle"),
        pytest.param(["old", "old", "--letterings", "none.jsonl"], "old: has no reader", id="no reader"),
        pytest.param(["old", "note.txt"], "note.txt: is no dump", id="no dump"),
    ],
)
def test_wrong_use_is_one_sentence(turtle, tmp_path, capsys, monkeypatch, args, said):
    turtle("old/a.ttl", OLD)
    turtle("broken/a.ttl", "<<<")
    turtle("note.txt", "no dump")
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path)
    assert run(["compare", *args]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert err.count("\n") == 1


def test_nothing_an_entry_says_becomes_markup(turtle, tmp_path):
    turtle("old/a.ttl", OLD)
    nasty = '"a | `b` <script>x</script> [l](http://x.example) **c**"'
    turtle("new/a.ttl", OLD.replace('"tailleur"', nasty).replace('"woodcutter"', nasty))
    old, new = read_version(tmp_path / "old"), read_version(tmp_path / "new")
    from margent.vocabulary.compare import Comparison

    page = as_markdown(Comparison(changes(old, new), breaks(old, new), new.bases), [])
    outside = re.sub(r"(?<!\\)(`+)(?!`).*?(?<!`)\1(?!`)", "", page)  # what is not code
    assert "script" in outside
    assert not re.search(r"(?<!\\)[<\[`]", outside)


@pytest.mark.slow
def test_letterings_that_read_differently_are_told(root, tmp_path, capsys):
    """Only the one lettering whose word says another role in the newer version is told, with both answers."""
    shutil.copytree(root / "vocab", tmp_path / "old", ignore=shutil.ignore_patterns("demo"))
    shutil.copytree(tmp_path / "old", tmp_path / "new")
    path = tmp_path / "new" / "terms" / "la-conceiving.ttl"
    text = path.read_text("utf-8")
    assert "mg:says <role/painter>" in text
    path.write_text(text.replace("mg:says <role/painter>", "mg:says <role/sculptor>"), "utf-8")
    letterings = tmp_path / "ours.jsonl"
    lines = [
        {"id": "a", "lines": [{"text": "A. Verrou pinxit"}]},
        {"id": "b", "lines": [{"text": "B. Holm sculpsit"}]},
    ]
    letterings.write_text("".join(json.dumps(each) + "\n" for each in lines), "utf-8")
    run(["compare", str(tmp_path / "old"), str(tmp_path / "new"), "--letterings", str(letterings), "--as", "json"])
    (told,) = json.loads(capsys.readouterr().out)["readings"]
    assert told["id"] == "a"
    assert "painter" in told["gone"][0]
    assert "sculptor" in told["come"][0]

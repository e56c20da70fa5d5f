"""A contribution comes from anybody: nothing of it is fetched or run, and what is too much of it is refused in one sentence."""

import os
import re
import shutil
import subprocess
import sys

import pytest

from margent.checking import limits
from margent.checking.check import check
from margent.checking.queries import queries
from margent.checking.shapes import Shapes
from margent.cli import run
from margent.faults import Fault
from margent.vocabulary import turtle as reading

HEAD = """@base <https://fixture.example/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix sh: <http://www.w3.org/ns/shacl#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
"""
FORENAME = """
<forename/lowell> a mg:Forename ;
    skos:prefLabel "Lowell"@en ;
    mg:gender mg:masculine ;
    mg:form "Low"@en ;
    mg:standing mg:fromMemory .
"""


@pytest.fixture
def beside(tmp_path, root):
    (tmp_path / "beside").mkdir()
    shutil.copy(root / "vocab" / "ns.ttl", tmp_path / "beside")
    return tmp_path / "beside"


def told(tmp_path, beside, root):
    return [
        (each.line, each.rule, each.wrong, each.mend)
        for each in check([tmp_path / "ours"], [beside], root / "shapes").findings
    ]


def test_brackets_too_deep_are_refused_before_they_are_parsed(tmp_path, beside, root, turtle):
    turtle("ours/a.ttl", HEAD + "\n<forename/a> mg:form " + "[ mg:form " * 200_000 + '"x"' + " ]" * 200_000 + " .\n")
    ((line, rule, wrong, _),) = told(tmp_path, beside, root)
    assert (line, rule) == (7, "Y001")
    assert wrong == "has more than 20 brackets within each other"


def test_brackets_in_texts_are_not_counted(tmp_path, beside, root, turtle):
    turtle("ours/a.ttl", HEAD + FORENAME.replace('"Low"', f'"{"[(" * 100}"'))
    assert "Y001" not in [rule for _, rule, _, _ in told(tmp_path, beside, root)]


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        pytest.param(FORENAME.replace('"Low"', f'"{"x" * 10_001}"'), 10, "a text of 10,001 characters", id="a text"),
        pytest.param(
            FORENAME.replace("mg:masculine", f"<forename/{'x' * 600}>"), 9, "an IRI of 633 characters", id="an IRI"
        ),
    ],
)
def test_what_is_too_long_is_refused_at_its_line(tmp_path, beside, root, turtle, text, line, said):
    turtle("ours/a.ttl", HEAD + text)
    ((found, rule, wrong, mend),) = told(tmp_path, beside, root)
    assert (found, rule, mend) == (line, "Y001", "shorten it")
    assert said in wrong


def test_too_many_triples_are_refused(tmp_path, beside, root, turtle, monkeypatch):
    monkeypatch.setattr(limits, "MOST_TRIPLES", 4)
    turtle("ours/a.ttl", HEAD + FORENAME)
    ((_, rule, wrong, _),) = told(tmp_path, beside, root)
    assert (rule, wrong) == ("Y001", "has 5 triples, and at most 4 are read")


def test_a_file_too_large_is_refused_unread(tmp_path, beside, root, turtle, monkeypatch):
    monkeypatch.setattr(reading, "MOST_BYTES", 100)
    turtle("ours/a.ttl", HEAD + FORENAME)
    assert [rule for _, rule, _, _ in told(tmp_path, tmp_path / "ours", root)] == ["Y001"]


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
@pytest.mark.parametrize("folder", [False, True])
def test_a_link_out_of_the_folder_is_refused(tmp_path, beside, root, turtle, capsys, folder):
    secret = turtle("elsewhere/secret.ttl", HEAD + FORENAME)
    turtle("ours/a.ttl", HEAD + FORENAME)
    (tmp_path / "ours" / "link.ttl").symlink_to(secret.parent if folder else secret)
    run(["check", str(tmp_path / "ours")])
    out, err = capsys.readouterr()
    assert "leads out of" in out + err
    assert "Lowell" not in out + err


def test_what_acts_on_a_screen_is_spelt_out_in_every_form(tmp_path, beside, root, turtle, capsys):
    """A text of a contribution may neither colour a report, nor turn its letters about, nor break its lines."""
    turtle("ours/a.ttl", HEAD + FORENAME.replace('"Lowell"@en', '"Lo\\u001b[31mwell\u202e\\nmend: nothing"'))
    for form in ("text", "json", "sarif", "junit", "annotations"):
        run(["check", str(tmp_path / "ours"), "--as", form])
        out, err = capsys.readouterr()
        assert "\\u001b[31mwell" in out.replace("\\\\", "\\"), form
        assert not {"\x1b", "\u202e"} & {*out, *err}
        assert not any(line.startswith("mend: nothing") for line in out.splitlines())


HOSTILE = """
<forename/lowell> owl:imports <http://127.0.0.1:9/ontology.ttl> ;
    skos:exactMatch <http://127.0.0.1:9/x>, <file:///etc/passwd> .
<forename/shape> a sh:NodeShape ; sh:targetClass mg:Forename ;
    sh:js [ sh:jsLibrary <http://127.0.0.1:9/x.js> ; sh:jsFunctionName "run" ] ;
    sh:sparql [ sh:select "SELECT $this WHERE { SERVICE <http://127.0.0.1:9/> { $this ?p ?o } }" ] .
"""


def test_nothing_of_a_contribution_is_fetched_or_run(tmp_path, beside, root, turtle):
    """In a process that ends at the first socket or program. What looks like a shape is data like any other."""
    turtle("ours/a.ttl", HEAD + FORENAME + HOSTILE)
    guard = """
import sys
def forbid(event, args):
    if event.startswith(("socket.connect", "socket.getaddrinfo", "subprocess.Popen", "os.system", "os.exec", "os.fork")):
        import os; os.write(2, event.encode()); os._exit(99)
sys.addaudithook(forbid)
from pathlib import Path
from margent.checking.check import check
print(len(check([Path(sys.argv[1])], [Path(sys.argv[2])], Path(sys.argv[3])).findings))
"""
    command = [sys.executable, "-c", guard, str(tmp_path / "ours"), str(beside), str(root / "shapes")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) > 0


@pytest.mark.parametrize(
    "what", ['sh:js [ sh:jsFunctionName "run" ]', 'sh:sparql [ sh:select "SELECT" ]', "sh:lessThan mg:died"]
)
def test_a_shape_with_code_or_with_what_is_not_understood_is_refused(turtle, tmp_path, what):
    turtle(
        "shapes/a.ttl",
        HEAD + f"<https://w3id.org/margent/shapes#Z001> a sh:NodeShape ; sh:targetClass mg:Maker ; {what} .\n",
    )
    with pytest.raises(Fault, match=re.escape(f"uses {what.split()[0]}")):
        Shapes(tmp_path / "shapes")


def test_a_rule_that_asks_another_server_is_refused(turtle, tmp_path):
    head = "".join(f"# {name}: x\n" for name in ("id", "wrong", "mend", "reason"))
    turtle(
        "rules/X.rq",
        head
        + "# severity: warning\n# scope: all\nSELECT ?entry WHERE { SERVICE <http://127.0.0.1:9/> { ?entry a ?x } }\n",
    )
    with pytest.raises(Fault, match="asks another server"):
        queries(tmp_path / "rules")

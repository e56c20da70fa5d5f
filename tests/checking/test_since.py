"""What a change touches or brings, in a repository made for the test."""

import re
import shutil
import subprocess

import pytest

from margent.cli import run

FORENAMES = """@base <https://fixture.example/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .

<forename/lowell> a mg:Forename ;
    skos:prefLabel "Lowell"@en ;
    mg:gender mg:unknown ;
    mg:form "Low"@en ;
    mg:standing mg:fromMemory .

<forename/orrin> a mg:Forename ;
    skos:prefLabel "Orrin"@en ;
    mg:gender mg:masculine ;
    mg:form "Orr"@en ;
    mg:standing mg:fromMemory .
"""


def git(where, *args):
    who = ["-c", "user.name=An editor", "-c", "user.email=editor@fixture.example"]
    subprocess.run(["git", "-C", where, *who, *args], check=True, capture_output=True)


@pytest.fixture
def ours(root, tmp_path, monkeypatch):
    """A folder under version control with one fault in it, checked with hardly any vocabulary beside it."""
    home = tmp_path / "home"
    (home / "vocab").mkdir(parents=True)
    for path in (root / "vocab").glob("*.ttl"):
        shutil.copy(path, home / "vocab")
    shutil.copytree(root / "shapes", home / "shapes")
    monkeypatch.setenv("MARGENT_HOME", str(home))
    ours = tmp_path / "repository" / "ours"
    ours.mkdir(parents=True)
    (ours / "forenames.ttl").write_text(FORENAMES, "utf-8")
    git(tmp_path / "repository", "init", "-q")
    git(tmp_path / "repository", "add", ".")
    git(tmp_path / "repository", "commit", "-q", "-m", "One fault is here already")
    monkeypatch.chdir(tmp_path / "repository")
    return ours


def told(capsys, *args):
    run(["check", "ours", *args])
    return re.findall(r"ttl:(\d+): (\S+) \[(\w+)", capsys.readouterr().out)


def test_what_was_wrong_before_is_not_told_again(ours, capsys):
    assert told(capsys) == [("7", "lowell", "F003")]
    assert told(capsys, "--since", "HEAD") == []


def test_lines_that_moved_bring_nothing_new(ours, capsys):
    text = FORENAMES.replace("<forename/lowell>", "# a word above\n\n<forename/lowell>", 1)
    (ours / "forenames.ttl").write_text(text, "utf-8")
    assert told(capsys, "--since", "HEAD") == []


def test_all_that_is_wrong_in_a_touched_entry_is_told(ours, capsys):
    (ours / "forenames.ttl").write_text(FORENAMES.replace('"Low"@en', '"Lo"@en'), "utf-8")
    assert told(capsys, "--since", "HEAD") == [("7", "lowell", "F003")]


def test_a_new_fault_in_an_entry_that_was_left_alone_is_told(ours, capsys):
    """A second folder begins to hold the same entry: the one that was there first now stands twice."""
    (ours / "more.ttl").write_text(
        FORENAMES.replace("mg:unknown", "mg:feminine").partition("<forename/orrin>")[0], "utf-8"
    )
    assert ("5", "lowell", "Y005") in told(capsys, "--since", "HEAD")


def test_a_folder_that_is_new_is_told_whole(ours, capsys):
    shutil.move(ours, ours.with_name("theirs"))
    run(["check", "theirs", "--since", "HEAD"])
    assert "F003" in capsys.readouterr().out


@pytest.mark.parametrize("revision", ["no-such-branch", "--output=x", ""])
def test_what_is_no_revision_is_refused_in_one_sentence(ours, capsys, revision):
    assert run(["check", "ours", f"--since={revision}"]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert "name a revision" in err


def test_outside_a_repository_it_is_refused_in_one_sentence(ours, capsys, tmp_path):
    shutil.copytree(ours, tmp_path / "elsewhere")
    assert run(["check", str(tmp_path / "elsewhere"), "--since", "HEAD"]) == 2
    assert "not a git repository" in capsys.readouterr().err

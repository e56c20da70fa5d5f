"""An authority begun and filled by hand: what is asked for, what is refused, and that nothing is written by halves. All invented."""

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from margent.checking.check import check
from margent.cli import run
from margent.vocabulary.load import load
from margent.vocabulary.tidy import untidy

BASE = "https://prints.museum.example/authority/"
BEGIN = ["--base", BASE, "--title", "Makers in our prints", "--publisher", "The Museum"]


@pytest.fixture
def ours(tmp_path, capsys):
    """An authority that was just begun."""
    folder = tmp_path / "ours"
    assert run(["begin", str(folder), *BEGIN]) == 0
    capsys.readouterr()
    return folder


@pytest.fixture
def add(ours, capsys):
    """A function that adds an entry; gives back the exit code, stdout and stderr."""

    def call(*args):
        code = run(["add", *args, "--to", str(ours)])
        said = capsys.readouterr()
        return code, said.out, said.err

    return call


def state(folder):
    return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def loaded(folder, root):
    return load(root / "vocab", [folder])


def test_what_is_begun_is_whole_and_has_nothing_to_mend(ours, root):
    names = sorted(str(path.relative_to(ours)) for path in ours.rglob("*") if path.is_file())
    assert names == [
        ".ci/check",
        ".gitattributes",
        ".github/workflows/check.yml",
        "README.md",
        "makers/README.md",
        "marks/README.md",
        "publication.ttl",
        "sources/README.md",
        "terms/README.md",
    ]
    assert check([ours], [root / "vocab"], root / "shapes").findings == ()
    (publication,) = loaded(ours, root).authorities
    assert (publication.base, publication.titles[0].value) == (BASE, "Makers in our prints")
    assert BASE in (ours / "README.md").read_text(encoding="utf-8")
    assert os.access(ours / ".ci" / "check", os.X_OK)


def test_its_own_check_passes(ours):
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    done = subprocess.run(
        ["sh", ".ci/check"], cwd=ours, env=os.environ | {"PATH": path}, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_where_nobody_can_be_asked_the_folder_s_name_stands_in_and_that_is_said(tmp_path, root, capsys):
    folder = tmp_path / "Our Prints"
    assert run(["begin", str(folder)]) == 0
    said = capsys.readouterr().err
    assert "--base, --title, --publisher not said" in said
    assert "before anything is published" in said
    (publication,) = loaded(folder, root).authorities
    assert publication.base == "https://our-prints.example/authority/"
    assert check([folder], [root / "vocab"], root / "shapes").findings == ()


@pytest.mark.parametrize(
    ("prepare", "options", "said"),
    [
        (None, ["--base", "x", *BEGIN[2:]], "is no base for IRIs"),
        (None, [*BEGIN, "--licence", "free"], "is no IRI"),
        (None, [*BEGIN, "--language", "English"], "is no language tag"),
        ("publication.ttl", BEGIN, "is an authority already"),
        (".ci/check", BEGIN, "would be written over"),
    ],
)
def test_begin_refuses_and_writes_nothing(prepare, options, said, tmp_path, capsys):
    folder = tmp_path / "ours"
    if prepare:
        (folder / prepare).parent.mkdir(parents=True)
        (folder / prepare).write_text("mine")
    before = state(tmp_path)
    assert run(["begin", str(folder), *options]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1
    assert state(tmp_path) == before


def test_a_repository_keeps_its_own_readme(tmp_path, capsys):
    (tmp_path / "README.md").write_text("mine")
    assert run(["begin", str(tmp_path), *BEGIN]) == 0
    assert (tmp_path / "README.md").read_text() == "mine"
    assert "was there, and was left as it is" in capsys.readouterr().err


def test_a_maker_a_form_a_mark_and_a_term(add, ours, root, tmp_path):
    (tmp_path / "quail.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7"/></svg>'
    )
    code, out, _ = add(
        "maker", "Quabbel, Joost", "--born", "1602", "--died", "1671~", "--role", "engraver", "--place", "Anvers", "--definition", "Cut bridges.",
    )  # fmt: skip
    assert (code, out) == (0, f"{BASE}maker/joost-quabbel\n")
    code, _, err = add(
        "form", "Quabbel, Joost", "J. Quabbel", "--kind", "as signed", "--language", "nl", "--object", "P.1: A Bridge",
        "--seen-place", "lower right", "--seen-date", "1633", "--transcription", "J. Quabbel sculp.",
    )  # fmt: skip
    assert code == 0
    assert "makers/q.ttl:" in err
    code, _, _ = add(
        "form",
        "joost-quabbel",
        "Iudocus Quabbelius",
        "--kind",
        "latinised",
        "--language",
        "la",
        "--standing",
        "from memory",
    )
    assert code == 0
    code, out, _ = add(
        "mark", "JQ", "--device", "a quail on a post", "--arrangement", "joined", "--for", "joost-quabbel", "--states", "engraver",
        "--period", "1625/1650", "--sheet-place", "in image", "--drawing", str(tmp_path / "quail.svg"),
    )  # fmt: skip
    assert (code, out) == (0, f"{BASE}mark/jq-quail\n")
    code, out, _ = add(
        "term", "gheprickt", "--language", "nl", "--role", "etcher", "--name-position", "after", "--reason", "pricked with the needle",
        "--cite", "dcrmr", "--locator", "Appendix J",
    )  # fmt: skip
    assert (code, out) == (0, f"{BASE}term/nl-gheprickt\n")

    known = loaded(ours, root)
    maker = known.makers[f"{BASE}maker/joost-quabbel"]
    assert (maker.born, maker.died, maker.kind) == ("1602", "1671~", "Person")
    assert maker.practices[0].role.endswith("role/engraver")
    assert maker.working_places[0].place.endswith("place/antwerp")
    signed, latin = sorted(maker.name_forms, key=lambda form: form.form_kind)
    assert (latin.literal.value, latin.standing) == ("Iudocus Quabbelius", "fromMemory")
    (seen,) = signed.attestations
    assert (seen.object, seen.seen, seen.sheet_place, seen.date) == ("P.1: A Bridge", True, "lower right", "1633")
    mark = known.marks[f"{BASE}mark/jq-quail"]
    assert (mark.letters, mark.mark_kind, mark.stands_for) == ("JQ", "makersMark", (maker.iri,))
    assert maker.marks == (mark.iri,)
    assert (ours / "marks" / "drawings" / "jq-quail.svg").is_file()
    term = known.terms[f"{BASE}term/nl-gheprickt"]
    assert term.senses[0].says[0].endswith("role/etcher")
    assert term.citations[0].work.endswith("source/dcrmr")
    assert check([ours], [root / "vocab"], root / "shapes").findings == ()
    assert untidy(ours.rglob("*.ttl")) == {}


def test_the_first_of_two_is_named_by_file_and_line(add, ours):
    add("maker", "Quabbel, Joost")
    add("form", "joost-quabbel", "J. Q.", "--kind", "initials", "--standing", "from memory")
    add("mark", "JQ", "--device", "a quail")
    add(
        "term",
        "ghesneden",
        "--language",
        "nl",
        "--role",
        "engraver",
        "--name-position",
        "after",
        "--reason",
        "cut",
        "--standing",
        "from memory",
    )
    before = state(ours)
    for args, said in (
        (("maker", "Quabbel, Joost"), "makers/q.ttl:5: the maker joost-quabbel is there already"),
        (("maker", "quabbel, joost"), "makers/q.ttl:5: the maker joost-quabbel is there already"),
        (("maker", "Joost Quabbel"), "makers/q.ttl:5: the maker joost-quabbel is there already"),
        (("form", "joost-quabbel", "J. Q.", "--kind", "initials", "--standing", "from memory"), "the form 'J. Q.' is there already"),
        (("form", "joost-quabbel", "Quabbel, Joost", "--kind", "initials", "--standing", "from memory"), "is the authorised name already"),
        (("mark", "JQ", "--device", "a quail"), "marks/j.ttl:4: the mark jq-quail is there already"),
        (("mark", "QJ", "--device", "A quail"), "marks/j.ttl:4: jq-quail has the same letters and shows the same"),
        (("term", "Ghesneden", "--language", "nl", "--role", "engraver", "--name-position", "after", "--reason", "cut", "--standing", "from memory"),
         "terms/nl.ttl:5: the term 'Ghesneden' is there already"),
    ):  # fmt: skip
        code, out, err = add(*args)
        assert (code, out) == (2, ""), args
        assert said in err
        assert len(err.splitlines()) == 1
    assert state(ours) == before


def test_another_of_the_same_name_has_its_own_slug(add, ours, root):
    add("maker", "Quabbel, Joost")
    code, out, _ = add("maker", "Quabbel, Joost", "--slug", "joost-quabbel-2", "--born", "1650")
    assert (code, out) == (0, f"{BASE}maker/joost-quabbel-2\n")
    code, _, err = add("form", "Quabbel, Joost", "J. Q.", "--kind", "initials", "--standing", "from memory")
    assert code == 2
    assert "is the name of 2 makers" in err


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (["maker"], "needs the authorised name"),
        (["maker", "X", "--born", "soon"], "--born 'soon': is no date in EDTF"),
        (["maker", "X", "--role", "engravr"], "no such role; did you mean engraver"),
        (["maker", "X", "--place", "Antwrep"], "no such town; did you mean antwerp"),
        (["maker", "X", "--kind", "ship"], "--kind 'ship': is not known; write one of family, firm"),
        (["maker", "X", "--same-as", "q1"], "is no IRI"),
        (["maker", "X", "--cite", "dcrm"], "no source of that name; did you mean dcrmr"),
        (["maker", "X", "--cite", "dcrmr", "--standing", "from memory"], "one or the other"),
        (["form", "nobody", "X"], "the authority has no such maker"),
        (["mark"], "needs its LETTERS, or what it shows"),
        (["mark", "X", "--state", "2"], "are of a print: name it with --object"),
        (["mark", "X", "--drawing", "none.svg"], "no such file"),
        (["term", "x", "--language", "tlh", "--role", "engraver"], "--language 'tlh': is not known"),
        (["term", "x", "--language", "la", "--role", "engraver", "--notice", "price"], "one or the other"),
        (["term", "x", "--language", "la", "--notice", "prize"], "no such kind of notice"),
        (["term", "x", "--language", "la", "--role", "engraver", "--name-position", "before"], "needs why it says so"),
        (["term", "x", "--language", "la", "--role", "engraver", "--name-position", "before", "--reason", "y"], "needs to know what it rests on"),
    ],
)  # fmt: skip
def test_what_is_wrong_or_missing_is_one_sentence_and_nothing_is_written(args, said, add, ours):
    before = state(ours)
    code, out, err = add(*args)
    assert (code, out) == (2, "")
    assert said in err
    assert len(err.splitlines()) == 1
    assert state(ours) == before


def test_what_the_check_would_find_is_told_and_nothing_is_written(add, ours):
    before = state(ours)
    code, _, err = add("mark", "JQ", "--sheet-place", "somewhere")
    assert code == 2
    assert "marks/j.ttl:" in err
    assert "[K007]" in err
    assert err.endswith("nothing was written\n")
    assert state(ours) == before


def test_faults_that_were_there_before_stand_in_nobodys_way(add, ours):
    add("maker", "Quabbel, Joost")
    file = ours / "makers" / "q.ttl"
    file.write_text(
        file.read_text(encoding="utf-8").replace("a mg:Person ;", 'a mg:Person ;\n    mg:trait "x"@fr ;'),
        encoding="utf-8",
    )
    code, _, _ = add("maker", "Other, Another")
    assert code == 0


def test_dry_shows_the_entry_and_writes_nothing(add, ours):
    before = state(ours)
    code, out, _ = add("maker", "Quabbel, Joost", "--dry")
    assert code == 0
    assert "<maker/joost-quabbel> a mg:Person ;" in out
    assert state(ours) == before


def test_a_term_goes_beside_its_like_in_the_vocabulary(root, capsys):
    args = [
        "--role",
        "engraver",
        "--name-position",
        "after",
        "--reason",
        "cut",
        "--standing",
        "from memory",
        "--dry",
        "--to",
        str(root / "vocab"),
    ]
    assert run(["add", "term", "ghekrabt", "--language", "nl", *args]) == 0
    assert "<term/nl-ghekrabt> a mg:Term ;" in capsys.readouterr().out
    assert run(["add", "term", "sculpsit", "--language", "la", *args]) == 2
    assert "la-matrix.ttl:" in capsys.readouterr().err


def talk(args, answers, cwd):
    """The exit code and what was said, when the answers are typed at a terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", "from margent.cli import main; main()", *args],
        cwd=cwd, stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        os.close(theirs)
        os.write(ours, "".join(f"{answer}\n" for answer in answers).encode())
        out, err = process.communicate(timeout=120)
        os.close(ours)
    return process.returncode, out, err


def test_at_a_terminal_it_asks_for_what_is_needed(tmp_path, root):
    code, _, err = talk(["begin", "ours"], [BASE, "Our makers", "The Museum", ""], tmp_path)
    assert code == 0, err
    assert "What the authority is called" in err
    answers = ["Quabbel, Joost", "person", "engraver, etcher", "Antwerp", "Cut bridges.", "1602", "", ""]
    code, out, err = talk(["add", "maker", "--to", "ours"], answers, tmp_path)
    assert (code, out) == (0, f"{BASE}maker/joost-quabbel\n"), err
    code, out, err = talk(
        ["add", "form", "joost-quabbel", "J. Q.", "--to", "ours"], ["initals", "initials", "from memory"], tmp_path
    )
    assert code == 0, err
    assert "'initals': is not known" in err
    maker = loaded(tmp_path / "ours", root).makers[f"{BASE}maker/joost-quabbel"]
    assert (maker.born, maker.died, len(maker.practices)) == ("1602", None, 2)
    assert maker.name_forms[0].form_kind == "initials"

"""Input that means harm or was damaged: a clean reading or one plain sentence, in bounded time and memory."""

import json
import os
import resource
import subprocess
import sys
import time
import zipfile

import openpyxl
import pytest

from margent.cli import run
from margent.exchange import workbook

MARGENT = [sys.executable, "-c", "from margent.cli import main; main()"]
MEMORY = 1_500_000_000
"""Bytes that a run may ask for; the compiled reader is most of them."""
SECONDS = 60
"""For any of these on a busy machine."""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="memory is bounded by POSIX means")


def margent(*args, stdin=b""):
    """Exit code, output and messages of a run with bounded memory and time."""
    done = subprocess.run(
        [*MARGENT, *map(str, args)],
        input=stdin,
        capture_output=True,
        timeout=SECONDS,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY)),
    )
    return done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8")


@pytest.fixture(scope="module", autouse=True)
def compiled_once():
    """The compiled reader is in its cache, so that compiling is not measured."""
    assert run(["read", "A. Holm sculp."]) == 0


def answers(path, *args):
    """The answers to a file, and the exit code; nothing but the count of broken rows may be said beside them."""
    code, out, err = margent("read", "--from", path, "--jobs", 1, *args)
    assert "Traceback" not in err
    assert err == "" or err.count("\n") == 1
    return code, [json.loads(line) for line in out.splitlines()]


GOOD = b'{"id": "good", "lines": ["A. Holm sculp."]}\n'


def as_json(text):
    return json.dumps({"id": "bad", "lines": [text]}).encode() + b"\n"


@pytest.mark.parametrize(
    ("row", "said"),
    [
        pytest.param(as_json("x" * 10_000_000), "row 1 is longer than 4,000,000 bytes: give one print's lettering a row", id="10 MB"),
        pytest.param(as_json("A. Holm sculp. " * 70_000), "row 1: The lettering has 1,050,000 characters; at most 20,000 are read at once: give one print's lettering at a time.", id="1 MB"),
        pytest.param(as_json("[" * 100_000 + "]" * 100_000), "row 1: The lettering has 200,000 characters; at most 20,000 are read at once: give one print's lettering at a time.", id="nested brackets"),
        pytest.param(b"[" * 100_000 + b"]" * 100_000 + b"\n", "row 1 is not JSON: write one object a line", id="nested lists"),
        pytest.param(b'{"lines":' * 50_000 + b"\n", "row 1 is not JSON: write one object a line", id="nested objects"),
        pytest.param(b'{"id": "bad", "lines": ["\\ud800 sculp."]}\n', "row 1: the lettering holds half a character (a lone surrogate): transcribe that sign anew", id="lone surrogate"),
        pytest.param(b'{"id": "\\udfff", "lines": []}\n', 'row 1: "id" holds half a character (a lone surrogate): transcribe that sign anew', id="lone surrogate in the id"),
        pytest.param(b'{"id": "bad", "lines": [{"text": "A", "place": "\\ud800"}]}\n', 'row 1: "place" holds half a character (a lone surrogate): transcribe that sign anew', id="lone surrogate in the place"),
        pytest.param(b'{"id": ' + b"9" * 100_000 + b', "lines": []}\n', "row 1 is not JSON: write one object a line", id="a number of 100,000 digits"),
        pytest.param(b'{"id": 1e400, "lines": []}\n', "row 1 is not JSON: write one object a line", id="an endless number"),
        pytest.param(b'{"id": NaN, "lines": []}\n', "row 1 is not JSON: write one object a line", id="no number"),
        pytest.param(b'{"id": 1.5, "lines": []}\n', 'row 1: "id" is neither text nor a whole number: write it in quotation marks', id="a broken number"),
        pytest.param(b'{"id": "' + b"x" * 5000 + b'", "lines": []}\n', 'row 1: "id" has 5,000 characters: write at most 1,000', id="a long id"),
        pytest.param(b'{"lines": ["A. Holm"], "date": "' + b"[" * 9000 + b'"}\n', "row 1: '" + "[" * 40 + "…' is no date in EDTF: write 1612, 1612~, 161X or 1610/1614", id="a nested date"),
        pytest.param(b'{"lines": {"0": "A. Holm"}}\n', 'row 1: the row has no list under "lines": write {"lines": [{"text": "..."}]}', id="lines are no list"),
        pytest.param(b"\xff\xfe\x00\n", "row 1 is not UTF-8 text: save the file as UTF-8", id="no UTF-8"),
        pytest.param(b"\x00\x00\x00\n", "row 1 is not JSON: write one object a line", id="NUL bytes"),
    ],
)  # fmt: skip
def test_a_bad_row_costs_only_itself(tmp_path, row, said):
    path = tmp_path / "p.jsonl"
    path.write_bytes(row + GOOD)
    code, (first, second) = answers(path)
    assert code == 1
    assert first["error"] == said
    assert (second["id"], second["statements"][0]["name"]) == ("good", "A. Holm")


CLEAN = [
    pytest.param("[" * 9_990 + "A. Holm sculp." + "]" * 9_990, id="brackets within brackets"),
    pytest.param("(" * 9_990 + "A. Holm sculp." + ")" * 9_990, id="round brackets within round brackets"),
    pytest.param("]" * 9_000 + "[" * 9_000, id="brackets the wrong way round"),
    pytest.param("\u202eA. Holm\u202c \u2066sculp.\u2069", id="right to left"),
    pytest.param("A.\u200b Ho\u200dlm\ufeff scu\u00adlp.", id="signs without width"),
    pytest.param("A. Holm\x00 sculp.\x00", id="NUL"),
    pytest.param("e" + "\u0301" * 19_000, id="a tower of accents"),
    pytest.param("\U0010ffff\ufffe\x7f\x85\u2028\u2029" * 100, id="no characters"),
    pytest.param("d'" * 1000, id="one elision after the other"),
    pytest.param("M" * 20_000, id="a Roman numeral without end"),
]


@pytest.mark.parametrize("text", CLEAN)
@pytest.mark.parametrize("form", ["jsonl", "csv", "xlsx"])
def test_a_strange_lettering_is_read(tmp_path, text, form):
    """In every form: what is read must come out again in it."""
    path = tmp_path / "p.jsonl"
    path.write_bytes(as_json(text) + GOOD)
    began = time.process_time()
    assert run(["read", "--from", str(path), "--jobs", "1", "--to", str(tmp_path / f"o.{form}")]) == 0
    assert time.process_time() - began < SECONDS
    if form == "jsonl":
        first, second = map(json.loads, (tmp_path / "o.jsonl").read_text(encoding="utf-8").splitlines())
        for each in [*first["statements"], *first["unread"]]:
            start, end = each["span"]
            assert 0 <= start < end <= len(text)
        assert second["statements"][0]["name"] == "A. Holm"
    if form == "xlsx":
        assert openpyxl.load_workbook(tmp_path / "o.xlsx").active.max_row >= 3


@pytest.mark.parametrize(
    ("given", "code", "said"),
    [
        (b"A. Holm sculp." * 700_000, 2, "The lettering has 1,000,000 characters; at most 20,000 are read at once"),
        (b"A. Holm\xff sculp.", 2, "standard input is not UTF-8 text; save the lettering as UTF-8"),
        (b"A. Holm\x00 sculp.", 0, "A reading is a proposal"),
        (b"", 1, ""),
    ],
)
def test_standard_input(given, code, said):
    found, out, err = margent("read", "-", stdin=given)
    assert (found, bool(out)) == (code, code != 2)
    assert err.startswith(said)
    assert err.count("\n") == bool(said)


def test_half_a_character_on_the_command_line():
    code, out, err = margent("read", b"A. Holm \xff sculp.".decode("utf-8", "surrogateescape"))
    assert (code, out) == (2, "")
    assert err == "the lettering holds half a character (a lone surrogate): transcribe that sign anew\n"


def test_a_table_with_nul_and_cells_of_a_megabyte(tmp_path):
    path = tmp_path / "p.csv"
    big = "A. Holm sculp. " * 60_000
    path.write_text(
        f'id,lettering\na,A. Holm\x00 sculp.\nb,{big}\nc,{"x" * 3_000_000}\nd,"{big}\n{big}"\ne,A. Holm sculp.\n',
        encoding="utf-8",
    )
    code, found = answers(path)
    assert code == 1
    assert [(each["id"], "error" in each) for each in found[:4]] == [
        ("a", False),
        ("b", True),
        ("c", True),
        ("d", True),
    ]
    assert (found[-1]["id"], found[-1]["statements"][0]["name"]) == ("e", "A. Holm")


def test_a_table_of_one_endless_line(tmp_path):
    path = tmp_path / "p.csv"
    path.write_bytes(b"x" * 30_000_000)
    code, out, err = margent("read", "--from", path)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"{path}:1: the header is longer than 1,000,000 characters")


def test_a_workbook_that_unpacks_to_more_than_is_read(tmp_path, monkeypatch, capsys):
    """The limit is lowered: to make a file that unpacks to the real one takes longer than all other tests here."""
    monkeypatch.setattr(workbook, "UNPACKED", 1_000_000)
    path = tmp_path / "p.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/media/zeros", bytes(1_000_001))
    assert run(["read", "--from", str(path)]) == 2
    assert capsys.readouterr() == (
        "",
        f"{path}: unpacks to 1,000,001 bytes, and at most 1,000,000 are read; save it as CSV in UTF-8\n",
    )


@pytest.mark.parametrize(
    "part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/sharedStrings.xml", "[Content_Types].xml"]
)
@pytest.mark.parametrize("content", [b"", b"<a", b"\x00" * 50, b'<!DOCTYPE a [<!ENTITY b "cc">]><a>&b;</a>'])
def test_a_damaged_workbook_is_one_sentence(tmp_path, part, content):
    whole, path = tmp_path / "whole.xlsx", tmp_path / "p.xlsx"
    book = openpyxl.Workbook()
    book.active.append(["id", "lettering"])
    book.active.append(["a", "A. Holm sculp."])
    book.save(whole)
    with zipfile.ZipFile(whole) as before, zipfile.ZipFile(path, "w") as after:
        for name in before.namelist():
            after.writestr(name, content if name == part else before.read(name))
    assert run(["read", "--from", str(path)]) in {0, 1, 2}  # some damage does no harm; a fault of our own would be 3

"""Answers of a batch, written: every form, whole or not at all, resumable, inert in spreadsheets."""

import csv
import io
import json
import os

import openpyxl
import pytest

from margent.cli import run
from margent.exchange import answers as answers_module
from margent.exchange.answers import answers
from margent.exchange.batch_out import Written
from margent.exchange.letterings import row_from
from margent.exchange.reading_table import inert

LINES = [
    '{"id": "a", "lines": ["A. Holm invenit", "B. Tobler sculp. et excud. Antuerpiae 1612"]}',
    '{"id": "b", "lines": 3}',
    '{"id": "c", "lines": []}',
    '{"id": "=HYPERLINK(1)", "lines": ["C. Rund pinxit"]}',
]


@pytest.fixture
def source(tmp_path):
    path = tmp_path / "prints.jsonl"
    path.write_text("\n".join(LINES) + "\n", encoding="utf-8")
    return path


def read(*args):
    return run(["read", *(str(arg) for arg in args)])


@pytest.mark.parametrize("form", ["jsonl", "json", "csv"])
def test_a_file_and_the_output_are_the_same(source, tmp_path, capsys, form):
    assert read("--from", source, "--as", form) == 1
    printed = capsys.readouterr()
    assert read("--from", source, "--to", tmp_path / f"out.{form}") == 1
    written = (tmp_path / f"out.{form}").read_text(encoding="utf-8-sig" if form == "csv" else "utf-8")
    assert written == printed.out
    assert printed.err == "1 row could not be read; each stands in its place with an error\n"
    assert capsys.readouterr().out == ""
    assert sorted(path.name for path in tmp_path.iterdir()) == [f"out.{form}", "prints.jsonl"]


def test_answers_stand_in_the_order_of_the_rows(source, capsys):
    read("--from", source)
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [each["id"] for each in found] == ["a", "b", "c", "=HYPERLINK(1)"]
    assert found[1] == {
        "id": "b",
        "error": 'row 2: the row has no list under "lines": write {"lines": [{"text": "..."}]}',
    }


def test_json_is_one_list(source, tmp_path, capsys):
    read("--from", source, "--as", "json")
    assert [each["id"] for each in json.loads(capsys.readouterr().out)] == ["a", "b", "c", "=HYPERLINK(1)"]
    empty = tmp_path / "empty.jsonl"
    empty.write_text("")
    assert read("--from", empty, "--as", "json") == 1
    assert json.loads(capsys.readouterr().out) == []


def table(text):
    return list(csv.DictReader(io.StringIO(text)))


def test_a_table_has_a_row_for_each_statement(source, capsys):
    read("--from", source, "--as", "csv")
    found = table(capsys.readouterr().out)
    assert [(row["id"], row["line"], row["name"], row["roles"]) for row in found] == [
        ("a", "0", "A. Holm", "designer"),
        ("a", "1", "B. Tobler", "engraver; publisher"),
        ("b", "", "", ""),
        ("c", "", "", ""),
        ("'=HYPERLINK(1)", "0", "C. Rund", "painter"),
    ]
    assert found[1]["after"] == "0"
    assert found[1]["places"] == "Antuerpiae"
    assert found[1]["dates"] == "1612"
    assert found[2]["error"].startswith("row 2: ")


def test_reasons_are_a_column_when_asked_for(source, capsys):
    read("--from", source, "--as", "csv", "--why")
    assert "invenit" in table(capsys.readouterr().out)[0]["because"]


@pytest.mark.parametrize(
    ("text", "harmless"),
    [
        *[pytest.param(f"{sign}1+1", f"'{sign}1+1", id=repr(sign)) for sign in "=+-@\t\r"],
        pytest.param(" =1+1", "' =1+1", id="behind a space"),
        pytest.param("＝1+1", "'＝1+1", id="a wide sign"),
        pytest.param("1+1", "1+1", id="left alone: a sign inside"),
        pytest.param("", "", id="left alone: nothing"),
        pytest.param("A. Holm", "A. Holm", id="left alone: a name"),
    ],
)
def test_no_text_is_computed_by_a_spreadsheet(text, harmless):
    assert inert(text) == harmless


def test_a_workbook_holds_texts_and_no_formula(source, tmp_path):
    out = tmp_path / "out.xlsx"
    assert read("--from", source, "--to", out) == 1
    sheet = openpyxl.load_workbook(out).active
    cells = [cell for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert not any(cell.data_type == "f" for cell in cells)
    (marked,) = [cell for cell in cells if cell.value == "=HYPERLINK(1)"]
    assert marked.quotePrefix
    names = [cell.value for cell in sheet[1]]
    first = dict(zip(names, (cell.value for cell in sheet[2]), strict=True))
    assert (first["id"], first["name"], first["line"], first["error"]) == ("a", "A. Holm", 0, None)
    assert isinstance(first["confidence"], float)


def test_a_workbook_can_be_read_again(source, tmp_path, capsys):
    out = tmp_path / "out.xlsx"
    read("--from", source, "--to", out)
    assert read("--from", out, "--column", "lettering=name") == 0
    assert len(capsys.readouterr().out.splitlines()) == 5


def test_signs_that_a_workbook_cannot_hold_are_replaced(tmp_path):
    path = tmp_path / "p.jsonl"
    path.write_text('{"id": "a\\u0000b", "lines": ["A. Holm sculp."]}\n')
    assert read("--from", path, "--to", tmp_path / "o.xlsx") == 0
    assert openpyxl.load_workbook(tmp_path / "o.xlsx").active["A2"].value == "a\ufffdb"


@pytest.mark.parametrize(
    "args",
    [
        ["--as", "xlsx"],
        ["--resume"],
        ["--as", "table", "--to", "{tmp}/o.txt"],
        ["--to", "{tmp}/none/o.csv"],
        ["--to", "{tmp}"],
        ["--to", "{tmp}/prints.jsonl"],
        ["--date", "1612"],
        ["--column", "id=Nr"],
    ],
)
def test_wrong_use_is_said_in_one_sentence(source, tmp_path, capsys, args):
    before = source.read_bytes()
    assert read("--from", source, *(arg.format(tmp=tmp_path) for arg in args)) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert source.read_bytes() == before
    assert len(list(tmp_path.iterdir())) == 1


def test_what_is_for_files_is_refused_beside_a_text(tmp_path, capsys):
    assert read("A. Holm f.", "--to", tmp_path / "o.csv") == 2
    assert read("A. Holm f.", "--as", "xlsx") == 2
    assert "--from" in capsys.readouterr().err


def test_a_file_that_cannot_be_read_leaves_nothing(tmp_path, capsys):
    path = tmp_path / "p.csv"
    path.write_bytes(b"id,lettering\nx,Grav\xe9\n")
    for form in ("csv", "json", "jsonl", "table"):
        assert read("--from", path, "--as", form) == 2
    assert read("--from", path, "--to", tmp_path / "o.csv") == 2
    assert capsys.readouterr().out == ""
    assert list(tmp_path.iterdir()) == [path]


# --- several processes ---------------------------------------------------------------------------------


def many(number):
    for each in range(number):
        if each % 97 == 5:
            yield row_from(each + 1, {"id": each, "lines": None})
        else:
            yield row_from(
                each + 1,
                {
                    "id": each,
                    "lines": [
                        f"A. Holm{'m' * (each % 7)} inv.",
                        f"{'BCD'[each % 3]}. Tobler sculp. {1600 + each % 90}",
                    ],
                },
            )


def test_several_processes_answer_as_one_does(compiled, monkeypatch):
    """Chunks may be finished in any order; the answers must not show it."""
    monkeypatch.setattr(answers_module, "FEW", 10)
    monkeypatch.setattr(answers_module, "CHUNK_ROWS", 7)
    alone = list(answers(compiled, many(300), Written("jsonl"), 1))
    assert list(answers(compiled, many(300), Written("jsonl"), 3)) == alone
    assert sum(each.broken for each in alone) == 4


def test_only_a_few_rows_are_taken_ahead(compiled, monkeypatch):
    """Memory stays flat: the file is read no faster than it is answered."""
    monkeypatch.setattr(answers_module, "FEW", 10)
    monkeypatch.setattr(answers_module, "CHUNK_ROWS", 5)
    taken = []

    def counted():
        for row in many(10_000):
            taken.append(row.number)
            yield row

    found = answers(compiled, counted(), Written("jsonl"), 2)
    next(found)
    assert len(taken) <= 10 + 2 * answers_module.AHEAD * 5
    found.close()


def test_a_fault_in_one_row_costs_no_other(compiled, monkeypatch):
    def fails(self, lettering):
        raise KeyError(lettering.id)

    monkeypatch.setattr(answers_module.Reader, "read", fails)
    (found,) = answers(compiled, [row_from(1, {"id": "x", "lines": []})], Written("jsonl"), 1)
    assert json.loads(found.written) == {
        "id": "x",
        "error": "row 1: a fault of Margent itself (KeyError); the other rows stand",
    }


# --- stopped and gone on with ----------------------------------------------------------------------------


@pytest.fixture
def stopped(source, tmp_path, monkeypatch, capsys):
    """The file of a run that was interrupted at its third row and said how to go on."""
    real = answers_module.answer

    def stops(reader, row, makers):
        if row.number == 3:
            raise KeyboardInterrupt
        return real(reader, row, makers)

    monkeypatch.setattr(answers_module, "answer", stops)
    out = tmp_path / "out.csv"
    assert read("--from", source, "--to", out) == 130
    assert capsys.readouterr().err == f"stopped; what was read stands in {part_of(out)}: go on with --resume\n"
    monkeypatch.setattr(answers_module, "answer", real)
    assert not out.exists()
    return out


def part_of(out):
    return out.with_name(out.name + ".part")


def test_a_stopped_run_keeps_what_was_read(stopped):
    assert len(part_of(stopped).read_text().splitlines()) == 3


def test_going_on_reads_only_what_is_missing(source, stopped, monkeypatch, capsys):
    asked = []
    real = answers_module.answer
    monkeypatch.setattr(
        answers_module, "answer", lambda reader, row, makers: asked.append(row.number) or real(reader, row, makers)
    )
    assert read("--from", source, "--to", stopped, "--resume") == 1
    assert asked == [3, 4]
    assert not part_of(stopped).exists()
    gone_on = stopped.read_bytes()
    assert read("--from", source, "--to", stopped) == 1
    assert stopped.read_bytes() == gone_on
    assert "1 row could not be read" in capsys.readouterr().err


@pytest.mark.parametrize("cut", [1, 40])
def test_an_answer_that_was_cut_off_is_read_anew(source, stopped, cut):
    part = part_of(stopped)
    part.write_bytes(part.read_bytes()[:-cut])
    read("--from", source, "--to", stopped, "--resume")
    assert len(table(stopped.read_text(encoding="utf-8-sig"))) == 5


def test_another_input_is_not_mixed_in(source, stopped, capsys):
    source.write_text(source.read_text() + "\n")
    before = part_of(stopped).read_bytes()
    capsys.readouterr()
    assert read("--from", source, "--to", stopped, "--resume") == 2
    assert capsys.readouterr().err == (
        f"{part_of(stopped)}: belongs to another input, or to one read with other columns; run without --resume to begin anew\n"
    )
    assert part_of(stopped).read_bytes() == before
    assert read("--from", source, "--to", stopped) == 1


def test_another_vocabulary_is_not_mixed_in(source, stopped, capsys):
    part = part_of(stopped)
    first, _, rest = part.read_text().partition("\n")
    part.write_text(json.dumps({**json.loads(first), "vocabulary": "1999.01"}) + "\n" + rest)
    assert read("--from", source, "--to", stopped, "--resume") == 2
    assert "was read with another vocabulary" in capsys.readouterr().err


def test_a_foreign_file_is_left_alone(source, tmp_path, capsys):
    part = tmp_path / "o.csv.part"
    part.write_text("mine\n")
    assert read("--from", source, "--to", tmp_path / "o.csv", "--resume") == 2
    assert part.read_text() == "mine\n"
    assert "is no unfinished file of Margent" in capsys.readouterr().err


def test_resume_without_anything_to_go_on_with_begins(source, tmp_path):
    assert read("--from", source, "--to", tmp_path / "o.jsonl", "--resume") == 1
    assert len((tmp_path / "o.jsonl").read_text().splitlines()) == 4


@pytest.mark.skipif(os.name != "posix", reason="rights of files are those of POSIX")
def test_the_file_has_the_rights_of_any_new_file(source, tmp_path):
    (tmp_path / "plain").touch()
    read("--from", source, "--to", tmp_path / "o.csv")
    assert (tmp_path / "o.csv").stat().st_mode == (tmp_path / "plain").stat().st_mode

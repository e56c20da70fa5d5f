"""The list of unread words: what an editor works through."""

import csv
import io
import json

import pytest

from margent.cli import run
from margent.exchange.gaps import GAP_HEADER, everyday_words, gap_data, gathered, unread_words
from margent.exchange.letterings import row_from


def answer(text, start, end, line=0, name="x"):
    return {"id": name, "unread": [{"text": text[start:end], "line": line, "span": [start, end]}]}


def test_words_come_with_what_stands_around_them():
    text = "A. Holm zwonk. Ζωή & 1612 glimf 7"
    name, seen = unread_words(answer(text, 8, 31), row_from(1, {"id": "x", "lines": [text]}))
    assert name == "x"
    assert [word.word for word in seen] == ["zwonk", "Ζωή", "glimf"]
    assert {word.context for word in seen} == {text}


def test_long_surroundings_are_cut():
    text = "a" * 100 + " zwonk " + "b" * 100
    (_, (_, middle, _)) = unread_words(answer(text, 0, len(text)), row_from(1, {"lines": [text]}))
    assert middle.context == "… " + "a" * 39 + " zwonk " + "b" * 39 + " …"


def test_without_the_lettering_the_unread_stretch_is_shown():
    assert unread_words(answer("zwonk glimf", 0, 11))[1][0].context == "zwonk glimf"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("d'Azur l’une", ["d'Azur", "l’une"]),
        ("ſculp Æterna", ["ſculp", "Æterna"]),
        ("cafe\u0301 x", ["cafe\u0301"]),
        ("A. B. 12 73/100 --", []),
        ("ab12cd", ["ab", "cd"]),
    ],
)
def test_what_a_word_is(text, words):
    assert [word.word for word in unread_words(answer(text, 0, len(text)))[1]] == words


def test_spellings_are_counted_together_and_the_commonest_word_comes_first():
    found = gathered(
        unread_words(answer(text, 0, len(text), name=text)) for text in ("zwonk", "Zwonk Glimf", "zwonk", "ZWÖNK")
    )
    assert [(gap.word, gap.count) for gap in found] == [("zwonk", 4), ("Glimf", 1)]
    assert gap_data(found[0]) == {
        "word": "zwonk",
        "count": 4,
        "spellings": {"zwonk": 2, "ZWÖNK": 1, "Zwonk": 1},
        "contexts": [
            {"id": "zwonk", "text": "zwonk"},
            {"id": "Zwonk Glimf", "text": "Zwonk Glimf"},
            {"id": "ZWÖNK", "text": "ZWÖNK"},
        ],
    }


def test_everyday_words_come_last_however_often_they_stand(compiled):
    everyday = everyday_words(compiled)
    found = gathered((unread_words(answer(text, 0, len(text), name=text)) for text in ("de zwonk", "de la")), everyday)
    assert [gap.word for gap in found] == ["zwonk", "de", "la"]


@pytest.fixture
def letterings(tmp_path):
    path = tmp_path / "prints.csv"
    path.write_text(
        "id,lettering\n1,Zwonkig glimfen brast A. Holm sculp.\n2,=Zwonkig frolp B. Tobler sculp.\n", encoding="utf-8"
    )
    return path


def gaps(capsys, *args):
    code = run(["gaps", *map(str, args)])
    return code, *capsys.readouterr()


def test_letterings_and_their_readings_have_the_same_gaps(letterings, tmp_path, capsys):
    code, direct, err = gaps(capsys, letterings, "--as", "json")
    assert (code, err) == (0, "")
    run(["read", "--from", str(letterings), "--to", str(tmp_path / "readings.jsonl")])
    code, later, _ = gaps(capsys, tmp_path / "readings.jsonl", "--as", "json")
    counted = [(each["word"], each["count"]) for each in json.loads(direct)]
    assert counted == [(each["word"], each["count"]) for each in json.loads(later)]
    assert ("frolp", 1) in counted


def test_seldom_words_can_be_left_out(letterings, capsys):
    for form in ("table", "json", "csv"):
        assert "glimfen" not in gaps(capsys, letterings, "--as", form, "--least", 3)[1]


def test_the_table_for_the_eye(letterings, capsys):
    _, out, _ = gaps(capsys, letterings)
    assert "     1  frolp\n          =Zwonkig frolp B. Tobler sculp.  (2)\n" in out


def test_the_table_for_a_spreadsheet_is_inert(letterings, capsys):
    _, out, _ = gaps(capsys, letterings, "--as", "csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert tuple(rows[0]) == GAP_HEADER
    assert [row["context 1"] for row in rows if row["word"] == "frolp"] == ["'=Zwonkig frolp B. Tobler sculp."]


def test_broken_rows_are_counted(tmp_path, capsys):
    path = tmp_path / "p.jsonl"
    path.write_text('{"lines": 1}\nno JSON\n{"lines": ["Zwonkig"]}\n')
    code, _, err = gaps(capsys, path)
    assert (code, err) == (1, "2 rows could not be read: margent read --from says what is wrong\n")


def test_broken_readings_are_counted(tmp_path, capsys):
    path = tmp_path / "p.jsonl"
    path.write_text(
        '{"id": "x", "error": "row 1"}\n{"id": "x", "unread": 3}\n{"id": "y", "unread": [{"text": "zwonk"}]}\n'
    )
    code, out, err = gaps(capsys, path)
    assert (code, out) == (1, "     1  zwonk\n          zwonk  (y)\n")
    assert err == "2 rows could not be read: margent read --from says what is wrong\n"


def test_a_missing_file_is_one_sentence(tmp_path, capsys):
    assert gaps(capsys, tmp_path / "none.jsonl") == (
        2,
        "",
        f"{tmp_path}/none.jsonl: cannot be read (No such file or directory); name a JSON Lines file\n",
    )

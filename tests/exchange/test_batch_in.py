"""Letterings from real files: CSV, TSV, XLSX, JSON Lines."""

import datetime as dt

import openpyxl
import pytest

from margent.exchange.batch_file import BatchFile
from margent.exchange.columns import wanted_columns
from margent.faults import Fault


@pytest.fixture
def rows(tmp_path):
    """A function that writes a file and gives back its rows."""

    def read(name, content, encoding=None, sheet=None, **columns):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        said = [f"{ours.replace('_', ' ')}={theirs}" for ours, theirs in columns.items()]
        return list(BatchFile(path, wanted_columns(said), encoding, sheet).rows())

    return read


@pytest.fixture
def book(tmp_path):
    """A function that writes a workbook and gives back its rows."""

    def read(table, sheet=None, **columns):
        path = tmp_path / "prints.xlsx"
        made = openpyxl.Workbook()
        for line in table:
            made.active.append(line)
        made.create_sheet("Second").append(["lettering"])
        made["Second"].append(["C. Tobler excudit"])
        made.save(path)
        return list(BatchFile(path, wanted_columns([f"{o}={t}" for o, t in columns.items()]), None, sheet).rows())

    return read


def lines(row):
    return [(line.text, line.place) for line in row.lettering.lines]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        pytest.param('id,lettering\nx,"A. Holm inv.\nB. Tobler sc."\n', [("A. Holm inv.", None), ("B. Tobler sc.", None)], id="breaks"),
        pytest.param('id,lettering\r\nx,"A. Holm inv.\r\nB. Tobler sc."\r\n', [("A. Holm inv.", None), ("B. Tobler sc.", None)], id="CRLF"),
        pytest.param("lower left,lower right\nA. Holm inv.,B. Tobler sc.\n", [("A. Holm inv.", "lower left"), ("B. Tobler sc.", "lower right")], id="places"),
        pytest.param("Lower_Center;ID\nA. Holm inv.;x\n", [("A. Holm inv.", "lower centre")], id="semicolons, another spelling"),
        pytest.param("id\tlettering\nx\tA. Holm, inv.\n", [("A. Holm, inv.", None)], id="tabs"),
        pytest.param("\ufeffid,lettering\nx,A. Holm inv.\n", [("A. Holm inv.", None)], id="byte order mark"),
        pytest.param("id,lettering\nx,A. Holm inv.\n".encode("utf-16"), [("A. Holm inv.", None)], id="UTF-16"),
        pytest.param("id,lettering,shelf\nx,A. ‘Holm’ inv.,7\n", [("A. ‘Holm’ inv.", None)], id="a column that is not ours"),
        pytest.param("id,lettering\nx\n", [], id="a short row"),
        pytest.param('id,lettering\nx,"He said ""A. Holm inv."""\n', [('He said "A. Holm inv."', None)], id="doubled quotation marks"),
    ],
)  # fmt: skip
def test_a_table_gives_lines(rows, content, expected):
    (row,) = rows("prints.csv", content)
    assert row.error is None
    assert lines(row) == expected


def test_a_row_says_all_a_record_can_say(rows):
    (row,) = rows(
        "p.tsv", "id\tlettering\tdate\tplace\ttechnique\tcomplete\n7\tA. Holm f.\t161X\tAntwerp\tetching\tYes\n"
    )
    found = row.lettering
    assert (row.number, row.id) == (2, "7")
    assert (found.date, found.years, found.place, found.technique, found.complete) == (
        "161X",
        (1610, 1619),
        "Antwerp",
        "etching",
        "yes",
    )


def test_columns_are_chosen_by_name(rows):
    text = "Nr,Inscription,lettering,Where\n7,A. Holm f.,another text,Antwerp\n"
    (row,) = rows("p.csv", text, id="Nr", lettering="Inscription", place="where")
    assert (row.id, lines(row), row.lettering.place) == ("7", [("A. Holm f.", None)], "Antwerp")


def test_a_semicolon_table_is_known_by_the_columns_that_were_asked_for(rows):
    (row,) = rows("p.csv", "Nr;Text, whole\n7;A. Holm, f.\n", lettering="Text, whole")
    assert lines(row) == [("A. Holm, f.", None)]


def test_another_encoding_can_be_named(rows):
    (row,) = rows("p.csv", "lettering\nGravé par A. Holm\n".encode("cp1252"), encoding="cp1252")
    assert lines(row) == [("Gravé par A. Holm", None)]


@pytest.mark.parametrize(
    ("content", "broken"),
    [
        pytest.param("a,A. Holm, inv.\n", "row 3 has 3 cells where the header has 2: put a cell that holds a separator in quotation marks", id="comma"),
        pytest.param('a,"A. Holm" inv.\n', "row 3 has a quotation mark out of place: put the cell in quotation marks and double those inside it", id="mark"),
        pytest.param('a,"A. Holm inv.\n', "row 3 has a quotation mark out of place: put the cell in quotation marks and double those inside it", id="open"),
        pytest.param("a," + "x" * 1_100_000 + "\n", "row 3 is longer than 1,000,000 characters: close every quotation mark, and give one print's lettering a row", id="long"),
    ],
)  # fmt: skip
def test_a_broken_row_costs_only_itself(rows, content, broken):
    found = rows("p.csv", "id,lettering\nx,B. Tobler sc.\n" + content + 'y,"C. Rund\nexc."\n\nz,D. Moss del.\n')
    assert [(row.id, row.error) for row in found] == [("x", None), ("a", broken), ("y", None), ("z", None)]


def test_a_quotation_mark_that_is_never_closed_costs_no_other_row_in_a_long_file(rows):
    many = "".join(f"{number},A. Holm sculp.\n" for number in range(80_000))
    found = rows("p.csv", 'id,lettering\nx,"A. Holm\n' + many)
    assert len(found) == 80_001
    assert found[0].error.startswith("row 2 is longer than")
    assert not any(row.error for row in found[1:])


def test_a_broken_date_is_said_with_its_row(rows):
    found = rows("p.csv", "id,lettering,date\nx,A. Holm f.,c. 1600\ny,A. Holm f.,1600~\n")
    assert [row.error for row in found] == [
        "row 2: 'c. 1600' is no date in EDTF: write 1612, 1612~, 161X or 1610/1614",
        None,
    ]


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        pytest.param("p.csv", b"", "p.csv: is empty; the first row must name the columns", id="empty"),
        pytest.param("p.csv", b"id,lettering\nx,Grav\xe9\n", "p.csv:2: is not text in UTF-8; save it as UTF-8, or name its encoding with --encoding", id="latin 1"),
        pytest.param("p.csv", b"\xff\xfei\x00d\x00,", "p.csv:1: is not text in UTF-16; save it as UTF-8, or name its encoding with --encoding", id="half of UTF-16"),
        pytest.param("p.csv", b"7,A. Holm f.\n", "p.csv: has no column with the lettering; the first row must name the columns: call one `lettering` "
                     "(or `lower left`, `lower right` ...), or say which it is with --column lettering=THEIRS; its columns are: 7, A. Holm f.", id="no header"),
        pytest.param("p.csv", b"Lettering,id,lettering\n", "p.csv: has 2 columns called 'lettering'; rename all but one", id="twice"),
        pytest.param("p.xls", b"", "p.xls: .xls files are not read; save it as CSV in UTF-8, or as XLSX", id="old workbook"),
        pytest.param("p.xlsx", b"id,lettering\n", "p.xlsx: is no XLSX workbook; save it as XLSX, or as CSV in UTF-8", id="no workbook"),
        pytest.param("p.xlsx", b"PK\x05\x06" + bytes(18), "p.xlsx: is no XLSX workbook; save it as XLSX, or as CSV in UTF-8", id="empty archive"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_one_sentence(rows, tmp_path, name, content, said):
    with pytest.raises(Fault) as caught:
        rows(name, content)
    assert str(caught.value) == f"{tmp_path}/{said}"


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        ({"lettering": "Text"}, "has no column 'Text'; its columns are: id, lettering"),
        ({"id": "lettering"}, "has no column with the lettering; the first row must name the columns"),
    ],
)
def test_a_chosen_column_must_be_there(rows, columns, said):
    with pytest.raises(Fault, match=said):
        rows("p.csv", "id,lettering\n", **columns)


@pytest.mark.parametrize("said", ["lettering", "lettering=", "text=Inscription"])
def test_a_choice_of_columns_has_its_form(said):
    with pytest.raises(Fault, match="--column"):
        wanted_columns([said])
    with pytest.raises(Fault, match="say it once"):
        wanted_columns(["id=a", "id=b"])


@pytest.mark.parametrize(
    ("name", "option"), [("p.jsonl", {"id": "Nr"}), ("p.jsonl", {"encoding": "cp1252"}), ("p.csv", {"sheet": "One"})]
)
def test_an_option_that_a_form_has_no_use_for_is_refused(rows, name, option):
    with pytest.raises(Fault, match="is for"):
        rows(name, "", **option)


def test_a_workbook_gives_rows(book):
    found = book(
        [
            ["id", "Lettering", "date", "complete", None],
            [12.0, "A. Holm inv.\nB. Tobler sc.", 1612, True],
            [None] * 4,
            ["b", "=1+1", dt.datetime(1700, 1, 2), "part", "note"],  # noqa: DTZ001 - a workbook knows no time zones
            ["c", 7, None, "half"],
        ]
    )
    assert [row.number for row in found] == [2, 4, 5]
    first, second, third = found
    assert (first.id, lines(first), first.lettering.date, first.lettering.complete) == (
        "12",
        [("A. Holm inv.", None), ("B. Tobler sc.", None)],
        "1612",
        "yes",
    )
    assert (second.id, second.error) == (
        "b",
        "row 4 has 5 cells where the header has 4: put a cell that holds a separator in quotation marks",
    )
    assert third.error == "row 5: \"complete\" is 'half': write one of yes, trimmed, part, unknown"


def test_a_sheet_can_be_named(book):
    assert lines(book([["lettering"]], sheet="Second")[0]) == [("C. Tobler excudit", None)]
    with pytest.raises(Fault, match="has no sheet 'Third'; it has Sheet, Second"):
        book([["lettering"]], sheet="Third")


def test_a_sheet_without_a_header_is_said(book):
    with pytest.raises(Fault, match="no column with the lettering"):
        book([[7, "A. Holm f."]])


def test_the_digest_changes_with_the_file_and_the_way_it_is_read(tmp_path):
    path = tmp_path / "p.csv"
    path.write_text("id,lettering\n")
    one = BatchFile(path).digest()
    assert BatchFile(path).digest() == one
    assert BatchFile(path, {"id": "Nr"}).digest() != one
    path.write_text("id,lettering\n1,A. Holm f.\n")
    assert BatchFile(path).digest() != one


def test_json_lines_answer_every_row(rows):
    found = rows(
        "p.jsonl",
        '{"lines": ["A. Holm f."], "id": 7}\n\n{"lines": 3, "id": "b"}\nno JSON\n[1]\n{"id": true, "lines": []}\n',
    )
    assert [(row.number, row.id, bool(row.error)) for row in found] == [
        (1, "7", False),
        (3, "b", True),
        (4, None, True),
        (5, None, True),
        (6, None, True),
    ]

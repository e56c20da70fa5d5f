"""Lists of makers in tables, taken into an authority. Every maker here is invented."""

import csv
import datetime as dt
import re

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from margent.checking.check import check
from margent.cli import run
from margent.exchange.listed_maker import ListedMaker, clean, slug_of_id
from margent.exchange.makers_import import ListSource, import_makers
from margent.vocabulary.load import load
from margent.vocabulary.model import Text
from margent.vocabulary.turtle import read_folder

BASE = "https://prints.museum.example/authority/"
LIST = """id,name,other names,display_date,nationality,kind,roles,places,uri,note,shelf
7,"Quabbel, Joost",J. Quabbel; Iudocus Quabbelius,"Flemish, c. 1602 - 1671",Flemish,person,engraver|printmaker,Antwerp,https://elsewhere.example/q7,kept a shop,A
9,Quabbel & Zonen,,est. 1802 - 1871,Dutch,firm,publisher,"Maastricht (NL)",,,B
K-12,Monogrammist QX,,17th century,,anonymous,,,,,C
"""


@pytest.fixture
def listed(tmp_path):
    """A function that writes the list and takes it in; gives back the exit code and the folder."""

    def take(text=LIST, *options, name="makers.csv", folder="ours"):
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        to = tmp_path / folder
        return run(["import", "makers", str(path), "--to", str(to), "--base", BASE, *options]), to

    return take


def loaded(folder, root):
    return load(root / "vocab", [folder]).makers


def findings(folder, root):
    return check([folder], [root / "vocab"], root / "shapes").findings


def test_a_table_becomes_an_authority_that_has_nothing_to_mend(listed, root, capsys):
    code, folder = listed()
    assert code == 0
    assert findings(folder, root) == ()
    makers = loaded(folder, root)
    assert set(makers) == {f"{BASE}maker/{name}" for name in ("7", "9", "K-12")}
    one = makers[f"{BASE}maker/7"]
    assert (one.kind, one.label(), one.born, one.died) == ("Person", "Quabbel, Joost", "1602~", "1671")
    assert [form.literal.value for form in one.name_forms] == ["Iudocus Quabbelius", "J. Quabbel"]
    assert {form.form_kind for form in one.name_forms} == {"asListed"}
    assert [practice.role.rpartition("/")[2] for practice in one.practices] == ["engraver", "printmaker"]
    assert [each.place.rpartition("/")[2] for each in one.working_places] == ["antwerp"]
    assert one.exact_matches == ("https://elsewhere.example/q7",)
    assert one.definitions[0].value == "Flemish, c. 1602 - 1671"
    assert one.citations[0].locator == "id 7"
    assert makers[f"{BASE}maker/9"].kind == "Firm"
    assert makers[f"{BASE}maker/K-12"].active == "16XX"
    said = capsys.readouterr()
    assert said.out == ""
    assert "columns guessed from the header: id=id, name=name, variants=other names" in said.err
    assert "columns left out: shelf" in said.err
    assert "3 new, 0 brought up to date, 0 as they were, 0 left out; 3 files written" in said.err


def test_the_same_list_again_changes_no_byte(listed):
    _, folder = listed()
    before = {path: path.read_bytes() for path in folder.rglob("*.ttl")}
    code, _ = listed()
    assert code == 0
    assert {path: path.read_bytes() for path in folder.rglob("*.ttl")} == before


def test_an_import_again_keeps_what_only_the_authority_says(listed, root, capsys):
    _, folder = listed()
    file = folder / "makers" / "makers-001.ttl"
    edited = file.read_text(encoding="utf-8").replace(
        'mg:born "1602~"', 'mg:trait "short strokes"@en ;\n    mg:active "1620/1660"^^edtf:EDTF ;\n    mg:born "1602~"'
    )
    file.write_text(edited, encoding="utf-8")
    capsys.readouterr()
    again = LIST.replace("1602 - 1671", "1603 - 1671").replace("K-12,Monogrammist QX", "K-13,Monogrammist XQ")
    code, _ = listed(again.replace("J. Quabbel; ", "").replace("|printmaker", "|etcher"))
    assert code == 0
    makers = loaded(folder, root)
    one = makers[f"{BASE}maker/7"]
    assert (one.born, one.active, one.traits[0].value) == ("1603~", "1620/1660", "short strokes")
    assert {form.literal.value for form in one.name_forms} == {"Iudocus Quabbelius", "J. Quabbel"}
    assert {practice.role.rpartition("/")[2] for practice in one.practices} == {"engraver", "printmaker", "etcher"}
    assert set(makers) == {f"{BASE}maker/{name}" for name in ("7", "9", "K-12", "K-13")}
    said = capsys.readouterr().err
    assert "mg:born was '1602~', and is now '1603~'" in said
    assert f"<{BASE}maker/7>: the name 'J. Quabbel'" in said
    assert f"<{BASE}maker/7>: mg:role printmaker" in said
    assert f"<{BASE}maker/K-12>: the whole entry" in said
    assert "1 new, 1 brought up to date, 1 as they were, 0 left out" in said


def test_a_maker_that_was_moved_to_another_file_stays_there(listed, root):
    _, folder = listed()
    file = folder / "makers" / "makers-001.ttl"
    file.rename(folder / "makers" / "quabbel.ttl")
    listed(LIST + "20,New Maker,,,,,,,,,\n")
    assert len(loaded(folder, root)) == 4
    assert sorted(path.name for path in (folder / "makers").iterdir()) == ["makers-001.ttl", "quabbel.ttl"]


def test_two_lists_with_the_same_numbers_do_not_mix(listed, root, capsys):
    _, folder = listed()
    code, _ = listed("id,name\n7,Somebody Else\n8,Another\n", name="others.csv")
    assert code == 1
    makers = loaded(folder, root)
    assert makers[f"{BASE}maker/7"].label() == "Quabbel, Joost"
    assert makers[f"{BASE}maker/8"].label() == "Another"
    assert "rests on makers, not on others: left as it is" in capsys.readouterr().err


def test_a_list_under_another_file_name_is_known_by_its_source(listed):
    _, folder = listed(LIST, "--source", "Our list")
    code, _ = listed(LIST, "--source", "Our list", name="makers-2027.csv")
    assert code == 0
    assert [path.name for path in (folder / "makers").iterdir()] == ["our-list-001.ttl"]


def test_what_is_withdrawn_stays_withdrawn(listed, root, capsys):
    _, folder = listed()
    file = folder / "makers" / "makers-001.ttl"
    text = file.read_text(encoding="utf-8").replace(
        "@prefix skos:", "@prefix owl: <http://www.w3.org/2002/07/owl#> .\n@prefix skos:"
    )
    file.write_text(
        text.replace("<maker/9> a mg:Firm ;", "<maker/9> a mg:Firm ;\n    owl:deprecated true ;"), encoding="utf-8"
    )
    code, _ = listed(LIST.replace("& Zonen", "& Co."))
    assert code == 1
    assert "was withdrawn from the authority: left as it is" in capsys.readouterr().err
    assert loaded(folder, root)[f"{BASE}maker/9"].label() == "Quabbel & Zonen"


def test_what_cannot_be_taken_is_reported_by_row(listed, tmp_path, root, capsys):
    text = (
        "id,name,dates,kind,roles,places,uri\n"
        "1,,1602,,,,\n"
        ",Nobody,,,,,\n"
        "2,Bad Dates,16 and a bit,,,,\n"
        "3,Odd Kind,,ship,,,\n"
        "4,Odd Role,,,juggler,,\n"
        "5,Odd Place,,,,Nowhereville,\n"
        "6,Odd Match,,,,,q42\n"
        "21,First of two,,,,,https://elsewhere.example/one\n"
        "22,Second of two,,,,,https://elsewhere.example/one\n"
        "23,No IRI,,,,,https://elsewhere.example/%zz\n"
        "2,Twice,,,,,\n"
        "n 88,Blank in the id,,,,,\n"
        "??,No letters,,,,,\n"
        "9,Too,many,cells,in,this,row,here\n"
        '10,"Quotation "mark,,,,,\n'
    )
    report = tmp_path / "report.csv"
    code, folder = listed(text, "--report", str(report))
    assert code == 1
    with report.open(encoding="utf-8", newline="") as file:
        rows = [(row["what"], row["where"]) for row in csv.DictReader(file)]
    left = [where for what, where in rows if what == "left out"]
    assert left == ["row 2", "row 3", "row 12", "row 14", "row 15", "row 16"]
    assert [where for what, where in rows if what == "not taken"] == [f"row {n}" for n in (4, 5, 6, 7, 8, 10, 11)]
    assert [what for what, _ in rows if what == "id"] == ["id"]
    assert sorted(iri.rpartition("/")[2] for iri in loaded(folder, root)) == [
        "2",
        "21",
        "22",
        "23",
        "3",
        "4",
        "5",
        "6",
        "n-88",
    ]
    assert findings(folder, root) == ()
    assert "9 new, 0 brought up to date, 0 as they were, 6 left out" in capsys.readouterr().err


def test_columns_are_named_as_for_letterings(listed, root):
    text = "Artist No;Artist;Life\nA.1;Quabbel, Joost;1602-1671\n"
    code, folder = listed(text, "--column", "id=Artist No", "--column", "name=artist", "--column", "dates=Life")
    assert code == 0
    assert loaded(folder, root)[f"{BASE}maker/A.1"].died == "1671"


def test_a_workbook_is_taken_in(tmp_path, root):
    book = openpyxl.Workbook()
    book.active.append(["id", "name", "born", "died"])
    book.active.append([7, "Quabbel, Joost", 1602, "c. 1671"])
    book.save(tmp_path / "makers.xlsx")
    to = tmp_path / "ours"
    assert run(["import", "makers", str(tmp_path / "makers.xlsx"), "--to", str(to), "--base", BASE]) == 0
    one = loaded(to, root)[f"{BASE}maker/7"]
    assert (one.born, one.died) == ("1602", "1671~")


def test_a_base_without_its_slash_is_given_one(listed, tmp_path, root):
    path = tmp_path / "a.csv"
    path.write_text("id,name\n7,Somebody\n", encoding="utf-8")
    assert run(["import", "makers", str(path), "--to", str(tmp_path / "ours"), "--base", BASE.rstrip("/")]) == 0
    assert set(loaded(tmp_path / "ours", root)) == {f"{BASE}maker/7"}


def test_nothing_is_written_with_dry(listed, capsys):
    code, folder = listed(LIST, "--dry")
    assert code == 0
    assert not folder.exists()
    assert "3 files would be written" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--to", "{tmp}/ours"], "say with --base under which IRI"),
        (["--to", "{tmp}/ours", "--base", "museum"], "is no base for IRIs"),
        (["--to", "{tmp}/ours", "--base", "https://x.example/a#"], "without # and ?"),
        (["--to", "{tmp}/ours", "--base", BASE, "--column", "nam=x"], "a list of makers has no column 'nam'"),
        (["--to", "{tmp}/ours", "--base", BASE, "--column", "name"], "write OURS=THEIRS"),
        (["--to", "{tmp}/ours", "--base", BASE, "--column", "name=Nobody"], "has no column 'Nobody'"),
        (["--to", "{tmp}/makers.csv", "--base", BASE], "is a file"),
        (["--to", "{tmp}/ours", "--base", BASE, "--report", "{tmp}/none/r.csv"], "its folder is not there"),
        (["--to", "{tmp}/ours", "--base", BASE, "--sheet", "x"], "--sheet is for XLSX"),
    ],
)
def test_wrong_use_is_one_sentence_and_writes_nothing(options, said, tmp_path, capsys):
    (tmp_path / "makers.csv").write_text(LIST, encoding="utf-8")
    args = ["import", "makers", str(tmp_path / "makers.csv"), *(each.format(tmp=tmp_path) for each in options)]
    assert run(args) == 2
    error = capsys.readouterr().err.splitlines()
    assert said in error[-1]
    assert [path.name for path in tmp_path.iterdir()] == ["makers.csv"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("id,born\n1,1602\n", "has no column with the name of each maker"),
        ("name\nx\n", "has no column with the id of each maker"),
    ],
)
def test_a_table_that_names_no_makers_is_refused(text, said, listed, capsys):
    code, folder = listed(text)
    assert code == 2
    assert said in capsys.readouterr().err
    assert not folder.exists()


def test_another_base_than_the_authority_has_is_refused(listed, tmp_path, capsys):
    _, folder = listed()
    assert (
        run(["import", "makers", str(tmp_path / "makers.csv"), "--to", str(folder), "--base", "https://y.example/"])
        == 2
    )
    assert f"stands under {BASE}" in capsys.readouterr().err
    assert run(["import", "makers", str(tmp_path / "makers.csv"), "--to", str(folder)]) == 0


def test_files_hold_five_hundred_entries_at_most_and_fill_up(tmp_path):
    source, today = ListSource("many", "many.csv", "table"), dt.date(2026, 11, 25)

    def listed(last):
        for number in range(1, last + 1):
            yield ListedMaker(
                id=str(number), where=f"row {number}", kind="Person", labels=(Text(f"Maker {number}", "en"),)
            )

    import_makers(listed(700), tmp_path / "a", BASE, source, today)
    first = (tmp_path / "a" / "makers" / "many-001.ttl").read_bytes()
    outcome = import_makers(listed(1001), tmp_path / "a", BASE, source, today)
    assert [path.name for path in outcome.files] == ["many-002.ttl", "many-003.ttl"]
    assert (tmp_path / "a" / "makers" / "many-001.ttl").read_bytes() == first
    counts = {
        file.path.name: sum("#" not in name for name in {triple.subject.value for triple in file.triples})
        for file in read_folder(tmp_path / "a")
        if file.path.parent.name == "makers"
    }
    assert counts == {"many-001.ttl": 500, "many-002.ttl": 500, "many-003.ttl": 1}


def test_what_is_too_long_is_cut_or_left_out_and_told(listed, root, capsys):
    text = f"id,name,note\n1,Long Note,{'word ' * 2000}\n{'9' * 300},Long Id,\n3,{'N' * 600},\n"
    code, folder = listed(text)
    assert code == 1
    (maker,) = loaded(folder, root).values()
    assert len(maker.notes[0].value) < 5010
    said = capsys.readouterr().err
    for each in ("a note of 9,999 characters, cut to 5,000", "an id of 300 characters", "a name of 600 characters"):
        assert each in said
    assert findings(folder, root) == ()


@pytest.mark.parametrize("id_", ["22", "Q42", "n-1", "a.b_c"])
def test_the_iri_ends_with_the_id(id_):
    assert slug_of_id(id_) == id_


@pytest.mark.slow
def test_an_open_list_of_ten_thousand_makers(shared, tmp_path, root, capsys):
    """10,158 makers of a museum's open data, one of whose names has characters of the Private Use Area or such as nobody sees."""
    path = shared / "open-data" / "nga-makers.csv"
    assert run(["import", "makers", str(path), "--to", str(tmp_path / "a"), "--base", BASE]) == 0
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert f"{len(rows):,} new" in capsys.readouterr().err
    makers = loaded(tmp_path / "a", root)
    assert all(makers[f"{BASE}maker/{row['id']}"].label() == clean(row["name"]) for row in rows)
    assert sum(clean(row["name"]) != row["name"] for row in rows) < 20
    assert len(makers) == len(rows)
    assert [each for each in findings(tmp_path / "a", root) if each.severity == "violation"] == []


@given(st.text(max_size=40))
def test_any_id_ends_an_iri_or_is_refused(id_):
    slug = slug_of_id(id_)
    assert slug == "" or re.fullmatch(r"[A-Za-z0-9]([A-Za-z0-9._-]*[A-Za-z0-9])?", slug)
    assert slug_of_id(slug) == slug


@given(st.text(max_size=60))
def test_a_clean_text_is_clean_and_has_no_stray_blank(text):
    once = clean(text)
    assert clean(once) == once
    assert once == " ".join(once.split())

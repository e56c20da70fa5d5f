"""MARC 21 authority records, written by pymarc from invented makers and taken in.

The fields are those of the Library of Congress's list of data elements, https://www.loc.gov/marc/authority/ecadlist.html.
"""

import pytest
from pymarc import Field, Indicators, MARCWriter, Record, Subfield, XMLWriter

from margent.checking.check import check
from margent.cli import run
from margent.vocabulary.load import load

BASE = "https://prints.museum.example/authority/"


def record(number, *fields, leader="00000nz  a2200000n  4500"):
    made = Record(leader=leader, force_utf8=True)
    if number:
        made.add_field(Field(tag="001", data=number))
    for tag, indicators, *pairs in fields:
        subfields = [Subfield(code, value) for code, value in pairs]
        made.add_field(Field(tag=tag, indicators=Indicators(*indicators), subfields=subfields))
    return made


PERSON = record(
    "n  88001",
    ("024", "7 ", ("a", "https://elsewhere.example/q"), ("2", "uri")),
    ("024", "7 ", ("a", "123"), ("2", "somewhere")),
    ("046", "  ", ("f", "1602"), ("g", "1671~"), ("2", "edtf")),
    ("100", "1 ", ("a", "Quabbel, J."), ("q", "(Joost),"), ("d", "1602-approximately 1671.")),
    ("370", "  ", ("a", "Liège"), ("e", "Antwerp (Belgium)"), ("f", "Nowhereville"), ("2", "naf")),
    ("374", "  ", ("a", "Engravers"), ("a", "Jugglers"), ("2", "lcsh")),
    ("400", "1 ", ("a", "Quabbelius, Iudocus,"), ("d", "1602-1671")),
    ("400", "1 ", ("a", "Quabbel, J."), ("t", "Works")),
    ("500", "1 ", ("a", "Quabbel, Jan")),
    ("670", "  ", ("a", "A view of a harbour, 1633")),
    ("678", "0 ", ("a", "Engraver and bridge keeper.")),
    ("680", "  ", ("i", "Signs with a quail.")),
    ("880", "1 ", ("6", "400-01"), ("a", "Квабель, Йост")),
)
FIRM = record(
    "88002",
    ("046", "  ", ("q", "18020304"), ("r", "1871-05")),
    ("110", "2 ", ("a", "Quabbel & Zonen.")),
    ("410", "2 ", ("a", "Quabbel et Fils")),
)
FAMILY = record("88003", ("100", "3 ", ("a", "Quabbel (Family :"), ("d", "17th century :"), ("c", "Antwerp)")))
LEFT = [
    (record("1", ("100", "1 ", ("a", "Bib Record")), leader="00000nam a2200000n  4500"), "is no authority record"),
    (record("2", ("100", "1 ", ("a", "Deleted")), leader="00000dz  a2200000n  4500"), "is marked as deleted"),
    (record("3", ("150", "  ", ("a", "Engraving"))), "has the heading 150"),
    (record("4", ("100", "1 ", ("a", "Quabbel, Joost"), ("t", "Views"))), "is of a work"),
    (record("", ("100", "1 ", ("a", "No Number"))), "has no control number"),
]


def write(path, records):
    with path.open("wb") as file:
        writer = XMLWriter(file) if path.suffix == ".xml" else MARCWriter(file)
        for each in records:
            writer.write(each)
        writer.close(close_fh=False)
    return path


@pytest.mark.parametrize("name", ["names.mrc", "names.xml"])
def test_records_become_makers(name, tmp_path, root, capsys):
    path = write(tmp_path / name, [PERSON, FIRM, FAMILY])
    to = tmp_path / "ours"
    assert run(["import", "makers", str(path), "--to", str(to), "--base", BASE]) == 0
    makers = load(root / "vocab", [to]).makers
    person, firm, family = (makers[f"{BASE}maker/{id_}"] for id_ in ("n-88001", "88002", "88003"))
    assert (person.kind, person.label(), person.born, person.died) == ("Person", "Quabbel, J.", "1602", "1671~")
    assert {form.literal.value for form in person.name_forms} == {
        "Quabbel, Joost",
        "Quabbelius, Iudocus",
        "Квабель, Йост",
    }
    assert [each.role.rpartition("/")[2] for each in person.practices] == ["engraver"]
    assert [each.place.rpartition("/")[2] for each in person.working_places] == ["antwerp"]
    assert person.exact_matches == ("https://elsewhere.example/q",)
    assert person.definitions[0].value == "Engraver and bridge keeper."
    assert person.notes[0].value == "Signs with a quail."
    assert (firm.kind, firm.label(), firm.born, firm.died) == ("Firm", "Quabbel & Zonen", "1802-03-04", "1871-05")
    assert (family.kind, family.active) == ("Family", "16XX")
    said = capsys.readouterr().err
    assert "record 1 (id n 88001) has in 374 'Jugglers': no role that the vocabulary knows" in said
    assert "has in 370 'Nowhereville'" in said
    assert "has in 024 the number '123' of somewhere, which is no IRI" in said
    assert "has in 400 the title of a work" in said
    assert "left out: 500 (1), 670 (1)" in said
    assert check([to], [root / "vocab"], root / "shapes").findings == ()


def test_records_of_german_speaking_libraries(tmp_path, root):
    """They give dates, callings and places as tracings, with relation codes: from memory, as no sample was at hand."""
    made = record(
        "118000001",
        ("100", "1 ", ("a", "Quabbel, Jost")),
        ("548", "  ", ("a", "ca. 1602-1671"), ("4", "datl")),
        ("550", "  ", ("a", "Kupferstecher"), ("4", "berc")),
        ("551", "  ", ("a", "Lüttich"), ("4", "ortg")),
        ("551", "  ", ("a", "Antwerpen"), ("4", "ortw")),
    )
    to = tmp_path / "ours"
    assert run(["import", "makers", str(write(tmp_path / "a.mrc", [made])), "--to", str(to), "--base", BASE]) == 0
    (maker,) = load(root / "vocab", [to]).makers.values()
    assert (maker.born, maker.died) == ("1602~", "1671")
    assert [each.place.rpartition("/")[2] for each in maker.working_places] == ["antwerp"]
    assert len(maker.practices) == 1


@pytest.mark.parametrize("name", ["names.mrc", "names.xml"])
def test_records_of_other_things_are_left_out_with_the_reason(name, tmp_path, capsys):
    path = write(tmp_path / name, [FIRM, *(made for made, _ in LEFT)])
    assert run(["import", "makers", str(path), "--to", str(tmp_path / "ours"), "--base", BASE]) == 1
    said = capsys.readouterr().err
    for number, (_, why) in enumerate(LEFT, 2):
        assert any(line.startswith(f"  record {number} ") and why in line for line in said.splitlines()), why
    assert "1 new, 0 brought up to date, 0 as they were, 5 left out" in said


def test_both_forms_of_a_file_give_the_same_authority(tmp_path):
    for name in ("a.mrc", "a.xml"):
        path = write(tmp_path / name, [PERSON, FIRM, FAMILY])
        args = ["--to", str(tmp_path / name[2:]), "--base", BASE, "--source", "a"]
        assert run(["import", "makers", str(path), *args]) == 0
    binary, xml = ((tmp_path / form / "makers" / "a-001.ttl").read_bytes() for form in ("mrc", "xml"))
    assert binary == xml


def test_old_character_sets_are_read(tmp_path, root):
    """A record in MARC-8, where a combining accent stands before its letter (0xE2 is the acute)."""
    field = b"1 \x1faQuabb\xe2el, Joost\x1e"
    control = b"88004\x1e"
    directory = b"001%04d00000" % len(control) + b"100%04d%05d" % (len(field), len(control)) + b"\x1e"
    body = directory + control + field + b"\x1d"
    leader = b"%05dnz   22%05dn  4500" % (24 + len(body), 24 + len(directory))
    (tmp_path / "old.mrc").write_bytes(leader + body)
    to = tmp_path / "ours"
    assert run(["import", "makers", str(tmp_path / "old.mrc"), "--to", str(to), "--base", BASE]) == 0
    assert load(root / "vocab", [to]).makers[f"{BASE}maker/88004"].label() == "Quabbél, Joost"


def test_a_broken_record_costs_only_itself(tmp_path, capsys):
    good = FIRM.as_marc()
    broken = bytearray(FAMILY.as_marc())
    broken[12:17] = b"99999"
    (tmp_path / "names.mrc").write_bytes(good + bytes(broken) + PERSON.as_marc())
    assert run(["import", "makers", str(tmp_path / "names.mrc"), "--to", str(tmp_path / "ours"), "--base", BASE]) == 1
    said = capsys.readouterr().err
    assert "record 2 cannot be read as MARC 21" in said
    assert "2 new, 0 brought up to date, 0 as they were, 1 left out" in said


ENTITY = '<!DOCTYPE collection [<!ENTITY a "b">]>'


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.mrc", b"id,name\n1,x\n", "is no file of MARC 21 records"),
        ("a.mrc", b"", "holds no MARC 21 record"),
        ("a.xml", b"", "holds no MARC 21 record"),
        ("a.xml", b"<collection><record>", "is not XML"),
        ("a.xml", b"<html/>", "holds no MARC 21 record"),
        ("a.xml", f"{ENTITY}<collection/>".encode(), "document type or entities, which are refused"),
        ("a.xml", f"{ENTITY}<collection/>".encode("utf-16"), "document type or entities, which are refused"),
        ("a.xml", b"<record><datafield><subfield>x</subfield></datafield></record>", "is no MARC 21 in XML"),
        ("a.pdf", b"%PDF", ".pdf files are not read"),
        ("a.txt", b"x", "no list that can be taken in"),
        ("a.xls", b"x", ".xls files are not read"),
    ],
)
def test_what_is_no_file_of_records_is_refused_and_nothing_written(name, content, said, tmp_path, capsys):
    (tmp_path / name).write_bytes(content)
    assert run(["import", "makers", str(tmp_path / name), "--to", str(tmp_path / "ours"), "--base", BASE]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1
    assert not (tmp_path / "ours").exists()

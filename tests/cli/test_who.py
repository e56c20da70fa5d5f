"""`margent who` on the invented makers: who is ranked first and why, what a file of names gives, and what is refused."""

import json

import pytest

from margent.cli import run
from margent.names.evidence import Lifetime
from margent.names.lore import Ages
from margent.names.timeline import Line, timeline

BASE = "https://authority.print-room.example/maker/"


@pytest.fixture
def who(capsys):
    """A function that runs `margent who` on the invented makers and gives back exit code, output and messages."""

    def asked(*args, authority=("--authority", "demo")):
        code = run(["who", *args, *authority])
        out, err = capsys.readouterr()
        return code, out, err

    return asked


@pytest.fixture
def first(who):
    """A function that gives back the last part of the IRI of the maker ranked first, or `unknown` where that is likelier."""

    def asked(*args):
        _, out, _ = who(*args, "--as", "jsonl")
        answer = json.loads(out)
        best = answer["candidates"][:1]
        if not best or best[0]["probability"] < answer["unknown"]:
            return "unknown"
        return best[0]["maker"].removeprefix(BASE)

    return asked


@pytest.mark.parametrize(
    ("args", "maker"),
    [
        pytest.param(["Anna Verrou"], "anna-verrou", id="as in the file"),
        pytest.param(["Verrou, Anna"], "anna-verrou", id="surname first"),
        pytest.param(["A. Verrovia"], "anna-verrou", id="an initial and a Latin form"),
        pytest.param(["Vid. Kwelderinkii", "--date", "1653"], "anna-verrou", id="the widow, not her late husband"),
        pytest.param(["Pieter Kwelderink", "--date", "1625"], "pieter-kwelderink", id="the husband"),
        pytest.param(["Verrou"], "verrou-family", id="a surname alone is the family's"),
        pytest.param(["Jan Verrou III"], "jan-verrou-iii", id="the third of the name"),
        pytest.param(["Walpurgis Ockhamsteijn"], "unknown", id="left alone: a name of nobody"),
        pytest.param(["Willem Verrou"], "unknown", id="left alone: a forename that nobody of the family had"),
    ],
)
def test_who_is_meant(first, args, maker):
    assert first(*args) == maker


def test_dates_count_by_role(who):
    """Who had died before the plate was cut cannot have cut it, but may have designed it."""

    def share_of_the_dead(role):
        _, out, _ = who("Jan Verrou", "--date", "1690", "--role", role, "--as", "jsonl")
        shares = {each["maker"]: each["probability"] for each in json.loads(out)["candidates"]}
        return shares[BASE + "jan-verrou-the-elder"]

    assert share_of_the_dead("engraver") < 0.05
    assert share_of_the_dead("designer") > 0.2


def test_one_answer_has_the_keys_that_others_rely_on(who):
    code, out, err = who("A. Verrou", "--date", "1633", "--role", "engraver", "--as", "json")
    answer = json.loads(out)
    assert (code, err) == (0, "")
    assert list(answer) == ["query", "candidates", "unknown"]
    assert all(list(each) == ["maker", "label", "probability", "because"] for each in answer["candidates"])
    assert "worked 1620 to 1670, which fits 1633" in answer["candidates"][0]["because"]
    assert 0.99 < sum(each["probability"] for each in answer["candidates"]) + answer["unknown"] <= 1.001


def test_a_family_is_answered_with_its_members_ranked(who):
    _, out, _ = who("Verrou", "--date", "1699", "--as", "json")
    answer = json.loads(out)
    assert answer["candidates"][0]["label"] == "Verrou family"
    shares = [member["probability"] for member in answer["members"]]
    assert shares == sorted(shares, reverse=True)
    assert {BASE + "maria-verrou", BASE + "jan-verrou-the-elder"} <= {member["maker"] for member in answer["members"]}


def test_the_table_tells_shares_reasons_and_times(who):
    code, out, _ = who("A. Verrou", "--date", "1633")
    lines = out.splitlines()
    assert code == 0
    assert lines[0] == "A. Verrou"
    assert "      initial A. for Anna" in lines
    assert any(line.startswith("  -  somebody who is not in the file") for line in lines)
    assert any(line.endswith("  the print") and "^" in line for line in lines)


def test_nobody_found_is_exit_code_1(who):
    code, out, err = who("Xyzk")
    assert (code, err) == (1, "")
    assert " ".join(out.splitlines()[1].split()) == "nobody of that name is in the file 1.00"


ROWS = """sign;Year;What
A. Verrou;1633;engraver
A. Verrou;16xy;engraver
A. Verrou;1633;sea captain
;1633;
"Jan" Verrou;;
J. Verrou;1633;engraver; more
Verrou;;"""


def test_a_file_gives_an_answer_a_row_in_order_with_broken_rows_in_place(who, tmp_path):
    names = tmp_path / "names.csv"
    names.write_text(ROWS)
    columns = ["--column", "sign", "--column", "date=Year", "--column", "role=What"]
    code, out, err = who("--from", str(names), *columns, "--as", "jsonl")
    answers = [json.loads(line) for line in out.splitlines()]
    assert code == 1
    assert err == "4 rows could not be used; each stands in its place with an error\n"
    assert [each["query"] for each in answers] == [
        "A. Verrou", "A. Verrou", "A. Verrou", "", "Jan Verrou", "J. Verrou", "Verrou",
    ]  # fmt: skip
    assert [each.get("error", "")[:5] for each in answers] == ["", "row 3", "row 4", "", "row 6", "row 7", ""]
    assert answers[3] == {"query": "", "candidates": [], "unknown": 1.0}
    assert "fits 1633" in " ".join(answers[0]["candidates"][0]["because"])


def test_a_name_column_alone_needs_no_more(who, tmp_path):
    names = tmp_path / "names.csv"
    names.write_text('name,note\n"Verrou, Anna",x\n')
    code, out, _ = who("--from", str(names), "--column", "name")
    assert code == 0
    assert json.loads(out)["candidates"][0]["maker"] == BASE + "anna-verrou"


def test_the_variable_names_authorities_too(who, monkeypatch):
    monkeypatch.setenv("MARGENT_AUTHORITY", "demo")
    code, out, _ = who("Anna Verrou", "--as", "jsonl", authority=())
    assert code == 0
    assert json.loads(out)["candidates"][0]["maker"] == BASE + "anna-verrou"


def test_two_authorities_are_asked_together(who, turtle):
    turtle("own/publication.ttl", OWN_PUBLICATION)
    own = turtle("own/makers/a.ttl", OWN_MAKER).parent.parent
    _, out, _ = who("Verrou, Anna", "--authority", str(own), "--as", "jsonl")
    best = [each["maker"] for each in json.loads(out)["candidates"][:2]]
    assert set(best) == {BASE + "anna-verrou", "https://own.example/maker/anna"}


OWN_PUBLICATION = """@prefix dcterms: <http://purl.org/dc/terms/> . @prefix mg: <https://w3id.org/margent/ns#> .
<https://own.example/> a mg:Publication ; dcterms:title "Own"@en ; mg:base <https://own.example/> ; mg:version "1" ; mg:dataFormat 1 ."""
OWN_MAKER = """@prefix skos: <http://www.w3.org/2004/02/skos/core#> . @prefix mg: <https://w3id.org/margent/ns#> .
<https://own.example/maker/anna> a mg:Person ; skos:prefLabel "Verrou, Anna"@en ."""


@pytest.mark.parametrize(
    ("args", "said"),
    [
        pytest.param([], "margent who needs a name", id="neither a name nor a file"),
        pytest.param(["A", "--from", "x.csv"], "margent who needs a name", id="both"),
        pytest.param(["A", "--role", "engraverr"], "did you mean engraver", id="a slip in a role"),
        pytest.param(["A", "--date", "16xy"], "is no date in EDTF", id="no date"),
        pytest.param(["A", "--column", "x"], "--column is for a file of names", id="a column without a file"),
        pytest.param(["--from", "x.csv"], "needs --column", id="a file without a column"),
        pytest.param(["--from", "x.csv", "--column", "n"], "x.csv: cannot be read", id="no such file"),
        pytest.param(["A\udcff"], "half a character", id="bytes that are no text"),
        pytest.param(["A" * 501], "the longest that is looked up has 500", id="a page"),
    ],
)
def test_wrong_use_is_one_sentence(who, args, said, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    code, out, err = who(*args)
    assert (code, out) == (2, "")
    assert said in err
    assert len(err.splitlines()) == 1


def test_without_makers_there_is_nobody_to_ask(who):
    code, out, err = who("Anna Verrou", authority=())
    assert (code, out) == (2, "")
    assert "--authority" in err


def test_a_wrong_column_is_named_with_those_there_are(who, tmp_path):
    names = tmp_path / "names.csv"
    names.write_text("who,when\nA,1\n")
    code, out, err = who("--from", str(names), "--column", "name")
    assert (code, out, err) == (2, "", f"{names}: has no column 'name'; its columns are: who, when\n")


AGES = Ages(grown=15, long_life=80, working_life=60, child=12, open_end=20, shortly=6, around=12)


def test_a_timeline_is_drawn_under_one_scale():
    lines = timeline(
        [
            Line("A. Verrou", Lifetime((1600, 1600), (1640, 1640), (1620, 1630), AGES)),
            Line("nobody knows", Lifetime(None, None, None, AGES)),
        ],
        (1625, 1626),
        width=41,
    )
    assert lines == [
        "1600      1610      1620      1630      1640",
        "--------------------===========----------  A. Verrou",
        "                                           nobody knows",
        "                         ^^                the print",
    ]


def test_without_any_date_there_is_no_timeline():
    assert timeline([Line("nobody knows", Lifetime(None, None, None, AGES))], None) == []

"""Makers in the statements of a reading, by an authority of invented makers."""

import json

import pytest

from margent.cli import run
from margent.exchange.letterings import lettering_from
from margent.exchange.makers_named import Makers
from margent.lettering.reader import lettering_of

BASE = "https://authority.print-room.example/maker/"
MAKER = ("maker", "members", "unknown", "candidates")


@pytest.fixture(scope="module")
def named(root):
    return Makers((root / "vocab" / "demo",), root / "vocab").open()


@pytest.fixture
def filled(reader, named):
    """A function that reads a lettering and fills its makers; it gives the statements."""

    def fill(*lines, **further):
        lettering = lettering_from({"lines": list(lines), **further})
        reading = reader.read(lettering).as_dict()
        named.fill(reading, lettering)
        return reading["statements"]

    return fill


def makers(statements):
    return [each["maker"] and each["maker"].removeprefix(BASE) for each in statements]


@pytest.mark.parametrize(
    ("lines", "further", "wanted"),
    [
        pytest.param(["Anna Verrou fecit"], {}, ["anna-verrou"], id="a full name"),
        pytest.param(["A. Verrou sculp."], {}, [None], id="brother and sister share the initial"),
        pytest.param(["A. Verrou sculp."], {"date": "1660"}, ["anna-verrou"], id="the brother had died"),
        pytest.param(["A. Verrou sculp. 1660"], {}, ["anna-verrou"], id="the date stands in the lettering"),
        pytest.param(
            ["Weduwe P. Kwelderink exc."], {"date": "1653"}, ["anna-verrou"], id="a widow is she who was married to him"
        ),
        pytest.param(["Verrou sculp."], {}, ["verrou-family"], id="a surname alone"),
        pytest.param(["Ockhamsteijn sculp."], {}, [None], id="left alone: nobody of that name"),
        pytest.param(["An/na Ver/rou fecit"], {}, ["anna-verrou"], id="line breaks inside the words"),
        pytest.param(["A[nna] Verrou fecit"], {}, ["anna-verrou"], id="an editor's expansion"),
    ],
)
def test_who_is_meant(filled, lines, further, wanted):
    assert makers(filled(*lines, **further)) == wanted


def test_each_candidate_has_its_reasons(filled):
    (statement,) = filled("Anna Verrou sculp.", date="1633")
    first = statement["candidates"][0]
    assert list(first) == ["maker", "label", "probability", "because"]
    assert first["label"] == "Verrou, Anna"
    assert "worked 1620 to 1670, which fits 1633" in first["because"]
    assert "is known as engraver" in first["because"]


def test_a_family_has_its_members_ranked(filled):
    (statement,) = filled("Verrou sculp.", date="1660")
    assert statement["candidates"][0]["label"] == "Verrou family"
    assert statement["members"][0] in {BASE + "anna-verrou", BASE + "jacob-verrou", BASE + "jan-verrou-iii"}
    assert BASE + "antoon-verrou" in statement["members"]
    assert statement["members"].index(BASE + "antoon-verrou") >= 3, "who had died is less likely"


def test_a_designer_may_be_long_dead_and_an_engraver_not(filled):
    def share(*lines):
        (statement,) = filled(*lines, date="1690")
        shares = {each["maker"]: each["probability"] for each in statement["candidates"]}
        return shares.get(BASE + "jan-verrou-the-elder", 0)

    assert share("Jan Verrou inv.") > 0.2
    assert share("Jan Verrou sculp.") < 0.05


def test_those_who_worked_together_speak_for_each_other(filled):
    alone, *_ = filled("A. Verrou sculp.")
    beside, *_ = filled("A. Verrou sculp.", "P. Kwelderink exc.")
    assert "Kwelderink, Pieter" in " ".join(beside["candidates"][0]["because"])
    assert beside["candidates"][0]["maker"] == BASE + "anna-verrou"
    assert beside["candidates"][0]["probability"] > alone["candidates"][0]["probability"]


def test_the_same_man_has_the_same_maker(filled):
    statements = filled("Anna Verrou inv. Idem sculp.")
    assert {each["maker"] for each in statements} == {BASE + "anna-verrou"}


def test_shares_make_one(filled):
    for statement in filled("Verrou sculp.", "Kwelderink exc.", date="1640"):
        assert sum(each["probability"] for each in statement["candidates"]) + statement["unknown"] <= 1.001


def test_without_an_authority_nobody_is_offered(reader):
    (statement,) = reader.read(lettering_of(["Anna Verrou sculp."])).as_dict()["statements"]
    assert [statement[key] for key in MAKER] == [None, [], 1.0, []]


def test_the_command_says_who(capsys, tmp_path):
    assert run(["read", "Anna Verrou sculp. 1633", "--authority", "demo"]) == 0
    assert f"Verrou, Anna  <{BASE}anna-verrou>" in capsys.readouterr().out
    assert run(["read", "Anna Verrou sculp. 1633", "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["statements"][0]["maker"] is None


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_batch_says_who_on_any_number_of_cores(capsys, tmp_path, jobs):
    batch = tmp_path / "letterings.jsonl"
    batch.write_text("".join(json.dumps({"id": str(n), "lines": ["Anna Verrou sculp."]}) + "\n" for n in range(300)))
    assert run(["read", "--from", str(batch), "--authority", "demo", "--jobs", jobs]) == 0
    answers = [json.loads(row) for row in capsys.readouterr().out.splitlines()]
    assert [each["id"] for each in answers] == [str(n) for n in range(300)]
    assert {each["statements"][0]["maker"] for each in answers} == {BASE + "anna-verrou"}


def test_a_broken_authority_is_one_sentence(capsys, turtle):
    turtle("own/publication.ttl", "<https://own.example/> a <https://w3id.org/margent/ns#Publication> .")
    own = turtle("own/makers/a.ttl", "<a> <b> .").parent.parent
    assert run(["read", "A. Holm sculp.", "--authority", str(own)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "a.ttl:1" in err

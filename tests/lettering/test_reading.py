"""Whole readings of invented letterings, and laws that hold for any text."""

import json
from dataclasses import asdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from margent.exchange.letterings import lettering_from
from margent.faults import Fault
from margent.lettering.reader import lettering_of
from margent.lettering.reading import FORMAT
from margent.lettering.transcription import LONGEST, Lettering, Line


def said(reader, *lines, **about):
    given_lines = [line if isinstance(line, dict) else {"text": line} for line in lines]
    reading = reader.read(lettering_from({"lines": given_lines, **about}))
    return [(statement.name, statement.roles) for statement in reading.statements]


@pytest.mark.parametrize(
    ("lines", "statements"),
    [
        pytest.param(
            ["A. Tobler pinxit", "B. Holm sculpsit"],
            [("A. Tobler", ["painter"]), ("B. Holm", ["engraver"])],
            id="name, then term",
        ),
        pytest.param(["Gravé par A. Tobler"], [("A. Tobler", ["engraver"])], id="term, then name"),
        pytest.param(
            ["A. Tobler inv. et fecit et excud."],
            [("A. Tobler", ["designer", "printmaker", "publisher"])],
            id="one name, three terms",
        ),
        pytest.param(
            ["A. Tobler et B. Holm sculp."],
            [("A. Tobler", ["engraver"]), ("B. Holm", ["engraver"])],
            id="two names, one term",
        ),
        pytest.param(
            ["Printed for & sold by Tobler & Holm, Cornhill"],
            [("Tobler & Holm", ["publisher", "seller"])],
            id="a firm is one name",
        ),
        pytest.param(["A. Marchand sc."], [("A. Marchand", ["engraver"])], id="a trade behind initials is a surname"),
        pytest.param(["Engraved by V. Green"], [("V. Green", ["engraver"])], id="a street word behind initials too"),
        pytest.param(["A. Tobler, Marchand sc."], [("A. Tobler", ["engraver"])], id="behind a surname it is the trade"),
        pytest.param(
            ["F. de Wit excudit"], [("F. de Wit", ["publisher"])], id="a short surname is no other word misspelt"
        ),
        pytest.param(
            ["Painted by A. Tobler. Engraved by B. Holm."],
            [("A. Tobler", ["painter"]), ("B. Holm", ["engraver"])],
            id="two clauses on a line",
        ),
        pytest.param(
            ["Gestochen von A. Tobler nach dem Gemälde von B. Holm"],
            [("A. Tobler", ["engraver"]), ("B. Holm", ["painter"])],
            id="terms split by names",
        ),
        pytest.param(
            ["A. Tobler sc. Vidua Holmij excudit"],
            [("A. Tobler", ["engraver"]), ("Vidua Holmij", ["publisher"])],
            id="a widow is kept in the name",
        ),
        pytest.param(["A Paris chez Tobler, rue S. Jacques"], [("Tobler", ["publisher"])], id="an address"),
        pytest.param(["Cum privilegio Regis"], [], id="a privilege names no maker"),
        pytest.param(["Fortuna favet fortibus semper in armis"], [], id="a verse stays unread"),
    ],
)
def test_statements(reader, lines, statements):
    assert said(reader, *lines) == statements


def test_every_key_of_the_contract_is_there(reader):
    reading = reader.read(lettering_of(["A. Tobler sculp. Cum privil. Regis Antuerpiae 1612 foo"])).as_dict()
    assert set(reading) == {"format", "vocabulary", "id", "statements", "notices", "places", "dates", "unread"}
    (statement,) = reading["statements"]
    assert set(statement) == {
        "name", "line", "span", "roles", "implied", "terms", "term", "of", "after", "same_as", "maker", "members", "unknown",
        "candidates", "confidence", "doubtful", "instead", "because",
    }  # fmt: skip
    assert set(statement["terms"][0]) == {"text", "line", "span", "roles"}
    assert set(reading["notices"][0]) == {"kind", "text", "line", "span", "granter", "holder"}
    assert set(reading["places"][0]) == {"text", "place", "kind", "line", "span"}
    assert set(reading["dates"][0]) == {"text", "edtf", "kind", "line", "span"}
    assert set(reading["unread"][0]) == {"text", "line", "span"}


def test_a_later_hand_and_a_stamp_yield_no_maker(reader):
    assert said(reader, {"text": "A. Tobler sculp.", "hand": "later"}, {"text": "B. Holm fecit", "how": "stamp"}) == []


def test_roles_are_implied_only_by_a_whole_lettering(reader):
    def implied(complete):
        (statement,) = reader.read(
            lettering_from({"lines": [{"text": "A. Tobler fecit"}], "complete": complete})
        ).statements
        return statement.implied

    assert implied("yes") == ["designer"]
    assert implied("part") == []


def test_a_lettering_that_is_too_long_is_refused(reader):
    with pytest.raises(Fault, match="at most 20,000"):
        reader.read(lettering_of(["a " * LONGEST]))


@given(st.lists(st.text(max_size=200), max_size=4))
@settings(max_examples=150)
def test_any_text_is_read_and_every_span_slices_it(reader, texts):
    reading = reader.read(Lettering(tuple(Line(text) for text in texts))).as_dict()
    json.dumps(reading)
    parts = [*reading["statements"], *reading["notices"], *reading["places"], *reading["dates"], *reading["unread"]]
    parts += [term for statement in reading["statements"] for term in statement["terms"]]
    for part in parts:
        start, end = part["span"]
        text = texts[part["line"]]
        assert 0 <= start < end <= len(text)
        said_text = part.get("text", part.get("name"))
        assert said_text.startswith(text[start:end])


@given(
    st.lists(
        st.sampled_from(
            [
                "A.",
                "B",
                "Holm",
                "Tobler",
                "sculp.",
                "et",
                "excudit",
                "chez",
                "à",
                "Paris",
                "1612",
                "/",
                "&",
                "Co.",
                "pinxit",
                "[sic]",
                "(",
                ")",
                "fecit",
            ]
        ),
        max_size=40,
    )
)
def test_words_of_the_trade_in_any_order_are_read(reader, words):
    reading = reader.read(lettering_of([" ".join(words)]))
    assert all(0 <= statement.confidence <= 1 for statement in reading.statements)


def test_plain_data_has_every_field_in_order(reader):
    """The fields are written out by hand where they become plain data; one that is forgotten there shows here."""
    reading = reader.read(
        lettering_of(["A. Tobler pinxit B. Holm sculpsit", "Excud. C. Veld, Paris 1612, cum privil. xyq"])
    )
    assert all((reading.statements, reading.notices, reading.places, reading.dates, reading.unread))
    assert json.dumps(reading.as_dict()) == json.dumps({"format": FORMAT, **asdict(reading)})


@pytest.mark.parametrize("text", ["John Tobler, Earl of Holm", "Tobler"])
def test_words_of_which_nothing_is_said_are_left_unread(reader, text):
    reading = reader.read(lettering_of([text]))
    assert not reading.statements
    assert "".join(each.text for each in reading.unread) == text


def test_honours_at_the_head_of_a_line_are_a_dedication_though_nobody_signs(reader):
    assert said(reader, "All'Ill.mo Sig.r Marchese Paolo Tobler") == [("Marchese Paolo Tobler", ["dedicatee"])]


def test_a_title_of_nobility_stays_with_the_name_of_a_dedication(reader):
    found = said(reader, "To the Right Honble. the Earl of Tobler this Plate is inscribed by A. Holm")
    assert found == [("the Earl of Tobler", ["dedicatee"]), ("A. Holm", ["dedicator"])]

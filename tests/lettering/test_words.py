"""What a word, phrase or abbreviation means, asked as somebody at a desk would ask. Common practice, no source."""

import pytest


def said(words, text):
    return [answer.role or answer.notice or answer.kind for answer in words.ask(text)]


@pytest.mark.parametrize(
    ("text", "first", "term"),
    [
        pytest.param("sculp.", "engraver", "sculpsit", id="cut short, it is Latin before it is French"),
        pytest.param("inv.", "designer", "invenit", id="or Spanish"),
        pytest.param("gest.", "engraver", "gest.", id="what Latin has not is of its own language"),
        pytest.param("excudit", "publisher", "excudit", id="a headword as it stands"),
        pytest.param("imp. (impressit)", "printer", "impressit", id="with its own explanation in brackets"),
        pytest.param("del. et sculp.", "draughtsman", "delineavit", id="two words joined"),
        pytest.param("gravé par le même", "engraver", "gravé", id="a term among small words"),
    ],
)
def test_the_first_answer(words, text, first, term):
    answers = words.ask(text)
    assert (answers[0].role, answers[0].term) == (first, term)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        pytest.param("vidua", "kin", id="a word of kinship"),
        pytest.param("idem", "sameman", id="a word for the same man"),
        pytest.param("rue", "street", id="a word of an address"),
        pytest.param("Antuerpiae", "place", id="a town in another spelling"),
        pytest.param("S.C.M.", "grantor", id="a power, and not three letters one by one"),
    ],
)
def test_a_word_that_says_no_role_is_told_by_its_kind(words, text, kind):
    assert kind in said(words, text)
    answer = next(each for each in words.ask(text) if each.kind == kind)
    assert answer.reason
    assert "role" not in answer.as_dict()


def test_a_town_is_named(words):
    assert [answer.reason for answer in words.ask("Antverpiae")] == ["the town Antwerp"]


@pytest.mark.parametrize("text", ["", "xyzzy", "sculpsit xyzzy", "()"])
def test_what_is_no_word_of_the_list_has_no_answer(words, text):
    assert words.ask(text) == []

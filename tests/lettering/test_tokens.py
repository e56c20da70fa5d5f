"""Cutting a lettering into words: the cases are habits of letterings, common practice, no source."""

import pytest

from margent.lettering.reader import lettering_of


def cut(reader, text):
    return [(token.full, token.shape, token.gap) for token in reader.tokens(lettering_of([text]))]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("A. Holm", [("a", "i", "^"), ("holm", "c", "a")], id="an initial and its stop"),
        pytest.param("A.Holm", [("a", "i", "^"), ("holm", "c", "k")], id="no space behind the stop"),
        pytest.param("AHolm", [("a", "i", "^"), ("holm", "c", "g")], id="an initial run together with the name"),
        pytest.param("AnnaHolm", [("anna", "c", "^"), ("holm", "c", "g")], id="two words run together"),
        pytest.param("ſculpſit", [("sculpsit", "l", "^")], id="long s"),
        pytest.param("Antuerpiæ", [("antuerpiae", "c", "^")], id="a ligature"),
        pytest.param("73/100", [("73/100".replace("/", ""), "n", "^")], id="an edition fraction is one number"),
        pytest.param("Holm / sc.", [("holm", "c", "^"), ("sc", "l", "b")], id="a line break sign"),
        pytest.param("Hol/mius", [("hol", "c", "^"), ("mius", "l", "w")], id="a break within a word"),
        pytest.param(
            "Holm & Co", [("holm", "c", "^"), ("&", "x", "s"), ("co", "c", "s")], id="the ampersand is a word"
        ),
        pytest.param("l'auteur", [("l", "e", "^"), ("auteur", "l", "g")], id="an elision"),
        pytest.param("publish'd", [("publishd", "l", "^")], id="an apostrophe within a word"),
        pytest.param("C.\u00b0", [("c", "i", "^"), ("o", "l", "k")], id="a raised o"),
    ],
)
def test_tokens(reader, text, expected):
    assert cut(reader, text) == expected

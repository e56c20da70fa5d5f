import pytest
from hypothesis import given
from hypothesis import strategies as st

from margent.publishing.folding import alphabetical, folded, initial


@pytest.mark.parametrize(
    ("text", "key"),
    [
        pytest.param("d'après  l'Æquator", "dapres laequator", id="accents, apostrophes, ligatures, spaces"),
        pytest.param("ſculpſit", "sculpsit", id="long s"),
        pytest.param("sculp.", "sculp", id="points"),
        pytest.param("et Cie & fils", "et cie & fils", id="the sign for and is a word"),
        pytest.param("e\u0301tude", "etude", id="combining accents"),
        pytest.param("...", "", id="nothing left"),
    ],
)
def test_a_text_folds_to_its_letters(text, key):
    assert folded(text) == key


@given(st.text())
def test_folding_twice_is_folding_once(text):
    assert folded(folded(text)) == folded(text)


def test_the_order_is_word_by_word_and_without_signs():
    words = ["excudit", "ex officina", "Ex formis", "éditeur", "ex", "editor", "e."]
    assert sorted(words, key=alphabetical) == ["e.", "éditeur", "editor", "ex", "Ex formis", "ex officina", "excudit"]


def test_texts_that_fold_alike_are_told_apart():
    assert alphabetical("sc.") != alphabetical("sc")


@pytest.mark.parametrize(("text", "letter"), [("éditeur", "E"), ("'t", "T"), ("7", ""), ("&c.", ""), ("", "")])
def test_a_word_stands_under_its_first_letter(text, letter):
    assert initial(text) == letter

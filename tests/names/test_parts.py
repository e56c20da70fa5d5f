"""A name taken apart: what is a forename, a surname, a number among several of the name. Common practice, no source."""

import pytest

from margent.names.lore import Lore
from margent.names.parts import parts_of


@pytest.fixture(scope="module")
def lore(vocabulary):
    return Lore(vocabulary)


@pytest.mark.parametrize(
    ("text", "words", "generation"),
    [
        pytest.param("I. Verrou", ["i", "verrou"], 0, id="I. at the head is a forename cut to its initial"),
        pytest.param("D. Holm", ["d", "holm"], 0, id="so is D., whatever it is short for elsewhere"),
        pytest.param("Jan Verrou II", ["jan", "verrou"], 2, id="a number at the end tells which of the name"),
        pytest.param("Verrou, Jan (III)", ["jan", "verrou"], 3, id="in brackets too"),
        pytest.param("Jan Verrou the Elder", ["jan", "verrou"], None, id="the elder is no part of the surname"),
    ],
)
def test_a_name_is_taken_apart(lore, text, words, generation):
    (parts,) = parts_of(text, lore)
    assert sorted(word.text for word in parts.words) == sorted(words)
    assert bool(parts.generation) if generation is None else parts.generation == generation

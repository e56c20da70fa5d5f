"""Editorial signs: what is read, what is a note. The cases are common practice of museum transcription, no source."""

import pytest

from margent.lettering.transcription import transcribe

NOTES = ("sic", "sic!", "that is")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        pytest.param("J[ohann] Holm", "Johann Holm", id="letters supplied are read"),
        pytest.param("A.H. [= Anna Holm] sc.", "A.H.  sc.", id="an explanation is a note"),
        pytest.param("pinxitt [sic] A.", "pinxitt  A.", id="sic is a note"),
        pytest.param("pinxitt (sic!) A.", "pinxitt  A.", id="sic in round brackets is a note"),
        pytest.param("Holm (senior) sc.", "Holm (senior) sc.", id="round brackets stand on the print"),
        pytest.param("[Jacob?] Holm", "Jacob Holm", id="the query of a doubtful supply is no letter"),
        pytest.param("descri[...]", "descri.", id="lost letters cut the word short"),
        pytest.param("[[chez Holm]] rue", "chez Holm rue", id="what was burnished out is read"),
        pytest.param("a ] b [ c", "a ] b [ c", id="brackets without a partner are signs"),
    ],
)
def test_what_is_read(text, read):
    assert transcribe(text, NOTES).chars == read


def test_supplied_letters_are_marked_and_point_home():
    result = transcribe("J[ohann] H", NOTES)
    assert [result.supplied[i] for i, char in enumerate(result.chars) if char == "o"] == [True]
    assert all("J[ohann] H"[at] == char for at, char in zip(result.at, result.chars, strict=True))

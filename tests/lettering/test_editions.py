"""Numbers within an edition: where they count an impression, and what is none."""

import pytest

from margent.exchange.letterings import lettering_from
from margent.lettering.editions import within_edition


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        pytest.param("1/25", True, id="the first of twenty-five"),
        pytest.param("25/25", True, id="the last"),
        pytest.param("26/25", False, id="beyond the last"),
        pytest.param("0/25", False, id="none is numbered nought"),
        pytest.param("12345/99999", False, id="too many figures"),
        pytest.param("1/2/3", False, id="three numbers"),
        pytest.param("12", False, id="no stroke"),
        pytest.param("/25", False, id="no first number"),
    ],
)
def test_what_counts_an_impression(text, counts):
    assert within_edition(text) is counts


@pytest.mark.parametrize(
    ("line", "kinds"),
    [
        pytest.param({"text": "12/40", "how": "pencil"}, ["edition"], id="in pencil"),
        pytest.param({"text": "A. Tobler 12/40"}, ["edition"], id="beside a signature"),
        pytest.param({"text": "Printed for A. Tobler, 12/40 Cornhill"}, [], id="in a line of words it may be anything"),
    ],
)
def test_where_it_counts(reader, line, kinds):
    reading = reader.read(lettering_from({"lines": [line]}))
    assert [notice.kind for notice in reading.notices] == kinds

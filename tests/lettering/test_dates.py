"""Dates on prints as EDTF. Roman numerals: the additive form is common on prints, common practice, no source."""

import pytest

from margent.lettering.reader import lettering_of


@pytest.mark.parametrize(
    ("text", "edtf"),
    [
        pytest.param("A. Holm fecit 1612", "1612", id="a year"),
        pytest.param("A. Holm fecit MDCXII", "1612", id="a year in Roman numerals"),
        pytest.param("A. Holm fecit MDXXXX", "1540", id="additive Roman numerals"),
        pytest.param("A. Holm fecit M. DC. XII.", "1612", id="parted by stops"),
        pytest.param("Romae M.D.LXXII. A. Holm f.", "1572", id="parted without spaces, before a name"),
        pytest.param("M D LXXXVIII", "1588", id="parted by spaces"),
        pytest.param("A. Holm fecit i57i", "1571", id="letters set for figures"),
        pytest.param("Published March 3d. 1791 by A. Holm", "1791-03-03", id="English day and month"),
        pytest.param("Published 12th Jany. 1804 by A. Holm", "1804-01-12", id="day before month"),
        pytest.param("A. Holm fecit 4. 7bris 1650", "1650-09-04", id="7bris is September"),
        pytest.param("A. Holm fecit 2 Xbre 1702", "1702-12-02", id="Xbre is December"),
    ],
)
def test_dates(reader, text, edtf):
    assert [date.edtf for date in reader.read(lettering_of([text])).dates] == [edtf]


@pytest.mark.parametrize(
    "text", ["A. Holm fecit No. 1200", "12/50", "M. D. C. Holm sculp.", "M. Mill sc.", "M. DIX SC."]
)
def test_no_date(reader, text):
    assert reader.read(lettering_of([text])).dates == []

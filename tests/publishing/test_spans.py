import pytest

from margent.publishing.spans import Bar, Span, around, scale, span


@pytest.mark.parametrize(
    ("edtf", "years"),
    [
        ("1620/1670", (1620, 1670)),
        ("1633", (1633, 1633)),
        ("159X", (1590, 1599)),
        ("1620/..", (1620, None)),
        ("../1614", (None, 1614)),
    ],
)
def test_a_period_has_its_years(edtf, years):
    assert span(edtf) == Span(*years)


@pytest.mark.parametrize("edtf", [None, "", "long ago", "1670/1620"])
def test_what_no_calendar_knows_has_none(edtf):
    assert span(edtf) is None


def test_a_scale_has_round_years_round_all_spans_and_few_marks():
    found = scale([span("1602/1671"), span("1620/.."), None])
    assert (found.first, found.last, found.step) == (1600, 1680, 20)
    assert [year for year, _ in found.ticks] == [1600, 1620, 1640, 1660, 1680]


def test_a_bar_lies_where_its_years_are_and_an_open_end_reaches_the_edge():
    found = scale([span("1600/1700")])
    assert found.bar(span("1625/1650")) == Bar(25.0, 25.0, open_left=False, open_right=False)
    assert found.bar(span("1675/..")) == Bar(75.0, 25.0, open_left=False, open_right=True)
    assert found.bar(span("1650")).width > 0, "one year can be seen"
    assert found.bar(None) is None


def test_one_year_makes_a_scale_and_none_makes_none():
    assert scale([span("1633")]).place(1633) == 30.0
    assert scale([None]) is None
    assert around([None]) is None

"""Dates of lives as catalogues write them, and the same dates in EDTF."""

import csv
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from margent.exchange.listed_dates import Life, UnreadableDatesError, life_in, span
from margent.vocabulary.edtf import years


@pytest.mark.parametrize(
    ("said", "life"),
    [
        ("Flemish, 1602 - 1671", ("1602", "1671", None)),
        ("1602-1671", ("1602", "1671", None)),
        ("1602\u20131671", ("1602", "1671", None)),
        ("1602-", ("1602", None, None)),
        ("-1671", (None, "1671", None)),
        ("b. 1602", ("1602", None, None)),
        ("d. 1671", (None, "1671", None)),
        ("born Maastricht (now Netherlands), c. 1602 - 1671?", ("1602~", "1671?", None)),
        ("probably c. 1602 - unknown", ("1602%", None, None)),
        ("c.1602 - c.1671", ("1602~", "1671~", None)),
        ("approximately 1602-1671", ("1602~", "1671", None)),
        ("c. 1600/1604 - 1671 or after", ("[1600..1604]", "[1671..]", None)),
        ("1602/04 - in or after 1671", ("[1602..1604]", "[1671..]", None)),
        ("1602 or 1603 - before 1671", ("[1602..1603]", "[..1671]", None)),
        ("active 1620", (None, None, "1620")),
        ("fl. 1620-1640", (None, None, "1620/1640")),
        ("active c. 1620 - after 1640", (None, None, "1620~/..")),
        ("active 1620s", (None, None, "162X")),
        ("active 1620s and 1640s", (None, None, "1620/1649")),
        ("active 1600s", (None, None, "16XX")),
        ("17th century", (None, None, "16XX")),
        ("active early 17th century", (None, None, "1600/1633")),
        ("active mid-17th century", (None, None, "1634/1666")),
        ("second half of the 17th cent.", (None, None, "1650/1699")),
        ("active late 16th - early 17th century", (None, None, "1567/1633")),
        ("born c. 1602, active 1620 - 1640", ("1602~", None, "1620/1640")),
        ("1602 - active 1640", ("1602", None, "1640")),
        ("active 1620-1640; died before 1671", (None, "[..1671]", "1620/1640")),
        ("1602 - 1671, active Maastricht", ("1602", "1671", None)),
        ("est. 1802 - closed 1871", ("1802", "1871", None)),
        ("Franco-Flemish", (None, None, None)),
        ("", (None, None, None)),
    ],
)
def test_dates(said, life):
    assert life_in(said) == Life(*life)


@pytest.mark.parametrize(
    "said",
    [
        "570 B.C.",
        "active late 1st century B.C. - early 1st century A.D.",
        "1602 - 1640, active 1650",
        "born 1602, active 1590 - 1600",
        "65 - 8 BC",
        "1671 - 1602",
        "1602 1671",
        "1602 - 167?",
        "1602 - 1640 - 1671",
        "about 12",
    ],
)
def test_what_is_no_date_is_said_to_be_none(said):
    with pytest.raises(UnreadableDatesError):
        life_in(said)


def test_of_a_hand_without_a_name_all_years_are_of_its_work():
    assert life_in("1602 - 1671", person=False, anonymous=True) == Life(active="1602/1671")


@given(st.text(alphabet="0123456789 -/.,?~scabotrfedhuXynivl()", max_size=40))
def test_any_text_gives_edtf_or_is_refused(text):
    try:
        life = life_in(text)
    except UnreadableDatesError:
        return
    for date in (life.born, life.died, life.active):
        assert date is None or years(date)


@pytest.mark.parametrize(
    ("first", "last", "made"),
    [
        ("1602", "1671", "1602/1671"),
        ("1602", "", "1602/.."),
        ("", "1671", "../1671"),
        ("1602", "1602", "1602"),
        ("1671", "1602", None),
        ("", "", None),
        ("x", "1602", None),
    ],
)
def test_first_and_last_year(first, last, made):
    assert span(first, last) == made


def test_the_dates_of_an_open_catalogue_are_read_as_it_counts_them(shared):
    """The museum gives its dates in words and the first and last year beside them; the two must agree, by and large.

    Its years for `active` are a guess at a whole life, so that only the last year is compared there, with 5 years' grace.
    """
    with (shared / "open-data" / "nga-makers.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = [row for row in csv.DictReader(file) if re.search(r"\d{4}", row["display_date"])]
    agree = unread = 0
    for row in rows:
        begin, end = int(row["begin_year"]), int(row["end_year"] or 9999)
        try:
            life = life_in(
                row["display_date"], person=row["kind"] == "individual", anonymous=row["kind"] == "anonymous"
            )
        except UnreadableDatesError:
            unread += 1
            continue
        born, died, active = (years(date) if date else None for date in (life.born, life.died, life.active))
        agree += (
            (born is None or born[0] <= begin <= born[1])
            and (died is None or died[0] <= end <= died[1] or end == 9999)
            and (
                born is not None or died is not None or active is None or (begin <= active[0] and active[1] <= end + 5)
            )
        )
    assert len(rows) > 9000
    assert unread < 10
    assert agree / (len(rows) - unread) > 0.985

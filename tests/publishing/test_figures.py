from dataclasses import replace

import pytest

from margent.publishing.figures import Figures, TermFigures, WorkFigures, as_markdown, figures
from margent.vocabulary.load import load

BASE = "https://w3id.org/margent/"


@pytest.fixture(scope="module")
def found(small):
    return figures(load(small / "vocab"))


def test_terms_of_a_language(found):
    """The spellings of sculpsit are itself, sc, sclp and sculpcit; of sculptor itself and one that sculpsit has too; the withdrawn is out."""
    assert found.languages == (TermFigures("la", headwords=2, forms=6, cited=1, common_practice=1, from_memory=0),)
    assert found.languages[0].share_cited == 0.5


def test_the_total_is_the_sum(vocabulary):
    whole = figures(vocabulary)
    for name in ("headwords", "forms", "cited", "common_practice", "from_memory"):
        assert getattr(whole.all_languages, name) == sum(getattr(each, name) for each in whole.languages), name
    total = whole.all_languages
    assert total.headwords == total.cited + total.common_practice + total.from_memory


def test_a_citation_that_a_sense_shares_counts_once(found):
    assert found.works == (WorkFigures(BASE + "source/handbook", "A handbook", 1),)
    assert found.citations == 1


def test_entries_of_other_kinds(found):
    assert (found.roles, found.notice_kinds, found.places, found.place_forms) == (2, 1, 1, 1)
    assert (found.qualifiers, found.sources, found.forenames, found.forename_forms) == (1, 1, 0, 0)


def test_an_empty_vocabulary_has_no_share(small):
    empty = replace(load(small / "vocab"), terms={})
    assert figures(empty).all_languages.share_cited == 0.0


def test_tables(found):
    assert as_markdown(found).splitlines() == [
        "| language | headwords | forms | cited | common practice | from memory | share cited |",
        "|---|--:|--:|--:|--:|--:|--:|",
        "| la | 2 | 6 | 1 | 1 | 0 | 50% |",
        "| all | 2 | 6 | 1 | 1 | 0 | 50% |",
        "",
        "| work | citations |",
        "|---|--:|",
        "| A handbook | 1 |",
        "| all | 1 |",
    ]


def test_works_beyond_the_first_stand_together(found):
    many = tuple(WorkFigures(f"{BASE}source/w{number:02}", f"Work | {number}", 2) for number in range(14))
    lines = as_markdown(replace(found, works=many)).splitlines()
    assert "| Work \\| 0 | 2 |" in lines
    assert lines[-2:] == ["| 2 other works | 4 |", "| all | 28 |"]


def test_figures_are_the_same_each_time(vocabulary):
    first, second = figures(vocabulary), figures(vocabulary)
    assert isinstance(first, Figures)
    assert as_markdown(first) == as_markdown(second)

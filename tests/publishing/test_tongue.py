import gettext

import pytest

from margent.publishing.messages import Language
from margent.publishing.tongue import Tongue

ENGLISH = Tongue(Language("en", gettext.NullTranslations()))


@pytest.mark.parametrize(
    ("edtf", "said"),
    [
        ("1500/1900", "1500 to 1900"),
        ("1430/..", "from 1430"),
        ("../1614", "until 1614"),
        ("1559/", "from 1559"),
        ("1612", "1612"),
        ("1671~", "about 1671"),
        ("1590?", "1590 (uncertain)"),
        ("1590%", "about 1590 (uncertain)"),
        ("159X", "the 1590s"),
        ("20XX", "the 2000s"),
        ("1559~/1614", "about 1559 to 1614"),
        ("1799-12", "December 1799"),
        ("[1755..1761]", "between 1755 and 1761"),
        ("[1559,1560]", "1559 or 1560"),
        ("[1559, 1561..1563]", "1559 or between 1561 and 1563"),
        ("[..1560]", "until 1560"),
        ("[1755~..]", "from about 1755"),
        ("1799-12-03", "December 3, 1799"),
        ("1799-02-31", "1799-02-31"),
    ],
)
def test_periods_in_words(edtf, said):
    assert ENGLISH.years(edtf) == said


@pytest.mark.parametrize(
    ("size", "said"), [(0, "0 bytes"), (999, "999 bytes"), (1500, "1.5 kB"), (14_260_201, "14.3 MB")]
)
def test_sizes_in_words(size, said):
    assert ENGLISH.size(size) == said


@pytest.mark.parametrize(
    ("part", "total", "said"), [(0, 0, "none"), (0, 9, "0 %"), (1, 900, "under 1 %"), (1, 3, "33 %"), (5, 5, "100 %")]
)
def test_shares_in_words(part, total, said):
    assert ENGLISH.share_of(part, total) == said


def test_a_language_without_a_name_of_ours_keeps_its_tag():
    assert ENGLISH.language_name("la") == "Latin"
    assert ENGLISH.language_name("cs") == "cs"

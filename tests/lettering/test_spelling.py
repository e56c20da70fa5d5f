"""Early-modern spelling: what a word may stand for, by which rule, and what it is never taken for. Common practice, no source."""

import pytest

from margent.lettering.spelling import GUESSED, Spelling

RULES = [["long-s", "ſ", "s"], ["u-v", "v", "u"], ["w-as-vv", "w", "uu"], ["th", "th", "t"], ["doubled", "tt", "t"]]
LISTED = ("with", "sculpsit", "excudit", "auec", "uu", "inuenit")


@pytest.fixture(scope="module")
def spelling():
    plain = Spelling(
        {"spelling": {"rules": RULES, "levelled": {}, "guessable": [], "heads": []}, "grammar": {"lookup": COSTS}}, ()
    )
    levelled = {}
    for word in LISTED:
        levelled.setdefault(plain.level(word)[0], []).append(word)
    compiled = {
        "spelling": {"rules": RULES, "levelled": levelled, "guessable": list(LISTED), "heads": ["fs"]},
        "grammar": {"lookup": COSTS},
    }
    return Spelling(compiled, LISTED)


COSTS = {"respelt": -50, "guessed": -1800}


@pytest.mark.parametrize(
    ("seen", "meant"),
    [
        pytest.param("sculpsit", [("sculpsit", 0, ())], id="a word of the list is itself"),
        pytest.param("ſculpſit", [("sculpsit", -50, ("long-s",))], id="long s within a word"),
        pytest.param("invenit", [("inuenit", -50, ("u-v",))], id="v for u"),
        pytest.param("witth", [("with", -50, ("doubled",))], id="the rule that tells them apart, not those both share"),
        pytest.param("wit", [("wit", 0, ())], id="so short a word has no letter too few"),
        pytest.param("vv", [("uu", -50, ("u-v",))], id="but another letter in its place it may have"),
        pytest.param("sculpsat", [("sculpsit", -1800, (GUESSED,))], id="one letter away is a guess"),
        pytest.param("excudat", [("excudit", -1800, (GUESSED,))], id="one letter away is a guess, again"),
        pytest.param("fculpsit", [("sculpsit", -1800, (GUESSED,))], id="the long s taken for f at the head"),
        pytest.param("bculpsit", [("bculpsit", 0, ())], id="no other letter at the head is misread"),
        pytest.param("vedel", [("vedel", 0, ())], id="a word far from all is left alone"),
    ],
)
def test_what_a_word_may_stand_for(spelling, seen, meant):
    assert spelling.alternatives(seen) == meant

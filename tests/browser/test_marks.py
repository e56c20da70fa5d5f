"""The finder of marks, over the invented authority."""

import json

import pytest

from margent.names.marks import Marks, Seen
from margent.vocabulary.edtf import years
from margent.vocabulary.load import load

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def finder(browser, site):
    with browser.page() as page:
        page.open(f"{site}/marks.html")
        page.until("!document.querySelector('form.marks-wanted').hidden")
        yield page


@pytest.fixture(scope="module")
def marks(root):
    """The marks of the invented authority, as Python looks them up."""
    return Marks(load(root / "vocab", [root / "vocab" / "demo"]))


def found(page, **asked):
    """The pages of the marks that are found, the likest first."""
    for name in ("letters", "device", "arrangement", "date"):
        page.ask(f"document.getElementById({name!r}).value = {json.dumps(asked.get(name, ''))}")
    page.ask("document.querySelector('.marks-wanted .count').textContent = ''")
    page.ask("document.getElementById('date').dispatchEvent(new Event('input', { bubbles: true }))")
    page.until("document.querySelector('.marks-wanted .count').textContent !== ''")
    return page.ask(
        "[...document.querySelectorAll('.marks-found .mark p:first-child a')].map((a) => a.getAttribute('href'))"
    )


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        pytest.param({"letters": "AV"}, "mark/av-joined.html", id="letters in their order"),
        pytest.param({"letters": "u a"}, "mark/av-joined.html", id="in another order, U for V, small"),
        pytest.param({"letters": "J V"}, "mark/iv-bar.html", id="J for I"),
        pytest.param({"device": "bridge", "date": "1590"}, "mark/ah-bridge.html", id="what it shows, and a year"),
        pytest.param({"letters": "A", "device": "bridge"}, "mark/ah-bridge.html", id="some of the letters"),
    ],
)
def test_the_likest_mark_stands_first(finder, asked, first):
    assert found(finder, **asked)[0] == first
    assert finder.complaints() == []


def test_each_answer_says_why_whom_and_what_it_states(finder):
    found(finder, letters="VA", date="1630")
    told = finder.ask("document.querySelector('.marks-found .mark').textContent")
    for part in ("Verrou, Anna", "burin engraver"):
        assert part in told
    assert len(finder.ask("document.querySelector('.marks-found .why').textContent")) > 10
    assert finder.ask("document.querySelector('.marks-found img').complete")
    assert "judgement" in finder.ask("document.querySelector('.marks-caution').textContent")


def test_what_is_nothing_like_it_is_not_shown(finder):
    assert found(finder, letters="XXXX") == []
    assert found(finder, letters="XXXX", date="1630") == []
    assert found(finder, date="soon") == []
    assert "no date" in finder.ask("document.querySelector('.marks-wanted .count').textContent")


ASKED = [
    {"letters": "AV"},
    {"letters": "va", "date": "1630"},
    {"letters": "J?V"},
    {"letters": "HSF", "date": "1650"},
    {"letters": "W"},
    {"device": "Reiher"},
    {"device": "bird"},
    {"device": "oiseaux", "letters": "K"},
    {"device": "bridge", "arrangement": "joined", "date": "1590/1600"},
    {"arrangement": "übereinander"},
    {"device": "zeppelin"},
    {"letters": "LJB", "device": "stairs"},
    {"letters": "M", "date": "1900"},
]


@pytest.mark.parametrize("asked", ASKED, ids=lambda asked: " ".join(asked.values()))
def test_the_same_marks_in_the_same_order_as_the_command_line_tells(finder, marks, asked):
    seen = Seen(
        asked.get("letters", ""),
        tuple(text for text in [asked.get("device")] if text),
        tuple(text for text in [asked.get("arrangement")] if text),
        years(asked["date"]) if "date" in asked else None,
    )
    wanted = marks.find(seen, limit=24).found
    assert found(finder, **asked) == [f"mark/{each.mark.slug}.html" for each in wanted]
    told = finder.ask("[...document.querySelectorAll('.marks-found .why')].map((each) => each.textContent)")
    assert told == ["; ".join(each.because) + "." for each in wanted]

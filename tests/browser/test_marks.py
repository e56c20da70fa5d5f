"""The finder of marks, over the invented authority."""

import json

import pytest

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def finder(browser, site):
    with browser.page() as page:
        page.open(f"{site}/marks.html")
        page.until("!document.querySelector('form.marks-wanted').hidden")
        yield page


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
    for part in ("same letters in another order", "in use then", "Verrou, Anna", "burin engraver"):
        assert part in told
    assert finder.ask("document.querySelector('.marks-found img').complete")
    assert "judgement" in finder.ask("document.querySelector('.marks-caution').textContent")


def test_what_is_nothing_like_it_is_not_shown(finder):
    assert found(finder, letters="XXXX") == []
    assert found(finder, letters="XXXX", date="1630") == []
    assert found(finder, date="soon") == []
    assert "no date" in finder.ask("document.querySelector('.marks-wanted .count').textContent")

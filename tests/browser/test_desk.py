"""The desk: a lettering is read while it is typed, in the browser, as the Python reader reads it."""

import csv
import io
import json

import pytest

from margent.exchange.batch_out import Written, csv_text
from margent.exchange.letterings import lettering_from
from margent.exchange.reading_table import HEADER

pytestmark = pytest.mark.slow

FOUR_LINES = "A. Verrou inuentor.  B. Holm sculpsit et excudit Antuerpiæ\nCum priuilegio Regis 1612\nIllustrissimo Domino Cornelio Vosmeer patrono suo D.D.D. Petrus Verrou\nQuid iuvat aspectis si non licet amplius uti"

# Left, centre, right, beneath; date, technique; whole.  Invented letterings.
SHEETS = {
    "four Latin lines in one": {"below": FOUR_LINES},
    "two places": {"left": "A. Verrou pinxit", "right": "B. Holm sculp."},
    "all places": {
        "left": "A. Verrou del.",
        "centre": "Imp. Holm, Paris",
        "right": "C. Vosmeer lith.",
        "below": "Publié le 3 mai 1834\nPrix 2 fr.",
        "date": "1834",
        "technique": "lithograph",
        "complete": "yes",
    },
    "a hand alone": {"below": "B. Holm fecit", "complete": "yes"},
    "signs": {"below": '=1+1, "B. Holm" ſculpſit 𝔄 [sic] 👁 <b>fec.</b>\nحفر A. Verrou'},
    "nothing known": {"below": "Quid iuvat aspectis"},
}

FIELDS = ("left", "centre", "right", "below", "date", "technique")
WHERE = {"left": "lower left", "centre": "lower centre", "right": "lower right", "below": None}

# What is copied goes into the page instead of the clipboard, which a browser without a screen does not have.
LISTEN = """navigator.clipboard.writeText = async (text) => { globalThis.copiedText = text; }; true"""


def record_of(sheet):
    """The record of a batch that the sheet is."""
    lines = [
        {"text": text, "place": place}
        for name, place in WHERE.items()
        for text in sheet.get(name, "").split("\n")
        if text.strip()
    ]
    return {"lines": lines, **{name: sheet.get(name) for name in ("date", "technique", "complete")}}


def fill(page, sheet):
    """Nothing comes back: the sheet stands in the fields, as if it had been typed."""
    page.until("!document.querySelector('form.margin').hidden")
    for name in FIELDS:
        page.ask(f"document.getElementById({name!r}).value = {json.dumps(sheet.get(name, ''))}")
    page.ask(f"document.getElementById('complete').checked = {json.dumps(sheet.get('complete') == 'yes')}")
    page.ask("document.getElementById('below').dispatchEvent(new Event('input', { bubbles: true }))")
    page.until("!document.querySelector('.reading').hidden && document.querySelector('.glossed').textContent !== ''")


def copied(page, form):
    """What the button of that form copies."""
    page.ask("globalThis.copiedText = null")
    page.ask(f"document.querySelector('[data-copy={form}]').click()")
    return page.until("globalThis.copiedText")


@pytest.fixture(scope="module")
def desk(browser, site):
    """The home page, opened once."""
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.ask(LISTEN)
        yield page


@pytest.mark.parametrize("name", SHEETS)
def test_the_same_json_as_the_python_reader(desk, reader, name):
    fill(desk, SHEETS[name])
    wanted = reader.read(lettering_from(record_of(SHEETS[name]))).as_dict()
    assert json.loads(copied(desk, "json")) == json.loads(json.dumps(wanted))
    assert desk.complaints() == []


@pytest.mark.parametrize("name", SHEETS)
def test_the_same_rows_as_the_command_line(desk, reader, name):
    fill(desk, SHEETS[name])
    answer = reader.read(lettering_from(record_of(SHEETS[name]))).as_dict()
    assert copied(desk, "csv") == csv_text([HEADER]) + Written("csv")(answer)


def test_four_latin_lines_are_stated_rightly(desk):
    fill(desk, SHEETS["four Latin lines in one"])
    rows = list(csv.DictReader(io.StringIO(copied(desk, "csv"))))
    said = {row["name"]: row["roles"] for row in rows}
    assert said["A. Verrou"] == "designer"
    assert said["B. Holm"] == "engraver; publisher"
    text = desk.ask("document.querySelector('.statements').textContent")
    assert "A. Verrou, designer" in text
    assert "privilege" in desk.ask("document.querySelector('.rest').textContent")


def test_braces_stand_beneath_the_parts_and_the_line_stays_as_it_was_typed(desk):
    fill(desk, SHEETS["four Latin lines in one"])
    lines = desk.ask(
        "[...document.querySelectorAll('.engraved')].map((line) => { const copy = line.cloneNode(true);"
        "copy.querySelectorAll('.said, .unseen').forEach((each) => each.remove()); return copy.textContent; })"
    )
    assert lines == FOUR_LINES.split("\n")
    glosses = desk.ask("[...document.querySelectorAll('.part.term > .said')].map((each) => each.textContent)")
    assert glosses[:3] == ["designer", "engraver", "publisher"]


def test_nothing_typed_becomes_markup(desk):
    fill(desk, {"below": "<img src=x onerror=alert(1)> <b>B. Holm</b> sculp.", "left": '"><script>alert(1)</script>'})
    assert desk.ask("document.querySelectorAll('.reading img, .reading script, .engraved b:not(.key)').length") == 0
    assert desk.complaints() == []


def test_a_date_that_is_none_is_told_in_a_sentence(desk):
    fill(desk, {"below": "B. Holm fecit"})
    desk.ask("document.getElementById('date').value = 'soon'")
    desk.ask("document.getElementById('date').dispatchEvent(new Event('input', { bubbles: true }))")
    assert "no date in EDTF" in desk.ask("document.querySelector('.fault').textContent")
    assert desk.ask("document.querySelector('.statements').textContent") == ""


def test_what_is_too_long_for_a_lettering_is_said_and_not_read(desk):
    desk.ask("document.getElementById('date').value = ''")
    desk.ask("document.getElementById('below').value = 'B. Holm sculp. '.repeat(2000)")
    desk.ask("document.getElementById('below').dispatchEvent(new Event('input', { bubbles: true }))")
    assert "at most 20,000" in desk.ask("document.querySelector('.fault').textContent")
    assert desk.complaints() == []


def test_clearing_empties_sheet_and_reading(desk):
    fill(desk, SHEETS["all places"])
    desk.ask("document.querySelector('button[type=reset]').click()")
    desk.until("document.querySelector('.reading').hidden")
    assert desk.ask("document.getElementById('below').value") == ""


def test_makers_of_such_a_name_are_told_and_not_chosen(desk):
    fill(desk, {"left": "A. Verrou pinxit", "right": "B. Holm sculp."})
    desk.until("document.querySelectorAll('.statement .like').length > 0")
    assert "Verrou, Anna" in desk.ask("document.querySelector('.statement .like').textContent")
    assert desk.ask("document.querySelectorAll('.statement .like').length") == 1  # nobody is called Holm
    assert json.loads(copied(desk, "json"))["statements"][0]["maker"] is None


def test_a_link_brings_the_lettering_with_it_and_sends_nothing(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.ask(LISTEN)
        fill(page, SHEETS["all places"])
        link = copied(page, "link")
        before = copied(page, "json")
        assert "#" in link
        assert "Verrou" not in link.split("#", maxsplit=1)[0]
    with browser.page() as page:
        page.open(link)
        page.ask(LISTEN)
        page.until("document.querySelector('.glossed').textContent !== ''")
        assert copied(page, "json") == before
        assert not [each for each in page.requests() if "Verrou" in each.split("#", maxsplit=1)[0]]


def test_it_is_used_by_keyboard_alone(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.until("!document.querySelector('form.margin').hidden")
        order = []
        for _ in range(40):
            page.press("Tab")
            order.append(page.ask("document.activeElement.id || document.activeElement.className"))
            if order[-1] == "complete":
                break
        assert order[0] == "word"
        assert [each for each in order if each in (*FIELDS, "complete")] == [*FIELDS, "complete"]
        page.ask("document.getElementById('right').focus()")
        page.type("B. Holm sculp.")
        page.until("document.querySelector('.statements').textContent.includes('engraver')")
        assert page.complaints() == []


def test_it_works_without_a_network_once_it_was_opened(browser, served):
    with browser.page() as page:
        page.open(f"{served.address}/index.html")
        page.until("navigator.serviceWorker.ready.then((found) => found.active.state === 'activated')")
        page.until("navigator.serviceWorker.controller !== null")
        served.stop()
        page.open(f"{served.address}/")
        fill(page, SHEETS["two places"])
        assert "B. Holm, engraver" in page.ask("document.querySelector('.statements').textContent")
        page.ask("document.querySelector('#word').focus()")
        page.type("sculpsit")
        page.until("document.querySelectorAll('.answers a').length > 0")

"""Looking up from the head of a page, by keyboard, as people spell."""

import pytest

pytestmark = pytest.mark.slow

ANSWERS = "[...document.querySelectorAll('.answers a')].map((each) => each.getAttribute('href'))"
COUNT = "document.querySelector('.look-up .count').textContent"


def look_up(page, typed):
    """The answers to what is typed into the field, which is emptied before."""
    page.ask("document.querySelector('#word').value = ''; document.querySelector('#word').focus()")
    page.ask(f"{COUNT[:-12]}.textContent = ''")
    page.type(typed)
    page.until(f"{COUNT} !== ''")
    return page.ask(ANSWERS)


def test_the_field_is_the_first_stop_on_a_page(browser, site):
    with browser.page() as page:
        page.open(f"{site}/role/engraver.html")
        page.press("Tab")
        assert page.ask("document.activeElement.id") == "word"
        page.type("sculp.")
        page.until("document.querySelectorAll('.answers a').length > 0")
        page.press("ArrowDown")
        chosen = page.ask("document.activeElement.href")
        assert "/term/" in chosen
        assert page.complaints() == []
        page.press("Enter")
        page.until(f"location.href === {chosen!r} && document.readyState === 'complete'")
        assert page.ask("document.querySelector('h1').textContent").startswith("sculp")


def test_enter_leads_to_the_first_answer(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.press("Tab")
        page.type("Sculpſit")
        page.until("document.querySelectorAll('.answers a').length > 0")
        page.press("Enter")
        page.until("location.pathname.endsWith('/term/la-sculpsit.html')")


@pytest.mark.parametrize(
    ("typed", "page_found"),
    [
        pytest.param("sculpsit", "term/la-sculpsit.html", id="as it is spelt"),
        pytest.param("SCVLPSIT", "term/la-sculpsit.html", id="capitals, V for U"),
        pytest.param("sculpsitt", "term/la-sculpsit.html", id="a letter doubled"),
        pytest.param("inuenit", "term/la-invenit.html", id="u for v"),
        pytest.param(" , sculp: ", "term/la-sculpsit.html", id="stray stops"),
        pytest.param("grave par", "term/fr-grave.html", id="an accent left out, a word more"),
        pytest.param("engraver", "role/engraver.html", id="a role"),
        pytest.param("Stecher", "role/engraver.html", id="a role by its German name"),
        pytest.param("Antuerpiæ", "place/antwerp.html", id="a place in another case"),
        pytest.param("Antverpiensium", "place/antwerp.html", id="an ending that no form has"),
    ],
)
def test_spelling_is_forgiven(browser, site, typed, page_found):
    with browser.page() as page:
        page.open(f"{site}/words.html")
        assert page_found in look_up(page, typed)


def test_escape_clears_and_nothing_typed_becomes_markup(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        look_up(page, "<img src=x onerror=alert(1)>")
        assert page.ask("document.querySelectorAll('.look-up img').length") == 0
        assert look_up(page, "xqzxqzxqz") == []
        assert page.ask(COUNT).startswith("Not in the vocabulary")
        page.press("Escape")
        assert page.ask("document.querySelector('#word').value") == ""
        assert page.ask(COUNT) == ""
        assert page.complaints() == []

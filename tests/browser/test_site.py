"""Every kind of page: without scripts, narrow, printed, and without barriers."""

import pytest

pytestmark = pytest.mark.slow

LANDMARKS = {
    "home": ("index.html", "who did what"),
    "role": ("role/engraver.html", "What it is mistaken for"),
    "term": ("term/la-sculpsit.html", "What it says"),
    "words of a language": ("words/pt.html", "Headwords stand with what they say"),
    "data": ("data.html", "How to load it"),
}
PAGES = [address for address, _ in LANDMARKS.values()]


@pytest.mark.parametrize("name", LANDMARKS)
def test_a_page_is_read_without_scripts(browser, site, name):
    address, landmark = LANDMARKS[name]
    with browser.page(scripts=False) as page:
        page.open(f"{site}/{address}")
        assert landmark in page.visible_text()
        assert page.complaints() == []


@pytest.mark.parametrize("address", [*PAGES, "roles.html", "words.html", "lower-margin.html", "whole.html"])
def test_a_page_fits_a_narrow_window_and_complains_of_nothing(browser, site, address):
    with browser.page(width=320, height=640) as page:
        page.open(f"{site}/{address}")
        assert page.ask("document.documentElement.scrollWidth") <= 320
        assert page.complaints() == []
        assert all(each.startswith("file:") for each in page.requests())


@pytest.mark.parametrize("address", PAGES)
def test_a_page_can_be_printed(browser, site, address, tmp_path):
    with browser.page() as page:
        page.open(f"{site}/{address}")
        page.printed(tmp_path / "printed.pdf")
    assert (tmp_path / "printed.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("address", [*PAGES, "words.html", "lower-margin.html"])
def test_no_barrier_is_found(browser, site, axe, address, dark):
    with browser.page(dark=dark) as page:
        page.open(f"{site}/{address}")
        page.ask(f"{axe}; true")
        found = page.ask("axe.run().then((found) => found.violations)")
    told = [f"{each['id']}: {node['target']} {node['failureSummary']}" for each in found for node in each["nodes"][:3]]
    assert told == []

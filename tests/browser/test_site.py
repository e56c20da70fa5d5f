"""Every kind of page: without scripts, from narrow to wide, printed, still where stillness is asked for, without barriers."""

import gzip
from urllib.parse import urlsplit

import pytest

pytestmark = pytest.mark.slow

# A page of each kind, and words that must be on it whatever the browser runs.
LANDMARKS = {
    "home": ("index.html", "who did what"),
    "role": ("role/engraver.html", "What it is mistaken for"),
    "term": ("term/la-sculpsit.html", "What it says"),
    "notice": ("notice/privilege.html", "privilege"),
    "place": ("place/antwerp.html", "Antuerpiae"),
    "qualifier": ("qualifier/attributed-to.html", "attributed to"),
    "source": ("source/dewiki-fecit.html", "fecit"),
    "forename": ("forename/john.html", "Johannes"),
    "maker": ("maker/anna-verrou.html", "Verrou"),
    "family": ("maker/verrou-family.html", "Verrou"),
    "mark": ("mark/av-joined.html", "May stand for"),
    "roles": ("roles.html", "engraver"),
    "words": ("words.html", "Latin"),
    "words of a language": ("words/pt.html", "Headwords stand with what they say"),
    "makers": ("makers.html", "Verrou, Anna"),
    "marks": ("marks.html", "AV joined"),
    "places": ("places.html", "Antwerp"),
    "notices": ("notices.html", "privilege"),
    "qualifiers": ("qualifiers.html", "attributed to"),
    "forenames": ("forenames.html", "John"),
    "sources": ("sources.html", "Sources"),
    "guide": ("lower-margin.html", "lower margin"),
    "data": ("data.html", "How to load it"),
    "figures": ("whole.html", "Common practice"),
    "handlist": ("handlist.html", "sculpsit"),
    "suggest": ("suggest.html", "How an entry looks"),
}
WIDTHS = (320, 375, 768, 1280, 2560)  # 320 is a window of 1280 at 400 %

LARGE = ("handlist.html", "notices.html", "sources.html", "places.html", "forenames.html")
"""Lists whose barriers are those of the other lists, and that take long to look through."""


@pytest.fixture(scope="module")
def bare(browser):
    """A page that runs no scripts."""
    with browser.page(scripts=False) as page:
        yield page


@pytest.fixture(scope="module")
def page(browser):
    with browser.page() as page:
        yield page


@pytest.mark.parametrize("name", LANDMARKS)
def test_a_page_is_read_without_scripts(bare, site, name):
    address, landmark = LANDMARKS[name]
    bare.open(f"{site}/{address}")
    assert landmark in bare.visible_text()
    assert bare.complaints() == []


@pytest.mark.parametrize("address", [address for address, _ in LANDMARKS.values()])
def test_a_page_fits_every_window_and_complains_of_nothing(page, site, address):
    page.resize(WIDTHS[0], 640)
    page.open(f"{site}/{address}")
    for width in WIDTHS:
        page.resize(width, 640)
        assert page.ask("document.documentElement.scrollWidth") <= width, width
    assert page.complaints() == []
    assert all(each.startswith("file:") for each in page.requests())


def test_the_policy_forbids_every_connection(page, site):
    page.open(f"{site}/index.html")
    refused = "fetch('data/void.ttl').then(() => 'fetched', () => 'refused')"
    assert page.ask(refused) == "refused"
    assert "Content Security Policy" in " ".join(page.complaints())


def test_a_page_asks_nobody_else_for_anything(browser, served):
    with browser.page() as page:
        for address in ("index.html", "role/engraver.html", "maker/anna-verrou.html"):
            page.open(f"{served.address}/{address}")
            page.ask("document.fonts.ready.then(() => true)")
            assert all(each.startswith((served.address, "data:")) for each in page.requests())
            assert page.complaints() == []


def test_a_role_page_is_light(browser, published, served):
    """Everything it loads, but for fonts, as a server sends it compressed."""
    with browser.page() as page:
        page.open(f"{served.address}/role/engraver.html")
        page.ask("document.fonts.ready.then(() => true)")
        paths = [urlsplit(each).path.lstrip("/") for each in page.requests() if each.startswith("http")]
    paths = [path for path in dict.fromkeys(paths) if not path.startswith("fonts/")]
    assert "role/engraver.html" in paths
    assert "scripts/look-up.js" in paths
    assert not any(path.endswith("offline.js") for path in paths)  # what is kept for offline is asked for at the desk
    weight = sum(len(gzip.compress((published / path).read_bytes(), 6)) for path in paths)
    assert weight <= 60_000


@pytest.mark.parametrize("name", ["home", "role", "term", "maker", "mark", "data"])
def test_a_page_can_be_printed(page, site, name, tmp_path):
    page.open(f"{site}/{LANDMARKS[name][0]}")
    page.printed(tmp_path / "printed.pdf")
    assert (tmp_path / "printed.pdf").read_bytes().startswith(b"%PDF")


MOVING = """[...document.querySelectorAll('*')].filter((each) => { const style = getComputedStyle(each);
  return style.transitionDuration.split(',').some((time) => parseFloat(time) > 0.001)
    || style.animationName !== 'none' || style.scrollBehavior === 'smooth'; }).map((each) => each.outerHTML.slice(0, 80))"""


@pytest.mark.parametrize("name", ["home", "role", "family", "marks"])
def test_nothing_moves_where_stillness_is_asked_for(browser, site, name):
    with browser.page(still=True) as page:
        page.open(f"{site}/{LANDMARKS[name][0]}")
        assert page.ask(MOVING) == []


def barriers(page, options="{}"):
    """What axe-core finds, one line a place."""
    found = page.ask(f"axe.run({options}).then((found) => found.violations)")
    return [f"{each['id']}: {node['target']} {node['failureSummary']}" for each in found for node in each["nodes"][:3]]


@pytest.mark.parametrize("address", [address for address, _ in LANDMARKS.values() if address not in LARGE])
def test_no_barrier_is_found(page, site, axe, address):
    page.resize(1280, 900)
    page.colours(dark=False)
    page.open(f"{site}/{address}")
    page.ask(f"{axe}; true")
    assert barriers(page) == []
    page.colours(dark=True)
    assert barriers(page, "{ runOnly: ['color-contrast', 'link-in-text-block'] }") == []
    page.colours(dark=False)


@pytest.mark.parametrize("address", ["index.html", "term/la-sculpsit.html"])
def test_no_barrier_is_found_in_the_other_languages(page, published, site, axe, address):
    page.colours(dark=False)
    for folder in sorted(path.parent.name for path in published.glob("??/index.html")):
        page.open(f"{site}/{folder}/{address}")
        assert page.ask("document.documentElement.lang") == folder
        assert page.complaints() == []
        page.ask(f"{axe}; true")
        assert barriers(page) == []


def test_no_barrier_is_found_at_work(page, site, axe):
    """The desk with a reading, the look-up with answers, the finder with marks."""
    page.open(f"{site}/index.html#left=A.+Verrou+pinxit&below=B.+Holm+sculp.+1612")
    page.until("document.querySelector('.glossed').textContent !== ''")
    page.ask(f"{axe}; true")
    for dark in (False, True):
        page.colours(dark=dark)
        assert barriers(page) == []
    page.colours(dark=False)
    page.open(f"{site}/marks.html")
    page.ask("document.querySelector('#word').focus()")
    page.type("sc")
    page.until("document.querySelectorAll('.answers a').length > 0")
    page.ask(f"{axe}; true")
    assert barriers(page) == []
    page.ask("document.querySelector('#letters').focus()")
    page.type("av")
    page.until("document.querySelectorAll('.marks-found .mark').length > 0")
    assert barriers(page) == []


def test_the_handlist_is_printed_with_the_language_at_the_head_of_each_page(browser, served):
    """Page-margin boxes of named pages (CSS Paged Media 3), as this browser has them."""
    with browser.page() as page:
        page.open(f"{served.address}/handlist.html")
        page.send("Emulation.setEmulatedMedia", media="print")
        assert page.ask("getComputedStyle(document.querySelector('.list:has(#list-la)')).page") == "words-la"
        heads = page.ask(
            "[...document.styleSheets].flatMap((each) => [...each.cssRules]).filter((rule) => rule.selectorText === 'words-la')"
            ".flatMap((rule) => [...rule.cssRules]).map((box) => `${box.name} ${box.style.content}`)"
        )
        assert heads == ['top-center "Latin"']

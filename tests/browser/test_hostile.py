"""Entries that want harm, in what scripts put into pages: answers of the look-up, readings, marks."""

import importlib.util
import json
import shutil

import pytest

from margent.publishing.publish import publish

pytestmark = pytest.mark.slow

SCRIPT = "<script>globalThis.harmed = 1</script>"
BREAKING = "\"'><img src=x onerror='globalThis.harmed = 1'>"
TURNING = "\u202egnuworb \u05d0\u05d1\u05d2"
LONG = "engraver " * 1100


def turtle(text):
    """The text as it stands between the quotation marks of a literal."""
    return text.replace("\\", "\\\\").replace('"', '\\"')


MARK = f"""
<mark/bad> a mg:Mark ; skos:prefLabel "{turtle(BREAKING)}"@en ; mg:markKind mg:makersMark ; mg:letters "AV" ;
    mg:arrangement "{turtle(SCRIPT)}"@en ; mg:device "{turtle(BREAKING)}"@en ; mg:standsFor <maker/anna-verrou> ; mg:standing mg:fromMemory .
"""


@pytest.fixture(scope="module")
def hostile(root, tmp_path_factory):
    """The address of the site of a small vocabulary with an authority, all of whose texts want harm."""
    spec = importlib.util.spec_from_file_location("small", root / "tests" / "publishing" / "conftest.py")
    small = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(small)
    entries = small.ENTRIES
    for plain, other in {
        '"engraver"@en': f'"{turtle(BREAKING)}"@en',
        '"Antwerp"@en': f'"{turtle(SCRIPT)}"@en',
        '"the plain word"@en': f'"{turtle(SCRIPT + BREAKING + TURNING)}"@en',
        '"sculpcit"@la': f'"sculpcit {turtle(SCRIPT)}"@la',
        '"A handbook"@en': f'"{turtle(BREAKING)}"@en',
        '"Cut the plate."@en': f'"{LONG.strip()}"@en',
    }.items():
        assert plain in entries
        entries = entries.replace(plain, other)
    folder = tmp_path_factory.mktemp("hostile")
    home = small.make_home(folder / "home", root, {"publication.ttl": small.PUBLICATION, "entries.ttl": entries})
    shutil.copytree(root / "vocab" / "names", home / "vocab" / "names")
    for name, text in small.AUTHORITY.items():
        path = folder / "authority" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        wanted = text.replace('"Verrou, Anna"@en', f'"Verrou, Anna {turtle(BREAKING)}"@en')
        path.write_text(wanted + (MARK if name.startswith("makers/") else ""), encoding="utf-8")
    publish(home / "vocab", home / "site", folder / "site", [folder / "authority"])
    return (folder / "site").as_uri()


def unharmed(page):
    """Nothing comes back: nothing has been run, and nothing has become an element."""
    assert page.ask("globalThis.harmed ?? 0") == 0
    assert (
        page.ask("[...document.querySelectorAll('img')].filter((each) => each.getAttribute('src') === 'x').length") == 0
    )
    told = "[...document.scripts].filter((each) => !each.src).map((each) => [each.type, each.textContent])"
    for form, text in page.ask(told):  # data for programs that read pages; a browser runs none of it
        assert form == "application/ld+json"
        json.loads(text)
    assert page.complaints() == []


@pytest.mark.parametrize("typed", ["sculpcit", "script", "img", "verrou", "engraver", "av"])
def test_answers_of_the_look_up(browser, hostile, typed):
    with browser.page() as page:
        page.open(f"{hostile}/role/engraver.html")
        page.press("Tab")
        page.type(typed)
        page.until("document.querySelector('.look-up .count').textContent !== ''")
        unharmed(page)


def test_a_reading(browser, hostile):
    with browser.page() as page:
        page.open(f"{hostile}/index.html")
        page.until("!document.querySelector('form.margin').hidden")
        text = json.dumps(f"A. Verrou sculpsit Antverpiae {SCRIPT} {TURNING}")
        page.ask(f"document.getElementById('left').value = {text}")
        page.ask("document.getElementById('left').dispatchEvent(new Event('input', { bubbles: true }))")
        page.until("document.querySelectorAll('.statement .like').length > 0")
        told = page.ask("document.querySelector('.reading').textContent")
        assert BREAKING in told
        assert SCRIPT in told
        unharmed(page)


def test_marks_and_the_sheets(browser, hostile):
    with browser.page() as page:
        page.open(f"{hostile}/marks.html")
        page.ask("document.getElementById('letters').focus()")
        page.type("AV")
        page.until("document.querySelectorAll('.marks-found .mark').length > 0")
        assert BREAKING in page.ask("document.querySelector('.marks-found').textContent")
        unharmed(page)
        page.open(f"{hostile}/suggest.html")
        page.ask("document.querySelector('form.suggested input').focus()")
        page.until("document.querySelector('form.suggested').elements.namedItem('source').options.length > 1")
        unharmed(page)

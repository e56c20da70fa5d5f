import importlib.util
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from margent.publishing.publish import publish

pytestmark = pytest.mark.slow

HERE = Path(__file__).resolve().parent
LANDMARKS = {
    "home": ("index.html", "who did what"),
    "role": ("role/engraver.html", "What it is mistaken for"),
    "term": ("term/la-sculpsit.html", "What it says"),
    "words of a language": ("words/pt.html", "Headwords stand with what they say"),
    "data": ("data.html", "How to load it"),
}
PAGES = [address for address, _ in LANDMARKS.values()]


def _driver():
    """The module beside this file, which has no package to be imported from."""
    spec = importlib.util.spec_from_file_location("chromium_pipe", HERE / "chromium_pipe.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def browser(chromium, tmp_path_factory):
    running = _driver().Browser(chromium, tmp_path_factory.mktemp("profile"))
    yield running
    running.close()


@pytest.fixture(scope="module")
def site(root, tmp_path_factory):
    """The address of the site of the checkout, as it lies on a disk."""
    target = tmp_path_factory.mktemp("published") / "site"
    publish(root / "vocab", root / "site", target)
    return target.as_uri()


@pytest.fixture(scope="module")
def axe(tmp_path_factory):
    """The text of axe-core, which looks for barriers; npm brings it in the version that the lock file names."""
    npm = shutil.which("npm")
    message = "npm is not installed"
    if npm:
        folder = tmp_path_factory.mktemp("axe")
        for name in ("package.json", "package-lock.json"):
            shutil.copy(HERE / name, folder)
        command = [npm, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--prefer-offline"]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=60, check=False)
        if done.returncode == 0:
            return (folder / "node_modules" / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
        message = f"npm could not bring axe-core: {done.stderr.strip()[-200:]}"
    if os.environ.get("CI", "").lower() in {"1", "true"}:
        pytest.fail(message)
    pytest.skip(message)


def test_a_word_is_looked_up_by_keyboard_alone(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.ask("document.querySelector('#word').focus()")
        page.type("sculp.")
        page.until("document.querySelectorAll('.answers a').length > 0")
        assert "answer" in page.ask("document.querySelector('.count').textContent")
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
        page.ask("document.querySelector('#word').focus()")
        page.type("Sculpſit")
        page.until("document.querySelectorAll('.answers a').length > 0")
        page.press("Enter")
        page.until("location.pathname.endsWith('/term/la-sculpsit.html')")


def test_escape_clears_and_a_name_has_no_answer(browser, site):
    with browser.page() as page:
        page.open(f"{site}/index.html")
        page.ask("document.querySelector('#word').focus()")
        page.type("<img src=x onerror=alert(1)>")
        page.until("document.querySelector('.count').textContent.startsWith('Not in the vocabulary')")
        assert page.ask("document.querySelectorAll('.look-up img').length") == 0
        page.press("Escape")
        assert page.ask("document.querySelector('#word').value") == ""
        assert page.ask("document.querySelector('.count').textContent") == ""
        assert page.complaints() == []


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

"""The sheets for suggestions: what they make is Turtle that the vocabulary's own check accepts."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pyoxigraph
import pytest

pytestmark = pytest.mark.slow

TERM = {
    "form": "exsculpturavit",
    "language": "la",
    "kind": "word",
    "wordClass": "verb",
    "says": "role/engraver",
    "position": "nameBefore",
    "reason": 'carved "out" \\ of the plate',
    "period": "1500/1700",
    "shortest": "exsculptu",
    "standing": "commonPractice",
}
NAME = {
    "maker": "https://authority.print-room.example/maker/anna-verrou",
    "form": "Anna Verrovensis",
    "language": "la",
    "formKind": "latinised",
    "object": "Tannery Print Room 9152: a heron",
    "date": "1631",
    "sheetPlace": "lower left",
    "transcription": "Anna Verrovensis fec.",
    "standing": "seen",
}


@pytest.fixture(scope="module")
def page(browser, site):
    with browser.page() as page:
        page.open(f"{site}/suggest.html")
        page.until("!document.querySelector('form.suggested').hidden")
        yield page


def fill(page, kind, values):
    """The entry that the sheet makes of these values, and what it says is lacking."""
    form = f"document.querySelector('form[data-kind={kind}]')"
    page.ask(f"{form}.reset()")
    page.ask(f"{form}.querySelector('input').focus()")
    page.until(f"{form}.elements.namedItem('source').options.length > 1")
    for name, value in values.items():
        page.ask(f"{form}.elements.namedItem({name!r}).value = {json.dumps(value)}")
    page.ask(f"new Promise((done) => setTimeout(done)).then(() => {form}.dispatchEvent(new Event('input')))")
    page.until(f"!{form}.querySelector('.made').hidden || {form}.querySelector('.lacking').children.length > 0")
    return page.ask(f"{form}.querySelector('pre').textContent"), page.ask(
        f"{form}.querySelector('.lacking').textContent"
    )


def checked(*folders):
    """What the check says of the folders, beside the vocabulary of the checkout."""
    margent = Path(sys.executable).with_name("margent")
    done = subprocess.run([margent, "check", *folders], capture_output=True, text=True, timeout=300, check=False)
    return done.returncode, done.stdout + done.stderr


def test_a_suggested_term_passes_the_check(page, vocabulary, tmp_path):
    source = next(iter(vocabulary.sources.values())).slug
    cited = {**TERM, "form": "exsculpturabat", "standing": "cited", "source": source, "locator": "p. 1", "asFound": "x"}
    for name, values in {"one": TERM, "two": cited}.items():
        text, lacking = fill(page, "term", values)
        assert lacking == ""
        (tmp_path / f"{name}.ttl").write_text(text, encoding="utf-8")
    code, told = checked(tmp_path)
    assert code == 0, told


def test_a_suggested_form_of_a_name_passes_the_check(page, root, tmp_path):
    text, lacking = fill(page, "name-form", NAME)
    assert lacking == ""
    shutil.copytree(root / "vocab" / "demo", tmp_path / "demo")
    own = tmp_path / "demo" / "makers" / "verrou.ttl"
    before = own.read_text(encoding="utf-8")
    head = "<maker/anna-verrou> a mg:Person ;\n"
    assert head in before
    # As the page says: the first line belongs into the entry of the maker, the parts below it.
    first, parts = text.split("\n\n", maxsplit=1)[1].split("\n", maxsplit=1)
    line = first.removeprefix("<maker/anna-verrou> ").removesuffix(" .")
    own.write_text(before.replace(head, f"{head}    {line} ;\n") + "\n" + parts, encoding="utf-8")
    code, told = checked(tmp_path / "demo")
    assert code == 0, told


@pytest.mark.parametrize(
    ("kind", "values", "told"),
    [
        pytest.param("term", {**TERM, "reason": ""}, "why it says so, in English: still lacking", id="a gap"),
        pytest.param("term", {**TERM, "period": "soon"}, "no date", id="no date"),
        pytest.param("term", {**TERM, "form": "sculpsit", "shortest": ""}, "already", id="known already"),
        pytest.param("term", {**TERM, "shortest": "ex."}, "last point", id="a point too many"),
        pytest.param("term", {**TERM, "shortest": "sculp"}, "not the beginning", id="no beginning"),
        pytest.param("term", {**TERM, "form": "!!"}, "no plain letter", id="no letters"),
        pytest.param("term", {**TERM, "standing": "cited"}, "the source: still lacking", id="a source without a name"),
        pytest.param("name-form", {**NAME, "maker": "javascript:alert(1)/maker/x"}, "no address", id="no address"),
        pytest.param(
            "name-form", {**NAME, "maker": 'https://a.example/maker/x"> .'}, "no address", id="a broken address"
        ),
    ],
)
def test_what_is_wrong_is_said(page, kind, values, told):
    text, lacking = fill(page, kind, values)
    assert told in lacking
    assert text == ""


def test_hostile_text_stays_text(page):
    hostile = '" . <x> <y> <script>alert(1)</script> \\u0022 \u202eאב'
    text, lacking = fill(page, "term", {**TERM, "form": f"ex {hostile}", "shortest": "", "reason": hostile})
    assert lacking == ""
    triples = list(pyoxigraph.parse(text.encode(), format=pyoxigraph.RdfFormat.TURTLE))
    reasons = [each.object.value for each in triples if each.predicate.value.endswith("#reason")]
    assert reasons == [hostile]
    assert page.ask("document.querySelectorAll('form script').length") == 0
    assert page.complaints() == []

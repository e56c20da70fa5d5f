"""The handlist and the figures of the data page."""

from types import SimpleNamespace

import pytest

from margent.publishing.handlist import pdf_maker, running_heads
from margent.publishing.publish import publish


@pytest.fixture(scope="module")
def site(small, tmp_path_factory):
    target = tmp_path_factory.mktemp("handlist") / "site"
    publish(small / "vocab", small / "site", target)
    return target


def test_every_word_in_force_stands_in_the_handlist_once_with_what_it_says(site):
    page = (site / "handlist.html").read_text(encoding="utf-8")
    assert page.count('<dt lang="la" dir="auto">') == 2
    line = page[page.index(">sculpsit</dt>") : page.index("</dd>", page.index(">sculpsit</dt>"))]
    assert line.index("engraver") < line.index("price"), "the usual sense first"
    assert "rare; on prints in etching" in line
    assert "sc…" in line
    assert "1500 to 1900" in line
    assert "scribbled" not in page, "a withdrawn word leaves the list"


def test_each_language_is_printed_under_its_name_in_the_language_of_the_page(site):
    assert "counter(page)" in (site / "styles" / "handlist.css").read_text(encoding="utf-8")
    for folder, name in (("", "Latin"), ("fr/", "Latin"), ("de/", "Latein")):
        page = (site / f"{folder}handlist.html").read_text(encoding="utf-8")
        assert 'href="handlist-heads.css"' in page
        assert 'data-part="words-la"' in page
        style = (site / f"{folder}handlist-heads.css").read_text(encoding="utf-8")
        assert f'@page words-la {{ @top-center {{ content: "{name}"; }} }}' in style


def test_a_name_of_a_language_cannot_end_the_style():
    heads = running_heads(['x-"}'], SimpleNamespace(language_name=lambda _: 'a"; } b</style>\\'))
    assert 'content: "a\\22 ; } b\\3c /style>\\5c "' in heads


@pytest.mark.slow
def test_the_pdf_is_made_where_the_library_is(site, tmp_path):
    make = pdf_maker()
    if make is None:
        assert not (site / "handlist.pdf").exists()
        pytest.skip("no library that makes a PDF is installed")
    make(site / "handlist.html", tmp_path / "handlist.pdf")
    assert (tmp_path / "handlist.pdf").read_bytes().startswith(b"%PDF")


def test_the_data_page_tells_words_by_language_and_on_whose_word(site):
    page = (site / "data.html").read_text(encoding="utf-8")
    row = page[page.index('href="words/la.html"') :]
    assert row[: row.index("</tr>")].count("50 %") == 2, "of two headwords one is cited, one common practice"

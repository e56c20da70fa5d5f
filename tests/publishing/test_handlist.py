"""The handlist and the figures of the data page."""

import pytest

from margent.publishing.handlist import pdf_maker
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


def test_the_style_for_print_has_page_numbers_and_running_heads(site):
    style = (site / "styles" / "handlist.css").read_text(encoding="utf-8")
    assert "counter(page)" in style
    assert "string-set: language" in style


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

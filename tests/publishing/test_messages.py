"""Message catalogues: a language is published when its catalogue answers everything, and not before."""

import re
import shutil

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from margent.faults import Fault
from margent.publishing.messages import complete_languages, found_in, read_catalogue
from margent.publishing.publish import publish


@pytest.fixture
def site(root, tmp_path):
    """The source of the site, without catalogues."""
    shutil.copytree(root / "site", tmp_path / "site", ignore=shutil.ignore_patterns("*.po"))
    return tmp_path / "site"


def catalogue(site, tag, but=(), fuzzy=()):
    """Writes a catalogue that answers everything with its own text in brackets, but for some messages."""
    made = Catalog(locale=tag)
    for found in found_in(site):
        answer = tuple(f"[{text}]" for text in found.texts)
        one = found.texts[0]
        if one not in but:
            whole = found.texts if len(found.texts) > 1 else one
            made.add(whole, answer if len(answer) > 1 else answer[0], flags=["fuzzy"] if one in fuzzy else [])
    (site / "messages").mkdir(exist_ok=True)
    with (site / "messages" / f"{tag}.po").open("wb") as file:
        write_po(file, made)


def test_what_templates_and_tables_say_is_found(root):
    texts = {found.texts for found in found_in(root / "site")}
    assert ("Skip to the text",) in texts, "a template"
    assert ("%(num)s role", "%(num)s roles") in texts, "a plural"
    assert ("maker’s mark",) in texts, "a table"
    assert ("nobody else is named as a maker",) in texts, "a condition of a sense"


def test_a_complete_catalogue_makes_a_tree_of_its_language(small, site, tmp_path):
    catalogue(site, "fr")
    publish(small / "vocab", site, tmp_path / "out")
    page = (tmp_path / "out" / "fr" / "role" / "engraver.html").read_text(encoding="utf-8")
    assert '<html lang="fr">' in page
    assert "[What it is mistaken for]" in page
    assert '<span lang="en" dir="auto">Cut the plate.</span>' in page, "curated prose keeps its language and says so"
    assert 'href="../../styles/margent.css"' in page
    english = (tmp_path / "out" / "role" / "engraver.html").read_text(encoding="utf-8")
    assert 'hreflang="fr" href="../fr/role/engraver.html"' in english
    own = sorted(path.relative_to(tmp_path / "out") for path in (tmp_path / "out").glob("*/*.html"))
    assert {path.name for path in own if path.parts[0] == "fr"} >= {"index.html", "roles.html", "data.html"}


@pytest.mark.parametrize("why", ["but", "fuzzy"])
def test_a_catalogue_that_lacks_one_message_is_not_published(small, site, tmp_path, why):
    catalogue(site, "fr", **{why: ["Skip to the text"]})
    told = []
    publish(small / "vocab", site, tmp_path / "out", progress=told.append)
    assert not (tmp_path / "out" / "fr").exists()
    assert complete_languages(site)[1] == {"fr": ["Skip to the text"]}
    assert any(each.startswith("fr: not published") for each in told)


def test_a_broken_catalogue_is_told_with_its_file(small, site, tmp_path):
    (site / "messages").mkdir(exist_ok=True)
    (site / "messages" / "fr.po").write_text('msgid "a"\nmsgstr "b"\nmsgid "a\n', encoding="utf-8")
    with pytest.raises(Fault, match=r"fr\.po: not a message catalogue"):
        publish(small / "vocab", site, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_the_catalogues_of_the_checkout_answer_everything(root):
    """Whoever adds or changes a message answers it in every language: `python tools/messages.py` says what is lacking."""
    complete, lacking = complete_languages(root / "site")
    assert lacking == {}
    assert {each.tag for each in complete} >= {"en", "fr", "de"}


@pytest.mark.parametrize("tag", ["fr", "de"])
def test_an_answer_has_the_blanks_and_the_elements_of_its_message(root, tag):
    for message in read_catalogue(root / "site" / "messages" / f"{tag}.po"):
        ids, answers = ([each] if isinstance(each, str) else each for each in (message.id, message.string))
        if any(ids):
            for answer in answers:
                assert parts_of(answer) in [parts_of(each) for each in ids], answer


def parts_of(text):
    return sorted(set(re.findall(r"%\(\w+\)s|\{\w+\}|<[^>]+>", text)))

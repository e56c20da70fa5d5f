"""After an edit only what depends on it is written anew, and the site is byte for byte what a first run would make."""

import hashlib
import shutil

import pytest

from margent.publishing.publish import publish


@pytest.fixture
def sources(home_with, holms, tmp_path):
    """A home and an authority that may be edited."""
    return home_with(tmp_path / "home", {}), holms.make(tmp_path / "holm")


def digest_of(folder):
    """The digest of each file."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def edit(path, plain, other):
    text = path.read_text(encoding="utf-8")
    assert plain in text
    path.write_text(text.replace(plain, other), encoding="utf-8")


ANOTHER = """
<maker/dirk-holm> a mg:Person ; skos:prefLabel "Holm, Dirk"@en ; mg:memberOf <maker/holm-family> ; mg:kin <maker/dirk-holm#son> .
<maker/dirk-holm#son> a mg:Kinship ; mg:relation mg:son ; mg:to <maker/carl-holm> .
<mark/dh> a mg:Mark ; mg:markKind mg:makersMark ; mg:letters "DH" ; mg:standsFor <maker/berta-holm> .
"""

# What is edited, and pages that must be written anew for it: (file, plain, other).
EDITS = {
    "nothing": ("makers", "dots", "dots"),
    "a maker's trait": ("makers", '"dots"@en', '"dots and flicks"@en'),
    "a maker's name, which others tell": ("makers", '"Holm, Carl"@en', '"Holm, Karel"@en'),
    "a maker comes, with a mark for another": ("makers", "<maker/gone> a", ANOTHER + "<maker/gone> a"),
    "the family's new member is withdrawn": ("makers", "<maker/dirk-holm> a mg:Person ;", "<maker/dirk-holm> a mg:Person ; owl:deprecated true ;"),
    "a role's label": ("entries", '"engraver"@en', '"burin man"@en'),
    "a sense's weight": ("entries", "mg:weight -2500", "mg:weight 10"),
    "a place's name": ("entries", '"Antwerp"@en', '"Antwerpen"@en'),
    "a source's title": ("entries", '"A handbook"@en', '"The handbook"@en'),
    "something that the model does not take in": ("entries", "<notice/price> a mg:NoticeKind ;", "<notice/price> a mg:NoticeKind ; <https://x.example/p> 1 ;"),
    "a drawing": ("drawing", "M0 0L9 9", "M0 9L9 0"),
}  # fmt: skip


@pytest.mark.slow
def test_every_edit_gives_the_bytes_of_a_first_run(sources, tmp_path, monkeypatch):
    home, holm = sources
    files = {
        "makers": holm / "makers.ttl",
        "entries": home / "vocab" / "entries.ttl",
        "drawing": holm / "marks" / "drawings" / "bh.svg",
    }
    monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))
    first = publish(home / "vocab", home / "site", tmp_path / "site", [holm])
    assert first.new == first.pages
    for name, (which, plain, other) in EDITS.items():
        edit(files[which], plain, other)
        done = publish(home / "vocab", home / "site", tmp_path / "site", [holm])
        assert done.new < done.pages, name
        assert (done.new == 0) == (name in ("nothing", "a drawing")), name
        monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "empty"))
        publish(home / "vocab", home / "site", tmp_path / "anew", [holm])
        shutil.rmtree(tmp_path / "empty")
        monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))
        assert digest_of(tmp_path / "site") == digest_of(tmp_path / "anew"), name


def test_another_template_or_folder_or_a_spoilt_cache_makes_everything_anew(sources, root, tmp_path, monkeypatch):
    home, holm = sources
    monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))
    (home / "site").unlink()
    shutil.copytree(root / "site", home / "site")

    def new():
        done = publish(home / "vocab", home / "site", tmp_path / "site", [holm])
        return done.new == done.pages

    assert new()
    assert not new()
    edit(home / "site" / "templates" / "role.html", "</dl>", "</dl> ")
    assert new(), "another template"
    assert not new()
    shutil.copytree(tmp_path / "site", tmp_path / "copy")
    shutil.rmtree(tmp_path / "site")
    (tmp_path / "copy").rename(tmp_path / "site")
    assert new(), "another folder in its place"
    for path in (tmp_path / "cache").rglob("state.json"):
        path.write_text("{", encoding="utf-8")
    assert new(), "a spoilt cache"
    (tmp_path / "site" / "role" / "engraver.html").unlink()
    assert not new(), "a page that was taken away is written anew"
    assert (tmp_path / "site" / "role" / "engraver.html").is_file()

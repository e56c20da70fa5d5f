"""What is kept of the vocabulary between runs gives the same vocabulary, and tells what changed."""

import pytest

from margent.faults import Faults
from margent.publishing.evidence import entries
from margent.publishing.kept_entries import decoded, encoded, mentions, read
from margent.vocabulary.load import load


def test_every_entry_of_the_checkout_comes_back_as_it_was(root):
    vocabulary = load(root / "vocab", [root / "vocab" / "demo"])
    count = 0
    for entry in entries(vocabulary):
        assert decoded(type(entry), encoded(entry)) == entry
        count += 1
    assert count > 3000


@pytest.fixture
def home(home_with, tmp_path):
    return home_with(tmp_path / "home", {})


def test_the_second_reading_is_the_same_and_finds_nothing_changed(home, tmp_path):
    first = seen(home, tmp_path)
    second = read(home / "vocab", [], tmp_path / "kept")
    assert second.vocabulary == first.vocabulary == load(home / "vocab")
    assert len(first.changes) == len(first.texts) > 10
    assert second.changes == []
    assert second.texts == first.texts


def seen(home, tmp_path):
    """One reading that is kept."""
    found = read(home / "vocab", [], tmp_path / "kept")
    found.keep()
    return found


def edit(home, plain, other):
    path = home / "vocab" / "entries.ttl"
    text = path.read_text(encoding="utf-8")
    assert plain in text
    path.write_text(text.replace(plain, other), encoding="utf-8")


def test_one_edited_entry_is_the_only_change(home, tmp_path):
    seen(home, tmp_path)
    edit(home, '"Cut the plate."@en', '"Cut it."@en')
    found = read(home / "vocab", [], tmp_path / "kept")
    (change,) = found.changes
    assert change.iri.endswith("role/engraver")
    assert change.table == "roles"
    assert "Cut the plate." in change.before
    assert "Cut it." in change.after
    assert found.vocabulary == load(home / "vocab")
    assert "https://w3id.org/margent/role/printmaker" in mentions(change.after)


def test_a_file_that_goes_takes_its_entries_along(home, tmp_path):
    other = home / "vocab" / "more.ttl"
    head = (home / "vocab" / "entries.ttl").read_text(encoding="utf-8").split("<stage/")[0]
    other.write_text(head + '<forename/jan> a mg:Forename ; skos:prefLabel "Jan"@en .\n', encoding="utf-8")
    seen(home, tmp_path)
    other.unlink()
    (change,) = read(home / "vocab", [], tmp_path / "kept").changes
    assert (change.table, change.after) == ("forenames", "")


@pytest.mark.parametrize(
    "rubbish", [b"", b"{}", b"[1]", b'{"digest": "x", "entries": {"a": ["os.system", "{}", ""]}}', b"\xff"]
)
def test_what_does_not_fit_is_read_anew(home, tmp_path, rubbish):
    seen(home, tmp_path)
    for path in (tmp_path / "kept").glob("*.json"):
        path.write_bytes(rubbish)
    assert read(home / "vocab", [], tmp_path / "kept").vocabulary == load(home / "vocab")


def test_a_fault_is_told_and_nothing_is_kept_of_it(home, tmp_path):
    seen(home, tmp_path)
    edit(home, "mg:order 1", 'mg:order "one"')
    for _ in range(2):
        with pytest.raises(Faults, match=r"entries\.ttl:\d+: stage/matrix"):
            seen(home, tmp_path)
    edit(home, 'mg:order "one"', "mg:order 2")
    (change,) = read(home / "vocab", [], tmp_path / "kept").changes
    assert change.table == "stages"


def test_what_is_not_kept_is_told_again(home, tmp_path):
    seen(home, tmp_path)
    edit(home, '"Cut the plate."@en', '"Cut it."@en')
    assert len(read(home / "vocab", [], tmp_path / "kept").changes) == 1
    assert len(read(home / "vocab", [], tmp_path / "kept").changes) == 1


def test_what_the_model_does_not_take_in_is_a_change_too(home, tmp_path):
    seen(home, tmp_path)
    edit(home, "<notice/price> a mg:NoticeKind ;", "<notice/price> a mg:NoticeKind ; <https://x.example/p> 1 ;")
    (change,) = read(home / "vocab", [], tmp_path / "kept").changes
    assert change.iri.endswith("notice/price")
    assert change.before == change.after

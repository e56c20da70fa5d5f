"""What is kept between runs changes no finding, whatever is edited in between.

A few edits in every run of the tests; two hundred with `MARGENT_ALL_FAULTS=1`, as a nightly run does. Source of the second
opinion: pySHACL, on the files that were edited.
"""

import json
import os
import random
import shutil

import pytest
import sown_across
from sown import Sower, written

from margent.checking.check import check, gathered, kept_in, located, once
from margent.checking.graph import Graph
from margent.checking.kept import NOTHING
from margent.checking.material import Folder, Material
from margent.checking.nearest import with_the_nearest
from margent.checking.reference import reference_results
from margent.checking.shapes import shapes_of
from margent.checking.statements import statements

ALL = bool(os.environ.get("MARGENT_ALL_FAULTS"))
SEEDS = range(8) if ALL else [1]
FAULTS = 12 if ALL else 2


@pytest.fixture(scope="module")
def clean(root, tmp_path_factory):
    """The vocabulary and the invented makers, to be edited."""
    folder = tmp_path_factory.mktemp("edited")
    shutil.copytree(root / "vocab", folder / "vocab")
    shutil.move(folder / "vocab" / "demo", folder / "ours")
    return folder


@pytest.fixture(scope="module")
def sower(root, clean):
    return Sower(root, [clean / "vocab", clean / "ours"])


@pytest.fixture(scope="module")
def faults(sower):
    found = {**sower.faults(), **sown_across.faults(sower)}
    return [fault for rule in sorted(found) for fault in found[rule]]


def edits(faults, clean, chance):
    """Changes to files, one after the other: the texts by path, None for a file that is taken away."""
    for fault in chance.sample(faults, FAULTS):
        texts = {path: text for path, (text, _) in written([fault]).items()}
        before = {path: path.read_text("utf-8") for path in texts}
        yield texts
        if chance.random() < 0.6:
            yield before
    makers = sorted((clean / "ours" / "makers").glob("*.ttl"))
    moved = chance.choice(makers)
    text = moved.read_text("utf-8")
    elsewhere = moved.with_name("elsewhere.ttl")
    yield {moved: None, elsewhere: text}
    yield {moved: text}  # every entry in two files
    yield {elsewhere: None}
    others = (
        ("vocab/roles/matrix.ttl", "<role/etcher>", "<role/needler>"),  # what the makers refer to
        ("vocab/ns.ttl", "mg:practised", "mg:exercised"),  # a word that they use
        ("ours/publication.ttl", "mg:base <>", "mg:base <https://other.example/>"),
    )
    for path, old, new in others if ALL else chance.sample(others, 1):
        text = (clean / path).read_text("utf-8")
        assert old in text
        yield {clean / path: text.replace(old, new)}
        yield {clean / path: text}
    yield {makers[0]: "<<<"}


def as_the_reference(hits, stuff, shapes, changed):
    """What a run would tell of those files, if their shapes were checked by pySHACL."""
    here, beside = (
        tuple(
            Folder(each.path, tuple(file for file in each.files if (file.path in changed) == wanted))
            for each in stuff.checked
        )
        for wanted in (True, False)
    )
    part = Material(here, beside)
    said = [statement for file in part.files for statement in statements(file.turtle().triples)]
    graph = Graph(said, {name: part.types(name) for file in part.files for name in file.facts.links}, part.above)
    found = shapes_of(shapes).hits(reference_results(part, shapes), graph, stuff.wording)
    others = [hit for hit in hits if hit.rule[0] in "XY"]
    together = with_the_nearest(once([*found, *others]), stuff)
    return [finding for finding in located(together, stuff) if finding.rule[0] not in "XY"]


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
def test_random_edits_are_found_the_same_with_what_is_kept_as_afresh(root, clean, faults, tmp_path, seed, monkeypatch):
    """A run that keeps is compared with one that works everything out again, and with pySHACL, after every edit."""
    monkeypatch.chdir(root)
    folders, shapes = [clean / "vocab", clean / "ours"], root / "shapes"
    check(folders, [], shapes, kept=kept_in(tmp_path / "cache", shapes))
    seen = set()
    begun = {path: path.read_bytes() for folder in folders for path in folder.rglob("*.ttl")}
    try:
        for texts in edits(faults, clean, random.Random(seed)):
            for path, text in texts.items():
                if text is None:
                    path.unlink()
                else:
                    path.write_text(text, "utf-8")
            kept = check(folders, [], shapes, kept=kept_in(tmp_path / "cache", shapes))
            hits, stuff = gathered(folders, [], shapes, NOTHING)
            assert list(kept.findings) == located(hits, stuff)
            changed = {path for path in texts if path.exists() and path.name != "ns.ttl"}
            own = [
                finding
                for finding in kept.findings
                if finding.file in map(str, changed) and finding.rule[0] not in "XY"
            ]
            assert own == as_the_reference(hits, stuff, shapes, changed)
            seen.add(tuple(finding.rule for finding in kept.findings))
    finally:
        for path in (path for folder in folders for path in folder.rglob("*.ttl") if path not in begun):
            path.unlink()
        for path, data in begun.items():
            path.write_bytes(data)
    assert len(seen) > 4


def test_a_record_that_cannot_be_read_is_passed_over(root, turtle, tmp_path):
    turtle("ours/ns.ttl", (root / "vocab" / "ns.ttl").read_text("utf-8"))
    shapes = root / "shapes"
    first = check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes))
    records = sorted((tmp_path / "cache" / "check").glob("*.json"))
    assert records
    for number, record in enumerate(records):
        record.write_text(["", "{", "[]", json.dumps({"of": 1})][number % 4], "utf-8")
    assert check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes)) == first


@pytest.mark.parametrize("part", ["facts", "triples"])
def test_half_of_what_was_kept_is_made_whole(root, turtle, tmp_path, part):
    """Somebody clears a cache while it is in use."""
    turtle("ours/ns.ttl", (root / "vocab" / "ns.ttl").read_text("utf-8"))
    shapes = root / "shapes"
    first = check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes))
    for record in (tmp_path / "cache" / "check").glob("*.json"):
        if record.name.startswith((part, "rule")):
            record.unlink()
    assert check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes)) == first


def test_a_cache_that_cannot_be_written_is_done_without(root, turtle, tmp_path):
    turtle("ours/ns.ttl", (root / "vocab" / "ns.ttl").read_text("utf-8"))
    (tmp_path / "cache").write_text("a file where the folder should be", "utf-8")
    shapes = root / "shapes"
    assert check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes)).findings == ()

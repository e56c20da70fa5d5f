"""What is kept between runs changes no finding, whatever is edited in between."""

import json
import os
import random
import shutil

import pytest
import sown_across
from sown import Sower

from margent.checking.check import check, kept_in
from margent.checking.kept import NOTHING


@pytest.fixture
def folders(root, tmp_path):
    """The invented makers, and beside them the ontology, the roles and the places of the vocabulary."""
    shutil.copytree(root / "vocab" / "demo", tmp_path / "ours")
    (tmp_path / "vocab").mkdir()
    for path in [*(root / "vocab").glob("*.ttl"), *(root / "vocab" / "places").glob("*.ttl")]:
        shutil.copy(path, tmp_path / "vocab")
    for room in ("roles", "notices"):
        shutil.copytree(root / "vocab" / room, tmp_path / "vocab" / room)
    return tmp_path / "ours", tmp_path / "vocab"


def edits(sower, ours, vocab, chance):
    """Changes to the files, one after the other, each by itself."""
    sown = [
        fault for each in (sower.faults(), sown_across.faults(sower)) for faults in each.values() for fault in faults
    ]
    makers = sorted(ours.rglob("*.ttl"))
    for fault in chance.sample([fault for fault in sown if fault.file.path in makers and not fault.also], 5):
        fault.sow()
        head, fault.file.head = fault.file.head, [*fault.file.head, "@prefix dcterms: <http://purl.org/dc/terms/> ."]
        path = fault.file.path
        yield path, fault.file.text()[0]
        fault.file.head = head
    moved = chance.choice(makers[:-1])
    yield moved, None
    yield moved.with_name("elsewhere.ttl"), moved.read_text("utf-8") if moved.exists() else makers[0].read_text("utf-8")
    roles = next((vocab / "roles").glob("matrix.ttl"))
    yield roles, roles.read_text("utf-8").replace("<role/etcher>", "<role/needler>")  # what the makers refer to
    ontology = vocab / "ns.ttl"
    yield ontology, ontology.read_text("utf-8").replace("mg:practised", "mg:exercised")  # a word that they use
    publication = ours / "publication.ttl"
    yield publication, publication.read_text("utf-8").replace("mg:base <>", "mg:base <https://other.example/>")
    yield makers[0], "<<<"


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4) if os.environ.get("MARGENT_ALL_FAULTS") else [1])
def test_random_edits_are_found_the_same_with_what_is_kept_as_afresh(root, folders, tmp_path, seed):
    """A run that keeps is compared with one that works everything out again, after every edit."""
    ours, vocab = folders
    shapes = root / "shapes"
    sower = Sower(root, [vocab, ours])
    seen = set()
    for path, text in edits(sower, ours, vocab, random.Random(seed)):
        if text is None:
            path.unlink()
        else:
            path.write_text(text, "utf-8")
        kept = check([ours], [vocab], shapes, kept=kept_in(tmp_path / "cache", shapes))
        afresh = check([ours], [vocab], shapes, kept=NOTHING)
        assert kept == afresh
        seen.add(tuple(finding.rule for finding in kept.findings))
    assert len(seen) > 6


def test_a_record_that_cannot_be_read_is_passed_over(root, turtle, tmp_path):
    turtle("ours/ns.ttl", (root / "vocab" / "ns.ttl").read_text("utf-8"))
    shapes = root / "shapes"
    first = check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes))
    records = sorted((tmp_path / "cache" / "check").glob("*.json"))
    assert records
    for number, record in enumerate(records):
        record.write_text(["", "{", "[]", json.dumps({"of": 1})][number % 4], "utf-8")
    assert check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes)) == first


def test_a_cache_that_cannot_be_written_is_done_without(root, turtle, tmp_path):
    turtle("ours/ns.ttl", (root / "vocab" / "ns.ttl").read_text("utf-8"))
    (tmp_path / "cache").write_text("a file where the folder should be", "utf-8")
    shapes = root / "shapes"
    assert check([tmp_path / "ours"], [], shapes, kept=kept_in(tmp_path / "cache", shapes)).findings == ()

"""Faults sown into the clean vocabulary and the invented makers: every one is found, at its line, by its rule.

Fifty of them, drawn by a fixed seed, in every run of the tests; all of them, at least five for every rule, with
`MARGENT_ALL_FAULTS=1`, as a nightly run does. Source of the parity: pySHACL, on the same files.
"""

import os
import random
import shutil
from collections import Counter

import pytest
import sown_across
import sown_files
from sown import PER_RULE, Sower, batches, sown

from margent.checking.across import query_hits
from margent.checking.check import _local_hits, all_rules, check, located, once
from margent.checking.graph import Graph
from margent.checking.kept import NOTHING
from margent.checking.links import link_hits
from margent.checking.reference import reference_results
from margent.checking.shapes import shapes_of
from margent.checking.statements import statements
from margent.vocabulary.namespaces import shorten

ALL = bool(os.environ.get("MARGENT_ALL_FAULTS"))
# A file that is no Turtle, and one that is too long, are no small change to an entry: they are sown by themselves.
OF_FILES = {"Y001", "Y013"}


@pytest.fixture(scope="module")
def sower(root, tmp_path_factory):
    """The vocabulary, the invented makers, and three invented authorities more, for what stands once in each."""
    folders = [root / "vocab", root / "vocab" / "demo"]
    for name in ("mill", "forge", "kiln"):
        folder = tmp_path_factory.mktemp(name)
        text = (root / "vocab" / "demo" / "publication.ttl").read_text("utf-8")
        assert "Tannery" in text
        text = text.replace("authority.print-room", f"{name}.print-room").replace("Tannery", name.capitalize())
        (folder / "publication.ttl").write_text(text, "utf-8")
        folders.append(folder)
    return Sower(root, folders)


@pytest.fixture(scope="module")
def faults(sower):
    return {**sower.faults(), **sown_across.faults(sower)}


@pytest.fixture(scope="module")
def drawn(faults):
    """All of the faults, or the fifty of every run: each of another rule."""
    if ALL:
        return [fault for each in faults.values() for fault in each]
    chance = random.Random(50)
    across = chance.sample(sorted(rule for rule in faults if rule[0] in "XY"), 15)
    of_shapes = chance.sample(sorted(rule for rule in faults if rule[0] not in "XY"), 35)
    return [chance.choice(faults[rule]) for rule in (*across, *of_shapes)]


def told(stuff, root):
    """Everything that a run finds in the material."""
    hits = _local_hits(stuff, shapes_of(root / "shapes"), root / "shapes" / "rules", NOTHING)
    hits += query_hits(stuff, root / "shapes" / "rules", NOTHING) + link_hits(stuff)
    return located(once(hits), stuff)


def test_there_are_enough_for_every_rule(faults, root):
    rules = {rule.id for rule in all_rules(root / "shapes")} - OF_FILES
    assert faults.keys() == rules
    assert [rule for rule, each in faults.items() if len(each) < PER_RULE] == []
    assert sum(map(len, faults.values())) > 2000


def test_taking_files_apart_changes_nothing(sower):
    for file in sower.files:
        assert file.text()[0] == file.path.read_text("utf-8")


def test_every_fault_is_found_at_its_line_by_its_rule(sower, drawn, root, monkeypatch):
    monkeypatch.chdir("/")
    lost = {}
    for batch in batches(drawn):
        stuff, places = sown(sower, batch)
        found = {("/" + finding.file.lstrip("/"), finding.line, finding.rule) for finding in told(stuff, root)}
        lost |= {place: fault for place, fault in places.items() if place not in found}
    assert lost == {}


def test_a_file_that_is_no_turtle_or_too_long_is_told_at_its_line(root, tmp_path):
    """Nine ways to spoil a file, each in a file of its own, and five files that are too long; the others are read."""
    ours = tmp_path / "ours"
    shutil.copytree(root / "vocab" / "demo", ours)
    wanted = {}
    for name, path, data, line in sown_files.not_turtle([path for path in ours.rglob("*.ttl") if path.parent != ours]):
        path.write_bytes(data)
        wanted[str(path), line, "Y001"] = name
    for path, text in sown_files.too_long(ours / "makers", "https://authority.print-room.example/"):
        path.write_text(text, "utf-8")
        wanted[str(path), 1, "Y013"] = path.name
    found = check([ours], [root / "vocab"], root / "shapes").findings
    told = Counter((finding.file, finding.line, finding.rule) for finding in found if finding.rule in OF_FILES)
    assert told == Counter(wanted.keys())
    assert len(told) == len(sown_files.NOT_TURTLE) + PER_RULE


def test_nothing_is_found_where_nothing_was_sown(sower, drawn, root):
    """A fault may be told of more than once, as when a part is lost; but only of what it has to do with."""
    near = Counter()
    for batch in batches(drawn):
        stuff, _ = sown(sower, batch)
        clean = {(finding.rule, finding.entry, finding.wrong) for finding in told(sower.material, root)}
        changed = {iri.partition("#")[0] for fault in batch for iri in fault.entries}
        changed |= {_renamed(fault) for fault in batch if fault.rename}
        touched = {iri.rsplit("/", 1)[-1] for iri in changed} | {shorten(fault.iri) for fault in batch}
        about = {name for iri, name in _mentions(stuff) if iri in changed} | touched
        cited_by_changed = {
            iri.rsplit("/", 1)[-1]
            for iri, name in _mentions(sower.material)
            if name in {each.rsplit("/", 1)[-1] for each in changed}
        }
        for finding in told(stuff, root):
            if (finding.rule, finding.entry, finding.wrong) in clean:
                continue
            # a source whose last citation was broken belongs to the entry that cited it
            uncited = finding.rule == "X030" and finding.entry in cited_by_changed
            named = finding.entry.partition("#")[0] in about or any(name in finding.wrong for name in touched)
            near[named or uncited] += 1
    assert near[False] == 0
    assert near[True] >= len(drawn)


def _renamed(fault):
    subject = fault.rename[1:-1]
    return (subject if "://" in subject else fault.file.base + subject).partition("#")[0]


def _mentions(stuff):
    """What each file refers to, with the names of those who do."""
    for file in stuff.files:
        for triple in file.turtle().triples:
            if hasattr(triple.object, "value") and hasattr(triple.subject, "value"):
                yield triple.object.value.partition("#")[0], triple.subject.value.partition("#")[0].rsplit("/", 1)[-1]


@pytest.mark.slow
def test_the_reference_finds_the_same_in_the_sown_files(sower, drawn, root):
    """Source: pySHACL, asked about all entries of all files that were touched."""
    shapes = shapes_of(root / "shapes")
    for batch in batches(drawn):
        stuff, _ = sown(sower, [fault for fault in batch if fault.rule != "Y003"])
        triples = [triple for file in stuff.files for triple in file.turtle().triples]
        elsewhere = {name: stuff.types(name) for file in stuff.files for name in file.facts.links}
        own = Counter(shapes.results(Graph(statements(triples), elsewhere, stuff.above)))
        assert own == Counter(reference_results(stuff, root / "shapes"))

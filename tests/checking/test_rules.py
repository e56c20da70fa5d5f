"""Every rule has an entry that passes and one that breaks it, and says so at the right line and nowhere else.

A fixture is a folder `fixtures/<rule id>/` with `good` and `bad`, each a file or a folder of files. In the bad ones the
lines of the findings end in `# here`; `# also: X` in the first line allows findings of other rules that cannot be avoided.
What the fixtures refer to stands in `fixtures/beside/`.
"""

import re
from pathlib import Path

import pyshacl
import pytest
import rdflib

from margent.checking import shapes
from margent.checking.check import all_rules, check, located, once
from margent.checking.material import Folder, Material, read
from margent.checking.shapes import shape_hits
from margent.vocabulary.turtle import read_file

HERE = Path(__file__).parent
FIXTURES = HERE / "fixtures"
ROOT = HERE.parent.parent
SHAPES = ROOT / "shapes"
RULES = {rule.id: rule for rule in all_rules(SHAPES)}
OF_SHAPES = [rule for rule in RULES if rule[0] not in "XY"]
ACROSS = [rule for rule in RULES if rule[0] in "XY"]


def files_of(rule, name):
    """The files of the good or the bad side of a fixture."""
    path = FIXTURES / rule / name
    return sorted(path.glob("*.ttl")) if path.is_dir() else [path.with_suffix(".ttl")]


def marked(path):
    """The lines that end in `# here`."""
    return [number for number, line in enumerate(path.read_text("utf-8").splitlines(), 1) if line.endswith("# here")]


def allowed(path):
    """The other rules that the first line allows."""
    also = re.match(r"# also: (.+)", path.read_text("utf-8"))
    return set(also[1].split()) if also else set()


@pytest.fixture(scope="module")
def beside(tmp_path_factory):
    """The folder of what the fixtures refer to, with the ontology."""
    folder = tmp_path_factory.mktemp("beside")
    (folder / "ns.ttl").write_bytes((ROOT / "vocab" / "ns.ttl").read_bytes())
    (folder / "beside.ttl").write_bytes((FIXTURES / "beside" / "beside.ttl").read_bytes())
    return folder


@pytest.fixture(scope="module")
def by_shapes(beside):
    """The findings of the shapes in all their fixtures, by file: one run, for starting the validator takes longest."""
    paths = [path for rule in OF_SHAPES for name in ("good", "bad") for path in files_of(rule, name)]
    folder = Folder(FIXTURES, tuple(read_file(path) for path in paths))
    material = Material((folder,), (read(beside)[0],))
    found = {}
    for finding in located(once(shape_hits(material, SHAPES)), material):
        found.setdefault((ROOT / finding.file).resolve(), []).append(finding)
    return found


def test_every_rule_has_a_fixture():
    have = {path.name for path in FIXTURES.iterdir()} - {"beside"}
    assert have == set(RULES)


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_says_what_is_wrong_how_to_mend_it_and_why(rule):
    """An editor reads the two halves as two lines, each on its own."""
    wording = RULES[rule]
    assert wording.wrong
    assert wording.mend
    assert wording.reason.endswith(".")
    assert not wording.wrong.endswith((".", " ", ":"))
    assert not wording.mend.endswith(" ")


def test_ids_are_given_once():
    assert len(RULES) == len(all_rules(SHAPES))
    assert all(re.fullmatch(r"[A-Z]\d{3}", rule) for rule in RULES)


@pytest.mark.parametrize("rule", OF_SHAPES)
def test_shape(rule, by_shapes):
    for path in files_of(rule, "good"):
        assert by_shapes.get(path, []) == []
    for path in files_of(rule, "bad"):
        found = by_shapes.get(path, [])
        assert [finding.line for finding in found if finding.rule == rule] == marked(path)
        assert {finding.rule for finding in found} - {rule} <= allowed(path)
        assert {finding.severity for finding in found if finding.rule == rule} == {RULES[rule].severity}


@pytest.mark.parametrize("rule", ACROSS)
def test_rule_across_entries(rule, beside, tmp_path):
    for name in ("good", "bad"):
        folder = tmp_path / name
        folder.mkdir()
        for path in files_of(rule, name):
            (folder / path.name).write_bytes(path.read_bytes())
        findings = check([folder], [beside], SHAPES).findings
        if name == "good":
            assert findings == ()
            continue
        for path in files_of(rule, name):
            found = [finding for finding in findings if Path(finding.file).name == path.name]
            assert [finding.line for finding in found if finding.rule == rule] == marked(path)
            assert {finding.rule for finding in found} - {rule} <= allowed(path)
            assert {finding.severity for finding in found if finding.rule == rule} <= {RULES[rule].severity}


def test_flattened_shapes_find_the_same(beside, by_shapes, monkeypatch):
    """What is done for speed changes no finding."""
    paths = [path for rule in OF_SHAPES for path in files_of(rule, "bad")]
    material = Material((Folder(FIXTURES, tuple(read_file(path) for path in paths)),), (read(beside)[0],))
    quick = set(shape_hits(material, SHAPES))
    monkeypatch.setattr(shapes, "flat", lambda graph: graph)
    assert set(shape_hits(material, SHAPES)) == quick


@pytest.mark.slow
def test_the_shapes_are_shacl():
    """Another engine must be able to use them: they keep the rules that the standard has for shapes."""
    graph = rdflib.Graph()
    for path in SHAPES.glob("*.ttl"):
        graph.parse(path)
    conforms, _, text = pyshacl.validate(rdflib.Graph(), shacl_graph=graph, meta_shacl=True)
    assert conforms, text

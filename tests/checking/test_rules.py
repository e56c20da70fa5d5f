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
from pyoxigraph import RdfFormat, Store

from margent.checking import reference
from margent.checking.check import all_rules, check, located, once
from margent.checking.derived_years import year_triples
from margent.checking.graph import Graph
from margent.checking.kept import NOTHING
from margent.checking.material import Folder, Material, read, source
from margent.checking.queries import asked_keys, hits, queries, store_of
from margent.checking.reference import reference_results
from margent.checking.shapes import shapes_of
from margent.checking.statements import statements
from margent.publishing.character_table import folded_words
from margent.publishing.grammar_tables import grammar_tables
from margent.publishing.reader_forms import FormList
from margent.vocabulary.load import load

HERE = Path(__file__).parent
FIXTURES = HERE / "fixtures"
ROOT = HERE.parent.parent
SHAPES = ROOT / "shapes"
RULES = {rule.id: rule for rule in all_rules(SHAPES)}
OF_SHAPES = [rule for rule in RULES if rule[0] not in "XY"]
ACROSS = [rule for rule in RULES if rule[0] in "XY"]
ASKED = asked_keys(SHAPES / "rules")


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


def material_of(paths, beside):
    """Those files as one body of material, with the folder beside it."""
    files = tuple(source(path, path.read_bytes(), ASKED, NOTHING) for path in paths)
    return Material((Folder(FIXTURES, files),), (read(beside, ASKED, NOTHING)[0],))


def graph_of(material):
    """Everything that is checked as one graph, with the classes of what is not."""
    triples = [triple for file in material.files for triple in file.turtle().triples]
    elsewhere = {name: material.types(name) for file in material.files for name in file.facts.links}
    return Graph(statements(triples), elsewhere, material.above)


def own_results(material):
    """What the direct checks find."""
    return list(shapes_of(SHAPES).results(graph_of(material)))


@pytest.fixture(scope="module")
def all_of_shapes(beside):
    """The good and bad entries of all shapes together: one run, for starting the reference takes longest."""
    return material_of(
        [path for rule in OF_SHAPES for name in ("good", "bad") for path in files_of(rule, name)], beside
    )


@pytest.fixture(scope="module")
def by_shapes(all_of_shapes):
    """The findings of the shapes in all their fixtures, by file."""
    graph = graph_of(all_of_shapes)
    told = shapes_of(SHAPES).hits(iter(own_results(all_of_shapes)), graph, all_of_shapes.wording)
    found = {}
    for finding in located(once(told), all_of_shapes):
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


def test_direct_checks_find_what_the_reference_finds(all_of_shapes):
    """Source: pySHACL, which is not ours. Both are asked about every good and bad entry of every shape."""
    found = own_results(all_of_shapes)
    assert len(found) > len(OF_SHAPES)
    assert sorted(map(repr, found)) == sorted(map(repr, reference_results(all_of_shapes, SHAPES)))


def test_flattened_shapes_find_the_same(all_of_shapes, monkeypatch):
    """What is done to the reference for speed changes no result."""
    quick = set(reference_results(all_of_shapes, SHAPES))
    monkeypatch.setattr(reference, "flat", lambda graph: graph)
    assert set(reference_results(all_of_shapes, SHAPES)) == quick


def test_queries_find_the_same_in_what_they_ask_for_as_in_everything(beside):
    """A query over all files sees only the triples it names; nothing else may decide it."""
    material = material_of([path for rule in ACROSS if rule != "Y001" for path in files_of(rule, "bad")], beside)
    triples = [triple for file in material.known_files for triple in file.turtle().triples]
    everything = store_of([*triples, *year_triples(statements(triples), ASKED)])
    found = 0
    for query in queries(SHAPES / "rules"):
        if not query.of_a_file:
            asked = query_hits_of(query, material)
            assert asked == set(hits(query, everything, material.is_checked, material.wording)), query.rule.id
            found += len(asked)
    assert found > 10


def query_hits_of(query, material):
    """The breaches of one query over all files, asked as a run of the check asks."""
    store = Store()
    for file in material.known_files:
        for lines in file.asked(query.keys).values():
            store.load(lines, format=RdfFormat.N_TRIPLES)
    return set(hits(query, store, material.is_checked, material.wording))


@pytest.mark.slow
def test_the_shapes_are_shacl():
    """Another engine must be able to use them: they keep the rules that the standard has for shapes."""
    graph = rdflib.Graph()
    for path in SHAPES.glob("*.ttl"):
        graph.parse(path)
    conforms, _, text = pyshacl.validate(rdflib.Graph(), shacl_graph=graph, meta_shacl=True)
    assert conforms, text


def test_forms_that_are_read_alike_are_those_of_one_key_in_the_compiled_reader(root):
    """Source: the reader's own list of forms; the rule may neither tell of what it keeps apart nor pass over what it does not."""
    vocabulary = load(root / "vocab")
    listed = FormList(vocabulary, grammar_tables(vocabulary))
    for term in vocabulary.terms.values():
        forms = [text.value for text in (term.literal, *term.variant_forms, *term.short_forms)]
        keys = [tuple(listed.words(form)) for form in forms]
        assert [tuple(folded_words(form)) for form in forms] == keys
        assert len(set(keys)) == len(keys), term.slug


def test_no_shape_looks_further_than_at_a_value_and_its_classes():
    """An edit of one entry is then no matter of any other, and only that one is checked again."""
    assert not shapes_of(SHAPES).look_further


def test_a_shape_that_looks_further_is_known(tmp_path):
    (tmp_path / "s.ttl").write_text(
        """@prefix sh: <http://www.w3.org/ns/shacl#> .
        @prefix s: <https://w3id.org/margent/shapes#> .
        s:Z001 sh:targetClass s:A ; sh:path s:b ; sh:or ( s:one s:two ) .
        s:one sh:nodeKind sh:IRI .
        s:two sh:path s:c ; sh:minCount 1 .
        """,
        "utf-8",
    )
    assert shapes_of(tmp_path).look_further

import hashlib
import io
import json
from collections import defaultdict

import pytest
import rdflib
from pyoxigraph import BlankNode, Literal, NamedNode, RdfFormat, Triple, parse

from margent.publishing.derived import derived
from margent.publishing.dumps import Graphs, folder_names, is_ontology, write_dumps
from margent.publishing.json_ld import context, json_ld
from margent.publishing.ntriples import n_triples
from margent.vocabulary.load import load
from margent.vocabulary.namespaces import expand
from margent.vocabulary.turtle import read_file, read_folder

FORMATS = {".ttl": RdfFormat.TURTLE, ".jsonld": RdfFormat.JSON_LD, ".nt": RdfFormat.N_TRIPLES}
NAMES = {".ttl": "turtle", ".jsonld": "json-ld", ".nt": "nt"}
SKOS = rdflib.SKOS
XL = rdflib.Namespace("http://www.w3.org/2008/05/skos-xl#")
BASE = "https://w3id.org/margent/"


def triples_of(path):
    return {quad.triple for quad in parse(io.BytesIO(path.read_bytes()), format=FORMATS[path.suffix])}


def graph_of(path):
    return rdflib.Graph().parse(path, format=NAMES[path.suffix])


def write(vocab, authorities, data):
    vocabulary = load(vocab, authorities)
    return write_dumps(authorities, vocabulary, Graphs(vocab, authorities, vocabulary), data)


@pytest.fixture(scope="module")
def dumped(small, makers, tmp_path_factory):
    data = tmp_path_factory.mktemp("data")
    vocab = small / "vocab"
    return data, write(vocab, [makers], data)


@pytest.fixture(scope="module")
def graph(dumped):
    return graph_of(dumped[0] / "margent.nt")


def texts(graph, subject, predicate):
    return {(str(value), value.language) for value in graph.objects(rdflib.URIRef(BASE + subject), predicate)}


@pytest.mark.parametrize("stem", ["margent", "invented-makers/invented-makers"])
def test_every_form_is_the_same_graph_for_both_readers(dumped, stem):
    data, _ = dumped
    paths = [data / (stem + suffix) for suffix in FORMATS]
    by_one = [triples_of(path) for path in paths]
    by_other = [set(graph_of(path)) for path in paths]
    assert by_one[0] == by_one[1] == by_one[2]
    assert by_other[0] == by_other[1] == by_other[2]
    assert len(by_one[0]) == len(by_other[0]) > 10


def test_the_dump_holds_every_entry_as_written(small, dumped):
    written = {triple for file in read_folder(small / "vocab") if file.path.name != "ns.ttl" for triple in file.triples}
    assert written < triples_of(dumped[0] / "margent.nt")


def test_there_are_no_blank_nodes(dumped):
    for path in dumped[0].rglob("*.*"):
        if path.name != "context.jsonld":
            assert not any(isinstance(term, BlankNode) for triple in triples_of(path) for term in triple), path


def test_two_runs_give_the_same_bytes(small, makers, dumped, tmp_path):
    vocab = small / "vocab"
    write(vocab, [makers], tmp_path)
    first = {path.relative_to(dumped[0]): path.read_bytes() for path in dumped[0].rglob("*.*")}
    second = {path.relative_to(tmp_path): path.read_bytes() for path in tmp_path.rglob("*.*")}
    assert first == second
    assert len(first) == 10


def test_what_is_listed_is_what_lies_there(dumped):
    data, dumps = dumped
    for dump in dumps:
        for file in dump.files:
            content = (data / dump.folder / file.path).read_bytes()
            assert (file.size, file.sha256) == (len(content), hashlib.sha256(content).hexdigest())


def test_the_description_tells_version_licence_sizes_and_digests(dumped):
    data, dumps = dumped
    graph = graph_of(data / "void.ttl")
    dcat = rdflib.Namespace(str(rdflib.DCAT))
    dataset = rdflib.URIRef(BASE)
    assert str(graph.value(dataset, dcat.version)) == "2026.11"
    assert str(graph.value(dataset, rdflib.DCTERMS.license)).endswith("/zero/1.0/")
    assert str(graph.value(dataset, rdflib.DCTERMS.issued)) == "2026-11-25"
    assert int(graph.value(dataset, rdflib.VOID.triples)) == dumps[0].triples == len(triples_of(data / "margent.nt"))
    spdx = rdflib.Namespace("http://spdx.org/rdf/terms#")
    described = 0
    for file in graph.objects(dataset, dcat.distribution):
        content = (data / str(file).removeprefix(BASE + "data/")).read_bytes()
        assert int(graph.value(file, dcat.byteSize)) == len(content)
        checksum = graph.value(file, spdx.checksum)
        assert str(graph.value(checksum, spdx.checksumValue)) == hashlib.sha256(content).hexdigest()
        described += 1
    assert described == 5


def test_the_digest_of_the_triples_is_the_canonical_one(dumped):
    lines = (dumped[0] / "margent.nt").read_text(encoding="utf-8").splitlines(keepends=True)
    assert lines == sorted(set(lines))


def test_the_context_by_itself_is_the_one_inside(dumped):
    inside = json.loads((dumped[0] / "margent.jsonld").read_text(encoding="utf-8"))["@context"]
    assert json.loads((dumped[0] / "context.jsonld").read_text(encoding="utf-8")) == {"@context": inside}


def test_every_kind_has_its_scheme(graph):
    for entry, scheme in [
        ("role/engraver", "roles"),
        ("notice/price", "notices"),
        ("qualifier/probably", "qualifiers"),
        ("place/antwerp", "places"),
        ("stage/matrix", "stages"),
    ]:
        subject = rdflib.URIRef(BASE + entry)
        assert (subject, rdflib.RDF.type, SKOS.Concept) in graph
        assert (subject, SKOS.inScheme, rdflib.URIRef(f"{BASE}scheme/{scheme}")) in graph
    roles = rdflib.URIRef(BASE + "scheme/roles")
    assert set(graph.objects(roles, SKOS.hasTopConcept)) == {rdflib.URIRef(BASE + "role/printmaker")}


def test_labels_follow_from_senses(graph):
    assert texts(graph, "role/engraver", SKOS.altLabel) == {("sculpsit", "la")}
    assert texts(graph, "role/engraver", SKOS.hiddenLabel) == {("sc", "la"), ("sclp", "la"), ("sculpcit", "la")}
    assert set(graph.objects(rdflib.URIRef(BASE + "role/engraver"), XL.altLabel)) == {
        rdflib.URIRef(BASE + "term/la-sculpsit")
    }


def test_a_form_that_is_the_preferred_label_is_left_out(graph):
    """`sculptor` is both the Latin label of the role and a term that says it."""
    assert ("sculptor", "la") not in texts(graph, "role/engraver", SKOS.altLabel)
    assert (None, XL.altLabel, rdflib.URIRef(BASE + "term/la-sculptor")) not in graph


def test_a_rare_sense_is_only_a_hidden_label(graph):
    assert texts(graph, "notice/price", SKOS.hiddenLabel) == {("sculpsit", "la")}
    assert set(graph.objects(rdflib.URIRef(BASE + "notice/price"), XL.hiddenLabel)) == {
        rdflib.URIRef(BASE + "term/la-sculpsit")
    }


def test_a_withdrawn_term_names_nothing_but_keeps_its_iri(graph):
    scribbled = rdflib.URIRef(BASE + "term/la-scribbled")
    assert (None, XL.altLabel, scribbled) not in graph
    assert (scribbled, rdflib.RDF.type, XL.Label) in graph


def test_places_and_qualifiers_have_their_other_names(graph):
    assert texts(graph, "place/antwerp", SKOS.hiddenLabel) == {("Antverpiae", "la"), ("Antv", "la")}
    assert texts(graph, "qualifier/probably", SKOS.altLabel) == {("almost certainly", "en")}


def test_makers_have_their_name_forms(dumped):
    graph = graph_of(dumped[0] / "invented-makers" / "invented-makers.ttl")
    maker = rdflib.URIRef("https://makers.example/maker/anna-verrou")
    assert [str(label) for label in graph.objects(maker, SKOS.altLabel)] == ["A. Verrou"]
    assert [str(label) for label in graph.objects(maker, SKOS.hiddenLabel)] == ["A. Verou"]


def broken_conditions(graph):
    """The integrity conditions of SKOS (by their numbers) that do not hold, after SKOS-XL labels are made plain."""
    broken = []
    labels = defaultdict(lambda: defaultdict(set))
    for kind in ("prefLabel", "altLabel", "hiddenLabel"):
        for subject, value in graph.subject_objects(SKOS[kind]):
            labels[subject][kind].add((str(value), value.language))
        for subject, label in graph.subject_objects(XL[kind]):
            (form,) = graph.objects(label, XL.literalForm)  # S52: exactly one
            labels[subject][kind].add((str(form), form.language))
    for subject, by_kind in labels.items():
        pairs = [("prefLabel", "altLabel"), ("prefLabel", "hiddenLabel"), ("altLabel", "hiddenLabel")]
        broken += [("S13", subject, by_kind[a] & by_kind[b]) for a, b in pairs if by_kind[a] & by_kind[b]]
        languages = [lang for _, lang in by_kind["prefLabel"]]
        if len(languages) != len(set(languages)):
            broken.append(("S14", subject, by_kind["prefLabel"]))
    for first, second, number in [
        (SKOS.Concept, SKOS.ConceptScheme, "S9"),
        (SKOS.Concept, XL.Label, "S48"),
        (SKOS.ConceptScheme, XL.Label, "S48"),
        (SKOS.Collection, SKOS.Concept, "S37"),
    ]:
        both = set(graph.subjects(rdflib.RDF.type, first)) & set(graph.subjects(rdflib.RDF.type, second))
        broken += [(number, each) for each in both]
    for subject, other in graph.subject_objects(SKOS.related):
        above = set(graph.transitive_objects(subject, SKOS.broader)) | set(
            graph.transitive_objects(other, SKOS.broader)
        )
        if {subject, other} <= above:
            broken.append(("S27", subject, other))
    for subject, other in graph.subject_objects(SKOS.exactMatch):
        if (subject, SKOS.broadMatch, other) in graph or (subject, SKOS.relatedMatch, other) in graph:
            broken.append(("S46", subject, other))
    return broken


def test_the_conditions_of_skos_hold(graph):
    assert broken_conditions(graph) == []


def test_the_check_of_the_conditions_sees_a_breach(graph):
    wrong = rdflib.Graph() + graph
    engraver = rdflib.URIRef(BASE + "role/engraver")
    wrong.add((engraver, SKOS.altLabel, rdflib.Literal("sculptor", lang="la")))
    wrong.add((engraver, SKOS.prefLabel, rdflib.Literal("cutter", lang="en")))
    assert {each[0] for each in broken_conditions(wrong)} == {"S13", "S14"}


@pytest.fixture(scope="module")
def whole(root):
    """The real vocabulary: its triples with what follows, and its ontology."""
    vocab = root / "vocab"
    files = read_folder(vocab)
    written = {triple for file in files if not is_ontology(file) for triple in file.triples}
    ontology = [triple for file in files if is_ontology(file) for triple in file.triples]
    return written | set(derived(load(vocab))), ontology


@pytest.mark.slow
def test_the_conditions_hold_in_the_real_vocabulary(whole):
    wanted = {expand("rdf:type"), expand("skosxl:literalForm")}
    graph = rdflib.Graph()
    lines = n_triples(
        triple
        for triple in whole[0]
        if triple.predicate.value in wanted or triple.predicate.value.startswith((expand("skos:"), expand("skosxl:")))
    )
    assert broken_conditions(graph.parse(data=lines, format="nt")) == []


def test_the_real_vocabulary_comes_back_from_json_ld(whole):
    triples, ontology = whole
    text = json_ld(triples, context(ontology, BASE))
    assert {quad.triple for quad in parse(text.encode(), format=RdfFormat.JSON_LD)} == triples


@pytest.mark.parametrize(
    ("folders", "names"),
    [
        pytest.param(["a/Print Room"], ["print-room"], id="made plain"),
        pytest.param(["a/demo", "b/demo"], ["demo", "demo-2"], id="each once"),
        pytest.param(["a/图书馆"], ["authority"], id="no letters left"),
    ],
)
def test_an_authority_lies_in_a_folder_fit_for_an_address(tmp_path, folders, names):
    assert folder_names([tmp_path / folder for folder in folders]) == names


@pytest.mark.parametrize(
    "text",
    [
        pytest.param('quote " backslash \\ line\nfeed \r return \t tab', id="signs"),
        pytest.param("\u202eright to left\u202c \u2028 \ufeff \x7f \x01", id="directions and separators"),
        pytest.param("</script><script>alert(1)</script>", id="markup"),
        pytest.param("ſculpſit ﬁ 𝔐 e\u0301", id="letters"),
    ],
)
def test_odd_texts_come_back_as_they_were(tmp_path, root, text):
    ontology = read_file(root / "vocab" / "ns.ttl").triples
    odd = {
        Triple(NamedNode(BASE + "x"), NamedNode(expand(name)), Literal(text, language="fr"))
        for name in ("skos:prefLabel", "skos:altLabel", "mg:reason", "mg:locator", "rdfs:label")
    } | {Triple(NamedNode(BASE + "x"), NamedNode(expand("skos:note")), Literal(text))}
    assert {q.triple for q in parse(n_triples(odd).encode(), format=RdfFormat.N_TRIPLES)} == odd
    document = json_ld(odd, context(ontology, BASE))
    assert {q.triple for q in parse(document.encode(), format=RdfFormat.JSON_LD)} == odd
    assert len(rdflib.Graph().parse(data=document, format="json-ld")) == len(odd)


def test_what_is_dumped_as_a_concept_is_one_by_its_class(dumped):
    """Every class of ours whose members the dump calls skos:Concept says so in the ontology, makers apart."""
    ontology = rdflib.Graph().parse(dumped[0] / "ns.ttl")
    graph = graph_of(dumped[0] / "margent.nt")
    for entry in graph.subjects(rdflib.RDF.type, SKOS.Concept):
        ours = [each for each in graph.objects(entry, rdflib.RDF.type) if each != SKOS.Concept]
        assert ours
        for kind in ours:
            assert SKOS.Concept in set(ontology.transitive_objects(kind, rdflib.RDFS.subClassOf)), kind

"""SKOS files, as others write them, taken into an authority. Every maker here is invented."""

import pytest
from rdflib import Graph

from margent.checking.check import check
from margent.cli import run
from margent.vocabulary.load import load

BASE = "https://prints.museum.example/authority/"
SKOS = """
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .
@prefix foaf: <http://xmlns.com/foaf/0.1/> .
@prefix schema: <https://schema.org/> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .

<https://other.example/agents/> a skos:ConceptScheme ; skos:prefLabel "Agents"@en .
<https://other.example/agents/A12> a skos:Concept, foaf:Person ;
    skos:prefLabel "Quabbel, Joost"@en, "Quabbel, Josse"@fr ;
    skos:altLabel "J. Quabbel", "Iudocus Quabbelius"@la ;
    skos:hiddenLabel "Quabel"@en ;
    skosxl:altLabel <https://other.example/agents/A12-x> ;
    skos:definition "Engraver and bridge keeper."@en ;
    skos:scopeNote "Not his nephew."@en ;
    schema:birthDate "1602-03-04" ; schema:deathDate "about 1671" ;
    skos:exactMatch <https://elsewhere.example/q> ;
    skos:closeMatch <https://elsewhere.example/r> ;
    skos:broader <https://other.example/agents/engravers> ;
    skos:inScheme <https://other.example/agents/> .
<https://other.example/agents/A12-x> a skosxl:Label ; skosxl:literalForm "Jodocus Q."@la .
<https://other.example/agents#b%20c> a foaf:Organization ; skosxl:prefLabel <https://other.example/agents#l> .
<https://other.example/agents#l> skosxl:literalForm "Quabbel & Zonen"@nl .
<https://other.example/agents/none> a skos:Concept ; skos:altLabel "No preferred label"@en .
"""


@pytest.fixture
def skos(tmp_path):
    """A function that writes the file in a form, by a library that is not ours, and takes it in."""

    def take(ending, form):
        path = tmp_path / f"agents.{ending}"
        Graph().parse(data=SKOS, format="turtle").serialize(path, format=form, encoding="utf-8")
        to = tmp_path / ending
        return run(["import", "makers", str(path), "--to", str(to), "--base", BASE]), to

    return take


@pytest.mark.parametrize(
    ("ending", "form"),
    [
        ("ttl", "turtle"),
        ("nt", "nt"),
        ("rdf", "xml"),
        ("xml", "pretty-xml"),
        ("jsonld", "json-ld"),
        ("json", "json-ld"),
    ],
)
def test_concepts_become_makers(ending, form, skos, root, capsys):
    code, folder = skos(ending, form)
    assert code == 0
    makers = load(root / "vocab", [folder]).makers
    assert set(makers) == {f"{BASE}maker/A12", f"{BASE}maker/b-c"}
    one, firm = makers[f"{BASE}maker/A12"], makers[f"{BASE}maker/b-c"]
    assert {tuple(label) for label in one.labels} == {("Quabbel, Joost", "en"), ("Quabbel, Josse", "fr")}
    assert {tuple(form.literal) for form in one.name_forms} == {
        ("J. Quabbel", ""),
        ("Iudocus Quabbelius", "la"),
        ("Quabel", "en"),
        ("Jodocus Q.", "la"),
    }
    assert (one.kind, one.born, one.died) == ("Person", "1602-03-04", "1671~")
    assert one.exact_matches == ("https://elsewhere.example/q", "https://other.example/agents/A12")
    assert one.close_matches == ("https://elsewhere.example/r",)
    assert one.definitions[0].value == "Engraver and bridge keeper."
    assert (firm.kind, firm.label("nl")) == ("Firm", "Quabbel & Zonen")
    said = capsys.readouterr().err
    assert "has properties that have no place here, left out: skos:broader (1)" in said
    assert "the id 'b c' is written b-c in the IRI" in said


def test_what_was_taken_has_nothing_to_mend_and_comes_again_unchanged(skos, root):
    _, folder = skos("ttl", "turtle")
    assert check([folder], [root / "vocab"], root / "shapes").findings == ()
    before = {path: path.read_bytes() for path in folder.rglob("*.ttl")}
    assert skos("ttl", "turtle")[0] == 0
    assert {path: path.read_bytes() for path in folder.rglob("*.ttl")} == before


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.ttl", "<a> <b>", "cannot be read"),
        ("a.ttl", "<https://x.example/a> <https://x.example/b> 1 .", "holds no skos:Concept"),
        ("a.jsonld", '{"@context": "https://x.example/c", "@id": "https://x.example/a"}', "nothing is fetched"),
        ("a.jsonld", "{", "cannot be read"),
        ("a.rdf", '<!DOCTYPE r [<!ENTITY a "b">]><r/>', "document type or entities, which are refused"),
        ("a.rdf", '<!DOCTYPE r SYSTEM "https://x.example/r.dtd"><r/>', "document type or entities, which are refused"),
        ("a.rdf", "<r>", "cannot be read"),
    ],
)
def test_what_cannot_be_read_is_refused_and_nothing_written(name, content, said, tmp_path, capsys):
    (tmp_path / name).write_text(content, encoding="utf-8")
    assert run(["import", "makers", str(tmp_path / name), "--to", str(tmp_path / "ours"), "--base", BASE]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.splitlines()) == 1
    assert not (tmp_path / "ours").exists()


def test_our_own_makers_come_home(tmp_path, root, capsys):
    """The makers of one authority taken into another: their names, dates and matches, under the same last parts."""
    source = root / "vocab" / "demo" / "makers" / "verrou.ttl"
    assert run(["import", "makers", str(source), "--to", str(tmp_path / "ours"), "--base", BASE]) == 0
    ours = load(root / "vocab", [tmp_path / "ours"]).makers
    demo = {each.slug: each for each in load(root / "vocab", [root / "vocab" / "demo"]).makers.values()}
    assert ours
    for maker in ours.values():
        was = demo[maker.slug]
        assert (maker.kind, maker.labels, maker.born, maker.died, maker.active) == (
            was.kind,
            was.labels,
            was.born,
            was.died,
            was.active,
        )
        assert was.iri in maker.exact_matches

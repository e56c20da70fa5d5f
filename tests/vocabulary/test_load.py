import pytest

from margent.faults import Fault, Faults
from margent.vocabulary.load import load, load_publication
from margent.vocabulary.model import Text, in_language

HEAD = """@base <https://w3id.org/margent/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .

"""
PUBLICATION = """<> a mg:Publication ;
    dcterms:title "A vocabulary"@en ;
    dcterms:publisher <#publisher> ;
    dcterms:license <https://creativecommons.org/publicdomain/zero/1.0/> ;
    mg:base <https://w3id.org/margent/> ;
    mg:version "2026.11" ;
    mg:dataFormat 1 .
<#publisher> a dcterms:Agent ; rdfs:label "Nobody"@en .
"""
TERM = """<term/la-sculpsit> a mg:Term ;
    skosxl:literalForm "sculpsit"@la ; mg:kind mg:word ; mg:wordClass mg:verb ; mg:namePosition mg:nameBefore ;
    mg:governs mg:nominative ; mg:period "1500/1900"^^edtf:EDTF ; mg:shortenedTo "sc"@la ;
    mg:shortForm "sclp"@la, "scp"@la ; mg:citation <term/la-sculpsit#cite-dcrmr> ;
    mg:sense <term/la-sculpsit#etcher>, <term/la-sculpsit#engraver> .
<term/la-sculpsit#cite-dcrmr> a mg:Citation ; mg:work <source/dcrmr> ; mg:locator "Appendix J" ; mg:asFound "sculps." .
<term/la-sculpsit#engraver> a mg:Sense ; mg:says <role/engraver> ; mg:weight 0 ; mg:citation <term/la-sculpsit#cite-dcrmr> .
<term/la-sculpsit#etcher> a mg:Sense ; mg:says <role/etcher> ; mg:weight -1000 ; mg:standing mg:fromMemory ;
    mg:alone true ; mg:technique "etching", "drypoint" ; mg:during "1500/1599"^^edtf:EDTF .
"""
MAKER = """<maker/anna-verrou> a mg:Person ; skos:prefLabel "Verrou, Anna"@en ; mg:born "1602"^^edtf:EDTF ;
    mg:nameForm <maker/anna-verrou#a-verrou> ; mg:kin <maker/anna-verrou#daughter-of-jan> .
<maker/anna-verrou#a-verrou> a mg:NameForm ; mg:literal "A. Verrou"@nl ; mg:formKind mg:asSigned ;
    mg:attestation <maker/anna-verrou#seen-1> .
<maker/anna-verrou#seen-1> a mg:Attestation ; mg:object "a view of a quay" ; mg:seen true .
<maker/anna-verrou#daughter-of-jan> a mg:Kinship ; mg:relation mg:daughter ; mg:to <maker/jan-verrou> .
"""


@pytest.fixture
def vocab(turtle):
    """A function that writes a vocabulary of some files and gives back its folder."""

    def write(**files):
        turtle("vocab/publication.ttl", HEAD + files.pop("publication", PUBLICATION))
        for name, content in files.items():
            turtle(f"vocab/{name}.ttl", HEAD + content)
        return turtle("vocab/empty.ttl", "").parent

    return write


def test_a_term_with_its_parts(vocab):
    vocabulary = load(vocab(terms=TERM))
    term = vocabulary.terms["https://w3id.org/margent/term/la-sculpsit"]
    assert term.literal == Text("sculpsit", "la")
    assert (term.slug, term.language, term.kind, term.name_position, term.period) == (
        "la-sculpsit",
        "la",
        "word",
        "nameBefore",
        "1500/1900",
    )
    assert term.short_forms == (Text("sclp", "la"), Text("scp", "la"))
    assert [sense.slug for sense in term.senses] == ["la-sculpsit#engraver", "la-sculpsit#etcher"]
    engraver, etcher = term.senses
    assert engraver.citations == term.citations
    assert engraver.citations[0].as_found == ("sculps.",)
    assert (etcher.weight, etcher.alone, etcher.technique, etcher.during) == (
        -1000,
        True,
        ("drypoint", "etching"),
        ("1500/1599",),
    )
    assert (etcher.standing, term.withdrawn, etcher.in_pencil) == ("fromMemory", False, False)
    assert vocabulary.files[term.iri].name == "terms.ttl"


def test_the_order_of_files_and_triples_does_not_matter(vocab):
    statements = TERM.split("<term/la-sculpsit#etcher> a")
    turned = "<term/la-sculpsit#etcher> a" + statements[1] + statements[0]
    assert load(vocab(terms=turned)).terms == load(vocab(terms=TERM)).terms


def test_makers_come_only_from_an_authority_asked_for(vocab, turtle):
    folder = vocab()
    base = "https://authority.example/"
    head = HEAD.replace("https://w3id.org/margent/>", base + ">")
    turtle("own/publication.ttl", head + PUBLICATION.replace("https://w3id.org/margent/", base))
    own = turtle("own/makers/a.ttl", head + MAKER).parent.parent
    assert load(folder).makers == {}
    vocabulary = load(folder, [own])
    (maker,) = vocabulary.makers.values()
    assert (maker.iri, maker.kind, maker.label("fr"), maker.born) == (
        base + "maker/anna-verrou",
        "Person",
        "Verrou, Anna",
        "1602",
    )
    assert maker.name_forms[0].attestations[0].seen is True
    assert (maker.kin[0].relation, maker.kin[0].to) == ("daughter", base + "maker/jan-verrou")
    assert [each.base for each in vocabulary.authorities] == [base]


def test_a_withdrawn_entry_says_what_took_its_place(vocab):
    role = '<stage/x> a mg:Stage ; skos:prefLabel "x"@en ; mg:order 1 ; owl:deprecated true ; dcterms:isReplacedBy <stage/y> .'
    (stage,) = load(vocab(stages=role)).stages.values()
    assert (stage.withdrawn, stage.replaced_by, stage.order) == (True, ("https://w3id.org/margent/stage/y",), 1)


@pytest.mark.parametrize(
    ("content", "line", "said"),
    [
        pytest.param(
            TERM.replace("mg:kind mg:word ;", ""), 10, "term/la-sculpsit has no mg:kind; add it", id="missing"
        ),
        pytest.param(
            TERM.replace("mg:kind mg:word", "mg:kind mg:word, mg:phrase"),
            11,
            "term/la-sculpsit has 2 values of mg:kind; keep one",
            id="several",
        ),
        pytest.param(
            TERM.replace("mg:kind mg:word", 'mg:kind "word"'),
            11,
            "term/la-sculpsit has a value of mg:kind that is not an IRI; mend it",
            id="text for IRI",
        ),
        pytest.param(
            TERM.replace("mg:weight -1000", 'mg:weight "low"'),
            17,
            "term/la-sculpsit#etcher has a value of mg:weight that is not a whole number; mend it",
            id="word for number",
        ),
        pytest.param(
            TERM.replace("<term/la-sculpsit#etcher> a", "<term/la-sculpsit#x> a"),
            14,
            "term/la-sculpsit names https://w3id.org/margent/term/la-sculpsit#etcher, which is not described in this file; describe it after the entry",
            id="part not there",
        ),
    ],
)
def test_what_does_not_fit_is_told_by_file_and_line(vocab, content, line, said):
    folder = vocab(terms=content)
    with pytest.raises(Faults) as caught:
        load(folder)
    assert str(caught.value) == f"{folder / 'terms.ttl'}:{line}: {said}"


def test_an_entry_stands_in_one_file(vocab):
    with pytest.raises(Faults, match=r"terms\.ttl:10: term/la-sculpsit also stands in \S+others\.ttl; keep one"):
        load(vocab(terms=TERM, others=TERM))


@pytest.mark.parametrize(
    ("publication", "said"),
    [
        pytest.param(
            PUBLICATION.replace("mg:dataFormat 1", "mg:dataFormat 2"),
            r"publication.ttl:16: https://w3id.org/margent/ is in data format 2, and the newest this Margent knows is 1; install a newer Margent",
            id="newer data format",
        ),
        pytest.param(
            PUBLICATION.replace("mg:dataFormat 1", 'mg:dataFormat "x"'), "that is not a whole number", id="no number"
        ),
        pytest.param(
            PUBLICATION.replace("    mg:version", "    mg:versions"), "has no mg:version; add it", id="no version"
        ),
        pytest.param("", "describes 0 publications", id="nothing described"),
    ],
)
def test_a_publication_we_cannot_use_is_one_sentence(vocab, publication, said):
    folder = vocab(publication=publication)
    with pytest.raises(Fault, match=said):
        load(folder)
    with pytest.raises(Fault, match=said):
        load_publication(folder)


def test_a_newer_format_is_told_before_anything_else_in_the_publication(vocab):
    folder = vocab(publication="<> a mg:Publication ; mg:dataFormat 99 .")
    with pytest.raises(Fault, match="install a newer Margent"):
        load(folder)


def test_a_folder_without_publication_is_a_fault(tmp_path):
    for ask in (load, load_publication):
        with pytest.raises(Fault, match=r"has no publication\.ttl; write one"):
            ask(tmp_path)


def test_the_label_falls_back_to_english():
    texts = (Text("Stecher", "de"), Text("engraver", "en"))
    assert [in_language(texts, lang) for lang in ("de", "en", "es")] == ["Stecher", "engraver", "engraver"]
    assert in_language(texts[:1], "es") == "Stecher"
    assert in_language((), "en") is None


def test_our_own_vocabulary_loads(root):
    vocabulary = load(root / "vocab")
    assert vocabulary.publication.version
    assert all(iri.startswith(vocabulary.publication.base) for iri in vocabulary.files)

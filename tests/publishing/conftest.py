"""Small vocabularies and authorities to publish, in folders of their own."""

import os
from types import SimpleNamespace

import pytest


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory):
    """What a run keeps for the next one is not kept in the cache of whoever runs the tests."""
    before = os.environ.get("MARGENT_CACHE")
    os.environ["MARGENT_CACHE"] = str(tmp_path_factory.mktemp("cache"))
    yield
    os.environ.pop("MARGENT_CACHE")
    if before is not None:
        os.environ["MARGENT_CACHE"] = before


HEAD = """@base <https://w3id.org/margent/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix relator: <http://id.loc.gov/vocabulary/relators/> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix skosxl: <http://www.w3.org/2008/05/skos-xl#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

"""

PUBLICATION = (
    HEAD
    + """<> a mg:Publication ;
    dcterms:title "A small vocabulary"@en ; dcterms:description "For trying."@en ; dcterms:publisher <#publisher> ;
    dcterms:license <https://creativecommons.org/publicdomain/zero/1.0/> ; dcterms:language "en", "la" ;
    dcterms:issued "2026-11-25"^^xsd:date ; mg:base <https://w3id.org/margent/> ; mg:version "2026.11" ; mg:dataFormat 1 .
<#publisher> a dcterms:Agent ; rdfs:label "Nobody in particular"@en .
"""
)

ENTRIES = (
    HEAD
    + """<stage/matrix> a mg:Stage ; skos:prefLabel "making the matrix"@en ; mg:order 1 ; skos:definition "Cutting."@en .
<role/printmaker> a mg:Role ; skos:prefLabel "printmaker"@en ; skos:definition "Made the matrix."@en ; mg:stage <stage/matrix> ;
    mg:matchNote "none"@en ; mg:standing mg:commonPractice .
<role/engraver> a mg:Role ; skos:prefLabel "engraver"@en, "sculptor"@la ; skos:definition "Cut the plate."@en ;
    skos:broader <role/printmaker> ; mg:stage <stage/matrix> ; mg:period "1430/.."^^edtf:EDTF ; mg:of mg:plate ;
    mg:introducedBy "engraved by"@en, "sculpsit"@la ; mg:confusion <role/engraver#not-printmaker> ;
    skos:closeMatch relator:egr ; mg:standing mg:fromMemory .
<role/engraver#not-printmaker> a mg:Confusion ; mg:mistakenFor <role/printmaker> ; mg:howToTell "Look at the lines."@en .
<notice/price> a mg:NoticeKind ; skos:prefLabel "price"@en ; skos:definition "What the print cost."@en ; mg:standing mg:commonPractice .
<qualifier/probably> a mg:Qualifier ; skos:prefLabel "probably"@en ; skos:definition "Nearly sure."@en ; mg:axis mg:certainty ;
    mg:rank 10 ; mg:phrase "probably"@en, "almost certainly"@en ; mg:standing mg:commonPractice .
<place/antwerp> a mg:Place ; skos:prefLabel "Antwerp"@en, "Antverpia"@la ; mg:form <place/antwerp#antverpiae> ; mg:standing mg:commonPractice .
<place/antwerp#antverpiae> a mg:PlaceForm ; mg:literal "Antverpiae"@la ; mg:case mg:locative ; mg:shortForm "Antv"@la ; mg:standing mg:fromMemory .
<source/handbook> a mg:Source ; dcterms:title "A handbook"@en ; dcterms:creator "Anon" ; mg:publishedAt "Nowhere" ;
    dcterms:issued "1900"^^edtf:EDTF ; mg:address <https://handbook.example/> ; skos:note "Opened at page 1."@en .
<term/la-sculpsit> a mg:Term ; skosxl:literalForm "sculpsit"@la ; mg:kind mg:word ; mg:wordClass mg:verb ;
    mg:grammar "perfect, 3rd person singular"@en ; mg:namePosition mg:nameBefore ; mg:governs mg:nominative ;
    mg:period "1500/1900"^^edtf:EDTF ; mg:shortenedTo "sc"@la ; mg:shortForm "sclp"@la ; mg:variantForm "sculpcit"@la ;
    mg:sense <term/la-sculpsit#engraver>, <term/la-sculpsit#price> ; mg:citation <term/la-sculpsit#cite> .
<term/la-sculpsit#cite> a mg:Citation ; mg:work <source/handbook> ; mg:locator "p. 1" ; mg:asFound "sculps." .
<term/la-sculpsit#engraver> a mg:Sense ; mg:says <role/engraver> ; mg:weight 0 ; mg:reason "the plain word"@en ; mg:citation <term/la-sculpsit#cite> .
<term/la-sculpsit#price> a mg:Sense ; mg:says <notice/price> ; mg:weight -2500 ; mg:technique "etching" ; mg:standing mg:fromMemory .
<term/la-sculptor> a mg:Term ; skosxl:literalForm "sculptor"@la ; mg:kind mg:word ; mg:namePosition mg:nameEither ;
    mg:shortForm "sculpsit"@la ; mg:sense <term/la-sculptor#engraver> ; mg:standing mg:commonPractice .
<term/la-sculptor#engraver> a mg:Sense ; mg:says <role/engraver> ; mg:weight 0 ; mg:standing mg:commonPractice .
<term/la-scribbled> a mg:Term ; skosxl:literalForm "scribbled"@la ; mg:kind mg:word ; owl:deprecated true ;
    dcterms:isReplacedBy <term/la-sculpsit> ; mg:sense <term/la-scribbled#engraver> ; mg:standing mg:fromMemory .
<term/la-scribbled#engraver> a mg:Sense ; mg:says <role/engraver> ; mg:weight 0 ; mg:standing mg:fromMemory .
"""
)

AUTHORITY = {
    "publication.ttl": HEAD.replace("https://w3id.org/margent/>", "https://makers.example/>")
    + """<> a mg:Publication ; dcterms:title "Invented makers"@en ; mg:base <https://makers.example/> ; mg:version "1" ; mg:dataFormat 1 .
""",
    "makers/v.ttl": HEAD.replace("https://w3id.org/margent/>", "https://makers.example/>")
    + """<maker/anna-verrou> a mg:Person ; skos:prefLabel "Verrou, Anna"@en ; mg:nameForm <maker/anna-verrou#a>, <maker/anna-verrou#b> .
<maker/anna-verrou#a> a mg:NameForm ; mg:literal "A. Verrou"@nl ; mg:formKind mg:asSigned ; mg:standing mg:fromMemory .
<maker/anna-verrou#b> a mg:NameForm ; mg:literal "A. Verou"@nl ; mg:formKind mg:misspelt ; mg:standing mg:fromMemory .
""",
}


@pytest.fixture(scope="session")
def small(tmp_path_factory, root):
    """A home with a vocabulary of one entry of each kind; vocab/ns.ttl and site/ are those of the checkout."""
    return make_home(tmp_path_factory.mktemp("home"), root, {"publication.ttl": PUBLICATION, "entries.ttl": ENTRIES})


@pytest.fixture(scope="session")
def makers(tmp_path_factory):
    """The folder of an authority with one invented maker."""
    folder = tmp_path_factory.mktemp("authority") / "Invented Makers"
    for name, text in AUTHORITY.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def make_home(home, root, files):
    """The home after writing files into its vocab/."""
    vocab = home / "vocab"
    vocab.mkdir(parents=True, exist_ok=True)
    for name, text in {"ns.ttl": (root / "vocab" / "ns.ttl").read_text(encoding="utf-8"), **files}.items():
        (vocab / name).write_text(text, encoding="utf-8", newline="\n")
    reading = vocab / "reading"
    if not reading.exists():
        _copy(root / "vocab" / "reading", reading)
    for name in ("site", "shapes"):
        if not (home / name).exists():
            (home / name).symlink_to(root / name)
    return home


def _copy(source, target):
    target.mkdir()
    for path in source.glob("*.ttl"):
        (target / path.name).write_bytes(path.read_bytes())


@pytest.fixture(scope="session")
def home_with(root):
    """A function that makes a home like `small` in the folder it is given, with some of its texts replaced."""

    def make(home, replaced):
        entries = ENTRIES
        for plain, other in replaced.items():
            assert plain in entries
            entries = entries.replace(plain, other)
        return make_home(home, root, {"publication.ttl": PUBLICATION, "entries.ttl": entries})

    return make


HOLM_HEAD = """@base <https://{host}.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
"""

HOLM_ENTRIES = """
<maker/holm-family> a mg:Family ; skos:prefLabel "Holm family"@en ; mg:active "1600/1660"^^edtf:EDTF .
<maker/berta-holm> a mg:Person ; skos:prefLabel "Holm, Berta"@en ; mg:active "1601/1630"^^edtf:EDTF ; mg:born "1580"^^edtf:EDTF ;
    mg:memberOf <maker/holm-family> ; mg:nameForm <maker/berta-holm#bh> ; mg:practised <maker/berta-holm#engraver> ;
    mg:workingPlace <maker/berta-holm#antwerp> ; mg:trait "dots"@en ; mg:kin <maker/berta-holm#mother> .
<maker/berta-holm#bh> a mg:NameForm ; mg:literal "B. Holm"@nl ; mg:formKind mg:asSigned ; mg:attestation <maker/berta-holm#seen> .
<maker/berta-holm#seen> a mg:Attestation ; mg:object "Room 1: A river" ; mg:state "2" ; mg:sheetPlace "lower right" ;
    mg:date "1612"^^edtf:EDTF ; mg:transcription "B. Holm sc." ; mg:seen false .
<maker/berta-holm#engraver> a mg:Practice ; mg:role <https://w3id.org/margent/role/engraver> ; mg:period "1601/1630"^^edtf:EDTF .
<maker/berta-holm#antwerp> a mg:WorkingPlace ; mg:place <https://w3id.org/margent/place/antwerp> ; mg:period "1601/.."^^edtf:EDTF .
<maker/berta-holm#mother> a mg:Kinship ; mg:relation mg:mother ; mg:to <maker/carl-holm> .
<maker/carl-holm> a mg:Person ; skos:prefLabel "Holm, Carl"@en ; mg:active "1640/1660"^^edtf:EDTF ; mg:memberOf <maker/holm-family> ;
    mg:trait "long lines"@en ; mg:comparedWith <maker/berta-holm> .
<maker/gone> a mg:Person ; skos:prefLabel "Gone, Anon"@en ; owl:deprecated true ; dcterms:isReplacedBy <maker/carl-holm> .
<mark/bh> a mg:Mark ; skos:prefLabel "BH joined"@en ; mg:markKind mg:makersMark ; mg:letters "BH" ; mg:drawing <mark/bh.svg> ;
    mg:standsFor <maker/berta-holm> ; mg:states <https://w3id.org/margent/role/engraver> .
<mark/owl> a mg:Mark ; skos:prefLabel "An owl"@en ; mg:markKind mg:collectorsMark ; mg:device "an owl"@en ; mg:standsFor <maker/carl-holm> .
"""

HOLM_SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>'


def authority(folder, host="holm", entries=HOLM_ENTRIES, drawing=HOLM_SVG):
    """The folder of an authority of invented makers."""
    head = HOLM_HEAD.replace("{host}", host)
    (folder / "marks" / "drawings").mkdir(parents=True)
    (folder / "publication.ttl").write_text(
        head + '<> a mg:Publication ; dcterms:title "Holms"@en ; mg:base <> ; mg:version "1" ; mg:dataFormat 1 .\n',
        encoding="utf-8",
    )
    (folder / "makers.ttl").write_text(head + entries, encoding="utf-8")
    if drawing:
        (folder / "marks" / "drawings" / "bh.svg").write_text(drawing, encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def holms():
    """`make(folder)` makes the authority of an invented family of engravers; its entries and its one drawing are there too."""
    return SimpleNamespace(make=authority, entries=HOLM_ENTRIES, svg=HOLM_SVG)

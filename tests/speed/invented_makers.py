"""An authority of invented makers, as large as wanted: the same makers every time.

    python tests/speed/invented_makers.py 10000 FOLDER

Names are made of syllables that follow no language, so that nobody real is meant. A maker has about 46 triples: four name
forms, each with where it was seen, a working place, two practices, and for every third one a master or a brother.
"""

import random
import sys
from pathlib import Path

PER_FILE = 500
FORENAMES = (
    "Jan",
    "Anna",
    "Pieter",
    "Maria",
    "Claude",
    "Marco",
    "Hans",
    "Lucas",
    "Elisabeth",
    "Jacob",
    "Willem",
    "Paul",
)
OPENINGS = (
    "Bra",
    "Cor",
    "Del",
    "Fen",
    "Gro",
    "Hal",
    "Ker",
    "Lum",
    "Mor",
    "Nes",
    "Orv",
    "Pel",
    "Rud",
    "Sol",
    "Tav",
    "Vel",
)
MIDDLES = ("da", "ke", "li", "mo", "na", "ri", "so", "te", "va", "we", "be", "ju", "pa", "go", "fi", "he")
ENDINGS = ("sen", "rik", "lot", "man", "dael", "berg", "vin", "ster", "nou", "zani", "quet", "holt", "wick", "mont")
PLACES = ("antwerp", "amsterdam", "paris", "rome", "venice", "nuremberg", "london", "augsburg")
ROLES = ("burin-engraver", "etcher", "designer", "publisher", "printer", "lithographer", "woodcutter")
HEAD = """@base <https://invented-makers.example/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
"""
PUBLICATION = """@base <https://invented-makers.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix rdfs: <http://www.w3.org/2000/01/rdf-schema#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

<> a mg:Publication ;
    dcterms:title "Invented makers"@en ;
    dcterms:publisher <#publisher> ;
    dcterms:license <https://creativecommons.org/publicdomain/zero/1.0/> ;
    dcterms:language "en" ;
    dcterms:issued "2026-11-25"^^xsd:date ;
    mg:base <> ;
    mg:version "2026.11" ;
    mg:dataFormat 1 .
<#publisher> a dcterms:Agent ;
    rdfs:label "Nobody"@en .
"""


def write(folder, count, forms=4):
    """Nothing comes back: publication.ttl and makers/ are written, 500 makers a file, each with so many name forms (6 at most)."""
    (folder / "makers").mkdir(parents=True)
    (folder / "publication.ttl").write_text(PUBLICATION, "utf-8")
    names = _names(count)
    for start in range(0, count, PER_FILE):
        entries = [_entry(number, names, forms) for number in range(start, min(start + PER_FILE, count))]
        (folder / "makers" / f"{start // PER_FILE:04}.ttl").write_text("\n".join([HEAD, *entries]), "utf-8")


def _names(count):
    """So many different pairs of forename and surname."""
    chance = random.Random(42)
    names = {}
    while len(names) < count:
        surname = (
            chance.choice(OPENINGS)
            + "".join(chance.choices(MIDDLES, k=chance.choice((1, 2, 2, 3))))
            + chance.choice(ENDINGS)
        )
        names[chance.choice(FORENAMES), surname] = None
    return list(names)


def _slug(name):
    return f"{name[0]}-{name[1]}".lower()


def _entry(number, names, count=4):
    """The Turtle of one maker and its parts."""
    chance = random.Random(number)
    forename, surname = names[number]
    iri = f"maker/{_slug(names[number])}"
    born = chance.randrange(1500, 1850)
    begun, ended = born + 20, born + 50
    forms = (
        ("whole", f"{forename} {surname}", "asSigned"),
        ("initial", f"{forename[0]}. {surname}", "abbreviated"),
        ("latin", f"{forename}us {surname}ius", "latinised"),
        ("letters", f"{forename[0]}.{surname[0]}.", "initials"),
        ("genitive", f"{forename}i {surname}ii", "latinised"),
        ("cut", f"{forename[:3]}. {surname}", "abbreviated"),
    )[:count]
    lines = [
        f"<{iri}> a mg:Person",
        f'skos:prefLabel "{surname}, {forename}"@en',
        f'mg:born "{born}"^^edtf:EDTF',
        f'mg:died "{born + 60}~"^^edtf:EDTF',
        f'mg:active "{begun}/{ended}"^^edtf:EDTF',
        "mg:nameForm " + ", ".join(f"<{iri}#{name}>" for name, _, _ in forms),
        f"mg:workingPlace <{iri}#in-a-town>",
        f"mg:practised <{iri}#first>, <{iri}#second>",
    ]
    parts = []
    other = names[number - 1 - number % 3] if number > 3 else None
    if other and number % 3 == 0:
        lines.append(f"mg:comparedWith <maker/{_slug(other)}>")
    if other and number % 3 == 1:
        lines.append(f"mg:kin <{iri}#kin>")
        parts.append(f"<{iri}#kin> a mg:Kinship ; mg:relation mg:relative ; mg:to <maker/{_slug(other)}> .")
    for name, literal, kind in forms:
        parts.append(
            f'<{iri}#{name}> a mg:NameForm ; mg:literal "{literal}"@mul ; mg:formKind mg:{kind} ; mg:attestation <{iri}#{name}-seen> .'
        )
        parts.append(
            f'<{iri}#{name}-seen> a mg:Attestation ; mg:object "Invented collection {number}" ; mg:state "1" ; '
            f'mg:sheetPlace "lower right" ; mg:date "{begun + 5}"^^edtf:EDTF ; mg:transcription "{literal} sculp." ; mg:seen true .'
        )
    town = f"https://w3id.org/margent/place/{chance.choice(PLACES)}"
    parts.append(f'<{iri}#in-a-town> a mg:WorkingPlace ; mg:place <{town}> ; mg:period "{begun}/{ended}"^^edtf:EDTF .')
    for part, role in zip(("first", "second"), chance.sample(ROLES, 2), strict=True):
        parts.append(
            f'<{iri}#{part}> a mg:Practice ; mg:role <https://w3id.org/margent/role/{role}> ; mg:period "{begun}/{ended}"^^edtf:EDTF .'
        )
    return "\n".join([" ;\n    ".join(lines) + " .", *parts, ""])


if __name__ == "__main__":
    write(Path(sys.argv[2]), int(sys.argv[1]))

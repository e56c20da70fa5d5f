"""Pages of makers, families and marks, of an authority with invented ones."""

import pytest

from margent.faults import Fault, Faults
from margent.publishing.publish import publish

HEAD = """@base <https://{host}.example/> .
@prefix dcterms: <http://purl.org/dc/terms/> .
@prefix edtf: <http://id.loc.gov/datatypes/edtf/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix owl: <http://www.w3.org/2002/07/owl#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
"""

ENTRIES = """
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

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>'


def authority(folder, host="holm", entries=ENTRIES, drawing=SVG):
    """The folder of an authority of invented makers."""
    head = HEAD.replace("{host}", host)
    (folder / "marks" / "drawings").mkdir(parents=True)
    (folder / "publication.ttl").write_text(
        head + '<> a mg:Publication ; dcterms:title "Holms"@en ; mg:base <> ; mg:version "1" ; mg:dataFormat 1 .\n',
        encoding="utf-8",
    )
    (folder / "makers.ttl").write_text(head + entries, encoding="utf-8")
    if drawing:
        (folder / "marks" / "drawings" / "bh.svg").write_text(drawing, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def site(small, tmp_path_factory):
    folder = tmp_path_factory.mktemp("makers")
    publish(small / "vocab", small / "site", folder / "site", [authority(folder / "holm")])
    return folder / "site"


def text_of(site, path):
    return (site / path).read_text(encoding="utf-8")


def test_a_maker_answers_who_where_and_when_in_its_first_lines(site):
    page = text_of(site, "maker/berta-holm.html")
    plate = page[page.index('class="plate"') : page.index("<h2")]
    assert "engraver" in plate
    assert "Antwerp" in plate
    assert "active 1601 to 1630" in plate


def test_a_name_form_stands_with_where_it_was_met_and_by_whom(site):
    page = text_of(site, "maker/berta-holm.html")
    assert 'lang="nl" dir="auto">B. Holm</i>' in page
    met = page[page.index('class="met"') :]
    for part in ("B. Holm sc.", "lower right", "1612", "Room 1: A river", "state 2", "(quoted, not seen)"):
        assert part in met, part


def test_every_bar_has_its_years_in_words_beside_it(site):
    page = text_of(site, "maker/berta-holm.html")
    rows = page[page.index('class="spans"') : page.index('id="forms"')].split("<dt>")[1:]
    assert len(rows) == 4, "lived, active, one role, one place"
    for row in rows:
        assert 'class="bar" aria-hidden="true"' in row
        assert any(char.isdigit() for char in row[row.index("<dd>") : row.index("</dd>")])


def test_hands_that_are_confused_stand_side_by_side_on_both_pages(site):
    for path in ("maker/berta-holm.html", "maker/carl-holm.html"):
        page = text_of(site, path)
        table = page[page.index('class="beside"') : page.index("</table>", page.index('class="beside"'))]
        assert "dots" in table
        assert "long lines" in table


def test_kin_is_told_from_both_ends(site):
    child = text_of(site, "maker/carl-holm.html")
    tree = child[child.index('class="tree"') :]
    assert tree.index("Holm, Berta") < tree.index("Holm, Carl")
    assert "mother of" in child


def test_a_family_says_who_it_may_be_without_a_script(site):
    page = text_of(site, "maker/holm-family.html")
    decades = page[page.index('id="decades"') :]
    assert "1620–1629" in decades
    assert "1630–1639" in decades
    twenties = decades[decades.index("1620–1629") : decades.index("1630–1639")]
    assert "Holm, Berta" in twenties
    assert "Holm, Carl" not in twenties
    assert 'data-first="1640" data-last="1660"' in page, "what the script asks"


def test_a_mark_says_whom_it_may_stand_for_and_what_it_then_states(site):
    page = text_of(site, "mark/bh.html")
    answer = page[page.index('class="answer"') : page.index("</p>", page.index('class="answer"'))]
    assert "Holm, Berta" in answer
    assert "engraver" in answer
    assert 'src="../mark/bh.svg"' in page


def test_a_collectors_mark_says_that_it_names_no_maker(site):
    assert "says nothing of who made the print" in text_of(site, "mark/owl.html")


def test_a_withdrawn_maker_keeps_its_page_and_leaves_the_list(site):
    assert "Withdrawn." in text_of(site, "maker/gone.html")
    assert "maker/gone.html" not in text_of(site, "makers.html")


def test_roles_and_places_name_their_makers(site):
    assert "maker/berta-holm.html" in text_of(site, "role/engraver.html")
    assert "mark/bh.html" in text_of(site, "role/engraver.html")
    assert "maker/berta-holm.html" in text_of(site, "place/antwerp.html")


def test_the_drawing_lies_where_the_data_say(site):
    said = text_of(site, "data/holm/holm.nt")
    assert "<https://holm.example/mark/bh.svg>" in said
    assert (site / "mark" / "bh.svg").is_file()


def test_two_authorities_with_one_slug_keep_their_pages_apart(small, tmp_path):
    folders = [authority(tmp_path / "first"), authority(tmp_path / "second", "second")]
    publish(small / "vocab", small / "site", tmp_path / "site", folders)
    assert "https://holm.example/maker/carl-holm" in text_of(tmp_path / "site", "maker/carl-holm.html")
    assert "https://second.example/maker/carl-holm" in text_of(tmp_path / "site", "maker/second/carl-holm.html")
    assert (tmp_path / "site" / "mark" / "second" / "bh.svg").is_file()


def test_a_hostile_drawing_stops_the_build_with_its_line(small, tmp_path):
    folder = authority(tmp_path / "holm", drawing=SVG.replace("<path", "<script>alert(1)</script><path"))
    with pytest.raises(Faults, match=r"bh\.svg:1: the drawing holds <script>"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])
    assert not (tmp_path / "site").exists()


def test_a_drawing_that_is_not_there_is_told_with_the_marks_line(small, tmp_path):
    folder = authority(tmp_path / "holm", drawing=None)
    with pytest.raises(Fault, match=r"makers\.ttl:\d+: bh has the drawing bh\.svg, which is not below"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])


def test_a_drawing_outside_its_place_is_refused(small, tmp_path):
    folder = authority(tmp_path / "holm", entries=ENTRIES.replace("<mark/bh.svg>", "<mark/../../bh.svg>"))
    with pytest.raises(Fault, match="where no page can have it"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])

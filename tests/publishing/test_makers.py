"""Pages of makers, families and marks, of an authority with invented ones."""

import pytest

from margent.faults import Fault, Faults
from margent.publishing.publish import publish


@pytest.fixture(scope="module")
def site(small, holms, tmp_path_factory):
    folder = tmp_path_factory.mktemp("makers")
    publish(small / "vocab", small / "site", folder / "site", [holms.make(folder / "holm")])
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


def test_two_authorities_with_one_slug_keep_their_pages_apart(small, holms, tmp_path):
    folders = [holms.make(tmp_path / "first"), holms.make(tmp_path / "second", "second")]
    publish(small / "vocab", small / "site", tmp_path / "site", folders)
    assert "https://holm.example/maker/carl-holm" in text_of(tmp_path / "site", "maker/carl-holm.html")
    assert "https://second.example/maker/carl-holm" in text_of(tmp_path / "site", "maker/second/carl-holm.html")
    assert (tmp_path / "site" / "mark" / "second" / "bh.svg").is_file()


def test_a_hostile_drawing_stops_the_build_with_its_line(small, holms, tmp_path):
    folder = holms.make(tmp_path / "holm", drawing=holms.svg.replace("<path", "<script>alert(1)</script><path"))
    with pytest.raises(Faults, match=r"bh\.svg:1: the drawing holds <script>"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])
    assert not (tmp_path / "site").exists()


def test_a_drawing_that_is_not_there_is_told_with_the_marks_line(small, holms, tmp_path):
    folder = holms.make(tmp_path / "holm", drawing=None)
    with pytest.raises(Fault, match=r"makers\.ttl:\d+: bh has the drawing bh\.svg, which is not below"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])


def test_a_drawing_outside_its_place_is_refused(small, holms, tmp_path):
    folder = holms.make(tmp_path / "holm", entries=holms.entries.replace("<mark/bh.svg>", "<mark/../../bh.svg>"))
    with pytest.raises(Fault, match="where no page can have it"):
        publish(small / "vocab", small / "site", tmp_path / "site", [folder])

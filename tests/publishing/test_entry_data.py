"""What programs find beside and inside a page: the entry's own data, schema.org, canonical links, the sitemap."""

import gettext
import io
import json
import re
import xml.etree.ElementTree as ET

import pytest
from pyoxigraph import RdfFormat, parse

from margent.faults import Fault
from margent.publishing.messages import Language
from margent.publishing.publish import publish
from margent.publishing.schema_org import structured
from margent.publishing.sitemap import write_sitemap
from margent.publishing.tongue import Tongue
from margent.vocabulary.load import load

ADDRESS = "https://prints.example/margent/"


@pytest.fixture(scope="module")
def home(small, makers, tmp_path_factory):
    target = tmp_path_factory.mktemp("programs") / "site"
    publish(small / "vocab", small / "site", target, [makers], address=ADDRESS.rstrip("/"))
    return small, target, makers


@pytest.fixture(scope="module")
def site(home):
    return home[1]


def triples(text, form):
    return {quad.triple for quad in parse(io.BytesIO(text.encode("utf-8")), format=form)}


def test_the_files_of_entries_hold_together_what_the_dump_says_of_them(site):
    """Both forms of every entry are read by a general library; what the dump has besides are stages, schemes, the rules of reading and the publication."""
    context = json.loads((site / "data" / "context.jsonld").read_text(encoding="utf-8"))["@context"]
    turtle, linked = set(), set()
    for path in sorted(site.glob("*/*.ttl")):
        if path.parent.name != "data":
            turtle |= triples(path.read_text(encoding="utf-8"), RdfFormat.TURTLE)
            document = json.loads(path.with_suffix(".jsonld").read_text(encoding="utf-8"))
            assert (path.parent / document["@context"]).resolve() == (site / "data" / "context.jsonld").resolve()
            linked |= triples(json.dumps(document | {"@context": context}), RdfFormat.JSON_LD)
    dumped = set()
    for path in (site / "data" / "margent.nt", site / "data" / "invented-makers" / "invented-makers.nt"):
        dumped |= triples(path.read_text(encoding="utf-8"), RdfFormat.N_TRIPLES)
    assert turtle == linked
    rest = {triple.subject.value for triple in dumped - turtle}
    assert turtle < dumped
    assert rest
    assert all(re.search(r"/(scheme|stage|reading)/|/$|#publisher$", iri) for iri in rest), rest


def test_a_page_names_its_data_and_its_own_address(site):
    page = (site / "role" / "engraver.html").read_text(encoding="utf-8")
    assert '<link rel="alternate" type="text/turtle" href="../role/engraver.ttl">' in page
    assert '<link rel="alternate" type="application/ld+json" href="../role/engraver.jsonld">' in page
    assert f'<link rel="canonical" href="{ADDRESS}role/engraver.html">' in page
    assert f'<meta property="og:url" content="{ADDRESS}role/engraver.html">' in page
    assert '<meta property="og:title" content="engraver">' in page


def test_without_an_address_nothing_is_made_up(small, tmp_path):
    publish(small / "vocab", small / "site", tmp_path / "site")
    assert not (tmp_path / "site" / "sitemap.xml").exists()
    assert "canonical" not in (tmp_path / "site" / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("address", ["javascript:alert(1)", "prints", "https://x.example/?a=b", "ftp://x.example/"])
def test_what_is_no_address_is_refused(small, tmp_path, address):
    with pytest.raises(Fault, match="no address of a site"):
        publish(small / "vocab", small / "site", tmp_path / "site", address=address)
    assert not (tmp_path / "site").exists()


def test_the_sitemap_lists_every_page_once(site):
    found = [
        each.text for each in ET.parse(site / "sitemap.xml").iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")
    ]
    pages = {ADDRESS + path.relative_to(site).as_posix() for path in site.rglob("*.html")}
    assert len(found) == len(set(found))
    assert set(found) == pages


def test_a_large_sitemap_is_cut_into_files_that_the_protocol_allows(tmp_path):
    names = write_sitemap([f"a/{n}.html" for n in range(50_001)], ADDRESS, tmp_path)
    assert names == ["sitemap.xml", "sitemap-1.xml", "sitemap-2.xml"]
    assert (tmp_path / "sitemap-1.xml").read_text(encoding="utf-8").count("<loc>") == 50_000
    assert f"<loc>{ADDRESS}sitemap-2.xml</loc>" in (tmp_path / "sitemap.xml").read_text(encoding="utf-8")


def blocks(site, path):
    page = (site / path).read_text(encoding="utf-8")
    return [
        json.loads(each) for each in re.findall(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    ]


@pytest.mark.parametrize(
    ("path", "kind", "name"),
    [
        ("role/engraver.html", "DefinedTerm", "engraver"),
        ("term/la-sculpsit.html", "DefinedTerm", "sculpsit"),
        ("place/antwerp.html", "Place", "Antwerp"),
        ("source/handbook.html", "CreativeWork", "A handbook"),
        ("maker/anna-verrou.html", "Person", "Verrou, Anna"),
    ],
)
def test_an_entry_is_said_in_the_words_of_schema_org(site, path, kind, name):
    (said,) = blocks(site, path)
    assert said["@context"] == "https://schema.org"
    assert (said["@type"], said["name"]) == (kind, name)
    assert said["url"] == ADDRESS + path


def test_a_text_cannot_leave_its_element(home_with, tmp_path):
    home = home_with(tmp_path / "home", {'"Cut the plate."@en': '"</script><script>alert(1)</script>&lt;\u2028"@en'})
    vocabulary = load(home / "vocab")
    entry = vocabulary.roles["https://w3id.org/margent/role/engraver"]
    said = structured(entry, vocabulary, Tongue(Language("en", gettext.NullTranslations())), "")
    assert not set("<>&\u2028") & set(said)
    assert json.loads(said)["description"] == "</script><script>alert(1)</script>&lt;\u2028"

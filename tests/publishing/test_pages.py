import dataclasses
import gettext

import pytest

from margent.faults import Fault
from margent.publishing.messages import Language
from margent.publishing.pages import Pages
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Maker, Publication, Role, Text, Vocabulary

ENGLISH = Tongue(Language("en", gettext.NullTranslations()))
BASE = "https://w3id.org/margent/"


def vocabulary(*iris):
    roles = {iri: Role(iri=Iri(iri), labels=(Text("a role", "en"),), stage=Iri(BASE + "stage/x")) for iri in iris}
    publication = Publication(iri=Iri(BASE), titles=(Text("t", "en"),), base=Iri(BASE), version="1", data_format=1)
    return Vocabulary(publication=publication, roles=roles)


def test_an_entry_has_the_page_of_its_name():
    pages = Pages(vocabulary(BASE + "role/engraver"))
    assert pages.path(BASE + "role/engraver") == "role/engraver.html"
    assert pages.path(BASE + "role/nobody") == ""
    assert pages.name(BASE + "role/engraver", ENGLISH) == Text("a role", "en")
    assert pages.name(BASE + "role/nobody", ENGLISH) == Text("nobody", "")


@pytest.mark.parametrize(
    "slug", ["..", "a b", "%2e%2e", "A", "a.html", "a/../../b.", "-a", "a--b", "é", "", "a\n", "<script>"]
)
def test_a_name_that_is_not_fit_for_a_path_is_refused(slug):
    with pytest.raises(Fault, match="no page can have this name"):
        Pages(vocabulary(f"{BASE}role/{slug}"))


def with_makers(*slugs):
    makers = {
        iri: Maker(iri=Iri(iri), labels=(Text("a maker", "en"),), kind="Person")
        for iri in (f"{BASE}maker/{slug}" for slug in slugs)
    }
    return dataclasses.replace(vocabulary(), makers=makers)


def test_a_maker_may_bear_the_number_of_a_list():
    pages = Pages(with_makers("K-12", "A.1_b"))
    assert pages.path(BASE + "maker/K-12") == "maker/K-12.html"
    assert pages.path(BASE + "maker/A.1_b") == "maker/A.1_b.html"


@pytest.mark.parametrize("slug", ["..", ".a", "a.", "a b", "%2e", "a/../b.", "é", "<script>"])
def test_a_number_that_is_not_fit_for_a_path_is_refused(slug):
    with pytest.raises(Fault, match="no page can have this name"):
        Pages(with_makers(slug))


def test_two_makers_that_differ_in_capitals_never_write_one_page():
    with pytest.raises(Fault, match=r"another entry already has the page maker/k-12\.html"):
        Pages(with_makers("K-12", "k-12"))


def test_two_entries_never_write_one_page():
    with pytest.raises(Fault, match=r"another entry already has the page role/engraver\.html"):
        Pages(vocabulary(BASE + "role/engraver", "https://elsewhere.example/role/engraver"))

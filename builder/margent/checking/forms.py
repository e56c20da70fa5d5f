"""Rules about letters: whether a slug fits its form, and whether terms that are written alike say so."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from typing import NewType

from pyoxigraph import Literal, NamedNode

from margent.checking.findings import Hit, Rule, filled
from margent.checking.material import Material
from margent.checking.wording import Wording
from margent.vocabulary.edtf import years
from margent.vocabulary.namespaces import expand
from margent.vocabulary.slugs import slug

SLUG = Rule(
    "Y007",
    "violation",
    "has an IRI that does not fit its literal form {literal}",
    "write <term/{slug}>",
    "An editor finds the page of a term by its form; two forms of IRI for one habit would hide entries from each other.",
)
HOMOGRAPH = Rule(
    "Y008",
    "violation",
    "is written like {other}, and neither says so",
    "merge the two, or add mg:homographOf to the later one",
    "Two entries for one word are most often one entry written twice; where they are not, the reader must know both.",
)
DATE = Rule(
    "Y011",
    "violation",
    "has a date that runs backwards or does not exist: {value}",
    "write the earlier year first",
    "Dates are compared when senses and makers are weighed; one that cannot be read would be passed over in silence.",
)
RULES = (SLUG, HOMOGRAPH, DATE)

NormalForm = NewType("NormalForm", str)
"""A form in the letters of a slug, without what separates its words; equal for forms that are written alike."""

_LITERAL = NamedNode(expand("skosxl:literalForm"))
_HOMOGRAPH_OF = NamedNode(expand("mg:homographOf"))
_TERM = NamedNode(expand("mg:Term"))
_EDTF = expand("edtf:EDTF")
# The longest slug that must be whole.
_LONG = 60
_SLUG = re.compile(r"[a-z0-9-]+")
_NUMBER = re.compile(r"-[2-9]$")


def normal_form(text: str) -> NormalForm:
    """The slug without its hyphens.

    >>> normal_form("H. C.") == normal_form("h.c.") == "hc"
    True
    """
    return NormalForm(slug(text).replace("-", ""))


def form_hits(material: Material) -> list[Hit]:
    """The breaches of the rules of this module in the checked files."""
    return [*_slugs(material), *_homographs(material), *_dates(material)]


def _literals(material: Material) -> dict[str, Literal]:
    """The IRI of each term, in all files, with its first literal form."""
    terms = {iri for iri, kinds in material.types.items() if _TERM.value in kinds}
    found: dict[str, Literal] = {}
    for triple in material.triples():
        if triple.predicate == _LITERAL and isinstance(triple.object, Literal) and triple.object.language:
            assert isinstance(triple.subject, NamedNode)
            if triple.subject.value in terms:
                found.setdefault(triple.subject.value, triple.object)
    return found


def _slugs(material: Material) -> Iterator[Hit]:
    """The terms whose IRI is not made of language and form."""
    wording = Wording(material.bases)
    for iri, literal in _literals(material).items():
        has = iri.rsplit("/", 1)[-1]
        wanted = f"{literal.language}-{slug(literal.value)}"
        # A slug with other letters is told by the shape of a term.
        if iri in material.subjects and _SLUG.fullmatch(has) and not _fits(has, wanted):
            words = {"literal": wording.value(literal), "slug": wanted}
            yield Hit(SLUG.id, SLUG.severity, iri, filled(SLUG.wrong, **words), filled(SLUG.mend, **words))


def _fits(has: str, wanted: str) -> bool:
    """True when one slug may stand for the other: hyphens may be left out, homographs numbered, long forms cut.

    >>> _fits("mul-hc", "mul-h-c"), _fits("la-x-2", "la-x"), _fits("la-x-y", "la-x-z")
    (True, True, False)
    """
    if wanted.replace("-", "") in {has.replace("-", ""), _NUMBER.sub("", has).replace("-", "")}:
        return True
    if len(wanted) <= _LONG:
        return False
    # A whole sentence would make an address that nobody can read out: its words may be left out, but not changed.
    words = iter(wanted.split("-"))
    return all(word in words for word in has.split("-"))


def _homographs(material: Material) -> Iterator[Hit]:
    """The terms written like an earlier one, where neither is linked to the other by mg:homographOf, even by way of a third."""
    wording = Wording(material.bases)
    group: dict[str, str] = {}

    def leader(iri: str) -> str:
        while (above := group.get(iri, iri)) != iri:
            iri = above
        return iri

    for triple in material.triples():
        if triple.predicate == _HOMOGRAPH_OF and isinstance(triple.object, NamedNode):
            assert isinstance(triple.subject, NamedNode)
            one, other = leader(triple.subject.value), leader(triple.object.value)
            if one != other:
                group[one] = other
    alike: dict[tuple[str | None, NormalForm], list[str]] = {}
    for iri, literal in sorted(_literals(material).items()):
        alike.setdefault((literal.language, normal_form(literal.value)), []).append(iri)
    for terms in alike.values():
        for before, term in itertools.pairwise(terms):
            if leader(before) != leader(term) and not material.subjects.isdisjoint((before, term)):
                late, early = (term, before) if term in material.subjects else (before, term)
                wrong = filled(HOMOGRAPH.wrong, other=wording.iri(early))
                yield Hit(HOMOGRAPH.id, HOMOGRAPH.severity, late, wrong, HOMOGRAPH.mend, _LITERAL.value)


def _dates(material: Material) -> Iterator[Hit]:
    """The dates that look like dates but allow no year."""
    for file in material.files:
        for triple in file.triples:
            value = triple.object
            if isinstance(value, Literal) and value.datatype.value == _EDTF and isinstance(triple.subject, NamedNode):
                try:
                    years(value.value)
                except ValueError:
                    wrong = filled(DATE.wrong, value=value.value)
                    yield Hit(
                        DATE.id, DATE.severity, triple.subject.value, wrong, DATE.mend, triple.predicate.value, value
                    )

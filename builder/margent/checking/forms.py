"""Rules about letters in one file: whether a slug fits its form, and whether a date can be."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import NewType

from pyoxigraph import Literal, NamedNode

from margent.checking.findings import Hit, Rule, filled
from margent.checking.material import Material, Source
from margent.checking.statements import Statement
from margent.publishing.character_table import folded_words
from margent.vocabulary.edtf import years
from margent.vocabulary.namespaces import expand
from margent.vocabulary.slugs import slug

SLUG = Rule(
    "Y007",
    "violation",
    "has an IRI that does not fit its literal form {literal}",
    "write <term/{slug}>, or correct the literal form",
    "An editor finds the page of a term by its form; two forms of IRI for one habit would hide entries from each other.",
)
DATE = Rule(
    "Y011",
    "violation",
    "has a date that runs backwards or does not exist: {value}",
    "write the earlier year first",
    "Dates are compared when senses and makers are weighed; one that cannot be read would be passed over in silence.",
)
READ_ALIKE = Rule(
    "X047",
    "warning",
    "gives {value}, which is read like {other}",
    "remove it: capitals, accents, stops, hyphens and apostrophes are passed over when a lettering is read",
    "What a rule makes anyway only lengthens the list, and hides the spellings that no rule makes.",
)
INVISIBLE = Rule(
    "Y014",
    "violation",
    "has an invisible character, {character}, in the text {value}",
    "remove it; it may have come along when the text was copied",
    "Nobody sees it, and two texts that look the same are not; some turn the letters about or act on a screen.",
)
RULES = (SLUG, DATE, READ_ALIKE, INVISIBLE)

NormalForm = NewType("NormalForm", str)
"""A form in the letters of a slug, without what separates its words; equal for forms that are written alike."""

TERM = expand("mg:Term")
_EDTF = NamedNode(expand("edtf:EDTF"))
# The longest slug that must be whole.
_LONG = 60
# Of two forms that are read alike the one further back is told.
_FORMS = tuple(map(expand, ("skosxl:literalForm", "mg:variantForm", "mg:shortForm")))
_SLUG = re.compile(r"[a-z0-9-]+")
_NUMBER = re.compile(r"-[2-9]$")
# Controls but for a tab and the end of a line, marks of direction, and spaces of no width. What parts or joins letters in some
# scripts (U+00AD, U+200C, U+200D) is let alone.
_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]")
# Whether a file can have one: as bytes, or written as an escape. The lead bytes are those of the characters above.
_MAY_HAVE_UNSEEN = re.compile(rb"[\x00-\x08\x0b-\x1f\x7f]|\xc2[\x80-\x9f]|\xe2[\x80\x81]|\xef[\xbb\xbf]|\\[uUbfr]")


def normal_form(text: str) -> NormalForm:
    """The slug without its hyphens.

    >>> normal_form("H. C.") == normal_form("h.c.") == "hc"
    True
    """
    return NormalForm(slug(text).replace("-", ""))


def form_hits(source: Source, said: Sequence[Statement], material: Material) -> list[Hit]:
    """The breaches of the rules of this module by what is said of some entries of a file."""
    return [
        *_slugs(source, said, material),
        *_dates(said),
        *_read_alike(said, material),
        *_invisible(source, said, material),
    ]


def _slugs(source: Source, said: Sequence[Statement], material: Material) -> Iterator[Hit]:
    """The terms whose IRI is not made of language and form."""
    for iri in dict.fromkeys(subject for subject, predicate, *_ in said if predicate == _FORMS[0]):
        if iri not in source.facts.literals or TERM not in material.types(iri):
            continue
        text, language = source.facts.literals[iri]
        has = iri.rsplit("/", 1)[-1]
        wanted = f"{language}-{slug(text)}"
        # A slug with other letters is told by the shape of a term.
        if _SLUG.fullmatch(has) and not _fits(has, wanted):
            words = {"literal": material.wording.value(Literal(text, language=language)), "slug": wanted}
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


def _dates(said: Sequence[Statement]) -> Iterator[Hit]:
    """The dates that look like dates but allow no year."""
    for subject, predicate, value, _ in said:
        if not isinstance(value, Literal) or value.datatype != _EDTF or is_possible(value.value):
            continue
        if subject:
            wrong = filled(DATE.wrong, value=value.value)
            yield Hit(DATE.id, DATE.severity, subject, wrong, DATE.mend, predicate, value)


def _read_alike(said: Sequence[Statement], material: Material) -> Iterator[Hit]:
    """The forms of a term that come to the same folded words as another one: the reader sees the two as one."""
    forms: dict[str, list[tuple[int, int, str, Literal]]] = {}
    for subject, predicate, value, _ in said:
        if predicate in _FORMS and isinstance(value, Literal):
            # of two that stand alike, the one with more accents and signs says more to whoever reads the page
            signs = sum(char.isascii() and char.isalnum() for char in value.value) - len(value.value)
            forms.setdefault(subject, []).append((_FORMS.index(predicate), signs, value.value, value))
    for term, of in forms.items():
        if len(of) > 1 and TERM in material.types(term):
            seen: dict[tuple[str, ...], Literal] = {}
            for rank, _, text, value in sorted(of, key=lambda form: form[:3]):
                other = seen.setdefault(tuple(folded_words(text)), value)
                if other.value != text:  # the same twice is told by X040 and X041
                    words = {"value": material.wording.value(value), "other": material.wording.value(other)}
                    wrong = filled(READ_ALIKE.wrong, **words)
                    yield Hit(READ_ALIKE.id, READ_ALIKE.severity, term, wrong, READ_ALIKE.mend, _FORMS[rank], value)


def _invisible(source: Source, said: Sequence[Statement], material: Material) -> Iterator[Hit]:
    """The texts with a character in them that nobody sees."""
    if not _MAY_HAVE_UNSEEN.search(source.data):
        return
    for subject, predicate, value, _ in said:
        if subject and isinstance(value, Literal) and (unseen := _UNSEEN.search(value.value)):
            words = {"character": f"U+{ord(unseen[0]):04X}", "value": material.wording.value(value)}
            wrong = filled(INVISIBLE.wrong, **words)
            yield Hit(INVISIBLE.id, INVISIBLE.severity, subject, wrong, INVISIBLE.mend, predicate, value)


def without_invisible(text: str) -> str:
    """The text without the characters that nobody sees."""
    return _UNSEEN.sub("", text)


@cache
def is_possible(date: str) -> bool:
    """True for a date that allows a year; the same few hundred dates come again and again."""
    try:
        years(date)
    except ValueError:
        return False
    return True

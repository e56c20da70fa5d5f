"""The site's words for languages, periods and the choices of the ontology."""

from __future__ import annotations

from margent.vocabulary.model import Edtf

# In the order in which the site lists them: Latin first, as on prints.
LANGUAGES = {
    "la": "Latin",
    "fr": "French",
    "it": "Italian",
    "de": "German",
    "nl": "Dutch",
    "en": "English",
    "es": "Spanish",
    "pt": "Portuguese",
    "mul": "Signs of any language",
}

KINDS = {"word": "word", "abbreviation": "abbreviation", "phrase": "phrase", "siglum": "siglum"}

WORKED_ON = {
    "model": "the model",
    "drawing": "the drawing",
    "plate": "the plate, block or stone",
    "impression": "the impression",
    "publication": "the publication",
}

WHERE_THE_NAME_STANDS = {
    "nameBefore": "before it",
    "nameAfter": "after it",
    "nameEither": "before or after it",
}

AXES = {
    "certainty": ("How sure", "How sure the attribution is, the surest first."),
    "nearness": ("How near", "How near the unnamed hand stood to the named maker, the nearest first."),
    "relation": ("From what model", "How the print relates to a model by the named maker, the most direct first."),
}


def language_name(tag: str) -> str:
    """The English name of a language, or the tag where we have no name for it."""
    return LANGUAGES.get(tag, tag)


def in_years(period: Edtf) -> str:
    """An EDTF date or interval for reading: `1500 to 1900`, `from 1430`, `about 1671`."""
    first, slash, last = period.partition("/")
    if not slash:
        return _date(first)
    if first in ("", ".."):
        return f"until {_date(last)}"
    if last in ("", ".."):
        return f"from {_date(first)}"
    return f"{_date(first)} to {_date(last)}"


def _date(text: str) -> str:
    """One date: approximate ones say so, an unknown last figure makes a decade or a century."""
    bare = text.rstrip("?~%")
    if bare.endswith("XX") and bare[:-2].isdigit():
        bare = f"the {bare[:-2]}00s"
    elif bare.endswith("X") and bare[:-1].isdigit():
        bare = f"the {bare[:-1]}0s"
    if text.endswith(("~", "%")):
        bare = f"about {bare}"
    return f"{bare} (uncertain)" if text.endswith(("?", "%")) else bare


def in_bytes(size: int) -> str:
    """A size for reading, in thousands: `14.3 MB`."""
    for unit, step in (("MB", 1_000_000), ("kB", 1_000)):
        if size >= step:
            return f"{size / step:.1f} {unit}"
    return f"{size} bytes"


def share_of(part: int, total: int) -> str:
    """A share in whole hundredths, for reading; `under 1 %` rather than none where there is some."""
    if not total:
        return "none"
    share = round(100 * part / total)
    if part and not share:
        return "under 1 %"
    return f"{share} %"

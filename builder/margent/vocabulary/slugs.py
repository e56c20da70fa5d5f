"""The form of a text in the letters of a slug, which ends IRIs and names pages."""

from __future__ import annotations

import re
import unicodedata

_SPELT_OUT = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "&": " et "}
)


def slug(text: str) -> str:
    """The form in the letters of a slug: accents dropped, everything between words a hyphen.

    >>> slug("gravé à l'eau-forte"), slug("Ætzer")
    ('grave-a-l-eau-forte', 'aetzer')
    """
    plain = "".join(
        char
        for char in unicodedata.normalize("NFD", text.lower().translate(_SPELT_OUT))
        if not unicodedata.combining(char)
    )
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")

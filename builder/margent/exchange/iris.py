"""Whether a text from elsewhere may stand as an IRI in our files."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

LONGEST = 500


def is_iri(text: str) -> bool:
    """Whether the text is a whole IRI that Turtle can hold; it is never looked at."""
    if (
        len(text) > LONGEST
        or not text.startswith(("http://", "https://", "urn:"))
        or re.search(r"[\s<>\"{}|^`\\]", text)
    ):
        return False
    try:
        parts = urlsplit(text)
    except ValueError:
        return False
    return bool(parts.netloc) or parts.scheme == "urn"

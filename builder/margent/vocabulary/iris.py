"""Whether a text from elsewhere may stand as an IRI or as a tag of language in our files."""

from __future__ import annotations

import re

from pyoxigraph import NamedNode

LONGEST = 500
"""Characters of an IRI at most, as the check has it."""

_OURS = re.compile(r"(?:https?://[^\s<>\"{}|^`\\]+|urn:[^\s<>\"{}|^`\\]+)\Z")
_TAG = re.compile(r"[a-z]{2,3}(?:-[a-z0-9]{2,8})*\Z")


def is_iri(text: str) -> bool:
    """Whether the text is a whole IRI that Turtle can hold; it is never looked at.

    >>> is_iri("https://x.example/a"), is_iri("x.example/a"), is_iri("https://x.example/a%zz"), is_iri("mailto:a@x.example")
    (True, False, False, False)
    """
    if len(text) > LONGEST or not _OURS.match(text):
        return False
    try:
        NamedNode(text)
    except ValueError:
        return False
    return True


def is_language(tag: str) -> bool:
    """Whether the text is a tag of a language, in small letters: `en`, `la`, `zh-hant`."""
    return bool(_TAG.match(tag))

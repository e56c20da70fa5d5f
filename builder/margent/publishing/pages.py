"""Where each entry's page lies and how a page speaks of it: paths, labels, addresses that may be followed."""

from __future__ import annotations

import re
from urllib.parse import urlsplit

from margent.faults import Fault
from margent.vocabulary.model import Iri, Labelled, Vocabulary

# The table of the Vocabulary -> the folder of its pages, which is also how their IRIs go on after the base.
FOLDERS = {
    "roles": "role",
    "terms": "term",
    "notice_kinds": "notice",
    "qualifiers": "qualifier",
    "places": "place",
    "sources": "source",
}

_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


class Pages:
    """Knows the page of every entry that has one."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._paths: dict[str, str] = {}
        for table, folder in FOLDERS.items():
            for iri in getattr(vocabulary, table):
                slug = _slug(iri)
                path = f"{folder}/{slug}.html"
                if path in self._paths.values():
                    raise Fault(f"{iri}: another entry already has the page {path}; rename one of the two")
                self._paths[iri] = path
        for stage in vocabulary.stages:
            self._paths[stage] = f"roles.html#{_slug(stage)}"

    def path(self, iri: str) -> str:
        """The path of the page below the site, or the empty text where there is none."""
        return self._paths.get(iri, "")

    def label(self, iri: Iri) -> str:
        """What the entry is called in English, or the last part of its IRI."""
        vocabulary = self.vocabulary
        for table in (
            vocabulary.roles,
            vocabulary.notice_kinds,
            vocabulary.places,
            vocabulary.qualifiers,
            vocabulary.stages,
            vocabulary.forenames,
        ):
            entry = table.get(iri)
            if isinstance(entry, Labelled):
                return entry.label()
        if iri in vocabulary.terms:
            return vocabulary.terms[iri].literal.value
        if iri in vocabulary.sources:
            return vocabulary.sources[iri].title.value
        return re.split(r"[/#]", iri.rstrip("/#"))[-1] or iri

    def language(self, iri: Iri) -> str:
        """The language of that label, empty for English, which is the language of the pages."""
        vocabulary = self.vocabulary
        if iri in vocabulary.terms:
            tag = vocabulary.terms[iri].language
        elif iri in vocabulary.sources:
            tag = vocabulary.sources[iri].title.lang
        else:
            return ""
        return "" if tag == "en" else tag


def followable(iri: str) -> str:
    """The address where a page may link to it (http and https only), else the empty text: `javascript:` stays plain text."""
    try:
        parts = urlsplit(iri)
    except ValueError:
        return ""
    return iri if parts.scheme in ("http", "https") and parts.netloc else ""


def _slug(iri: str) -> str:
    """The last part of the IRI; raises Fault where it is not fit for a path, whatever else would come of it."""
    slug = iri.rsplit("/", 1)[-1]
    if not _SLUG.fullmatch(slug):
        raise Fault(f"{iri}: no page can have this name; end the IRI in small letters, figures and hyphens")
    return slug

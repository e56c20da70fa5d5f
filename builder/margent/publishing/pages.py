"""Where each entry's page lies and how a page speaks of it: paths, names, addresses that may be followed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from urllib.parse import urlsplit

from margent.faults import Fault
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Text, Vocabulary

# The table of the Vocabulary -> the folder of its pages, which is also how their IRIs go on after the base.
FOLDERS = {
    "roles": "role",
    "terms": "term",
    "notice_kinds": "notice",
    "qualifiers": "qualifier",
    "places": "place",
    "sources": "source",
    "forenames": "forename",
    "makers": "maker",
    "marks": "mark",
}

_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_LISTED_SLUG = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]*[A-Za-z0-9])?")
"""Makers may bear the numbers of a list, which keep their capitals and points."""


class Pages:
    """Knows the page of every entry that has one; `prefixes` are the folders that keep the pages of authorities apart."""

    def __init__(self, vocabulary: Vocabulary, prefixes: Sequence[str] = ()) -> None:
        self.vocabulary = vocabulary
        self._paths: dict[str, str] = {}
        taken: set[str] = set()
        apart = [
            (publication.base, prefix)
            for publication, prefix in zip(vocabulary.authorities, prefixes, strict=False)
            if prefix
        ]
        for table, folder in FOLDERS.items():
            for iri in getattr(vocabulary, table):
                prefix = next((prefix for base, prefix in apart if iri.startswith(base)), "")
                path = f"{folder}/{prefix}{_slug(iri, _LISTED_SLUG if table == 'makers' else _SLUG)}.html"
                if path.lower() in taken:  # on many disks the two would be one file
                    raise Fault(f"{iri}: another entry already has the page {path}; rename one of the two")
                self._paths[iri] = path
                taken.add(path.lower())
        for stage in vocabulary.stages:
            self._paths[stage] = f"roles.html#{_slug(stage)}"

    def path(self, iri: str) -> str:
        """The path of the page below the site, or the empty text where there is none."""
        return self._paths.get(iri, "")

    def name(self, iri: Iri, tongue: Tongue) -> Text:
        """What the entry is called, in the language of the page where it has a name in it; else the last part of its IRI."""
        texts = self._names(iri)
        return tongue.best(texts) or Text(re.split(r"[/#]", iri.rstrip("/#"))[-1] or iri, "")

    def _names(self, iri: Iri) -> tuple[Text, ...]:
        vocabulary = self.vocabulary
        for table in (
            vocabulary.makers,
            vocabulary.roles,
            vocabulary.notice_kinds,
            vocabulary.places,
            vocabulary.qualifiers,
            vocabulary.stages,
            vocabulary.forenames,
            vocabulary.marks,
        ):
            entry = table.get(iri)
            if entry is not None:
                labels: tuple[Text, ...] = entry.labels
                return labels
        if iri in vocabulary.terms:
            return (vocabulary.terms[iri].literal,)
        return (vocabulary.sources[iri].title,) if iri in vocabulary.sources else ()


def followable(iri: str) -> str:
    """The address where a page may link to it (http and https only), else the empty text: `javascript:` stays plain text."""
    try:
        parts = urlsplit(iri)
    except ValueError:
        return ""
    return iri if parts.scheme in ("http", "https") and parts.netloc else ""


def _slug(iri: str, form: re.Pattern[str] = _SLUG) -> str:
    """The last part of the IRI; raises Fault where it is not fit for a path, whatever else would come of it."""
    slug = iri.rsplit("/", 1)[-1]
    if not form.fullmatch(slug):
        raise Fault(f"{iri}: no page can have this name; end the IRI in letters, figures and hyphens")
    return slug

"""The entry that may be meant by a reference that leads nowhere: one of the same name elsewhere, or the most like in letters."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from pyoxigraph import NamedNode

from margent.checking.findings import Hit
from margent.checking.material import Material

_NEAR = 0.75  # less alike, another entry is no help
_MOST = 30  # where hundreds of references lead nowhere, a file is missing, and no name is misspelt


def with_the_nearest(hits: Iterable[Hit], stuff: Material) -> list[Hit]:
    """The hits; those about a reference that leads nowhere name the entry that may be meant, where there is one."""
    hits = list(hits)
    lost = {hit.value.value: "" for hit in hits if isinstance(hit.value, NamedNode) and stuff.lacks(hit.value.value)}
    if not lost or len(lost) > _MOST:
        return hits
    folders: dict[str, list[str]] = {}
    tails: dict[str, str] = {}
    for iri in stuff.places:
        path, _, name = iri.rpartition("/")
        folders.setdefault(path, []).append(name)
        tails.setdefault(_tail(iri), iri)
    for iri in lost:
        path, _, name = iri.rpartition("/")
        there = folders.get(path, [])
        longer = [each for each in there if each.startswith(f"{name}-") and "#" not in each]
        near = longer[:1] or difflib.get_close_matches(name, there, 1, _NEAR)
        lost[iri] = tails.get(_tail(iri)) or (f"{path}/{near[0]}" if near else "")
    return [
        hit._replace(mend=f"{hit.mend}; <{meant}> is there, if that is meant")
        if isinstance(hit.value, NamedNode) and (meant := lost.get(hit.value.value))
        else hit
        for hit in hits
    ]


def _tail(iri: str) -> str:
    """The last two parts of the IRI: `place/antwerp`, whatever the publication."""
    return "/".join(iri.rsplit("/", 2)[-2:])

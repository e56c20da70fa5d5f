"""The file in which a new entry belongs: beside its like, where there is room, else in one named for what it will hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from pathlib import Path

from pyoxigraph import NamedNode

from margent.vocabulary.authority_files import MOST_ENTRIES, AuthorityFolder
from margent.vocabulary.entry import named
from margent.vocabulary.slugs import slug


def term_file(authority: AuthorityFolder, language: str, says: Collection[str], stage_of: dict[str, str]) -> Path:
    """The file for a term of that language: the one with the most terms of the language that say things of the same stage.

    `stage_of` has the stage of each role by IRI. Without such a file it is the one with most terms of the language.
    """
    start = f"{authority.base}term/{language}-"
    stages = {stage_of.get(said, "") for said in says}
    alike: Counter[Path] = Counter()
    of_language: Counter[Path] = Counter()
    predicate = named("mg:says")
    for path, entries in authority.by_file.items():
        if len(entries) >= MOST_ENTRIES:
            continue
        for iri, entry in entries.items():
            if not iri.startswith(start):
                continue
            of_language[path] += 1
            said = {
                each.object.value
                for each in entry.triples
                if each.predicate == predicate and isinstance(each.object, NamedNode)
            }
            alike[path] += bool(said & set(says)) or bool({stage_of.get(one, "-") for one in said} & stages)
    for counted in (alike, of_language):
        best = max(counted.items(), key=lambda item: (item[1], str(item[0])), default=None)
        if best is not None and best[1]:
            return best[0]
    return with_room(authority, "terms", language)


def lettered_file(authority: AuthorityFolder, room: str, name: str) -> Path:
    """The file of a room named for the first letter of a name: of a maker's authorised name, of a mark's letters or device."""
    return with_room(authority, room, (slug(name) or "other")[0])


def with_room(authority: AuthorityFolder, room: str, stem: str) -> Path:
    """The first of the files `stem.ttl`, `stem-2.ttl` and so on that has room for one entry more."""
    number = 1
    while True:
        path = authority.folder / room / f"{stem if number == 1 else f'{stem}-{number}'}.ttl"
        if len(authority.by_file.get(path, ())) < MOST_ENTRIES:
            return path
        number += 1

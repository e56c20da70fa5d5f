"""The look-up as the last run left it, brought up to date: only shards in which an entry that changed is found are cut anew."""

from __future__ import annotations

import hashlib
import json
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from margent.publishing.into_place import Built
from margent.publishing.kept_entries import Change
from margent.publishing.look_up import Found, Row, entries, rows_of
from margent.publishing.look_up_keys import Keys
from margent.publishing.look_up_shards import Known, path_of, shards, write_index, write_look_up, write_shards
from margent.publishing.pages import Pages
from margent.vocabulary.model import Iri, Vocabulary

MOST_CHANGES = 200
"""Of more entries than these it is not asked who mentions them: everything is cut anew."""

SPELLING = "name_rules"
"""The table from which keys are made: where it changes, every key may."""


def look_up(
    vocabulary: Vocabulary,
    pages: Pages,
    built: Built,
    kept: Path,
    digest: str,
    changes: Sequence[Change],
    texts: Mapping[Iri, str],
) -> str:
    """The digest of what is kept now in the file `kept`; the look-up is part of the site that is built.

    `digest` is that of the last run, empty where nothing may be built upon; `changes` are those since, and `texts` those of
    all entries.
    """
    known = _read(kept, digest) if digest and len(changes) <= MOST_CHANGES else None
    if known is None or any(change.table == SPELLING for change in changes):
        return _keep(write_look_up(vocabulary, pages, built.new), kept)
    changed = {change.iri for change in changes}
    concerned = changed | {iri for iri, text in texts.items() if any(each in text for each in changed)}
    keys = Keys(vocabulary)
    dirty = _exchange(known, concerned, vocabulary, pages, keys)
    former, known.shards = known.shards, {}
    names = sorted(former)

    def stands(name: str) -> bool:
        place = bisect_left(dirty, name)
        if name not in former or (place < len(dirty) and dirty[place].startswith(name)):
            return False
        end = bisect_left(names, name + chr(0x10FFFF))
        own = names[bisect_left(names, name) : end]
        if not built.stands(*map(path_of, own)):
            return False
        known.shards |= {each: former[each] for each in own}
        return True

    write_shards(known, shards(known.rows, stands), built.new)
    write_index(known, vocabulary, keys, built.new)
    return _keep(known, kept) if dirty else digest


def _exchange(known: Known, concerned: Iterable[Iri], vocabulary: Vocabulary, pages: Pages, keys: Keys) -> list[str]:
    """The keys of all rows that came or went, sorted: those of the entries concerned are made anew."""
    among = set(concerned)
    old = {known.found[iri].page: iri for iri in among if iri in known.found}
    before = {row for row in known.rows if row.page in old}
    found_before = {iri: known.found.pop(iri) for iri in old.values()}
    after: set[Row] = set()
    retold: set[str] = set()
    for iri, found, forms in entries(vocabulary, pages, keys, among):
        known.found[iri] = found
        after.update(rows_of(found, forms, keys))
        if found_before.get(iri) != found:
            retold.add(found.page)
    come, gone = after - before, before - after
    if come or gone:
        known.rows = sorted([*(row for row in known.rows if row not in gone), *come])
    return sorted({row.key for row in (*come, *gone)} | {row.key for row in after if row.page in retold})


def _read(kept: Path, digest: str) -> Known | None:
    """What is kept; None where it is not what the last run left."""
    try:
        data = kept.read_bytes()
        if hashlib.sha256(data).hexdigest() != digest:
            return None
        told = json.loads(data)
        rows = [Row._make(row) for row in told["rows"]]
        return Known(rows, {iri: Found._make(found) for iri, found in told["found"].items()}, told["shards"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _keep(known: Known, kept: Path) -> str:
    """The digest of what is kept from now on; empty where it cannot be, for it only saves time."""
    told = {"rows": known.rows, "found": known.found, "shards": known.shards}
    data = json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        beside = kept.with_suffix(".new")
        beside.write_bytes(data)
        beside.replace(kept)
    except OSError:
        return ""
    return hashlib.sha256(data).hexdigest()

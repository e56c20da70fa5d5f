"""The answers of the rules across entries: of each rule the kept one, where nothing it asks for has changed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from hashlib import blake2b
from pathlib import Path

from margent.checking import duplicates
from margent.checking.facts import MAKERS, facts_of
from margent.checking.findings import Hit
from margent.checking.kept import Kept
from margent.checking.material import Material, Source
from margent.checking.queries import Query, asked_keys, hits, queries, store_of, triples_of


def query_hits(material: Material, folder: Path, kept: Kept) -> list[Hit]:
    """The breaches of the rules across entries, by subjects of the checked files."""
    name = "\0".join(str(each.path.resolve()) for each in (*material.checked, *material.beside))
    found: list[Hit] = []
    open_questions: list[tuple[Query, str]] = []
    who = [[each.path.name, len(each.files)] for each in material.checked]
    checked = blake2b(json.dumps([who, material.bases]).encode(), digest_size=12).hexdigest()
    asked = asked_keys(folder)
    for query in queries(folder):
        if query.of_a_file:
            continue
        digest = _digest(query.text, query.keys, material, checked)
        known = kept.hits("rule", f"{query.rule.id}\0{name}", digest)
        if known is None:
            open_questions.append((query, digest))
        else:
            found += known
    if open_questions:
        wanted = frozenset(key for query, _ in open_questions for key in query.keys)
        store = store_of(triples_of(_lines(material.known_files, wanted, asked, kept)))
        for query, digest in open_questions:
            answer = list(hits(query, store, material.is_checked, material.wording))
            kept.keep_hits("rule", f"{query.rule.id}\0{name}", digest, answer)
            found += answer
    # No query: names are compared letter by letter. When its answer holds is the same matter.
    digest = _digest(duplicates.RULE.id, frozenset({MAKERS}), material, checked)
    known = kept.hits("rule", f"{duplicates.RULE.id}\0{name}", digest)
    if known is None:
        makers = duplicates.makers_of(_lines(material.known_files, frozenset({MAKERS}), asked, kept))
        known = list(duplicates.duplicate_hits(makers, material.is_checked, material.wording))
        kept.keep_hits("rule", f"{duplicates.RULE.id}\0{name}", digest, known)
    return found + known


def _digest(text: str, asked: frozenset[str], material: Material, checked: str) -> str:
    """The digest of everything that the answer of a rule follows from."""
    digest = blake2b(f"{text}\0{checked}".encode(), digest_size=16)
    keys = sorted(asked)
    for each in sorted(
        (number, key, file.facts.digests[key])
        for number, file in enumerate(material.known_files)
        for key in keys
        if key in file.facts.digests
    ):
        digest.update(repr(each).encode())
    return digest.hexdigest()


def _lines(files: Sequence[Source], wanted: frozenset[str], asked: frozenset[str], kept: Kept) -> Iterator[str]:
    """The lines of N-Triples under the wanted keys, of all files."""
    for file in files:
        if not wanted.isdisjoint(file.facts.digests):
            triples = file.facts.asked or kept.triples(file.path, file.digest)
            if triples is None:
                triples = facts_of(file.turtle().triples, file.facts.base, asked).asked
            for key, lines in triples.items():
                if key in wanted:
                    yield from lines

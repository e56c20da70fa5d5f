"""The answers of the rules across entries: of each rule the kept one, where nothing it asks for has changed."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from hashlib import blake2b
from itertools import chain
from pathlib import Path

from pyoxigraph import RdfFormat, Store

from margent.checking import duplicates
from margent.checking.facts import MAKERS
from margent.checking.findings import Hit
from margent.checking.kept import Kept
from margent.checking.material import Material, Source
from margent.checking.queries import Query, hits, queries


def query_hits(material: Material, folder: Path, kept: Kept) -> list[Hit]:
    """The breaches of the rules across entries, by subjects of the checked files."""
    name = "\0".join(str(each.path.resolve()) for each in (*material.checked, *material.beside))
    found: list[Hit] = []
    open_questions: list[tuple[Query, str]] = []
    who = [[each.path.name, len(each.files)] for each in material.checked]
    checked = blake2b(json.dumps([who, material.bases]).encode(), digest_size=12).hexdigest()
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
        store = Store()
        store.bulk_load(b"\n".join(_lines(material.known_files, wanted)), format=RdfFormat.N_TRIPLES)
        for query, digest in open_questions:
            answer = list(hits(query, store, material.is_checked, material.wording))
            kept.keep_hits("rule", f"{query.rule.id}\0{name}", digest, answer)
            found += answer
    return found + _duplicates(material, name, checked, kept)


def _duplicates(material: Material, name: str, checked: str, kept: Kept) -> list[Hit]:
    """The makers that may have been entered twice: no query, for names are compared letter by letter.

    Makers of files in which no maker has changed need not be compared with each other again.
    """
    now = [file.facts.digests.get(MAKERS, "") for file in material.known_files]
    files = "\0".join(str(file.path) for file in material.known_files)
    digest = blake2b(f"{checked}\0{files}".encode(), digest_size=16).hexdigest()
    name = f"{duplicates.RULE.id}\0{name}"
    known = kept.pairs(name, digest)
    before, pairs = known or ([], [])
    if before == now:
        return [hit for _, _, hit in pairs]
    rows = [
        duplicates.makers_of(_lines([file], frozenset({MAKERS}))) if digest else []
        for file, digest in zip(material.known_files, now, strict=True)
    ]
    place = {maker.iri: number for number, makers in enumerate(rows) for maker in makers}
    only: set[str] | None = None
    if known and len(place) == sum(map(len, rows)):  # a maker in two files would be in question by both
        changed = {number for number, (then, there) in enumerate(zip(before, now, strict=True)) if then != there}
        only = {iri for iri, number in place.items() if number in changed}
        pairs = [pair for pair in pairs if not changed & {pair[0], pair[1]}]
    else:
        pairs = []
    makers = chain.from_iterable(rows)
    for one, other, hit in duplicates.duplicate_hits(makers, material.is_checked, material.wording, only):
        pairs.append((place[one], place[other], hit))
    if len(place) == sum(map(len, rows)):
        kept.keep_pairs(name, digest, now, pairs)
    return [hit for _, _, hit in pairs]


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


def _lines(files: Sequence[Source], wanted: frozenset[str]) -> Iterator[bytes]:
    """The lines of N-Triples under the wanted keys, of all files."""
    for file in files:
        if not wanted.isdisjoint(file.facts.digests):
            yield from file.asked(wanted).values()

"""A body of data in its three forms: Turtle, JSON-LD and N-Triples, made whole, or from those of the last run.

From those of the last run only what is said of entries that changed is taken out and written anew: which these are, the
N-Triples tell, and the other two are blocks and lines in an order of which each place can be found.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any
from urllib.parse import urldefrag

from pyoxigraph import Triple

from margent.publishing.json_ld import HEAD_END, compact_names, expanded, json_ld
from margent.publishing.ntriples import line
from margent.vocabulary.lines import resolve
from margent.vocabulary.namespaces import PREFIXES
from margent.vocabulary.tidy import natural, tidied
from margent.vocabulary.turtle import TurtleFile

MOST_CHANGED = 500
"""Where more entries changed than these, everything is written."""

OTHERS = {"spdx": "http://spdx.org/rdf/terms#"}
"""Prefixes of namespaces that are not ours."""

_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"|<[^>]*>')
_PREFIX = re.compile(r"([A-Za-z][\w-]*):")
_ID = re.compile(r'\{"id": "([^"\\]*)"')


@dataclass(frozen=True)
class Body:
    """What is said in a body of data, and the head of its Turtle; `stem` names its files."""

    triples: Iterable[Triple]
    base: str | None
    stem: str
    head: str
    context: dict[str, Any]

    @cached_property
    def lines(self) -> dict[str, Triple]:
        """Each triple by its line of N-Triples."""
        return {line(triple): triple for triple in self.triples}

    @property
    def n_triples(self) -> str:
        """Canonical N-Triples."""
        return "".join(sorted(self.lines))

    @property
    def subjects(self) -> int:
        """Of how many things something is said."""
        return len({each.partition(" ")[0] for each in self.lines})

    def forms(self, former: Mapping[str, str] | None = None) -> dict[str, str]:
        """The text of each form by its ending; `former` has those of the last run."""
        again = _again(self, former) if former else None
        if again is None:
            again = {".ttl": turtle(self, self.lines.values()), ".jsonld": json_ld(self.lines.values(), self.context)}
        return again | {".nt": self.n_triples}


def turtle(body: Body, triples: Iterable[Triple]) -> str:
    """The triples in the one form of the vocabulary's own files; that they read back the same is proven on the way."""
    return tidied(TurtleFile(Path(body.stem), body.head, body.base, OTHERS, list(triples)))


def _again(body: Body, former: Mapping[str, str]) -> dict[str, str] | None:
    """Turtle and JSON-LD with what changed since laid in; None where that is too much, or cannot be told apart."""
    differing = set(former[".nt"].splitlines(keepends=True)) ^ body.lines.keys()
    changed = {each.partition(" ")[0][1:-1].partition("#")[0] for each in differing}
    namespaces = [*PREFIXES.values(), *OTHERS.values()]
    if len(changed) > MOST_CHANGED or any(each.startswith(f"{iri}#") for iri in changed for each in namespaces):
        return None
    if not changed:
        return {".ttl": former[".ttl"], ".jsonld": former[".jsonld"]}
    beginnings = tuple(f"<{iri}{end}" for iri in changed for end in (">", "#"))
    own = [triple for text, triple in body.lines.items() if text.startswith(beginnings)]
    in_turtle = _turtle_again(body, former[".ttl"], changed, own)
    in_json = _json_again(body, former[".jsonld"], changed, own)
    return {".ttl": in_turtle, ".jsonld": in_json} if in_turtle and in_json else None


def _turtle_again(body: Body, former: str, changed: set[str], own: Sequence[Triple]) -> str | None:
    """The Turtle with new blocks for the entries that changed."""
    heading, directives, *blocks = former.rstrip("\n").split("\n\n")
    new_heading, new_directives, *new = turtle(body, own).rstrip("\n").split("\n\n") if own else (heading, directives)
    base = body.base or ""
    if heading != new_heading or not directives.startswith(f"@base <{base}> ."):
        return None
    prefixes = PREFIXES | OTHERS

    def subject(block: str) -> str:
        name = block.partition(" ")[0]
        if name.startswith("<"):
            return resolve(base, name[1:-1])
        prefix, _, local = name.partition(":")
        return prefixes[prefix] + local

    def order(block: str) -> Any:
        iri = subject(block)
        return natural(urldefrag(iri)[0]), natural(iri)

    kept: list[str] = []
    gone: list[str] = []
    for block in blocks:
        (gone if subject(block).partition("#")[0] in changed else kept).append(block)
    lines = set(directives.splitlines()) | set(new_directives.splitlines())
    for prefix in _prefixes(gone) - _prefixes(new):
        if not any(prefix in _prefixes([block]) for block in kept if f"{prefix}:" in block):
            lines -= {each for each in lines if each.startswith(f"@prefix {prefix}: ")}
    for block in new:
        kept.insert(bisect_left(kept, order(block), key=order), block)
    return "\n\n".join([heading, "\n".join(sorted(lines, key=_directive)), *kept]) + "\n"


def _directive(text: str) -> tuple[bool, str]:
    """The base first, then the prefixes by their names."""
    return not text.startswith("@base "), text.partition(":")[0]


def _prefixes(blocks: Iterable[str]) -> set[str]:
    """The prefixes that are used outside texts and addresses."""
    return {prefix for block in blocks for prefix in _PREFIX.findall(_QUOTED.sub("", block))}


def _json_again(body: Body, former: str, changed: set[str], own: Sequence[Triple]) -> str | None:
    """The JSON-LD with new lines for the entries that changed."""
    head, lines = _lines(former)
    new_head, new = _lines(json_ld(own, body.context))
    if head != new_head:
        return None
    names = compact_names(changed, body.context)

    def named(text: str) -> str:
        found = _ID.match(text)
        return found[1] if found else ""

    def order(text: str) -> Any:
        return natural(expanded(named(text), body.context))

    kept = [text for text in lines if named(text).partition("#")[0] not in names]
    for text in new:
        kept.insert(bisect_left(kept, order(text), key=order), text)
    return f"{head}{HEAD_END}" + ",\n".join(kept) + "\n]}\n"


def _lines(document: str) -> tuple[str, list[str]]:
    """The head of a document, and a line for each subject."""
    head, _, rest = document.partition(HEAD_END)
    rest = rest.removesuffix("\n]}\n")
    return head, rest.split(",\n") if rest else []

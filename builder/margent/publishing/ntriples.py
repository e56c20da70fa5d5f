"""Triples as canonical N-Triples: one line a triple, sorted, so that equal graphs have equal bytes and one digest.

Without blank nodes the sorted lines are what RDF Dataset Canonicalization (RDFC-1.0, W3C 2024) gives for the graph:
their SHA-256 is the canonical digest of the whole graph, whatever file it was read from.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from pyoxigraph import Literal, NamedNode, Triple

from margent.vocabulary.namespaces import XSD

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\r": "\\r", "\t": "\\t", "\b": "\\b", "\f": "\\f"}
_TO_ESCAPE = re.compile(r'[\\"\x00-\x1f\x7f]')


def n_triples(triples: Iterable[Triple]) -> str:
    """The lines, sorted by code point, each once; raises AssertionError for a blank node."""
    return "".join(sorted({line(triple) for triple in triples}))


def line(triple: Triple) -> str:
    """One triple with the line's end."""
    return f"{_term(triple.subject)} {_term(triple.predicate)} {_term(triple.object)} .\n"


def _term(term: object) -> str:
    if isinstance(term, NamedNode):
        return f"<{term.value}>"
    assert isinstance(term, Literal), f"{term}: neither an IRI nor a literal"
    quoted = '"' + _TO_ESCAPE.sub(_escape, term.value) + '"'
    if term.language:
        return f"{quoted}@{term.language.lower()}"
    return quoted if term.datatype.value == XSD + "string" else f"{quoted}^^<{term.datatype.value}>"


def _escape(match: re.Match[str]) -> str:
    char = match.group()
    return _ESCAPES.get(char) or f"\\u{ord(char):04X}"

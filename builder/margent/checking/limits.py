"""How large a contribution may be: length of a text, triples of a file, depth of brackets.

The size of a file is limited where it is read (`vocabulary/turtle.py`). A contribution comes from outside; without limits one
file could keep a machine busy for hours or put a book into a page.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pyoxigraph import Literal, NamedNode

from margent.checking.positions import positions
from margent.checking.statements import Statement
from margent.vocabulary.lines import tokens
from margent.vocabulary.turtle import TurtleFault, TurtleFile

LONGEST_TEXT = 10_000  # the longest note of the vocabulary has 900 characters
LONGEST_IRI = 500
MOST_TRIPLES = 250_000  # 500 makers have about 25,000
DEEPEST = 20  # brackets within brackets; the vocabulary has none


def refuse_depth(path: Path, text: str) -> None:
    """Nothing comes back; raises TurtleFault for brackets too deep, before any parser has to follow them."""
    if text.count("[") + text.count("(") <= DEEPEST:
        return
    depth = 0
    for token in tokens(text):
        if token.kind == "sign":
            depth += {"[": 1, "(": 1, "]": -1, ")": -1}.get(token.text, 0)
            if depth > DEEPEST:
                raise TurtleFault(
                    path, token.line, 1, f"has more than {DEEPEST} brackets within each other; give the parts IRIs"
                )


def refuse_excess(file: TurtleFile, said: Sequence[Statement]) -> None:
    """Nothing comes back; raises TurtleFault for too many triples, or for a text or IRI that is too long."""
    if len(file.triples) > MOST_TRIPLES:
        raise TurtleFault(
            file.path,
            1,
            1,
            f"has {len(file.triples):,} triples, and at most {MOST_TRIPLES:,} are read; split it into files of at most 500 entries",
        )
    for subject, predicate, value, triple in said:
        if isinstance(value, Literal) and len(value.value) > LONGEST_TEXT:
            line = _line(file, triple.subject, predicate, value)
            raise TurtleFault(
                file.path,
                line,
                1,
                f"has a text of {len(value.value):,} characters, and at most {LONGEST_TEXT:,} are read; shorten it",
            )
        for iri in (subject, value.value if isinstance(value, NamedNode) else ""):
            if len(iri) > LONGEST_IRI:
                line = _line(file, triple.subject, predicate, value)
                raise TurtleFault(
                    file.path,
                    line,
                    1,
                    f"has an IRI of {len(iri):,} characters, and at most {LONGEST_IRI} are read; shorten it",
                )


def _line(file: TurtleFile, subject: object, predicate: str, value: object) -> int:
    if not isinstance(subject, NamedNode) or not isinstance(value, NamedNode | Literal):
        return 1
    return positions(file.text, {subject.value}).line(subject.value, predicate, value) or 1

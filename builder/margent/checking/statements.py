"""The triples of a file taken apart once: what is said of which subject, as texts and values.

Every look at a part of a triple makes a new object; taken apart once, the checks of a file are half as long.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

Value: TypeAlias = NamedNode | BlankNode | Literal | Triple
Statement: TypeAlias = tuple[str, str, Value, Triple]
"""Subject (empty for a blank node), property, value, and the triple itself."""


def statements(triples: Iterable[Triple]) -> list[Statement]:
    """The statements, in the order of the triples."""
    found: list[Statement] = []
    for triple in triples:
        subject = triple.subject
        name = subject.value if isinstance(subject, NamedNode) else ""
        found.append((name, triple.predicate.value, triple.object, triple))
    return found

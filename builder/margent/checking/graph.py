"""Triples as the checks ask for them: by subject and property, with the classes of everything that is referred to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.checking.statements import Statement
from margent.vocabulary.namespaces import TYPE

Node = NamedNode | BlankNode | Literal
Properties = dict[str, list[Node]]


class Graph:
    """The triples of some files, and the classes of what stands elsewhere. Subjects that are blank nodes are left out."""

    def __init__(
        self, said: Iterable[Statement], elsewhere: Mapping[str, Iterable[str]], above: Mapping[str, frozenset[str]]
    ) -> None:
        """`elsewhere`: the classes of subjects of other files; `above`: each class with itself and all its superclasses."""
        self.subjects: dict[str, Properties] = {}
        previous = ""
        properties: Properties = {}
        for name, predicate, value, _ in said:
            if name and not isinstance(value, Triple):
                if name != previous:
                    properties, previous = self.subjects.setdefault(name, {}), name
                values = properties.get(predicate)
                if values is None:
                    properties[predicate] = [value]
                elif value not in values:
                    values.append(value)
        self._elsewhere = elsewhere
        self._above = above
        self._classes: dict[str, frozenset[str]] = {}
        self._of_types: dict[tuple[str, ...], frozenset[str]] = {}

    def classes(self, iri: str) -> frozenset[str]:
        """The classes of the subject, as written and all above them."""
        known = self._classes.get(iri)
        if known is None:
            known = self._classes[iri] = self._with_those_above(self.written(iri))
        return known

    def written(self, iri: str) -> tuple[str, ...]:
        """The classes of the subject as they are written, here or elsewhere; none where it stands nowhere."""
        here = (kind.value for kind in self.subjects.get(iri, {}).get(TYPE, ()) if isinstance(kind, NamedNode))
        return (*here, *self._elsewhere.get(iri, ()))

    def _with_those_above(self, written: tuple[str, ...]) -> frozenset[str]:
        known = self._of_types.get(written)
        if known is None:
            known = frozenset(above for kind in written for above in self._above.get(kind, (kind,)))
            self._of_types[written] = known
        return known


def classes_above(pairs: Iterable[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """Each class with itself and everything above it, from pairs of a class and one right above it; circles do no harm.

    >>> sorted(classes_above([("a", "b"), ("b", "c"), ("c", "b")])["a"])
    ['a', 'b', 'c']
    """
    direct: dict[str, set[str]] = {}
    for kind, above in pairs:
        direct.setdefault(kind, set()).add(above)
    found: dict[str, frozenset[str]] = {}
    for kind in direct:
        reached, ahead = {kind}, [kind]
        while ahead:
            for above in direct.get(ahead.pop(), ()):
                if above not in reached:
                    reached.add(above)
                    ahead.append(above)
        found[kind] = frozenset(reached)
    return found

"""The kin of a maker as a tree: who was whose child, as far as the authority says, with those married beside each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from margent.publishing.spans import span
from margent.vocabulary.model import Iri, Maker

CHILD = ("son", "daughter", "stepson")
PARENT = ("father", "mother")
SIBLING = ("brother", "sister")
MARRIED = ("husband", "wife", "widow")

MOST = 60
"""How many persons a tree shows at most; a larger one would be no answer."""


@dataclass(frozen=True, slots=True)
class Node:
    """One person of a tree, or parents whom nobody names; those married to the person; the children, the eldest first."""

    person: Iri | None
    married: tuple[Iri, ...]
    children: tuple[Node, ...]


class Kin:
    """All that the makers of the authorities say of their kin, seen from both ends."""

    def __init__(self, makers: Mapping[Iri, Maker]) -> None:
        self._makers = makers
        self._parents: dict[Iri, set[Iri]] = defaultdict(set)
        self._children: dict[Iri, set[Iri]] = defaultdict(set)
        self._siblings: dict[Iri, set[Iri]] = defaultdict(set)
        self._married: dict[Iri, set[Iri]] = defaultdict(set)
        for maker in makers.values():
            for each in maker.kin:
                if each.relation in CHILD:
                    self._parents[maker.iri].add(each.to)
                    self._children[each.to].add(maker.iri)
                elif each.relation in PARENT:
                    self._parents[each.to].add(maker.iri)
                    self._children[maker.iri].add(each.to)
                elif each.relation in SIBLING:
                    self._siblings[maker.iri].add(each.to)
                    self._siblings[each.to].add(maker.iri)
                elif each.relation in MARRIED:
                    self._married[maker.iri].add(each.to)
                    self._married[each.to].add(maker.iri)
        for person, siblings in list(self._siblings.items()):
            # Who is only said to be somebody's brother has that somebody's parents.
            if not self._parents.get(person):
                for parent in sorted(set().union(*(self._parents.get(each, set()) for each in siblings))):
                    self._parents[person].add(parent)
                    self._children[parent].add(person)

    def tree(self, maker: Iri) -> tuple[Node, ...]:
        """The trees in which the maker stands, the eldest at the top; empty where it has no kin."""
        group = self.group(maker)
        if len(group) < 2:
            return ()
        placed: set[Iri] = set()
        trees: list[Node] = []
        for person in self._eldest_first(each for each in group if not self._parents[each] & group):
            if person in placed:
                continue
            alike = self._eldest_first({person, *self._siblings_without_parents(person, group)} - placed)
            if len(alike) > 1:
                placed.update(alike)
                trees.append(Node(None, (), tuple(self._node(each, group, placed) for each in alike)))
            elif not self._only_married(person, group):
                trees.append(self._node(person, group, placed))
        return tuple(trees)

    def group(self, maker: Iri) -> set[Iri]:
        """The maker and everybody tied to it by blood or marriage, step by step, up to a bound."""
        group: dict[Iri, None] = {maker: None}
        todo = [maker]
        while todo and len(group) < MOST:
            person = todo.pop(0)
            ties = (self._parents, self._children, self._siblings, self._married)
            for other in sorted(set().union(*(tie[person] for tie in ties))):
                if other not in group:
                    group[other] = None
                    todo.append(other)
        return set(group)

    def _node(self, person: Iri, group: set[Iri], placed: set[Iri]) -> Node:
        placed.add(person)
        married = tuple(self._eldest_first(self._married[person] & group))
        placed.update(each for each in married if not self._parents[each] & group)
        below = set(self._children[person])
        for other in married:
            below |= self._children[other]
        # One after another: a child may be placed already by a former one, where cousins married.
        children = tuple(
            self._node(each, group, placed) for each in self._eldest_first(below & group) if each not in placed
        )
        return Node(person, married, children)

    def _only_married(self, person: Iri, group: set[Iri]) -> bool:
        """Whether the person stands in the tree beside somebody else: married into it, with no parents of its own in it."""
        return any(self._parents[other] & group or self._siblings[other] & group for other in self._married[person])

    def _siblings_without_parents(self, person: Iri, group: set[Iri]) -> set[Iri]:
        return {each for each in self._siblings[person] & group if not self._parents[each] & group}

    def _eldest_first(self, people: Iterable[Iri]) -> list[Iri]:
        def key(iri: Iri) -> tuple[int, Iri]:
            maker = self._makers.get(iri)
            known = maker and (span(maker.born) or span(maker.active))
            return (known.first if known and known.first is not None else 9999), iri

        return sorted(people, key=key)

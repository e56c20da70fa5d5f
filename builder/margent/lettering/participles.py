"""Participles and the makers they wait for: in "engraved from the picture by A, by B" the engraver is B."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from margent.lettering.clauses import Clauses, TermSeen
from margent.lettering.senses import Senses

BARE_AGENT = "agent"
"""The word class of a term that is only by, par or von."""


class Participles:
    """Takes from a clause the terms whose maker it does not name, and gives them to the name that by, par or por announces."""

    def __init__(self, compiled: Mapping[str, Any], senses: Senses) -> None:
        self._terms: Mapping[str, Mapping[str, Any]] = compiled["terms"]
        self._roles: Mapping[str, Mapping[str, Any]] = compiled["roles"]
        self._senses = senses

    def settle(self, clauses: Clauses) -> None:
        """Leaves in each clause the terms that are said of its names."""
        waiting: list[TermSeen] = []
        for clause in clauses.clauses:
            kept = self._without_unnamed(clause.terms)
            unnamed = clause.terms[: len(clause.terms) - len(kept)]
            if kept and self._is_bare_agent(kept[0]):
                waiting = waiting or self._nameless_before(clauses.nameless, kept[0])
                for term in waiting:
                    term.agent = True
                kept = [*waiting, *kept[1:]] if waiting else kept
                waiting = []
            elif unnamed:
                waiting = unnamed
            clause.terms = kept

    def _without_unnamed(self, terms: list[TermSeen]) -> list[TermSeen]:
        """The terms of a clause without those whose maker is not named: in "engraved from the picture by A" nobody engraved."""
        for index in range(len(terms) - 1, 0, -1):
            term = terms[index]
            entry = self._terms[term.refs[0][0]]
            source = entry["class"] in ("preposition", "formula") and any(
                self._roles[role]["stage"] == "conceiving"
                for role in self._senses.usual(term.refs)
                if role in self._roles
            )
            if source and term.side == "front" and not term.agent and not terms[index - 1].agent:
                return terms[index:]
        return terms

    def _is_bare_agent(self, term: TermSeen) -> bool:
        return any(self._terms[ref]["class"] == BARE_AGENT for ref, _ in term.refs)

    def _nameless_before(self, nameless: Sequence[TermSeen], agent: TermSeen) -> list[TermSeen]:
        """The nearest participle before by or par that found no name: "engraved for this work by A"."""
        before = [
            term
            for term in nameless
            if term.end <= agent.start and self._terms[term.refs[0][0]]["class"] == "participle" and not term.agent
        ]
        return before[-1:]

"""Participles and the makers they wait for: in "engraved from the picture by A, by B" the engraver is B."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from margent.lettering.clauses import Clause, Clauses, TermSeen
from margent.lettering.senses import Senses
from margent.lettering.tokens import Token

BARE_AGENT: Final = "agent"
"""The word class of a term that is only by, par or von."""


CLOSE: Final = frozenset("s,agk")
"""Gaps within one sentence."""
AGAIN_WITHIN: Final = 4
"""Tokens from the end of a clause to the by that says its participle again, at most."""


class Participles:
    """Takes from a clause the terms whose maker it does not name, and gives them to the name that by, par or por announces."""

    def __init__(self, compiled: Mapping[str, Any], senses: Senses) -> None:
        self._terms: dict[str, dict[str, Any]] = compiled["terms"]
        self._roles: dict[str, dict[str, Any]] = compiled["roles"]
        self._senses = senses
        self._bare_agents = frozenset(ref for ref, entry in self._terms.items() if entry["class"] == BARE_AGENT)
        self._model_words = frozenset(compiled["modelwords"])

    def settle(self, clauses: Clauses, tokens: list[Token]) -> None:
        """Leaves in each clause the terms that are said of its names."""
        waiting: list[TermSeen] = []
        last: Clause | None = None
        for clause in clauses.clauses:
            kept = self._without_unnamed(clause.terms)
            unnamed = clause.terms[: len(clause.terms) - len(kept)]
            if kept and self._is_bare_agent(kept[0]):
                found = [] if waiting else self._nameless_before(clauses.nameless, kept[0])
                if found and self._of_model(found[-1], kept[0], tokens):
                    waiting = found  # "engraved after the picture by A, by B": the first by belongs to the picture
                else:
                    taken = waiting or found or self._again(last, kept[0], tokens)
                    for term in taken:
                        term.agent = True
                    kept = [*taken, *kept[1:]] if taken else kept
                    waiting = []
            elif unnamed:
                waiting = unnamed
            elif kept and kept[-1].side == "front":
                waiting = self._within(kept[-1]) or waiting
            clause.terms = self._without_repeated(kept)
            last = clause

    def _again(self, last: Clause | None, agent: TermSeen, tokens: list[Token]) -> list[TermSeen]:
        """The participles said a second time by a by or par that follows close: "published by A, and by B"."""
        if last is None or any("dedicatee" in self._senses.usual(term.refs) for term in last.terms):
            return []
        said = max([name.end for name in last.names] + [term.end for term in last.terms])
        reached = max([said, *[item.end for item in last.others]])  # an address may stand between
        if agent.start + 1 - reached > AGAIN_WITHIN:
            return []
        if any(token.gap not in CLOSE for token in tokens[said : agent.start + 1]):
            return []
        return [
            TermSeen(agent.start, agent.end, term.refs, "front", term.respelt)
            for term in last.terms
            if term.side == "front" and self._terms[term.refs[0][0]]["class"] == "participle"
        ]

    def _of_model(self, participle: TermSeen, agent: TermSeen, tokens: list[Token]) -> bool:
        return any(tokens[index].full in self._model_words for index in range(participle.end, agent.start))

    def _within(self, term: TermSeen) -> list[TermSeen]:
        """The participle with which a phrase begins that names the model's maker only: engraved in "engraved after"."""
        waits = self._terms[term.refs[0][0]]["waits"]
        return [TermSeen(term.start, term.start + 1, ((waits, 0),), "front", ())] if waits else []

    def _without_repeated(self, terms: list[TermSeen]) -> list[TermSeen]:
        """The terms without a bare by or par that only joins the participle before it: "printed at Antwerp by A"."""
        kept: list[TermSeen] = []
        for term in terms:
            before = kept[-1] if kept else None
            if before and before.side == "front" and not before.agent and self._is_bare_agent(term):
                before.agent = True
            elif before and self._is_bare_agent(before) and "dedicator" in self._senses.usual(term.refs):
                kept[-1] = term  # "by his Grace's humble servant A": the servant says who gives
            else:
                kept.append(term)
        return kept

    def _without_unnamed(self, terms: list[TermSeen]) -> list[TermSeen]:
        """The terms of a clause without those whose maker is not named: in "engraved from the picture by A" nobody engraved."""
        for index in range(len(terms) - 1, 0, -1):
            term = terms[index]
            if term.side != "front" or term.agent or terms[index - 1].agent:
                continue
            source = self._terms[term.refs[0][0]]["class"] in ("preposition", "formula") and any(
                self._roles[role]["stage"] == "conceiving"
                for role in self._senses.usual(term.refs)
                if role in self._roles
            )
            if source:
                return terms[index:]
        return terms

    def _is_bare_agent(self, term: TermSeen) -> bool:
        return any(ref in self._bare_agents for ref, _ in term.refs)

    def _nameless_before(self, nameless: list[TermSeen], agent: TermSeen) -> list[TermSeen]:
        """The nearest participle before by or par that found no name: "engraved for this work by A"."""
        before = [
            term
            for term in nameless
            if term.end <= agent.start and self._terms[term.refs[0][0]]["class"] == "participle" and not term.agent
        ]
        return [self._within(term)[0] if self._within(term) else term for term in before[-1:]]

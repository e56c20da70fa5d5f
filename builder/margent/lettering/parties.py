"""Persons whom a dedication names by their rank alone: "Au Roi", "To the King"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from margent.lettering.clauses import Clause, Clauses, Name, TermSeen, first_token
from margent.lettering.participles import BARE_AGENT
from margent.lettering.senses import HONOURS, Senses
from margent.lettering.tokens import Token


class Parties:
    """Makes a party of a dedication of honours that an "à", "al" or "to" announces and no name follows."""

    def __init__(self, compiled: Mapping[str, Any], senses: Senses) -> None:
        self._terms: dict[str, dict[str, Any]] = compiled["terms"]
        self._announcing = frozenset(compiled["announcing"])
        self._kept = frozenset(compiled["kept-honours"])
        self._courtesies = frozenset(compiled["courtesies"])
        self._senses = senses

    def settle(self, clauses: Clauses, tokens: list[Token]) -> None:
        """Puts a clause of its own before each clause whose giver follows upon such honours, and one for those that found no name."""
        found: list[Clause] = []
        for clause in clauses.clauses:
            self._keep(clause, tokens)
            at = self._ranked(clause.terms, tokens)
            if at is not None:
                found.append(self._party(clause.terms[: at + 1], tokens))
                clause.terms = clause.terms[at + 1 :]
            found.append(clause)
        found.extend(self._party([term], tokens) for term in clauses.nameless if self._is_rank(term, tokens))
        if len(found) > len(clauses.clauses):
            clauses.clauses[:] = sorted(found, key=first_token)

    def _keep(self, clause: Clause, tokens: list[Token]) -> None:
        """Gives the name its everyday title back where the honours took it in (Sir, Madame), and them what is only courtesy."""
        if not clause.names or not clause.terms:
            return
        honours, name = clause.terms[-1], clause.names[0]
        if honours.refs[0][0] != HONOURS or honours.end != name.start:
            return
        while name.start > honours.start + 1 and tokens[name.start - 1].full in self._kept:
            name.start -= 1
            name.labels.insert(0, "honorific")
        while name.start + 1 < name.end and tokens[name.start].full in self._courtesies:
            name.start += 1
        honours.end = name.start

    def _ranked(self, terms: list[TermSeen], tokens: list[Token]) -> int | None:
        """Which term of a clause is honours by rank, with a giver's term behind it; None where there is none."""
        for index, term in enumerate(terms[:-1]):
            if self._is_rank(term, tokens) and all(self._of_giver(after) for after in terms[index + 1 :]):
                return index
        return None

    def _is_rank(self, term: TermSeen, tokens: list[Token]) -> bool:
        """Whether a term is honours that an announcing word opens."""
        honours = term.side == "front" and term.refs[0][0] == HONOURS
        return honours and self._announcement(term, tokens) is not None

    def _announcement(self, term: TermSeen, tokens: list[Token]) -> int | None:
        """Where in the honours the word stands that announces the person; None where there is none or nothing behind it."""
        return next((at for at in range(term.start, term.end - 1) if tokens[at].full in self._announcing), None)

    def _of_giver(self, term: TermSeen) -> bool:
        """Whether a term speaks of who dedicates: humble servant, by."""
        agent = any(self._terms[ref]["class"] == BARE_AGENT for ref, _ in term.refs)
        return agent or "dedicator" in self._senses.usual(term.refs)

    def _party(self, terms: list[TermSeen], tokens: list[Token]) -> Clause:
        honours = terms[-1]
        at = self._announcement(honours, tokens)
        start = honours.start if at is None else at + 1
        party = Clause()
        party.names.append(Name(start, honours.end, ["honorific"]))
        party.terms.extend(terms)
        return party

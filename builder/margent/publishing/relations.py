"""What points to an entry: the terms that say a role, the roles taken for it, the passages taken from a source."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from margent.publishing.evidence import citations, entries
from margent.publishing.folding import alphabetical
from margent.vocabulary.model import (
    Citation,
    Confusion,
    Iri,
    Kinship,
    Maker,
    Practice,
    Role,
    Sense,
    Term,
    Vocabulary,
    WorkingPlace,
)


@dataclass
class Relations:
    """The vocabulary seen from the other end; every list is in the order in which a page shows it."""

    said_by: dict[Iri, list[tuple[Term, Sense]]] = field(default_factory=lambda: defaultdict(list))
    narrower: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    taken_for: dict[Iri, list[tuple[Role, Confusion]]] = field(default_factory=lambda: defaultdict(list))
    short_forms: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    inflections: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    cited_for: dict[Iri, list[tuple[Iri, Citation]]] = field(default_factory=lambda: defaultdict(list))
    practised_by: dict[Iri, list[tuple[Maker, Practice]]] = field(default_factory=lambda: defaultdict(list))
    worked_at: dict[Iri, list[tuple[Maker, WorkingPlace]]] = field(default_factory=lambda: defaultdict(list))
    members: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    marks_of: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    marks_stating: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    compared: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    kin_of: dict[Iri, list[tuple[Iri, Kinship]]] = field(default_factory=lambda: defaultdict(list))
    pupils: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    partners: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    successors: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))

    def words_by_language(self, concept: Iri, languages: Iterable[str]) -> list[tuple[str, list[tuple[Term, Sense]]]]:
        """The terms that say a role or notice, for each language that has any."""
        pairs = self.said_by.get(concept, [])
        found = [(language, [pair for pair in pairs if pair[0].language == language]) for language in languages]
        return [(language, own) for language, own in found if own]


def relations(vocabulary: Vocabulary) -> Relations:
    """Everything that points somewhere, from the other end; withdrawn terms say nothing any more."""
    found = Relations()
    for term in vocabulary.terms.values():
        for target in term.short_for:
            found.short_forms[target].append(term.iri)
        for target in term.inflection_of:
            found.inflections[target].append(term.iri)
        for sense in term.senses if not term.withdrawn else ():
            for concept in sense.says:
                found.said_by[concept].append((term, sense))
    for pairs in found.said_by.values():
        pairs.sort(key=lambda pair: (-pair[1].weight, alphabetical(pair[0].literal.value), pair[0].iri))
    for role in vocabulary.roles.values():
        for above in role.broader:
            found.narrower[above].append(role.iri)
        for confusion in role.confusions:
            found.taken_for[confusion.mistaken_for].append((role, confusion))
    for below in found.narrower.values():
        below.sort(key=lambda iri: alphabetical(vocabulary.roles[iri].label()))
    for entry in entries(vocabulary):
        seen: set[Iri] = set()
        for citation in citations(entry):
            if citation.iri not in seen:
                seen.add(citation.iri)
                found.cited_for[citation.work].append((entry.iri, citation))
    _of_makers(vocabulary, found)
    return found


def _of_makers(vocabulary: Vocabulary, found: Relations) -> None:
    """What makers and marks point to; the withdrawn ones point nowhere."""
    for maker in vocabulary.makers.values():
        if maker.withdrawn:
            continue
        for practice in maker.practices:
            found.practised_by[practice.role].append((maker, practice))
        for where in maker.working_places:
            found.worked_at[where.place].append((maker, where))
        for kinship in maker.kin:
            found.kin_of[kinship.to].append((maker.iri, kinship))
        for table, others in (
            (found.members, maker.member_of),
            (found.pupils, maker.pupil_of),
            (found.partners, maker.partner_of),
            (found.successors, maker.successor_of),
        ):
            for other in others:
                table[other].append(maker.iri)
        for mark in maker.marks:
            _once(found.marks_of[maker.iri], mark)
        for other in maker.compared_with:
            _once(found.compared[maker.iri], other)
            _once(found.compared[other], maker.iri)
    for each in vocabulary.marks.values():
        if not each.withdrawn:
            for whom in each.stands_for:
                _once(found.marks_of[whom], each.iri)
            for role in each.states:
                found.marks_stating[role].append(each.iri)


def _once(known: list[Iri], iri: Iri) -> None:
    if iri not in known:
        known.append(iri)


def concepts(term: Term) -> tuple[Iri, ...]:
    """The roles and notices that a term says, the most usual first, each once."""
    senses = sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri))
    return tuple(dict.fromkeys(concept for sense in senses for concept in sense.says))

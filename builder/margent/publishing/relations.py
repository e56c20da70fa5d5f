"""What points to an entry: the terms that say a role, the roles taken for it, the passages taken from a source."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from margent.publishing.evidence import supports
from margent.publishing.folding import alphabetical
from margent.vocabulary.model import Citation, Confusion, Iri, Role, Sense, Term, Vocabulary


@dataclass
class Relations:
    """The vocabulary seen from the other end; every list is in the order in which a page shows it."""

    said_by: dict[Iri, list[tuple[Term, Sense]]] = field(default_factory=lambda: defaultdict(list))
    narrower: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    taken_for: dict[Iri, list[tuple[Role, Confusion]]] = field(default_factory=lambda: defaultdict(list))
    short_forms: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    inflections: dict[Iri, list[Iri]] = field(default_factory=lambda: defaultdict(list))
    cited_for: dict[Iri, list[tuple[Iri, Citation]]] = field(default_factory=lambda: defaultdict(list))

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
    seen: set[Iri] = set()
    for supported, entry in supports(vocabulary):
        for citation in supported.citations:
            if citation.iri not in seen:
                seen.add(citation.iri)
                found.cited_for[citation.work].append((entry, citation))
    return found


def concepts(term: Term) -> tuple[Iri, ...]:
    """The roles and notices that a term says, the most usual first, each once."""
    senses = sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri))
    return tuple(dict.fromkeys(concept for sense in senses for concept in sense.says))

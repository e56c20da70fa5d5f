"""The pages of the general vocabulary's entries: roles, notices, terms, qualifiers, places, sources."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from margent.lettering.conditions import in_words
from margent.publishing.folding import alphabetical
from margent.publishing.list_pages import axes
from margent.publishing.material import Material, Page, by_language, text_key
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, NoticeKind, Place, Qualifier, Role, Sense, Source, Term

LESS_USUAL = -1000
"""From this weight down a sense is told apart as less usual on the page of its role."""

Words = list[tuple[str, list[Term], list[tuple[Term, str]]]]


class EntryPages:
    """A page for each entry that has one."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self.vocabulary = material.vocabulary

    def pages(self) -> Iterator[Page]:
        """Every one of them, withdrawn entries too."""
        vocabulary, path = self.vocabulary, self.material.pages.path
        for role in vocabulary.roles.values():
            yield Page(path(role.iri), "role.html", partial(self._role, role), role.iri)
        for notice in vocabulary.notice_kinds.values():
            yield Page(path(notice.iri), "notice.html", partial(self._notice, notice), notice.iri)
        for term in vocabulary.terms.values():
            yield Page(path(term.iri), "term.html", partial(self._term, term), term.iri)
        for qualifier in vocabulary.qualifiers.values():
            yield Page(path(qualifier.iri), "qualifier.html", partial(self._qualifier, qualifier), qualifier.iri)
        for place in vocabulary.places.values():
            yield Page(path(place.iri), "place.html", partial(self._place, place), place.iri)
        for source in vocabulary.sources.values():
            yield Page(path(source.iri), "source.html", partial(self._source, source), source.iri)

    def _notice(self, notice: NoticeKind, tongue: Tongue) -> dict[str, Any]:
        return {"entry": notice, "words": self.words_for(notice.iri, tongue)}

    def _role(self, role: Role, tongue: Tongue) -> dict[str, Any]:
        relations = self.material.relations
        confused = {confusion.mistaken_for for confusion in role.confusions}
        return {
            "entry": role,
            "words": self.words_for(role.iri, tongue),
            "narrower": relations.narrower.get(role.iri, []),
            "taken_for": [pair for pair in relations.taken_for.get(role.iri, []) if pair[0].iri not in confused],
        }

    def _term(self, term: Term, tongue: Tongue) -> dict[str, Any]:
        senses = sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri))
        return {
            "entry": term,
            "senses": [(sense, self.condition(sense, tongue), how_usual(sense, tongue)) for sense in senses],
            "short_forms": self.material.relations.short_forms.get(term.iri, []),
            "inflections": self.material.relations.inflections.get(term.iri, []),
        }

    def _qualifier(self, qualifier: Qualifier, _: Tongue) -> dict[str, Any]:
        beside = [each for axis, each in axes(self.material) if axis == qualifier.axis]
        phrases = by_language(qualifier.phrases, lambda text: text.lang)
        return {"entry": qualifier, "beside": beside[0] if beside else [], "phrases": phrases}

    def _place(self, place: Place, _: Tongue) -> dict[str, Any]:
        forms = sorted(place.forms, key=lambda form: (text_key(form.literal), form.iri))
        return {"entry": place, "forms": by_language(forms, lambda form: form.literal.lang)}

    def _source(self, source: Source, tongue: Tongue) -> dict[str, Any]:
        cited = sorted(
            self.material.relations.cited_for.get(source.iri, []),
            key=lambda pair: (alphabetical(self.material.pages.name(pair[0], tongue).value), pair[1].iri),
        )
        return {"entry": source, "cited": cited}

    def condition(self, sense: Sense, tongue: Tongue) -> str:
        """When the sense holds, in words; empty where it always does. The period of the term itself is told elsewhere."""

        def role_name(role: Iri) -> str:
            return self.material.pages.name(role, tongue).value

        return "; ".join(in_words(sense, role_name, tongue.worded, tongue.years))

    def words_for(self, concept: Iri, tongue: Tongue) -> Words:
        """For each language the terms that usually say it, and those that do so less usually or only under a condition."""
        found: Words = []
        for tag, pairs in self.material.relations.words_by_language(concept, self.material.languages):
            plain: dict[Iri, Term] = {}
            others: dict[Iri, tuple[Term, str]] = {}
            for term, sense in pairs:
                condition = self.condition(sense, tongue)
                if not condition and sense.weight > LESS_USUAL:
                    plain.setdefault(term.iri, term)
                elif term.iri not in others:
                    usual = how_usual(sense, tongue)
                    others[term.iri] = (term, "; ".join(part for part in (usual, condition) if part))
            rest = [pair for iri, pair in others.items() if iri not in plain]
            found.append((tag, sorted(plain.values(), key=_by_form), sorted(rest, key=lambda pair: _by_form(pair[0]))))
        return found


def how_usual(sense: Sense, tongue: Tongue) -> str:
    """A word for a sense that is not the usual one."""
    if sense.weight > LESS_USUAL:
        return ""
    return tongue.say("less usual") if sense.weight > 2 * LESS_USUAL else tongue.say("rare")


def _by_form(term: Term) -> Any:
    return alphabetical(term.literal.value), term.iri

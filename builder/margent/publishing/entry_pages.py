"""The pages of the general vocabulary's entries: roles, notices, terms, qualifiers, places, sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from margent.lettering.conditions import in_words
from margent.publishing import wording
from margent.publishing.folding import alphabetical
from margent.publishing.list_pages import axes
from margent.publishing.maker_pages import MOST_LISTED, those_who
from margent.publishing.material import Material, Page, by_language, text_key
from margent.publishing.relations import concepts
from margent.publishing.spans import Bar, Scale, Span, scale, span
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Edtf, Forename, Iri, NoticeKind, Place, Qualifier, Role, Sense, Source, Term, Text

LESS_USUAL = -1000
"""From this weight down a sense is told apart as less usual on the page of its role."""

MOST_CITED = 500
"""How many passages the page of a source lists; whoever wants all of them takes the data."""

MOST_LINES = 30
"""How many words of a language the small chart of their periods draws."""


@dataclass(frozen=True, slots=True)
class WordsOf:
    """The words of one language that say something: the usual ones, and those that do so less usually or under a condition.

    `period` is the years of all of them, `lines` a bar for each usual word whose years are known, the earliest first.
    """

    tag: str
    plain: list[Term]
    others: list[tuple[str, list[Term]]]
    period: Edtf | None
    lines: list[Bar]


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
            yield Page(
                path(qualifier.iri),
                "qualifier.html",
                partial(self._qualifier, qualifier),
                qualifier.iri,
                ("qualifiers",),
            )
        for place in vocabulary.places.values():
            yield Page(path(place.iri), "place.html", partial(self._place, place), place.iri)
        for forename in vocabulary.forenames.values():
            yield Page(path(forename.iri), "forename.html", partial(self._forename, forename), forename.iri)
        for source in vocabulary.sources.values():
            yield Page(path(source.iri), "source.html", partial(self._source, source), source.iri)

    def _notice(self, notice: NoticeKind, tongue: Tongue) -> dict[str, Any]:
        return {"entry": notice, **self.words_for(notice.iri, tongue)}

    def _role(self, role: Role, tongue: Tongue) -> dict[str, Any]:
        relations = self.material.relations
        confused = {confusion.mistaken_for for confusion in role.confusions}
        makers, more = those_who(relations.practised_by.get(role.iri, []))
        return {
            "entry": role,
            "makers": makers,
            "more": more,
            "marks": relations.marks_stating.get(role.iri, [])[:MOST_LISTED],
            **self.words_for(role.iri, tongue),
            "narrower": relations.narrower.get(role.iri, []),
            "taken_for": [pair for pair in relations.taken_for.get(role.iri, []) if pair[0].iri not in confused],
        }

    def _term(self, term: Term, tongue: Tongue) -> dict[str, Any]:
        senses = sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri))
        return {
            "entry": term,
            "others": [iri for iri in concepts(term) if iri not in senses[0].says] if senses else [],
            "senses": [(sense, self.condition(sense, tongue), how_usual(sense, tongue)) for sense in senses],
            "short_forms": self.material.relations.short_forms.get(term.iri, []),
            "inflections": self.material.relations.inflections.get(term.iri, []),
        }

    def _qualifier(self, qualifier: Qualifier, _: Tongue) -> dict[str, Any]:
        beside = [each for axis, each in axes(self.material) if axis == qualifier.axis]
        phrases = by_language(qualifier.phrases, _tag)
        return {"entry": qualifier, "beside": beside[0] if beside else [], "phrases": phrases}

    def _place(self, place: Place, _: Tongue) -> dict[str, Any]:
        forms = sorted(place.forms, key=lambda form: (text_key(form.literal), form.iri))
        makers, more = those_who(self.material.relations.worked_at.get(place.iri, []))
        # The first line has a form for each language, Latin first: that which says "at" the town, where one does.
        named = by_language(forms, lambda form: form.literal.lang)
        at = [[form for form in own if form.case in ("locative", "genitive")] or own for _, own in named]
        first = dict.fromkeys(own[0].literal for own in at)
        return {
            "entry": place,
            "forms": named,
            "first": list(first)[:6],
            "makers": makers,
            "more": more,
        }

    def _forename(self, forename: Forename, tongue: Tongue) -> dict[str, Any]:
        called = tongue.best(forename.labels)
        others: dict[str, Text] = {}
        for text in sorted(forename.labels, key=_by_tongue):
            others.setdefault(text.value, text)
        return {
            "entry": forename,
            "others": [text for value, text in others.items() if not called or value != called.value],
            "forms": by_language(sorted(forename.forms, key=text_key), _tag),
            "short_forms": by_language(sorted(forename.short_forms, key=text_key), _tag),
        }

    def _source(self, source: Source, tongue: Tongue) -> dict[str, Any]:
        cited = self.material.relations.cited_for.get(source.iri, [])
        if len(cited) <= MOST_CITED:  # of more than are shown the first by their addresses will do
            cited = sorted(
                cited, key=lambda pair: (alphabetical(self.material.pages.name(pair[0], tongue).value), pair[1].iri)
            )
        return {"entry": source, "cited": cited[:MOST_CITED], "count": len(cited)}

    def condition(self, sense: Sense, tongue: Tongue) -> str:
        """When the sense holds, in words; empty where it always does. The period of the term itself is told elsewhere."""

        def role_name(role: Iri) -> str:
            return self.material.pages.name(role, tongue).value

        return "; ".join(in_words(sense, role_name, tongue.worded, tongue.years))

    def words_for(self, concept: Iri, tongue: Tongue) -> dict[str, Any]:
        """The words that say it, by language, and the scale of years that their charts share."""
        pairs = self.material.relations.said_by.get(concept, [])
        shown = scale(span(term.period) for term, _ in pairs)
        found: list[WordsOf] = []
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
            usual_terms = list(plain.values()) or [term for term, _ in rest]
            spans = [span(term.period) for term in usual_terms]
            found.append(
                WordsOf(
                    tag,
                    sorted(plain.values(), key=_by_form),
                    _by_condition(rest),
                    _interval(spans),
                    _lines(spans, shown),
                )
            )
        return {"words": found, "words_scale": shown}


def _by_condition(pairs: Iterable[tuple[Term, str]]) -> list[tuple[str, list[Term]]]:
    """Terms that say something under the same condition together, so that the condition is read once."""
    groups: dict[str, list[Term]] = {}
    for term, condition in sorted(pairs, key=lambda pair: _by_form(pair[0])):
        groups.setdefault(condition, []).append(term)
    return list(groups.items())


def _interval(spans: Iterable[Span | None]) -> Edtf | None:
    """The years of several periods together."""
    known = [each for each in spans if each is not None]
    if not known:
        return None
    firsts, lasts = [each.first for each in known], [each.last for each in known]
    first = ".." if None in firsts else str(min(each for each in firsts if each is not None))
    last = ".." if None in lasts else str(max(each for each in lasts if each is not None))
    return Edtf(f"{first}/{last}")


def _lines(spans: Iterable[Span | None], shown: Scale | None) -> list[Bar]:
    bars = [bar for each in spans if shown and (bar := shown.bar(each))]
    return sorted(bars, key=lambda bar: (bar.left, -bar.width))[:MOST_LINES]


def how_usual(sense: Sense, tongue: Tongue) -> str:
    """A word for a sense that is not the usual one."""
    if sense.weight > LESS_USUAL:
        return ""
    return tongue.say("less usual") if sense.weight > 2 * LESS_USUAL else tongue.say("rare")


def _tag(text: Text) -> str:
    return text.lang


def _by_tongue(text: Text) -> tuple[int, str]:
    """Latin first, as the site lists languages."""
    order = list(wording.LANGUAGES)
    return order.index(text.lang) if text.lang in order else len(order), text.lang


def _by_form(term: Term) -> Any:
    return alphabetical(term.literal.value), term.iri

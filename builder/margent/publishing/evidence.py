"""On whose word something stands, as the site tells it, and how many things stand on which."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from margent.vocabulary.model import Citation, Iri, Supported, Vocabulary

Standing = Literal["cited", "commonPractice", "fromMemory"]

IN_WORDS: dict[Standing, str] = {
    "cited": "cited",
    "commonPractice": "common practice",
    "fromMemory": "from memory",
}


def standing(supported: Supported) -> Standing | None:
    """Cited, common practice or from memory; None where nothing is said, as with parts that lean on their entry."""
    if supported.citations:
        return "cited"
    if supported.standing == "commonPractice":
        return "commonPractice"
    return "fromMemory" if supported.standing == "fromMemory" else None


@dataclass(frozen=True, slots=True)
class Share:
    """How many of some things stand on which word."""

    name: str
    cited: int
    common: int
    memory: int

    @property
    def total(self) -> int:
        """All of them."""
        return self.cited + self.common + self.memory


@dataclass(frozen=True, slots=True)
class OfLanguage:
    """How many headwords and forms a language has."""

    language: str
    headwords: int
    short_forms: int
    variants: int
    senses: int
    share: Share


@dataclass(frozen=True, slots=True)
class Whole:
    """The vocabulary in figures."""

    entries: tuple[tuple[str, int], ...]
    languages: tuple[OfLanguage, ...]
    shares: tuple[Share, ...]
    most_cited: tuple[tuple[Iri, int], ...]
    citations: int


def whole(vocabulary: Vocabulary, languages: Iterable[str]) -> Whole:
    """The figures; withdrawn entries are not counted."""
    terms = [term for term in vocabulary.terms.values() if not term.withdrawn]
    kinds: list[tuple[str, list[Supported]]] = [
        ("Roles", list(vocabulary.roles.values())),
        ("Terms", list(terms)),
        ("Senses of terms", [sense for term in terms for sense in term.senses]),
        ("Kinds of notices", list(vocabulary.notice_kinds.values())),
        ("Qualifiers", list(vocabulary.qualifiers.values())),
        ("Places", list(vocabulary.places.values())),
        ("Forms of place names", [form for place in vocabulary.places.values() for form in place.forms]),
        ("Forenames", list(vocabulary.forenames.values())),
    ]
    cited: Counter[Iri] = Counter(citation.work for citation in citations(vocabulary))
    return Whole(
        entries=tuple(
            (name, len(table))
            for name, table in (
                ("Roles", vocabulary.roles),
                ("Terms", terms),
                ("Kinds of notices", vocabulary.notice_kinds),
                ("Qualifiers", vocabulary.qualifiers),
                ("Places", vocabulary.places),
                ("Forenames", vocabulary.forenames),
                ("Sources", vocabulary.sources),
            )
        ),
        languages=tuple(
            OfLanguage(
                language=language,
                headwords=len(own),
                short_forms=len({text for term in own for text in (*term.short_forms, *_shortest(term))}),
                variants=len({text for term in own for text in term.variant_forms}),
                senses=sum(len(term.senses) for term in own),
                share=share(language, own),
            )
            for language in languages
            if (own := [term for term in terms if term.language == language])
        ),
        shares=tuple(share(name, things) for name, things in kinds if things),
        most_cited=tuple(sorted(cited.items(), key=lambda item: (-item[1], item[0]))[:10]),
        citations=cited.total(),
    )


def _shortest(term: object) -> tuple[object, ...]:
    shortest = getattr(term, "shortened_to", None)
    return () if shortest is None else (shortest,)


def share(name: str, things: Iterable[Supported]) -> Share:
    """How many of the things are cited, common practice and from memory; one that says nothing is counted as from memory."""
    found: Counter[Standing] = Counter(standing(thing) or "fromMemory" for thing in things)
    return Share(name, found["cited"], found["commonPractice"], found["fromMemory"])


def citations(vocabulary: Vocabulary) -> Iterator[Citation]:
    """Every citation once, however many parts of its entry lean on it."""
    seen: set[Iri] = set()
    for supported, _ in supports(vocabulary):
        for citation in supported.citations:
            if citation.iri not in seen:
                seen.add(citation.iri)
                yield citation


def supports(vocabulary: Vocabulary) -> Iterator[tuple[Supported, Iri]]:
    """Everything that may carry citations, with the entry whose page shows it."""
    for role in vocabulary.roles.values():
        yield role, role.iri
        yield from ((confusion, role.iri) for confusion in role.confusions)
    for term in vocabulary.terms.values():
        yield term, term.iri
        yield from ((sense, term.iri) for sense in term.senses)
    for notice in vocabulary.notice_kinds.values():
        yield notice, notice.iri
    for qualifier in vocabulary.qualifiers.values():
        yield qualifier, qualifier.iri
    for place in vocabulary.places.values():
        yield place, place.iri
        yield from ((form, place.iri) for form in place.forms)
    for forename in vocabulary.forenames.values():
        yield forename, forename.iri

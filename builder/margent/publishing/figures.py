"""How much the vocabulary holds and on whose word: the figures that the README and the data page show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from margent.publishing.evidence import Share, citations, entries, share
from margent.vocabulary.model import Iri, Supported, Term, Vocabulary

SHOWN_WORKS = 12
"""How many works, those cited most, a table lists by name."""


@dataclass(frozen=True, slots=True)
class TermFigures:
    """The terms of one language, or all of them: headwords, spellings, and on whose word the headwords stand."""

    language: str
    headwords: int
    forms: int
    cited: int
    common_practice: int
    from_memory: int

    @property
    def share_cited(self) -> float:
        """The share of headwords that cite a named work, from 0 to 1."""
        return self.cited / self.headwords if self.headwords else 0.0


@dataclass(frozen=True, slots=True)
class WorkFigures:
    """How many citations of the whole vocabulary point to one work."""

    work: Iri
    title: str
    citations: int


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures of a vocabulary; languages by the alphabet of their tags, works by citations, the most first."""

    languages: tuple[TermFigures, ...]
    all_languages: TermFigures
    works: tuple[WorkFigures, ...]
    roles: int
    notice_kinds: int
    places: int
    place_forms: int
    forenames: int
    forename_forms: int
    qualifiers: int
    sources: int
    shares: tuple[Share, ...] = ()

    @property
    def citations(self) -> int:
        """How many passages of works are cited."""
        return sum(work.citations for work in self.works)


def figures(vocabulary: Vocabulary) -> Figures:
    """The figures of a vocabulary; withdrawn entries are not counted."""
    terms = [term for term in vocabulary.terms.values() if not term.withdrawn]
    places = [place for place in vocabulary.places.values() if not place.withdrawn]
    forenames = [forename for forename in vocabulary.forenames.values() if not forename.withdrawn]
    languages = sorted({term.language for term in terms})
    return Figures(
        languages=tuple(_of_terms(lang, [term for term in terms if term.language == lang]) for lang in languages),
        all_languages=_of_terms("", terms),
        works=_of_works(vocabulary),
        roles=_counted(vocabulary.roles.values()),
        notice_kinds=_counted(vocabulary.notice_kinds.values()),
        places=len(places),
        place_forms=sum(len({form.literal for form in place.forms}) for place in places),
        forenames=len(forenames),
        forename_forms=sum(len({*each.labels, *each.forms, *each.short_forms}) for each in forenames),
        qualifiers=_counted(vocabulary.qualifiers.values()),
        sources=_counted(vocabulary.sources.values()),
        shares=tuple(_shares(vocabulary, terms)),
    )


def _shares(vocabulary: Vocabulary, terms: list[Term]) -> Iterator[Share]:
    """How much of each kind of entry stands on which word; kinds of which there is nothing are left out."""
    things: tuple[tuple[str, Iterable[Supported]], ...] = (
        ("Roles", vocabulary.roles.values()),
        ("Terms", terms),
        ("Senses of terms", (sense for term in terms for sense in term.senses)),
        ("Kinds of notices", vocabulary.notice_kinds.values()),
        ("Qualifiers", vocabulary.qualifiers.values()),
        ("Places", vocabulary.places.values()),
        ("Forms of place names", (form for place in vocabulary.places.values() for form in place.forms)),
        ("Forenames", vocabulary.forenames.values()),
    )
    for name, own in things:
        found = share(name, own)
        if found.total:
            yield found


def as_markdown(found: Figures) -> str:
    """The figures as two Markdown tables, of the terms by language and of the works cited most, each with a line of totals."""
    lines = [
        "| language | headwords | forms | cited | common practice | from memory | share cited |",
        "|---|--:|--:|--:|--:|--:|--:|",
    ]
    lines.extend(
        f"| {each.language or 'all'} | {each.headwords:,} | {each.forms:,} | {each.cited:,} | {each.common_practice:,} "
        f"| {each.from_memory:,} | {each.share_cited:.0%} |"
        for each in (*found.languages, found.all_languages)
    )
    lines += ["", "| work | citations |", "|---|--:|"]
    lines.extend(f"| {_cell(work.title)} | {work.citations:,} |" for work in found.works[:SHOWN_WORKS])
    others = found.works[SHOWN_WORKS:]
    if others:
        lines.append(f"| {len(others):,} other works | {sum(work.citations for work in others):,} |")
    lines.append(f"| all | {found.citations:,} |")
    return "\n".join(lines) + "\n"


def _of_terms(language: str, terms: list[Term]) -> TermFigures:
    cited = sum(bool(term.citations) for term in terms)
    practice = sum(not term.citations and term.standing == "commonPractice" for term in terms)
    return TermFigures(
        language=language,
        headwords=len(terms),
        forms=sum(len(_forms(term)) for term in terms),
        cited=cited,
        common_practice=practice,
        from_memory=len(terms) - cited - practice,
    )


def _forms(term: Term) -> set[str]:
    """The spellings that an entry names; the truncations that its shortest form allows are one more, not each."""
    shortest = (term.shortened_to,) if term.shortened_to else ()
    return {text.value for text in (term.literal, *shortest, *term.short_forms, *term.variant_forms)}


def _of_works(vocabulary: Vocabulary) -> tuple[WorkFigures, ...]:
    cited = {each.iri: each.work for entry in entries(vocabulary) for each in citations(entry)}
    counted = Counter(cited.values())
    found = (
        WorkFigures(
            work,
            vocabulary.sources[work].title.value if work in vocabulary.sources else work.rsplit("/", 1)[-1],
            number,
        )
        for work, number in counted.items()
    )
    return tuple(sorted(found, key=lambda each: (-each.citations, each.work)))


def _counted(entries: Iterable[Supported]) -> int:
    return sum(not getattr(entry, "withdrawn", False) for entry in entries)


def _cell(text: str) -> str:
    """Text for a cell of a Markdown table."""
    return text.replace("|", "\\|")

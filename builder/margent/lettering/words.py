"""What a word or phrase of a lettering may mean: every sense of every term that it may be a form of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from margent.lettering.conditions import in_words
from margent.lettering.lexicon import Item
from margent.lettering.reader import Reader, lettering_of
from margent.vocabulary.edtf import years
from margent.vocabulary.model import Choice, Citation, Iri, Sense, Supported, Term, Vocabulary

STANDINGS = {"commonPractice": "common practice", "fromMemory": "from memory", "cited": "cited"}


@dataclass(frozen=True, slots=True)
class Answer:
    """One sense: the term, its language, the role or the notice it says, when it says so, and on whose word."""

    term: str
    language: str
    role: str | None
    notice: str | None
    when: str
    source: str
    reason: str

    def as_dict(self) -> dict[str, Any]:
        """The answer as plain data; either `role` or `notice` is there, several roles are separate answers."""
        found = asdict(self)
        del found["role" if self.role is None else "notice"]
        return found


class Words:
    """Answers what a word means, by the compiled word list for the form and by the vocabulary for the sources."""

    def __init__(self, reader: Reader, vocabulary: Vocabulary) -> None:
        self._reader = reader
        self._vocabulary = vocabulary
        self._terms = {term.slug: term for term in vocabulary.terms.values()}

    def ask(self, text: str, span: tuple[int, int] | None = None) -> list[Answer]:
        """The senses of a word, phrase or abbreviation, likeliest term first; empty where the list has nothing like it.

        Where the whole text is no form, its parts between commas and semicolons are asked one by one.  With `span`,
        terms whose period lies outside those years are left out.
        """
        found = self._whole(text, span)
        if not found:
            for part in text.replace(";", ",").split(","):
                for answer in self._whole(part, span) if part.strip() != text.strip() else ():
                    if answer not in found:
                        found.append(answer)
        return found

    def _whole(self, text: str, span: tuple[int, int] | None) -> list[Answer]:
        answers: list[Answer] = []
        slugs = dict.fromkeys(
            slug for item in self._items(text) for slug in (item.ref, *(ref for ref, _ in item.others))
        )
        terms = [self._terms[slug] for slug in slugs if slug in self._terms]
        terms.sort(key=lambda term: _likeness(term, text))
        for term in terms:
            if _in_use(term, span):
                for sense in sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri)):
                    for answer in self._answers(term, sense):
                        if answer not in answers:
                            answers.append(answer)
        return answers

    def _items(self, text: str) -> Sequence[Item]:
        """The items that take in the whole text, weightiest first; exact forms before guesses."""
        tokens = self._reader.tokens(lettering_of([text]))
        if not tokens:
            return []
        items = [
            item
            for item in self._reader.lexicon.items(tokens)[0]
            if item.end == len(tokens) and item.label in ("front", "back", "notice")
        ]
        sure = [item for item in items if not item.respelt]
        return sorted(sure or items, key=lambda item: (-item.weight, item.label))

    def _answers(self, term: Term, sense: Sense) -> list[Answer]:
        answers = []
        for said in sense.says:
            slug = said.rsplit("/", 1)[-1]
            role = slug if "/role/" in said else None
            answers.append(
                Answer(
                    term=term.literal.value,
                    language=term.language,
                    role=role,
                    notice=None if role else slug,
                    when=self.when(term, sense),
                    source=self.source(sense if sense.citations or sense.standing else term),
                    reason=sense.reasons[0].value if sense.reasons else "",
                )
            )
        return answers

    def when(self, term: Term, sense: Sense) -> str:
        """The conditions of a sense in plain words; "always" where it has none."""
        said = in_words(sense, self._role, str, _period)
        if term.period:
            said.append("in use " + _period(term.period))
        return "; ".join(said) or "always"

    def _role(self, role: Iri) -> str:
        entry = self._vocabulary.roles.get(role)
        return entry.label() if entry else role.rsplit("/", 1)[-1]

    def source(self, supported: Supported) -> str:
        """On whose word: the works cited with page and form, or the plain word that there is none."""
        if supported.citations:
            return "; ".join(self._citation(each) for each in supported.citations)
        standing: Choice | None = supported.standing
        return STANDINGS.get(standing or "fromMemory", "from memory")

    def _citation(self, citation: Citation) -> str:
        work = self._vocabulary.sources.get(citation.work)
        title = work.title.value if work else citation.work.rsplit("/", 1)[-1]
        locator = f", {citation.locator}" if citation.locator else ""
        found = f" (“{'”, “'.join(citation.as_found)}”)" if citation.as_found else ""
        return title + locator + found


def _likeness(term: Term, text: str) -> int:
    """0 where the text is the headword as it stands, 1 where it is another of its listed forms, 2 where only folding makes it one."""
    asked = text.strip().casefold()
    if asked == term.literal.value.casefold():
        return 0
    listed = {form.value.casefold() for form in (*term.short_forms, *term.variant_forms)}
    return 1 if asked in listed or asked.rstrip(".:") in listed else 2


def _in_use(term: Term, span: tuple[int, int] | None) -> bool:
    """Whether a term's period meets the years; one without a period always does."""
    if span is None or term.period is None:
        return True
    first, last = years(term.period)
    return first <= span[1] and span[0] <= last


def _period(edtf: str) -> str:
    """An EDTF interval for reading: 1500 to 1900, from 1800."""
    first, _, last = edtf.partition("/")
    if not last:
        return edtf
    if last == "..":
        return f"from {first}"
    return f"until {last}" if first == ".." else f"{first} to {last}"

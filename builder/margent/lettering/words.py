"""What a word or phrase of a lettering may mean: every sense of every term that it may be a form of."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from margent.lettering.conditions import in_words
from margent.lettering.editions import within_edition
from margent.lettering.lexicon import Item
from margent.lettering.reader import Reader, lettering_of
from margent.lettering.word_kinds import WordKinds
from margent.vocabulary.edtf import years
from margent.vocabulary.model import Choice, Citation, Iri, Sense, Supported, Term, Vocabulary
from margent.vocabulary.reading_rules import Setting

SAYING = ("front", "back", "notice")
"""Labels of the words that say a role or a notice."""
JOINING = ("conj", "agent", "particle", "prep", "sameman", "subject")
"""Labels of the small words that may stand between such words."""

_PARTED = re.compile(r"[,;()\[\]]")

EDITION = "1/25"
"""Stands for every number within an edition; the headword of its term."""

HOME = "home-language"
"""The setting that names the language whose words stand on prints of every country."""
STANDINGS = {"commonPractice": "common practice", "fromMemory": "from memory", "cited": "cited"}


@dataclass(frozen=True, slots=True)
class Answer:
    """One sense: the term, its language, what it says, when it says so, and on whose word.

    It says a role, or a notice; a word that says neither, such as *vidua*, is of a kind.
    """

    term: str
    language: str
    role: str | None
    notice: str | None
    when: str
    source: str
    reason: str
    kind: str | None = None

    def as_dict(self) -> dict[str, Any]:
        """The answer as plain data; one of `role`, `notice` and `kind` is there, several roles are separate answers."""
        return {key: value for key, value in asdict(self).items() if value is not None}


class Words:
    """Answers what a word means, by the compiled word list for the form and by the vocabulary for the sources."""

    def __init__(self, reader: Reader, vocabulary: Vocabulary) -> None:
        self._reader = reader
        self._vocabulary = vocabulary
        self._terms = {term.slug: term for term in vocabulary.terms.values()}
        self._kinds = WordKinds(vocabulary)
        self._home = {
            language
            for rule in vocabulary.reading_rules.values()
            if isinstance(rule, Setting) and rule.key == HOME
            for language in rule.values
        }

    def ask(self, text: str, span: tuple[int, int] | None = None) -> list[Answer]:
        """The senses of a word, phrase or abbreviation, likeliest term first; empty where the list has nothing like it.

        Where the whole text is no form, its parts between commas, semicolons and brackets are asked one by one; else it
        may be a word that says no role, and what kind of word it is, is told; else the longest forms that stand in it
        are asked.  With `span`, terms whose period lies outside those years are
        left out.
        """
        if within_edition(text.strip()):  # a pattern and no word: any two such figures are one term
            terms = [term for term in self._terms.values() if term.literal.value == EDITION and _in_use(term, span)]
            return [answer for term in terms for sense in term.senses for answer in self._answers(term, sense)]
        found = self._whole(text, span)
        parts = [part for part in _PARTED.split(text) if part.strip()]
        if not found and len(parts) > 1:
            found = self._together(parts, span)
        return found or self._kind(text) or self._together(self._longest(text), span)

    def _together(self, parts: Sequence[str], span: tuple[int, int] | None) -> list[Answer]:
        """The answers to several texts, each once."""
        return list(dict.fromkeys(answer for part in parts for answer in self._whole(part, span)))

    def _longest(self, text: str) -> list[str]:
        """The longest forms of terms and notices in the text, from its beginning on; empty where words are left over between them."""
        tokens = self._reader.tokens(lettering_of([text]))
        rows = self._reader.lexicon.items(tokens)
        found, at = [], 0
        while at < len(tokens):
            end = max((item.end for item in rows[at] if item.label in SAYING and not item.respelt), default=at)
            if end > at:
                found.append(text[tokens[at].start : tokens[end - 1].end])
            else:
                end = max((item.end for item in rows[at] if item.label in JOINING), default=at)
            if end == at:
                return []
            at = end
        return found

    def _kind(self, text: str) -> list[Answer]:
        """What kind of word it is that says neither role nor notice."""
        tokens = self._reader.tokens(lettering_of([text]))
        items = [item for item in self._reader.lexicon.items(tokens)[0] if item.end == len(tokens)] if tokens else []
        sure = [item for item in items if not item.respelt] or items
        sure.sort(key=lambda item: (-item.weight, item.label))
        return [
            Answer(text.strip(), kind.language, None, None, "always", STANDINGS["commonPractice"], kind.says, kind.name)
            for kind in self._kinds.of(sure)
        ]

    def _whole(self, text: str, span: tuple[int, int] | None) -> list[Answer]:
        answers: list[Answer] = []
        slugs = dict.fromkeys(
            slug for item in self._items(text) for slug in (item.ref, *(ref for ref, _ in item.others))
        )
        terms = [self._terms[slug] for slug in slugs if slug in self._terms]
        terms.sort(key=lambda term: self._likeness(term, text))
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
            item for item in self._reader.lexicon.items(tokens)[0] if item.end == len(tokens) and item.label in SAYING
        ]
        sure = [item for item in items if not item.respelt]
        return sorted(sure or items, key=lambda item: (-item.weight, item.label))

    def _likeness(self, term: Term, text: str) -> int:
        """How far the text is from the term; where it is cut short, a word of the language that is at home everywhere comes first.

        0 for a headword as it stands, 1 and 2 for a short form in the home language and in others, 3 for another listed
        form, 4 where only folding makes it one.
        """
        asked = text.strip().casefold()
        bare = asked.rstrip(".:")
        headword = term.literal.value.casefold()
        short = bare in {form.value.casefold().rstrip(".:") for form in term.short_forms}
        if term.shortened_to is not None and bare != headword:
            short = short or (bare.startswith(term.shortened_to.value.casefold()) and headword.startswith(bare))
        if short or (asked == headword and asked != bare):
            return 1 if term.language in self._home else 2
        if asked == headword:
            return 0
        return 3 if {asked, bare} & {form.value.casefold() for form in term.variant_forms} else 4

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

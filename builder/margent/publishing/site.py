"""The static site: every page of it, written from the vocabulary with the templates of site/."""

from __future__ import annotations

import dataclasses
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from margent.lettering.words import Words
from margent.publishing import wording
from margent.publishing.dumps import Dump, File
from margent.publishing.evidence import IN_WORDS, standing, whole
from margent.publishing.folding import alphabetical, initial
from margent.publishing.look_up import says
from margent.publishing.pages import Pages, followable
from margent.publishing.relations import Relations, relations
from margent.vocabulary.model import Iri, Role, Sense, Term, Text, Vocabulary, in_language

LESS_USUAL = -1000
"""From this weight down a sense is told apart as less usual on the page of its role."""

ASSETS = ("styles", "scripts", "fonts", "images")

LABEL_LANGUAGES = ("en", "fr", "it", "de", "nl", "es", "la")


@dataclass(frozen=True, slots=True)
class Page:
    """One page to write: its path below the site, its template, and what the template is told."""

    path: str
    template: str
    told: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Form:
    """One line of an index of words: a form as engraved, and the term it belongs to."""

    text: str
    term: Term
    headword: bool


class Site:
    """All pages of a vocabulary."""

    def __init__(self, vocabulary: Vocabulary, words: Words, dumps: Sequence[Dump], others: Sequence[File]) -> None:
        self.vocabulary = vocabulary
        self.words = words
        self.dumps = dumps
        self.others = others
        self.pages = Pages(vocabulary)
        self.relations: Relations = relations(vocabulary)
        self.languages = [
            tag for tag in wording.LANGUAGES if any(term.language == tag for term in vocabulary.terms.values())
        ]
        self.languages += sorted({term.language for term in vocabulary.terms.values()} - set(self.languages))

    def write(self, source: Path, target: Path, progress: Callable[[str], None] = lambda _: None) -> int:
        """How many pages were written below `target` from the templates and assets of `source`."""
        for name in ASSETS:
            if (source / name).is_dir():
                shutil.copytree(source / name, target / name, ignore=shutil.ignore_patterns("README.md", ".*"))
        environment = self._environment(source)
        count = 0
        for page in self.all_pages():
            path = target / page.path
            path.parent.mkdir(parents=True, exist_ok=True)
            root = "../" * page.path.count("/")
            text = environment.get_template(page.template).render(root=root, here=page.path, **page.told)
            path.write_text(text, encoding="utf-8", newline="\n")
            count += 1
            if count % 250 == 0:
                progress(f"{count} pages")
        return count

    def _environment(self, source: Path) -> Environment:
        environment = Environment(
            loader=FileSystemLoader([source / "templates", source]),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        environment.filters |= {
            "path": self.pages.path,
            "label": self.pages.label,
            "tongue": self.pages.language,
            "followable": followable,
            "standing": standing,
            "in_words": IN_WORDS.__getitem__,
            "language": wording.language_name,
            "years": wording.in_years,
            "size": wording.in_bytes,
            "only": lambda texts, tag: next((text for text in texts if text.lang == tag), None),
            "english": lambda texts: in_language(texts, "en") or "",
        }
        environment.globals |= {
            "vocabulary": self.vocabulary,
            "publication": self.vocabulary.publication,
            "share_of": wording.share_of,
            "wording": wording,
            "label_languages": LABEL_LANGUAGES,
        }
        return environment

    def all_pages(self) -> Iterator[Page]:
        """Every page, those of the entries after those that lead to them."""
        yield Page("index.html", "home.html", {"stages": self._stages(), "languages": self._languages()})
        yield Page("lower-margin.html", "guide/lower-margin.html", {})
        yield Page("roles.html", "roles.html", {"stages": self._stages()})
        yield Page("words.html", "words.html", {"languages": self._languages()})
        for tag in self.languages:
            yield Page(f"words/{tag}.html", "words-of-language.html", {"tag": tag, "letters": self._letters(tag)})
        yield Page("notices.html", "notices.html", {"notices": self._by_label(self.vocabulary.notice_kinds.values())})
        yield Page("qualifiers.html", "qualifiers.html", {"axes": self._axes()})
        yield Page("places.html", "places.html", {"places": self._by_label(self.vocabulary.places.values())})
        yield Page("sources.html", "sources.html", {"sources": self._sources()})
        yield Page("data.html", "data.html", {"dumps": self.dumps, "others": self.others})
        yield Page("whole.html", "whole.html", {"whole": whole(self.vocabulary, self.languages)})
        yield from self._entry_pages()

    def _entry_pages(self) -> Iterator[Page]:
        vocabulary, path = self.vocabulary, self.pages.path
        for role in vocabulary.roles.values():
            told = {
                "entry": role,
                "words": self._words_for(role.iri),
                "narrower": self.relations.narrower.get(role.iri, []),
                "taken_for": self.relations.taken_for.get(role.iri, []),
            }
            yield Page(path(role.iri), "role.html", told)
        for notice in vocabulary.notice_kinds.values():
            yield Page(path(notice.iri), "notice.html", {"entry": notice, "words": self._words_for(notice.iri)})
        for term in vocabulary.terms.values():
            yield Page(path(term.iri), "term.html", self._term(term))
        for qualifier in vocabulary.qualifiers.values():
            beside = [each for axis, each in self._axes() if axis == qualifier.axis]
            phrases = self._by_language(qualifier.phrases, lambda text: text.lang)
            told = {"entry": qualifier, "beside": beside[0] if beside else [], "phrases": phrases}
            yield Page(path(qualifier.iri), "qualifier.html", told)
        for place in vocabulary.places.values():
            forms = sorted(place.forms, key=lambda form: (alphabetical(form.literal.value), form.iri))
            told = {"entry": place, "forms": self._by_language(forms, lambda form: form.literal.lang)}
            yield Page(path(place.iri), "place.html", told)
        for source in vocabulary.sources.values():
            cited = sorted(
                self.relations.cited_for.get(source.iri, []),
                key=lambda pair: (alphabetical(self.pages.label(pair[0])), pair[1].iri),
            )
            yield Page(path(source.iri), "source.html", {"entry": source, "cited": cited})

    def _term(self, term: Term) -> dict[str, Any]:
        senses = sorted(term.senses, key=lambda sense: (-sense.weight, sense.iri))
        return {
            "entry": term,
            "senses": [(sense, self.condition(term, sense), how_usual(sense)) for sense in senses],
            "short_forms": self.relations.short_forms.get(term.iri, []),
            "inflections": self.relations.inflections.get(term.iri, []),
        }

    def condition(self, term: Term, sense: Sense) -> str:
        """When the sense holds, in words; empty where it always does. The period of the term itself is told once, elsewhere."""
        said = self.words.when(dataclasses.replace(term, period=None), sense)
        return "" if said == "always" else said

    def _words_for(self, concept: Iri) -> list[tuple[str, list[Term], list[tuple[Term, str]]]]:
        """For each language the terms that usually say it, and those that do so less usually or only under a condition."""
        found = []
        for tag, pairs in self.relations.words_by_language(concept, self.languages):
            plain: dict[Iri, Term] = {}
            others: dict[Iri, tuple[Term, str]] = {}
            for term, sense in pairs:
                condition = self.condition(term, sense)
                if not condition and sense.weight > LESS_USUAL:
                    plain.setdefault(term.iri, term)
                elif term.iri not in others:
                    others[term.iri] = (term, "; ".join(part for part in (how_usual(sense), condition) if part))
            rest = [pair for iri, pair in others.items() if iri not in plain]
            found.append((tag, sorted(plain.values(), key=_by_form), sorted(rest, key=lambda pair: _by_form(pair[0]))))
        return found

    def _stages(self) -> list[tuple[Any, list[tuple[Role, int]]]]:
        """The stages in their order, each with its roles: a narrower role behind its broader one, with its depth."""
        roles = [role for role in self.vocabulary.roles.values() if not role.withdrawn]
        found = []
        for stage in sorted(self.vocabulary.stages.values(), key=lambda stage: (stage.order, stage.iri)):
            own = {role.iri: role for role in roles if role.stage == stage.iri}
            placed: dict[Iri, int] = {}
            tops = [role for role in own.values() if not any(above in own for above in role.broader)]
            todo = [(role, 0) for role in sorted(tops, key=_by_name, reverse=True)]
            while todo:
                role, depth = todo.pop()
                if role.iri not in placed:
                    placed[role.iri] = depth
                    below = [each for each in own.values() if role.iri in each.broader]
                    todo += [(each, depth + 1) for each in sorted(below, key=_by_name, reverse=True)]
            rest = [(role, 0) for role in own.values() if role.iri not in placed]  # a circle in what is broader
            found.append((stage, [(own[iri], depth) for iri, depth in placed.items()] + rest))
        return found

    def _languages(self) -> list[tuple[str, int, int]]:
        """Each language with its count of headwords and of forms."""
        return [
            (tag, len({form.term.iri for form in forms}), len(forms))
            for tag in self.languages
            for forms in [self._forms(tag)]
        ]

    def _forms(self, tag: str) -> list[Form]:
        """Every form of a language, alphabetically; of two alike that belong to one term, one."""
        found: dict[tuple[str, Iri], Form] = {}
        for term in self.vocabulary.terms.values():
            if term.language == tag and not term.withdrawn:
                found[term.literal.value, term.iri] = Form(term.literal.value, term, headword=True)
                shortest: tuple[Text, ...] = (term.shortened_to,) if term.shortened_to else ()
                for text in (*shortest, *term.short_forms, *term.variant_forms):
                    found.setdefault((text.value, term.iri), Form(text.value, term, headword=False))
        return sorted(found.values(), key=lambda form: (alphabetical(form.text), not form.headword, form.term.iri))

    def _letters(self, tag: str) -> list[tuple[str, list[tuple[Form, str]]]]:
        """The forms of a language under their first letters, headwords with what they say."""
        letters: dict[str, list[tuple[Form, str]]] = {}
        for form in self._forms(tag):
            said = ", ".join(says(form.term, self.vocabulary)[:3]) if form.headword else ""
            letters.setdefault(initial(form.text), []).append((form, said))
        return list(letters.items())

    def _axes(self) -> list[tuple[str, list[Any]]]:
        axes = dict.fromkeys([*wording.AXES, *sorted({each.axis for each in self.vocabulary.qualifiers.values()})])
        found = []
        for axis in axes:
            own = [each for each in self.vocabulary.qualifiers.values() if each.axis == axis and not each.withdrawn]
            if own:
                found.append((axis, sorted(own, key=lambda each: (each.rank, each.iri))))
        return found

    def _sources(self) -> list[tuple[Any, int]]:
        sources = sorted(self.vocabulary.sources.values(), key=lambda each: (alphabetical(each.title.value), each.iri))
        return [(source, len(self.relations.cited_for.get(source.iri, []))) for source in sources]

    @staticmethod
    def _by_language(things: Iterable[Any], tag_of: Callable[[Any], str]) -> list[tuple[str, list[Any]]]:
        """The things under their languages, in the site's order of languages."""
        groups: dict[str, list[Any]] = {}
        for thing in things:
            groups.setdefault(tag_of(thing), []).append(thing)
        order = list(wording.LANGUAGES)
        return sorted(
            groups.items(), key=lambda item: (order.index(item[0]) if item[0] in order else len(order), item[0])
        )

    @staticmethod
    def _by_label(entries: Any) -> list[Any]:
        return sorted((entry for entry in entries if not entry.withdrawn), key=_by_name)


def how_usual(sense: Sense) -> str:
    """A word for a sense that is not the usual one."""
    if sense.weight > LESS_USUAL:
        return ""
    return "less usual" if sense.weight > 2 * LESS_USUAL else "rare"


def _by_name(entry: Any) -> Any:
    return alphabetical(entry.label()), entry.iri


def _by_form(term: Term) -> Any:
    return alphabetical(term.literal.value), term.iri

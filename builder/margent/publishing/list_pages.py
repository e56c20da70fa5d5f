"""The pages that lead to entries: the home page, the lists, the guide, the data and the figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from margent.names.marks import MAKERS_MARKS
from margent.publishing import wording
from margent.publishing.folding import alphabetical, initial
from margent.publishing.maker_pages import line
from margent.publishing.material import EVERY_MAKER, Material, Page, initial_table, language_table
from margent.publishing.relations import concepts
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Maker, Qualifier, Role, Source, Stage, Term, Text

MOST_MAKERS = 500
"""How many makers one page lists at most."""

Stages = list[tuple[Stage, list[tuple[Role, int]]]]


@dataclass(frozen=True, slots=True)
class Form:
    """One line of an index of words: a form as engraved, and the term it belongs to."""

    text: str
    term: Term
    headword: bool


class ListPages:
    """All pages that are no entry's."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self.vocabulary = material.vocabulary
        self._languages: list[tuple[str, int, int]] | None = None

    def pages(self) -> Iterator[Page]:
        """Every one of them."""
        material, vocabulary = self.material, self.vocabulary
        yield Page(
            "index.html",
            "home.html",
            lambda tongue: {"stages": self.stages(tongue), "languages": self.languages()},
            tables=("stages", "roles", "terms"),
        )
        yield Page("lower-margin.html", "guide/lower-margin.html", lambda _: {}, tables=())
        yield Page("roles.html", "roles.html", self._roles, tables=("roles", "stages"))
        yield Page("words.html", "words.html", lambda _: {"languages": self.languages()}, tables=("terms",))
        for tag in material.languages:
            yield self._words_of(tag)
        yield Page(
            "notices.html",
            "notices.html",
            lambda tongue: {"notices": material.by_name(vocabulary.notice_kinds.values(), tongue)},
            tables=("notice_kinds",),
        )
        yield Page("qualifiers.html", "qualifiers.html", lambda _: {"axes": axes(material)}, tables=("qualifiers",))
        yield Page(
            "places.html",
            "places.html",
            lambda tongue: {"places": material.by_name(vocabulary.places.values(), tongue)},
            tables=("places",),
        )
        yield Page(
            "forenames.html",
            "forenames.html",
            lambda tongue: {"forenames": material.by_name(vocabulary.forenames.values(), tongue)},
            tables=("forenames",),
        )
        yield from self._makers()
        if vocabulary.marks:
            yield Page("marks.html", "marks.html", self._marks)
        yield Page("sources.html", "sources.html", lambda _: {"sources": self._sources()})
        yield Page("data.html", "data.html", self._data)
        yield Page("whole.html", "whole.html", lambda _: {"figures": material.figures})
        yield Page("suggest.html", "suggest.html", self._suggest, tables=("roles", "notice_kinds"))

    def _suggest(self, tongue: Tongue) -> dict[str, Any]:
        vocabulary, by_name = self.vocabulary, self.material.by_name
        return {
            "roles": by_name(vocabulary.roles.values(), tongue),
            "notices": by_name(vocabulary.notice_kinds.values(), tongue),
        }

    def _words_of(self, tag: str) -> Page:
        return Page(
            f"words/{tag}.html",
            "words-of-language.html",
            lambda _: {"tag": tag, "letters": self._letters(tag)},
            tables=(language_table(tag), "roles", "notice_kinds"),
        )

    def _roles(self, tongue: Tongue) -> dict[str, Any]:
        stages = self.stages(tongue)
        return {"stages": stages, "count": sum(len(roles) for _, roles in stages)}

    def _makers(self) -> Iterator[Page]:
        """The list of makers: on one page where it is short, else a page for each initial."""
        makers = [maker for maker in self.vocabulary.makers.values() if not maker.withdrawn]
        letters: dict[str, list[Maker]] = {}
        for maker in sorted(makers, key=lambda each: (alphabetical(each.label()), each.iri)):
            letters.setdefault(initial(maker.label()), []).append(maker)
        if not makers:
            return
        whole = len(makers) <= MOST_MAKERS
        names = {letter: letter.lower() if letter.isascii() and letter.isalpha() else "signs" for letter in letters}
        initials = [(each, f"makers.html#{names[each]}" if whole else f"makers/{names[each]}.html") for each in letters]

        def told(shown: list[str], letter: str | None, _: Tongue) -> dict[str, Any]:
            return {
                "count": len(makers),
                "authorities": self.vocabulary.authorities,
                "initials": initials,
                "letter": letter,
                "letters": [(each, [(maker, line(maker)) for maker in letters[each]]) for each in shown],
            }

        first = ("makers", "roles") if whole else (EVERY_MAKER,)
        yield Page("makers.html", "makers.html", partial(told, list(letters) if whole else [], None), tables=first)
        if not whole:
            for letter, address in initials:
                tables = (EVERY_MAKER, initial_table(letter), "roles")
                yield Page(address, "makers.html", partial(told, [letter], letter), tables=tables)

    def _marks(self, tongue: Tongue) -> dict[str, Any]:
        """The marks by their kinds, those of makers first."""
        marks = self.material.by_name(self.vocabulary.marks.values(), tongue)
        order = [*MAKERS_MARKS, *sorted({mark.mark_kind for mark in marks} - set(MAKERS_MARKS))]
        kinds = [(kind, [mark for mark in marks if mark.mark_kind == kind]) for kind in order]
        return {"kinds": [(kind, own) for kind, own in kinds if own], "count": len(marks)}

    def _data(self, _: Tongue) -> dict[str, Any]:
        return {"dumps": self.material.dumps, "others": self.material.others, "figures": self.material.figures}

    def stages(self, tongue: Tongue) -> Stages:
        """The stages in their order, each with its roles: a narrower role behind its broader one, with its depth."""
        roles = self.material.by_name(self.vocabulary.roles.values(), tongue)
        found: Stages = []
        for stage in sorted(self.vocabulary.stages.values(), key=lambda stage: (stage.order, stage.iri)):
            own = {role.iri: role for role in roles if role.stage == stage.iri}
            placed: dict[Iri, int] = {}
            tops = [role for role in own.values() if not any(above in own for above in role.broader)]
            todo = [(role, 0) for role in reversed(tops)]
            while todo:
                role, depth = todo.pop()
                if role.iri not in placed:
                    placed[role.iri] = depth
                    todo += [(each, depth + 1) for each in reversed(own.values()) if role.iri in each.broader]
            rest = [(role, 0) for role in own.values() if role.iri not in placed]  # a circle in what is broader
            found.append((stage, [(own[iri], depth) for iri, depth in placed.items()] + rest))
        return found

    def languages(self) -> list[tuple[str, int, int]]:
        """Each language with its count of headwords and of forms."""
        if self._languages is None:
            self._languages = [
                (tag, len({form.term.iri for form in forms}), len(forms))
                for tag in self.material.languages
                for forms in [self._forms(tag)]
            ]
        return self._languages

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

    def _letters(self, tag: str) -> list[tuple[str, list[tuple[Form, tuple[Iri, ...]]]]]:
        """The forms of a language under their first letters, headwords with the first things they say."""
        letters: dict[str, list[tuple[Form, tuple[Iri, ...]]]] = {}
        for form in self._forms(tag):
            said = concepts(form.term)[:3] if form.headword else ()
            letters.setdefault(initial(form.text), []).append((form, said))
        return list(letters.items())

    def _sources(self) -> list[tuple[Source, int]]:
        sources = sorted(self.vocabulary.sources.values(), key=lambda each: (alphabetical(each.title.value), each.iri))
        return [(source, len(self.material.relations.cited_for.get(source.iri, []))) for source in sources]


def axes(material: Material) -> list[tuple[str, list[Qualifier]]]:
    """The axes of qualifiers, each with those in force in their order."""
    qualifiers = [each for each in material.vocabulary.qualifiers.values() if not each.withdrawn]
    named = dict.fromkeys([*wording.AXES, *sorted({each.axis for each in qualifiers})])
    found: list[tuple[str, list[Any]]] = [
        (axis, sorted((each for each in qualifiers if each.axis == axis), key=lambda each: (each.rank, each.iri)))
        for axis in named
    ]
    return [(axis, own) for axis, own in found if own]

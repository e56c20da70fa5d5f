"""The data by which every page looks up words, roles, names, marks and places: entries by the keys of all their forms.

A form stands under each of its words, the words turned round: `Anna Verrou` under `anna uerou` and under `uerou anna`.
`look_up_shards.py` cuts the sorted rows into small files, of which a browser loads the one it needs.
"""

from __future__ import annotations

import gettext
from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from margent.publishing.derived import forms_beside
from margent.publishing.look_up_keys import Keys
from margent.publishing.messages import SOURCE, Language
from margent.publishing.pages import Pages
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Labelled, Maker, Mark, Term, Vocabulary

ENGLISH = Tongue(Language(SOURCE, gettext.NullTranslations()))
"""The list is one for all languages of the site; what is said of an entry in it is English."""

MOST_WORDS = 6
"""Words of a form under which it stands; the others are too far in to be looked up by."""

KINDS = ("term", "role", "notice", "place", "mark", "maker")
"""The kinds of entry in the order in which they are wanted where a key fits many; what is not named comes last."""


class Found(NamedTuple):
    """An entry that may be found: the path of its page without the ending, what it is called, what is said of it.

    `shortest` is the key of the shortest truncation that still means it, and `rank` sorts the wanted before the rest.
    """

    page: str
    label: str
    lang: str
    said: str
    shortest: str = ""
    rank: int = 0


class Row(NamedTuple):
    """One way to an entry, as ways are sorted: the key, the entry, the form that the key was made of, and at which of its words.

    `size` is how many characters all that takes.
    """

    key: str
    rank: int
    page: str
    form: str
    at: int
    size: int = 0


def rows_of(found: Found, forms: Iterable[str], keys: Keys) -> Iterator[Row]:
    """All rows of an entry; each form once."""
    seen: set[str] = set()
    for form in dict.fromkeys(forms):
        key = keys(form)
        if key and key not in seen:
            seen.add(key)
            words = key.split(" ")
            size = len(form) + len(found.page) + len(found.label) + len(found.said) + 28
            for at in range(min(len(words), MOST_WORDS)):
                turned = " ".join(words[at:] + words[:at]) if at else key
                yield Row(turned, found.rank, found.page, form, at, size)


def entries(
    vocabulary: Vocabulary, pages: Pages, keys: Keys, among: Collection[Iri] | None = None
) -> Iterator[tuple[Iri, Found, Iterable[str]]]:
    """Every entry that has a page and is in force, or those `among` some, with all forms, the one by which it is called first."""
    tables: tuple[Iterable[Labelled | Term | Mark], ...] = (
        vocabulary.terms.values(),
        vocabulary.roles.values(),
        vocabulary.notice_kinds.values(),
        vocabulary.qualifiers.values(),
        vocabulary.places.values(),
        vocabulary.forenames.values(),
        vocabulary.makers.values(),
        vocabulary.marks.values(),
    )
    for table in tables:
        for entry in table if among is None else (each for each in table if each.iri in among):
            page = pages.path(entry.iri).removesuffix(".html")
            if page and not entry.withdrawn:
                name = pages.name(entry.iri, ENGLISH)
                kind = page.split("/")[0]
                rank = KINDS.index(kind) if kind in KINDS else len(KINDS)
                shortest = ""
                if isinstance(entry, Term) and entry.shortened_to is not None:
                    shortest = keys(entry.shortened_to.value)
                said = said_of(entry, pages)
                lang = "" if name.lang == SOURCE else name.lang
                yield entry.iri, Found(page, name.value, lang, said, shortest, rank), (name.value, *forms_of(entry))


def forms_of(entry: Labelled | Term | Mark) -> Iterator[str]:
    """Every text by which somebody may look for the entry."""
    if isinstance(entry, Term):
        yield entry.literal.value
        yield from (text.value for text in forms_beside(entry))
        return
    yield from (text.value for text in entry.labels)
    if isinstance(entry, Mark):
        if entry.letters:
            yield entry.letters
            yield " ".join(entry.letters)
        yield from (text.value for text in entry.devices)
        return
    if isinstance(entry, Maker):
        yield from (form.literal.value for form in entry.name_forms)
    for form in getattr(
        entry, "forms", ()
    ):  # those of a place are parts with forms of their own, those of a forename are texts
        literal = getattr(form, "literal", form)
        yield literal.value
        yield from (text.value for text in getattr(form, "short_forms", ()))
    yield from (text.value for text in getattr(entry, "short_forms", ()))
    yield from (text.value for text in getattr(entry, "phrases", ()))


def said_of(entry: Labelled | Term | Mark, pages: Pages) -> str:
    """A few words that tell the entry from others that are written alike."""
    said: Iterable[Iri] = ()
    if isinstance(entry, Term):
        senses = sorted(entry.senses, key=lambda sense: (-sense.weight, sense.iri))
        said = (iri for sense in senses for iri in sense.says)
    elif isinstance(entry, Mark):
        said = entry.stands_for
    elif isinstance(entry, Maker):
        said = (each.role for each in entry.practices)
    between = "; " if isinstance(entry, Mark) else ", "  # names of makers have commas of their own
    names = between.join(list(dict.fromkeys(pages.name(iri, ENGLISH).value for iri in said))[:4])
    lived = _lived(entry) if isinstance(entry, Maker) else ""
    return "; ".join(part for part in (lived, names) if part)


def _lived(maker: Maker) -> str:
    """When the maker lived, or else worked."""
    ends = [ENGLISH.years(date) for date in (maker.born, maker.died) if date]
    return " to ".join(ends) if ends or not maker.active else ENGLISH.years(maker.active)

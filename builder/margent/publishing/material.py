"""What every page is made from: the vocabulary, what points to what in it, and where each entry's page lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from margent.faults import Fault
from margent.publishing import wording
from margent.publishing.drawings import drawings
from margent.publishing.dumps import Dump, File, folder_names
from margent.publishing.figures import Figures, figures
from margent.publishing.folding import alphabetical
from margent.publishing.pages import FOLDERS, Pages, followable
from margent.publishing.relations import Relations, relations
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri, Supported, Text, Vocabulary

T = TypeVar("T")


EVERY_MAKER = "makers in force"
"""The table that changes where a maker comes or goes, but not where one is edited."""


def language_table(tag: str) -> str:
    """The table of the terms of a language."""
    return f"terms in {tag}"


def initial_table(letter: str) -> str:
    """The table of the makers that share an initial."""
    return f"makers under {letter}"


@dataclass(frozen=True, slots=True)
class Page:
    """One page to write: its path below the folder of a language, its template, and what the template is told in a language.

    `entry` is the entry whose page it is, None for the pages that lead to entries.
    """

    path: str
    template: str
    told: Callable[[Tongue], Mapping[str, Any]]
    entry: Iri | None = None
    tables: tuple[str, ...] | None = None
    """The tables whose entries it lists; None for whatever there is, unless it is the page of an entry."""


class Material:
    """The vocabulary with all that pages ask of it."""

    def __init__(
        self,
        vocabulary: Vocabulary,
        dumps: Sequence[Dump],
        others: Sequence[File],
        authorities: Sequence[Path] = (),
        address: str = "",
        more: Sequence[Page] = (),
    ) -> None:
        self.more = tuple(more)  # pages that do not follow from the vocabulary
        self.address = _address(address or vocabulary.publication.site_address or "")
        self.vocabulary = vocabulary
        self.dumps = dumps
        self.others = others
        # The first authority's pages lie at the top, those of each other one in a folder of its name.
        prefixes = [f"{name}/" if number else "" for number, name in enumerate(folder_names(authorities))]
        self.pages = Pages(vocabulary, prefixes)
        self.drawings = drawings(vocabulary, authorities, prefixes) if authorities else {}
        self.bases = [publication.base for publication in (vocabulary.publication, *vocabulary.authorities)]
        self.relations: Relations = relations(vocabulary)
        used = {term.language for term in vocabulary.terms.values()}
        self.languages = [tag for tag in wording.LANGUAGES if tag in used] + sorted(used - set(wording.LANGUAGES))

    @cached_property
    def figures(self) -> Figures:
        """How much there is, and on whose word."""
        return figures(self.vocabulary)

    def entry(self, iri: Iri) -> Supported | None:
        """The entry, from whichever table has it."""
        for table in FOLDERS:
            found: Supported | None = getattr(self.vocabulary, table).get(iri)
            if found is not None:
                return found
        return None

    def by_name(self, entries: Iterable[T], tongue: Tongue) -> list[T]:
        """The entries in force, by the alphabet of their names in that language."""

        def key(entry: Any) -> tuple[object, str]:
            return alphabetical(self.pages.name(entry.iri, tongue).value), entry.iri

        return sorted((entry for entry in entries if not getattr(entry, "withdrawn", False)), key=key)


def _address(said: str) -> str:
    """The site's own address with a slash at its end; empty where none is said. Raises Fault for what is none."""
    if not said:
        return ""
    if not followable(said) or "?" in said or "#" in said:
        raise Fault(f"{said}: no address of a site; write one that begins with https:// and has neither ? nor #")
    return said.rstrip("/") + "/"


def by_language(things: Iterable[T], tag_of: Callable[[T], str]) -> list[tuple[str, list[T]]]:
    """The things under their languages, in the site's order of languages."""
    groups: dict[str, list[T]] = {}
    for thing in things:
        groups.setdefault(tag_of(thing), []).append(thing)
    order = list(wording.LANGUAGES)
    return sorted(groups.items(), key=lambda item: (order.index(item[0]) if item[0] in order else len(order), item[0]))


def text_key(text: Text) -> Any:
    """The key by which texts of one language are listed."""
    return alphabetical(text.value), text.value

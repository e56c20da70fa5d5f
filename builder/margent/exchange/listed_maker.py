"""A maker as a list from elsewhere has it, before it becomes an entry of an authority."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from typing import NamedTuple

from margent.vocabulary.model import Choice, Edtf, Iri, Text

LONGEST_NAME = 500
"""Characters of a name at most: what is longer is no name."""

LONGEST_ID = 200
"""Characters of an id at most: an IRI ends with it."""

LONGEST_NOTE = 5000
"""Characters of a note or a description at most; a longer one is cut, and the report says so."""

KINDS = {
    "Person": "person individual human being artist man woman personal personal name",
    "Firm": "firm corporate corporate body corporate name company organisation organization institution business publisher printer",
    "Family": "family family name dynasty",
    "Workshop": "workshop studio atelier",
    "UnidentifiedHand": "anonymous unidentified hand unidentified unknown monogrammist master with a conventional name",
}
"""Our kinds of maker, each with the words that other lists have for it, longest match by whole words."""

_SAFE = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]*[A-Za-z0-9])?")


class ListedForm(NamedTuple):
    """One further form of the name; `kind` is the last part of the IRI of its kind."""

    text: Text
    kind: str = "asListed"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedMaker:
    """What a list says of one maker: `where` is how its reader finds the place again (`row 12`)."""

    id: str
    where: str
    kind: Choice
    labels: tuple[Text, ...]
    forms: tuple[ListedForm, ...] = ()
    definitions: tuple[Text, ...] = ()
    born: Edtf | None = None
    died: Edtf | None = None
    active: Edtf | None = None
    roles: tuple[Iri, ...] = ()
    places: tuple[Iri, ...] = ()
    exact_matches: tuple[Iri, ...] = ()
    close_matches: tuple[Iri, ...] = ()
    notes: tuple[Text, ...] = ()


class NotTaken(NamedTuple):
    """What could not be taken from a list: where it stands, the id if there is one, why, and whether a whole maker was left out."""

    where: str
    id: str | None
    why: str
    left_out: bool = False


Listed = ListedMaker | NotTaken
"""What a reader of lists gives: makers, and what could not be taken, in the order of the list."""


def shortened(maker: ListedMaker) -> tuple[ListedMaker, list[NotTaken]]:
    """The maker with descriptions and notes of a length that can be kept, and what was cut off."""
    lost: list[NotTaken] = []

    def cut(texts: tuple[Text, ...]) -> tuple[Text, ...]:
        kept = []
        for text in texts:
            said = text.value
            if len(said) > LONGEST_NOTE:
                why = f"has a note of {len(said):,} characters, cut to {LONGEST_NOTE:,}"
                lost.append(NotTaken(maker.where, maker.id, why))
                said = said[:LONGEST_NOTE].rsplit(" ", 1)[0] + " ..."
            kept.append(Text(said, text.lang))
        return tuple(kept)

    return replace(maker, definitions=cut(maker.definitions), notes=cut(maker.notes)), lost


def slug_of_id(id_: str) -> str:
    """The last part of the IRI for an id: the id itself, where an IRI may end so; else its safe letters. Empty where it has none.

    >>> slug_of_id("22"), slug_of_id("Q-42.b"), slug_of_id("n  79021164 "), slug_of_id("(DE-588)118"), slug_of_id("--")
    ('22', 'Q-42.b', 'n-79021164', 'DE-588-118', '')
    """
    if _SAFE.fullmatch(id_):
        return id_
    plain = unicodedata.normalize("NFD", id_)
    plain = "".join(char for char in plain if not unicodedata.combining(char))
    return re.sub(r"[^A-Za-z0-9._-]+", "-", plain).strip("-._")


def clean(text: str) -> str:
    r"""The text with single blanks and without characters that nobody sees, composed as Unicode composes it.

    >>> clean("  Verrou,\u2060  Anna\n")
    'Verrou, Anna'
    """
    blanks = " ".join(text.split())
    seen = "".join(char for char in blanks if unicodedata.category(char) not in {"Cc", "Cf", "Co", "Cn"})
    return unicodedata.normalize("NFC", " ".join(seen.split()))


def kind_of(word: str) -> Choice | None:
    """The kind of maker that a word of another list means, or None.

    >>> kind_of("Corporate"), kind_of("mg:Family"), kind_of("https://schema.org/Person"), kind_of("ship")
    ('Firm', 'Family', 'Person', None)
    """
    wanted = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", re.split(r"[/#:]", word.strip())[-1])
    wanted = re.sub(r"[\s_-]+", " ", wanted).casefold()
    for kind, words in KINDS.items():
        if wanted and f" {wanted} " in f" {words} ":
            return Choice(kind)
    return None


def same_words(one: str, other: str) -> bool:
    """Whether two names have the same words in whatever order: `Verrou, Anna` and `Anna Verrou`.

    >>> same_words("Verrou, Anna", "Anna Verrou"), same_words("Verrou, A.", "Anna Verrou")
    (True, False)
    """
    return _words(one) == _words(other)


def _words(name: str) -> list[str]:
    return sorted(re.findall(r"[^\s,;]+", name.casefold()))

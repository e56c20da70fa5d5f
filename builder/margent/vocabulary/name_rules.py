"""The rules by which names are written and weighed, as they stand in vocab/names/.

All weights are whole numbers, in thousandths of a nat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from margent.vocabulary.model import Entry, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class NameRule(Entry):
    """Any rule about names; `grounds` says in words why it is as it is."""

    grounds: Annotated[tuple[Text, ...], "mg:ground"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NameWords(NameRule):
    """Words inside or beside a name that say one thing of it: that a widow is meant, or the elder of two."""

    key: Annotated[str, "mg:nameKey"]
    words: Annotated[tuple[Text, ...], "mg:nameWord"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NameSpelling(NameRule):
    """One habit by which names are spelt differently; undone, in order, before two names are compared.

    A `find` that begins with ^ or ends with $ holds only at the beginning or the end of a word.
    """

    order: Annotated[int, "mg:nameOrder"]
    find: Annotated[str, "mg:nameFind"]
    put: Annotated[str, "mg:namePut"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NameParadigm(NameRule):
    """How a Latinised name is declined: the endings of each case, without the hyphen; empty for the bare stem.

    `made_from` has the endings of vernacular names that are Latinised in this way, the empty one for a consonant.
    """

    order: Annotated[int, "mg:nameOrder"]
    of_forename: Annotated[bool, "mg:ofForename"] = False
    nominative: Annotated[str, "mg:nominativeEnding"]
    genitive: Annotated[tuple[str, ...], "mg:genitiveEnding"]
    dative: Annotated[tuple[str, ...], "mg:dativeEnding"]
    accusative: Annotated[tuple[str, ...], "mg:accusativeEnding"]
    ablative: Annotated[tuple[str, ...], "mg:ablativeEnding"]
    plural_nominative: Annotated[tuple[str, ...], "mg:pluralNominativeEnding"] = ()
    plural_genitive: Annotated[tuple[str, ...], "mg:pluralGenitiveEnding"] = ()
    plural_dative: Annotated[tuple[str, ...], "mg:pluralDativeEnding"] = ()
    plural_accusative: Annotated[tuple[str, ...], "mg:pluralAccusativeEnding"] = ()
    feminine: Annotated[str | None, "mg:feminineEnding"] = None
    feminine_genitive: Annotated[str | None, "mg:feminineGenitiveEnding"] = None
    adjective: Annotated[str | None, "mg:adjectiveStem"] = None
    made_from: Annotated[tuple[str, ...], "mg:madeFrom"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NameEnding(NameRule):
    """What a vernacular ending makes of a name: a genitive, a woman's name, a plural, a patronymic.

    `instead_of` has the endings that it takes the place of; without any it is added.
    """

    key: Annotated[str, "mg:nameKey"]
    endings: Annotated[tuple[Text, ...], "mg:nameEnding"]
    instead_of: Annotated[tuple[str, ...], "mg:insteadOf"] = ()
    of_forename: Annotated[bool, "mg:ofForename"] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceWeight(NameRule):
    """What one kind of evidence weighs for or against a maker, why so, and how it is told.

    The wording has blanks in braces: what was read, what stands in the file, and what else the evidence is about.
    """

    key: Annotated[str, "mg:nameKey"]
    weight: Annotated[int, "mg:evidenceWeight"]
    wording: Annotated[Text | None, "mg:evidenceWording"] = None

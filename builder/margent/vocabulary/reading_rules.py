"""The rules by which the reader reads, as they stand in vocab/reading/: grammar, scores, settings.

All scores are whole numbers, in thousandths of a nat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from margent.vocabulary.model import Entry, Sense, Text, Thing


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRule(Entry):
    """Any rule of the reader; `purpose` says in words what it is for."""

    purposes: Annotated[tuple[Text, ...], "mg:purpose"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(ReadingRule):
    """A step of the grammar: from a state, over an item of one of the labels, to a state.

    With contexts, both states are states inside a name and the arc holds in each of the contexts.
    """

    source: Annotated[str, "mg:fromState"]
    target: Annotated[str, "mg:toState"]
    labels: Annotated[tuple[str, ...], "mg:itemLabel"]
    bond: Annotated[str, "mg:bondName"]
    score: Annotated[int, "mg:score"] = 0
    contexts: Annotated[tuple[str, ...], "mg:context"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NameStart(ReadingRule):
    """Where a name may begin: from a state, in a context, by every opening."""

    sources: Annotated[tuple[str, ...], "mg:fromState"]
    context: Annotated[str, "mg:context"]
    bond: Annotated[str, "mg:bondName"]
    score: Annotated[int, "mg:score"] = 0
    labels: Annotated[tuple[str, ...], "mg:itemLabel"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NameOpening(ReadingRule):
    """How a name may begin: with an item of these labels, leading to a state inside the name."""

    labels: Annotated[tuple[str, ...], "mg:itemLabel"]
    target: Annotated[str, "mg:toState"]
    score: Annotated[int, "mg:score"] = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class EndState(ReadingRule):
    """A state in which a lettering may end."""

    states: Annotated[tuple[str, ...], "mg:fromState"]
    score: Annotated[int, "mg:score"] = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class GapScore(Thing):
    """What a bond gains or loses over one class of gap."""

    gaps: Annotated[tuple[str, ...], "mg:gap"]
    score: Annotated[int, "mg:score"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond(ReadingRule):
    """How closely two neighbours hang together, told by what the gaps between them cost."""

    name: Annotated[str, "mg:bondName"]
    gap_scores: Annotated[tuple[GapScore, ...], "mg:gapScore"] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeReading(ReadingRule):
    """What a word may be by its shape alone; `unless` is the prefix of the scores that count against it where the word is known."""

    shape: Annotated[str, "mg:shape"]
    label: Annotated[str, "mg:itemLabel"]
    unless: Annotated[str, "mg:unless"]
    score: Annotated[int, "mg:score"] = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelScore(ReadingRule):
    """What an item gains by being known under a label."""

    label: Annotated[str, "mg:itemLabel"]
    score: Annotated[int, "mg:score"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlaceScore(ReadingRule):
    """What a name without a term gains by standing at a place on the sheet."""

    sheet_places: Annotated[tuple[str, ...], "mg:sheetPlace"]
    score: Annotated[int, "mg:score"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedScore(ReadingRule):
    """A single number that the reader asks for by its key."""

    key: Annotated[str, "mg:key"]
    score: Annotated[int, "mg:score"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting(ReadingRule):
    """A list of words that the reader asks for by its key."""

    key: Annotated[str, "mg:key"]
    values: Annotated[tuple[str, ...], "mg:value"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange(ReadingRule):
    """What one sign or word stands for, in the table called `key`."""

    key: Annotated[str, "mg:key"]
    find: Annotated[tuple[str, ...], "mg:find"]
    put: Annotated[str, "mg:put"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template(ReadingRule):
    """The wording of a reason, with the blanks {text}, {form}, {language}, {role}, {reason}, {rule}."""

    key: Annotated[str, "mg:key"]
    wording: Annotated[Text, "mg:wording"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ConfidencePoint(ReadingRule):
    """One point of the curve from the reader's raw share to confidence, both in thousandths."""

    raw: Annotated[int, "mg:rawShare"]
    confidence: Annotated[int, "mg:confidence"]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnlabelledRule(Sense):
    """What a name without a term states; of the rules whose conditions hold, the first in order is taken.

    `share` is how often the rule is right, in thousandths, before anything else is weighed.
    """

    order: Annotated[int, "mg:order"]
    share: Annotated[int, "mg:confidence"]
    monogram: Annotated[bool, "mg:monogram"] = False
    labelled: Annotated[bool, "mg:besideTerms"] = False


"""`labelled`: somebody else on the lettering has a term."""

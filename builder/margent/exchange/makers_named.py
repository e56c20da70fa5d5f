"""The makers of an authority filled into the statements of a reading: who is meant by each name, how likely, and why."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from margent.lettering.transcription import Lettering
from margent.names.authority import Answer, Authority
from margent.names.evidence import Years
from margent.names.index_cache import fingerprint
from margent.names.lore import Lore
from margent.vocabulary.edtf import years
from margent.vocabulary.load import load

SHOWN = 5
"""Candidates of one statement."""
LEAST_SHARE = 0.001
MEANT = 0.5
"""From this share on the first candidate is given as the maker; all are proposals."""
SIGNS = 0.5
"""From this share on a candidate counts as one who signs the print, when the others are weighed."""
REMEMBERED = 20_000

# Where somebody worked counts for what was done there: a picture is engraved far from its painter.
DONE_HERE = frozenset({"matrix", "lettering", "printing", "finishing", "publishing"})

_BETWEEN, _INSIDE = re.compile(r"[/|]+\s+|\s+[/|]+\s*"), re.compile(r"[/|[\]]+")

_Key = tuple[str, Years | None, tuple[str, ...], tuple[str, ...], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Makers:
    """Which makers are to be asked: plain data, so that every process of a batch can open them for itself."""

    folders: tuple[Path, ...]
    vocab: Path
    cache: Path | None = None

    def open(self) -> MakersNamed:
        """The makers, ready to be asked; raises Fault where a file cannot be read."""
        return MakersNamed(Authority.load(self.folders, load(self.vocab), self.cache))

    def digest(self) -> str:
        """A digest of the makers and of what is known of names: a run that was stopped goes on only with the same."""
        return fingerprint(self.folders, Lore(load(self.vocab)))


class MakersNamed:
    """Fills readings from one authority; it remembers the names it was asked."""

    def __init__(self, authority: Authority) -> None:
        self._authority = authority
        self._lore: Lore = authority.index.lore
        self._known: dict[_Key, Answer] = {}

    def fill(self, reading: dict[str, Any], lettering: Lettering) -> None:
        """Nothing comes back: every statement of the reading, as plain data, has its maker, candidates and members.

        Each name is weighed alone at first, and then again beside those who sign with it.
        """
        statements: Sequence[dict[str, Any]] = reading["statements"]
        when = lettering.years or _years_read(reading)
        where = _places_read(reading, lettering)
        alone = [self._asked(each, when, where, ()) for each in statements]
        signing = [
            best.maker if (best := next(iter(each.candidates), None)) is not None and best.probability > SIGNS else None
            for each in alone
        ]
        for at, statement in enumerate(statements):
            others = tuple(
                sorted({maker for other, maker in enumerate(signing) if maker is not None and maker != signing[at]})
            )
            answer = self._asked(statement, when, where, others) if others else alone[at]
            _fill(statement, answer)
        for statement in statements:
            same = statement["same_as"]
            if same is not None:
                for key in ("maker", "members", "unknown", "candidates"):
                    statement[key] = statements[same][key]

    def _asked(
        self, statement: Mapping[str, Any], when: Years | None, where: tuple[str, ...], others: tuple[str, ...]
    ) -> Answer:
        roles = tuple(statement["roles"])
        here = where if any(self._lore.stage_of.get(role) in DONE_HERE for role in roles) else ()
        key = (_in_one_line(str(statement["name"])), when, roles, here, others)
        answer = self._known.get(key)
        if answer is None:
            answer = self._authority.candidates(key[0], when, roles, here, others, limit=SHOWN)
            if len(self._known) >= REMEMBERED:
                self._known.clear()
            self._known[key] = answer
        return answer


def _in_one_line(name: str) -> str:
    """The name without editors' brackets and signs of line breaks; one beside a blank parts words, one inside a word does not.

    >>> _in_one_line("Ioannes / Hol/mius"), _in_one_line("Ba[rent] // Holm")
    ('Ioannes Holmius', 'Barent Holm')
    """
    return _INSIDE.sub("", _BETWEEN.sub(" ", name))


def _fill(statement: dict[str, Any], answer: Answer) -> None:
    candidates = [each for each in answer.candidates if each.probability >= LEAST_SHARE]
    statement["candidates"] = [each.as_dict() for each in candidates]
    statement["unknown"] = round(answer.unknown, 4)
    first = candidates[0] if candidates else None
    meant = first is not None and first.probability > MEANT and first.probability > answer.unknown
    statement["maker"] = first.maker if meant and first is not None else None
    statement["members"] = [each.maker for each in answer.members] if meant else []


def _years_read(reading: Mapping[str, Any]) -> Years | None:
    """The years between the dates that stand in the lettering; None where none does."""
    spans = [years(date["edtf"]) for date in reading["dates"] if date["edtf"]]
    return (min(low for low, _ in spans), max(high for _, high in spans)) if spans else None


def _places_read(reading: Mapping[str, Any], lettering: Lettering) -> tuple[str, ...]:
    """The town that the record names, and those of the imprint."""
    read = [place["place"] for place in reading["places"] if place["kind"] == "imprint"]
    return tuple(dict.fromkeys([*([lettering.place] if lettering.place else []), *read]))

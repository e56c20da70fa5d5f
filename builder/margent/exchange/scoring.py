"""How well readings agree with what a careful reader judged: pairs of a name and a role, counted.

Two names agree strictly when they have the same letters and digits, case, accents, spaces and signs aside; closely when
one contains the other and has at least three fifths of its length, since readers differ about how much of a title
belongs to a name.  A judged role that leaves something open is met by any of several roles.
"""

from __future__ import annotations

import random
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from margent.faults import Fault

ENOUGH = 0.6
"""The share of the longer name's length that a contained name must have to be close."""
DRAWS = 1000
"""Resamplings of the letterings for a 95 % interval."""

Pair = tuple[str, tuple[str, ...]]


def letters(name: str) -> str:
    """The letters and digits of a name, without case and accents; long s is s.

    >>> letters("Io. Lauren. Bernini'"), letters("ſculptor")
    ('iolaurenbernini', 'sculptor')
    """
    flat = unicodedata.normalize("NFKD", name.casefold().replace("ſ", "s"))
    return "".join(char for char in flat if char.isalnum())


def close(one: str, other: str) -> bool:
    """Whether two names in letters are close."""
    short, long = sorted((one, other), key=len)
    return bool(short) and short in long and len(short) >= ENOUGH * len(long)


def same(one: str, other: str) -> bool:
    """Whether two names in letters are the same."""
    return one == other


@dataclass(slots=True)
class Tally:
    """The pairs of one lettering: found, judged and read, closely and strictly; and whether all of it agrees."""

    id: str
    close: tuple[int, int, int]
    strict: tuple[int, int, int]
    whole: bool
    missed: list[Pair] = field(default_factory=list)
    added: list[tuple[str, str]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Figures:
    """Precision, recall and F1, with the 95 % interval of F1 over resampled letterings."""

    precision: float
    recall: float
    f1: float
    interval: tuple[float, float]


JUDGED = "judged-"
"""Settings whose key begins so say which roles of a reading meet one judged role."""


class Scorer:
    """Counts agreement; `meets` says for each judged role which roles of a reading meet it."""

    def __init__(self, meets: Mapping[str, Sequence[str]]) -> None:
        self._meets = {role: tuple(sorted(roles)) for role, roles in meets.items()}

    @classmethod
    def of(cls, settings: Mapping[str, Sequence[str]]) -> Scorer:
        """The scorer by the reader's settings, whose keys for judged roles begin with "judged-"."""
        return cls({key.removeprefix(JUDGED): roles for key, roles in settings.items() if key.startswith(JUDGED)})

    def meets(self, judged: str, read: str) -> bool:
        """Whether a role that was read meets a judged one."""
        return read in self._meets.get(judged, ())

    def tally(self, judged: Mapping[str, Any], reading: Mapping[str, Any]) -> Tally:
        """The counts of one lettering.  Raises Fault for a judged role that nothing is said to meet."""
        gold, optional = self._judged(judged, "roles"), self._judged(judged, "also")
        read = sorted(
            {
                (letters(s["name"]), role)
                for s in reading.get("statements", ())
                if s.get("name")
                for role in s.get("roles", ())
            }
        )
        counts = []
        missed: list[Pair] = []
        added: list[tuple[str, str]] = []
        for agree in (close, same):
            hits, left = _match(gold, read, agree)
            _, left = _match(optional, left, close)
            counts.append((len(hits), len(gold), len(hits) + len(left)))
            if agree is close:
                missed, added = [pair for pair in gold if pair not in hits], left
        return Tally(
            str(judged.get("id")), counts[0], counts[1], counts[0][0] == counts[0][1] == counts[0][2], missed, added
        )

    def _judged(self, judged: Mapping[str, Any], key: str) -> list[Pair]:
        pairs: set[Pair] = set()
        for statement in judged.get("statements", ()):
            for role in statement.get(key, ()):
                if role not in self._meets:
                    raise Fault(
                        f"{judged.get('id')}: {role!r} is no role that can be judged; write one of {', '.join(sorted(self._meets))}"
                    )
                pairs.add((letters(statement["name"]), self._meets[role]))
        return sorted(pairs)

    def right(self, judged: Mapping[str, Any], reading: Mapping[str, Any]) -> list[bool]:
        """For each statement of a reading, whether every role it gives its name is judged so; optional roles are right as well."""
        wrong = set(self.tally(judged, reading).added)
        return [
            bool(s.get("roles")) and not any((letters(s["name"]), role) in wrong for role in s["roles"])
            for s in reading.get("statements", ())
            if s.get("name")
        ]

    def taken_for(self, judged: Mapping[str, Any], reading: Mapping[str, Any]) -> list[tuple[str, str]]:
        """Pairs of a judged role and the role that was read for a close name, NOT_READ where none was; then NOBODY's roles that were read."""
        gold = sorted({(letters(s["name"]), role) for s in judged.get("statements", ()) for role in s.get("roles", ())})
        left = sorted(
            {
                (letters(s["name"]), role)
                for s in reading.get("statements", ())
                if s.get("name")
                for role in s.get("roles", ())
            }
        )
        found: list[tuple[str, str]] = []
        unmet: list[tuple[str, str]] = []
        for name, role in gold:
            hits, rest = _match([(name, self._meets[role])], left, close)
            if hits:
                found += [(role, met) for _, met in set(left) - set(rest)]
                left = rest
            else:
                unmet.append((name, role))
        for name, role in unmet:
            other = next((pair for pair in left if close(name, pair[0])), None)
            found.append((role, other[1] if other else NOT_READ))
            if other:
                left.remove(other)
        _, left = _match(self._judged(judged, "also"), left, close)
        return found + [(NOBODY, role) for _, role in left]

    def by_role(self, judged: Iterable[tuple[Mapping[str, Any], Mapping[str, Any]]]) -> list[tuple[str, int, int]]:
        """For each judged role: how often it was judged, and how often it was found closely; the commonest first."""
        asked: Counter[str] = Counter()
        found: Counter[str] = Counter()
        for record, reading in judged:
            read = sorted(
                {(letters(s["name"]), role) for s in reading.get("statements", ()) for role in s.get("roles", ())}
            )
            for verb in sorted({role for s in record.get("statements", ()) for role in s.get("roles", ())}):
                pairs = sorted(
                    {
                        (letters(s["name"]), self._meets[verb])
                        for s in record["statements"]
                        if verb in s.get("roles", ())
                    }
                )
                asked[verb] += len(pairs)
                found[verb] += len(_match(pairs, read, close)[0])
        return [
            (role, number, found[role]) for role, number in sorted(asked.items(), key=lambda pair: (-pair[1], pair[0]))
        ]


NOT_READ, NOBODY = "not read", "nobody"
"""What a judged role is taken for where its name was not read, and whose role was read where nobody was judged."""


def _match(
    gold: Sequence[Pair], read: Sequence[tuple[str, str]], agree: Callable[[str, str], bool]
) -> tuple[list[Pair], list[tuple[str, str]]]:
    """The judged pairs that find a pair of the reading of their own, and the pairs of the reading left over."""
    left, hits = list(read), []
    for name, roles in gold:
        for pair in left:
            if pair[1] in roles and agree(name, pair[0]):
                left.remove(pair)
                hits.append((name, roles))
                break
    return hits, left


def figures(tallies: Sequence[Tally], kind: str) -> Figures:
    """Precision, recall and F1 of all letterings; `kind` is "close" or "strict"."""
    precision, recall, f1 = _rates(tallies, kind)
    return Figures(precision, recall, f1, _interval(tallies, lambda drawn: _rates(drawn, kind)[2]))


def whole(tallies: Sequence[Tally]) -> tuple[float, tuple[float, float]]:
    """The share of letterings that agree in everything, and its 95 % interval."""

    def share(drawn: Sequence[Tally]) -> float:
        return sum(tally.whole for tally in drawn) / max(len(drawn), 1)

    return share(tallies), _interval(tallies, share)


def _rates(tallies: Sequence[Tally], kind: str) -> tuple[float, float, float]:
    counts = [tally.close if kind == "close" else tally.strict for tally in tallies]
    hit, gold, read = (sum(count[index] for count in counts) for index in range(3))
    precision, recall = hit / max(read, 1), hit / max(gold, 1)
    return precision, recall, 2 * precision * recall / max(precision + recall, 1e-9)


def _interval(tallies: Sequence[Tally], figure: Callable[[Sequence[Tally]], float]) -> tuple[float, float]:
    """The middle 95 % of a figure over resamplings with a fixed seed."""
    if not tallies:
        return 0.0, 0.0
    dice = random.Random(1)  # noqa: S311 - a fixed seed is wanted: the same interval on every run
    draws = sorted(figure(dice.choices(tallies, k=len(tallies))) for _ in range(DRAWS))
    return draws[25], draws[974]

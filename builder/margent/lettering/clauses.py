"""From a path through the grammar to clauses: which names and which terms belong together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any, Final

from margent.lettering.grammar import Arc, Path
from margent.lettering.lexicon import Item
from margent.lettering.tokens import Token

NAME_STATES: Final = frozenset(("given", "initials", "incomplete", "surname", "full", "tail"))
"""States inside a name; the grammar file adds the context: given@before, given@after, given@alone."""

OUTER: Final = frozenset(("outside", "town"))
"""States outside every clause; behind a town a firm may be named without a term."""
NAME_WORDS: Final = frozenset(("given", "cap", "caps", "place"))
"""Labels of the words that a name is made of, initials, titles and particles aside."""


class Name:
    """A name as the path found it: tokens [start, end) and the labels its parts were read under."""

    __slots__ = ("end", "labels", "sameman", "start")

    def __init__(self, start: int, end: int, labels: list[str], sameman: bool = False) -> None:
        self.start = start
        self.end = end
        self.labels = labels
        self.sameman = sameman

    def has(self, *labels: str) -> bool:
        """Whether any part of the name was read under one of the labels."""
        return any(label in self.labels for label in labels)


class TermSeen:
    """A term where it stands: its tokens, the terms it may be, and on which side of the name it was taken to stand."""

    __slots__ = ("agent", "end", "refs", "respelt", "side", "start")

    def __init__(
        self,
        start: int,
        end: int,
        refs: tuple[tuple[str, int], ...],
        side: str,
        respelt: tuple[str, ...],
        agent: bool = False,
    ) -> None:
        self.start = start
        self.end = end
        self.refs = refs  # The terms that have this form, best first, and how far each stands behind the best.
        self.side = side
        self.respelt = respelt
        self.agent = agent  # Whether a word such as by, par or von joins it to the name.


class Clause:
    """Names joined to one another and the terms said of them all; dates, places and addresses that stand with them."""

    __slots__ = ("alone", "joints", "names", "others", "terms")

    def __init__(self) -> None:
        self.names: list[Name] = []
        self.joints: list[tuple[int, int]] = []
        self.terms: list[TermSeen] = []
        self.others: list[Item] = []
        self.alone = False


class Clauses:
    """All clauses of one path, the stretches that belong to none, and the terms that found no name."""

    __slots__ = ("clauses", "loose", "nameless", "unread")

    def __init__(self, clauses: list[Clause], unread: list[Item], loose: list[Item], nameless: list[TermSeen]) -> None:
        self.clauses = clauses
        self.unread = unread
        self.loose = loose
        self.nameless = nameless


def _term(item: Item, side: str) -> TermSeen:
    return TermSeen(item.start, item.end, ((item.ref, 0), *item.others), side, item.respelt)


class _Builder:
    def __init__(self) -> None:
        self.clauses: list[Clause] = []
        self.unread: list[Item] = []
        self.loose: list[Item] = []
        self.current: Clause | None = None

    def begin(self) -> Clause:
        self.current = Clause()
        self.clauses.append(self.current)
        return self.current

    def step(self, arc: Arc, item: Item) -> None:
        source, target = arc.source.name, arc.target.name
        if target in NAME_STATES:
            self._name(arc, item)
        elif item.label == "back":
            clause = self.current if self.current is not None and target not in OUTER else self.begin()
            clause.terms.append(_term(item, "back"))
        elif item.label in ("front", "dedicatory"):
            joined = source in ("front", "front-list", "thing") and self.current is not None
            clause = self.current if joined and self.current is not None else self.begin()
            clause.terms.append(_term(item, "front"))
        elif item.label == "x":
            self.unread.append(item)
        elif item.label == "agent" and self.current is not None and self.current.terms:
            self.current.terms[-1].end = item.end
            self.current.terms[-1].agent = True
        elif target == "list":
            if self.current is not None:
                self.current.joints.append((item.start, item.end))
        elif target in OUTER or self.current is None:
            self.loose.append(item)
        else:
            self.current.others.append(item)
        if target in OUTER:
            self.current = None

    def _name(self, arc: Arc, item: Item) -> None:
        source, context = arc.source.name, arc.target.context
        if source in NAME_STATES and arc.bond in ("inside", "list-inside"):
            assert self.current is not None
            name = self.current.names[-1]
            if not (item.label == "post" and name.labels[-1] == "post"):
                name.end = item.end  # of several honours only the first goes with the name
            name.labels.append(item.label)
            return
        fresh = Name(item.start, item.end, [item.label], item.label == "sameman")
        if source == "list" or arc.bond == "comma" or (context == "after" and source in ("front", "front-list")):
            clause = self.current if self.current is not None else self.begin()
        else:
            clause = self.begin()
        clause.alone = context == "alone"
        clause.names.append(fresh)


def clauses_of(path: Path) -> Clauses:
    """The clauses of a path in the order of the lettering."""
    builder = _Builder()
    for edge in path.edges:
        builder.step(edge.arc, edge.item)
    nameless = [term for clause in builder.clauses if not clause.names for term in clause.terms]
    for clause in builder.clauses:
        if not clause.names:
            builder.loose.extend(clause.others)
    return Clauses([clause for clause in builder.clauses if clause.names], builder.unread, builder.loose, nameless)


def join_firms(clause: Clause, roles: Sequence[str], stages: Sequence[str], rules: Mapping[str, Any]) -> None:
    """Makes one firm of bare surnames joined by a conjunction, where the terms are a firm's (publishing, printing).

    Initials that share a surname ("A. & C. Verrou") are one whatever they did.
    """
    clause.names = _shared(clause.names)
    of_firms = any(stage in rules["stages"] for stage in stages) or any(role in rules["roles"] for role in roles)
    if len(clause.names) < 2 or not of_firms:
        return
    first, last = clause.names[0], clause.names[-1]
    adjacent = all(_adjacent(one, other) for one, other in pairwise(clause.names))
    bare = all(_bare(name, name is first) for name in clause.names[1:])
    if adjacent and bare and (_bare(first, True) or (first.has("initial") and first.has("cap", "caps"))):
        labels = [label for name in clause.names for label in name.labels]
        clause.names = [Name(first.start, last.end, [*labels, "firm"])]


def _bare(name: Name, may_be_honoured: bool) -> bool:
    """Whether a name is a lone surname."""
    several = len([label for label in name.labels if label in NAME_WORDS]) > 1
    return not several and not name.has("initial", "sameman") and (may_be_honoured or not name.has("honorific"))


def _adjacent(one: Name, other: Name) -> bool:
    return other.start - one.end <= 1


def _shared(names: list[Name]) -> list[Name]:
    """The names with bare initials made one with the name behind them whose surname they share."""
    found: list[Name] = []
    for name in names:
        before = found[-1] if found else None
        initials = before is not None and before.has("initial") and not before.has("cap", "caps", "place", "given")
        if (
            before is not None
            and initials
            and name.has("initial")
            and name.has("cap", "caps")
            and _adjacent(before, name)
        ):
            found[-1] = Name(before.start, name.end, [*before.labels, *name.labels, "firm"])
        else:
            found.append(name)
    return found


def told_apart(clauses: Clauses) -> tuple[object, ...]:
    """What two segmentations must differ in to be two readings: names, how they are joined, and terms."""
    return tuple(
        [
            (
                tuple([(name.start, name.end) for name in clause.names]),
                tuple([(term.start, term.end, term.side, term.refs) for term in clause.terms]),
                clause.alone,
            )
            for clause in clauses.clauses
        ]
    )


def first_token(clause: Clause) -> int:
    """The token with which a clause begins."""
    return min([name.start for name in clause.names] + [term.start for term in clause.terms])


def edges(name: Name, tokens: list[Token]) -> tuple[int, int]:
    """The first and the past-last token of a name without words that an editor supplied at its edges."""
    start, end = name.start, name.end
    if not tokens[start].supplied and not tokens[end - 1].supplied:
        return start, end
    if all(tokens[index].supplied for index in range(start, end)):
        return start, end
    while start < end - 1 and tokens[start].supplied:
        start += 1
    while end - 1 > start and tokens[end - 1].supplied:
        end -= 1
    return start, end

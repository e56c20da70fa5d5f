"""The result of reading one lettering: statements, notices, places, dates, and what stayed unread."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final

FORMAT: Final = 1
"""Version of the JSON that `margent read` prints."""


@dataclass(slots=True, init=False)
class TermRead:
    """A term as it stands in the lettering; `span` is [start, end) in code points of that line."""

    text: str
    line: int
    span: tuple[int, int]
    roles: list[str]

    def __init__(
        self,
        text: str,
        line: int,
        span: tuple[int, int],
        roles: list[str],
    ) -> None:
        self.text = text
        self.line = line
        self.span = span
        self.roles = roles


@dataclass(slots=True, init=False)
class Statement:
    """A statement of responsibility: exactly one name, its roles, the evidence, the confidence."""

    name: str
    line: int
    span: tuple[int, int]
    roles: list[str]
    implied: list[str]
    terms: list[TermRead]
    term: str | None
    of: str | None
    after: int | None
    same_as: int | None
    maker: str | None
    members: list[str]
    unknown: float
    candidates: list[dict[str, Any]]
    confidence: float
    doubtful: bool
    instead: list[dict[str, Any]]
    because: list[str]

    def __init__(
        self,
        name: str,
        line: int,
        span: tuple[int, int],
        roles: list[str],
        implied: list[str],
        terms: list[TermRead],
        term: str | None,
        of: str | None,
        after: int | None,
        same_as: int | None,
        maker: str | None,
        members: list[str],
        unknown: float,
        candidates: list[dict[str, Any]],
        confidence: float,
        doubtful: bool,
        instead: list[dict[str, Any]],
        because: list[str],
    ) -> None:
        self.name = name
        self.line = line
        self.span = span
        self.roles = roles
        self.implied = implied
        self.terms = terms
        self.term = term
        self.of = of
        self.after = after
        self.same_as = same_as
        self.maker = maker
        self.members = members
        self.unknown = unknown
        self.candidates = candidates
        self.confidence = confidence
        self.doubtful = doubtful
        self.instead = instead
        self.because = because

    def as_dict(self) -> dict[str, Any]:
        """The statement as plain data; written out, for `dataclasses.asdict` takes as long as a quarter of the reading itself."""
        return {
            "name": self.name,
            "line": self.line,
            "span": self.span,
            "roles": self.roles,
            "implied": self.implied,
            "terms": [
                {"text": term.text, "line": term.line, "span": term.span, "roles": term.roles} for term in self.terms
            ],
            "term": self.term,
            "of": self.of,
            "after": self.after,
            "same_as": self.same_as,
            "maker": self.maker,
            "members": self.members,
            "unknown": self.unknown,
            "candidates": self.candidates,
            "confidence": self.confidence,
            "doubtful": self.doubtful,
            "instead": self.instead,
            "because": self.because,
        }


@dataclass(slots=True)
class Notice:
    """A privilege, permission, address, price and so on; nobody named in it is a maker."""

    kind: str
    text: str
    line: int
    span: tuple[int, int]
    granter: str | None = None
    holder: str | None = None


@dataclass(slots=True)
class PlaceRead:
    """A town named in the lettering."""

    text: str
    place: str
    kind: str
    line: int
    span: tuple[int, int]


@dataclass(slots=True)
class DateRead:
    """A date in the lettering, as EDTF where the year is told."""

    text: str
    edtf: str | None
    kind: str
    line: int
    span: tuple[int, int]


@dataclass(slots=True)
class Unread:
    """A stretch that the reader could not use."""

    text: str
    line: int
    span: tuple[int, int]


@dataclass(slots=True)
class Reading:
    """Everything read in one lettering."""

    vocabulary: str
    id: str | None = None
    statements: list[Statement] = field(default_factory=list)
    notices: list[Notice] = field(default_factory=list)
    places: list[PlaceRead] = field(default_factory=list)
    dates: list[DateRead] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        """The reading as plain data, with every key of the contract present."""
        return {
            "format": FORMAT,
            "vocabulary": self.vocabulary,
            "id": self.id,
            "statements": [each.as_dict() for each in self.statements],
            "notices": [
                {
                    "kind": each.kind,
                    "text": each.text,
                    "line": each.line,
                    "span": each.span,
                    "granter": each.granter,
                    "holder": each.holder,
                }
                for each in self.notices
            ],
            "places": [
                {"text": each.text, "place": each.place, "kind": each.kind, "line": each.line, "span": each.span}
                for each in self.places
            ],
            "dates": [
                {"text": each.text, "edtf": each.edtf, "kind": each.kind, "line": each.line, "span": each.span}
                for each in self.dates
            ],
            "unread": [{"text": each.text, "line": each.line, "span": each.span} for each in self.unread],
        }

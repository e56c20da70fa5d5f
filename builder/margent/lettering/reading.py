"""The result of reading one lettering: statements, notices, places, dates, and what stayed unread."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

FORMAT = 1
"""Version of the JSON that `margent read` prints."""


@dataclass(slots=True)
class TermRead:
    """A term as it stands in the lettering; `span` is [start, end) in code points of that line."""

    text: str
    line: int
    span: tuple[int, int]
    roles: list[str]


@dataclass(slots=True)
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
        return {"format": FORMAT, **asdict(self)}

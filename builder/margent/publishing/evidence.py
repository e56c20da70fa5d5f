"""On whose word something stands, as the site tells it, and every passage that an entry leans on."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin, get_type_hints

from margent.vocabulary.model import Citation, Supported, Thing, Vocabulary

Standing = Literal["cited", "commonPractice", "fromMemory"]


def standing(supported: Supported) -> Standing | None:
    """Cited, common practice or from memory; None where nothing is said, as with parts that lean on their entry."""
    if supported.citations:
        return "cited"
    if supported.standing == "commonPractice":
        return "commonPractice"
    return "fromMemory" if supported.standing == "fromMemory" else None


@dataclass(frozen=True, slots=True)
class Share:
    """How many of some things stand on which word."""

    name: str
    cited: int
    common: int
    memory: int

    @property
    def total(self) -> int:
        """All of them."""
        return self.cited + self.common + self.memory


def share(name: str, things: Iterable[Supported]) -> Share:
    """How many of the things are cited, common practice and from memory; one that says nothing is counted as from memory."""
    found: Counter[Standing] = Counter(standing(thing) or "fromMemory" for thing in things)
    return Share(name, found["cited"], found["commonPractice"], found["fromMemory"])


def entries(vocabulary: Vocabulary) -> Iterator[Supported]:
    """Every entry of every table, in their order."""
    for table in dataclasses.fields(vocabulary):
        known = getattr(vocabulary, table.name)
        if isinstance(known, dict) and table.name != "files":
            yield from known.values()


def citations(entry: Supported) -> Iterator[Citation]:
    """Every passage that an entry and its parts lean on; one that several parts share comes several times."""
    return _cited_in(entry)


def _cited_in(part: Any) -> Iterator[Citation]:
    if isinstance(part, Citation):
        yield part
    elif isinstance(part, Thing):
        for name in _names(type(part)):
            for each in getattr(part, name):
                yield from _cited_in(each)


_known: dict[type, tuple[str, ...]] = {}


def _names(cls: type[Thing]) -> tuple[str, ...]:
    """The fields that hold parts."""
    if cls not in _known:
        hints = get_type_hints(cls)
        _known[cls] = tuple(each.name for each in dataclasses.fields(cls) if _holds_parts(hints[each.name]))
    return _known[cls]


def _holds_parts(hint: Any) -> bool:
    inner = get_args(hint)
    return get_origin(hint) is tuple and isinstance(inner[0], type) and issubclass(inner[0], Thing)

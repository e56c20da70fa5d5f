"""The words of a batch that were not read, counted with where they stand: what the vocabulary may still lack."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from margent.exchange.letterings import Row
from margent.exchange.reading_table import Cell
from margent.exchange.scoring import letters
from margent.lettering.forms import unpack
from margent.lettering.lexicon import PLAIN

CONTEXTS = 3
"""Places shown for each word."""
AROUND = 40
"""Characters shown on either side of a word."""
SHORTEST = 2
"""Letters that a word must have: single letters are initials."""

_WORD = re.compile(r"[^\W\d_][^\W\d_\u0300-\u036f]*(?:[\u0300-\u036f'’][^\W\d_]*)*")


class Seen(NamedTuple):
    """One unread word: its letters, by which spellings are counted together, the word as it stands, and its surroundings."""

    key: str
    word: str
    context: str


@dataclass(slots=True)
class Gap:
    """An unread word: how often each spelling stands, and the first places where."""

    spellings: Counter[str] = field(default_factory=Counter)
    contexts: list[tuple[str | None, str]] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How often the word was met in any spelling."""
        return self.spellings.total()

    @property
    def word(self) -> str:
        """The commonest spelling, of equals the first in the alphabet."""
        return min(self.spellings, key=lambda each: (-self.spellings[each], each))


def unread_words(answer: Mapping[str, Any], row: Row | None = None) -> tuple[str | None, list[Seen]]:
    """The id of a reading and its unread words; the surroundings come from the row where there is one, else from the unread stretch."""
    found: list[Seen] = []
    for stretch in answer.get("unread", ()):
        text, begin = str(stretch["text"]), 0
        if row is not None and row.lettering is not None:
            text, begin = row.lettering.lines[stretch["line"]].text, stretch["span"][0]
        for match in _WORD.finditer(str(stretch["text"])):
            key = letters(match[0])
            if len(key) >= SHORTEST:
                found.append(Seen(key, match[0], _around(text, begin + match.start(), begin + match.end())))
    return answer.get("id"), found


def everyday_words(compiled: Mapping[str, Any]) -> frozenset[str]:
    """The words that the compiled reader knows as everyday words of a language (de, la, the), by their letters."""
    return frozenset(
        letters(key) for key, rows in unpack(compiled["forms"]).items() if any(row[0] in PLAIN for row in rows)
    )


def gathered(seen: Iterable[tuple[str | None, Iterable[Seen]]], everyday: frozenset[str] = frozenset()) -> list[Gap]:
    """All unread words, the commonest first, those behind the others that are everyday words: what they say is known."""
    gaps: dict[str, Gap] = {}
    for name, words in seen:
        for key, word, context in words:
            gap = gaps.setdefault(key, Gap())
            gap.spellings[word] += 1
            if len(gap.contexts) < CONTEXTS and all(context != other for _, other in gap.contexts):
                gap.contexts.append((name, context))
    ordered = sorted(gaps.items(), key=lambda pair: (pair[0] in everyday, -pair[1].count, pair[1].word))
    return [gap for _, gap in ordered]


def gap_data(gap: Gap) -> dict[str, Any]:
    """A gap as plain data."""
    return {
        "word": gap.word,
        "count": gap.count,
        "spellings": dict(sorted(gap.spellings.items(), key=lambda pair: (-pair[1], pair[0]))),
        "contexts": [{"id": name, "text": context} for name, context in gap.contexts],
    }


GAP_HEADER = ("word", "count", *(f"{what} {number}" for number in range(1, CONTEXTS + 1) for what in ("id", "context")))


def gap_row(gap: Gap) -> list[Cell]:
    """A gap as a row under GAP_HEADER."""
    places = [cell for place in gap.contexts for cell in place]
    return [gap.word, gap.count, *places, *[None] * (2 * CONTEXTS - len(places))]


def gap_text(gaps: Iterable[Gap]) -> Iterator[str]:
    """Each gap for the eye: how often, the word, and beneath it where it stands."""
    for gap in gaps:
        yield f"{gap.count:>6}  {gap.word}\n"
        for name, context in gap.contexts:
            yield f"          {context}" + (f"  ({name})" if name else "") + "\n"


def _around(text: str, start: int, end: int) -> str:
    """The word with what stands around it on its line."""
    left, right = max(0, start - AROUND), min(len(text), end + AROUND)
    shown = " ".join(text[left:right].split())
    return ("… " if left else "") + shown + (" …" if right < len(text) else "")

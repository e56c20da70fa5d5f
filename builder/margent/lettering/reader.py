"""The reader: one lettering in, one reading out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from margent.faults import Fault
from margent.lettering.characters import Characters
from margent.lettering.clauses import Clauses, clauses_of, told_apart
from margent.lettering.dates import Dates
from margent.lettering.editions import PENCIL, Editions
from margent.lettering.forms import unpack
from margent.lettering.grammar import Grammar, label_all
from margent.lettering.judging import Draft, Judge
from margent.lettering.lexicon import Lexicon
from margent.lettering.reading import Reading
from margent.lettering.spelling import Spelling
from margent.lettering.statements import Writer
from margent.lettering.tokens import Token, tokenise
from margent.lettering.transcription import LONGEST, Lettering, Line
from margent.lettering.weights import shares

SIGNED: Final = "in image"
"""A name in pencil or beside the impression's number is a signature as surely as one in the image."""
COMPILED_FORMAT: Final = 1
"""Version of the compiled reader that this interpreter understands."""


class Reader:
    """Reads letterings with a compiled vocabulary (the content of reader.json)."""

    def __init__(self, compiled: Mapping[str, Any]) -> None:
        if compiled.get("format") != COMPILED_FORMAT:
            raise Fault(
                f"The compiled reader has format {compiled.get('format')!r}; this Margent reads format {COMPILED_FORMAT}: compile it again."
            )
        self._compiled = compiled
        self._characters = Characters(compiled["characters"])
        self._elisions = frozenset(compiled["elisions"])
        self._notes = tuple(compiled["notes"])
        forms = unpack(compiled["forms"])
        self._lexicon = Lexicon(compiled, forms, Spelling(compiled, forms))
        self._dates = Dates(compiled)
        self._editions = Editions(compiled)
        self._grammar = Grammar(compiled)
        self._judge = Judge(compiled)
        self._writer = Writer(compiled)
        self._unread_hands = frozenset(compiled["hands"]["unread"])
        self._unread_ways = frozenset(compiled["hands"]["not-the-maker"])

    @property
    def vocabulary(self) -> str:
        """The version of the vocabulary that was compiled."""
        return str(self._compiled["vocabulary"])

    @property
    def lexicon(self) -> Lexicon:
        """The compiled word list."""
        return self._lexicon

    @property
    def characters(self) -> Characters:
        """The compiled character tables."""
        return self._characters

    def read(self, lettering: Lettering) -> Reading:
        """The reading of a lettering.

        Raises Fault where the lettering is longer than LONGEST characters.
        """
        size = sum(len(line.text) for line in lettering.lines)
        if size > LONGEST:
            raise Fault(
                f"The lettering has {size:,} characters; at most {LONGEST:,} are read at once: give one print's lettering at a time."
            )
        tokens = self.tokens(lettering)
        reading = Reading(self.vocabulary, lettering.id)
        if not tokens:
            return reading
        numbers = self._editions.items(tokens, lettering.lines)
        items = label_all(self._grammar, self._lexicon, tokens, [*self._dates.items(tokens), *numbers])
        signed = {tokens[number.start].line for number in numbers}
        places = [
            SIGNED if line.place is None and (index in signed or line.how == PENCIL) else line.place
            for index, line in enumerate(lettering.lines)
        ]
        paths = self._grammar.paths(tokens, items, places, int(self._compiled["grammar"]["lookup"]["paths"]))
        weights = shares(
            [path.score * 1000 // self._compiled["grammar"]["lookup"]["temperature"] for path in paths],
            self._compiled["exp"],
        )
        sheet = self._judge.sheet(tokens, lettering)
        drafts: list[tuple[list[Draft], Clauses, int]] = []
        alike: dict[tuple[object, ...], int] = {}
        for path, weight in zip(paths, weights, strict=True):
            if weight > 0:
                clauses = clauses_of(path)
                told = told_apart(clauses)
                if told in alike:  # segmentations that differ only in places, dates or unread words say the same
                    before = alike[told]
                    drafts[before] = (drafts[before][0], drafts[before][1], drafts[before][2] + weight)
                    continue
                alike[told] = len(drafts)
                drafts.append((self._judge.drafts(clauses, sheet), clauses, weight))
        if drafts:
            self._judge.weigh(drafts[0][0])
            self._writer.write(reading, drafts, tokens, lettering)
        return reading

    def tokens(self, lettering: Lettering) -> list[Token]:
        """The tokens of a lettering, those of later hands and collectors' stamps left out."""
        return tokenise([self._heard(line) for line in lettering.lines], self._characters, self._elisions, self._notes)

    def _heard(self, line: Line) -> Line:
        """The line, or an empty one where a later hand or a collector's stamp wrote it."""
        if line.hand in self._unread_hands or line.how in self._unread_ways:
            return line._replace(text="")
        return line


def lettering_of(lines: Sequence[str]) -> Lettering:
    """A lettering of bare lines, nothing else known."""
    return Lettering(tuple(Line(text) for text in lines))

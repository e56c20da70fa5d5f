"""The normal form of a name: its words without case, accents and ligatures, each with whether it was cut short.

Two steps lie behind it. A folded word (`Folded`) still shows how the name was spelt; a levelled one (`Level`) is a key
in which the habits of spelling of vocab/names/spelling.ttl are undone. Each is a type of its own, so that the type
checker sees where a raw text is compared with either.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import NamedTuple, NewType

from margent.vocabulary.name_rules import NameSpelling

Folded = NewType("Folded", str)
"""A word in small letters without accents, ligatures, apostrophes and points."""

Level = NewType("Level", str)
"""A folded word with every habit of spelling undone: a key for comparing, never shown."""

# What decomposition does not take apart. Superscript signs and modifier letters go with the compatibility forms.
_OTHERS = str.maketrans(
    {
        "ſ": "s", "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ħ": "h",
        "’": "'", "‘": "'", "ʼ": "'", "`": "'", "´": "'", "‐": "-", "‑": "-", "–": "-", "—": "-", "º": "o", "ª": "a", "^": None,
    }
)  # fmt: skip
_MARKS = re.compile(r"[\u0300-\u036f]+")
# A particle that leans on the next word, a word with inner apostrophes, or a sign that means something in a name.
_TOKEN = re.compile(
    r"(?i:[ldst]|dell|dall|nell|sull|all|gl|degl)'(?=[^\W\d_])|'[tsn](?![^\W_])|[^\W_]+(?:'[^\W_]+)*'?|[&,()]"
)


class Token(NamedTuple):
    """One word of a name: `cut` where a point or colon behind it says that it was shortened; `small` where it began small."""

    text: Folded
    cut: bool
    small: bool


def fold(text: str) -> Folded:
    """The text in small letters without accents and ligatures.

    >>> fold("Müller"), fold("ſculpſit"), fold("Łukasz Ørsted")
    ('muller', 'sculpsit', 'lukasz orsted')
    """
    if text.isascii():
        return Folded(text.lower().replace("^", "").replace("`", "'"))
    plain = unicodedata.normalize("NFKD", text.casefold().translate(_OTHERS))
    return Folded(_MARKS.sub("", plain).translate(_OTHERS))


def tokens(text: str) -> list[Token]:
    """The words of a name and its commas, brackets and &, in order.

    >>> [token.text for token in tokens("Ioh. d'Aguilon, & O'Brien-Vvedel")]
    ['ioh', 'd', 'aguilon', ',', '&', 'obrien', 'vvedel']
    """
    raw = text.translate(_OTHERS) if not text.isascii() else text
    found: list[Token] = []
    for match in _TOKEN.finditer(unicodedata.normalize("NFC", raw)):
        word = match.group()
        behind = raw[match.end() : match.end() + 1] if len(raw) > match.end() else ""
        folded = Folded(fold(word).replace("'", ""))
        if folded:
            small = word[:1].islower() or (word[-1] == "'" and len(word) == 2)  # L' and D' lean on the next word
            found.append(Token(folded, behind in {".", ":"} and word not in {"&", ","}, small))
    return found


def normal(text: str) -> Folded:
    """The normal form of a whole name: its folded words with single blanks.

    >>> normal("  J.M.W.  TÜRNER "), normal("Vves-Holm, Ánna")
    ('j m w turner', 'vves holm , anna')
    """
    return Folded(" ".join(token.text for token in tokens(text)))


class Leveller:
    """Undoes the habits of spelling, in their order, and remembers the words it has seen."""

    def __init__(self, rules: Iterable[NameSpelling]) -> None:
        self.rules: list[tuple[int, str, str]] = []
        for rule in sorted(rules, key=lambda each: (each.order, each.iri)):
            at = 1 if rule.find.startswith("^") else 2 if rule.find.endswith("$") else 0
            self.rules.append(
                (at, fold(rule.find.strip("^$")) if rule.find.strip("^$").isascii() else rule.find, rule.put)
            )
        self._seen: dict[str, Level] = {}

    def __call__(self, word: Folded) -> Level:
        """The levelled word; levelling it again changes nothing.

        A word that would lose all its letters stays as it is.
        """
        known = self._seen.get(word)
        if known is None:
            known = self._level(word)
            if len(self._seen) < 1_000_000:
                self._seen[word] = known
        return known

    def _level(self, word: str) -> Level:
        """Rules are repeated until nothing changes: undoing one habit may lay open another."""
        for _ in range(4):
            before = word
            for at, find, put in self.rules:
                if at == 0:
                    if find in word:
                        word = word.replace(find, put)
                elif at == 1:
                    if word.startswith(find) and len(word) > len(find) + 2:
                        word = put + word[len(find) :]
                elif word.endswith(find) and len(word) > len(find) + 1:
                    word = word[: -len(find)] + put
            if word == before:
                break
        return Level(word)

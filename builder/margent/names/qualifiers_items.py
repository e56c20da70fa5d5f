"""An attribution phrase cut into items: names, the phrases between them, and what stands in brackets.

First each word is taken as the longest phrase that can stand there, then the words between phrases become names. Two
things ask for more than the words: brackets, which hold another name of the same person, a name of its own, a qualifier
or a note; and phrases such as "German or Netherlandish 16th Century", whose inner words part nothing.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from margent.names.qualifiers_lexicon import ROMAN, Lexicon, Phrase, Tongue, Word
from margent.names.qualifiers_nobody import Nobody

Kind = Literal["name", "before", "role", "and", "or", "sign", "aside", "trail"]

_YEAR = re.compile(r"\d{3}")
_OPENING, _CLOSING = "([", ")]"
_CAPITALS = re.compile(r"[A-Z.]{2,6}")


DEEPEST = 8
"""Brackets inside brackets beyond this are passed over."""


def _closing(found: Sequence[Word]) -> dict[int, int]:
    """The number of the bracket that closes each opening one, where there is one."""
    closing: dict[int, int] = {}
    open_: list[int] = []
    for place, word in enumerate(found):
        if word.sign and word.text in _OPENING:
            open_.append(place)
        elif word.sign and word.text in _CLOSING and open_:
            closing[open_.pop()] = place
    return closing


@dataclass(slots=True)
class Item:
    """One item: `first` and `last` are the numbers of its words; what else is filled depends on the kind.

    A name has the qualifiers that stand behind it; an aside is what stands in brackets, taken apart; a trail is a
    qualifier without a name of its own, for the name before it.
    """

    kind: Kind
    first: int
    last: int
    slugs: list[str] = field(default_factory=list)
    anonymous: bool = False
    marks: list[tuple[int, int]] = field(default_factory=list)
    """Spans inside the name that are no part of it, by the numbers of the words."""
    inside: list[Item] = field(default_factory=list)
    text: str = ""


@dataclass(slots=True)
class _Raw:
    """A word, a phrase, a sign or a bracket, before names are made."""

    does: str
    first: int
    last: int
    slug: str = ""
    inside: list[Item] = field(default_factory=list)


class Cutter:
    """Cuts one text by the phrases of one language."""

    def __init__(self, lexicon: Lexicon, tongue: Tongue, found: Sequence[Word]) -> None:
        self._lexicon = lexicon
        self._tongue = tongue
        self._words = found
        self._closing = _closing(found)
        self._nobody = Nobody(lexicon)
        self._depth = 0
        self._shouted = not any(char.islower() for word in found for char in word.text)
        self.proof = 0
        """How many letters of the text are phrases of this language."""

    def items(self, first: int = 0, end: int | None = None) -> list[Item]:
        """The items of the words from `first` to before `end`."""
        raw = self._raw(first, len(self._words) if end is None else end)
        items: list[Item] = []
        run: list[_Raw] = []
        for each in raw:
            if each.does in {"word", "byname", "and", "or", "firm", "behind"}:
                run.append(each)
                continue
            items += self._names(run)
            run = []
            if each.does == "aside":
                items.append(Item("aside", each.first, each.last, inside=each.inside))
            elif each.does in {"before", "role", "sign"}:
                kind: Kind = "before" if each.does == "before" else "role" if each.does == "role" else "sign"
                slugs = [each.slug] if each.slug else []
                items.append(Item(kind, each.first, each.last, slugs, text=self._words[each.first].text))
        items += self._names(run)
        return self._joined_schools(items)

    # -- words to phrases ------------------------------------------------------------------------------------------

    def _raw(self, first: int, end: int) -> list[_Raw]:
        raw: list[_Raw] = []
        at = first
        while at < end:
            phrase = next(
                (each for each in self._tongue.at(self._words, at, end) if self._fits(each, at, end, raw)), None
            )
            word = self._words[at]
            if phrase is not None:
                self.proof += phrase.proves
                raw += self._taken(phrase, at)
                at += phrase.length
            elif word.text in _OPENING and word.sign:
                close = self._closing.get(at, end)
                if close >= end or self._depth == DEEPEST:
                    at += 1
                else:
                    raw.append(self._bracket(at, close))
                    at = close + 1
            elif word.sign:
                kept = self._of_the_name(at, end, raw)
                if kept:
                    raw += [_Raw("word", each, each) for each in range(at, kept)]
                    at = kept
                else:
                    if word.text not in "?" + _CLOSING:
                        raw.append(_Raw("sign", at, at))
                    at += 1
            else:
                raw.append(_Raw("word", at, at))
                at += 1
        return raw

    def _taken(self, phrase: Phrase, at: int) -> list[_Raw]:
        last = at + phrase.length - 1
        if phrase.does in {"kept", "alias"}:
            return [_Raw("word", each, each) for each in range(at, last + 1)]
        return [_Raw(phrase.does, at, last, phrase.slug)]

    def _fits(self, phrase: Phrase, at: int, end: int, raw: Sequence[_Raw]) -> bool:
        """Whether the phrase can be meant here: names hold words such as "da", "workshop" and "y" too."""
        word = self._words[at]
        opens = not raw or raw[-1].does not in {"word", "byname", "behind"}
        ends = at + phrase.length
        if phrase.does == "before":
            if phrase.length == 1 and not opens and not word.small:
                return False
            if phrase.opening and (not opens or ends == end or self._words[ends].sign):
                return False
            last = ends - 1
            if last > at and any(
                each.does == "before" and each.length > 1 for each in self._tongue.at(self._words, last, end)
            ):
                return False  # "peut-être d’" would take away the beginning of "d’après"
            return not (opens and raw and ends == end and self._trailing_noun(phrase, at, end, raw))
        if phrase.does == "behind":
            return self._behind(phrase, at, end, raw, opens=opens)
        if phrase.does in {"and", "or", "firm"}:
            return word.text[:1].islower() or word.sign or self._shouted
        if phrase.does == "role":
            return ends < end and (opens or (word.small and not phrase.opening))
        return phrase.does == "kept"

    def _trailing_noun(self, phrase: Phrase, at: int, end: int, raw: Sequence[_Raw]) -> bool:
        """True where the same words can stand behind a name, and do: "Rembrandt, Werkstatt"."""
        return any(
            each.does == "behind" and each.length == phrase.length and self._behind(each, at, end, raw, opens=True)
            for each in self._tongue.at(self._words, at, end)
        )

    def _behind(self, phrase: Phrase, at: int, end: int, raw: Sequence[_Raw], *, opens: bool) -> bool:
        ends = at + phrase.length
        marked = self._words[at].sign
        if ends < end and not self._words[ends].sign and not marked and not self._phrase_at(ends, end):
            return False
        if opens or marked or phrase.length > 1:
            return bool(raw) or not marked
        before = self._words[at - 1]
        hyphen = before.text.endswith(("-", "‐"))
        if phrase.length == 1 and self._words[at].fold in self._lexicon.school and not hyphen:
            return False  # the Antwerp School is nobody's, the Rembrandt-Schule is Rembrandt's
        chunk = self._chunk(raw)
        if before.small and not hyphen and not self._words[at].small:
            return False
        if self._words[at].fold in self._lexicon.somebody and self._nobody.schoolish(self._said(chunk)):
            return False  # a Venetian workshop is nobody's
        axis = self._lexicon.axes[phrase.slug]
        return not (
            len(chunk) < len(raw)
            and (own := raw[len(raw) - len(chunk) - 1]).does == "before"
            and self._lexicon.axes[own.slug] == axis
        )

    def _phrase_at(self, at: int, end: int) -> bool:
        """Whether a phrase begins there that may follow another one."""
        return any(
            each.does in {"before", "behind", "and", "or", "firm", "role"}
            for each in self._tongue.at(self._words, at, end)
        )

    @staticmethod
    def _chunk(raw: Sequence[_Raw]) -> list[_Raw]:
        """The words since the last phrase or sign."""
        found: list[_Raw] = []
        for each in reversed(raw):
            if each.does != "word":
                break
            found.insert(0, each)
        return found

    def _of_the_name(self, at: int, end: int, raw: Sequence[_Raw]) -> int | None:
        """Where the words end that a comma does not part from the name before it: the Elder, Jr., a forename."""
        if self._words[at].text != "," or not self._chunk(raw):
            return None
        stop = at + 1
        while stop < end and not self._words[stop].sign and not (stop > at + 1 and self._phrase_at(stop, end)):
            stop += 1
        folds = tuple(each.fold for each in self._words[at + 1 : stop])
        if not folds or self._phrase_at(at + 1, end):
            return None
        if folds in self._lexicon.of_a_name:
            return stop
        if len(folds) == 1 and (ROMAN.fullmatch(folds[0]) or _CAPITALS.fullmatch(self._words[at + 1].text)):
            return stop
        return stop if self._inverted(raw, folds) else None

    def _inverted(self, raw: Sequence[_Raw], folds: Sequence[str]) -> bool:
        """Whether the name stands with its surname first: Verrou, Anna; Dyck, Anthony van."""
        chunk = self._chunk(raw)
        before = [self._words[each.first] for each in chunk]
        forenames = [fold for fold in folds if fold not in self._lexicon.particles]
        return (
            sum(word.fold not in self._lexicon.particles for word in before) == 1
            and not self._nobody.schoolish(self._said(chunk))
            and before[-1].fold not in self._lexicon.forenames
            and bool(forenames)
            and folds[0] == forenames[0]
            and all(len(fold.replace(".", "")) <= 2 or fold in self._lexicon.forenames for fold in forenames)
        )

    # -- brackets --------------------------------------------------------------------------------------------------

    def _bracket(self, at: int, close: int) -> _Raw:
        """What a bracket is: another name, names of its own with their qualifiers, a qualifier, or a note."""
        inner = self._words[at + 1 : close]
        if not inner:
            return _Raw("note", at, close)
        if any(each.does == "alias" for each in self._tongue.at(self._words, at + 1, close)):
            return _Raw("byname", at, close)
        self._depth += 1
        items = self.items(at + 1, close)
        self._depth -= 1
        slugs = [slug for item in items for slug in item.slugs]
        names = [item for item in items if item.kind in {"name", "aside"}]
        if slugs and not names:
            return _Raw("behind", at, close, slugs[0])
        if slugs:
            return _Raw("aside", at, close, inside=items)
        text = " ".join(each.text for each in inner)
        trade = " ".join(each.fold for each in inner) in self._lexicon.trades
        lived = any(each.fold in self._lexicon.lifetime for each in inner)
        if trade or _YEAR.search(text) or lived or inner[0].small:
            return _Raw("note", at, close)
        return _Raw("byname", at, close, inside=items)

    # -- phrases to names ------------------------------------------------------------------------------------------

    def _names(self, run: Sequence[_Raw]) -> list[Item]:
        """The names of a run of words, with the words that part them, and the qualifiers behind them."""
        if not run:
            return []
        chunks, partings = self._chunks(run)
        merged = self._alternatives(chunks, partings)
        items: list[Item] = []
        for place, chunk in enumerate(merged):
            parting = partings[place - 1] if place else None
            if parting is not None:
                items.append(Item("or" if parting.does == "or" else "and", parting.first, parting.last))
            items += self._named(chunk)
        return items

    def _chunks(self, run: Sequence[_Raw]) -> tuple[list[list[_Raw]], list[_Raw]]:
        """What stands between the words that part names; the & of a firm and of a double surname parts nothing."""
        chunks: list[list[_Raw]] = [[]]
        partings: list[_Raw] = []
        for place, each in enumerate(run):
            if each.does in {"and", "or"}:
                if each.does == "and" and len(chunks[-1]) > 1 and len(self._until_parting(run[place + 1 :])) > 1:
                    self.proof += 1  # what is no proof by itself, such as "e", is a little between two whole names
                chunks.append([])
                partings.append(each)
            elif each.does == "firm":
                left = [word for word in chunks[-1] if word.does == "word"]
                right = self._until_parting(run[place + 1 :])
                initials = bool(left) and all(self._initial(word) for word in left)
                if (len(left) > 1 and len(right) > 1) or (initials and len(right) > 1) or not left or not right:
                    self.proof += not self._words[each.first].sign
                    chunks.append([])
                    partings.append(each)
                else:
                    chunks[-1].append(_Raw("word", each.first, each.last))
            else:
                chunks[-1].append(each)
        return chunks, partings

    @staticmethod
    def _until_parting(run: Sequence[_Raw]) -> list[_Raw]:
        found: list[_Raw] = []
        for each in run:
            if each.does not in {"word", "firm"}:
                break
            found.append(each)
        return found

    def _said(self, chunk: Sequence[_Raw]) -> list[Word]:
        """The words of a chunk, without its phrases and brackets."""
        return [word for each in chunk if each.does == "word" for word in self._words[each.first : each.last + 1]]

    def _initial(self, raw: _Raw) -> bool:
        word = self._words[raw.first]
        return word.text.endswith(".") and len(word.fold.replace(".", "")) <= 2

    def _alternatives(self, chunks: list[list[_Raw]], partings: list[_Raw]) -> list[list[_Raw]]:
        """The chunks, where alternatives inside a school or century are one; `partings` loses what parts nothing."""
        place = 1
        while place < len(chunks):
            left, right = chunks[place - 1], chunks[place]
            clean = bool(left) and left[-1].does != "behind"
            unknown = all(word.fold in self._lexicon.nobody for word in self._said(left))
            whole = (
                unknown
                or self._nobody.century(self._said(left))
                or any(word.fold in self._lexicon.nobody for word in self._said(right))
            )
            if (
                clean
                and not whole
                and self._nobody.schoolish(self._said(left))
                and (self._nobody.century(self._said(right)) or self._nobody.schoolish(self._said(right)))
            ):
                word = partings.pop(place - 1)
                chunks[place - 1 : place + 1] = [[*left, _Raw("tied", word.first, word.last), *right]]
                place = max(1, place - 1)
            else:
                place += 1
        return chunks

    def _named(self, chunk: list[_Raw]) -> list[Item]:
        """The name of one chunk, and names of their own in brackets behind a school."""
        spoken = [each for each in chunk if each.does in {"word", "tied", "byname"}]
        if not any(self._words[each.first].fold[:1].isalnum() for each in spoken if each.does != "byname"):
            spoken = [each for each in spoken if each.does == "byname"]
        if not spoken:
            return [Item("trail", each.first, each.last, [each.slug]) for each in chunk if each.does == "behind"]
        bare = [each for each in spoken if each.does == "word"]
        anonymous = self._nobody.anonymous(self._said(bare))
        asides = [each for each in spoken if each.does == "byname" and anonymous and each.inside]
        spoken = [each for each in spoken if each not in asides]
        if not spoken:
            return [Item("aside", each.first, each.last, inside=each.inside) for each in asides]
        name = Item("name", spoken[0].first, spoken[-1].last, anonymous=anonymous)
        for each in chunk:
            if each.does == "behind":
                name.slugs.append(each.slug)
                if each.last < name.last:
                    name.marks.append((each.first, each.last))
        return [name, *(Item("aside", each.first, each.last, inside=each.inside) for each in asides)]

    def _joined_schools(self, items: list[Item]) -> list[Item]:
        """The items, where a place or century behind a comma belongs to the school or the unknown before it."""
        place = 0
        while place + 2 < len(items):
            left, comma = items[place], items[place + 1]
            if not (
                left.kind == "name" and left.anonymous and not left.slugs and comma.text == "," and comma.kind == "sign"
            ):
                place += 1
                continue
            after = place + 2
            narrowed = left.last > left.first and any(
                self._words[each].text == "," for each in range(left.first, left.last)
            )
            if items[after].kind == "and" and narrowed and after + 1 < len(items):
                after += 1
            right = items[after]
            if right.kind == "name" and not right.slugs and self._narrows(left, right):
                items[place : after + 1] = [
                    Item("name", left.first, right.last, right.slugs, anonymous=True, marks=right.marks)
                ]
            else:
                place += 1
        return items

    def _narrows(self, left: Item, right: Item) -> bool:
        """Whether the right name says no more than where and when the left one worked."""
        chunks = [
            [word for word in self._words[item.first : item.last + 1] if word.text != ","] for item in (left, right)
        ]
        if self._nobody.century(chunks[0]) and self._nobody.century(chunks[1]):
            return False
        if any(word.fold in self._lexicon.nobody for word in chunks[1]):
            return False
        return self._nobody.place(chunks[1]) or self._nobody.schoolish(chunks[1])

"""A name taken apart: forenames, surname, particles, which of several of the name, and what the words beside it say.

A list has "Holm, Barent van, the Elder"; a print has "Wed. B. v. Holm". Both come out as the same kind of parts.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import NamedTuple

from margent.names.lore import GENERATIONS, ORDINAL, RELATIONS, Lore
from margent.names.normal import Folded, Token, tokens

GIVEN, FAMILY, PHRASE, EXTRA = 0, 1, 2, 3
"""What a word is in a name: forename; surname; word of a conventional name; word that may as well be missing."""

LONGEST_TITLE = 6
"""Words of a title or an honour."""
ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4}


class Word(NamedTuple):
    """One word of a name and its part in it."""

    text: Folded
    part: int
    cut: bool = False

    @property
    def initial(self) -> bool:
        """Whether it is a single letter."""
        return len(self.text) == 1


@dataclass(frozen=True, slots=True)
class Parts:
    """A name taken apart. `generation` is 1 for the elder, 2 for the younger, 0 where nothing is said."""

    text: str
    words: tuple[Word, ...]
    particles: tuple[Folded, ...] = ()
    generation: int = 0
    generation_word: str = ""
    relation: str = ""
    relation_word: str = ""
    firm: bool = False
    inverted: bool = False

    @property
    def given(self) -> tuple[Word, ...]:
        """The forenames and initials, in order."""
        return tuple(word for word in self.words if word.part == GIVEN)

    @property
    def family(self) -> tuple[Word, ...]:
        """The words of the surname, in order, without particles."""
        return tuple(word for word in self.words if word.part == FAMILY)


@dataclass(slots=True)
class _Said:
    """What the words beside the name say, gathered while they are taken out."""

    generation: int = 0
    generation_word: str = ""
    relation: str = ""
    relation_word: str = ""
    firm: bool = False
    particles: list[Folded] = field(default_factory=list)


def parts_of(text: str, lore: Lore) -> tuple[Parts, ...]:
    """The name taken apart, and its bynames ("called ...", in brackets) as further names; none for a text without words."""
    found = tokens(text)
    main: list[Token] = []
    bynames: list[list[Token]] = []
    at = 0
    while at < len(found):
        token = found[at]
        if token.text == "(":
            end = next((place for place in range(at, len(found)) if found[place].text == ")"), len(found))
            within = found[at + 1 : end]
            if main and _tells_which(within, lore):
                main += within
            else:
                bynames.append(within)
            at = end + 1
            continue
        phrase = _phrase(found, at, lore)
        if phrase is not None and phrase[1] == "called" and main:
            end = next((place for place in range(at, len(found)) if found[place].text in {",", "("}), len(found))
            bynames.append(found[at + phrase[0] : end])
            at = end
            continue
        if token.text != ")":
            main.append(token)
        at += 1
    names = []
    for each in (main, *(byname for byname in bynames if any(token.text not in lore.master for token in byname))):
        parts = _parts(text, each, lore)
        if parts.words:
            names.append(parts)
    return tuple(names)


def taken_apart(parts: Parts, lore: Lore) -> Parts | None:
    """The name with a forename that is two in one taken apart: Giambattista as Giovanni Battista; None without such."""
    for first in parts.words:
        pair = (lore.compounds.get(first.text) or lore.apart(first.text)) if first.part == GIVEN else None
        if pair is not None:
            words: list[Word] = []
            for each in parts.words:
                words += [Word(pair[0], GIVEN), Word(pair[1], GIVEN)] if each is first else [each]
            return replace(parts, words=tuple(words))
    return None


def _tells_which(found: list[Token], lore: Lore) -> bool:
    """Whether the words, which stood in brackets, say which of several of the name is meant: (III), (the Elder)."""
    if len(found) == 1 and found[0].text in ROMAN and not found[0].small:
        return True
    phrase = _phrase(found, 0, lore) if found else None
    return phrase is not None and phrase[0] == len(found) and phrase[1] in GENERATIONS


def _phrase(found: list[Token], at: int, lore: Lore) -> tuple[int, str] | None:
    """How many words from there are a known phrase, and its key; the longest one."""
    for words, key in lore.phrases.get(found[at].text, ()):
        if len(words) == 1 or all(
            at + place < len(found) and found[at + place].text == word for place, word in enumerate(words)
        ):
            return len(words), key
    return None


def _parts(text: str, found: list[Token], lore: Lore) -> Parts:
    """One name, without bynames, taken apart."""
    said = _Said()
    found = _without_titles(found, lore)
    segments: list[list[Token]] = [[]]
    at = 0
    while at < len(found):
        token = found[at]
        if token.text == ",":
            segments.append([])
            at += 1
            continue
        taken = _take(found, at, lore, said)
        if taken:
            at += taken
            continue
        segments[-1].append(token)
        at += 1
    filled = [segment for segment in segments if segment]
    if len(filled) == 1:
        named = _direct(filled[0], lore, said)
    elif filled:
        named = _inverted(filled, lore, said)
    else:
        named = []
    return Parts(
        text, tuple(named), tuple(said.particles), said.generation, said.generation_word, said.relation, said.relation_word,
        said.firm, inverted=len(filled) > 1,
    )  # fmt: skip


def _without_titles(found: list[Token], lore: Lore) -> list[Token]:
    """The name without titles before it, and without honours, orders and origin behind it: Mr. C. R. Holm, R. A.

    Behind a surname alone such letters are rather forenames: Holm, R. A.
    """
    for length in range(min(LONGEST_TITLE, len(found) - 1), 0, -1):
        words = tuple(token.text for token in found[:length])
        if words in lore.before_name and found[length].text != "," and _is_title(found[:length], lore):
            found = found[length:]
            break
    while True:
        for length in range(min(LONGEST_TITLE, len(found) - 2), 0, -1):
            words = tuple(token.text for token in found[-length:])
            rest = found[:-length]
            origin = length == 1 and words[0] in lore.origins and rest[-1].text == ","
            if (words in lore.behind_name or origin) and _is_whole(rest, lore):
                found = rest[:-1] if rest[-1].text == "," else rest
                break
        else:
            return found


def _is_title(words: list[Token], lore: Lore) -> bool:
    """Whether a title stands there, and no particle, forename or word of kin that is written alike."""
    first = words[0]
    return len(words) > 1 or (
        first.text not in lore.particles and first.text not in lore.forenames and first.text not in lore.phrases
    )


def _is_whole(words: list[Token], lore: Lore) -> bool:
    """Whether the words are a name in the order of speech that lacks nothing: a forename or initial, and a surname."""
    named = words[:-1] if words[-1].text == "," else words
    return (
        len(named) > 1
        and all(token.text not in {",", "("} for token in named)
        and len(named[-1].text) > 1
        and (len(named[0].text) == 1 or named[0].cut or bool(lore.classes(named[0].text)))
    )


def _take(found: list[Token], at: int, lore: Lore, said: _Said) -> int:
    """How many words from there say something beside the name and are taken out of it; noted in `said`."""
    token = found[at]
    number = ROMAN.get(token.text)
    if (
        number is not None
        and at
        and not token.small
        and (number > 1 or at + 1 == len(found) or found[at + 1].text == ",")
    ) and (not token.cut or number > 1):
        said.generation, said.generation_word = number, token.text.upper()
        return 1
    phrase = _phrase(found, at, lore)
    if phrase is None:
        return 0
    length, key = phrase
    if token.text[0].isdigit() and at + length < len(found) and found[at + length].text != ",":
        return 0  # 2nd Century
    rest = found[:at] + found[at + length :]
    left = sum(len(each.text) > 1 or each.cut for each in rest)
    if not left or (at == 0 and found[at + length : at + length + 1] and found[at + length].text == ","):
        return 0  # nothing would be left, or it is the surname of a name from a list
    wording = " ".join(each.text for each in found[at : at + length])
    if (
        length == 1
        and len(token.text) <= 2
        and (len(token.text) == 1 or not token.cut)
        and key in {*GENERATIONS, *RELATIONS, "son", "firm"}
        and not token.small
        and at == 0
    ):
        return 0  # a short word at the head is rather a name
    if key == "family":
        # An article makes a family only before a bare surname: "li Verroi", not "Anna li Verroi".
        if len(token.text) <= 3 and (at != 0 or left > 1):
            return 0
        said.relation, said.relation_word = "family", wording
    elif key in GENERATIONS or key == "son":
        if key == "son" and lore.classes(token.text):
            return 0
        if not said.generation:
            said.generation, said.generation_word = ORDINAL[key], wording
    elif key in RELATIONS:
        said.relation, said.relation_word = key, wording
    elif key == "firm":
        said.firm = True
    return length


def _is_particle(token: Token, lore: Lore) -> bool:
    """Whether the word may link names: a single letter only when small (v. for van), not an initial."""
    if len(token.text) == 1:
        return token.small and token.text in lore.particles
    return token.text in lore.particles


def _inverted(segments: list[list[Token]], lore: Lore, said: _Said) -> list[Word]:
    """The words of a name whose surname stands first, before a comma; later segments hold forenames, particles, titles."""
    named: list[Word] = []
    first = segments[0]
    for token in first:
        if _is_particle(token, lore) and len(first) > 1:
            said.particles.append(token.text)
        elif token.text != "&":
            named.append(Word(token.text, FAMILY, token.cut))
    for number, segment in enumerate(segments[1:]):
        for place, token in enumerate(segment):
            if _is_particle(token, lore):
                said.particles.append(token.text)
            elif number > 0 or (token.text in lore.titles and (place > 0 or len(segment) == 1)):
                named.append(Word(token.text, EXTRA, token.cut))
            elif token.text != "&":
                named.append(Word(token.text, GIVEN, token.cut))
    return named


def _direct(found: list[Token], lore: Lore, said: _Said) -> list[Word]:
    """The words of a name in the order of speech; behind the last particle stands the surname, else it is the last word."""
    if _conventional(found, lore):
        return [
            Word(
                token.text,
                EXTRA if _is_particle(token, lore) or token.text in lore.master or token.text == "&" else PHRASE,
                token.cut,
            )
            for token in found
        ]
    kept: list[tuple[Token, bool]] = []  # with whether a particle stands before it
    behind = False
    for place, token in enumerate(found):
        if _is_particle(token, lore) and len(found) > 1 and (place + 1 < len(found) or not kept):
            said.particles.append(token.text)
            behind = True
            continue
        if token.text == "&":
            continue
        kept.append((token, behind))
        behind = False
    while len(kept) > 1 and kept[0][0].text in lore.titles:
        kept.pop(0)
    named: list[Word] = []
    seen_particle = False
    last = len(kept) - 1
    while (
        last > 0
        and kept[last][0].text in lore.titles_and_origins
        and not kept[last][1]
        and last > 1
        and not lore.classes(kept[last - 1][0].text)
    ):
        last -= 1
    for place, (token, after) in enumerate(kept):
        seen_particle = seen_particle or (after and place > 0)
        if place > last:
            named.append(Word(token.text, EXTRA, token.cut))
        elif place == last or seen_particle or (after and place == 0 and len(kept) == 1):
            named.append(Word(token.text, FAMILY, token.cut))
        else:
            named.append(Word(token.text, GIVEN, token.cut))
    return named


def _conventional(found: list[Token], lore: Lore) -> bool:
    """Whether the name is a conventional one: Master of ..., Monogrammist AV, Flemish 16th Century."""
    if any(any(char.isdigit() for char in token.text) for token in found):
        return True
    return len(found) > 1 and (found[0].text in lore.master or (found[0].text in lore.particles and len(found) > 3))

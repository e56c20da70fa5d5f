"""Attribution phrases: how sure, how near to which name, taken apart into a structure and written from it in seven languages."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

from margent.faults import Fault
from margent.names.qualifiers_items import Cutter, Item
from margent.names.qualifiers_lexicon import INITIALS, LANGUAGES, Lexicon, Word, words
from margent.names.qualifiers_write import Writer
from margent.vocabulary.model import Vocabulary

Joined = Literal["or", "and"]

# Of two qualifiers of one name, what the print is to the name's work says more than whose hand it is, and that more than how sure.
_AXES: Final = ("relation", "nearness", "certainty")


@dataclass(frozen=True, slots=True)
class Part:
    """One name of an attribution, with what qualifies it.

    `qualifiers` are slugs, the one that counts first; `joined` is how the part is tied to the one before it, None where
    only its qualifier ties it; `span` is that of the name in the text, [start, end) in characters. A part is `anonymous`
    where a school, a century or a word such as Unknown stands for the name.
    """

    qualifiers: tuple[str, ...]
    name: str
    joined: Joined | None
    span: tuple[int, int]
    anonymous: bool = False

    @property
    def qualifier(self) -> str | None:
        """The qualifier that counts: relation to a model before nearness of hand before certainty."""
        return self.qualifiers[0] if self.qualifiers else None

    def as_dict(self) -> dict[str, Any]:
        """The part as plain data, every key present."""
        return {
            "qualifier": self.qualifier,
            "name": self.name,
            "joined": self.joined,
            "span": list(self.span),
            "qualifiers": list(self.qualifiers),
            "anonymous": self.anonymous,
        }


class Attributions:
    """Takes attribution phrases apart and writes them, by the qualifiers of one vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._lexicon = Lexicon(vocabulary)
        self._writer = Writer(self._lexicon, self._read_alone)

    def parse(self, text: str, language: str | None = None) -> list[Part]:
        """The parts of the text, in its order; empty for a text without letters.

        Without a language, the one whose phrases explain most of the text is taken. Raises Fault for an unknown one.
        """
        found = words(text)
        if not any(word.fold[:1].isalnum() for word in found if not word.sign):
            return []
        tongues = [each for each in self._lexicon.tongues if language in (None, each.language)]
        if not tongues:
            raise Fault(f"{language}: no language of attributions; choose one of {', '.join(LANGUAGES)}")
        best: tuple[int, list[Item]] | None = None
        for tongue in tongues:
            cutter = Cutter(self._lexicon, tongue, found)
            items = cutter.items()
            if best is None or cutter.proof > best[0]:
                best = cutter.proof, items
        assert best is not None
        parts = _Assembly(self, text, found).parts(best[1])
        if parts:
            return parts
        start, end = found[0].start, found[-1].end
        return [Part((), text[start:end], None, (start, end), anonymous=False)]

    def write(self, parts: Sequence[Part], language: str = "en") -> str:
        """The parts as one phrase in the language; taken apart again in it, it gives the same parts but for their spans.

        Raises Fault for an unknown language or qualifier, and for a name that is empty.
        """
        return self._writer.write(parts, language)

    def _read_alone(self, text: str, language: str) -> tuple[str, ...] | None:
        """The qualifiers of the text where it is one name with its qualifiers, else None."""
        parts = self.parse(text, language)
        return parts[0].qualifiers if len(parts) == 1 else None

    def in_order(self, slugs: Iterable[str]) -> tuple[str, ...]:
        """The slugs, each once, the one that counts first; on one axis the one that leads farthest from the name."""
        lexicon = self._lexicon
        return tuple(
            sorted(dict.fromkeys(slugs), key=lambda slug: (_AXES.index(lexicon.axes[slug]), -lexicon.ranks[slug], slug))
        )

    def says_more_than_doubt(self, slugs: Iterable[str]) -> bool:
        """Whether one of the qualifiers says how near the hand is or what the model was."""
        return any(self._lexicon.axes[slug] != "certainty" for slug in slugs)

    @property
    def possessives(self) -> tuple[str, ...]:
        """The endings of a name before a qualifying noun: Rembrandt’s workshop."""
        return self._lexicon.possessives


class _Assembly:
    """Turns the items of one text into parts."""

    def __init__(self, attributions: Attributions, text: str, found: Sequence[Word]) -> None:
        self._attributions = attributions
        self._text = text
        self._words = found
        self._parts: list[Part] = []

    def parts(self, items: Sequence[Item]) -> list[Part]:
        """The parts; a qualifier said once holds for all names of a list."""
        self._level(items)
        for place, part in enumerate(self._parts[1:]):
            between = self._text[self._parts[place].span[1] : part.span[0]]
            if (
                part.joined == "and"
                and len(between.split()) == 1
                and (surname := self._shared(self._parts[place].name, part.name))
            ):
                shared = self._parts[place]
                self._parts[place] = replace(shared, name=f"{shared.name} {surname}")
        return self._parts

    @staticmethod
    def _shared(left: str, right: str) -> str:
        """The surname that initials before an "and" share with the name behind it: J. and A. Verrou; empty for none.

        A whole forename shares nothing here: "Giotto and Taddeo Gaddi" are not two Gaddi.
        """
        if not INITIALS.fullmatch(left) or not (match := INITIALS.match(right)):
            return ""
        return right[match.end() :].strip()

    def _level(self, items: Sequence[Item]) -> None:
        own: list[str] = []  # qualifiers said for the next name
        said = False  # a qualifier or a role has been said since the last name
        carry: list[str] = []  # qualifiers that go on for the names of a list
        joined: Joined | None = None
        comma = False
        first = True  # no name of this level yet
        for place, item in enumerate(items):
            rest = items[place + 1 :]
            if item.kind == "before":
                if not said:
                    own = []
                said = True
                if not _name_follows(rest) and self._parts:
                    self._qualify(item.slugs)
                    own, said = [], False
                else:
                    own += item.slugs
            elif item.kind == "role":
                own, carry, said = [], [], True
            elif item.kind in {"and", "or"}:
                joined = None if first else "or" if item.kind == "or" else "and"
            elif item.kind == "sign":
                if item.text == ",":
                    comma = not first
                elif item.text == "/":
                    joined = None if first else "or"
                else:
                    own, carry, said, joined, comma = [], [], False, None, False
            elif item.kind == "aside":
                self._level(item.inside)
            elif item.kind == "trail":
                self._trail(item, joined)
                joined = None
            elif self._is_note(item, rest):
                continue
            else:
                listed = comma and joined is None and not said  # no more than a comma ties it to the name before
                apart = listed and (item.anonymous or self._attributions.says_more_than_doubt(item.slugs))
                if not said:
                    own = [] if apart else carry
                tied: Joined | None = joined
                if (
                    tied is None
                    and comma
                    and not (said and own)
                    and not self._attributions.says_more_than_doubt(item.slugs)
                ):
                    tied = "and"
                self._parts.append(self._part(item, own, None if first else tied))
                carry = own
                own, said, joined, comma, first = [], False, None, False, False

    def _is_note(self, item: Item, rest: Sequence[Item]) -> bool:
        """Whether the words are no name but say what is qualified: painting attributed to ..., by a follower of ..."""
        said = self._words[item.first : item.last + 1]
        small = all(not any(char.isupper() or char.isdigit() for char in word.text) for word in said)
        return small and not item.anonymous and bool(rest) and rest[0].kind == "before" and not item.slugs

    def _part(self, item: Item, own: Sequence[str], joined: Joined | None) -> Part:
        start, end = self._words[item.first].start, self._words[item.last].end
        while end > start and self._text[end - 1] in "-‐":
            end -= 1
        marked = item.slugs and not self._words[min(item.last + 1, len(self._words) - 1)].sign
        if marked:
            for ending in self._attributions.possessives:
                plain = self._text[start:end].lower().replace("’", "'")
                if plain.endswith(ending) and len(plain) > len(ending):
                    end -= len(ending)
                    break
        name = self._text[start:end]
        for first, last in reversed(item.marks):
            opening, closing = self._words[first].start - start, self._words[last].end - start
            name = name[:opening] + name[closing:]
        name = " ".join(name.split()) if item.marks else name
        return Part(self._attributions.in_order([*own, *item.slugs]), name, joined, (start, end), item.anonymous)

    def _qualify(self, slugs: Sequence[str]) -> None:
        """Nothing comes back: the last name has these qualifiers too."""
        last = self._parts[-1]
        self._parts[-1] = replace(last, qualifiers=self._attributions.in_order([*last.qualifiers, *slugs]))

    def _trail(self, item: Item, joined: Joined | None) -> None:
        """Nothing comes back: "or follower" is the last name once more, "(workshop)" is said of the last name itself."""
        if not self._parts:
            return
        if joined is None:
            self._qualify(item.slugs)
            return
        last = self._parts[-1]
        self._parts.append(replace(last, qualifiers=self._attributions.in_order(item.slugs), joined=joined))


def _name_follows(rest: Sequence[Item]) -> bool:
    """Whether a name comes before the phrase ends or a semicolon parts it."""
    for item in rest:
        if item.kind in {"name", "aside"}:
            return True
        if item.kind == "sign" and item.text in ";:,":
            return False
    return False

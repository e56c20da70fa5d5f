"""The ways in which a name that was read may be taken apart: the plain one, and those by which it may answer to another form."""

from __future__ import annotations

import re
from dataclasses import replace

from margent.names.lore import Lore
from margent.names.normal import Folded
from margent.names.parts import EXTRA, FAMILY, GIVEN, Parts, Word, parts_of, taken_apart

_TOGETHER = re.compile(r"\s*([A-Z]{1,3})([A-Z][a-z]{2}.*)", re.DOTALL)


def readings_of(text: str, lore: Lore) -> tuple[Parts, ...]:
    """The ways in which a name that was read may be taken apart.

    Beside the plain one: particles written together with the name (Delamotte for de la Motte), and the other way about.
    """
    found = parts_of(text, lore)
    if not found:
        return ()
    main = found[0]
    ways = [main, *found[1:]]
    ways += [
        way
        for way in (
            _joined(main, ""),
            _joined(main, lore.contraction(main.particles)),
            _monogram(main),
            _one_forename(main),
            taken_apart(main, lore),
            _initial_apart(main, lore),
        )
        if way is not None
    ]
    ways += _split(main, lore)
    if (way := _with_origin(main, lore)) is not None:
        ways.append(way)
    return tuple(ways)


def _joined(parts: Parts, contracted: str | None) -> Parts | None:
    """The particles, or what they are contracted to, taken together with the surname as one word; None without any."""
    if not parts.particles or not parts.family or contracted is None:
        return None
    first = parts.family[0]
    word = Word(Folded((contracted or "".join(parts.particles)) + first.text), FAMILY, first.cut)
    return _changed(parts, tuple(word if each is first else each for each in parts.words), ())


def _split(parts: Parts, lore: Lore) -> list[Parts]:
    """The surname without each particle that it may begin with."""
    if parts.particles or not parts.family:
        return []
    first = parts.family[0]
    ways = []
    for length in range(2, min(7, len(first.text) - 3) + 1):
        if first.text[:length] in lore.particles or first.text[:length] in lore.contractions:
            word = Word(Folded(first.text[length:]), FAMILY, first.cut)
            ways.append(
                _changed(
                    parts,
                    tuple(word if each is first else each for each in parts.words),
                    (Folded(first.text[:length]),),
                )
            )
    return ways


def _one_forename(parts: Parts) -> Parts | None:
    """The first two forenames taken together, as in Giancristoforo; None without two."""
    given = parts.given
    if len(given) < 2 or given[0].cut or given[0].initial or given[1].initial:
        return None
    first, second = given[:2]
    word = Word(Folded(first.text + second.text), GIVEN)
    return _changed(
        parts, tuple(word if each is first else each for each in parts.words if each is not second), parts.particles
    )


def _with_origin(parts: Parts, lore: Lore) -> Parts | None:
    """A name such as Holm of Breda with the place as a word that may be missing, and the word before it as the name; else None."""
    if (
        parts.inverted
        or not parts.particles
        or len(parts.words) != 2
        or [word.part for word in parts.words] != [GIVEN, FAMILY]
    ):
        return None
    first, place = parts.words
    if lore.classes(first.text):
        return None
    return _changed(parts, (Word(first.text, FAMILY, first.cut), Word(place.text, EXTRA)), ())


def _monogram(parts: Parts) -> Parts | None:
    """Two or three letters taken as initials: AV as A. V.; None for anything longer or with small letters."""
    letters = parts.text.strip(" .")
    if not (2 <= len(letters) <= 3 and letters.isalpha() and letters.isupper()):
        return None
    words = [Word(Folded(letter.lower()), GIVEN, cut=True) for letter in letters[:-1]]
    return _changed(parts, (*words, Word(Folded(letters[-1].lower()), FAMILY, cut=True)), ())


def _initial_apart(parts: Parts, lore: Lore) -> Parts | None:
    """The name with an initial taken off the surname that it is written together with: AHolm as A. Holm; None without such."""
    found = _TOGETHER.match(parts.text)
    if found is None:
        return None
    named = parts_of(" ".join(f"{letter}." for letter in found[1]) + f" {found[2]}", lore)
    return replace(named[0], text=parts.text) if named else None


def _changed(parts: Parts, words: tuple[Word, ...], particles: tuple[Folded, ...]) -> Parts:
    return replace(parts, words=words, particles=particles)

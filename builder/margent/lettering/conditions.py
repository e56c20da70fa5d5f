"""When a sense holds, in plain words: its conditions one after another, in the language of whoever asks."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from margent.vocabulary.model import Edtf, Iri, Sense

# `say` gives a message in the language wanted; English is what stands here, and `str` leaves it so.
Say = Callable[[str], str]


def in_words(sense: Sense, role_name: Callable[[Iri], str], say: Say, years: Callable[[Edtf], str]) -> list[str]:
    """The conditions of a sense, each in words; empty where it always holds."""
    said: list[str] = []
    between = say("or")

    def any_of(names: Sequence[str]) -> str:
        return f" {between} ".join(names)

    if sense.alone:
        said.append(say("nobody else is named as a maker"))
    if sense.beside_role:
        said.append(say("somebody else is named as {roles}").format(roles=any_of([*map(role_name, sense.beside_role)])))
    if sense.same_name_role:
        said.append(say("the same name is also {roles}").format(roles=any_of([*map(role_name, sense.same_name_role)])))
    if sense.technique:
        said.append(say("on prints in {techniques}").format(techniques=any_of([*map(say, sense.technique)])))
    if sense.during:
        said.append(say("in {years}").format(years=any_of([*map(years, sense.during)])))
    if sense.sheet_place:
        said.append(say("at {places}").format(places=any_of([*map(say, sense.sheet_place)])))
    if sense.name_position:
        positions = {
            "nameBefore": say("standing behind the name"),
            "nameAfter": say("standing before the name"),
            "nameEither": say("standing before or behind the name"),
        }
        said.append(any_of([positions[each] for each in sense.name_position]))
    if sense.name_kind:
        said.append(say("of a {kinds}").format(kinds=any_of([*map(say, sense.name_kind)])))
    said.extend(
        words
        for holds, words in (
            (sense.place_near, say("with a town beside it")),
            (sense.on_map, say("on maps")),
            (sense.in_pencil, say("in pencil")),
        )
        if holds
    )
    return said

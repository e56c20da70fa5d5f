"""What speaks for or against a maker beside the name: dates by role, roles practised, places, and who else signs.

Each piece of evidence stands alone, with its weight from vocab/names/evidence.ttl and its wording; weights are added.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from margent.names.index import Index
from margent.names.lore import Ages, Lore
from margent.vocabulary.edtf import EARLIEST, LATEST

Years = tuple[int, int]

# Stages of a print's life whose makers may be long dead when the plate is cut: what they made lives on.
SOURCE_STAGES = frozenset({"conceiving", "owning-the-original"})


class Evidence(NamedTuple):
    """One thing that speaks for (above zero) or against a maker: its key, its weight and how it is told."""

    key: str
    weight: int
    wording: str


class Circumstances(NamedTuple):
    """What is known of the print beside the name: years, roles and places by the last part of the IRI, other makers by number."""

    years: Years | None = None
    roles: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    cosigners: tuple[int, ...] = ()


def told(lore: Lore, key: str, **blanks: object) -> Evidence:
    """The evidence of that key, with its blanks filled."""
    weighed = lore.weights[key]
    return Evidence(key, weighed.weight, weighed.wording.format(**blanks))


class Lifetime(NamedTuple):
    """What is known of when a maker lived and worked; None where nothing is."""

    born: Years | None
    died: Years | None
    active: Years | None
    ages: Ages

    @property
    def birth(self) -> Years | None:
        """The years of birth, an open beginning closed by what is likely."""
        if self.born is None or self.born[0] > EARLIEST:
            return self.born
        return self.born[1] - self.ages.open_end, self.born[1]

    @property
    def death(self) -> Years | None:
        """The years of death, an open end closed by what is likely: nobody lives for ever after a last notice."""
        if self.died is None or self.died[1] < LATEST:
            return self.died
        latest = self.died[0] + self.ages.open_end
        return self.died[0], min(
            latest, max(self.died[0], self.birth[1] + self.ages.long_life)
        ) if self.birth else latest

    @property
    def working(self) -> Years | None:
        """The years in which the maker may have worked; None without any date."""
        birth, death = self.birth, self.death
        if self.active is not None:
            low, high = self.active
            if death is not None:
                high = max(high, death[1]) if high < LATEST else death[1]
            return low, high
        if birth is not None:
            return birth[0] + self.ages.grown, death[1] if death is not None else birth[1] + self.ages.long_life
        if death is not None:
            return death[0] - self.ages.working_life, death[1]
        return None

    def words(self) -> str:
        """The dates for the eye: `1620 to 1670`, `1602-1671`."""
        if self.active is not None:
            return _span(self.active, " to ")
        born = _about(self.born) if self.born else "?"
        died = _about(self.died) if self.died else "?"
        return f"{born}-{died}"


def lifetime(index: Index, maker: int) -> Lifetime:
    """When that maker lived and worked."""
    numbers = index.dates[6 * maker : 6 * maker + 6]

    def span(at: int) -> Years | None:
        return (numbers[at], numbers[at + 1]) if numbers[at] or numbers[at + 1] else None

    return Lifetime(span(0), span(2), span(4), index.lore.ages)


def circumstantial(index: Index, maker: int, said: Circumstances) -> list[Evidence]:
    """All evidence of that kind for one maker; nothing for what is not known."""
    found: list[Evidence] = []
    if said.years is not None:
        found += by_dates(index.lore, lifetime(index, maker), said.years, said.roles)
    if said.roles and index.roles[maker]:
        found += by_roles(index.lore, index.roles[maker], said.roles)
    if said.places and index.places[maker]:
        found.append(_by_place(index.lore, index.places[maker], said.places))
    if said.cosigners:
        found += _by_cosigners(index, maker, said.cosigners)
    return found


def by_dates(lore: Lore, life: Lifetime, asked: Years, roles: Collection[str]) -> list[Evidence]:
    """What the dates say. Designers, painters and owners may be long dead; everybody else must have been at work."""
    working = life.working
    if working is None:
        return []
    low, high = asked
    blanks = {"working": life.words(), "date": _span(asked, " to ")}
    birth, death = life.birth, life.death
    if birth is not None and high < birth[0]:
        return [told(lore, "dates-not-born", **blanks)]
    if birth is not None and high < birth[0] + life.ages.child:
        return [told(lore, "dates-young", age=max(0, high - birth[0]), **blanks)]
    end = death[1] if death is not None else working[1]
    if low > end:
        return [_after_death(lore, low - end, roles, blanks, known=death is not None)]
    if low <= working[1] and high >= working[0]:
        return [told(lore, "dates-fit", **blanks)]
    if high < working[0]:
        return [told(lore, "dates-edge" if working[0] - high <= life.ages.around else "dates-late", **blanks)]
    return [told(lore, "dates-edge", **blanks)]


def _after_death(lore: Lore, gap: int, roles: Collection[str], blanks: dict[str, str], *, known: bool) -> Evidence:
    """What it says that the print is later than the maker's death, or last known date, by so many years."""
    if roles and all(lore.stage_of.get(role) in SOURCE_STAGES for role in roles):
        return told(lore, "dates-old-source", role=_roles(lore, roles), **blanks)
    if gap <= (lore.ages.shortly if known else lore.ages.around):
        return told(lore, "dates-just-dead" if known else "dates-edge", **blanks)
    return told(lore, "dates-dead" if roles else "dates-old-any", **blanks)


def by_roles(lore: Lore, known: Sequence[str], asked: Sequence[str]) -> list[Evidence]:
    """What the roles say, one piece of evidence for each role asked, two at most."""
    found = []
    for role in asked[:2]:
        blanks = {"role": lore.role_label.get(role, role), "known": _roles(lore, known)}
        if role in known or any(role in lore.broader_of.get(each, ()) for each in known):
            found.append(told(lore, "role-practised", **blanks))
        elif any(
            each in lore.broader_of.get(role, ()) or (lore.stage_of.get(each) == lore.stage_of.get(role) is not None)
            for each in known
        ):
            found.append(told(lore, "role-related", **blanks))
        else:
            found.append(told(lore, "role-other", **blanks))
    return found


def _by_place(lore: Lore, known: Sequence[str], asked: Sequence[str]) -> Evidence:
    def names(slugs: Sequence[str]) -> str:
        return ", ".join(lore.place_label.get(slug, slug) for slug in slugs)

    shared = [place for place in asked if place in known]
    if shared:
        return told(lore, "place-same", place=names(shared))
    return told(lore, "place-other", known=names(known), place=names(asked[:1]))


def _by_cosigners(index: Index, maker: int, others: Sequence[int]) -> list[Evidence]:
    """Kin, partners, pupils, and whoever has signed the same object."""
    found: list[Evidence] = []
    tied = {index.number_of.get(other) for _, other in index.ties.get(maker, ())}
    houses = {other for tie, other in index.ties.get(maker, ()) if tie == "member"}
    objects = set(index.objects.get(maker, ()))
    for other in others:
        if other == maker:
            continue
        if objects & set(index.objects.get(other, ())):
            found.append(told(index.lore, "cosigner-seen", other=index.labels[other]))
            continue
        back = index.ties.get(other, ())
        if other in tied or any(
            index.number_of.get(iri) == maker or (tie == "member" and iri in houses) for tie, iri in back
        ):
            found.append(told(index.lore, "cosigner-kin", other=index.labels[other]))
    return found[:2]


def _roles(lore: Lore, roles: Collection[str]) -> str:
    return " and ".join(lore.role_label.get(role, role) for role in list(roles)[:3])


def _about(span: Years) -> str:
    """One year for the eye, from the years it may be."""
    low, high = span
    if low == high:
        return str(low)
    if low <= EARLIEST:
        return f"by {high}"
    if high >= LATEST:
        return f"{low} or later"
    return f"about {(low + high) // 2}" if high - low <= 10 else f"{low} to {high}"


def _span(span: Years, to: str) -> str:
    low, high = span
    if low == high:
        return str(low)
    return f"{low if low > EARLIEST else '?'}{to}{high if high < LATEST else '?'}"

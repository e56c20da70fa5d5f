"""The pages of an authority's entries: makers, families with who it may be in which year, and marks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from margent.names.marks import MAKERS_MARKS
from margent.publishing.kinship import Kin
from margent.publishing.material import Material, Page
from margent.publishing.spans import Bar, Scale, Span, around, scale, span
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Edtf, Iri, Maker, Mark, NameForm, Practice, WorkingPlace

MOST_LISTED = 100
"""How many makers the page of a role or of a place lists; whoever wants all of them takes the data."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a timeline: what it is about (a word of the site, or an entry), the period as written, and its bar."""

    about: str
    entry: Iri | None
    period: Edtf | None
    bar: Bar | None


@dataclass(frozen=True, slots=True)
class Member:
    """A member of a family: its years, and its bar on the scale of the family."""

    maker: Maker
    active: Span | None
    life: Span | None
    bar: Bar | None
    life_bar: Bar | None


class MakerPages:
    """A page for each maker and each mark."""

    def __init__(self, material: Material) -> None:
        self.material = material
        self.vocabulary = material.vocabulary
        self.relations = material.relations
        self.kin = Kin(self.vocabulary.makers)

    def pages(self) -> Iterator[Page]:
        """Every one of them, withdrawn entries too."""
        path = self.material.pages.path
        for maker in self.vocabulary.makers.values():
            yield Page(path(maker.iri), "maker.html", partial(self._maker, maker), maker.iri)
        for mark in self.vocabulary.marks.values():
            yield Page(path(mark.iri), "mark.html", partial(self._mark, mark), mark.iri)

    def _maker(self, maker: Maker, _: Tongue) -> dict[str, Any]:
        relations, iri = self.relations, maker.iri
        own = {kinship.to for kinship in maker.kin}
        told: dict[str, Any] = {
            "entry": maker,
            "line": line(maker),
            "forms": sorted(maker.name_forms, key=_earliest),
            "marks": self._marks(relations.marks_of.get(iri, [])),
            "tree": self.kin.tree(iri),
            # What others say of this maker, where it does not say the same from its own end.
            "kin_of": [pair for pair in relations.kin_of.get(iri, []) if pair[0] not in own],
            "pupils": relations.pupils.get(iri, []),
            "partners": list(dict.fromkeys([*maker.partner_of, *relations.partners.get(iri, [])])),
            "successors": relations.successors.get(iri, []),
            "compared": self._compared(maker),
            "members": [],
            "decades": [],
        }
        told["scale"], told["rows"] = timeline(maker)
        if maker.kind == "Family":
            told |= self._family(maker)
        return told

    def _compared(self, maker: Maker) -> list[tuple[Maker, list[Mark]]]:
        """The maker and those with whom it is confused, each with its marks; empty where it is confused with nobody."""
        others = [self.vocabulary.makers.get(iri) for iri in self.relations.compared.get(maker.iri, [])]
        known = [other for other in others if other is not None]
        return [(each, self._marks(self.relations.marks_of.get(each.iri, []))) for each in (maker, *known) if known]

    def _family(self, family: Maker) -> dict[str, Any]:
        """The members with their years, and for each decade those who may be meant in it."""
        makers = [self.vocabulary.makers[iri] for iri in self.relations.members.get(family.iri, [])]
        spans = [(maker, working(maker), life(maker)) for maker in makers]
        shown = scale([*(active or lived for _, active, lived in spans), span(family.active)])
        members = [
            Member(maker, active, lived, _bar(shown, active), _bar(shown, lived))
            for maker, active, lived in sorted(spans, key=lambda each: (_first(each[1] or each[2]), each[0].iri))
        ]
        return {"scale": shown, "members": members, "decades": _decades(members)}

    def _mark(self, mark: Mark, _: Tongue) -> dict[str, Any]:
        makers = [self.vocabulary.makers.get(iri) for iri in mark.stands_for]
        return {
            "entry": mark,
            "of_a_maker": mark.mark_kind in MAKERS_MARKS,
            "makers": [(maker, line(maker)) for maker in makers if maker is not None],
            "unknown": [iri for iri in mark.stands_for if iri not in self.vocabulary.makers],
        }

    def _marks(self, iris: Iterable[Iri]) -> list[Mark]:
        marks = [self.vocabulary.marks[iri] for iri in iris if iri in self.vocabulary.marks]
        return sorted((mark for mark in marks if not mark.withdrawn), key=lambda mark: mark.iri)


@dataclass(frozen=True, slots=True)
class Line:
    """What a maker was, in one line: roles and places, each once, and the years to tell it by."""

    roles: tuple[Iri, ...]
    places: tuple[Iri, ...]
    active: Edtf | None


def line(maker: Maker) -> Line:
    """The line of a maker: the roles and the places it had longest known first."""
    roles = dict.fromkeys(each.role for each in sorted(maker.practices, key=lambda each: _first(span(each.period))))
    places = dict.fromkeys(
        each.place for each in sorted(maker.working_places, key=lambda each: _first(span(each.period)))
    )
    return Line(tuple(roles), tuple(places), maker.active)


def working(maker: Maker) -> Span | None:
    """The years in which a maker worked: said, else those of its roles and places."""
    periods = [each.period for each in maker.practices] + [each.period for each in maker.working_places]
    return span(maker.active) or around(map(span, periods))


def life(maker: Maker) -> Span | None:
    """The years in which a maker lived; an end that is not known is open."""
    born, died = span(maker.born), span(maker.died)
    return Span(born.first if born else None, died.last if died else None) if born or died else None


def timeline(maker: Maker) -> tuple[Scale | None, list[Row]]:
    """The scale and the lines of a maker's timeline; no lines where no year is known."""
    lived = life(maker)
    parts: list[tuple[str, Iri | None, Edtf | None, Span | None]] = []
    if lived and maker.kind != "Family":
        said = Edtf(f"{maker.born or '..'}/{maker.died or '..'}")
        parts.append(("lived", None, said, lived))
    if maker.active:
        parts.append(("active", None, maker.active, span(maker.active)))
    practices = sorted(maker.practices, key=lambda each: (_first(span(each.period)), each.iri))
    parts += [("role", each.role, each.period, span(each.period)) for each in practices]
    places = sorted(maker.working_places, key=lambda each: (_first(span(each.period)), each.iri))
    parts += [("place", each.place, each.period, span(each.period)) for each in places]
    shown = scale(each for *_, each in parts)
    return shown, [Row(about, entry, period, _bar(shown, each)) for about, entry, period, each in parts]


def _decades(members: list[Member]) -> list[tuple[int, list[Iri]]]:
    """For each decade of the family those who worked in any year of it; decades without anybody are left out."""
    spans = [member.active or member.life for member in members]
    whole = around(spans)
    if whole is None or whole.first is None or whole.last is None:
        return []
    found = []
    for decade in range(whole.first // 10 * 10, whole.last + 1, 10):
        own = [
            member.maker.iri
            for member, each in zip(members, spans, strict=True)
            if each and (each.first is None or each.first <= decade + 9) and (each.last is None or each.last >= decade)
        ]
        if own:
            found.append((decade, own))
    return found


def _bar(shown: Scale | None, period: Span | None) -> Bar | None:
    return shown.bar(period) if shown else None


def _first(known: Span | None) -> int:
    return known.first if known and known.first is not None else 9999


def _earliest(form: NameForm) -> tuple[int, str]:
    """Name forms by the first year in which each was met; forms met nowhere last."""
    return min((_first(span(each.date)) for each in form.attestations), default=9999), form.iri


def those_who(pairs: Iterable[tuple[Maker, Practice | WorkingPlace]]) -> tuple[list[tuple[Maker, Edtf | None]], int]:
    """The makers who did a thing or worked in a place, with the years of it, the earliest first; and how many more there are."""
    when: dict[Iri, tuple[Maker, Edtf | None]] = {}
    for maker, each in pairs:
        when.setdefault(maker.iri, (maker, each.period or maker.active))
    found = sorted(when.values(), key=lambda pair: (_first(span(pair[1]) or life(pair[0])), pair[0].iri))
    return found[:MOST_LISTED], max(0, len(found) - MOST_LISTED)

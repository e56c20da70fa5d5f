"""Makers of one or several authorities, asked who may be meant by a name on a print.

    authority = Authority.load([Path("makers-of-our-collection")])
    answer = authority.candidates("Io. Verrouius", years=(1630, 1635), roles=("engraver",), places=("antwerp",))

`answer.candidates` are ranked, each with its share and reasons; `answer.unknown` is the share of somebody in no file.
Where a whole family is meant, `answer.members` are those of the family that is ranked first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import exp, log
from pathlib import Path
from typing import Any

from margent.names.evidence import Circumstances, Evidence, Years, circumstantial, lifetime, told
from margent.names.index import Index
from margent.names.index_cache import cached_index
from margent.names.index_stream import Record, records
from margent.names.lore import Lore
from margent.names.matching import Matched, Matcher
from margent.names.normal import normal
from margent.vocabulary.here import room
from margent.vocabulary.load import load
from margent.vocabulary.model import Vocabulary

MOST_CANDIDATES = 10
MOST_ASKED_FURTHER = 40
"""Makers whose dates, roles and places are looked at; the others are too unlikely by their names."""
# A word beside a name -> what the one who is meant may be to the one named.
TIES = {
    "widow": ("widow", "wife"),
    "wife": ("wife", "widow"),
    "heirs": ("heir", "widow", "son", "daughter", "successor"),
    "daughter": ("daughter",),
    "nephew": ("nephew",),
    "brothers": ("brother",),
    "sons": ("son",),
    "family": ("member",),
}
SEVERAL = frozenset({"brothers", "sons", "heirs", "family"})
"""Relations that mean more than one person, of whom the one named may be one."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One maker who may be meant: the share is between 0 and 1; the evidence is added up in `weight`."""

    maker: str
    label: str
    probability: float
    because: tuple[str, ...]
    weight: int
    evidence: tuple[Evidence, ...]
    number: int

    def as_dict(self) -> dict[str, Any]:
        """The candidate as plain data."""
        return {
            "maker": self.maker,
            "label": self.label,
            "probability": round(self.probability, 4),
            "because": list(self.because),
        }


@dataclass(frozen=True, slots=True)
class Answer:
    """Who may be meant by a name: the shares of all candidates, listed or not, and of `unknown` make 1."""

    query: str
    candidates: tuple[Candidate, ...]
    members: tuple[Candidate, ...]
    unknown: float

    def as_dict(self) -> dict[str, Any]:
        """The answer as plain data; the members of a family only where one was answered."""
        data: dict[str, Any] = {
            "query": self.query,
            "candidates": [candidate.as_dict() for candidate in self.candidates],
            "unknown": round(self.unknown, 4),
        }
        if self.members:
            data["members"] = [member.as_dict() for member in self.members]
        return data


@dataclass(slots=True)
class _Weighed:
    """A maker on the way to being a candidate."""

    maker: int
    weight: int
    evidence: list[Evidence]


class Authority:
    """The makers of some folders, indexed by every form of their names."""

    def __init__(self, index: Index) -> None:
        self.index = index
        self._matcher = Matcher(index)

    @classmethod
    def load(
        cls, folders: Sequence[Path], vocabulary: Vocabulary | None = None, cache: Path | None = None
    ) -> Authority:
        """The makers of those folders. With a folder `cache` the index is kept there and taken from there, while nothing changed.

        Raises Fault where a file cannot be read.
        """
        lore = Lore(vocabulary if vocabulary is not None else load(room("vocab")))
        return cls(cached_index(folders, lore, cache))

    @classmethod
    def of(cls, makers: Iterable[Record], vocabulary: Vocabulary) -> Authority:
        """The authority of those makers, without any file."""
        return cls(Index.of(makers, Lore(vocabulary)))

    @classmethod
    def read(cls, folders: Sequence[Path], vocabulary: Vocabulary) -> Authority:
        """The makers of those folders, always read anew."""
        return cls.of(records(folders), vocabulary)

    def candidates(
        self,
        name: str,
        years: Years | None = None,
        roles: Sequence[str] = (),
        places: Sequence[str] = (),
        cosigners: Sequence[str] = (),
        limit: int = MOST_CANDIDATES,
    ) -> Answer:
        """Who may be meant by the name.

        `years` are those in which the state may have been printed; `roles` the last parts of role IRIs; `places` names in
        any language or the last parts of IRIs; `cosigners` IRIs of makers, or names, of others on the same print.
        """
        index = self.index
        said = Circumstances(years, tuple(roles), self._places(places), self._numbers(cosigners))
        found = self._matcher.match(name)
        weighed = self._with_relations(found.matched[:MOST_ASKED_FURTHER], normal(name))
        for each in weighed:
            further = circumstantial(index, each.maker, said)
            each.evidence += further
            each.weight += sum(evidence.weight for evidence in further)
        weighed.sort(key=lambda each: (-each.weight, each.maker))
        nobody = int(1000 * log(index.total)) + index.lore.weight("nobody")
        top = max([nobody, *(each.weight for each in weighed[:1])])
        masses = [exp((each.weight - top) / 1000) for each in weighed]
        unlisted = found.matched[MOST_ASKED_FURTHER:]
        rest = sum(exp((each.weight - top) / 1000) for each in unlisted)
        if found.as_good and found.matched:
            rest += found.as_good * exp((found.matched[-1].weight - top) / 1000)
        beyond = exp((nobody - top) / 1000)
        total = sum(masses) + rest + beyond
        listed = tuple(self._candidate(each, mass / total) for each, mass in zip(weighed[:limit], masses, strict=False))
        return Answer(name, listed, self._members(listed, weighed, masses), beyond / total)

    def lifetime(self, candidate: Candidate) -> tuple[Years | None, str]:
        """The years in which the candidate may have worked, and the dates in words."""
        life = lifetime(self.index, candidate.number)
        return life.working, life.words() if life.working is not None else ""

    def _candidate(self, weighed: _Weighed, probability: float) -> Candidate:
        index = self.index
        because = tuple(dict.fromkeys(each.wording for each in weighed.evidence if each.wording))
        return Candidate(
            index.iris[weighed.maker], index.labels[weighed.maker], probability, because, weighed.weight, tuple(weighed.evidence), weighed.maker,
        )  # fmt: skip

    def _with_relations(self, matched: Sequence[Matched], name: str) -> list[_Weighed]:
        """The makers matched by name, and those who are what the words beside the name say: the widow, the heirs."""
        index, lore = self.index, self.index.lore
        found: dict[int, _Weighed] = {}

        def note(maker: int, evidence: list[Evidence], further: Evidence | None) -> None:
            whole = [*evidence, further] if further is not None else evidence
            weight = sum(each.weight for each in whole)
            if maker not in found or found[maker].weight < weight:
                found[maker] = _Weighed(maker, weight, whole)

        for each in matched:
            evidence = each.evidence(index)
            if index.attested(each.form) and normal(index.form_texts[each.form]) == name:
                evidence.append(told(lore, "attested"))
            relation = each.parts.relation
            if not relation or index.relation(each.form) or index.kind(each.maker) == "Family":
                note(each.maker, evidence, None)
                continue
            label = index.labels[each.maker]
            for tie, other in index.tied_to.get(each.maker, ()):
                if tie in TIES[relation]:
                    note(other, evidence, told(lore, "relation-kin", read=tie, form=label))
            key = "relation-member" if relation in SEVERAL else "relation-other"
            note(each.maker, evidence, told(lore, key, read=each.parts.relation_word, form=label))
        return list(found.values())

    def _members(
        self, listed: Sequence[Candidate], weighed: Sequence[_Weighed], masses: Sequence[float]
    ) -> tuple[Candidate, ...]:
        """The members of the family that is ranked first, by their shares among themselves; none where no family is."""
        index = self.index
        if not listed or index.kind(listed[0].number) != "Family":
            return ()
        of_family = {maker for tie, maker in index.tied_to.get(listed[0].number, ()) if tie == "member"}
        of_family |= {
            index.number_of[iri]
            for tie, iri in index.ties.get(listed[0].number, ())
            if tie == "member" and iri in index.number_of
        }
        chosen = [(each, mass) for each, mass in zip(weighed, masses, strict=True) if each.maker in of_family]
        total = sum(mass for _, mass in chosen)
        if not total:
            return ()
        return tuple(self._candidate(each, mass / total) for each, mass in chosen)

    def _places(self, said: Sequence[str]) -> tuple[str, ...]:
        """The places that may be meant, by the last part of the IRI; one that is unknown is kept as it is, to match nothing."""
        found: dict[str, None] = {}
        for each in said:
            found.update(dict.fromkeys(self.index.lore.place_of(each) or (each.rpartition("/")[2],)))
        return tuple(found)

    def _numbers(self, said: Sequence[str]) -> tuple[int, ...]:
        """The makers named, by IRI or by a name that is likelier theirs than not."""
        numbers: dict[int, None] = {}
        for each in said:
            number = self.index.number_of.get(each)
            if number is None and not each.startswith(("http:", "https:")):
                best = self.candidates(each, limit=1).candidates
                number = best[0].number if best and best[0].probability > 0.5 else None
            if number is not None:
                numbers[number] = None
        return tuple(numbers)

"""A list of makers laid into the folder of an authority: new entries written, known ones brought up to date, nothing deleted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Container, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import NamedTuple

from pyoxigraph import Literal, NamedNode

from margent.exchange.listed_maker import LONGEST_ID, Listed, ListedMaker, NotTaken, shortened, slug_of_id
from margent.exchange.maker_entry import lay_in
from margent.vocabulary.authority_files import MOST_ENTRIES, PUBLICATION, AuthorityFolder
from margent.vocabulary.entry import Entry, dated, named
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.model import Iri
from margent.vocabulary.namespaces import TYPE
from margent.vocabulary.new_authority import NewAuthority
from margent.vocabulary.slugs import slug
from margent.vocabulary.tidy import natural


class Change(NamedTuple):
    """What an import did to an entry that was there, or found missing from the list."""

    iri: Iri
    what: str


@dataclass(slots=True)
class Outcome:
    """What an import did: how many makers were new, changed and as they were, and everything that must be looked at."""

    new: int = 0
    changed: int = 0
    same: int = 0
    not_taken: list[NotTaken] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    vanished: list[Change] = field(default_factory=list)
    renamed: list[Change] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)
    began: Path | None = None
    """The publication.ttl that was written, where the folder had none."""

    @property
    def left_out(self) -> int:
        """How many makers of the list are not in the authority."""
        return sum(each.left_out for each in self.not_taken)


@dataclass(frozen=True, slots=True)
class ListSource:
    """The list as a source: every entry made from it cites it, and it is known again by this name at the next import."""

    name: str
    file: str
    form: str

    @property
    def slug(self) -> str:
        """The last part of its IRI."""
        return slug(self.name) or "list"


def import_makers(
    listed: Iterable[Listed], folder: Path, base: str | None, source: ListSource, today: dt.date, *, dry: bool = False
) -> Outcome:
    """What came of laying the list into the folder; the files are written, all together, unless `dry`.

    Raises Fault where the folder cannot be read or written, or its base and the one said do not agree.
    """
    authority = AuthorityFolder(folder, base)
    outcome = Outcome()
    cited = Iri(f"{authority.base}source/{source.slug}")
    laying = _Laying(authority, cited, outcome)
    laying.all(listed)
    _vanished(authority, cited, laying.seen, outcome)
    if (outcome.new or outcome.changed) and authority.entry(cited) is None:
        authority.put(_source(cited, source, today), folder / "sources" / "lists.ttl")
    texts = authority.texts()
    if not authority.begun and texts:
        path = folder / PUBLICATION
        begun = NewAuthority(
            authority.base,
            f"Makers of the list {source.name}",
            f"The keeper of {folder.resolve().name} (not named yet)",
        )
        texts[path] = begun.publication(path, today)
        outcome.began = path
    outcome.files = sorted(texts)
    if not dry:
        put_in_place(texts)
    return outcome


class _Laying:
    """One import on its way."""

    def __init__(self, authority: AuthorityFolder, cited: Iri, outcome: Outcome) -> None:
        self.authority, self.cited, self.outcome = authority, cited, outcome
        self.seen: dict[str, str] = {}
        """The IRI of each maker of the list in small letters, and where in the list it stands."""
        self.there = {iri.casefold(): iri for iri in authority.entries}
        self.new: list[Entry] = []
        exact = named("skos:exactMatch")
        self.matched: dict[str, Iri] = {
            triple.object.value: iri
            for iri in authority.entries
            if (known := authority.entry(iri)) is not None
            for triple in known.triples
            if triple.predicate == exact and isinstance(triple.object, NamedNode)
        }
        """What is matched exactly, and by which maker: two makers of one authority cannot be the same one elsewhere."""

    def all(self, listed: Iterable[Listed]) -> None:
        """Nothing comes back: every maker of the list is laid in, and the new ones have their files."""
        for each in listed:
            if isinstance(each, NotTaken):
                self.outcome.not_taken.append(each)
            elif why := self._one(each):
                self.outcome.not_taken.append(NotTaken(each.where, each.id, why, left_out=True))
        self._place()

    def _one(self, maker: ListedMaker) -> str | None:
        """Lays one maker in; says why where that cannot be."""
        name = slug_of_id(maker.id)
        if not name:
            return f"has the id {maker.id!r}, of which no IRI can be made: the maker was left out"
        if len(name) > LONGEST_ID:
            return f"has an id of {len(name):,} characters, and at most {LONGEST_ID} end an IRI: the maker was left out"
        maker, cut = shortened(maker)
        self.outcome.not_taken += cut
        iri = Iri(f"{self.authority.base}maker/{name}")
        maker = self._with_own_matches(maker, iri)
        low = iri.casefold()
        if low in self.seen:
            return f"has the same id as {self.seen[low]}, or one that differs only in capitals or signs: the maker was left out"
        self.seen[low] = maker.where
        if name != maker.id:
            self.outcome.renamed.append(Change(iri, f"the id {maker.id!r} is written {name} in the IRI"))
        known = self.there.get(low)
        entry = self.authority.entry(known) if known is not None else None
        if entry is None:
            entry = Entry(iri)
            lay_in(entry, maker, self.cited)
            self.new.append(entry)
            self.outcome.new += 1
            return None
        if entry.withdrawn:
            return "was withdrawn from the authority: left as it is"
        if not entry.cites(self.cited):
            others = ", ".join(sorted(work.rpartition("/")[2] for work in entry.works())) or "no list"
            return (
                f"has the id of an entry that rests on {others}, not on {self.cited.rpartition('/')[2]}: left as it is; "
                "where it is the same list, say its name with --source, else import it under another --base"
            )
        entry.added, entry.changed = 0, []
        for gone in lay_in(entry, maker, self.cited):
            self.outcome.vanished.append(Change(entry.iri, gone))
        self.outcome.changes += [Change(entry.iri, what) for what in entry.changed]
        if entry.added or entry.changed:
            self.outcome.changed += 1
            self.authority.touched.add(self.authority.entries[entry.iri])
        else:
            self.outcome.same += 1
        return None

    def _with_own_matches(self, maker: ListedMaker, iri: Iri) -> ListedMaker:
        """The maker without exact matches that another one has already, which are told."""
        own = []
        for match in maker.exact_matches:
            first = self.matched.setdefault(match, iri)
            if first == iri:
                own.append(match)
            else:
                why = f"is said to be <{match}>, as {first.rpartition('/')[2]} is too: the match was not taken; the two may be one"
                self.outcome.not_taken.append(NotTaken(maker.where, maker.id, why))
        return replace(maker, exact_matches=tuple(own))

    def _place(self) -> None:
        """Puts the new entries into files: first where the last file of the list has room, then into new ones."""
        stem = self.cited.rpartition("/")[2]
        folder = self.authority.folder / "makers"
        number, room = 1, MOST_ENTRIES
        while (path := folder / f"{stem}-{number:03}.ttl") in self.authority.by_file:
            room = MOST_ENTRIES - len(self.authority.by_file[path])
            if room > 0 and folder / f"{stem}-{number + 1:03}.ttl" not in self.authority.by_file:
                break
            number, room = number + 1, MOST_ENTRIES
        for entry in sorted(self.new, key=lambda each: natural(each.iri)):
            if room <= 0:
                number, room = number + 1, MOST_ENTRIES
            self.authority.put(entry, folder / f"{stem}-{number:03}.ttl")
            room -= 1


def _vanished(authority: AuthorityFolder, cited: Iri, on_list: Container[str], outcome: Outcome) -> None:
    """Notes the makers that rest on the list and are not on it any more; they stay."""
    kind = NamedNode(TYPE)
    makers = {named(f"mg:{name}") for name in ("Person", "Family", "Workshop", "Firm", "UnidentifiedHand")}
    for iri in sorted(authority.entries, key=natural):
        entry = authority.entry(iri)
        assert entry is not None
        if iri.casefold() in on_list or entry.withdrawn or not entry.cites(cited):
            continue
        if any(each.predicate == kind and each.object in makers for each in entry.triples):
            outcome.vanished.append(Change(iri, "the whole entry"))


def _source(iri: Iri, source: ListSource, today: dt.date) -> Entry:
    """The entry of the list itself among the sources."""
    entry = Entry(iri)
    entry.add(iri, "a", named("mg:Source"))
    entry.add(iri, "dcterms:title", Literal(f"{source.name} (a list of makers)", language="en"))
    entry.add(iri, "dcterms:issued", dated(today.isoformat()))
    note = f"Taken in from the file {source.file} ({source.form}) on {today.isoformat()}, and not compared with prints."
    entry.add(iri, "skos:note", Literal(note, language="en"))
    return entry

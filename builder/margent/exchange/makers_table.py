"""Makers from a table: CSV, TSV or XLSX, under a header whose columns are named to us or are guessed from their names."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from margent.exchange.columns import plain
from margent.exchange.delimited import Record
from margent.exchange.listed_dates import Life, UnreadableDatesError, life_in, span
from margent.exchange.listed_maker import (
    LONGEST_NAME,
    Listed,
    ListedForm,
    ListedMaker,
    NotTaken,
    clean,
    kind_of,
    same_words,
)
from margent.exchange.listed_words import ListedWords
from margent.faults import Fault
from margent.vocabulary.edtf import years
from margent.vocabulary.iris import is_iri
from margent.vocabulary.model import Choice, Edtf, Iri, Text

OURS: Mapping[str, tuple[str, ...]] = {
    "id": ("id", "identifier", "maker id", "artist id", "constituent id", "person id", "record id", "number", "no", "nr"),
    "name": (
        "name", "preferred name", "authorised name", "authorized name", "maker", "artist", "display name", "preferred label", "label",
        "nom", "naam", "nome", "nombre",
    ),
    "variants": (
        "variants", "variant", "variant names", "variant name", "other names", "other name", "alternative names", "alternate names",
        "aliases", "also known as", "forward name", "name as signed",
    ),
    "dates": ("dates", "display date", "life dates", "lifedates", "life", "lebensdaten", "date"),
    "born": ("born", "birth", "birth date", "date of birth", "birth year", "year of birth", "geboren"),
    "died": ("died", "death", "death date", "date of death", "death year", "year of death", "gestorben"),
    "active": ("active", "activity", "active dates", "floruit", "fl"),
    "begin": ("begin", "begin year", "begin date", "start year", "earliest year", "first year"),
    "end": ("end", "end year", "end date", "latest year", "last year"),
    "nationality": ("nationality", "school", "culture", "nationalité", "nationalität", "nationaliteit"),
    "kind": ("kind", "type", "entity type", "constituent type", "maker type"),
    "roles": ("roles", "role", "occupation", "occupations", "profession", "function"),
    "places": ("places", "place", "working places", "working place", "place of activity", "active in"),
    "same as": ("same as", "uri", "uris", "iri", "external identifier", "exact match"),
    "note": ("note", "notes", "remark", "remarks", "biography", "comment"),
}  # fmt: skip
"""Our names for columns, each with the names by which it is guessed; columns of other names are taken only where said."""

_SEVERAL = re.compile(r"\s*[;|\n]\s*")
_YEAR = re.compile(r"\d{4}\Z")
_EDTF = re.compile(r"[\dX?~%./\[\],-]+\Z")


@dataclass(frozen=True, slots=True)
class MakerColumns:
    """Where each of our columns stands, and how each was found."""

    places: Mapping[str, tuple[int, ...]]
    header: tuple[str, ...]
    guessed: tuple[tuple[str, str], ...]
    left: tuple[str, ...]


def wanted_maker_columns(said: Sequence[str]) -> dict[str, str]:
    """Our name -> theirs, from the texts OURS=THEIRS; raises Fault for one that is not so or is said twice."""
    wanted: dict[str, str] = {}
    for each in said:
        ours, sign, theirs = each.partition("=")
        ours = plain(ours)
        if not sign or not theirs.strip():
            raise Fault(f"--column {each!r}: write OURS=THEIRS, as in --column name=Artist")
        if ours not in OURS:
            raise Fault(f"--column {each!r}: a list of makers has no column {ours!r}; it has {', '.join(OURS)}")
        if ours in wanted:
            raise Fault(f"--column {each!r}: {ours!r} is already said to be {wanted[ours]!r}; say it once")
        wanted[ours] = theirs.strip()
    return wanted


def known_maker_columns(header: Sequence[str], wanted: Mapping[str, str]) -> int:
    """How many cells of a header are columns that are wanted or would be guessed."""
    names = {plain(name) for name in header}
    return len(names & {word for words in OURS.values() for word in words}) + len(
        names & {plain(theirs) for theirs in wanted.values()}
    )


def maker_columns(where: str, header: Sequence[str], wanted: Mapping[str, str]) -> MakerColumns:
    """Where our columns stand under a header. What is wanted wins; what is not said is guessed, the likelier name first.

    `variants` and `same as` may be several columns. Raises Fault where a wanted column is missing, or none has the id or
    the name.
    """
    names = [plain(name) for name in header]
    has = ", ".join(name.strip() for name in header if name.strip())[:300] or "none"
    places: dict[str, tuple[int, ...]] = {}
    for ours, theirs in wanted.items():
        found = [at for at, name in enumerate(header) if name.strip() == theirs]
        found = found or [at for at, name in enumerate(names) if name == plain(theirs)]
        if not found:
            raise Fault(f"{where}: has no column {theirs!r}; its columns are: {has}")
        if len(found) > 1:
            raise Fault(f"{where}: has {len(found)} columns called {theirs!r}; rename all but one")
        places[ours] = tuple(found)
    taken = {at for found in places.values() for at in found}
    guessed: list[tuple[str, str]] = []
    for ours, words in OURS.items():
        if ours in places:
            continue
        found = [at for word in words for at, name in enumerate(names) if name == word and at not in taken]
        found = found if ours in {"variants", "same as"} else found[:1]
        if found:
            places[ours] = tuple(found)
            taken.update(found)
            guessed += [(ours, header[at].strip()) for at in found]
    for ours in ("id", "name"):
        if ours not in places:
            raise Fault(
                f"{where}: has no column with the {ours} of each maker; say which it is with --column {ours}=THEIRS; its columns are: {has}"
            )
    left = tuple(header[at].strip() for at in range(len(header)) if at not in taken and header[at].strip())
    return MakerColumns(places, tuple(header), tuple(guessed), left)


def table_makers(
    records: Iterator[Record], columns: MakerColumns, words: ListedWords, language: str
) -> Iterator[Listed]:
    """The makers of the records behind a header, and what could not be taken, in order."""
    for number, cells, wrong in records:
        where = f"row {number}"
        if wrong:
            yield NotTaken(where, None, wrong, left_out=True)
        elif any(cell.strip() for cell in cells[len(columns.header) :]):
            yield NotTaken(
                where, None, f"has {len(cells)} cells where the header has {len(columns.header)}: put a cell that holds a separator in quotation marks",
                left_out=True,
            )  # fmt: skip
        else:
            yield from _Row(where, cells, columns, words, language).listed()


class _Row:
    """One row on the way to being a maker; `lost` collects the cells that could not be taken."""

    def __init__(
        self, where: str, cells: Sequence[str], columns: MakerColumns, words: ListedWords, language: str
    ) -> None:
        self.where, self.words, self.language = where, words, language
        self.columns, self.cells = columns, cells
        self.lost: list[NotTaken] = []
        self.id = self.one("id")

    def all(self, ours: str) -> list[str]:
        """What stands in the cells of a column of ours, without empty ones."""
        found = [clean(self.cells[at]) for at in self.columns.places.get(ours, ()) if at < len(self.cells)]
        return [text for text in found if text]

    def one(self, ours: str) -> str:
        """The only cell, or an empty text."""
        return next(iter(self.all(ours)), "")

    def several(self, ours: str) -> list[str]:
        """The things that stand in the cells, parted by a semicolon, an upright stroke or a line break."""
        raw = [self.cells[at] for at in self.columns.places.get(ours, ()) if at < len(self.cells)]
        return [text for cell in raw for part in _SEVERAL.split(cell) if (text := clean(part))]

    def lose(self, why: str) -> None:
        """Nothing comes back: the report will say why a cell was not taken."""
        self.lost.append(NotTaken(self.where, self.id or None, why))

    def listed(self) -> list[Listed]:
        """The maker, behind what of it could not be taken; only the latter where there is no id or no name."""
        name = self.one("name")
        if not self.id or not name:
            return [
                NotTaken(
                    self.where,
                    self.id or None,
                    f"has no {'id' if not self.id else 'name'}: the maker was left out",
                    left_out=True,
                )
            ]
        if len(name) > LONGEST_NAME:
            return [
                NotTaken(
                    self.where,
                    self.id,
                    f"has a name of {len(name):,} characters: the maker was left out",
                    left_out=True,
                )
            ]
        kind = self._kind()
        life = self._life(kind)
        maker = ListedMaker(
            id=self.id,
            where=self.where,
            kind=kind,
            labels=(Text(name, self.language),),
            forms=tuple(self._forms(name)),
            definitions=self._definition(),
            born=life.born,
            died=life.died,
            active=life.active,
            roles=tuple(self._looked_up("roles", self.words.role, "no role that the vocabulary knows")),
            places=tuple(self._looked_up("places", self.words.place, "no place that the vocabulary knows")),
            exact_matches=tuple(self._matches()),
            notes=tuple(Text(note, self.language) for note in self.all("note")),
        )
        return [*self.lost, maker]

    def _kind(self) -> Choice:
        said = self.one("kind")
        kind = kind_of(said) if said else Choice("Person")
        if kind is None:
            self.lose(f"has the kind {said!r}, which is none of ours: taken for a person")
        return kind or Choice("Person")

    def _life(self, kind: Choice) -> Life:
        """Birth, death and activity, each from its own column, else from the dates in words, else from the first and the last year."""
        person, anonymous = kind == "Person", kind == "UnidentifiedHand"
        life = Life()
        if dates := self.one("dates"):
            try:
                life = life_in(dates, person=person, anonymous=anonymous)
            except UnreadableDatesError:
                self.lose(f"has dates that could not be read, {dates!r}: kept in the description only")
        if life == Life():
            active = span(self.one("begin"), self.one("end"))
            life = Life(active=active)
        own = {ours: date for ours in ("born", "died", "active") if (date := self._date(ours))}
        return Life(**({"born": life.born, "died": life.died, "active": life.active} | own))

    def _date(self, ours: str) -> Edtf | None:
        """The date of one column: EDTF, or words as `about 1602`."""
        said = self.one(ours)
        if not said:
            return None
        if _EDTF.match(said):
            try:
                years(said)
            except ValueError:
                pass
            else:
                return Edtf(said)
        try:
            life = life_in(f"{ours} {said}" if ours != "active" else f"active {said}")
        except UnreadableDatesError:
            life = Life()
        date: Edtf | None = getattr(life, ours)
        if date is None:
            self.lose(f"has in the column {ours} the date {said!r}, which could not be read")
        return date

    def _definition(self) -> tuple[Text, ...]:
        """Nationality and dates as the list has them, so that nothing of their wording is lost."""
        nationality, dates = self.one("nationality"), self.one("dates")
        said = (
            dates
            if nationality and dates.casefold().startswith(nationality.casefold())
            else ", ".join(filter(None, (nationality, dates)))
        )
        return (Text(said, self.language),) if said else ()

    def _forms(self, name: str) -> Iterator[ListedForm]:
        known = [name]
        for form in self.several("variants"):
            if len(form) > LONGEST_NAME:
                self.lose(f"has a variant of {len(form):,} characters, which is no name")
            elif not any(same_words(form, each) for each in known):
                known.append(form)
                yield ListedForm(Text(form, ""))

    def _looked_up(self, ours: str, look_up: object, why: str) -> Iterator[Iri]:
        assert callable(look_up)
        for said in self.several(ours):
            found = look_up(said)
            if found is None:
                self.lose(f"has in the column {ours} {said!r}: {why}")
            else:
                yield found

    def _matches(self) -> Iterator[Iri]:
        for said in self.several("same as"):
            if is_iri(said):
                yield Iri(said)
            else:
                self.lose(
                    f"has in the column same as {said!r}, which is no IRI: write it whole, with http:// or https://"
                )

"""Makers from MARC 21 authority records, in the binary form or in XML, read by pymarc.

The fields are those of the MARC 21 Format for Authority Data, https://www.loc.gov/marc/authority/.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from margent.exchange.listed_dates import Life, UnreadableDatesError, life_in
from margent.exchange.listed_maker import LONGEST_NAME, Listed, ListedForm, ListedMaker, NotTaken, clean, same_words
from margent.exchange.listed_words import ListedWords
from margent.faults import Fault
from margent.vocabulary.edtf import years
from margent.vocabulary.iris import is_iri
from margent.vocabulary.model import Choice, Edtf, Iri, Text

HEADINGS = {"100": "Person", "110": "Firm"}
"""The headings that are makers; with 3 as first indicator a 100 is a family's."""

PASSED_OVER = frozenset(
    {
        "001",
        "003",
        "005",
        "008",
        "010",
        "024",
        "035",
        "040",
        "042",
        "046",
        "100",
        "110",
        "370",
        "374",
        "400",
        "410",
        "548",
        "550",
        "678",
        "680",
        "880",
    }
)
"""Fields that are taken in, or that say nothing of the maker; the others are told of at the end."""

PLACE_OF_WORK, TIME_OF_WORK = "ortw", "datw"
"""Relation codes of German-speaking libraries: in 551 a place and in 548 a time of work, where others give birth and death."""

DELETED = frozenset("dosx")
"""Leader, position 05: deleted, obsolete, and deleted with the heading split or replaced."""

_COMPACT = re.compile(r"(\d{4})(\d\d)(\d\d)?\Z")


def marc_makers(path: Path, words: ListedWords, language: str, *, xml: bool) -> Iterator[Listed]:
    """The makers of a file of authority records, in order, and what could not be taken.

    Raises Fault where the file cannot be read or holds no record; XML with a document type is refused, so that nothing
    in it can stand for something else.
    """
    unplaced: Counter[str] = Counter()
    number = 0
    for record in _xml(path) if xml else _binary(path):
        number += 1
        where = f"record {number}"
        if isinstance(record, str):
            yield NotTaken(where, None, record, left_out=True)
        else:
            yield from _Record(where, record, words, language, unplaced).listed()
    if not number:
        raise Fault(f"{path}: holds no MARC 21 record; name a file of authority records, and RDF as .rdf")
    if unplaced:
        fields = ", ".join(f"{tag} ({count:,})" for tag, count in sorted(unplaced.items()))
        yield NotTaken("the whole file", None, f"has fields that have no place here, left out: {fields}")


def _binary(path: Path) -> Iterator[Any]:
    """Each record, or in words why it cannot be read."""
    from pymarc import MARCReader

    try:
        with path.open("rb") as file:
            reader = MARCReader(file, to_unicode=True, hide_utf8_warnings=True)
            first = True
            for record in reader:
                if record is None:
                    if first and not str(reader.current_chunk[:5], "ascii", "replace").isdigit():
                        raise Fault(f"{path}: is no file of MARC 21 records; name one, and MARC in XML as .xml")
                    yield f"cannot be read as MARC 21 ({type(reader.current_exception).__name__}): the record was left out"
                else:
                    yield record
                first = False
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a file of MARC 21 records") from None


def _xml(path: Path) -> Iterator[Any]:
    """Each record of a file of MARC in XML."""
    from xml.sax import SAXException, SAXParseException
    from xml.sax.handler import feature_namespaces

    from defusedxml import DefusedXmlException
    from defusedxml.sax import make_parser
    from pymarc.marcxml import XmlHandler

    handler = XmlHandler()  # type: ignore[no-untyped-call] # the class has no annotations
    parser = make_parser()
    parser.forbid_dtd = True
    parser.setFeature(feature_namespaces, 1)
    parser.setContentHandler(handler)
    try:
        with path.open("rb") as file:
            while block := file.read(1 << 16):
                parser.feed(block)
                yield from handler.records
                handler.records.clear()
            parser.close()
        yield from handler.records
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); name a file of MARC 21 records in XML") from None
    except DefusedXmlException:
        raise Fault(
            f"{path}: has a document type or entities, which are refused; save it without <!DOCTYPE ...>"
        ) from None
    except SAXParseException as wrong:
        raise Fault(f"{path}:{wrong.getLineNumber()}: is not XML ({wrong.getMessage()}); mend it there") from None
    except (SAXException, KeyError, ValueError) as wrong:
        raise Fault(f"{path}: is no MARC 21 in XML ({type(wrong).__name__}); save it anew as MARCXML") from None


class _Record:
    """One authority record on the way to being a maker."""

    def __init__(self, where: str, record: Any, words: ListedWords, language: str, unplaced: Counter[str]) -> None:
        self.where, self.record, self.words, self.language, self.unplaced = where, record, words, language, unplaced
        self.lost: list[NotTaken] = []
        self.id = self._id()

    def _id(self) -> str | None:
        """The control number, else the number of the Library of Congress."""
        for field in self.record.get_fields("001"):
            if number := clean(field.data or ""):
                return number
        return next((clean(text) for field in self.record.get_fields("010") for text in field.get_subfields("a")), None)

    def left_out(self, why: str) -> list[Listed]:
        """The record as one that was not taken."""
        return [NotTaken(self.where, self.id, f"{why}: the record was left out", left_out=True)]

    def listed(self) -> list[Listed]:
        """The maker, behind what of it could not be taken."""
        leader = str(self.record.leader)
        if leader[6:7] != "z":
            return self.left_out(f"is no authority record, for its leader says type {leader[6:7]!r}")
        if leader[5:6] in DELETED:
            return self.left_out("is marked as deleted or replaced")
        heading = next((field for field in self.record.fields if field.tag.startswith("1")), None)
        if heading is None or heading.tag not in HEADINGS:
            return self.left_out(
                f"has the heading {heading.tag if heading else 'of none'}, which is no person, family or body"
            )
        if heading.get_subfields("t"):
            return self.left_out("is of a work, not of its maker")
        name = self._name(heading)
        if self.id is None or not name or len(name) > LONGEST_NAME:
            return self.left_out("has no control number" if self.id is None else "has no name that could be one")
        kind = (
            Choice("Family") if heading.tag == "100" and heading.indicators[0] == "3" else Choice(HEADINGS[heading.tag])
        )
        life = self._life(heading, kind)
        maker = ListedMaker(
            id=self.id,
            where=self.where,
            kind=kind,
            labels=(Text(name, self.language),),
            forms=tuple(self._forms(heading, name)),
            definitions=tuple(Text(said, self.language) for said in self._texts("678", "ab")[:1]),
            born=life.born,
            died=life.died,
            active=life.active,
            roles=(
                *self._found("374", "a", self.words.role, "no role that the vocabulary knows"),
                *self._found("550", "a", self.words.role, "no role that the vocabulary knows"),
            ),
            places=(
                *self._found("370", "ef", self.words.place, "no town that the vocabulary knows"),
                *self._found("551", "a", self.words.place, "no town that the vocabulary knows", PLACE_OF_WORK),
            ),
            exact_matches=tuple(self._matches()),
            notes=tuple(Text(said, self.language) for said in self._texts("680", "ia")),
        )
        self.unplaced.update({field.tag for field in self.record.fields} - PASSED_OVER)
        return [*self.lost, maker]

    def _name(self, field: Any) -> str:
        """The name in a heading or a reference, without its dates: `Verrou, Anna` with number and title behind it."""
        parts = (
            field.get_subfields("a", "b", "c")
            if field.tag.endswith("00") or field.tag == "880"
            else field.get_subfields("a", "b")
        )
        name = clean(" ".join(parts))
        name = re.sub(r"\s*[,;:/]+$", "", name)
        return re.sub(r"(?<=[^\W\d_]{4})\.$", "", name)  # a full stop behind a word, not behind an initial

    def _forms(self, heading: Any, name: str) -> Iterator[ListedForm]:
        """The references from other forms, the fuller form of the heading, and the forms in other scripts."""
        known = [name]
        found = [clean(fuller).strip("() ,") for fuller in heading.get_subfields("q")]
        surname = name.partition(",")[0]
        found = [f"{surname}, {fuller}" if "," in name else fuller for fuller in found if fuller]
        for field in self.record.get_fields("400", "410", "880"):
            if field.tag == "880" and not re.match(r"[14][01]0", " ".join(field.get_subfields("6"))):
                continue
            if field.get_subfields("t"):
                self.lost.append(
                    NotTaken(self.where, self.id, f"has in {field.tag} the title of a work, which was not taken")
                )
            else:
                found.append(self._name(field))
        for form in found:
            if form and len(form) <= LONGEST_NAME and not any(same_words(form, each) for each in known):
                known.append(form)
                yield ListedForm(Text(form, ""))

    def _life(self, heading: Any, kind: Choice) -> Life:
        """The dates in codes, else those of the heading in words."""
        said: dict[str, Edtf] = {}
        for field in self.record.get_fields("046"):
            for code, name in (("f", "born"), ("g", "died"), ("q", "born"), ("r", "died")):
                for text in field.get_subfields(code)[:1]:
                    if date := self._coded(text):
                        said.setdefault(name, date)
            ends = [self._coded(text) if text else None for text in (field.get("s", ""), field.get("t", ""))]
            if any(ends):
                said.setdefault("active", Edtf(f"{ends[0] or '..'}/{ends[1] or '..'}"))
        words = clean(" ".join(heading.get_subfields("d"))).rstrip(".,") if heading.tag == "100" else ""
        for field in self.record.get_fields("548"):
            text = clean(" ".join(field.get_subfields("a")))
            words = words or (f"active {text}" if text and TIME_OF_WORK in field.get_subfields("4") else text)
        if words and not said:
            try:
                return life_in(words, person=kind == "Person")
            except UnreadableDatesError:
                self.lost.append(NotTaken(self.where, self.id, f"has the dates {words!r}, which could not be read"))
        return Life(**said)

    def _coded(self, text: str) -> Edtf | None:
        """A date of field 046: EDTF, or ISO 8601 with or without hyphens."""
        date = clean(text)
        if compact := _COMPACT.match(date):
            date = "-".join(filter(None, compact.groups()))
        try:
            years(date)
        except ValueError:
            self.lost.append(NotTaken(self.where, self.id, f"has in 046 the date {text!r}, which could not be read"))
            return None
        return Edtf(date)

    def _texts(self, tag: str, codes: str) -> list[str]:
        return [said for field in self.record.get_fields(tag) if (said := clean(" ".join(field.get_subfields(*codes))))]

    def _found(self, tag: str, codes: str, look_up: Any, why: str, relation: str | None = None) -> Iterator[Iri]:
        for field in self.record.get_fields(tag):
            if relation is not None and relation not in field.get_subfields("4"):
                continue
            for text in field.get_subfields(*codes):
                found = look_up(clean(text))
                if found is None:
                    self.lost.append(NotTaken(self.where, self.id, f"has in {tag} {clean(text)!r}: {why}"))
                else:
                    yield found

    def _matches(self) -> Iterator[Iri]:
        """The IRIs of field 024; a bare number says nothing without the list it is of."""
        for field in self.record.get_fields("024"):
            given = [clean(text) for text in field.get_subfields("1", "0", "a")]
            iris = [text for text in given if is_iri(text)]
            if not iris and given:
                source = field.get("2", "another list")
                self.lost.append(
                    NotTaken(self.where, self.id, f"has in 024 the number {given[-1]!r} of {source}, which is no IRI")
                )
            yield from (Iri(iri) for iri in iris[:1])

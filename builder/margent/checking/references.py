"""Whether the words of the ontology exist, whether references arrive, and whether each entry stands in one place."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urldefrag

from pyoxigraph import BlankNode, Literal, NamedNode, Triple

from margent.checking.findings import Hit, Rule, filled
from margent.checking.known_words import KnownWords
from margent.checking.material import Material
from margent.checking.wording import Wording
from margent.vocabulary.namespaces import MG, TYPE, expand
from margent.vocabulary.turtle import TurtleFile

UNKNOWN_WORD = Rule(
    "Y002",
    "violation",
    "uses {word}, which does not exist",
    "{remedy}",
    "A word that no ontology defines is read by no program and understood by nobody else.",
)
BLANK_NODE = Rule(
    "Y003",
    "violation",
    "the file has a blank node: something in square brackets, or a name like _:x",
    "give the part an IRI, the entry's with # and a short name, and let the entry point to it",
    "A part without an IRI cannot be cited or compared from one version to the next.",
)
DANGLING = Rule(
    "Y004",
    "violation",
    "refers to {word}, which is not there",
    "write that entry, or correct the IRI",
    "The page would have a link that leads nowhere.",
)
IN_TWO_FILES = Rule(
    "Y005",
    "violation",
    "also stands in {word}",
    "keep one of the two",
    "Read together, the two become one entry with everything double; corrected in one file, it stays wrong in the other.",
)
NO_KIND = Rule(
    "Y006",
    "violation",
    "is of no kind that is known here",
    "write what it is: a mg:Term, a mg:Role and so on",
    "What something is decides which rules hold for it; without it, none does and nothing is checked.",
)
OUTSIDE_BASE = Rule(
    "Y009",
    "violation",
    "has an IRI outside its publication, whose base is {word}",
    "write the IRI relative to the base, or move the entry to the publication it belongs to",
    "Whoever publishes an IRI answers for it; nobody can answer for one under somebody else's base.",
)
PART_ELSEWHERE = Rule(
    "Y010",
    "violation",
    "is a part of an entry that does not stand in the same file",
    "move it next to its entry, or correct its IRI",
    "An entry and its evidence are read and changed together.",
)
TWICE_IN_A_FILE = Rule(
    "Y012",
    "violation",
    "is begun a second time in the same file",
    "bring all that is said of it together in one place",
    "Read together, the two become one entry; an editor who finds the first will miss the second.",
)
TOO_MANY = Rule(
    "Y013",
    "warning",
    "the file has {count} makers or marks",
    "split it into files of at most 500",
    "A long file is slow to open and to compare, and two editors will meet in it.",
)
RULES = (
    UNKNOWN_WORD,
    BLANK_NODE,
    DANGLING,
    IN_TWO_FILES,
    NO_KIND,
    OUTSIDE_BASE,
    PART_ELSEWHERE,
    TWICE_IN_A_FILE,
    TOO_MANY,
)

_MOST = 500
# Values that are addresses or files, not entries.
_NOT_REFERENCES = {
    expand(name) for name in ("mg:base", "mg:siteAddress", "mg:address", "mg:drawing", "dcterms:license")
}


def reference_hits(material: Material) -> list[Hit]:
    """The breaches of the rules of this module in the checked files."""
    known = KnownWords(material)
    return [
        hit
        for folder in material.checked
        for file in folder.files
        for hit in _FileCheck(file, folder.base, material, known).hits()
    ]


class _FileCheck:
    """The check of one file against all that is known."""

    def __init__(self, file: TurtleFile, base: str | None, material: Material, known: KnownWords) -> None:
        self._file = file
        self._base = base
        self._material = material
        self._known = known
        self._wording = Wording(material.bases)

    def hits(self) -> Iterator[Hit]:
        """The breaches in the file."""
        if any(
            isinstance(node, BlankNode) for triple in self._file.triples for node in (triple.subject, triple.object)
        ):
            yield _hit(BLANK_NODE, file=self._file.path)
        many = sum("/maker/" in entry or "/mark/" in entry for entry in set(self._subjects()) if "#" not in entry)
        if many > _MOST:
            yield _hit(TOO_MANY, words={"count": str(many)}, file=self._file.path)
        for triple in self._file.triples:
            if isinstance(triple.subject, NamedNode):
                yield from self._property(triple.subject.value, triple.predicate.value)
                yield from self._value(triple.subject.value, triple.predicate.value, triple.object)
        for entry in dict.fromkeys(self._subjects()):
            yield from self._entry(entry)
        for entry in self._begun_again():
            yield _hit(TWICE_IN_A_FILE, entry, file=self._file.path)

    def _subjects(self) -> Iterator[str]:
        """The subject of each triple that has a name."""
        return (triple.subject.value for triple in self._file.triples if isinstance(triple.subject, NamedNode))

    def _property(self, entry: str, predicate: str) -> Iterator[Hit]:
        """What is wrong with one property."""
        if not self._known.has(predicate) or not self._known.has_namespace(predicate):
            yield self._unknown(entry, predicate, predicate)

    def _value(self, entry: str, predicate: str, value: NamedNode | BlankNode | Literal | Triple) -> Iterator[Hit]:
        """What is wrong with what one property points to, or with the datatype of what it says."""
        if isinstance(value, Literal):
            if not self._known.has_namespace(value.datatype.value):
                yield self._unknown(entry, predicate, value.datatype.value, value)
        elif isinstance(value, NamedNode) and not self._known.has(value.value):
            yield self._unknown(entry, predicate, value.value, value)
        elif isinstance(value, NamedNode) and predicate not in _NOT_REFERENCES and self._material.lacks(value.value):
            yield _hit(DANGLING, entry, {"word": self._wording.iri(value.value)}, property=predicate, value=value)

    def _unknown(self, entry: str, predicate: str, word: str, value: NamedNode | Literal | None = None) -> Hit:
        words = {"word": self._wording.iri(word), "remedy": self._known.remedy(word)}
        return _hit(UNKNOWN_WORD, entry, words, property=predicate, value=value)

    def _entry(self, entry: str) -> Iterator[Hit]:
        """What is wrong with one subject as a whole."""
        # A class that does not exist is told as an unknown word, and is then no second fault. What is of a class of the
        # ontology is one of its named values.
        kinds = self._material.types.get(entry, set())
        if all(self._known.has(kind) and not self._known.is_kind(kind) for kind in kinds):
            yield _hit(NO_KIND, entry, property=TYPE, file=self._file.path)
        others = [other for other in self._material.places[entry] if other is not self._file]
        if others:
            yield _hit(IN_TWO_FILES, entry, {"word": shown(others[0].path)}, file=self._file.path)
        if self._base and not entry.startswith((self._base, MG)):
            yield _hit(OUTSIDE_BASE, entry, {"word": f"<{self._base}>"}, file=self._file.path)
        if self._is_away_from_its_entry(entry):
            yield _hit(PART_ELSEWHERE, entry, file=self._file.path)

    def _is_away_from_its_entry(self, iri: str) -> bool:
        """True for a part whose entry is not in this file. What hangs on the base itself is no part of an entry."""
        whole, part = urldefrag(iri)
        if not part or iri.startswith(MG) or whole in self._material.bases:
            return False
        return all(file is not self._file for file in self._material.places.get(whole, ()))

    def _begun_again(self) -> list[str]:
        """The subjects that come back after another one, or whose class is said again, in the order of the file."""
        again: dict[str, None] = {}
        seen: set[str] = set()
        kinds: set[tuple[str, str]] = set()
        previous = ""
        for triple in self._file.triples:
            if not isinstance(triple.subject, NamedNode):
                continue
            entry = triple.subject.value
            if entry != previous and entry in seen:
                again[entry] = None
            if triple.predicate.value == TYPE and isinstance(triple.object, NamedNode):
                if (entry, triple.object.value) in kinds:
                    again[entry] = None
                kinds.add((entry, triple.object.value))
            seen.add(entry)
            previous = entry
        return list(again)


def shown(path: Path) -> str:
    """The path as a finding shows it: below the working directory it is relative."""
    here = Path.cwd()
    return str(path.relative_to(here) if path.is_absolute() and path.is_relative_to(here) else path)


def _hit(
    rule: Rule,
    entry: str = "",
    words: dict[str, str] | None = None,
    *,
    property: str | None = None,  # noqa: A002 - the word of the data
    value: NamedNode | Literal | None = None,
    file: Path | None = None,
) -> Hit:
    """A breach of the rule, its wording filled with the words."""
    wrong, mend = filled(rule.wrong, **(words or {})), filled(rule.mend, **(words or {}))
    return Hit(rule.id, rule.severity, entry, wrong, mend, property, value, file)

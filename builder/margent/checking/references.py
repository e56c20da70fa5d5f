"""Rules about one file: whether the words of the ontology exist, and whether each entry and its parts stand as they should."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from pyoxigraph import BlankNode, Literal, NamedNode

from margent.checking.findings import Hit, Rule, filled
from margent.checking.known_words import KnownWords
from margent.checking.material import Material, Source
from margent.checking.statements import Statement
from margent.vocabulary.namespaces import MG, TYPE

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
    NO_KIND,
    OUTSIDE_BASE,
    PART_ELSEWHERE,
    TWICE_IN_A_FILE,
    TOO_MANY,
)

OF_FILES = frozenset((BLANK_NODE.id, TWICE_IN_A_FILE.id, TOO_MANY.id))
"""The rules of which no entry by itself can tell whether it keeps them."""

_MOST = 500


def whole_file_hits(source: Source, said: Sequence[Statement]) -> Iterator[Hit]:
    """The breaches of the rules about a file as a whole, in which that is said: `OF_FILES`."""
    many = sum("/maker/" in entry or "/mark/" in entry for entry in source.facts.subjects if "#" not in entry)
    if many > _MOST:
        yield hit_of(TOO_MANY, words={"count": str(many)}, file=source.path)
    if any(not subject or isinstance(value, BlankNode) for subject, _, value, _ in said):
        yield hit_of(BLANK_NODE, file=source.path)
    for entry in _begun_again(said):
        yield hit_of(TWICE_IN_A_FILE, entry, file=source.path)


def reference_hits(
    source: Source, said: Sequence[Statement], base: str | None, material: Material, known: KnownWords
) -> list[Hit]:
    """The breaches of the other rules of this module by what is said of some entries of a file, whose folder publishes under `base`."""
    return list(_FileCheck(source, said, base, material, known).hits())


class _FileCheck:
    """The check of one file against all that is known."""

    def __init__(
        self, source: Source, said: Sequence[Statement], base: str | None, material: Material, known: KnownWords
    ) -> None:
        self._said = said
        self._source = source
        self._base = base
        self._material = material
        self._known = known
        self._wording = material.wording

    def hits(self) -> Iterator[Hit]:
        """The breaches in the file."""
        yield from self._words()
        for entry in dict.fromkeys(subject for subject, *_ in self._said if subject):
            yield from self._entry(entry)

    def _words(self) -> Iterator[Hit]:
        """Words that do not exist: properties, values and datatypes. Each word is looked up once."""
        exists: dict[str, bool] = {}
        for subject, predicate, value, _ in self._said:
            if not subject:
                continue
            word = predicate
            if isinstance(value, NamedNode):
                word = value.value
            elif isinstance(value, Literal):
                word = value.datatype.value
            for each, spaced in ((predicate, True), (word, not isinstance(value, NamedNode))):
                known = exists.get(each)
                if known is None:
                    known = exists[each] = self._known.has(each) and (not spaced or self._known.has_namespace(each))
                if not known:
                    of_value = value if each == word and isinstance(value, NamedNode | Literal) else None
                    yield self._unknown(subject, predicate, each, of_value)

    def _unknown(self, entry: str, predicate: str, word: str, value: NamedNode | Literal | None = None) -> Hit:
        words = {"word": self._wording.iri(word), "remedy": self._known.remedy(word)}
        return hit_of(UNKNOWN_WORD, entry, words, property=predicate, value=value)

    def _entry(self, entry: str) -> Iterator[Hit]:
        """What is wrong with one subject as a whole."""
        # A class that does not exist is told as an unknown word, and is then no second fault. What is of a class of the
        # ontology is one of its named values.
        kinds = self._material.types(entry)
        if all(self._known.has(kind) and not self._known.is_kind(kind) for kind in kinds):
            yield hit_of(NO_KIND, entry, property=TYPE, file=self._source.path)
        if self._base and not entry.startswith((self._base, MG)):
            yield hit_of(OUTSIDE_BASE, entry, {"word": f"<{self._base}>"}, file=self._source.path)
        if self._is_away_from_its_entry(entry):
            yield hit_of(PART_ELSEWHERE, entry, file=self._source.path)

    def _is_away_from_its_entry(self, iri: str) -> bool:
        """True for a part whose entry is not in this file. What hangs on the base itself is no part of an entry."""
        whole, _, part = iri.partition("#")
        if not part or iri.startswith(MG) or whole in self._material.bases:
            return False
        return whole not in self._source.facts.subjects


def _begun_again(said: Sequence[Statement]) -> list[str]:
    """The subjects that come back after another one, or whose class is said again, in the order of the file."""
    again: dict[str, None] = {}
    seen: set[str] = set()
    kinds: set[tuple[str, str]] = set()
    previous = ""
    for entry, predicate, value, _ in said:
        if not entry:
            continue
        if entry != previous:
            if entry in seen:
                again[entry] = None
            seen.add(entry)
            previous = entry
        if predicate == TYPE and isinstance(value, NamedNode):
            if (entry, value.value) in kinds:
                again[entry] = None
            kinds.add((entry, value.value))
    return list(again)


def hit_of(
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

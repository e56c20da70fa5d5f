"""What a run looks at: the files that are checked, those that are only known beside them, and what all of them say."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from hashlib import blake2b
from pathlib import Path

from margent.checking.facts import USES, Facts, Uses, facts_of
from margent.checking.findings import Hit, Rule
from margent.checking.graph import classes_above
from margent.checking.kept import NOTHING, Kept
from margent.checking.limits import refuse_depth, refuse_excess
from margent.checking.statements import statements
from margent.checking.wording import Wording
from margent.faults import Fault, Faults
from margent.vocabulary.namespaces import MG
from margent.vocabulary.turtle import TurtleFault, TurtleFile, decoded, parsed, read_bytes, turtle_files

NOT_READ = Rule(
    "Y001",
    "violation",
    "{fault}",
    "{remedy}",
    "Nothing in a file that cannot be read is published, and nothing in it can be checked.",
)
# Parsed files are held while they are few; of a hundred thousand makers each is parsed again when its turn comes.
_MOST_HELD = 64 * 1000 * 1000


@dataclass(eq=False, slots=True)
class Source:
    """One file: its text, and what it says that matters to others."""

    path: Path
    data: bytes  # as they are read: without a byte order mark, lines ended by a bare newline
    digest: str
    facts: Facts = field(default_factory=Facts)
    held: TurtleFile | None = None
    kept: Kept = NOTHING

    @property
    def text(self) -> str:
        """The text of the file; raises TurtleFault when it is not UTF-8."""
        return self.held.text if self.held else decoded(self.path, self.data)

    def turtle(self) -> TurtleFile:
        """The file parsed; raises TurtleFault when it is not Turtle."""
        return self.held or parsed(self.path, self.text)

    def asked(self, wanted: frozenset[str]) -> dict[str, bytes]:
        """The lines that rules across entries ask for, of those of the wanted keys that the file has."""
        if not self.facts.asked:
            found = self.kept.asked(self.path, self.digest, wanted)
            if found is not None:
                return found
            # What was kept has been taken away meanwhile.
            file = self.turtle()
            self.facts.asked = facts_of(statements(file.triples), file.base, wanted).asked
        return {key: "\n".join(lines).encode() for key, lines in self.facts.asked.items() if key in wanted}

    def uses(self) -> Uses:
        """Everything elsewhere that the file refers to, with who does so and how."""
        found: Uses = json.loads(self.asked(frozenset({USES}))[USES])
        return found


@dataclass(frozen=True)
class Folder:
    """One folder: its files in the order of their paths, and the base that its publication.ttl names."""

    path: Path
    files: tuple[Source, ...]

    @cached_property
    def base(self) -> str | None:
        """The value of mg:base, or None where the folder has no publication.ttl at its top that names one."""
        top = (file for file in self.files if file.path == self.path / "publication.ttl")
        return next((file.facts.publication_base for file in top), None)


@dataclass(frozen=True)
class Material:
    """The folders to check, and those whose entries may be referred to."""

    checked: tuple[Folder, ...]
    beside: tuple[Folder, ...] = ()

    @cached_property
    def files(self) -> tuple[Source, ...]:
        """The files that are checked."""
        return tuple(file for folder in self.checked for file in folder.files)

    @cached_property
    def known_files(self) -> tuple[Source, ...]:
        """All files, the checked ones first."""
        return (*self.files, *(file for folder in self.beside for file in folder.files))

    @cached_property
    def _placed(self) -> tuple[dict[str, tuple[Source, ...]], set[str]]:
        """Where each subject stands, and which stand in more than one file."""
        found: dict[str, tuple[Source, ...]] = {}
        shared: set[str] = set()
        for file in self.known_files:
            # Of whole dictionaries at once: there may be a million subjects.
            again = {iri: (*found[iri], file) for iri in found.keys() & file.facts.subjects.keys()}
            found.update(dict.fromkeys(file.facts.subjects, (file,)))
            found.update(again)
            shared.update(again)
        return found, shared

    @cached_property
    def places(self) -> dict[str, tuple[Source, ...]]:
        """The IRI of each subject, in all files, with the files in which it stands."""
        return self._placed[0]

    @cached_property
    def shared(self) -> dict[str, tuple[Source, ...]]:
        """The subjects that stand in more than one file, sorted, with those files."""
        return {iri: self.places[iri] for iri in sorted(self._placed[1])}

    @cached_property
    def _checked_files(self) -> frozenset[int]:
        return frozenset(id(file) for file in self.files)

    def is_checked(self, iri: str) -> bool:
        """True for a subject of one of the checked files."""
        return any(id(file) in self._checked_files for file in self.places.get(iri, ()))

    @property
    def entries(self) -> int:
        """How many subjects of the checked files are entries, not parts of one."""
        again = sum(
            max(0, sum(id(file) in self._checked_files for file in files) - 1)
            for iri, files in self.shared.items()
            if "#" not in iri
        )
        return sum(file.facts.entries for file in self.files) - again

    def types(self, iri: str) -> list[str]:
        """The classes of the subject as written, in whatever file."""
        return [kind for file in self.places.get(iri, ()) for kind in file.facts.types(iri)]

    @cached_property
    def superclasses(self) -> tuple[tuple[str, str], ...]:
        """Each class with one right above it, as the ontology says."""
        return tuple(sorted({pair for file in self.known_files for pair in map(tuple, file.facts.above)}))  # type: ignore[misc]

    @cached_property
    def above(self) -> dict[str, frozenset[str]]:
        """Each class with itself and all those above it."""
        return classes_above(self.superclasses)

    @cached_property
    def bases(self) -> tuple[str, ...]:
        """Every base of a folder or a file."""
        said = {folder.base for folder in (*self.checked, *self.beside)} | {
            file.facts.base for file in self.known_files
        }
        return tuple(sorted(base for base in said if base))

    @cached_property
    def wording(self) -> Wording:
        """IRIs as an editor would write them here."""
        return Wording(self.bases)

    def lacks(self, iri: str) -> bool:
        """True for an IRI below one of the bases that stands nowhere. The words of our ontology are another matter."""
        return iri.startswith(self.bases) and not iri.startswith(MG) and iri not in self.places


def read(folder: Path, asked: frozenset[str], kept: Kept) -> tuple[Folder, list[Hit]]:
    """The folder with all its files that can be read, and a hit for each that cannot.

    `asked` is what rules across entries need of a file; what `kept` holds of an unchanged file is not worked out again.
    Raises Fault when there is no such folder, or no Turtle file in it.
    """
    paths = turtle_files(folder)
    if not paths:
        raise Fault(f"{folder}: no Turtle file in or below it; name the folder of a vocabulary or an authority")
    files: list[Source] = []
    hits: list[Hit] = []
    for path in paths:
        try:
            files.append(source(path, read_bytes(path, inside=folder), asked, kept))
        except Faults as faults:
            hits += [_not_read(path, fault) for fault in faults.faults]
        except Fault as fault:
            hits.append(_not_read(path, fault))
    return Folder(folder, tuple(files)), hits


def source(path: Path, data: bytes, asked: frozenset[str], kept: Kept) -> Source:
    """The file of those bytes with its facts; raises TurtleFault when it is not UTF-8 or not Turtle."""
    digest = blake2b(data, digest_size=16).hexdigest()
    facts = kept.facts(path, digest)
    if facts is not None:
        return Source(path, data, digest, facts, kept=kept)
    text = decoded(path, data)
    refuse_depth(path, text)
    file = parsed(path, text)
    said = statements(file.triples)
    refuse_excess(file, said)
    facts = facts_of(said, file.base, asked)
    kept.keep_facts(path, digest, facts)
    if kept.keeps:
        facts.asked = {}
    return Source(path, data, digest, facts, file if kept.may_hold(len(data), _MOST_HELD) else None, kept)


def units(files: Iterable[Source], shared: Mapping[str, Sequence[Source]]) -> list[list[Source]]:
    """The files in groups that share no subject: what stands in two files is looked at with all that is said of it."""
    group: dict[int, list[Source]] = {}
    wanted = list(files)
    for file in wanted:
        group[id(file)] = [file]
    for sharing in shared.values():
        for one, other in itertools.pairwise(file for file in sharing if id(file) in group):
            if group[id(one)] is not group[id(other)]:
                joined = group[id(one)] + group[id(other)]
                for file in joined:
                    group[id(file)] = joined
    return list({id(members): members for members in group.values()}.values())


def _not_read(path: Path, fault: Fault) -> Hit:
    """A hit with what the fault says, parted into what is wrong and how to mend it."""
    line = fault.line if isinstance(fault, TurtleFault) else 1
    said = fault.message if isinstance(fault, TurtleFault) else str(fault).removeprefix(f"{path}: ")
    wrong, _, mend = said.partition("; ")  # the first: a remedy may have one of its own
    return Hit(
        NOT_READ.id, NOT_READ.severity, "", wrong, mend or "mend the file, or take it away", None, None, path, line
    )

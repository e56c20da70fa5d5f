"""One run of the check: everything that is wrong in some folders, together, sorted and each fault once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from pyoxigraph import NamedNode

from margent.checking import forms, material, references
from margent.checking.findings import Finding, Hit, Rule
from margent.checking.forms import form_hits
from margent.checking.material import Folder, Material, read
from margent.checking.positions import Positions, positions
from margent.checking.queries import queries, query_hits
from margent.checking.references import reference_hits
from margent.checking.shapes import shape_hits, shape_rules
from margent.checking.wording import Wording
from margent.vocabulary.turtle import TurtleFile

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run found, and how much it looked at."""

    findings: tuple[Finding, ...]
    files: int
    entries: int

    @property
    def violations(self) -> int:
        """How many findings make the check fail."""
        return sum(finding.severity == "violation" for finding in self.findings)

    @property
    def warnings(self) -> int:
        """How many findings are only shown."""
        return len(self.findings) - self.violations


def all_rules(shapes: Path) -> list[Rule]:
    """Every rule there is, sorted by id; `shapes` is the folder of the shapes, with the queries in rules/ below."""
    own = (material.NOT_READ, *references.RULES, *forms.RULES)
    return sorted([*shape_rules(shapes), *(query.rule for query in queries(shapes / "rules")), *own])


def check(
    folders: Sequence[Path], beside: Sequence[Path], shapes: Path, progress: Progress = lambda _what: None
) -> Outcome:
    """All findings in the folders; entries of the folders `beside` may be referred to, and are not checked.

    Raises Fault when a folder is missing or holds no Turtle file. A file that cannot be read is a finding; the other
    files are checked as if it were not there, and what they refer to in vain is then not told.
    """
    progress("reading")
    checked, hits = _read(folders)
    known, _ = _read(beside)
    stuff = Material(checked, known)
    # A file that cannot be read may hold what the others refer to: telling of that too would bury the one real fault.
    unreadable = bool(hits)
    progress("comparing with the shapes")
    hits += shape_hits(stuff, shapes)
    progress("comparing entries with each other")
    hits += query_hits(stuff, shapes / "rules")
    hits += reference_hits(stuff)
    hits += form_hits(stuff)
    if unreadable:
        hits = [hit for hit in hits if not (isinstance(hit.value, NamedNode) and stuff.lacks(hit.value.value))]
    progress("looking up the lines")
    findings = located(once(hits), stuff)
    entries = sum("#" not in iri for iri in stuff.subjects)
    return Outcome(tuple(findings), len(stuff.files) + len({hit.file for hit in hits if hit.rule == "Y001"}), entries)


def _read(folders: Iterable[Path]) -> tuple[tuple[Folder, ...], list[Hit]]:
    """Each folder once, and the files that cannot be read."""
    found: list[Folder] = []
    hits: list[Hit] = []
    for path in {folder.resolve(): folder for folder in folders}.values():
        folder, unread = read(path)
        found.append(folder)
        hits += unread
    return tuple(found), hits


def once(hits: Iterable[Hit]) -> list[Hit]:
    """The hits without those that tell again, in more general words, what another one tells."""
    hits = list(dict.fromkeys(hits))
    shapes = [hit for hit in hits if hit.rule[0] not in "XY" and not hit.closes and hit.value is not None]
    told = {_value(hit) for hit in shapes}
    failing = {_value(hit) for hit in shapes if hit.severity == "violation"}
    unknown = {
        (hit.entry, hit.property) for hit in hits if hit.rule == references.UNKNOWN_WORD.id and hit.value is None
    }
    general = {references.UNKNOWN_WORD.id, references.DANGLING.id, forms.DATE.id}
    return [
        hit
        for hit in hits
        if not (hit.rule in general and _value(hit) in told)
        and not (hit.severity == "warning" and _value(hit) in failing)
        and not (hit.closes and (hit.entry, hit.property) in unknown)
    ]


def _value(hit: Hit) -> tuple[object, ...]:
    """What the hit is about, where it is about one value of one property."""
    return hit.entry, hit.property, hit.value


def located(hits: Iterable[Hit], stuff: Material) -> list[Finding]:
    """The hits as findings, sorted; a file is scanned for lines only when something is wrong in it."""
    wording = Wording(stuff.bases)
    scanned: dict[int, Positions] = {}

    def scan(file: TurtleFile) -> Positions:
        if id(file) not in scanned:
            scanned[id(file)] = positions(file.text)
        return scanned[id(file)]

    found: set[Finding] = set()
    for hit in hits:
        path, line = _place(hit, stuff, scan)
        name = wording.entry(hit.entry) if hit.entry else ""
        found.add(Finding(references.shown(path), line, hit.rule, name, hit.wrong, hit.mend, hit.severity))
    return sorted(found)


def _place(hit: Hit, stuff: Material, scan: Callable[[TurtleFile], Positions]) -> tuple[Path, int]:
    """The file and line of one hit."""
    if hit.file is not None and hit.line is not None:
        return hit.file, hit.line
    files = [file for file in stuff.places.get(hit.entry, stuff.files) if file in stuff.files]
    if hit.file is not None:
        files = [file for file in stuff.files if file.path == hit.file]
    if hit.rule == references.BLANK_NODE.id:
        return files[0].path, scan(files[0]).blank or 1
    if hit.rule == references.TWICE_IN_A_FILE.id:
        again = [line for entry, line in scan(files[0]).repeated if entry == hit.entry]
        return files[0].path, again[0] if again else 1
    for file in files:  # an entry in two files: the one where the value stands, if any
        if hit.property is not None and (hit.entry, hit.property) in scan(file).properties:
            return file.path, scan(file).line(hit.entry, hit.property, hit.value) or 1
    return files[0].path, (scan(files[0]).line(hit.entry) or 1) if hit.entry else 1

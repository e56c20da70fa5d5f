"""One run of the check: everything that is wrong in some folders, together, sorted and each fault once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from hashlib import blake2b
from pathlib import Path

from pyoxigraph import NamedNode

from margent import __version__
from margent.checking import duplicates, forms, links, material, references
from margent.checking.across import query_hits
from margent.checking.findings import Finding, Hit, Rule
from margent.checking.kept import NOTHING, Kept
from margent.checking.links import link_hits
from margent.checking.local import Local
from margent.checking.material import Folder, Material, Source, read, units
from margent.checking.nearest import with_the_nearest
from margent.checking.on_cores import made
from margent.checking.positions import Positions, positions
from margent.checking.queries import asked_keys, queries
from margent.checking.shapes import Shapes, shapes_of
from margent.checking.wording import shown
from margent.vocabulary.visible import visible

_LOOSE_PART = "X024"
# What one core has checked before another is started.
_MUCH = 2_000_000

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run found, and how much it looked at."""

    findings: tuple[Finding, ...]
    paths: tuple[str, ...]  # of the files looked at, as findings name them
    entries: int

    @property
    def files(self) -> int:
        """How many files it looked at."""
        return len(self.paths)

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
    own = (material.NOT_READ, *references.RULES, *forms.RULES, *links.RULES, duplicates.RULE)
    return sorted([*shapes_of(shapes).rules, *(query.rule for query in queries(shapes / "rules")), *own])


def kept_in(cache_folder: Path | None, shapes: Path) -> Kept:
    """What earlier runs with the same rules have kept in the folder `check` of that one; nothing without a folder."""
    return Kept(cache_folder / "check", _code(shapes)) if cache_folder is not None else NOTHING


def check(
    folders: Sequence[Path],
    beside: Sequence[Path],
    shapes: Path,
    progress: Progress = lambda _what: None,
    kept: Kept = NOTHING,
) -> Outcome:
    """All findings in the folders; entries of the folders `beside` may be referred to, and are not checked.

    What `kept` holds of unchanged files is not worked out again. Raises Fault when a folder is missing or holds no Turtle
    file. A file that cannot be read is a finding; the other files are checked as if it were not there, and what they refer
    to in vain is then not told.
    """
    hits, stuff = gathered(folders, beside, shapes, kept, progress)
    progress("looking up the lines")
    findings = located(hits, stuff)
    kept.clear_out()
    unread = {hit.file for hit in hits if hit.rule == material.NOT_READ.id and hit.file}
    paths = {file.path for file in stuff.files} | unread
    return Outcome(tuple(findings), tuple(sorted(map(shown, paths))), stuff.entries)


def gathered(
    folders: Sequence[Path],
    beside: Sequence[Path],
    shapes: Path,
    kept: Kept,
    progress: Progress = lambda _what: None,
) -> tuple[list[Hit], Material]:
    """Everything that is wrong, each fault once, and what was looked at."""
    progress("reading")
    asked = asked_keys(shapes / "rules")
    checked, hits = _read(folders, asked, kept)
    known, _ = _read(beside, asked, kept)
    stuff = Material(checked, known)
    # A file that cannot be read may hold what the others refer to: telling of that too would bury the one real fault.
    unreadable = bool(hits)
    progress("checking file by file")
    hits += _local_hits(stuff, shapes_of(shapes), shapes / "rules", kept)
    progress("comparing entries with each other")
    hits += query_hits(stuff, shapes / "rules", kept)
    hits += link_hits(stuff)
    if unreadable:
        hits = [hit for hit in hits if not (isinstance(hit.value, NamedNode) and stuff.lacks(hit.value.value))]
    return with_the_nearest(once(hits), stuff), stuff


@cache
def _code(shapes: Path) -> str:
    """The digest of what decides beside the data: the rules, and the program's own files."""
    digest = blake2b(__version__.encode(), digest_size=16)
    own = Path(__file__).parent
    for path in sorted(
        [*own.glob("*.py"), own.parent / "vocabulary" / "edtf.py", *shapes.rglob("*.ttl"), *shapes.rglob("*.rq")]
    ):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def _read(folders: Iterable[Path], asked: frozenset[str], kept: Kept) -> tuple[tuple[Folder, ...], list[Hit]]:
    """Each folder once, and the files that cannot be read."""
    found: list[Folder] = []
    hits: list[Hit] = []
    for path in {folder.resolve(): folder for folder in folders}.values():
        folder, unread = read(path, asked, kept)
        found.append(folder)
        hits += unread
    return tuple(found), hits


def _local_hits(stuff: Material, shapes: Shapes, rules: Path, kept: Kept) -> list[Hit]:
    """What is wrong within the files, each with its line."""
    local = Local(stuff, shapes, rules, kept.keeps)
    found: list[Hit] = []
    open_units: list[tuple[list[Source], str, str]] = []
    for unit in units(stuff.files, stuff.shared):
        name = "\0".join(str(file.path.resolve()) for file in unit)
        digest = local.digest_of(unit)
        hits = kept.hits("file", name, digest)
        if hits is None:
            open_units.append((unit, name, digest))
        else:
            found += hits

    def work(each: tuple[list[Source], str, str]) -> list[Hit]:
        unit, name, digest = each
        around = local.digest_around(unit)
        hits, entries = local.hits(unit, kept.entries(name, around))
        hits = _with_lines(hits, stuff)
        kept.keep_hits("file", name, digest, hits)
        if entries is not None:
            kept.keep_entries(name, around, entries, hits)
        for file in unit:  # of files by the hundred, each has its turn
            file.held = None
        return hits

    much = sum(len(file.data) for unit, _, _ in open_units for file in unit) > _MUCH
    for hits in made(work, open_units, much):
        found += hits
    return found


def once(hits: Iterable[Hit]) -> list[Hit]:
    """The hits without those that tell again, in more general words, what another one tells."""
    hits = list(dict.fromkeys(hits))
    shapes = [hit for hit in hits if hit.rule[0] not in "XY" and not hit.closes and hit.value is not None]
    told = {_value(hit) for hit in shapes}
    failing = {_value(hit) for hit in shapes if hit.severity == "violation"}
    unknown = {
        (hit.entry, hit.property) for hit in hits if hit.rule == references.UNKNOWN_WORD.id and hit.value is None
    }
    away = {hit.entry for hit in hits if hit.rule == references.PART_ELSEWHERE.id}
    twice = {hit.entry for hit in hits if hit.rule == links.IN_TWO_FILES.id}
    general = {references.UNKNOWN_WORD.id, links.DANGLING.id, forms.DATE.id}
    return [
        hit
        for hit in hits
        if not (hit.rule in general and _value(hit) in told)
        and not (hit.severity == "warning" and _value(hit) in failing)
        and not (hit.closes and (hit.entry, hit.property) in unknown)
        and not (hit.many and hit.entry in twice)  # what is said in two files is said double
        # its entry is in another file, and may well mention it; or it has another IRI now, by which the parts were left behind
        and not (hit.rule in {_LOOSE_PART, links.PART_OF_TWO.id} and hit.entry in away)
    ]


def _value(hit: Hit) -> tuple[object, ...]:
    """What the hit is about, where it is about one value of one property."""
    return hit.entry, hit.property, hit.value


def located(hits: Iterable[Hit], stuff: Material) -> list[Finding]:
    """The hits as findings, sorted."""
    found: set[Finding] = set()
    for hit in _with_lines(hits, stuff):
        name = visible(stuff.wording.entry(hit.entry)) if hit.entry else ""
        assert hit.file is not None
        assert hit.line is not None
        where, wrong, mend = map(visible, (shown(hit.file), hit.wrong, hit.mend))
        found.add(Finding(where, hit.line, hit.rule, name, wrong, mend, hit.severity))
    return sorted(found)


def _with_lines(hits: Iterable[Hit], stuff: Material) -> list[Hit]:
    """The hits, each with its file and line; a file is scanned only when something is wrong in it."""
    hits = list(hits)
    wanted: dict[int, set[str]] = {}
    for hit in hits:
        if hit.line is None:
            for file in _files(hit, stuff):
                # what is begun twice may be spelt in two ways: the whole file must be looked through
                twice = hit.rule == references.TWICE_IN_A_FILE.id
                wanted.setdefault(id(file), set()).add("" if twice else hit.entry)
    scanned: dict[int, Positions] = {}

    def scan(file: Source) -> Positions:
        if id(file) not in scanned:
            only = wanted[id(file)]
            scanned[id(file)] = positions(file.text, None if "" in only else only)
        return scanned[id(file)]

    placed: list[Hit] = []
    for hit in hits:
        if hit.file is None or hit.line is None:
            path, line = _place(hit, _files(hit, stuff), scan)
            placed.append(hit._replace(file=path, line=line))
        else:
            placed.append(hit)
    return placed


def _files(hit: Hit, stuff: Material) -> list[Source]:
    """The checked files in which the hit may stand."""
    if hit.file is not None:
        return [file for file in stuff.files if file.path == hit.file]
    checked = {id(file) for file in stuff.files}
    return [file for file in stuff.places.get(hit.entry, stuff.files) if id(file) in checked]


def _place(hit: Hit, files: list[Source], scan: Callable[[Source], Positions]) -> tuple[Path, int]:
    """The file and line of one hit."""
    if hit.rule == references.BLANK_NODE.id:
        return files[0].path, scan(files[0]).blank or 1
    if hit.rule == references.TWICE_IN_A_FILE.id:
        again = [line for entry, line in scan(files[0]).repeated if entry == hit.entry]
        return files[0].path, again[0] if again else 1
    for file in files:  # an entry in two files: the one where the value stands, if any
        if hit.property is not None and (hit.entry, hit.property) in scan(file).properties:
            return file.path, scan(file).line(hit.entry, hit.property, hit.value) or 1
    return files[0].path, (scan(files[0]).line(hit.entry) or 1) if hit.entry else 1

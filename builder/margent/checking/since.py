"""What a change touches: the findings that are new since a revision, and all those of entries that it touches.

An entry is touched when any of its triples, or of those of its parts, is another one than at the revision. A finding of an
entry that was left alone belongs to the change all the same when it was not there before: a label that clashes with a new
one, a reference to what has been taken away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from margent.checking.check import Outcome
from margent.checking.findings import Finding
from margent.faults import Fault
from margent.vocabulary.revisions import at_revision
from margent.vocabulary.turtle import parsed, read_text, turtle_files

Check = Callable[[Sequence[Path]], Outcome]


def touched_since(outcome: Outcome, folders: Sequence[Path], revision: str, check: Check) -> Outcome:
    """The outcome with only those findings that the change since the revision touches or brings.

    `check` runs the check over other folders with the same things beside. Raises Fault where the folders are not in a
    repository, or have no such revision.
    """
    with at_revision(folders, revision) as before:
        there = [folder for folder in before if turtle_files(folder)]
        known = {_told(finding, folders, before) for finding in check(there).findings} if there else set()
        touched: set[str] = set()
        for now, then in zip(folders, before, strict=True):
            touched |= _touched(then, now)
    kept = tuple(
        finding
        for finding in outcome.findings
        if finding.entry.partition("#")[0] in touched or _told(finding, folders, folders) not in known
    )
    return replace(outcome, findings=kept)


def _told(finding: Finding, folders: Sequence[Path], before: Sequence[Path]) -> tuple[str, str, str]:
    """What a finding says, without its place: the lines of a file move when something is written above."""
    wrong = finding.wrong
    for now, then in zip(folders, before, strict=True):
        wrong = wrong.replace(str(then), str(now))
    return finding.rule, finding.entry, wrong


def _touched(then: Path, now: Path) -> set[str]:
    """The names of the entries, as findings have them, of which something is another in the two folders."""
    old, new = _said(then), _said(now)
    return {entry.rsplit("/", 1)[-1] for entry in old.keys() | new.keys() if old.get(entry) != new.get(entry)}


def _said(folder: Path) -> dict[str, frozenset[str]]:
    """What is said of each entry of the folder and of its parts; a file that cannot be read says nothing."""
    found: dict[str, set[str]] = {}
    for path in turtle_files(folder):
        try:
            file = parsed(path, read_text(path, inside=folder))
        except Fault:
            continue
        for triple in file.triples:
            found.setdefault(str(triple.subject).strip("<>").partition("#")[0], set()).add(str(triple))
    return {entry: frozenset(lines) for entry, lines in found.items()}

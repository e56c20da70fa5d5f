"""What would be wrong if files were written: the check of a folder as it would be, before anything in it is touched."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from margent.checking.check import check
from margent.checking.findings import Finding
from margent.checking.wording import shown
from margent.vocabulary.authority_files import PUBLICATION
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.turtle import read_text, turtle_files


def would_be_wrong(folder: Path, texts: Mapping[Path, str], beside: Sequence[Path], shapes: Path) -> list[Finding]:
    """The violations that the folder would have with these texts and has not without them, each at its place in the folder."""
    there = turtle_files(folder) if folder.is_dir() else []
    with tempfile.TemporaryDirectory(prefix="margent-") as name:
        # Only what would be written is checked, and the publication, which says what it is checked under; the other files are
        # known beside it, as another authority would be.
        copy, rest = Path(name) / "checked", Path(name) / "beside"
        new = {path: text for path, text in texts.items() if path.suffix == ".ttl"}
        publication = folder / PUBLICATION
        if publication not in new and publication in there:
            new[publication] = read_text(publication, folder)
        put_in_place({copy / path.relative_to(folder): text for path, text in new.items()})
        others = {rest / path.relative_to(folder): read_text(path, folder) for path in there if path not in new}
        put_in_place(others)
        found = [
            replace(finding, file=_home(finding.file, copy, folder))
            for finding in check([copy], [*([rest] if others else []), *beside], shapes).findings
            if finding.severity == "violation"
        ]
    if not found:
        return []
    before = {_what(finding) for finding in check([folder], beside, shapes).findings} if there else set()
    return [finding for finding in found if _what(finding) not in before]


def _home(file: str, copy: Path, folder: Path) -> str:
    """The place in the folder of a file of the copy."""
    for root in (str(copy), str(copy.resolve()), shown(copy)):
        if file.startswith(root):
            return shown(folder) + file[len(root) :]
    return file


def _what(finding: Finding) -> tuple[str, str, str]:
    return finding.rule, finding.entry, finding.wrong

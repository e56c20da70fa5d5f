"""Folders as they were at a git revision, in a folder that is gone afterwards."""

from __future__ import annotations

import io
import subprocess
import tarfile
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from margent.faults import Fault


@contextmanager
def at_revision(folders: Sequence[Path], revision: str) -> Iterator[list[Path]]:
    """The Turtle files of the folders as they were at the revision; a folder that was not there yet is empty.

    Raises Fault where a folder is in no repository, or its repository has no such revision.
    """
    with tempfile.TemporaryDirectory(prefix="margent-") as away:
        found: list[Path] = []
        for number, folder in enumerate(folders):
            target = Path(away) / str(number) / (folder.resolve().name or "root")
            target.mkdir(parents=True)
            _extract(folder, revision, target)
            found.append(target)
        yield found


def _extract(folder: Path, revision: str, target: Path) -> None:
    """Nothing comes back: the Turtle files of the folder, as they were, are written below the target."""
    top = Path(_git(folder, "rev-parse", "--show-toplevel").decode().rstrip("\n"))
    commit = _git(folder, "rev-parse", "--verify", "--end-of-options", f"{revision}^{{commit}}").decode().strip()
    inside = folder.resolve().relative_to(top.resolve()).as_posix()
    if inside != "." and not _git(top, "ls-tree", commit, "--", inside):
        return
    tree = f"{commit}:{'' if inside == '.' else inside}"
    with tarfile.open(fileobj=io.BytesIO(_git(top, "archive", "--format=tar", tree))) as archive:
        wanted = [each for each in archive if each.isdir() or (each.isfile() and each.name.endswith(".ttl"))]
        archive.extractall(target, wanted, filter="data")


def _git(where: Path, *args: str) -> bytes:
    """What git says; raises Fault with its own words where it refuses."""
    try:
        done = subprocess.run(["git", "-C", str(where), *args], capture_output=True, check=False)  # noqa: S603, S607
    except FileNotFoundError:
        raise Fault("git is not installed; without it there are no revisions to compare with") from None
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().splitlines()[-1:] or ["git refused"]
        raise Fault(
            f"{where}: {said[0].removeprefix('fatal: ')}; name a revision of the repository that the folder is in"
        )
    return done.stdout

"""A site that is built beside its place and then put there: whole where all of it is new, else only the files that differ.

A run that is interrupted leaves the former site as it was, or the next run puts in the rest: nothing is put in place before
everything is written, and each file is put there whole, by being renamed.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path

from margent.faults import Fault

MARKER = "margent-site.txt"
"""The file by which a folder is known to have been published by us, and so may be replaced; no file is put in place before it."""


class Built:
    """A site that is being built: `new` is the folder for what is written, and of the former site some files may stand."""

    def __init__(self, new: Path, target: Path) -> None:
        self.new = new
        self.target = target
        self.standing: set[str] = set()

    @cached_property
    def former(self) -> set[str]:
        """The paths of the former site's files; none where somebody put a link there, which leads who knows where."""
        found: set[str] = set()
        return set() if self.target.is_dir() and _found(str(self.target), "", found) else found

    def stands(self, *paths: str) -> bool:
        """Whether the former site has all these files; then they are part of this one as they are."""
        if not all(path in self.former for path in paths):
            return False
        self.standing.update(paths)
        return True

    def where(self, path: str) -> Path:
        """Where a file of the site that is being built lies now."""
        new = self.new / path
        return self.target / path if path in self.standing and not new.is_file() else new

    def paths(self) -> list[str]:
        """The paths of all files that the site has so far, sorted."""
        found = set(self.standing)
        _found(str(self.new), "", found)
        return sorted(found)


@contextmanager
def built_beside(target: Path) -> Iterator[Built]:
    """A site to be built for the folder `target`; when the block ends well it is put there, and when not all stays as it was.

    Raises Fault where the target is something that we did not publish, or where somebody is publishing there just now.
    """
    target = _absolute(target)
    changed = "nothing was changed in {target}, free some room or name another folder with --to"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with _alone(target):
            beside = {name: target.with_name(f".{target.name}.{name}") for name in ("new", "old", "put")}
            _tidy_up(target, beside["new"], beside["old"])
            _refuse_foreign(target)
            if (beside["put"] / GONE).is_file() and (target / MARKER).is_file():
                _put(beside["put"], target)
            shutil.rmtree(beside["put"], ignore_errors=True)
            built = Built(beside["new"] / SITE, target)
            built.new.mkdir(parents=True)
            try:
                yield built
                if not built.standing:
                    _swap(built.new, target, beside["old"])
                elif _listed(built):
                    beside["new"].rename(beside["put"])
                    changed = "a part of the new site is in {target}, and the next run puts in the rest"
                    _put(beside["put"], target)
            finally:
                shutil.rmtree(beside["new"], ignore_errors=True)
    except OSError as refused:
        if refused.errno is None:  # not from the system: a missing template calls itself one too
            raise
        where = refused.filename or target
        said = changed.format(target=target)
        raise Fault(f"{where}: cannot be written ({refused.strerror}); {said}") from None


SITE, GONE = "site", "gone"
"""Beside the target: the folder of what is written, and the list of the former site's files that are to go."""


def _found(folder: str, prefix: str, found: set[str]) -> bool:
    """Whether there is a link in or below the folder; the paths of its files, from `prefix` on, are added to `found`."""
    linked = False
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_symlink():
                linked = True
            elif entry.is_dir():
                linked |= _found(entry.path, f"{prefix}{entry.name}/", found)
            else:
                found.add(prefix + entry.name)
    return linked


def _listed(built: Built) -> bool:
    """Whether anything is to be put in place; what would be the same is not, and what is to go is listed."""
    wanted: set[str] = set()
    _found(str(built.new), "", wanted)
    for path in sorted(wanted & built.former):
        if path != MARKER and (built.new / path).read_bytes() == (built.target / path).read_bytes():
            (built.new / path).unlink()
            built.standing.add(path)
            wanted.discard(path)
    gone = built.former - built.standing - wanted
    (built.new.parent / GONE).write_text("".join(f"{path}\n" for path in sorted(gone)), encoding="utf-8")
    return bool(gone or wanted - {MARKER})


def _put(put: Path, target: Path) -> None:
    """Nothing comes back: all that lies in `put` is in its place, the marker first, so that it tells of every beginning."""
    paths: set[str] = set()
    _found(str(put / SITE), "", paths)
    for path in sorted(paths, key=lambda path: (path != MARKER, path)):
        (target / path).parent.mkdir(parents=True, exist_ok=True)
        (put / SITE / path).replace(target / path)
    for path in (put / GONE).read_text(encoding="utf-8").splitlines():
        (target / path).unlink(missing_ok=True)
        folder = (target / path).parent
        while folder != target and folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
            folder = folder.parent
    (put / GONE).unlink()
    shutil.rmtree(put)


def _absolute(target: Path) -> Path:
    """The path without the things that cannot be replaced: a link, or the top of the file system."""
    if target.is_symlink():
        raise Fault(f"{target}: a link; name the folder itself, for it is replaced whole")
    target = target.absolute()
    if not target.name or ".." in target.parts:
        target = target.resolve()
    if not target.name:
        raise Fault(f"{target}: not a folder to publish to; name a new one")
    return target


def _refuse_foreign(target: Path) -> None:
    """Nothing comes back; raises Fault where the target exists, is not empty, and was not published by us."""
    if not target.exists():
        return
    if not target.is_dir():
        raise Fault(f"{target}: a file, not a folder; name another folder with --to")
    if any(target.iterdir()) and not (target / MARKER).is_file():
        raise Fault(
            f"{target}: holds something that margent did not publish (there is no {MARKER}), and publishing replaces the whole folder; name another folder with --to, or move this one away"
        )


def _tidy_up(target: Path, new: Path, old: Path) -> None:
    """What an interrupted run left behind is removed, and the former site is put back where only it is left."""
    shutil.rmtree(new, ignore_errors=True)
    if old.is_dir():
        if target.exists():
            shutil.rmtree(old)
        else:
            old.rename(target)


def _swap(new: Path, target: Path, old: Path) -> None:
    """The new folder is in the place of the target; the old one is kept until then."""
    if not target.exists():
        new.rename(target)
        return
    target.rename(old)
    try:
        new.rename(target)
    except OSError:
        old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


@contextmanager
def _alone(target: Path) -> Iterator[None]:
    """Holds the lock of the target; raises Fault where another run holds it. The system lets go of it if we die."""
    path = target.with_name(f".{target.name}.lock")
    handle = os.open(path, os.O_CREAT | os.O_RDWR, 0o644)
    try:
        # The file may have been removed by the run that held it, between our opening and our locking it.
        if not _locked(handle) or not path.exists() or not os.path.samestat(os.fstat(handle), path.stat()):
            raise Fault(f"{target}: is being published to by another run; wait until that has ended")
        try:
            yield
        finally:
            path.unlink(missing_ok=True)
    finally:
        os.close(handle)


def _locked(handle: int) -> bool:
    """Whether the lock is ours now."""
    try:
        import fcntl
    except ImportError:  # Windows
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        except OSError:
            return False
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True

"""A folder that is built beside its place and then put there whole, so that nobody ever sees half a site."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from margent.faults import Fault

MARKER = "margent-site.txt"
"""The file by which a folder is known to have been published by us, and so may be replaced."""


@contextmanager
def built_beside(target: Path) -> Iterator[Path]:
    """An empty folder beside `target`; when the block ends well it takes the target's place, and when not it is gone.

    Raises Fault where the target is something that we did not publish, or where somebody is publishing there just now.
    """
    target = _absolute(target)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with _alone(target):
            new, old = target.with_name(f".{target.name}.new"), target.with_name(f".{target.name}.old")
            _tidy_up(target, new, old)
            _refuse_foreign(target)
            new.mkdir()
            try:
                yield new
                _swap(new, target, old)
            finally:
                shutil.rmtree(new, ignore_errors=True)
    except OSError as refused:
        if refused.errno is None:  # not from the system: a missing template calls itself one too
            raise
        where = refused.filename or target
        raise Fault(
            f"{where}: cannot be written ({refused.strerror}); nothing was changed in {target}, free some room or name another folder with --to"
        ) from None


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

"""Files put in their places together: each whole, and none before all are written."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from margent.faults import Fault


def put_in_place(texts: Mapping[Path, str]) -> None:
    """Nothing comes back: each file holds its text, or what it held before, should the machine stop halfway.

    Folders that are missing are made. All texts are written beside their places first, so that a full disk costs nothing.
    Raises Fault where a file cannot be written.
    """
    beside: dict[Path, Path] = {}
    try:
        for path, text in texts.items():
            target = path.resolve()  # a link stays a link
            target.parent.mkdir(parents=True, exist_ok=True)
            new = target.with_name(f".{target.name}.{os.getpid()}.tmp")
            beside[target] = new
            with new.open("w", encoding="utf-8", newline="\n") as file:
                file.write(text)
            if target.exists():
                new.chmod(target.stat().st_mode & 0o7777)
        for target, new in beside.items():
            new.replace(target)
    except OSError as refused:
        raise Fault(f"{refused.filename or 'the files'}: cannot be written ({refused.strerror})") from None
    finally:
        for new in beside.values():
            new.unlink(missing_ok=True)

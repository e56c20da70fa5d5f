"""The compiled reader, from its cache file where the vocabulary has not changed since."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from pathlib import Path
from typing import Any

from margent import __version__
from margent.vocabulary.turtle import turtle_files

CACHE_VARIABLE = "MARGENT_CACHE"


def cache_folder() -> Path:
    """Where compiled readers are kept: MARGENT_CACHE, else the user's cache folder."""
    said = os.environ.get(CACHE_VARIABLE)
    if said:
        return Path(said)
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "margent"


def fingerprint(vocab: Path) -> str:
    """A digest of names, sizes and times of the vocabulary's files and of the code that compiles them."""
    digest = hashlib.sha256(__version__.encode())
    package = Path(__file__).parent.parent
    code = [
        *sorted((package / "lettering").glob("*.py")),
        *sorted((package / "publishing").glob("*reader*.py")),
        package / "publishing" / "grammar_tables.py",
    ]
    for path in [*turtle_files(vocab), *code]:
        about = path.stat()
        digest.update(f"{path}\0{about.st_size}\0{about.st_mtime_ns}\n".encode())
    return digest.hexdigest()[:24]


def compiled_reader(vocab: Path) -> dict[str, Any]:
    """The compiled reader of the vocabulary in that folder; compiling takes about two seconds, the cache a tenth of one.

    A cache file that cannot be read or written is passed over: it only saves time.
    """
    path = cache_folder() / f"reader-{fingerprint(vocab)}.json"
    try:
        cached: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        pass
    else:
        return cached
    from margent.publishing.reader_file import as_json, compile_reader
    from margent.vocabulary.load import load

    text = as_json(compile_reader(load(vocab)))
    _keep(path, text)
    compiled: dict[str, Any] = json.loads(text)
    return compiled


def _keep(path: Path, text: str) -> None:
    """Writes the cache file whole, and removes those of older vocabularies beyond the newest eight."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".reader-")
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        Path(name).replace(path)
        kept = sorted(path.parent.glob("reader-*.json"), key=lambda each: each.stat().st_mtime_ns)
        for old in kept[:-8]:
            old.unlink(missing_ok=True)
    except OSError:
        return

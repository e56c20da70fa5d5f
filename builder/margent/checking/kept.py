"""What is kept of a check for the next one, in the user's cache folder: facts of files, findings of files, answers of rules.

A record holds the digest of everything it follows from; one that does not fit is worked out again, and one that cannot be
read or written is passed over: it only saves time. `NOTHING` keeps nothing.
"""

from __future__ import annotations

import json
import os
import tempfile
import time
from collections.abc import Container, Iterable
from hashlib import blake2b
from pathlib import Path
from typing import Any

from pyoxigraph import Literal, NamedNode

from margent.checking.facts import Facts, facts_from_json
from margent.checking.findings import Hit

_DAYS = 60

Pair = tuple[int, int, Hit]
"""What was found of two, and the numbers of the files in which the two stand."""


class Kept:
    """The records of earlier runs in a folder, or none."""

    def __init__(self, folder: Path | None, code: str) -> None:
        """`code` is the digest of the rules and of the program: with another one, nothing that was kept holds."""
        self._folder = folder
        self._code = code
        self._held = 0

    @property
    def keeps(self) -> bool:
        """True when something is kept for the next run."""
        return self._folder is not None

    def may_hold(self, size: int, most: int) -> bool:
        """True while the parsed files of a run are not too many to be held."""
        self._held += size
        return self._held < most

    def facts(self, path: Path, digest: str) -> Facts | None:
        """The facts of a file as they were kept, without the triples that rules ask for."""
        record = self._record("facts", str(path.resolve()), digest)
        return facts_from_json(record) if record is not None else None

    def keep_facts(self, path: Path, digest: str, facts: Facts) -> None:
        """Nothing comes back: the facts, and apart from them the triples that rules ask for, are kept."""
        if self._folder is not None:
            name = str(path.resolve())
            self._keep("facts", name, digest, facts.as_json())
            lines = {key: "\n".join(lines).encode() for key, lines in facts.asked.items()}
            sizes = {key: len(data) for key, data in lines.items()}
            self._write(self._path("triples", name), [self._of(digest, sizes), *lines.values()])

    def asked(self, path: Path, digest: str, wanted: Container[str]) -> dict[str, bytes] | None:
        """The lines of a file that rules ask for, by key; only what is wanted is read from the disk."""
        if self._folder is None:
            return None
        try:
            with self._path("triples", str(path.resolve())).open("rb") as file:
                record = json.loads(file.readline())
                if record["of"] != [self._code, digest]:
                    return None
                found: dict[str, bytes] = {}
                for key, size in record["is"].items():
                    if key in wanted:
                        found[key] = file.read(size)
                        if len(found[key]) < size:
                            return None
                    else:
                        file.seek(size, os.SEEK_CUR)
                return found
        except (OSError, ValueError, KeyError, TypeError, AttributeError):
            return None

    def hits(self, what: str, name: str, digest: str) -> list[Hit] | None:
        """What was found in the file, or by the rule, of that name."""
        record = self._record(what, name, digest)
        return [_hit(each) for each in record] if record is not None else None

    def keep_hits(self, what: str, name: str, digest: str, hits: list[Hit]) -> None:
        """Nothing comes back: what was found is kept."""
        if self._folder is not None:
            self._keep(what, name, digest, [_packed(hit) for hit in hits])

    def entries(self, name: str, digest: str) -> tuple[dict[str, str], list[Hit]] | None:
        """The digests that the entries of a file had, and what was found in it; `digest` is of what all entries follow from."""
        record = self._record("entries", name, digest)
        return (record[0], [_hit(each) for each in record[1]]) if record is not None else None

    def keep_entries(self, name: str, digest: str, entries: dict[str, str], hits: list[Hit]) -> None:
        """Nothing comes back: the digests of the entries of a file are kept, with what was found in it."""
        if self._folder is not None:
            self._keep("entries", name, digest, [entries, [_packed(hit) for hit in hits]])

    def pairs(self, name: str, digest: str) -> tuple[list[str], list[Pair]] | None:
        """The pairs that were found, each with the numbers of two files, and the digests that those files had."""
        record = self._record("pairs", name, digest)
        if record is None:
            return None
        return record[0], [(one, other, _hit(packed)) for one, other, packed in record[1]]

    def keep_pairs(self, name: str, digest: str, files: list[str], pairs: list[Pair]) -> None:
        """Nothing comes back: the pairs are kept, with the digests of the files."""
        if self._folder is not None:
            self._keep("pairs", name, digest, [files, [(one, other, _packed(hit)) for one, other, hit in pairs]])

    def clear_out(self) -> None:
        """Nothing comes back: records that nobody has written for two months are removed."""
        if self._folder is None or not self._folder.is_dir():
            return
        mark = self._folder / "cleared"
        try:
            if mark.exists() and mark.stat().st_mtime > time.time() - 86400:
                return
            mark.touch()
            for path in self._folder.glob("*.json"):
                if path.stat().st_mtime < time.time() - _DAYS * 86400:
                    path.unlink(missing_ok=True)
        except OSError:
            return

    def _path(self, what: str, name: str) -> Path:
        assert self._folder is not None
        return self._folder / f"{what}-{blake2b(name.encode(), digest_size=12).hexdigest()}.json"

    def _record(self, what: str, name: str, digest: str) -> Any:
        if self._folder is None:
            return None
        try:
            record = json.loads(self._path(what, name).read_bytes())
            return record["is"] if record["of"] == [self._code, digest] else None
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def _keep(self, what: str, name: str, digest: str, record: object) -> None:
        self._write(self._path(what, name), [self._of(digest, record)])

    def _of(self, digest: str, record: object) -> bytes:
        """The record with what it follows from, as one line."""
        whole = {"of": [self._code, digest], "is": record}
        return json.dumps(whole, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"

    def _write(self, path: Path, parts: Iterable[bytes]) -> None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, new = tempfile.mkstemp(dir=path.parent, prefix=".new-")
            with os.fdopen(handle, "wb") as file:
                file.writelines(parts)
            Path(new).replace(path)
        except OSError:
            return


NOTHING = Kept(None, "")


def _packed(hit: Hit) -> list[object]:
    """The hit as JSON can hold it."""
    value: list[str | None] | None = None
    if isinstance(hit.value, NamedNode):
        value = [hit.value.value]
    elif hit.value is not None:
        value = [hit.value.value, hit.value.language, hit.value.datatype.value]
    return [*hit[:6], value, str(hit.file) if hit.file else None, hit.line, hit.closes, hit.many]


def _hit(packed: list[Any]) -> Hit:
    """The hit that was packed."""
    rule, severity, entry, wrong, mend, prop, said, file, line, closes, many = packed
    value: NamedNode | Literal | None = None
    if said is not None and len(said) == 1:
        value = NamedNode(said[0])
    elif said is not None:
        text, language, datatype = said
        value = Literal(text, language=language) if language else Literal(text, datatype=NamedNode(datatype))
    return Hit(rule, severity, entry, wrong, mend, prop, value, Path(file) if file else None, line, closes, many)

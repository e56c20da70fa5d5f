"""What is kept of a check for the next one, in the user's cache folder: facts of files, findings of files, answers of rules.

A record holds the digest of everything it follows from; one that does not fit is worked out again, and one that cannot be
read or written is passed over: it only saves time. `NOTHING` keeps nothing.
"""

from __future__ import annotations

import json
import os
import tempfile
import time
from hashlib import blake2b
from pathlib import Path
from typing import Any

from pyoxigraph import Literal, NamedNode

from margent.checking.facts import Facts, facts_from_json
from margent.checking.findings import Hit

_DAYS = 60


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
            self._keep("facts", str(path.resolve()), digest, facts.as_json())
            self._keep("triples", str(path.resolve()), digest, facts.asked)

    def triples(self, path: Path, digest: str) -> dict[str, list[str]] | None:
        """The triples of a file that rules ask for, by key."""
        record: dict[str, list[str]] | None = self._record("triples", str(path.resolve()), digest)
        return record

    def hits(self, what: str, name: str, digest: str) -> list[Hit] | None:
        """What was found in the file, or by the rule, of that name."""
        record = self._record(what, name, digest)
        return [_hit(each) for each in record] if record is not None else None

    def keep_hits(self, what: str, name: str, digest: str, hits: list[Hit]) -> None:
        """Nothing comes back: what was found is kept."""
        if self._folder is not None:
            self._keep(what, name, digest, [_packed(hit) for hit in hits])

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
        path = self._path(what, name)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, new = tempfile.mkstemp(dir=path.parent, prefix=".new-")
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(
                    json.dumps({"of": [self._code, digest], "is": record}, ensure_ascii=False, separators=(",", ":"))
                )
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
    return [*hit[:6], value, str(hit.file) if hit.file else None, hit.line, hit.closes]


def _hit(packed: list[Any]) -> Hit:
    """The hit that was packed."""
    rule, severity, entry, wrong, mend, prop, said, file, line, closes = packed
    value: NamedNode | Literal | None = None
    if said is not None and len(said) == 1:
        value = NamedNode(said[0])
    elif said is not None:
        text, language, datatype = said
        value = Literal(text, language=language) if language else Literal(text, datatype=NamedNode(datatype))
    return Hit(rule, severity, entry, wrong, mend, prop, value, Path(file) if file else None, line, closes)

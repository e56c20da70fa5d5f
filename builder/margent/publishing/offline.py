"""The script by which a browser keeps the desk and the look-up for use without a network."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from pathlib import Path

from margent.publishing.into_place import Built
from margent.publishing.scripts import bundled

NAME = "offline.js"
"""The script in site/scripts/, and at the top of the site, for it may only answer for what lies beside or below it."""

MOST_SHARDS = 400
"""Files of the look-up that are kept at once; those of a larger authority are kept as they are asked for."""


_WANTED = re.compile(
    r"(?:../)?(?:index|words|marks)\.html|styles/[^/]+\.css|scripts/[^/]+\.js|fonts/[^/]+\.woff2|images/[^/]+|data/[^/]+\.js"
)


def write_offline(source: Path, built: Built) -> None:
    """Nothing comes back: the script is written to the finished site, with the list of what it keeps and a digest of that."""
    kept = sorted(_kept(built.paths()))
    digest = hashlib.sha256()
    for path in kept:
        digest.update(path.encode() + b"\0" + hashlib.sha256(built.where(path).read_bytes()).digest())
    listed = json.dumps(kept, ensure_ascii=False)
    head = f'const EDITION = "{digest.hexdigest()[:16]}";\nconst KEPT = {listed};\n'
    (built.new / NAME).write_text(head + bundled(source / "scripts" / NAME), encoding="utf-8", newline="\n")


def _kept(paths: list[str]) -> Iterator[str]:
    """Those that the desk, the look-up and the finder of marks need, in every language."""
    yield from filter(_WANTED.fullmatch, paths)
    shards = [path for path in paths if path.startswith("look-up/")]
    yield from shards if len(shards) <= MOST_SHARDS else ["look-up/index.js"]
    marks = [path for path in paths if path.startswith("data/marks/")]
    yield from marks if len(marks) <= MOST_SHARDS else ()

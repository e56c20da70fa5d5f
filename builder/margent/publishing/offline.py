"""The script by which a browser keeps the desk and the look-up for use without a network."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path

from margent.publishing.scripts import bundled

NAME = "offline.js"
"""The script in site/scripts/, and at the top of the site, for it may only answer for what lies beside or below it."""

MOST_SHARDS = 400
"""Files of the look-up that are kept at once; those of a larger authority are kept as they are asked for."""


def write_offline(source: Path, site: Path) -> None:
    """Nothing comes back: the script is written to the finished `site`, with the list of what it keeps and a digest of that."""
    kept = sorted(_kept(site))
    digest = hashlib.sha256()
    for path in kept:
        digest.update(path.encode() + b"\0" + hashlib.sha256((site / path).read_bytes()).digest())
    listed = json.dumps(kept, ensure_ascii=False)
    head = f'const EDITION = "{digest.hexdigest()[:16]}";\nconst KEPT = {listed};\n'
    (site / NAME).write_text(head + bundled(source / "scripts" / NAME), encoding="utf-8", newline="\n")


def _kept(site: Path) -> Iterator[str]:
    """Paths below the site: what the desk, the look-up and the finder of marks need, in every language."""
    shards = sorted(site.glob("look-up/*.js"))
    found = [
        *(
            path
            for name in ("index", "words", "marks")
            for path in (*site.glob(f"{name}.html"), *site.glob(f"??/{name}.html"))
        ),
        *site.glob("styles/*.css"),
        *site.glob("scripts/*.js"),
        *site.glob("fonts/*.woff2"),
        *site.glob("images/*"),
        *site.glob("data/*.js"),
        *(shards if len(shards) <= MOST_SHARDS else [site / "look-up" / "index.js"]),
    ]
    for path in found:
        yield path.relative_to(site).as_posix()

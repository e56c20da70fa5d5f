"""The list of a site's pages for search engines, where the site knows its own address."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from xml.sax.saxutils import escape

MOST = 50_000
"""How many addresses one file may list, by the sitemap protocol (https://www.sitemaps.org/protocol.html)."""

NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"


def write_sitemap(paths: Sequence[str], address: str, target: Path) -> list[str]:
    """The names of the files written to the top of the site: one, or an index and as many as are needed."""
    parts = [paths[start : start + MOST] for start in range(0, len(paths), MOST)] or [[]]
    if len(parts) == 1:
        _write(target / "sitemap.xml", "urlset", "url", [address + path for path in parts[0]])
        return ["sitemap.xml"]
    names = [f"sitemap-{number}.xml" for number in range(1, len(parts) + 1)]
    for name, part in zip(names, parts, strict=True):
        _write(target / name, "urlset", "url", [address + path for path in part])
    _write(target / "sitemap.xml", "sitemapindex", "sitemap", [address + name for name in names])
    return ["sitemap.xml", *names]


def _write(path: Path, whole: str, part: str, addresses: Sequence[str]) -> None:
    lines = [f"<{part}><loc>{escape(each)}</loc></{part}>" for each in addresses]
    head = f'<?xml version="1.0" encoding="UTF-8"?>\n<{whole} xmlns="{NAMESPACE}">\n'
    path.write_text(head + "".join(f"{line}\n" for line in lines) + f"</{whole}>\n", encoding="utf-8", newline="\n")

"""The static site: every page of it in every language that has a complete catalogue, and what the pages load."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

from margent.publishing.entry_pages import EntryPages
from margent.publishing.list_pages import ListPages
from margent.publishing.maker_pages import MakerPages
from margent.publishing.material import Material, Page
from margent.publishing.messages import languages
from margent.publishing.scripts import write_scripts
from margent.publishing.templates import Templates
from margent.publishing.tongue import Tongue

ASSETS = ("styles", "fonts", "images")


def write_site(material: Material, source: Path, target: Path, progress: Callable[[str], None] = lambda _: None) -> int:
    """How many pages were written below `target` from the templates, catalogues and assets of `source`."""
    for name in ASSETS:
        if (source / name).is_dir():
            shutil.copytree(source / name, target / name, ignore=shutil.ignore_patterns("README.md", ".*"))
    for drawing in material.drawings.values():
        (target / drawing.path).parent.mkdir(parents=True, exist_ok=True)
        (target / drawing.path).write_text(drawing.text, encoding="utf-8", newline="\n")
    write_scripts(source / "scripts", target / "scripts")
    complete, lacking = languages(source)
    for tag, missing in lacking.items():
        progress(f"{tag}: not published, {len(missing)} messages are not answered")
    tongues = [Tongue(language) for language in complete]
    templates = Templates(source, material, tongues)
    count = 0
    for page in all_pages(material):
        for tongue in tongues:
            path = target / tongue.folder / page.path
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(templates.written(page, tongue), encoding="utf-8", newline="\n")
            count += 1
            if count % 250 == 0:
                progress(f"{count} pages")
    return count


def all_pages(material: Material) -> Iterator[Page]:
    """Every page, those of the entries after those that lead to them."""
    yield from ListPages(material).pages()
    yield from EntryPages(material).pages()
    yield from MakerPages(material).pages()

"""The static site: every page of it in every language that has a complete catalogue, and what the pages load."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

from margent.publishing.dumps import Graphs
from margent.publishing.entry_data import EntryData
from margent.publishing.entry_pages import EntryPages
from margent.publishing.handlist import PDF, handlist, pdf_maker
from margent.publishing.list_pages import ListPages
from margent.publishing.maker_pages import MakerPages
from margent.publishing.material import Material, Page
from margent.publishing.messages import languages
from margent.publishing.scripts import write_scripts
from margent.publishing.sitemap import write_sitemap
from margent.publishing.templates import Templates
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri

ASSETS = ("styles", "fonts", "images")


def write_site(
    material: Material, known: Graphs, source: Path, target: Path, progress: Callable[[str], None] = lambda _: None
) -> int:
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
    make_pdf = pdf_maker()
    bases = [publication.base for publication in (material.vocabulary.publication, *material.vocabulary.authorities)]
    data = EntryData((triple for body in known.bodies for triple in body), known.context, bases)
    count = 0
    paths = []
    for page in all_pages(material):
        paths.append(page.path)
        if page.entry:
            _write_data(page.entry, target / page.path, data, "../" * page.path.count("/"))
        for tongue in tongues:
            path = target / tongue.folder / page.path
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(templates.written(page, tongue), encoding="utf-8", newline="\n")
            count += 1
            if count % 250 == 0:
                progress(f"{count} pages")
    if material.address:
        write_sitemap([tongue.folder + path for tongue in tongues for path in paths], material.address, target)
    if make_pdf:
        progress(PDF)
        for tongue in tongues:
            folder = target / tongue.folder
            make_pdf(folder / "handlist.html", folder / PDF)
    return count


def _write_data(entry: Iri, page: Path, data: EntryData, top: str) -> None:
    """The data of the entry lie beside its page."""
    page.parent.mkdir(parents=True, exist_ok=True)
    page.with_suffix(".ttl").write_text(data.turtle(entry), encoding="utf-8", newline="\n")
    document = data.json_ld(entry, f"{top}data/context.jsonld")
    page.with_suffix(".jsonld").write_text(document, encoding="utf-8", newline="\n")


def all_pages(material: Material) -> Iterator[Page]:
    """Every page, those of the entries after those that lead to them."""
    entries = EntryPages(material)
    yield from ListPages(material).pages()
    yield handlist(material, entries)
    yield from entries.pages()
    yield from MakerPages(material).pages()
    yield from material.more

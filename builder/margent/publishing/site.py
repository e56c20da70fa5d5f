"""The static site: every page of it in every language that has a complete catalogue, and what the pages load."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from margent.publishing.dependencies import Dependencies
from margent.publishing.entry_data import EntryData
from margent.publishing.entry_pages import EntryPages
from margent.publishing.handlist import HEADS, PDF, handlist, pdf_maker, running_heads
from margent.publishing.into_place import Built
from margent.publishing.list_pages import ListPages
from margent.publishing.maker_pages import MakerPages
from margent.publishing.material import Material, Page
from margent.publishing.messages import Language
from margent.publishing.page_writer import Keys, PageWriter, write_pages
from margent.publishing.scripts import write_scripts
from margent.publishing.sitemap import write_sitemap
from margent.publishing.templates import Templates
from margent.publishing.tongue import Tongue
from margent.vocabulary.model import Iri

ASSETS = ("styles", "fonts", "images")


@dataclass(frozen=True)
class Former:
    """The keys of the pages of the last run, and the keys that changed since."""

    pages: Mapping[str, list[str]] = field(default_factory=dict)
    touched: frozenset[str] = frozenset()

    def stands(self, page: Page) -> bool:
        """Whether the page is as it would be written now."""
        keys = self.pages.get(page.path)
        return keys is not None and self.touched.isdisjoint(keys)


@dataclass(frozen=True)
class Written:
    """What was written: the keys of every page, how many pages there are in all languages, and how many of them are new."""

    pages: Keys
    count: int
    new: int


def write_site(
    material: Material,
    texts: Mapping[Iri, str],
    data: EntryData,
    source: Path,
    built: Built,
    languages: Iterable[Language],
    former: Former | None = None,
    progress: Callable[[str], None] = lambda _: None,
) -> Written:
    """What was written of the site from the templates, catalogues and assets of `source`.

    `texts` are those of all entries, `data` writes their data. Pages of the former site that would be the
    same stand as they are.
    """
    target = built.new
    _copy_assets(material, source, target)
    tongues = [Tongue(language) for language in languages]
    pages = list(all_pages(material))
    more = {page.path for page in material.more}
    writer = PageWriter(Templates(source, material, tongues), tongues, data, Dependencies(texts), target)
    keys: Keys = {}
    wanted: list[Page] = []
    for page in pages:
        if former and page.path not in more and former.stands(page) and built.stands(*writer.files(page)):
            keys[page.path] = former.pages[page.path]
        else:
            wanted.append(page)
    data.prepare([page.entry for page in wanted if page.entry])
    keys |= write_pages(writer, wanted, lambda count: progress(f"{count} pages"))
    if material.address:
        paths = [tongue.folder + page.path for tongue in tongues for page in pages]
        write_sitemap(paths, material.address, target)
    for tongue in tongues:
        heads = running_heads(material.languages, tongue)
        (target / tongue.folder).mkdir(parents=True, exist_ok=True)
        (target / tongue.folder / HEADS).write_text(heads, encoding="utf-8", newline="\n")
    _write_pdf(tongues, built, progress)
    return Written(keys, len(pages) * len(tongues), len(wanted) * len(tongues))


def _write_pdf(tongues: Iterable[Tongue], built: Built, progress: Callable[[str], None]) -> None:
    """Nothing comes back: the handlist is there as PDF too, where a library can make it."""
    make_pdf = pdf_maker()
    if not make_pdf:
        return
    for tongue in tongues:
        page, pdf = f"{tongue.folder}handlist.html", f"{tongue.folder}{PDF}"
        if page not in built.standing or not built.stands(pdf):
            progress(pdf)
            make_pdf(built.where(page), built.new / pdf)


def _copy_assets(material: Material, source: Path, target: Path) -> None:
    for name in ASSETS:
        if (source / name).is_dir():
            shutil.copytree(source / name, target / name, ignore=shutil.ignore_patterns("README.md", ".*"))
    for drawing in material.drawings.values():
        (target / drawing.path).parent.mkdir(parents=True, exist_ok=True)
        (target / drawing.path).write_text(drawing.text, encoding="utf-8", newline="\n")
    write_scripts(source / "scripts", target / "scripts")


def all_pages(material: Material) -> Iterator[Page]:
    """Every page, those of the entries after those that lead to them."""
    entries = EntryPages(material)
    yield from ListPages(material).pages()
    yield handlist(material, entries)
    yield from entries.pages()
    yield from MakerPages(material).pages()
    yield from material.more

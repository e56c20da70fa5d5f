"""Writes pages with the data of their entries; on several cores where there are many."""

from __future__ import annotations

import gc
import multiprocessing
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from margent.publishing.dependencies import Dependencies
from margent.publishing.entry_data import EntryData
from margent.publishing.material import Page
from margent.publishing.templates import Templates
from margent.publishing.tongue import Tongue

MANY = 1500
"""From so many pages on it pays to share them among the cores."""
CHUNK = 200

Keys = dict[str, list[str]]


class PageWriter:
    """Writes single pages below the folder `target`."""

    def __init__(
        self,
        templates: Templates,
        tongues: Sequence[Tongue],
        data: EntryData,
        dependencies: Dependencies,
        target: Path,
    ) -> None:
        self._templates = templates
        self._tongues = tongues
        self._data = data
        self._dependencies = dependencies
        self._target = target
        self._folders: set[str] = set()

    def write(self, page: Page) -> list[str]:
        """The keys of the page, which is written in every language, with the data of its entry."""
        for tongue in self._tongues:
            self._text(self._target / tongue.folder / page.path, self._templates.written(page, tongue))
        if page.entry:
            path = self._target / page.path
            top = "../" * page.path.count("/")
            self._text(path.with_suffix(".ttl"), self._data.turtle(page.entry))
            self._text(path.with_suffix(".jsonld"), self._data.json_ld(page.entry, f"{top}data/context.jsonld"))
        return self._dependencies.of(page, page.told(self._tongues[0]))

    def files(self, page: Page) -> list[str]:
        """The paths of all files of the page: one for each language, and the data of its entry."""
        paths = [f"{tongue.folder}{page.path}" for tongue in self._tongues]
        if page.entry:
            paths += [page.path.removesuffix(".html") + ending for ending in (".ttl", ".jsonld")]
        return paths

    def _text(self, path: Path, text: str) -> None:
        self._folder(str(path.parent))
        path.write_text(text, encoding="utf-8", newline="\n")

    def _folder(self, path: str) -> None:
        if path not in self._folders:
            Path(path).mkdir(parents=True, exist_ok=True)
            self._folders.add(path)


# What the forked workers work with: they get it by being forked, for it is too large to be sent.
_shared: tuple[PageWriter, Sequence[Page]] | None = None


def write_pages(writer: PageWriter, pages: Sequence[Page], progress: Callable[[int], None]) -> Keys:
    """The keys of each page written; `progress` is told how many there are so far."""
    with _collected():
        return _written(writer, pages, progress)


@contextmanager
def _collected() -> Iterator[None]:
    """Nothing comes back: each page leaves circles of objects behind, which are cleared away without a look at all that was there before.

    That also keeps the workers from touching, and so copying, what they share.
    """
    before = gc.isenabled()
    gc.freeze()
    gc.enable()
    try:
        yield
    finally:
        gc.unfreeze()
        if not before:
            gc.disable()


def _written(writer: PageWriter, pages: Sequence[Page], progress: Callable[[int], None]) -> Keys:
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if len(pages) < MANY or cores < 2 or "fork" not in multiprocessing.get_all_start_methods():
        found: Keys = {}
        for number, page in enumerate(pages, start=1):
            found[page.path] = writer.write(page)
            if number % CHUNK == 0:
                progress(number)
        return found
    return _on_cores(writer, pages, cores, progress)


def _on_cores(writer: PageWriter, pages: Sequence[Page], cores: int, progress: Callable[[int], None]) -> Keys:
    global _shared  # noqa: PLW0603 - the one way for a forked worker to have what it was not sent
    _shared = (writer, pages)
    try:
        found: Keys = {}
        with multiprocessing.get_context("fork").Pool(min(cores, 8)) as pool:
            for keys in pool.imap_unordered(_chunk, range(0, len(pages), CHUNK)):
                found |= keys
                progress(len(found))
        return found
    finally:
        _shared = None


def _chunk(start: int) -> Mapping[str, list[str]]:
    assert _shared is not None
    writer, pages = _shared
    return {page.path: writer.write(page) for page in pages[start : start + CHUNK]}

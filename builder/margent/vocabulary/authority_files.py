"""The files of an authority while entries are added to it: which entry stands where, and the tidy text of what was touched."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urldefrag

from pyoxigraph import NamedNode

from margent.faults import Fault
from margent.vocabulary.entry import Entry, named
from margent.vocabulary.model import Iri
from margent.vocabulary.new_authority import checked_base
from margent.vocabulary.tidy import tidied
from margent.vocabulary.turtle import TurtleFile, read_folder

MOST_ENTRIES = 500
"""Entries of one file at most, so that a change shows and a file opens."""

PUBLICATION = "publication.ttl"


class AuthorityFolder:
    """The files of an authority, or of a folder that is to become one."""

    def __init__(self, folder: Path, base: str | None) -> None:
        if folder.exists() and not folder.is_dir():
            raise Fault(f"{folder}: is a file; name a folder with --to, which may be new")
        self.folder = folder
        there = folder.is_dir()
        self.files = {file.path: file for file in read_folder(folder)} if there else {}
        publication = folder / PUBLICATION
        self.begun = publication in self.files
        said = _base_in(self.files[publication]) if self.begun else None
        base = checked_base(base) if base is not None else None
        if said is not None and base is not None and base != said:
            raise Fault(
                f"--base {base}: the authority in {folder} stands under {said}; leave --base out, or name another folder"
            )
        if (found := said or base) is None:
            raise Fault(
                f"{folder}: has no publication.ttl yet; say with --base under which IRI its makers are to stand"
            )
        self.base = found
        self.entries: dict[Iri, Path] = {}
        self.by_file: dict[Path, dict[Iri, Entry]] = {}
        for path, file in self.files.items():
            for triple in file.triples:
                if isinstance(triple.subject, NamedNode):
                    iri = Iri(urldefrag(triple.subject.value).url)
                    entries = self.by_file.setdefault(path, {})
                    entries.setdefault(iri, Entry(iri)).triples.add(triple)
                    self.entries.setdefault(iri, path)
        self.touched: set[Path] = set()

    def entry(self, iri: Iri) -> Entry | None:
        """The entry of that IRI, or None."""
        path = self.entries.get(iri)
        return self.by_file[path][iri] if path is not None else None

    def put(self, entry: Entry, path: Path) -> None:
        """Nothing comes back: a new entry stands in that file."""
        self.by_file.setdefault(path, {})[entry.iri] = entry
        self.entries[entry.iri] = path
        self.touched.add(path)

    def texts(self) -> dict[Path, str]:
        """The tidy text of each file that was touched; raises Fault where a file has what the tidy form has no place for."""
        texts: dict[Path, str] = {}
        for path in sorted(self.touched):
            file = self.files.get(path)
            triples = [triple for entry in self.by_file[path].values() for triple in entry.triples]
            if file is None:
                texts[path] = tidied(TurtleFile(path, "", self.base, {}, triples))
            else:
                texts[path] = tidied(TurtleFile(path, file.text, file.base, file.prefixes, triples))
        return texts


def _base_in(file: TurtleFile) -> str:
    """The base that a publication.ttl says; raises Fault where it says none."""
    predicate = named("mg:base")
    for triple in file.triples:
        if triple.predicate == predicate and isinstance(triple.object, NamedNode):
            return triple.object.value
    raise Fault(f"{file.path}: says no base; add mg:base <https://.../>")

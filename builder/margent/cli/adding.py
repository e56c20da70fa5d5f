"""What the ways of adding an entry share: the authority, the words they look up, and the check before anything is written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

import click
from pyoxigraph import NamedNode

from margent.checking.before_writing import would_be_wrong
from margent.checking.findings import report
from margent.cli.asking import Asking, date_of
from margent.cli.data_out import data_out
from margent.exchange.listed_words import ListedWords
from margent.faults import Fault
from margent.names.normal import fold
from margent.vocabulary.additions import Sighting, Support
from margent.vocabulary.authority_files import AuthorityFolder
from margent.vocabulary.choices import Choices
from margent.vocabulary.entry import Entry
from margent.vocabulary.here import authority_folder, authority_folders, room
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.load import load
from margent.vocabulary.model import Choice, Iri, Vocabulary
from margent.vocabulary.tidy import tidied
from margent.vocabulary.turtle import TurtleFile, read_text

Command = TypeVar("Command", bound=Callable[..., Any])

LANGUAGES = ("la", "fr", "it", "de", "nl", "en", "es", "pt", "mul")


def to_options(command: Command) -> Command:
    """The options of where an entry goes."""
    for option in (
        click.option("--dry", is_flag=True, help="Check, and show the entry as it would stand; write nothing."),
        click.option(
            "--home",
            type=click.Path(path_type=Path),
            metavar="FOLDER",
            help="Folder that holds vocab/, shapes/ and site/ (else MARGENT_HOME, else Margent's own).",
        ),
        click.option(
            "--to",
            "folder",
            type=click.Path(path_type=Path),
            metavar="FOLDER",
            help="The authority or vocabulary it is added to (else MARGENT_AUTHORITY, where that names one).",
        ),
    ):
        command = option(command)
    return command


def support_options(command: Command) -> Command:
    """The options of what an entry rests on."""
    for option in (
        click.option(
            "--standing",
            metavar="WORD",
            help="What it rests on where no source was opened: `common practice` or `from memory`.",
        ),
        click.option("--as-found", metavar="TEXT", help="The form exactly as it stands in the source."),
        click.option("--locator", metavar="TEXT", help="Where it stands in the source: page, column, entry."),
        click.option("--cite", metavar="SOURCE", help="The source it rests on, by the last part of its IRI."),
    ):
        command = option(command)
    return command


def sighting_options(command: Command) -> Command:
    """The options of where something was met."""
    for option in (
        click.option("--quoted", is_flag=True, help="The object was not seen: it is quoted from the source of --cite."),
        click.option("--transcription", metavar="TEXT", help="How it stands there, letter for letter."),
        click.option("--seen-date", metavar="EDTF", help="When that object was made."),
        click.option("--seen-place", metavar="WORDS", help="Where on the sheet: lower left, in image, verso."),
        click.option("--state", metavar="TEXT", help="The state of the plate."),
        click.option("--object", "object_", metavar="TEXT", help="The print it was met on, by its number and title."),
    ):
        command = option(command)
    return command


class Adding:
    """One entry on its way into an authority."""

    def __init__(self, command: str, folder: Path | None, home: Path | None, *, whole: bool) -> None:
        self.asking = Asking(command, whole=whole)
        self.vocab, self.shapes = room("vocab", home), room("shapes", home)
        self.folder = self._folder(command, folder, home)
        self.authority = AuthorityFolder(self.folder, None)
        self.choices = Choices(self.vocab)

    def _folder(self, command: str, said: Path | None, home: Path | None) -> Path:
        if said is not None:
            return authority_folder(said, home)
        named = authority_folders((), home)
        if len(named) != 1:
            raise Fault(
                f"margent {command} needs an authority to add to: name its folder with --to; margent begin FOLDER begins one"
            )
        return named[0]

    @cached_property
    def vocabulary(self) -> Vocabulary:
        """The general vocabulary, with the makers of the authority where that is not the vocabulary itself."""
        return load(self.folder) if self._is_general else load(self.vocab, [self.folder])

    @property
    def _is_general(self) -> bool:
        """Whether it is a whole vocabulary, with an ontology of its own, to which nothing is known beside."""
        return (self.folder / "ns.ttl").is_file()

    @cached_property
    def words(self) -> ListedWords:
        """Roles and places by their names."""
        return ListedWords(lambda: self.vocabulary)

    def choice(self, name: str, given: str | None, option: str, question: str, default: str | None = None) -> Choice:
        """One of a closed list of the ontology, by name or label."""
        choices = {str(choice): label for choice, label in self.choices.of(name).items()}
        return self.asking.chosen(given, option, question, lambda said: self.choices.find(name, said), choices, default)

    def role(self, said: str, option: str = "--role") -> Iri:
        """The role called so; raises Fault, with those called nearly so."""
        found = self.words.role(said)
        if found is None:
            raise Fault(
                f"{option} {said!r}: the vocabulary has no such role{self._near(said, self.vocabulary.roles.values())}"
            )
        return found

    def place(self, said: str) -> Iri:
        """The place called so; raises Fault, with those called nearly so."""
        found = self.words.place(said)
        if found is None:
            raise Fault(
                f"--place {said!r}: the vocabulary has no such town{self._near(said, self.vocabulary.places.values())}"
            )
        return found

    def maker(self, said: str, option: str) -> Iri:
        """The maker of the authority by IRI, its last part, or the authorised name; raises Fault for none and for several."""
        makers = {iri: maker for iri, maker in self.vocabulary.makers.items() if iri in self.authority.entries}
        slug = said.rpartition("/")[2]
        found = [iri for iri, maker in makers.items() if said == iri or slug == maker.slug] or [
            iri for iri, maker in makers.items() if fold(said) in {fold(label.value) for label in maker.labels}
        ]
        if not found:
            raise Fault(
                f"{option} {said!r}: the authority has no such maker{self._near(said, makers.values())}; add it first with margent add maker"
            )
        if len(found) > 1:
            raise Fault(f"{option} {said!r}: is the name of {len(found)} makers; say which: {', '.join(found)}")
        return found[0]

    def _near(self, said: str, entries: Any) -> str:
        known = {fold(label.value): entry.slug for entry in entries for label in entry.labels}
        near = dict.fromkeys(known[each] for each in get_close_matches(fold(said), known, 3))
        return f"; did you mean {' or '.join(near)}?" if near else ""

    def support(
        self, cite: str | None, locator: str | None, as_found: str | None, standing: str | None, *, needed: bool
    ) -> Support:
        """What the entry rests on; asked for where it is needed and not said."""
        if cite and standing:
            raise Fault("--cite and --standing are one or the other: a source was opened, or none was")
        if needed and not cite and not standing:
            if not self.asking.may:
                raise Fault(
                    f"margent {self.asking.command} needs to know what it rests on: say it with --cite SOURCE and --locator, or --standing"
                )
            cite = (
                self.asking.optional(None, "Which source does it rest on, by the last part of its IRI")
                if self.asking.whole
                else None
            )
            locator = self.asking.optional(locator, "Where in the source") if cite else None
        if cite:
            return Support(work=self._source(cite), locator=locator, as_found=as_found)
        if locator or as_found:
            raise Fault("--locator and --as-found are of a source: name it with --cite")
        if not needed and not standing:
            return Support()
        return Support(standing=self.choice("Standing", standing, "--standing", "On whose word it stands"))

    def _source(self, said: str) -> Iri:
        """A source of the authority, else of the general vocabulary."""
        slug = said.rpartition("/")[2]
        own = Iri(f"{self.authority.base}source/{slug}")
        if own in self.authority.entries:
            return own
        general = [iri for iri, source in self.vocabulary.sources.items() if source.slug == slug]
        if not general:
            near = get_close_matches(slug, [source.slug for source in self.vocabulary.sources.values()], 3)
            hint = f"; did you mean {' or '.join(near)}?" if near else ""
            raise Fault(
                f"--cite {said!r}: no source of that name{hint}; write it first in a file below {self.folder / 'sources'}"
            )
        return general[0]

    def sighting(
        self,
        object_: str | None,
        state: str | None,
        place: str | None,
        date: str | None,
        transcription: str | None,
        quoted: bool,
        support: Support,
    ) -> Sighting | None:
        """Where it was met; None where no object is named."""
        if object_ is None:
            if state or place or date or transcription or quoted:
                raise Fault(
                    "--state, --seen-place, --seen-date, --transcription and --quoted are of a print: name it with --object"
                )
            return None
        if quoted and support.work is None and support.standing is None:
            raise Fault("--quoted needs the one who is quoted: name the source with --cite")
        return Sighting(
            object=object_, seen=not quoted, state=state, sheet_place=place, date=date_of(date, "--seen-date"), transcription=transcription,
            support=support if quoted else Support(),
        )  # fmt: skip

    def refuse_second(self, iri: Iri, what: str) -> None:
        """Nothing comes back; raises Fault where the entry is there, with the place of the first."""
        first = self.authority.entries.get(iri)
        if first is None:
            low = iri.casefold()
            first = next((path for known, path in self.authority.entries.items() if known.casefold() == low), None)
        if first is not None:
            raise Fault(
                f"{self.line_of(iri, first)}: {what} is there already; change it there, or give another --slug where it is a second one"
            )

    def line_of(self, iri: str, path: Path) -> str:
        """The file and the line of an entry."""
        from margent.vocabulary.lines import places

        return f"{path}:{places(read_text(path)).line(iri)}"

    def add_to(self, iri: Iri, name: str, value: Iri) -> None:
        """Nothing comes back: an entry of the authority says this as well."""
        entry = self.authority.entry(iri)
        assert entry is not None
        entry.add(iri, name, NamedNode(value))
        self.authority.touched.add(self.authority.entries[iri])

    def write(self, entry: Entry, path: Path, *, dry: bool, further: Mapping[Path, str] | None = None) -> int:
        """0, when the entry stands in the file; raises Fault, and writes nothing, where anything would be wrong then."""
        self.authority.put(entry, path)
        texts = self.authority.texts() | dict(further or {})
        beside = () if self._is_general else (self.vocab,)
        wrong = would_be_wrong(self.folder, texts, beside, self.shapes)
        if wrong:
            raise Fault(report(wrong).rstrip("\n") + "\nnothing was written")
        if dry:
            data_out().write(tidied(TurtleFile(path, "", self.authority.base, {}, list(entry.triples))))
            return 0
        put_in_place(texts)
        data_out().write(f"{entry.iri}\n")
        click.echo(f"written to {self.line_of(entry.iri, path)}; commit it with a word on why", err=True)
        return 0

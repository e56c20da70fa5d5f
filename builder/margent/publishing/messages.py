"""The message catalogues of the site: what its templates say, and what each language says instead.

English is the source and stands in the templates themselves. A catalogue is a gettext file, `site/messages/fr.po`; a
language's pages are published only where its catalogue answers every message, so that no page mixes languages by neglect.
"""

from __future__ import annotations

import base64
import gettext
import io
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileError, read_po

from margent.faults import Fault

SOURCE = "en"

# How a message is marked: in templates `_("...")` and `{% trans %}`; in Python `say("...")`, or `N_("...")` in a table.
KEYWORDS = {"_": None, "gettext": None, "ngettext": (1, 2), "N_": None, "say": None}
TEMPLATE_OPTIONS = {
    "extensions": "jinja2.ext.i18n",
    "newstyle_gettext": "true",
    "trimmed": "true",
    "trim_blocks": "true",
    "lstrip_blocks": "true",
    "silent": "false",
}

PYTHON = ("publishing", "lettering/conditions.py")
"""Where in the package messages may stand."""


@dataclass(frozen=True, slots=True)
class Found:
    """One message as it stands in the source: its texts (one, or singular and plural), its file and line."""

    texts: tuple[str, ...]
    path: Path
    line: int


@dataclass(frozen=True, slots=True)
class Language:
    """A language whose pages can be published: its tag and what it says for each message."""

    tag: str
    translations: gettext.NullTranslations
    compiled: bytes = b""


def N_(message: str) -> str:  # noqa: N802 (the name that gettext's tools know)
    """The message itself, marked for the catalogues: it is said in another language only when a page is written."""
    return message


def found_in(site: Path) -> Iterator[Found]:
    """Every message of the templates and of the package, in the order of the files."""
    package = Path(__file__).resolve().parent.parent
    for folder in ("templates", "guide"):
        for path in sorted((site / folder).glob("*.html")):
            yield from _in_file("jinja2", path, TEMPLATE_OPTIONS)
    for part in PYTHON:
        where = package / part
        for path in sorted(where.glob("*.py")) if where.is_dir() else [where]:
            yield from _in_file("python", path, {})


def _in_file(method: str, path: Path, options: dict[str, str]) -> Iterator[Found]:
    for line, said, _, _ in extract_from_file(method, path, KEYWORDS, (), options):
        yield Found((said,) if isinstance(said, str) else tuple(each for each in said if each), path, line)


def languages(site: Path, progress: Callable[[str], None]) -> list[Language]:
    """The languages that can be published, English first; of the others is told how many messages they do not answer."""
    complete, lacking = complete_languages(site)
    for tag, missing in lacking.items():
        progress(f"{tag}: not published, {len(missing)} messages are not answered")
    return complete


def packed(known: Iterable[Language]) -> dict[str, str]:
    """The languages as texts that can be kept."""
    return {language.tag: base64.b64encode(language.compiled).decode() for language in known}


def unpacked(kept: Mapping[str, str]) -> list[Language]:
    """The languages that were packed."""
    return [language_of(tag, base64.b64decode(text)) for tag, text in kept.items()]


def language_of(tag: str, compiled: bytes) -> Language:
    """A language with its compiled catalogue, which is empty for the language of the source."""
    known = gettext.GNUTranslations(io.BytesIO(compiled)) if compiled else gettext.NullTranslations()
    return Language(tag, known, compiled)


def complete_languages(site: Path) -> tuple[list[Language], dict[str, list[str]]]:
    """The languages that can be published, English first, and for each of the others the messages it does not answer yet.

    Raises Fault where a catalogue cannot be read.
    """
    complete = [language_of(SOURCE, b"")]
    lacking: dict[str, list[str]] = {}
    paths = sorted((site / "messages").glob("*.po"))
    wanted = list(dict.fromkeys(each.texts for each in found_in(site))) if paths else []
    for path in paths:
        catalogue = read_catalogue(path)
        missing = [texts[0] for texts in wanted if not _answered(catalogue.get(texts[0]), len(texts) > 1)]
        if missing:
            lacking[path.stem] = missing
        else:
            complete.append(language_of(path.stem, _compiled(catalogue)))
    return complete, lacking


def read_catalogue(path: Path) -> Catalog:
    """The catalogue of one file; raises Fault that says where it is broken."""
    try:
        with path.open("rb") as file:
            return read_po(file, locale=path.stem, abort_invalid=True)
    except (PoFileError, UnicodeDecodeError, ValueError) as wrong:
        raise Fault(f"{path}: not a message catalogue ({wrong}); mend it, or take the file away") from None


def _answered(message: Message | None, plural: bool) -> bool:
    """Whether the catalogue has the message, in all its plural forms, and nobody marked the answer as doubtful."""
    if message is None or message.fuzzy:
        return False
    said = message.string if isinstance(message.string, (list, tuple)) else (message.string,)
    return all(said) and isinstance(message.id, (list, tuple)) == plural


def _compiled(catalogue: Catalog) -> bytes:
    compiled = io.BytesIO()
    write_mo(compiled, catalogue)
    return compiled.getvalue()

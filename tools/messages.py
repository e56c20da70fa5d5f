"""Brings the message catalogues of site/messages/ up to date with the templates: `python tools/messages.py [TAG ...]`.

A new message comes in unanswered, one that is no longer said goes, and an answer to a message that was changed is marked
as doubtful. A tag that has no catalogue yet gets one. What is still to be answered is printed.
"""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from margent import __version__
from margent.publishing.messages import complete_languages, found_in

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / "site"
DATED = dt.datetime(2026, 11, 25, tzinfo=dt.UTC)


def template() -> Catalog:
    """Every message of the source, with the files it stands in."""
    catalogue = Catalog(project="Margent", charset="utf-8")
    for found in found_in(SITE):
        name = found.path.relative_to(ROOT).as_posix()
        catalogue.add(found.texts if len(found.texts) > 1 else found.texts[0], locations=[(name, 0)])
    return catalogue


def main(tags: list[str]) -> int:
    """0 when every catalogue is complete, 1 when something is still to be answered."""
    folder = SITE / "messages"
    folder.mkdir(exist_ok=True)
    source = template()
    for tag in sorted({*tags, *(path.stem for path in folder.glob("*.po"))}):
        path = folder / f"{tag}.po"
        catalogue = Catalog(locale=tag, project="Margent", charset="utf-8")
        if path.is_file():
            with path.open("rb") as file:
                catalogue = read_po(file, locale=tag)
        catalogue.update(source, no_fuzzy_matching=False)
        catalogue.obsolete.clear()
        catalogue.header_comment = f"# What the site says in {tag}."
        catalogue.fuzzy = False
        catalogue.version = __version__
        catalogue.msgid_bugs_address = ""
        catalogue.last_translator = catalogue.language_team = "The Margent editors"
        catalogue.creation_date = catalogue.revision_date = DATED  # or every run would change the file
        with path.open("wb") as file:
            write_po(file, catalogue, width=110, sort_output=True, omit_header=False, include_lineno=False)
    _, lacking = complete_languages(SITE)
    for tag, missing in lacking.items():
        print(f"{tag}: {len(missing)} messages are not answered, among them: {missing[0]}")  # noqa: T201
    return 1 if lacking else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

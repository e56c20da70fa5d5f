"""`margent add`: a new term, maker, form of a name or mark in an authority, checked before it is written."""

from __future__ import annotations

from pathlib import Path

import click

from margent.cli.add_mark import mark
from margent.cli.add_term import term
from margent.cli.adding import Adding, sighting_options, support_options, to_options
from margent.cli.asking import date_of
from margent.exchange.listed_maker import kind_of
from margent.faults import Fault
from margent.names.normal import fold
from margent.vocabulary.additions import NewForm, NewMaker
from margent.vocabulary.iris import is_iri, is_language
from margent.vocabulary.model import Iri, Text
from margent.vocabulary.right_file import lettered_file

MAKER_KINDS = {
    "Person": "person",
    "Family": "family",
    "Workshop": "workshop",
    "Firm": "firm",
    "UnidentifiedHand": "unidentified hand",
}
EXAMPLE = """\b
Example:
  margent add maker "Quabbel, Joost" --born 1602 --role engraver --to ours/
"""
MAKER_EXAMPLE = """\b
Examples:
  margent add maker "Quabbel, Joost" --born 1602 --died 1671~ --role engraver --place Antwerp --to ours/
  margent add maker --to ours/            asks for what is needed
"""
FORM_EXAMPLE = """\b
Examples:
  margent add form joost-quabbel "J. Quabbel" --kind "as signed" --language nl --object "P.1: A Bridge" --to ours/
  margent add form joost-quabbel "Iudocus Quabbelius" --kind latinised --language la --case nominative --standing "from memory" --to ours/
"""


@click.group(
    "add", epilog=EXAMPLE, help="Add a term, a maker, a form of a name or a mark, checked before it is written."
)
def command() -> None:
    """Nothing comes back: the group only holds what can be added."""


command.add_command(term)


@command.command("maker", epilog=MAKER_EXAMPLE)
@click.argument("name", required=False)
@click.option("--kind", metavar="WORD", help="person (if not said), family, workshop, firm or unidentified hand.")
@click.option("--born", metavar="EDTF", help="Date of birth; of a firm, its founding.")
@click.option("--died", metavar="EDTF", help="Date of death; of a firm, its end.")
@click.option("--active", metavar="EDTF", help="Years of activity: 1620/1660.")
@click.option(
    "--role", "roles", multiple=True, metavar="ROLE", help="What the maker is known to have done; repeatable."
)
@click.option("--place", "places", multiple=True, metavar="TOWN", help="Where the maker worked; repeatable.")
@click.option("--same-as", "matches", multiple=True, metavar="IRI", help="The maker's IRI elsewhere; repeatable.")
@click.option("--definition", metavar="TEXT", help="Who it is, in a sentence.")
@click.option("--note", metavar="TEXT", help="What a cataloguer should know.")
@click.option("--language", default="en", show_default=True, metavar="TAG", help="The language of the authorised name.")
@click.option("--slug", metavar="NAME", help="The last part of the IRI, where another than that of the name is wanted.")
@support_options
@to_options
def maker(
    name: str | None, kind: str | None, born: str | None, died: str | None, active: str | None, roles: tuple[str, ...], places: tuple[str, ...],
    matches: tuple[str, ...], definition: str | None, note: str | None, language: str, slug: str | None, cite: str | None,
    locator: str | None, as_found: str | None, standing: str | None, folder: Path | None, home: Path | None, dry: bool,
) -> int:  # fmt: skip
    """Add the maker NAME, written as your headings are: Verrou, Anna.

    A second maker of the same name is refused with the place of the first, unless --slug gives it an IRI of its own.
    """
    adding = Adding("add maker", folder, home, whole=name is None)
    asking = adding.asking
    name = asking.needed(name, "NAME", "The authorised name, as in Verrou, Anna")
    chosen = asking.chosen(kind, "--kind", "What kind of maker", kind_of, MAKER_KINDS, "person")
    if not is_language(language):
        raise Fault(f"--language {language!r}: is no tag of a language; write en, fr, de")
    for match in matches:
        if not is_iri(match):
            raise Fault(f"--same-as {match!r}: is no IRI; write it whole, with https://")
    said_roles = [*roles] if roles or not asking.whole else _several(asking.optional(None, "Roles, parted by commas"))
    said_places = (
        [*places] if places or not asking.whole else _several(asking.optional(None, "Towns, parted by commas"))
    )
    new = NewMaker(
        name=Text(name, language),
        kind=chosen,
        definition=asking.optional(definition, "Who it is, in a sentence"),
        born=date_of(asking.optional(born, "Born, in EDTF"), "--born"),
        died=date_of(asking.optional(died, "Died, in EDTF"), "--died"),
        active=date_of(asking.optional(active, "Active, in EDTF"), "--active"),
        roles=[adding.role(each) for each in said_roles],
        places=[adding.place(each) for each in said_places],
        matches=[Iri(match) for match in matches],
        note=note,
        support=adding.support(cite, locator, as_found, standing, needed=False),
    )
    iri = Iri(f"{adding.authority.base}maker/{slug}") if slug else new.iri(adding.authority.base)
    adding.refuse_second(iri, f"the maker {iri.rpartition('/')[2]}")
    if not slug:
        _refuse_namesake(adding, name)
    return adding.write(new.entry(iri), lettered_file(adding.authority, "makers", name), dry=dry)


@command.command("form", epilog=FORM_EXAMPLE)
@click.argument("maker", required=False)
@click.argument("literal", required=False)
@click.option(
    "--kind",
    metavar="WORD",
    help="as signed, latinised, abbreviated, initials, byname, married, firm style, misspelt, translated, as listed.",
)
@click.option("--language", metavar="TAG", help="The language of the form: la, fr, nl ...")
@click.option("--case", metavar="WORD", help="The grammatical case, for Latin and its like.")
@sighting_options
@support_options
@to_options
def form(
    maker: str | None, literal: str | None, kind: str | None, language: str | None, case: str | None, object_: str | None, state: str | None,
    seen_place: str | None, seen_date: str | None, transcription: str | None, quoted: bool, cite: str | None, locator: str | None,
    as_found: str | None, standing: str | None, folder: Path | None, home: Path | None, dry: bool,
) -> int:  # fmt: skip
    """Add LITERAL as a form in which the name of MAKER stands on prints, with where it was met.

    MAKER is an IRI, its last part, or the authorised name.
    """
    adding = Adding("add form", folder, home, whole=maker is None)
    asking = adding.asking
    iri = adding.maker(asking.needed(maker, "MAKER", "The maker, by name or the last part of the IRI"), "MAKER")
    literal = asking.needed(literal, "LITERAL", "The form, letter for letter")
    entry = adding.authority.entry(iri)
    assert entry is not None
    path = adding.authority.entries[iri]
    for label in adding.vocabulary.makers[iri].labels:
        if label.value == literal:
            raise Fault(f"{adding.line_of(iri, path)}: {literal!r} is the authorised name already")
    for known in adding.vocabulary.makers[iri].name_forms:
        if known.literal.value == literal:
            raise Fault(
                f"{adding.line_of(known.iri, path)}: the form {literal!r} is there already; add to it where it was met"
            )
    chosen = adding.choice("FormKind", kind, "--kind", "What kind of form")
    object_ = asking.optional(object_, "The print it was met on")
    support = adding.support(cite, locator, as_found, standing, needed=object_ is None or (quoted and not cite))
    sighting = adding.sighting(object_, state, seen_place, seen_date, transcription, quoted, support)
    tag = (asking.optional(language, "Its language: la, fr, nl ...") or "").lower()
    if tag and not is_language(tag):
        raise Fault(f"--language {tag!r}: is no tag of a language; write la, fr, nl")
    new = NewForm(
        literal=Text(literal, tag),
        kind=chosen,
        case=adding.choice("GrammaticalCase", case, "--case", "Which case") if case else None,
        sighting=sighting,
        support=support,
    )
    new.lay_into(entry)
    return adding.write(entry, path, dry=dry)


command.add_command(mark)


def _several(said: str | None) -> list[str]:
    return [each.strip() for each in (said or "").split(",") if each.strip()]


def _refuse_namesake(adding: Adding, name: str) -> None:
    """Nothing comes back; raises Fault where a maker of the authority has that authorised name."""
    for iri, known in adding.vocabulary.makers.items():
        path = adding.authority.entries.get(iri)
        if path is not None and fold(name) in {fold(label.value) for label in known.labels}:
            raise Fault(
                f"{adding.line_of(iri, path)}: a maker of the name {name!r} is there already; change it there, or give --slug where it is another one"
            )

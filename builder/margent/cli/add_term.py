"""`margent add term`: a word, phrase or abbreviation that states a role or a notice."""

from __future__ import annotations

from pathlib import Path

import click

from margent.cli.adding import LANGUAGES, Adding, support_options, to_options
from margent.cli.asking import date_of
from margent.faults import Fault
from margent.vocabulary.additions import NewTerm
from margent.vocabulary.model import Iri, Text
from margent.vocabulary.right_file import term_file

EXAMPLE = """\b
Examples:
  margent add term "ghestampt" --language nl --role printer --name-position after --reason "printed" --standing "from memory" --to vocab
  margent add term --to vocab             asks for what is needed
"""


@click.command("term", epilog=EXAMPLE)
@click.argument("literal", required=False)
@click.option(
    "--language", metavar="TAG", help="The language: la, fr, it, de, nl, en, es, pt, or mul for a sign of any."
)
@click.option(
    "--kind", metavar="WORD", help="word, abbreviation, phrase or siglum (phrase if it has a blank, else word)."
)
@click.option(
    "--role", "roles", multiple=True, metavar="ROLE", help="The role it states; several are stated all at once."
)
@click.option("--notice", metavar="KIND", help="The notice it states, where it states no role: privilege, price ...")
@click.option("--reason", metavar="TEXT", help="Why it says so, in English, in a few words.")
@click.option("--name-position", metavar="WORD", help="Where the name stands: before it, after it, or either.")
@click.option("--word-class", metavar="WORD", help="verb, participle, noun, preposition, adjective, formula.")
@click.option("--shortened-to", metavar="TEXT", help="The shortest truncation in use: sc for sculpsit.")
@click.option(
    "--short",
    "short_forms",
    multiple=True,
    metavar="TEXT",
    help="An abbreviation that cutting it short does not give; repeatable.",
)
@click.option(
    "--variant", "variants", multiple=True, metavar="TEXT", help="Another spelling or inflected form; repeatable."
)
@click.option("--period", metavar="EDTF", help="When it is in use: 1500/1900.")
@click.option("--note", metavar="TEXT", help="What a cataloguer should know.")
@click.option(
    "--homograph-of",
    metavar="TERM",
    help="The term that is written alike and means something else, by the last part of its IRI.",
)
@support_options
@to_options
def term(
    literal: str | None, language: str | None, kind: str | None, roles: tuple[str, ...], notice: str | None, reason: str | None,
    name_position: str | None, word_class: str | None, shortened_to: str | None, short_forms: tuple[str, ...], variants: tuple[str, ...],
    period: str | None, note: str | None, homograph_of: str | None, cite: str | None, locator: str | None, as_found: str | None,
    standing: str | None, folder: Path | None, home: Path | None, dry: bool,
) -> int:  # fmt: skip
    """Add LITERAL as a term with one sense; further senses and conditions are written in its file.

    A term that is there is refused with its place, unless --homograph-of says that another word is written alike.
    """
    if roles and notice:
        raise Fault("--role and --notice are one or the other: a term states roles or a notice")
    adding = Adding("add term", folder, home, whole=literal is None)
    asking = adding.asking
    literal = asking.needed(literal, "LITERAL", "The word or phrase, in small letters, accents kept")
    tag = asking.chosen(
        language, "--language", "Its language", lambda said: said.lower() if said.lower() in LANGUAGES else None, dict(zip(LANGUAGES, LANGUAGES, strict=True)),
    )  # fmt: skip
    says = [adding.role(each) for each in roles] if roles else [_said(adding, notice)]
    states_role = "/role/" in says[0]
    usual = "phrase" if " " in literal else "word"
    position = (
        adding.choice("NamePosition", _position(name_position), "--name-position", "Where the name stands: before, after or either") if states_role else None
    )  # fmt: skip
    new = NewTerm(
        literal=Text(literal, tag),
        kind=adding.choice("TermKind", kind, "--kind", "What it is", usual),
        says=says,
        reason=asking.needed(reason, "--reason", "Why it says so, in English"),
        name_position=position,
        word_class=adding.choice("WordClass", word_class, "--word-class", "Its word class") if word_class else None,
        shortened_to=asking.optional(shortened_to, "Its shortest truncation in use"),
        short_forms=short_forms,
        variants=variants,
        period=date_of(period, "--period"),
        note=note,
        homograph_of=_homograph(adding, homograph_of),
        support=adding.support(cite, locator, as_found, standing, needed=True),
    )
    iri = new.iri(adding.authority.base)
    if new.homograph_of is None:
        adding.refuse_second(iri, f"the term {literal!r}")
    else:
        number = 2
        while Iri(f"{iri}-{number}") in adding.authority.entries:
            number += 1
        iri = Iri(f"{iri}-{number}")
    stage_of = {each.iri: each.stage for each in adding.vocabulary.roles.values()}
    path = term_file(adding.authority, tag, says, {str(role): str(stage) for role, stage in stage_of.items()})
    return adding.write(new.entry(iri), path, dry=dry)


def _said(adding: Adding, notice: str | None) -> Iri:
    """The kind of notice, or the role that is asked for where neither was said."""
    if notice is None:
        return adding.asking.chosen(None, "--role (or --notice)", "The role it states", adding.words.role)
    for iri, kind in adding.vocabulary.notice_kinds.items():
        if notice.casefold() in {
            kind.slug,
            kind.slug.replace("-", " "),
            *(label.value.casefold() for label in kind.labels),
        }:
            return iri
    known = ", ".join(sorted(kind.slug for kind in adding.vocabulary.notice_kinds.values()))
    raise Fault(f"--notice {notice!r}: the vocabulary has no such kind of notice; it has {known}")


def _position(said: str | None) -> str | None:
    """`before` as the ontology has it, `name before`."""
    return f"name {said}" if said in {"before", "after", "either"} else said


def _homograph(adding: Adding, said: str | None) -> Iri | None:
    if said is None:
        return None
    iri = Iri(f"{adding.authority.base}term/{said.rpartition('/')[2]}")
    if iri not in adding.authority.entries:
        raise Fault(
            f"--homograph-of {said!r}: the vocabulary has no such term; write the last part of its IRI, as la-f"
        )
    return iri

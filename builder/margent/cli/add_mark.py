"""`margent add mark`: a monogram, device or stamp, whom it stands for and what it states."""

from __future__ import annotations

from pathlib import Path

import click

from margent.cli.adding import Adding, sighting_options, support_options, to_options
from margent.cli.asking import date_of
from margent.faults import Fault
from margent.names.mark_letters import letters_of
from margent.publishing.drawings import plain_shapes
from margent.vocabulary.additions import NewMark
from margent.vocabulary.model import Iri
from margent.vocabulary.right_file import lettered_file
from margent.vocabulary.turtle import read_text

EXAMPLE = """\b
Examples:
  margent add mark JQ --device "a quail on a post" --arrangement "joined" --for joost-quabbel --states engraver --period 1625/1650 --to ours/
  margent add mark --device "three eels" --kind "collector's mark" --note "on sheets sold after 1860" --to ours/
"""


@click.command("mark", epilog=EXAMPLE)
@click.argument("letters", required=False)
@click.option(
    "--kind",
    metavar="WORD",
    help="maker's mark (if not said), printer's chop, publisher's mark, estate stamp, collector's mark, institution's stamp, tax stamp, paper mark.",
)
@click.option("--device", metavar="TEXT", help="What it shows, in plain English words.")
@click.option("--arrangement", metavar="TEXT", help="How its letters stand, in plain English words.")
@click.option("--label", metavar="TEXT", help="A heading for its page; its IRI is made from it.")
@click.option(
    "--for",
    "makers",
    multiple=True,
    metavar="MAKER",
    help="Whom it stands for: an IRI, its last part, or the authorised name; repeatable.",
)
@click.option(
    "--states", "roles", multiple=True, metavar="ROLE", help="What it then states: engraver, publisher; repeatable."
)
@click.option("--on-copies", is_flag=True, help="It is also met on copies, where it names the maker of the model.")
@click.option("--period", metavar="EDTF", help="When it was in use: 1620/1644.")
@click.option(
    "--sheet-place",
    "sheet_places",
    multiple=True,
    metavar="WORDS",
    help="Where on the sheet: lower left, in image, verso; repeatable.",
)
@click.option(
    "--drawing",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="An SVG file of plain shapes; it is copied into marks/drawings/.",
)
@click.option("--note", metavar="TEXT", help="What a cataloguer should know.")
@click.option("--slug", metavar="NAME", help="The last part of the IRI, where another is wanted.")
@sighting_options
@support_options
@to_options
def mark(
    letters: str | None, kind: str | None, device: str | None, arrangement: str | None, label: str | None, makers: tuple[str, ...],
    roles: tuple[str, ...], on_copies: bool, period: str | None, sheet_places: tuple[str, ...], drawing: Path | None, note: str | None, slug: str | None,
    object_: str | None, state: str | None, seen_place: str | None, seen_date: str | None, transcription: str | None, quoted: bool,
    cite: str | None, locator: str | None, as_found: str | None, standing: str | None, folder: Path | None, home: Path | None, dry: bool,
) -> int:  # fmt: skip
    """Add a mark with LETTERS, a device, or both.

    A mark with the same letters and the same device is refused with the place of the first, unless --slug gives it an IRI of
    its own.
    """
    adding = Adding("add mark", folder, home, whole=letters is None and device is None)
    asking = adding.asking
    letters = asking.optional(letters, "Its letters, as they are read")
    device = asking.optional(device, "What it shows")
    if not letters and not device:
        raise Fault("margent add mark needs its LETTERS, or what it shows: say it with --device")
    support = adding.support(cite, locator, as_found, standing, needed=False)
    sighting = adding.sighting(
        asking.optional(object_, "The print it was met on"),
        state,
        seen_place,
        seen_date,
        transcription,
        quoted,
        support,
    )
    said = (
        [*makers]
        if makers or not asking.whole
        else [each for each in [asking.optional(None, "Whom it stands for")] if each]
    )
    states = (
        [*roles]
        if roles or not asking.whole
        else [each for each in [asking.optional(None, "What it then states")] if each]
    )
    new = NewMark(
        kind=adding.choice("MarkKind", kind, "--kind", "What kind of mark", "maker's mark"),
        letters=letters,
        device=device,
        arrangement=asking.optional(arrangement, "How its letters stand") if letters else arrangement,
        label=label,
        makers=[adding.maker(each, "--for") for each in said],
        states=[adding.role(each, "--states") for each in states],
        period=date_of(asking.optional(period, "When it was in use, in EDTF"), "--period"),
        sheet_places=sheet_places,
        note=note,
        drawn=drawing is not None,
        on_copies=on_copies,
        sighting=sighting,
        support=support if not quoted else type(support)(),
    )
    iri = Iri(f"{adding.authority.base}mark/{slug}") if slug else new.iri(adding.authority.base)
    adding.refuse_second(iri, f"the mark {iri.rpartition('/')[2]}")
    if not slug:
        _refuse_second(adding, new)
    further: dict[Path, str] = {}
    if drawing is not None:
        if not drawing.is_file():
            raise Fault(f"{drawing}: no such file; name an SVG file of plain shapes with --drawing")
        plain_shapes(drawing)
        further[adding.folder / "marks" / "drawings" / f"{iri.rpartition('/')[2]}.svg"] = read_text(drawing)
    for maker in new.makers:  # the maker's page shows the mark
        adding.add_to(maker, "mg:mark", iri)
    path = lettered_file(adding.authority, "marks", iri.rpartition("/")[2])
    return adding.write(new.entry(iri), path, dry=dry, further=further)


def _refuse_second(adding: Adding, new: NewMark) -> None:
    """Nothing comes back; raises Fault where a mark of the authority has the same letters and shows the same."""
    for iri, known in adding.vocabulary.marks.items():
        path = adding.authority.entries.get(iri)
        same_letters = sorted(letters_of(known.letters or "")) == sorted(letters_of(new.letters or ""))
        same_device = [text.value.casefold() for text in known.devices] == (
            [new.device.casefold()] if new.device else []
        )
        if path is not None and same_letters and same_device:
            raise Fault(
                f"{adding.line_of(iri, path)}: {known.slug} has the same letters and shows the same; add to it there, or give --slug where it is another one"
            )

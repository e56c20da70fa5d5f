"""`margent forms`: how a maker's name may stand on prints: forms that were met, with their places, and forms made by rule."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from margent.cli.data_out import data_out
from margent.cli.options import authority_option, home_option
from margent.exchange.letterings import printable
from margent.faults import Fault
from margent.names.authority import Authority
from margent.names.inflect import name_forms
from margent.names.lore import Lore
from margent.publishing.reader_cache import cache_folder
from margent.vocabulary.here import authority_folders, room
from margent.vocabulary.load import load
from margent.vocabulary.model import Attestation, Iri, Maker, Vocabulary

LONGEST = 200
"""Characters of one name at most."""
MEANT = 0.5
"""From this share on a maker of the authority is taken to be meant."""

EXAMPLE = """\b
Examples:
  margent forms "Verrou, Anna" --authority demo
  margent forms "Barent van Holm" --as json
"""


@click.command(name="forms", epilog=EXAMPLE)
@click.argument("name")
@click.option("--as", "form", type=click.Choice(("table", "json")), default="table", help="table (the usual), or json.")
@home_option
@authority_option
def command(name: str, form: str, home: Path | None, authorities: tuple[str, ...]) -> int:
    """Say how the name of a maker may stand on prints.

    Forms that an authority has seen come first, each with where it was seen. The others are made by rule, in Latin and
    with the endings of other languages, and are marked so: that a form can be made is no sign that it was ever used.
    """
    if len(name) > LONGEST:
        raise Fault(f"a name of {len(name):,} characters; the longest that is taken has {LONGEST:,}: give one name")
    printable(name, "the name")
    folders = authority_folders(authorities, home)
    vocabulary = load(room("vocab", home), folders)
    maker = _maker(name, folders, vocabulary)
    met = _met(maker) if maker is not None else []
    known = {each["form"] for each in met}
    label = maker.label() if maker is not None else name
    made = [
        {"form": each.text, "language": each.language, "says": each.means, "generated": True, "attested": []}
        for each in name_forms(label, Lore(vocabulary))
        if each.text not in known
    ]
    answer = {
        "query": name, "maker": maker.iri if maker is not None else None, "label": label, "forms": [*met, *made],
    }  # fmt: skip
    data_out().write(
        json.dumps(answer, ensure_ascii=False, indent=2) + "\n" if form == "json" else _table(label, met, made)
    )
    return 0 if met or made else 1


def _maker(name: str, folders: list[Path], vocabulary: Vocabulary) -> Maker | None:
    """The maker of the authorities who is meant; None where nobody is, or no authority was named."""
    if not folders:
        return None
    best = Authority.load(folders, vocabulary, cache_folder()).candidates(name, limit=1).candidates
    return vocabulary.makers.get(Iri(best[0].maker)) if best and best[0].probability > MEANT else None


def _met(maker: Maker) -> list[dict[str, Any]]:
    return [
        {
            "form": each.literal.value,
            "language": each.literal.lang,
            "says": each.form_kind,
            "generated": False,
            "attested": [_place(one) for one in each.attestations],
        }
        for each in maker.name_forms
    ]


def _place(seen: Attestation) -> dict[str, Any]:
    return {
        "object": seen.object,
        "state": seen.state,
        "place": seen.sheet_place,
        "date": seen.date,
        "transcription": seen.transcription,
        "seen": seen.seen,
    }


def _table(label: str, met: list[dict[str, Any]], made: list[dict[str, Any]]) -> str:
    """The forms for the eye: those that were met with their places, then those made by rule, one line for each meaning."""
    out = [label]
    for each in met:
        out.append(f"  {each['form']} ({each['language']})" + ("" if each["attested"] else "  noted without a place"))
        out += [
            "      " + ", ".join(str(part) for part in (one["object"], one["date"], one["transcription"]) if part)
            + ("" if one["seen"] else " (quoted)")
            for one in each["attested"]
        ]  # fmt: skip
    if made:
        out.append("  made by rule, not seen:")
    rows: dict[str, list[str]] = {}
    for each in made:
        rows.setdefault(f"{each['language']} {each['says']}".removeprefix("mul "), []).append(each["form"])
    width = max(map(len, rows), default=0)
    out += [f"      {says:{width}}  {', '.join(forms)}" for says, forms in rows.items()]
    return "\n".join(out) + "\n"

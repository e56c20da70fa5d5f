"""`margent begin`: an institution's own authority, ready for its first maker."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from margent import __version__
from margent.checking.check import check
from margent.checking.findings import report
from margent.cli.asking import Asking
from margent.cli.data_out import data_out
from margent.cli.options import home_option
from margent.faults import Fault
from margent.vocabulary.begun_files import begun_files
from margent.vocabulary.here import room
from margent.vocabulary.in_place import put_in_place
from margent.vocabulary.iris import is_iri, is_language
from margent.vocabulary.new_authority import NOT_EVALUATED, NewAuthority, checked_base
from margent.vocabulary.slugs import slug

KEPT = frozenset({"README.md", ".gitattributes"})
"""Files that a folder may have already, and keeps."""

EXAMPLE = """\b
Examples:
  margent begin ours/ --base https://prints.museum.example/authority/ --title "Makers in our prints" --publisher "The Museum"
  margent begin ours/            asks for what is needed; where nobody can be asked the folder's name stands in
"""


@click.command("begin", epilog=EXAMPLE)
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--base",
    metavar="IRI",
    help="What the IRIs of its makers and marks begin with, under an address that you keep for good.",
)
@click.option("--title", metavar="TEXT", help="What the authority is called.")
@click.option("--publisher", metavar="TEXT", help="Who answers for it.")
@click.option(
    "--licence",
    metavar="IRI",
    help="The licence under which it is given, as https://creativecommons.org/publicdomain/zero/1.0/.",
)
@click.option(
    "--language",
    "languages",
    multiple=True,
    metavar="TAG",
    help="A language of its texts (en if not said); repeatable.",
)
@home_option
def command(
    folder: Path, base: str | None, title: str | None, publisher: str | None, licence: str | None, languages: tuple[str, ...], home: Path | None
) -> int:  # fmt: skip
    """Begin an authority in FOLDER: who answers for it, empty rooms for makers and marks, and a check that every change must pass.

    The folder may be there, as a repository that was just made; nothing in it is written over.
    """
    if folder.exists() and not folder.is_dir():
        raise Fault(f"{folder}: is a file; name a folder, which may be new")
    if (folder / "publication.ttl").exists():
        raise Fault(
            f"{folder}: is an authority already, for it has a publication.ttl; change that, or name another folder"
        )
    asking = Asking("begin", whole=base is None)
    name = folder.resolve().name or "authority"
    base = checked_base(
        asking.needed(
            base,
            "--base",
            "The IRI that all its IRIs begin with, as https://prints.museum.example/authority/",
            stand_in=f"https://{slug(name) or 'authority'}.example/authority/",
        )
    )
    title = asking.needed(title, "--title", "What the authority is called", stand_in=f"Makers and marks: {name}")
    publisher = asking.needed(publisher, "--publisher", "Who answers for it", stand_in=name)
    licence = asking.optional(licence, "The IRI of the licence under which it is given")
    if licence is not None and not is_iri(licence):
        raise Fault(
            f"--licence {licence!r}: is no IRI; write it whole, as https://creativecommons.org/publicdomain/zero/1.0/"
        )
    for tag in languages:
        if not is_language(tag) or "-" in tag:
            raise Fault(f"--language {tag!r}: is no language tag; write en, fr, de")
    new = NewAuthority(base, title, publisher, licence or NOT_EVALUATED, languages or ("en",))
    texts = {folder / name: text for name, text in begun_files(title, publisher, base, __version__).items()}
    there = sorted(path for path in texts if path.exists())
    if in_the_way := [path for path in there if str(path.relative_to(folder)) not in KEPT]:
        raise Fault(f"{in_the_way[0]}: is there already, and would be written over; move it, or name another folder")
    texts = {path: text for path, text in texts.items() if path not in there}
    texts[folder / "publication.ttl"] = new.publication(folder / "publication.ttl", dt.datetime.now(tz=dt.UTC).date())
    put_in_place(texts)
    (folder / ".ci" / "check").chmod(0o755)
    for path in sorted(texts):
        data_out().write(f"{path}\n")
    for path in there:
        click.echo(f"{path}: was there, and was left as it is", err=True)
    if asking.stood_in:
        click.echo(
            f"{folder / 'publication.ttl'}: {', '.join(asking.stood_in)} not said: stand-ins were made from the folder's name; "
            "put your own in their place before anything is published",
            err=True,
        )
    if licence is None:
        click.echo(
            f"{folder / 'publication.ttl'}: says of the licence only that nobody has looked into it; put one in its place",
            err=True,
        )
    outcome = check([folder], [room("vocab", home)], room("shapes", home))
    if outcome.findings:
        click.echo(report(outcome.findings), err=True, nl=False)
    click.echo(
        f"{folder}: begun; {'nothing to mend' if not outcome.violations else f'{outcome.violations} to mend'}", err=True
    )
    return 1 if outcome.violations else 0

"""`margent tidy`: every Turtle file in the one form."""

from __future__ import annotations

from pathlib import Path

import click

from margent.cli.options import home_option

EXAMPLE = """\b
Example:
  margent tidy vocab/terms/la.ttl
  margent tidy --check
"""


@click.command("tidy", epilog=EXAMPLE)
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path))
@click.option("--check", is_flag=True, help="Write nothing; list what is not tidy and leave with exit code 1.")
@home_option
def command(paths: tuple[Path, ...], check: bool, home: Path | None) -> int:
    """Write Turtle files in one stable form, so that a change shows only the lines it changed.

    PATHS are files and folders; without any it is the whole of vocab/. The files that were not tidy are listed.
    What the files say never changes; a comment below the head of a file, or a blank node, is refused.
    """
    from margent.vocabulary.here import room
    from margent.vocabulary.in_place import put_in_place
    from margent.vocabulary.tidy import untidy
    from margent.vocabulary.turtle import turtle_files

    files: dict[Path, None] = {}
    for path in paths or (room("vocab", home),):
        files |= dict.fromkeys(turtle_files(path, all_below=True) if path.is_dir() else [path])
    found = untidy(files)
    if not check:
        put_in_place(found)
    for path in found:
        click.echo(path)
    click.echo(
        f"{len(found)} of {len(files)} files {'are not tidy' if check else 'were not tidy and are now'}", err=True
    )
    return 1 if check and found else 0

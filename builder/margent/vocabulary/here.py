"""Where the vocabulary, the shapes and the site's source lie, and where an institution's own authority does.

Nothing is ever fetched: a folder is on this machine or it is a fault.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from margent.faults import Fault

Room = Literal["vocab", "shapes", "site"]

HOME_VARIABLE = "MARGENT_HOME"
AUTHORITY_VARIABLE = "MARGENT_AUTHORITY"

# The name under which the invented makers are asked for. It is a word, not a path, so that it works from any folder.
DEMO = "demo"

_PACKAGE = Path(__file__).resolve().parent.parent


def home(given: Path | None = None) -> Path:
    """The folder that holds vocab/, shapes/ and site/.

    The first of these that is said or there: `given` (the option --home), the variable MARGENT_HOME, the checkout this
    file is part of, the data inside the installed package. Raises Fault when the one said holds no vocab/.
    """
    if given is not None:
        return _with_vocabulary(given, "--home")
    said = os.environ.get(HOME_VARIABLE)
    if said:
        return _with_vocabulary(Path(said), HOME_VARIABLE)
    for folder in _own_homes():
        if (folder / "vocab").is_dir():
            return folder
    raise Fault(
        f"the installed package has no vocabulary: install it again, or name a folder that holds vocab/ with {HOME_VARIABLE}"
    )


def room(name: Room, given: Path | None = None) -> Path:
    """The folder `name` of the home; raises Fault when it is not there."""
    folder = home(given) / name
    if not folder.is_dir():
        raise Fault(f"{folder}: no such folder; a home of Margent holds vocab/, shapes/ and site/")
    return folder


def authority_folder(said: str | Path, given: Path | None = None) -> Path:
    """The folder of one authority: the word `demo` is the invented one in vocab/, anything else is a path.

    Raises Fault when the folder is missing or has no publication.ttl, which every authority has. A folder that is really
    called demo is named `./demo`.
    """
    folder = room("vocab", given) / DEMO if str(said) == DEMO else Path(said).expanduser()
    if not folder.is_dir():
        raise Fault(f"{folder}: no such folder; an authority is a folder with publication.ttl, makers/ and marks/")
    if not (folder / "publication.ttl").is_file():
        raise Fault(
            f"{folder}: not an authority, for it has no publication.ttl; write one with a title, a base IRI and a version"
        )
    return folder


def authority_folders(said: Sequence[str | Path] = (), given: Path | None = None) -> list[Path]:
    """The folders of the authorities to use, each once, in the order said.

    `said` (the option --authority) wins over the variable MARGENT_AUTHORITY, which names several with the separator of
    PATH. With neither there is none: nobody is offered invented makers unasked.
    """
    names: Sequence[str | Path] = said or [
        name for name in os.environ.get(AUTHORITY_VARIABLE, "").split(os.pathsep) if name
    ]
    folders: dict[Path, Path] = {}
    for name in names:
        folder = authority_folder(name, given)
        folders.setdefault(folder.resolve(), folder)
    return list(folders.values())


def _own_homes() -> list[Path]:
    """Where this program may have its data: beside builder/ in a checkout, inside the package when installed."""
    checkout = [_PACKAGE.parent.parent] if _PACKAGE.parent.name == "builder" else []
    return [*checkout, _PACKAGE / "_data"]


def _with_vocabulary(folder: Path, said_by: str) -> Path:
    """That folder; raises Fault when it holds no vocab/."""
    folder = folder.expanduser()
    if not (folder / "vocab").is_dir():
        raise Fault(f"{folder}: holds no vocab/; {said_by} must name a folder with vocab/, shapes/ and site/")
    return folder

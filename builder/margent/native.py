"""The reader as machine code: the same readings in less time, where it was made from exactly the sources that are here.

`python -m margent.native` makes it from the modules of `margent.lettering` by mypyc and a C compiler, and puts it into the
environment under a digest of these sources and of this Python.  Where the sources have another digest the reader is plain
Python: no machine code outlives what it was made from, and who edits the sources need not know of it.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterable
from importlib.machinery import EXTENSION_SUFFIXES
from importlib.util import find_spec, module_from_spec, spec_from_file_location
from pathlib import Path

from margent.faults import Fault

PLAIN = "MARGENT_PLAIN"
"""While this is set in the environment, no machine code is used."""
PACKAGE = Path(__file__).parent
LEFT_OUT = ("__init__", "conditions", "forms", "word_kinds", "words")
"""Modules that are not on the way of a lettering through the reader."""
LIBRARY = "__mypyc"
"""How the name of the one library ends that holds the code of all modules."""
EFFORT = {"MYPYC_OPT_LEVEL": "1"}
"""A third less time to make it than with the most effort, for a reader that is hardly slower."""


def kept_in() -> Path:
    """The folder of this environment for the machine code."""
    return Path(sys.prefix) / "lib" / "margent-native"


def sources() -> list[Path]:
    """The modules that become machine code."""
    return [path for path in sorted((PACKAGE / "lettering").glob("*.py")) if path.stem not in LEFT_OUT]


def digest(paths: Iterable[Path]) -> str:
    """What tells these sources, as this Python runs them, from all others."""
    found = hashlib.sha256(f"{sys.version} {EXTENSION_SUFFIXES[0]}".encode())
    for path in paths:
        text = path.read_bytes()
        found.update(f"\0{path.name} {len(text)}\0".encode() + text)
    return found.hexdigest()[:24]


def folders(package: Iterable[str]) -> list[str]:
    """Where the modules of a package are looked for: in its own folders, and before them in that of the machine code if it fits."""
    plain = list(package)
    if os.environ.get(PLAIN) or not kept_in().is_dir():
        return plain
    folder = kept_in() / digest(sources())
    for library in folder.glob(f"*{LIBRARY}*"):
        name = library.name.partition(".")[0]
        spec = spec_from_file_location(name, library)
        if spec is None or spec.loader is None:
            continue
        try:
            sys.modules[name] = module_from_spec(spec)
            spec.loader.exec_module(sys.modules[name])
        except (ImportError, OSError):  # the plain reader does the same
            sys.modules.pop(name, None)
        else:
            return [str(folder), *plain]
    return plain


def build() -> bool:
    """Whether the machine code was made now; it is not where it is there already. What was made from other sources is removed.

    Raises Fault where mypyc or a C compiler is missing, or the environment cannot be written to.
    """
    import shutil
    import subprocess
    import tempfile

    paths = sources()
    folder = kept_in() / digest(paths)
    if folder.is_dir():
        return False
    if find_spec("mypyc") is None or find_spec("setuptools") is None:
        raise Fault("mypyc is not installed: pip install 'margent[native]'")
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name) / PACKAGE.name
        (copy / "lettering").mkdir(parents=True)
        for path in [*PACKAGE.glob("*.py"), *paths, PACKAGE / "lettering" / "__init__.py"]:
            shutil.copy(path, copy / path.relative_to(PACKAGE))
        done = subprocess.run(  # noqa: S603 - this Python, and our own sources
            [sys.executable, "-m", "mypyc", *[f"{copy.name}/lettering/{path.name}" for path in paths]],
            cwd=name,
            env={**os.environ, **EFFORT},
            capture_output=True,
            text=True,
            check=False,
        )
        made = [*copy.parent.glob(f"*{LIBRARY}*"), *(copy / "lettering").glob(f"*{EXTENSION_SUFFIXES[0]}")]
        if done.returncode != 0 or len(made) != len(paths) + 1:
            said = (done.stderr or done.stdout).strip().splitlines() or ["it said nothing"]
            raise Fault(
                f"mypyc made no machine code of the reader ({said[-1]}): it needs a C compiler (Debian: gcc, python3-dev)"
            )
        whole = copy.parent / folder.name
        whole.mkdir()
        for path in made:
            shutil.move(path, whole)
        try:
            shutil.rmtree(kept_in(), ignore_errors=True)
            kept_in().mkdir(parents=True)
            unfinished = kept_in() / f"{folder.name}.part"
            shutil.copytree(whole, unfinished)
            unfinished.rename(folder)
        except OSError as cause:
            raise Fault(
                f"{kept_in()}: cannot be written ({cause.strerror}): use an environment of your own (python -m venv)"
            ) from cause
    return True


def main() -> int:
    """The exit code of `python -m margent.native`: 0 where the reader is machine code now, 2 where it stays plain Python."""
    try:
        made = build()
    except Fault as fault:
        print(f"The reader stays plain Python, which reads the same in more time: {fault}", file=sys.stderr)  # noqa: T201
        return 2
    print("The reader is machine code now." if made else "The reader is machine code already.", file=sys.stderr)  # noqa: T201
    return 0


if __name__ == "__main__":
    sys.exit(main())

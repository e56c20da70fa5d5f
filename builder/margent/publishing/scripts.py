"""The scripts of the site as a page opened from a disk can load them: each one file, its modules wrapped in their order.

A browser loads ES modules over http only. So every file that lies directly in site/scripts/ is published as one classic
script: the modules it imports stand before it, each in a function of its own that gives back what it exports. Only the
plain forms of import and export are understood; `site/scripts/README.md` names them.
"""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

from margent.faults import Fault

READER = "reader"
"""The folder of modules that is published as it is too, for whoever wants the reader in a page of their own."""

_IMPORT = re.compile(r'^import \{([^}]*)\} from "(\.{1,2}/[\w./-]+\.js)";$', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function\*?|class|const) ([\w$]+))", re.MULTILINE)
_LEFT = re.compile(r"^(?:import|export)\b.*", re.MULTILINE)
_IMPORTED_NAME = re.compile(r"[\w$]+(?: as [\w$]+)?")


def write_scripts(source: Path, target: Path) -> None:
    """Nothing comes back: the scripts of site/scripts/ are written below `target`; raises Fault for a module that cannot be wrapped."""
    target.mkdir(parents=True, exist_ok=True)
    for entry in sorted(set(source.glob("*.js")) - {source / "offline.js"}):  # that one lies at the top, see offline.py
        (target / entry.name).write_text(bundled(entry), encoding="utf-8", newline="\n")
    if (source / READER).is_dir():
        shutil.copytree(source / READER, target / READER)


def bundled(entry: Path) -> str:
    """One classic script that does what the module `entry` does, with all that it imports."""
    order: list[Path] = []
    _collect(entry.resolve(), order, ())
    names = {path: f"module{number}" for number, path in enumerate(order)}
    shown = ", ".join(path.relative_to(entry.resolve().parent).as_posix() for path in order)
    parts = [f'// written by `margent publish` from {shown}\n"use strict";\n(() => {{\n']
    parts.extend(_wrapped(path, names) for path in order)
    parts.append("})();\n")
    return "".join(parts)


def data_script(name: str, text: str) -> str:
    """A script that gives a page the JSON `text` under a name; a page opened from a disk may load scripts but no data."""
    quoted = text.strip().replace("\\", "\\\\").replace("'", "\\'").replace("\n", "\\n")
    quoted = quoted.replace("\r", "\\r").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f"margentGive({json.dumps(name)},JSON.parse('{quoted}'));\n"


def _collect(path: Path, order: list[Path], above: tuple[Path, ...]) -> None:
    """Puts the modules that `path` imports, and then itself, into `order`."""
    if path in above:
        raise Fault(f"{path}: imports itself by way of {above[-1].name}; move what both need into a module of its own")
    if path in order:
        return
    for imported in _IMPORT.finditer(_text(path)):
        _collect((path.parent / imported[2]).resolve(), order, (*above, path))
    order.append(path)


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise Fault(f"{path}: cannot be read ({error.strerror}); mend the import that names it") from None


def _wrapped(path: Path, names: dict[Path, str]) -> str:
    exported: list[str] = []

    def of_import(found: re.Match[str]) -> str:
        wanted = [each.strip() for each in found[1].split(",") if each.strip()]
        for each in wanted:
            if not _IMPORTED_NAME.fullmatch(each):
                raise Fault(f"{path}: {each!r} is no name to import")
        taken = ", ".join(each.replace(" as ", ": ") for each in wanted)
        return f"const {{ {taken} }} = {names[(path.parent / found[2]).resolve()]};"

    def of_export(found: re.Match[str]) -> str:
        exported.append(found[1])
        return ""

    text = _EXPORT.sub(of_export, _IMPORT.sub(of_import, _text(path)))
    left = _LEFT.search(text)
    if left:
        raise Fault(
            f'{path}: {left[0]!r} is a form that is not wrapped; write import {{ name }} from "./file.js"; '
            "and export before a function, class or const"
        )
    given = f"return {{ {', '.join(exported)} }};\n" if exported else ""
    return f"const {names[path]} = (() => {{\n{text.rstrip()}\n{given}}})();\n"

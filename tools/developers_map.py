"""Writes the map of files in DEVELOPERS.md from the first sentence of each module: `python tools/developers_map.py`.

A map kept by hand is wrong within a month; this one is checked by tests/test_documented.py.
"""

from __future__ import annotations

import ast
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BEGIN = "<!-- written by tools/developers_map.py: change the docstrings, not these lines -->\n"
END = "<!-- end of what is written -->\n"


def first_sentence(module: Path) -> str:
    """The first paragraph of the module's docstring, on one line."""
    said = ast.get_docstring(ast.parse(module.read_text(encoding="utf-8"))) or ""
    return " ".join(said.split("\n\n")[0].split())


def file_map() -> str:
    """The map: a line for each file of the package, by folder."""
    lines: list[str] = []
    package = ROOT / "builder" / "margent"
    for folder in [package, *sorted(path.parent for path in package.glob("*/__init__.py"))]:
        lines.append(f"\n**{folder.relative_to(ROOT / 'builder')}/**: {first_sentence(folder / '__init__.py')}\n\n")
        lines += [
            f"- `{module.name}`: {first_sentence(module)}\n"
            for module in sorted(folder.glob("*.py"))
            if module.name != "__init__.py"
        ]
    return "".join(lines) + "\n"


def with_map(text: str) -> str:
    """The text of DEVELOPERS.md with the map as it should be."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return before + BEGIN + file_map() + END + after


if __name__ == "__main__":
    page = ROOT / "DEVELOPERS.md"
    page.write_text(with_map(page.read_text(encoding="utf-8")), encoding="utf-8", newline="\n")
    sys.exit(0)

"""Writes shapes/examples.json: for each rule what breaks it and what keeps it, cut out of the fixtures of its tests.

    python tools/rule_examples.py

Of the two entries of a fixture only the lines in which they differ are shown, each below the subject it belongs to.
"""

from __future__ import annotations

import difflib
import json
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FIXTURES = ROOT / "tests" / "checking" / "fixtures"
MOST = 14  # lines of one example


def examples(fixtures: Path = FIXTURES) -> dict[str, dict[str, str]]:
    """For each rule the texts `good` and `bad`."""
    found = {}
    for folder in sorted(fixtures.iterdir()):
        if folder.name != "beside":
            good, bad = _lines(folder, "good"), _lines(folder, "bad")
            kept, broken = set(), set()
            for what, g1, g2, b1, b2 in difflib.SequenceMatcher(None, good, bad, autojunk=False).get_opcodes():
                if what != "equal":
                    kept |= set(range(g1, g2)) or {g1 - 1}
                    broken |= set(range(b1, b2)) or {b1 - 1}
            sides = _shown(good, kept) or _beginnings(good), _shown(bad, broken) or _beginnings(bad)
            found[folder.name] = dict(zip(("good", "bad"), sides, strict=True))
    return found


def as_text(found: dict[str, dict[str, str]]) -> str:
    """The file that is written."""
    note = "made from tests/checking/fixtures by tools/rule_examples.py; change those"
    return json.dumps({"about": note, "examples": found}, ensure_ascii=False, indent=1) + "\n"


def _lines(folder: Path, side: str) -> list[str]:
    """The lines of one side of a fixture, without prefixes, marks and what tells the two sides apart."""
    path = folder / side
    files = sorted(path.glob("*.ttl")) if path.is_dir() else [path.with_suffix(".ttl")]
    text = "\n".join(file.read_text("utf-8", "replace") for file in files)
    text = re.sub(r"^(@prefix|@base|# also:).*\n", "", text, flags=re.MULTILINE)
    text = re.sub(r" *# here$", "", text, flags=re.MULTILINE)
    return [line for line in text.replace(f"{folder.name}/{side}/", "").splitlines() if line.strip()]


def _beginnings(lines: list[str]) -> str:
    """The subjects alone, where the two sides differ in how they are parted into files."""
    return "\n".join([line for line in lines if not line.startswith(" ")][:4])


def _shown(lines: list[str], wanted: set[int]) -> str:
    """Those lines, each below the subject it belongs to; what is left out between them is told by dots."""
    shown: set[int] = set()
    for number in sorted(wanted)[:MOST]:
        if 0 <= number < len(lines):
            above = next((each for each in range(number, -1, -1) if not lines[each].startswith(" ")), number)
            shown |= {above, number}
    text: list[str] = []
    last = -1
    for number in sorted(shown):
        if last >= 0 and number > last + 1 and lines[number].startswith(" "):
            text.append("    ...")
        text.append(lines[number])
        last = number
    return "\n".join(text)


if __name__ == "__main__":
    (ROOT / "shapes" / "examples.json").write_text(as_text(examples()), "utf-8", newline="\n")

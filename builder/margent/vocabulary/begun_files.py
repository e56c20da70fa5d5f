"""The files with which an institution's own authority begins, beside its publication.ttl."""

from __future__ import annotations

ROOMS = {
    "makers": "Persons, families, workshops, firms and hands known by their mark; at most 500 entries a file.",
    "marks": "Monograms, devices, chops and stamps; drawings as plain SVG in drawings/.",
    "sources": "The books, lists and papers that the entries cite.",
    "terms": "Role terms that you met and that the general vocabulary does not have.",
}
"""The rooms, each with what belongs in it; a room that is empty would be lost by version control."""

CHECK = """\
#!/bin/sh
# What every change to this authority must pass: run it before a commit, and from whatever builds your changes.
set -eu
cd "$(dirname "$0")/.."
margent tidy --check .
margent check .
"""

WORKFLOW = """\
# Every change is checked before it is merged. Another service than this one needs only .ci/check and Python 3.11.
name: check
on: [push, pull_request]
permissions:
  contents: read
jobs:
  check:
    runs-on: ubuntu-latest
    timeout-minutes: 15
    steps:
      - uses: actions/checkout@v4
        with:
          persist-credentials: false
      - uses: actions/setup-python@v5
        with:
          python-version: "3.11"
      # The variable MARGENT of the repository may name another version, or where to take it from: git+https://...
      - run: python -m pip install "${{ vars.MARGENT || 'margent=={version}' }}"
      - run: sh .ci/check
"""

ATTRIBUTES = "*.ttl text eol=lf\n*.svg text eol=lf\n"

README = """\
# {title}

The makers and marks of {publisher}, as linked data that Margent reads, checks and publishes.
Their IRIs begin with <{base}> and are kept for good: what turns out wrong is withdrawn, not deleted.

| folder | what is in it |
|---|---|
{rooms}

## What to do with it

    margent add maker "Verrou, Anna" --born 1602 --role engraver --to .     one maker; without a name it asks
    margent import makers list.csv --to .                                  a list that you keep already
    margent add form anna-verrou "A. Verrou" --kind "as signed" --object "P.1: A Harbour" --to .
    margent add mark AV --device "a crescent" --for anna-verrou --states engraver --to .
    sh .ci/check                                                            what every change must pass
    margent who "A. Verrou" --date 1633 --authority .                      who is meant
    margent read --authority . "A. Verrou sculp."                           a lettering, read with your makers
    margent publish --authority . --to public/                              a site and dumps

`publication.ttl` says who answers for the data, under which licence it is given, and its version: year and month.
"""


def begun_files(title: str, publisher: str, base: str, version: str) -> dict[str, str]:
    """The text of each file, by its path inside the folder."""
    rooms = "\n".join(f"| {name}/ | {what} |" for name, what in ROOMS.items())
    return {
        "README.md": README.format(title=title, publisher=publisher, base=base, rooms=rooms),
        ".gitattributes": ATTRIBUTES,
        ".ci/check": CHECK,
        ".github/workflows/check.yml": WORKFLOW.replace("{version}", version),
        **{f"{name}/README.md": f"{what}\n" for name, what in ROOMS.items()},
    }

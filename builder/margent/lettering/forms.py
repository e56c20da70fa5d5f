"""The forms of the compiled reader, packed and unpacked.

Sorted keys share their beginnings, and many forms share what they may be; packed so, the file is a third smaller.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Row = Sequence[Any]
"""What a form may be: label, reference, weight, how the form was made."""


def pack(forms: Mapping[str, Sequence[Row]]) -> dict[str, Any]:
    """Keys as one text, a line each: how many characters stand as in the key before, a tab, the rest; and for each key the number of its rows in `rows`."""
    numbers: dict[str, int] = {}
    rows: list[Sequence[Row]] = []
    keys: list[str] = []
    which: list[int] = []
    before = ""
    for key in sorted(forms):
        shared = 0
        while shared < min(len(before), len(key)) and before[shared] == key[shared]:
            shared += 1
        keys.append(f"{shared}\t{key[shared:]}")
        before = key
        name = repr(forms[key])
        if name not in numbers:
            numbers[name] = len(rows)
            rows.append(forms[key])
        which.append(numbers[name])
    return {"keys": "\n".join(keys), "rows": rows, "which": which}


def unpack(packed: Mapping[str, Any]) -> dict[str, Sequence[Row]]:
    """The forms as they were before packing.

    >>> unpack(pack({"sc": [["back", "la-sculpsit", 0, "cut"]]}))
    {'sc': [['back', 'la-sculpsit', 0, 'cut']]}
    """
    forms: dict[str, Sequence[Row]] = {}
    key = ""
    rows = packed["rows"]
    for line, number in zip(packed["keys"].split("\n"), packed["which"], strict=True):
        shared, _, rest = line.partition("\t")
        key = key[: int(shared)] + rest
        forms[key] = rows[number]
    return forms

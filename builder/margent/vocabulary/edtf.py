"""The years that an EDTF date or period allows, for comparison.

Level 1 of the Extended Date/Time Format (Library of Congress, 2019-02-04) and the sets of level 2 that
life dates need; https://www.loc.gov/standards/datetime/.
"""

from __future__ import annotations

import re

EARLIEST, LATEST = 1, 9999
"""What an open or unknown end is taken for."""

_MONTH = "(?:0[1-9X]|1[0-2X]|2[1-9X]|3[0-9X]|4[01X]|X[0-9X])"  # 21 to 41 are seasons, quarters and halves
_DAY = "(?:0[1-9X]|[12][0-9X]|3[01X]|X[0-9X])"
_DATE = re.compile(rf"(-?[0-9]{{2}}[0-9X]{{2}})(?:S[0-9])?(?:-{_MONTH}(?:-{_DAY})?)?[?~%]?\Z")
_ABOUT = {"~": 5, "%": 10, "?": 5}


def years(text: str) -> tuple[int, int]:
    """The first and the last year that the EDTF text allows; an approximate year is widened by five, an open end is EARLIEST or LATEST.

    Raises ValueError for text that is no EDTF of the supported forms, and for a reversed interval.

    >>> years("1559/1614"), years("159X"), years("1590~"), years("1590/.."), years("[1559,1560]")
    ((1559, 1614), (1590, 1599), (1585, 1595), (1590, 9999), (1559, 1560))
    """
    text = text.strip()
    if text[:1] in "[{" and text[-1:] in "]}" and len(text) > 2:
        found = [years(part) if ".." not in part else _range(part) for part in text[1:-1].split(",")]
        return min(low for low, _ in found), max(high for _, high in found)
    if "/" in text:
        left, _, right = text.partition("/")
        low = EARLIEST if left in ("", "..") else years(left)[0]
        high = LATEST if right in ("", "..") else years(right)[1]
        if low > high:
            raise ValueError(f"{text}: the interval ends before it begins")
        return low, high
    return _single(text)


def _range(text: str) -> tuple[int, int]:
    left, _, right = text.partition("..")
    return (_single(left)[0] if left else EARLIEST), (_single(right)[1] if right else LATEST)


def _single(text: str) -> tuple[int, int]:
    widened = 0
    if text[:1] in _ABOUT:
        widened = _ABOUT[text[0]]
        text = text[1:]
    if text[-1:] in _ABOUT:
        widened = _ABOUT[text[-1]]
    match = _DATE.match(text)
    if match is None:
        raise ValueError(f"{text!r} is no EDTF date")
    year = match[1]
    return int(year.replace("X", "0")) - widened, int(year.replace("X", "9")) + widened

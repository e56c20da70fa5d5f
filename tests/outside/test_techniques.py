"""Letterings that tell how a print was made, quoted on pages that anybody can open and judged before they were read.

`data/letterings-of-techniques.jsonl` holds the address where each is quoted, the lettering, and what it says each name did,
in roles of the vocabulary.  When first read, 11 of the 23 were right in every name and role, 21 in every role; what is still
wrong stands in `MISSES` with the reason.
"""

import json
from pathlib import Path

import pytest

from margent.exchange.letterings import lettering_from

QUOTED = [
    json.loads(line)
    for line in (Path(__file__).parent / "data" / "letterings-of-techniques.jsonl")
    .read_text(encoding="utf-8")
    .splitlines()
]
HONOURS = "of several honours behind a name only the first is taken into it"
MISSES = {
    "audubon-1-retouched": HONOURS,
    "audubon-6-lizars": HONOURS,
    "audubon-31-havell-and-son": HONOURS,
    "audubon-31-havell": HONOURS,
    "audubon-6-retouched": "a stop behind an abbreviated word of four letters is not taken into the name (Junr.)",
    "taylor-havell-museum": "a stop behind a whole word of three letters is taken into the name (Son.)",
    "smith-indian-widow": "a trade behind a name at the end of a line is taken for the next line's",
    "danforth-jamestown": "a stop and a dash between two makers cost the second his first initial",
}


@pytest.mark.parametrize(
    "record",
    [
        pytest.param(
            record,
            id=record["id"],
            marks=[pytest.mark.xfail(strict=True, reason=MISSES[record["id"]])] if record["id"] in MISSES else [],
        )
        for record in QUOTED
    ],
)
def test_what_each_name_did_is_read(reader, record):
    said = [(statement.name, statement.roles) for statement in reader.read(lettering_from(record)).statements]
    assert said == [(statement["name"], statement["roles"]) for statement in record["statements"]]


def test_every_lettering_says_where_it_is_quoted():
    assert all(record["source"].startswith("http") for record in QUOTED)
    assert len({record["id"] for record in QUOTED}) == len(QUOTED)
    assert set(MISSES) <= {record["id"] for record in QUOTED}

"""Letterings quoted in records, catalogues and pages that anybody can open, judged before they were read.

`data/letterings-published.jsonl` holds the address where each is quoted, the lettering, and what it says each name did, by
the rules of judged letterings.  They were found after the reader's rules had been written; three habits were mended
because of them (a name divided by a hyphen, "voor" behind "gedruckt", partners set off by commas).
"""

import json
from pathlib import Path

from margent.exchange.letterings import lettering_from
from margent.exchange.scoring import figures

PUBLISHED = [
    json.loads(line)
    for line in (Path(__file__).parent / "data" / "letterings-published.jsonl").read_text(encoding="utf-8").splitlines()
]
ENOUGH = 0.94
"""Close F1 of the whole table: 0.94 when first read, 0.97 once three habits were mended."""


def test_published_letterings_are_read(reader, scorer):
    tallies = [scorer.tally(record, reader.read(lettering_from(record)).as_dict()) for record in PUBLISHED]
    wrong = [f"{tally.id}: missed {tally.missed}, added {tally.added}" for tally in tallies if not tally.whole]
    assert figures(tallies, "close").f1 >= ENOUGH, "\n".join(wrong)


def test_every_lettering_says_where_it_is_quoted():
    assert all(record["source"].strip() for record in PUBLISHED)
    assert len({record["id"] for record in PUBLISHED}) == len(PUBLISHED)

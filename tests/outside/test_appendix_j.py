"""Every abbreviation of a published table is read as the table says.

Source: Descriptive Cataloging of Rare Materials (RBMS), Appendix J, "Abbreviations", all 34 rows;
https://bsc.rbms.info/DCRMR/appendices/Appendix-j/ .  The roles beside each row were written down before the first run.
"""

from __future__ import annotations

import pytest

from margent.lettering.reader import Reader, lettering_of
from margent.lettering.words import Words

ROWS = [
    # abbreviations, what a reading may say, what the senses must hold
    (("a.f.", "aq.", "aqt.", "aqua.", "aquaf."), {"etcher"}, {"etcher"}),
    (("A.P.",), {"proof"}, {"proof"}),
    (("APDR",), {"privilege"}, {"privilege"}),
    (("aq:tinta.",), {"aquatinter"}, {"aquatinter"}),
    (("B.A.T.",), {"proof"}, {"proof"}),
    (("cae.", "cael."), {"engraver"}, {"engraver"}),
    (("comp.",), {"designer"}, {"designer"}),
    (("CPR",), {"privilege"}, {"privilege"}),
    (("CPES",), {"privilege"}, {"privilege"}),
    (("CPSCM",), {"privilege"}, {"privilege"}),
    (("del.", "delt.", "delin."), {"draughtsman"}, {"draughtsman"}),
    (("deping.", "depingeb."), {"painter", "draughtsman"}, {"painter", "draughtsman"}),
    (("desig.",), {"designer", "draughtsman"}, {"designer", "draughtsman"}),
    (("dess.",), {"draughtsman"}, {"draughtsman"}),
    (("direx.",), {"director"}, {"director"}),
    (("divulg.",), {"publisher"}, {"publisher"}),
    (("E.A.A.C.",), {"copyright-entry"}, {"copyright-entry"}),
    (("effig.",), {"draughtsman"}, {"draughtsman"}),
    (("engd.", "eng."), {"engraver"}, {"engraver"}),
    (("ex.", "exc.", "exct.", "excud."), {"publisher", "printer"}, {"publisher", "printer"}),
    (("fac.",), {"printmaker"}, {"printmaker"}),
    (("f.", "fec.", "fect."), {"printmaker"}, {"printmaker"}),
    (("fig.",), {"draughtsman"}, {"draughtsman"}),
    (("gedr. zu",), {"printer"}, {"printer"}),
    (("gez.",), {"draughtsman"}, {"draughtsman"}),
    (("H.C.",), {"edition", "proof"}, {"proof"}),
    (("imp.",), {"printer"}, {"printer"}),
    (("inc.", "incid."), {"engraver"}, {"engraver"}),
    (("in.", "inv."), {"designer"}, {"designer"}),
    (("lith.", "litho.", "lithog."), {"lithographer", "printer", "publisher"}, {"lithographer"}),
    (("ph sc.",), {"photo-engraver"}, {"photo-engraver"}),
    (("ping.", "pins.", "pinx.", "pinxt."), {"painter"}, {"painter"}),
    (("scrip.",), {"letter-engraver"}, {"letter-engraver"}),
    (("sc.", "sculp.", "sculps.", "sculpt."), {"engraver", "etcher"}, {"engraver", "etcher"}),
]

CASES = [pytest.param(short, read, senses, id=short) for shorts, read, senses in ROWS for short in shorts]


def test_the_table_is_whole() -> None:
    assert len(ROWS) == 34


@pytest.mark.parametrize(("short", "read", "senses"), CASES)
def test_reading(reader: Reader, short: str, read: set[str], senses: set[str]) -> None:
    """A made-up name with the abbreviation behind it gets a role or a notice of the row."""
    reading = reader.read(lettering_of([f"X. Tobler {short}"]))
    said = {role for statement in reading.statements if statement.terms for role in statement.roles}
    said |= {notice.kind for notice in reading.notices}
    assert said
    assert said <= read, f"{short} was read as {said}"


@pytest.mark.parametrize(("short", "read", "senses"), CASES)
def test_senses(words: Words, short: str, read: set[str], senses: set[str]) -> None:
    """Where the table gives two meanings, both are among the senses."""
    answers = words.ask(short)
    assert senses <= {answer.role or answer.notice for answer in answers}

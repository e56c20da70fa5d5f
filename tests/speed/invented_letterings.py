"""Invented letterings for measuring speed: the same ones on every machine, each different from all others.

The wording is the trade's in seven languages; the names are put together from syllables and belong to nobody.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

SEED = 1612

HEADS = (
    "Bra",
    "Del",
    "Fro",
    "Gal",
    "Hol",
    "Kes",
    "Lam",
    "Mor",
    "Nef",
    "Pel",
    "Quin",
    "Ras",
    "Sto",
    "Tob",
    "Ver",
    "Wal",
    "Zim",
)
MIDDLES = ("", "la", "ne", "ri", "do", "mel", "ven", "ta")
TAILS = (
    "berg",
    "court",
    "dini",
    "er",
    "field",
    "huys",
    "ius",
    "lot",
    "man",
    "ni",
    "quet",
    "rou",
    "sen",
    "ton",
    "velt",
    "zzi",
)
INITIALS = "ABCDEFGHIJLMNPRSTVW"
FORENAMES = (
    "Joh.",
    "Jac.",
    "Petrus",
    "Gio. Batt.",
    "William",
    "Jean",
    "Franç.",
    "Carolus",
    "Hieron.",
    "Cornelis",
    "Antonio",
    "Georg",
    "Anna",
    "Maria",
)
PARTICLES = ("", "", "", "", "", "van ", "de ", "von ", "van der ", "del ", "de la ")
SOURCE = (
    "inv.",
    "invenit",
    "pinxit",
    "pinx.",
    "delin.",
    "del.",
    "delineavit",
    "inventor",
    "pinxt.",
    "dis.",
    "invt.",
    "fig.",
)
MATRIX = (
    "sculp.",
    "sculpsit",
    "sc.",
    "fecit",
    "fec.",
    "incidit",
    "inc.",
    "sculpt.",
    "scul.",
    "caelavit",
    "f. aqua forti",
    "lith.",
)
BEFORE = (
    "Gravé par",
    "Dessiné par",
    "Engraved by",
    "Painted by",
    "Drawn by",
    "Gestochen von",
    "gez. von",
    "Inciso da",
    "Disegnato da",
    "Grabado por",
    "getekend door",
    "Peint par",
)
ISSUE = ("excudit", "excud.", "exc.", "formis", "divulgavit", "ex.")
TOWNS = (
    "Antuerpiae",
    "Romae",
    "Parisiis",
    "Amstelodami",
    "London",
    "Augustae Vindelicorum",
    "Venetiis",
    "Norimbergae",
    "à Paris",
    "Wien",
    "Lugduni",
    "Roma",
)
PRIVILEGE = (
    "Cum privilegio",
    "Cum Priv. S.C.M.",
    "Avec Privilege du Roi",
    "con licenza de Superiori",
    "C.P.S.C.M.",
    "mit kais. Freiheit",
)
ADDRESS = (
    "Sold by {} in Cornhill",
    "A Paris chez {} rue S. Jacques",
    "Published as the Act directs by {}",
    "London, Printed for {}",
    "Verlag von {}",
    "In Roma presso {}",
    "t'Amsterdam by {} op den Dam",
)
TITLES = (
    "Prospectus fori novi",
    "The Evening of the Year",
    "Vue du port et de la rade",
    "S. Hieronymus in deserto",
    "Veduta della piazza maggiore",
    "Ansicht der alten Brücke",
    "Gezicht op de haven",
)
BETWEEN = (" ", ", ", " / ", ". ", "; ")


def letterings(number: int, seed: int = SEED) -> Iterator[str]:
    """So many different letterings of one line each, always the same for a seed."""
    dice = random.Random(seed)
    seen: set[str] = set()
    while len(seen) < number:
        line = _line(dice)
        if line not in seen:
            seen.add(line)
            yield line


def _name(dice: random.Random) -> str:
    surname = dice.choice(PARTICLES) + dice.choice(HEADS) + dice.choice(MIDDLES) + dice.choice(TAILS)
    if dice.random() < 0.12:
        return surname
    if dice.random() < 0.35:
        return f"{dice.choice(FORENAMES)} {surname}"
    return f"{dice.choice(INITIALS)}. {surname}"


def _signature(dice: random.Random, words: tuple[str, ...]) -> str:
    return f"{_name(dice)} {dice.choice(words)}"


def _imprint(dice: random.Random) -> str:
    return f"{_name(dice)} {dice.choice(ISSUE)} {dice.choice(TOWNS)} {dice.randrange(1550, 1880)}"


def _line(dice: random.Random) -> str:
    """One lettering; the shares of the kinds are those one meets in a portfolio: mostly two names, seldom a long imprint."""
    kind = dice.random()
    if kind < 0.22:
        parts = [_signature(dice, SOURCE + MATRIX)]
    elif kind < 0.52:
        parts = [_signature(dice, SOURCE), _signature(dice, MATRIX)]
    elif kind < 0.66:
        parts = [_signature(dice, SOURCE), _signature(dice, MATRIX), _imprint(dice)]
    elif kind < 0.78:
        parts = [f"{dice.choice(BEFORE)} {_name(dice)}", f"{dice.choice(BEFORE)} {_name(dice)}"]
    elif kind < 0.88:
        parts = [dice.choice(ADDRESS).format(_name(dice)) + f" {dice.randrange(1680, 1880)}"]
    elif kind < 0.94:
        parts = [_signature(dice, MATRIX), dice.choice(PRIVILEGE)]
    else:
        parts = [dice.choice(TITLES), _signature(dice, MATRIX)]
    text = dice.choice(BETWEEN).join(parts).replace("..", ".")
    return text.upper() if dice.random() < 0.06 else text

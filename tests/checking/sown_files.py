"""Faults of whole files: files that are no Turtle, and files that are too long, each with the line that must be told."""

import random
import re

LONGEST = 500  # makers or marks in a file


def _of_a_line(fits, change):
    """What spoils one line of a file, of those that lend themselves: the new lines, and the one that must be told."""

    def spoil(lines, chance):
        at = chance.choice([number for number, line in enumerate(lines) if re.search(fits, line)])
        return [*lines[:at], change(lines[at]), *lines[at + 1 :]], at + 1

    return spoil


NOT_TURTLE = {
    "a quotation mark left out": _of_a_line(r'"[^"]+"@\w+ [;.]$', lambda line: line.replace('"@', "@", 1)),
    "a prefix that is not declared": _of_a_line(r"^    mg:\w+ mg:", lambda line: line.replace("mg:", "gm:", 1)),
    "a blank in an IRI": _of_a_line(r"<\w+/\w+[^>]*> [;.]$", lambda line: re.sub(r"<(\w+)/", r"<\1/ ", line)),
    "a bracket that nothing opens": _of_a_line(r" ;$", lambda line: f"{line[:-1]}) ;"),
    "an escape that does not exist": _of_a_line(r'"[^"]+"@\w+ [;.]$', lambda line: line.replace('"', '"\\q', 1)),
    "no value": _of_a_line(r'^    \S+ "[^"]*"\S* ;$', lambda line: re.sub(r'"[^"]*"\S* ;', ";", line)),
    "no end of a statement": _of_a_line(r" \.$(?<!> \.)", lambda line: line[:-2]),
    "bytes that are no UTF-8": _of_a_line(r'^    \S+ "[^"]', lambda line: line.replace('"', '"\udcff', 1)),
    "a text without end": _of_a_line(r'^    \S+ "[^"]', lambda line: line.replace('"', '"' + "long " * 2500, 1)),
}


def not_turtle(paths, seed=7):
    """For each way to spoil a file one of the files, as its new bytes, and the line that must be told."""
    chance = random.Random(seed)
    for (name, spoil), path in zip(NOT_TURTLE.items(), chance.sample(sorted(paths), len(NOT_TURTLE)), strict=True):
        lines, line = spoil(path.read_text("utf-8").splitlines(), chance)
        yield name, path, ("\n".join(lines) + "\n").encode("utf-8", "surrogateescape"), line


def too_long(folder, base):
    """Files of a few more makers or marks than there may be, by path; the first line is told."""
    for number, kind in enumerate(("maker", "mark", "maker", "mark", "maker"), start=1):
        head = [f"@base <{base}> .", "@prefix mg: <https://w3id.org/margent/ns#> ."]
        entries = [f"<{kind}/q-{number}-{each}> a mg:{kind.capitalize()} ." for each in range(LONGEST + number)]
        yield folder / f"long-{number}.ttl", "\n".join([*head, *entries]) + "\n"

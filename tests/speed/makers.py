"""How long an index of makers takes, how much memory, and how long a look-up, beside a full scan by a general library.

Run by hand, never by `make test`:

    python tests/speed/makers.py [--makers 100000] [--queries 1000] [--scanned 40]

The makers are invented, with six name forms each; the index is made from the stream of triples, in a process of its own
whose highest memory is told. Names are asked as prints write them: misspelt, in Latin cases, cut short, with initials.
What the index remembers of words it has met is taken from it before each name. The general library is rapidfuzz, whose
token-set ratio is asked for the likest of all forms, for fewer names, for each takes it long. Look-ups and scans are measured
in the time that the process was at work, so that others on the machine count little.
"""

from __future__ import annotations

import argparse
import random
import resource
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import click
from invented_makers import write
from rapidfuzz import fuzz, process, utils

from margent.names.authority import Authority
from margent.names.index import Index
from margent.names.index_stream import records
from margent.names.lore import Lore
from margent.vocabulary.here import room
from margent.vocabulary.load import load

FORMS = 6
SEED = 7
VOWELS = "aeiou"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    asked.add_argument("--makers", type=int, default=100_000)
    asked.add_argument("--queries", type=int, default=1000)
    asked.add_argument("--scanned", type=int, default=40)
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "authority"
        write(folder, options.makers, FORMS)
        size = sum(path.stat().st_size for path in folder.rglob("*.ttl"))
        click.echo(f"{options.makers:,} makers, {FORMS} forms each, {size / 1e6:,.0f} MB of Turtle")
        lore = Lore(load(room("vocab")))
        began, used = time.perf_counter(), time.process_time()
        index = Index.of(records([folder]), lore)
        took, used = time.perf_counter() - began, time.process_time() - used
        click.echo(
            f"index from the triples: {took:.1f} s, {used:.1f} s of them at work; highest memory {memory():.2f} GiB"
        )
        queries = list(names_on_prints(index, options.queries))
        authority = Authority(index)
        look_ups(authority, queries)
        click.echo(f"highest memory of the whole, queries too: {memory():.2f} GiB")
        full_scan(index, queries[: options.scanned])


def memory() -> float:
    """The highest memory of this process so far, in GiB; Linux tells it in kilobytes."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1 << 20)


def names_on_prints(index: Index, count: int) -> list[tuple[str, int]]:
    """So many names, each with the number of the maker from whose name it was made."""
    chance = random.Random(SEED)
    ways: list[Callable[[str, str], str]] = [
        lambda given, family: f"{given} {slip(family, chance)}",
        lambda given, family: f"{given[0]}. {family}",
        lambda given, family: f"{family}, {given}",
        lambda given, family: f"{given}us {family}ius",
        lambda given, family: f"{given[:3]}. {family}i",
        lambda given, family: f"{given} van {family}",
        lambda given, family: f"{given[0]}. {family}",
        lambda given, family: f"{given} {family[:-1]}{chance.choice(VOWELS)}",
    ]
    found = []
    for number in range(count):
        maker = chance.randrange(len(index.iris))
        family, given = index.labels[maker].split(", ")
        found.append((ways[number % len(ways)](given, family), maker))
    return found


def slip(word: str, chance: random.Random) -> str:
    """The word with one letter changed for another."""
    at = chance.randrange(1, len(word))
    return word[:at] + chance.choice("abcdefghijklmnopqrstuvwxyz") + word[at + 1 :]


def look_ups(authority: Authority, queries: list[tuple[str, int]]) -> None:
    """Nothing comes back: times of single look-ups are told, and how many have the right maker first and among five."""
    times, first, five = [], 0, 0
    authority.candidates(queries[0][0])
    for name, maker in queries:
        authority.index.likes.forget()
        began = time.process_time()
        found = authority.candidates(name, limit=5).candidates
        times.append((time.process_time() - began) * 1000)
        numbers = [each.number for each in found]
        first += numbers[:1] == [maker]
        five += maker in numbers
    times.sort()
    click.echo(
        f"look-up: median {statistics.median(times):.2f} ms, 95 of 100 within {times[len(times) * 95 // 100]:.2f} ms, "
        f"longest {times[-1]:.1f} ms; right maker first {first / len(queries):.3f}, among five {five / len(queries):.3f}"
    )


def full_scan(index: Index, queries: list[tuple[str, int]]) -> None:
    """Nothing comes back: the same of a scan of all forms by token-set ratio."""
    forms = [utils.default_process(text) for text in index.form_texts]
    times, first = [], 0
    for name, maker in queries:
        began = time.process_time()
        _, _, at = process.extractOne(utils.default_process(name), forms, scorer=fuzz.token_set_ratio)
        times.append((time.process_time() - began) * 1000)
        first += index.form_maker[at] == maker
    click.echo(
        f"full scan of {len(forms):,} forms by token-set ratio: median {statistics.median(times):.0f} ms; "
        f"right maker first {first / len(queries):.3f} of the first {len(queries)} names"
    )


if __name__ == "__main__":
    main()

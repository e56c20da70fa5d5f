"""How many letterings a second one process reads, beside two general taggers of short texts, measured in the same run.

Run by hand, never by `make test`:

    pip install usaddress probablepeople
    python tests/speed/benchmark.py [--lines 20000] [--rounds 3] [--profile]

Every line is different; each is read by itself and its answer written as JSON; the reader remembers nothing of one line
for another.  It is measured as machine code where that was made (`python -m margent.native`), with MARGENT_PLAIN=1 as plain
Python, which alone can be profiled function by function.  The taggers take turns, round by round, so that whatever else the machine does falls on all of them; the
middle round counts.
"""

from __future__ import annotations

import argparse
import cProfile
import gc
import json
import pstats
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import click
from invented_letterings import letterings

import margent.lettering.reader as reader_module
from margent.lettering.reader import Reader, lettering_of
from margent.publishing.reader_cache import compiled_reader
from margent.vocabulary.here import room

Task = Callable[[str], str]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    asked.add_argument("--lines", type=int, default=20_000)
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--profile", action="store_true", help="say where the reader's time goes instead")
    options = asked.parse_args()
    lines = list(letterings(options.lines))
    began = time.perf_counter()
    compiled = compiled_reader(room("vocab"))
    loaded = time.perf_counter() - began
    reader = Reader(compiled)
    click.echo(f"compiled reader loaded in {loaded:.3f} s, made ready in {time.perf_counter() - began - loaded:.3f} s")
    plain = Path(reader_module.__file__ or "").suffix == ".py"
    click.echo("the reader is plain Python" if plain else "the reader is machine code")
    click.echo(f"{len(lines):,} different lines, {sum(map(len, lines)) / len(lines):.0f} characters each on average")
    if options.profile:
        profile(reader, lines)
        return
    compare({"margent": ours(reader), **others()}, lines, options.rounds)


def ours(reader: Reader) -> Task:
    """Reading a line as `margent read --as jsonl` does; the reader remembers nothing from one to the next."""
    gc.collect()
    gc.freeze()  # as a batch does, once it is ready

    def read(line: str) -> str:
        return json.dumps(reader.read(lettering_of([line])).as_dict(), ensure_ascii=False)

    return read


def others() -> dict[str, Task]:
    """The taggers that are installed."""
    found: dict[str, Task] = {}
    try:
        import usaddress
    except ImportError:
        click.echo("usaddress is not installed: pip install usaddress")
    else:
        found["usaddress"] = lambda line: json.dumps(usaddress.parse(line), ensure_ascii=False)
    try:
        import probablepeople
    except ImportError:
        click.echo("probablepeople is not installed: pip install probablepeople")
    else:
        found["probablepeople"] = lambda line: json.dumps(probablepeople.parse(line), ensure_ascii=False)
    return found


def compare(tasks: dict[str, Task], lines: list[str], rounds: int) -> None:
    """Prints lines a second of each, and how many times as fast as each other the reader is."""
    seconds: dict[str, list[float]] = {name: [] for name in tasks}
    for task in tasks.values():
        for line in lines[:200]:
            task(line)
    for _ in range(rounds):
        for name, task in tasks.items():
            began = time.process_time()
            for line in lines:
                task(line)
            seconds[name].append(time.process_time() - began)
    rates = {name: len(lines) / statistics.median(taken) for name, taken in seconds.items()}
    for name, rate in rates.items():
        spread = ", ".join(f"{len(lines) / taken:,.0f}" for taken in seconds[name])
        click.echo(f"{name:<15} {rate:>9,.0f} lines a second  (rounds: {spread})")
    for name, rate in rates.items():
        if name != "margent":
            click.echo(f"margent is {rates['margent'] / rate:.2f} times as fast as {name}")


def profile(reader: Reader, lines: list[str]) -> None:
    """Prints the functions that take the most time by themselves."""
    read = ours(reader)
    for line in lines[:200]:
        read(line)
    watch = cProfile.Profile()
    watch.enable()
    for line in lines[:3000]:
        read(line)
    watch.disable()
    pstats.Stats(watch).sort_stats("tottime").print_stats(30)


if __name__ == "__main__":
    main()

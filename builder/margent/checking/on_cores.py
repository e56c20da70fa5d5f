"""What is made of each of many things, in their order: worked out on one core, or on several where there is much to do.

Workers are forked, so that they have all that was read without being sent it; where there is no forking, one core does it.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

Thing = TypeVar("Thing")
Made = TypeVar("Made")

_MOST_CORES = 8

# What the forked workers work with: they get it by being forked, for it is too large to be sent.
_shared: tuple[Callable[[Any], Any], Sequence[Any]] | None = None


def made(work: Callable[[Thing], Made], things: Sequence[Thing], much: bool) -> Iterator[Made]:
    """What `work` makes of each thing; `much` says whether it is worth the start of other processes."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if much and cores > 1 and len(things) > 1:
        import multiprocessing

        if "fork" in multiprocessing.get_all_start_methods():
            yield from _by_several(work, things, min(cores, len(things), _MOST_CORES))
            return
    yield from map(work, things)


def _by_several(work: Callable[[Thing], Made], things: Sequence[Thing], cores: int) -> Iterator[Made]:
    import gc
    import multiprocessing

    global _shared  # noqa: PLW0603 - the one way for a forked worker to have what it was not sent
    _shared = (work, things)
    gc.freeze()  # or the collector would touch, and so copy, all that the workers share
    try:
        with multiprocessing.get_context("fork").Pool(cores, _leave_quietly) as pool:
            yield from pool.imap(_one, range(len(things)))
    finally:
        _shared = None
        gc.unfreeze()


def _leave_quietly() -> None:
    """Nothing comes back: Ctrl-C goes to every process of the run, and the first one answers it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _one(number: int) -> Any:
    assert _shared is not None
    work, things = _shared
    return work(things[number])

"""The answers to the rows of a batch, in their order, read on one core or on several.

Every process loads the compiled reader once; only a few chunks of rows are under way at any time, so that memory stays
flat however long the file is.
"""

from __future__ import annotations

import gc
import multiprocessing
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from itertools import chain, islice
from typing import Any, NamedTuple

from margent.exchange.letterings import Row
from margent.exchange.makers_named import Makers, MakersNamed
from margent.faults import Fault
from margent.lettering.reader import Reader

FEW = 256
"""Rows that one process has read before others would have started."""

CHUNK_ROWS = 64
CHUNK_CHARACTERS = 200_000
"""What is handed to a process at once: so many rows, or fewer long ones."""

AHEAD = 3
"""Chunks under way for each process: enough to keep it busy while the first is awaited."""


class Answer(NamedTuple):
    """What is written for a row, and whether the row was broken or had anything to read."""

    written: Any
    broken: bool


Writing = Callable[[dict[str, Any], Row], Any]
"""Makes of an answer, and the row it answers, what is to be written; goes to other processes, so it must be a plain function or object."""


def answer(reader: Reader, row: Row, makers: MakersNamed | None = None) -> dict[str, Any]:
    """The reading of a row as plain data, its makers filled in where there are any to ask; or its id and what is wrong with it."""
    if row.lettering is None:
        return {"id": row.id, "error": row.error}
    try:
        found = reader.read(row.lettering).as_dict()
        if makers is not None:
            makers.fill(found, row.lettering)
    except Fault as fault:
        return {"id": row.id, "error": f"row {row.number}: {fault}"}
    except Exception as broken:  # noqa: BLE001 - one row must not cost the others of a long run
        return {
            "id": row.id,
            "error": f"row {row.number}: a fault of Margent itself ({type(broken).__name__}); the other rows stand",
        }
    return found


def answers(
    compiled: Mapping[str, Any], rows: Iterable[Row], writing: Writing, jobs: int, makers: Makers | None = None
) -> Iterator[Answer]:
    """What `writing` makes of the answer to each row, in the order of the rows; the same for any number of jobs."""
    source = iter(rows)
    first = list(islice(source, FEW)) if jobs > 1 else []
    if jobs > 1 and len(first) == FEW:
        yield from _in_parallel(compiled, chain(first, source), writing, jobs, makers)
        return
    reader, named = Reader(compiled), makers.open() if makers is not None else None
    _spare_collecting()
    for row in chain(first, source):
        yield _written(reader, named, row, writing)


def _written(reader: Reader, makers: MakersNamed | None, row: Row, writing: Writing) -> Answer:
    found = answer(reader, row, makers)
    return Answer(writing(found, row), "error" in found)


def _in_parallel(
    compiled: Mapping[str, Any], rows: Iterator[Row], writing: Writing, jobs: int, makers: Makers | None
) -> Iterator[Answer]:
    if makers is not None:
        makers.open()  # a fault is told once, and the index is in its cache before the processes ask for it
    pool = ProcessPoolExecutor(
        jobs, multiprocessing.get_context(), initializer=_start, initargs=(compiled, writing, makers)
    )
    under_way: deque[Future[list[Answer]]] = deque()
    try:
        for chunk in _chunks(rows):
            under_way.append(pool.submit(_read_chunk, chunk))
            if len(under_way) >= jobs * AHEAD:
                yield from under_way.popleft().result()
        while under_way:
            yield from under_way.popleft().result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _chunks(rows: Iterator[Row]) -> Iterator[list[Row]]:
    chunk: list[Row] = []
    size = 0
    for row in rows:
        chunk.append(row)
        size += sum(len(line.text) + 50 for line in row.lettering.lines) if row.lettering else 0
        if len(chunk) >= CHUNK_ROWS or size >= CHUNK_CHARACTERS:
            yield chunk
            chunk, size = [], 0
    if chunk:
        yield chunk


_here: tuple[Reader, MakersNamed | None, Writing] | None = None
"""The reader of this process, the makers it asks, and what it makes of answers."""


def _start(compiled: Mapping[str, Any], writing: Writing, makers: Makers | None) -> None:
    """Nothing comes back: a process of the pool is made ready."""
    global _here  # noqa: PLW0603 - a pool's initializer can hand its work to the tasks in no other way
    signal.signal(
        signal.SIGINT, signal.SIG_IGN
    )  # the first process ends the others; each would print a traceback of its own
    _here = Reader(compiled), makers.open() if makers is not None else None, writing
    _spare_collecting()


def _spare_collecting() -> None:
    """Nothing comes back: what is there by now stays to the end, so that no search for what can be thrown away passes through it again."""
    gc.collect()
    gc.freeze()


def _read_chunk(rows: list[Row]) -> list[Answer]:
    assert _here is not None, "the process was not made ready"
    reader, makers, writing = _here
    return [_written(reader, makers, row, writing) for row in rows]

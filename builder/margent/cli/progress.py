"""How far a long run has come, told on stderr where that is a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterable, Iterator
from typing import TypeVar

import click

Each = TypeVar("Each")

EVERY = 0.5
"""Seconds between two tellings."""


def told(each: Iterable[Each], done: int = 0) -> Iterator[Each]:
    """The same things, while a line on a terminal says how many rows there were so far, `done` of them before this run."""
    if not sys.stderr.isatty():
        yield from each
        return
    began = shown = time.monotonic()
    number = 0
    try:
        for one in each:
            number += 1
            now = time.monotonic()
            if now - shown >= EVERY:
                shown = now
                click.echo(
                    f"\r{done + number:,} rows read, {number / (now - began):,.0f} a second ", err=True, nl=False
                )
            yield one
    finally:
        if shown > began:
            click.echo(f"\r{done + number:,} rows read{' ' * 24}", err=True)

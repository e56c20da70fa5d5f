"""Where data goes: standard output, in UTF-8 whatever the machine's language is set to."""

from __future__ import annotations

import io
import sys
from typing import TextIO


def data_out() -> TextIO:
    """Standard output, ready for any character a lettering may hold."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")
    return sys.stdout

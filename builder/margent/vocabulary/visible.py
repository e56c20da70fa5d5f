"""Texts from files, shown to somebody: with what would not be seen, or would do something to a screen, spelt out."""

from __future__ import annotations


def visible(text: str) -> str:
    r"""The text with every character that would not be seen, or would do something to a screen, spelt out.

    >>> visible("a \u202e\x1b[2J")
    'a \\u202e\\u001b[2J'
    """
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else f"\\u{ord(char):04x}" for char in text)

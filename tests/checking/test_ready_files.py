"""The hook and the workflow call commands and options that there are."""

import re

import click
import pytest

from margent.cli import margent


def calls(text):
    """The margent commands in a text, each with its options."""
    return [
        (call[1], re.findall(r"(?<!\S)--[a-z-]+", call[2]))
        for call in re.finditer(r"(?:run|entry): margent (\w+)(.*)", text)
    ]


@pytest.mark.parametrize("name", [".pre-commit-hooks.yaml", ".github/workflows/check.yml"])
def test_what_is_called_is_there(root, name):
    found = calls((root / name).read_text("utf-8"))
    assert len(found) == 2
    for command, options in found:
        there = margent.get_command(click.Context(margent), command)
        assert there is not None, command
        known = {option for parameter in there.params for option in parameter.opts}
        assert set(options) <= known

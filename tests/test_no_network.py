"""No command ever opens a connection: neither a lettering nor a vocabulary leaves the machine, and nothing is fetched."""

import subprocess
import sys

import click
import pytest

from margent.cli import margent, run

# An audit hook cannot be taken off again and sees every connection that Python code tries, whatever the library.
FORBID = """
import sys
def forbid(event, args):
    if event in {"socket.connect", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto", "socket.bind"}:
        sys.stderr.write(f"tried the network: {event} {args}\\n")
        sys.stderr.flush()
        import os
        os._exit(99)
sys.addaudithook(forbid)
from margent.cli import main
main()
"""
LETTERING = "A. Verrou pinxit / B. Holm sculp. et excud. Antuerpiae 1612"

# How each command is tried, and the exit codes that say it did its work; {tmp} is an empty folder.
TRIED = {
    "read": (["read", LETTERING, "--as", "json"], {0, 1}),
    "word": (["word", "sculpsit"], {0, 1}),
    "who": (["who", "A. Verrou", "--authority", "demo"], {0}),
    "forms": (["forms", "Verrou, Anna", "--authority", "demo"], {0}),
    "attribute": (["attribute", "workshop of Anna Verrou, after Holm"], {0}),
    "mark": (["mark", "VA", "--device", "key", "--authority", "demo"], {0}),
    "gaps": (["gaps", "{tmp}/letterings.csv"], {0}),
    "check": (["check"], {0, 1}),
    "compare": (["compare", "{tmp}/makers.nt", "{tmp}/makers.nt"], {0}),
    "tidy": (["tidy", "--check"], {0, 1}),
    "import": (
        ["import", "makers", "{tmp}/makers.csv", "--to", "{tmp}/ours", "--base", "https://prints.museum.example/"],
        {0},
    ),
    "begin": (
        ["begin", "{tmp}/ours", "--base", "https://prints.museum.example/", "--title", "Ours", "--publisher", "Us"],
        {0},
    ),
    "add": (["add", "maker", "Verrou, Anna", "--role", "engraver", "--to", "{tmp}/begun", "--dry"], {0}),
    "publish": (["publish", "--to", "{tmp}/public"], {0}),
    "score": (["score", "--help"], {0}),
}


def listed():
    return margent.list_commands(click.Context(margent))


def test_every_command_is_tried():
    assert set(listed()) <= set(TRIED)


@pytest.mark.parametrize("name", [name for name in listed() if name in TRIED])
def test_a_command_works_without_the_network(name, tmp_path):
    args, good = TRIED[name]
    (tmp_path / "letterings.csv").write_text(f'id,lettering\n1,"{LETTERING}"\n')
    if name == "add":
        begin = [
            "begin",
            str(tmp_path / "begun"),
            "--base",
            "https://prints.museum.example/",
            "--title",
            "Ours",
            "--publisher",
            "Us",
        ]
        assert run(begin) == 0
    (tmp_path / "makers.nt").write_text("<https://a.example/1> <https://a.example/is> <https://a.example/2> .\n")
    (tmp_path / "makers.csv").write_text("id,name,uri\n1,Anna Verrou,https://elsewhere.example/1\n")
    command = [sys.executable, "-c", FORBID, *(word.format(tmp=tmp_path) for word in args)]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode in good, done.stderr


@pytest.mark.parametrize(
    "attempt",
    [
        "import socket; socket.create_connection(('127.0.0.1', 9))",
        "import urllib.request as u; u.urlopen('http://localhost:9/')",
    ],
)
def test_the_guard_itself_works(attempt):
    done = subprocess.run(
        [sys.executable, "-c", FORBID.partition("from margent")[0] + attempt],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 99
    assert done.stderr.startswith("tried the network")

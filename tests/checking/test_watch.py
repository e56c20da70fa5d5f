"""Checking again whenever a file changes, as an editor beside the text has it."""

import os
import select
import shutil
import signal
import subprocess
import sys
import time

FORENAME = """@base <https://fixture.example/> .
@prefix mg: <https://w3id.org/margent/ns#> .
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .

<forename/lowell> a mg:Forename ;
    skos:prefLabel "Lowell"@en ;
    mg:gender mg:unknown ;
    mg:form "Low"@en ;
    mg:standing mg:fromMemory .
"""


def read_until(stream, wanted):
    """What is written up to the wanted words; fails after a minute of silence."""
    said = b""
    end = time.monotonic() + 60
    while wanted not in said:
        assert time.monotonic() < end, said
        if select.select([stream], [], [], 1)[0]:
            said += os.read(stream.fileno(), 65536)
    return said


def test_it_checks_again_when_a_file_changes_and_ends_at_an_interrupt(root, tmp_path, turtle):
    (tmp_path / "home" / "vocab").mkdir(parents=True)
    for path in (root / "vocab").glob("*.ttl"):
        shutil.copy(path, tmp_path / "home" / "vocab")
    shutil.copytree(root / "shapes", tmp_path / "home" / "shapes")
    path = turtle("ours/a.ttl", FORENAME)
    command = [
        sys.executable,
        "-c",
        "from margent.cli import main; main()",
        "check",
        "ours",
        "--home",
        "home",
        "--watch",
    ]
    running = subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    try:
        assert b"[F003]" in read_until(running.stdout, b"waiting for a change")
        path.write_text(FORENAME.replace("mg:unknown", "mg:feminine"), "utf-8")
        assert b"nothing to mend" in read_until(running.stdout, b"waiting for a change")
        running.send_signal(signal.SIGINT)
        assert running.wait(30) == 130
    finally:
        running.kill()
        running.wait()
        running.stdout.close()

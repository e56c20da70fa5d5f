"""How long publishing takes: everything, again with nothing changed, and after one edited maker; by hand, not in the suite.

    python tests/speed/publishing.py [--authority FOLDER] [--makers 10000] [--edits 3] [--to FOLDER]

Without --authority for so many invented makers. Each run is a process of its own, whose start is counted; beside it the
time that the dumps took in it, and processor time, for on a busy machine the wall tells another tale. At the end the site after the edits is compared with one made anew: every byte is the same.
"""

import argparse
import filecmp
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from invented_makers import write

ROOT = Path(__file__).resolve().parent.parent.parent
PROGRAM = """
import functools, sys, time
from margent.cli import run
from margent.publishing import publish
spent = 0.0
plain = publish._Run.write_data
@functools.wraps(plain)
def timed(*given):
    global spent
    began = time.perf_counter()
    plain(*given)
    spent += time.perf_counter() - began
publish._Run.write_data = timed
code = run()
print(f"dumps {spent:.2f}", file=sys.stderr)
sys.exit(code)
"""


def measured(authority, site, cache):
    """Seconds of one run, on the wall and of the processor, those that the dumps took, and what was said."""
    command = [
        sys.executable,
        "-c",
        PROGRAM,
        "publish",
        "--home",
        str(ROOT),
        "--authority",
        str(authority),
        "--to",
        str(site),
    ]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.perf_counter()
    done = subprocess.run(
        command, env=os.environ | {"MARGENT_CACHE": str(cache)}, capture_output=True, text=True, check=True
    )
    took = time.perf_counter() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    *said, last = done.stderr.strip().splitlines()
    return took, used, float(last.split()[1]), said[-1]


def edit(authority, number):
    """One year of the first maker that has one becomes another."""
    path = next(
        path for path in sorted((authority / "makers").glob("*.ttl")) if "mg:born" in path.read_text(encoding="utf-8")
    )
    text = path.read_text(encoding="utf-8")
    path.write_text(re.sub(r'mg:born "[^"]*"', f'mg:born "{1500 + number}"', text, count=1), encoding="utf-8")


def row(what, result):
    took, used, dumps, said = result
    sys.stdout.write(
        f"{what:10} {took:6.1f} s (of the processor {used:5.1f}), of that the dumps {dumps:4.1f}, the rest {took - dumps:5.1f}: {said}\n"
    )
    sys.stdout.flush()


def same(one, other):
    """Whether two folders hold the same files with the same bytes."""
    compared = filecmp.dircmp(one, other)
    if compared.left_only or compared.right_only:
        return False
    _, differing, broken = filecmp.cmpfiles(one, other, compared.common_files, shallow=False)
    return not differing and not broken and all(same(one / name, other / name) for name in compared.common_dirs)


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--authority", type=Path)
    parser.add_argument("--makers", type=int, default=10_000)
    parser.add_argument("--edits", type=int, default=3)
    parser.add_argument("--to", type=Path, help="where the sites are built, instead of a folder for what is passing")
    said = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=said.to) as folder:
        here = Path(folder)
        authority = here / "authority"
        if said.authority:
            shutil.copytree(said.authority, authority)
        else:
            write(authority, said.makers)
        row("everything", measured(authority, here / "site", here / "cache"))
        row("nothing", measured(authority, here / "site", here / "cache"))
        for number in range(said.edits):
            edit(authority, number)
            row("one edit", measured(authority, here / "site", here / "cache"))
        row("anew", measured(authority, here / "anew", here / "other-cache"))
        sys.stdout.write("the same bytes\n" if same(here / "site", here / "anew") else "DIFFERENT BYTES\n")


if __name__ == "__main__":
    main()

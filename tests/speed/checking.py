"""How long a check takes, and how much memory, beside plain pySHACL on the same entries: by hand, not in the suite.

    python tests/speed/checking.py [--sizes 1000,10000,100000] [--reference-up-to 10000] [--to FOLDER]

For each size: the whole check cold, the same again with everything kept, after one edit in the middle of a file, the same with the
general vocabulary checked too, and pySHACL by itself with the shapes as they stand. Each is a process of its own: its start is counted, its peak memory is its own.
Processor time, of all processes, stands beside the time on the wall, which on a busy machine is another matter; the memory is that
of the largest process, with which those that are forked from it share nearly all.
"""

import argparse
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from invented_makers import PER_FILE, write

ROOT = Path(__file__).resolve().parent.parent.parent
CHECK = [sys.executable, "-c", "from margent.cli import main; main()", "check", "--home", str(ROOT)]
REFERENCE = """
import sys
from pathlib import Path
import pyshacl, rdflib
root, folder = map(Path, sys.argv[1:])
data = rdflib.Graph()
for path in [*folder.rglob("*.ttl"), *(root / "vocab").glob("ns*.ttl"), *(root / "vocab" / "roles").glob("*.ttl"), *(root / "vocab" / "places").glob("*.ttl")]:
    data.parse(path)
shapes = rdflib.Graph()
for path in (root / "shapes").glob("*.ttl"):
    shapes.parse(path)
print(len(list(pyshacl.validate(data, shacl_graph=shapes, inplace=True)[1].subjects(rdflib.RDF.type, rdflib.SH.ValidationResult))))
"""


def measured(command, **more):
    """Seconds on the wall, seconds of the processor, peak memory in MB, and what was said."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun = time.perf_counter()
    running = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **more)
    said, summary = running.communicate()
    wall = time.perf_counter() - begun
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    lines = (summary or said).strip().splitlines()
    return wall, used, after.ru_maxrss / 1024, lines[-1] if lines else ""


def one(command, **more):
    """The same, measured in a process of its own so that the peak is that of the command alone."""
    script = f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r}); import checking; print(repr(checking.measured({command!r}, env={dict(more.get('env', os.environ))!r})))"
    return eval(subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout)


def row(size, what, result):
    wall, used, peak, said = result
    sys.stdout.write(f"| {size:,} | {what} | {wall:.1f} | {used:.1f} | {peak:,.0f} | {said} |\n")
    sys.stdout.flush()


def measure(size, folder, with_reference):
    ours = folder / str(size)
    if not ours.exists():
        write(ours, size)
    cache = folder / f"cache-{size}"
    shutil.rmtree(cache, ignore_errors=True)
    env = {**os.environ, "MARGENT_CACHE": str(cache)}
    row(size, "the check, cold", one([*CHECK, str(ours)], env=env))
    row(size, "again, nothing changed", one([*CHECK, str(ours)], env=env))
    edited = sorted((ours / "makers").glob("*.ttl"))[size // PER_FILE // 2]
    text = edited.read_text("utf-8")
    middle = text.index("mg:died", len(text) // 2)
    # a fault in the middle of a file, and its cure
    edited.write_text(
        text[:middle] + 'mg:died "1301"^^edtf:EDTF ; dcterms:abstract "x" ; ' + text[middle + 8 :].partition(";")[2],
        "utf-8",
    )
    edited.write_text(
        edited.read_text("utf-8").replace(
            "@prefix edtf", "@prefix dcterms: <http://purl.org/dc/terms/> .\n@prefix edtf", 1
        ),
        "utf-8",
    )
    row(size, "after an edit that is wrong", one([*CHECK, str(ours)], env=env))
    edited.write_text(text, "utf-8")
    row(size, "after it is mended", one([*CHECK, str(ours)], env=env))
    whole(size, ours, folder, env)
    if with_reference:
        row(size, "pySHACL alone (shapes only)", one([sys.executable, "-c", REFERENCE, str(ROOT), str(ours)]))


# One edit of each kind: what is edited, the room and the text that is put in place of another.
EDITS = (
    ("a maker", None, 'mg:sheetPlace "lower right"', 'mg:sheetPlace "lower left"'),
    ("a term", "terms/la-matrix.ttl", 'mg:variantForm "', 'mg:variantForm "zzq"@la, "'),
    ("a source", "sources/latin.ttl", 'dcterms:title "', 'dcterms:title "The '),
)


def whole(size, ours, folder, env):
    """The general vocabulary and the makers checked together: cold, and after an edit of each kind."""
    home = folder / "home"
    if not home.exists():
        for room in ("vocab", "shapes"):
            shutil.copytree(ROOT / room, home / room)
    env = {**env, "MARGENT_CACHE": env["MARGENT_CACHE"] + "-whole"}
    command = [*CHECK[:-1], str(home), "--authority", str(ours)]
    row(size, "with the whole vocabulary, cold", one(command, env=env))
    for what, path, was, now in EDITS:
        edited = home / "vocab" / path if path else sorted((ours / "makers").glob("*.ttl"))[size // PER_FILE // 2]
        text = edited.read_text("utf-8")
        middle = len(text) // 2 if path is None else 0
        assert was in text[middle:], edited
        edited.write_text(text[:middle] + text[middle:].replace(was, now, 1), "utf-8")
        row(size, f"with the whole vocabulary, after an edit of {what}", one(command, env=env))
        edited.write_text(text, "utf-8")
        one(command, env=env)


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--sizes", default="1000,10000,100000")
    options.add_argument("--reference-up-to", type=int, default=10_000)
    options.add_argument("--to", type=Path, help="a folder to keep the makers in")
    asked = options.parse_args()
    sys.stdout.write("| makers | what | seconds | of the processor | peak MB | said |\n|---|---|---|---|---|---|\n")
    with tempfile.TemporaryDirectory() as temporary:
        for size in map(int, asked.sizes.split(",")):
            measure(size, asked.to or Path(temporary), size <= asked.reference_up_to)


if __name__ == "__main__":
    main()

"""A second, independent engine for SHACL finds the same as the direct checks of the shapes.

Source: rdf-validate-shacl, from npm, in the version of the lock file. In every run of the tests it is asked about the good and
the bad entries of all rules; with `MARGENT_ALL_FAULTS=1`, as a nightly run does, about the whole vocabulary and all seeded
faults (an hour: for each batch it looks at nearly all entries). Skipped where Node or npm is not installed.

Where the two may differ stands in DIFFERENCES with the reason; nothing does at present.
"""

import json
import os
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import pytest
import sown_across
from pyoxigraph import Literal
from sown import Sower, batches, sown

from margent.checking.graph import Graph
from margent.checking.kept import NOTHING
from margent.checking.material import Folder, Material, read, source
from margent.checking.queries import asked_keys
from margent.checking.shapes import shapes_of
from margent.checking.statements import statements

HERE = Path(__file__).parent
FIXTURES = HERE / "fixtures"
SUBCLASS = "http://www.w3.org/2000/01/rdf-schema#subClassOf"
TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
# A component by its local name, and why the two engines may answer otherwise there.
DIFFERENCES: dict[str, str] = {}
ALL = bool(os.environ.get("MARGENT_ALL_FAULTS"))


@pytest.fixture(scope="session")
def engine(node, tmp_path_factory):
    """The folder in which the engine has been installed."""
    npm = shutil.which("npm")
    message = "npm is not installed"
    if npm:
        folder = tmp_path_factory.mktemp("engine")
        shutil.copytree(HERE / "engine", folder, dirs_exist_ok=True)
        command = [npm, "ci", "--no-audit", "--no-fund", "--ignore-scripts", "--prefer-offline"]
        done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=120, check=False)
        if done.returncode == 0:
            return folder
        message = f"npm could not bring the engine: {done.stderr.strip()[-200:]}"
    if os.environ.get("CI", "").lower() in {"1", "true"}:
        pytest.fail(message)
    pytest.skip(message)


def both(material, root, engine, node):
    """The results of the direct checks and those of the engine, each counted."""
    said = [statement for file in material.files for statement in statements(file.turtle().triples)]
    elsewhere = {name: material.types(name) for file in material.files for name in file.facts.links}
    own = Counter(map(_row, shapes_of(root / "shapes").results(Graph(said, elsewhere, material.above))))
    lines = {f"{triple} ." for *_, triple in said}
    lines |= {f"<{kind}> <{SUBCLASS}> <{above}> ." for kind, above in material.superclasses}
    lines |= {f"<{name}> <{TYPE}> <{kind}> ." for name, kinds in elsewhere.items() for kind in kinds}
    data = engine / "data.nt"
    data.write_text("\n".join(sorted(lines)) + "\n", "utf-8")
    command = [node, "--stack-size=4000", "validate.mjs", "data.nt", *map(str, sorted((root / "shapes").glob("*.ttl")))]
    done = subprocess.run(command, cwd=engine, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-1000:]
    theirs = Counter(
        row for line in done.stdout.splitlines() if material.is_checked((row := tuple(line.split("\t")))[1])
    )
    return _told(own), _told(theirs)


def _row(result):
    """The result as the engine's script prints it."""
    value = result.value
    if isinstance(value, Literal):
        parts = [value.value, (value.language or "").lower(), value.datatype.value]
        written = json.dumps(parts, ensure_ascii=False, separators=(",", ":"))
    else:
        written = value.value if value is not None else ""
    written = "" if written == result.focus else written
    return result.shape, result.focus, result.path or "", result.component, written


def _told(rows):
    return Counter({row: count for row, count in rows.items() if row[3] not in DIFFERENCES})


@pytest.mark.slow
def test_the_good_and_bad_entries_of_all_rules(root, engine, node, tmp_path):
    """Each fixture under a base of its own: what they share would become one entry."""
    asked = asked_keys(root / "shapes" / "rules")
    (tmp_path / "ns.ttl").write_bytes((root / "vocab" / "ns.ttl").read_bytes())
    (tmp_path / "beside.ttl").write_bytes((FIXTURES / "beside" / "beside.ttl").read_bytes())
    files = []
    for number, path in enumerate(sorted(FIXTURES.glob("[A-W]*/*.ttl"))):
        text = path.read_text("utf-8").replace("https://fixture.example/", f"https://fixture-{number}.example/")
        files.append(source(path, text.encode(), asked, NOTHING))
    own, theirs = both(
        Material((Folder(FIXTURES, tuple(files)),), (read(tmp_path, asked, NOTHING)[0],)), root, engine, node
    )
    assert own == theirs
    assert len({shape for shape, *_ in own}) > 250


@pytest.mark.skipif(not ALL, reason="an hour; set MARGENT_ALL_FAULTS=1")
def test_the_whole_vocabulary(root, engine, node):
    asked = asked_keys(root / "shapes" / "rules")
    folders = tuple(read(folder, asked, NOTHING)[0] for folder in (root / "vocab", root / "vocab" / "demo"))
    own, theirs = both(Material(folders), root, engine, node)
    assert own == theirs


@pytest.mark.skipif(not ALL, reason="an hour; set MARGENT_ALL_FAULTS=1")
def test_all_seeded_faults(root, engine, node):
    sower = Sower(root, [root / "vocab", root / "vocab" / "demo"])
    found = {**sower.faults(), **sown_across.faults(sower)}
    faults = [fault for rule, each in found.items() if rule != "Y003" for fault in each]
    results = 0
    for batch in batches(faults, size=len(faults)):
        own, theirs = both(sown(sower, batch)[0], root, engine, node)
        assert own == theirs
        results += own.total()
    assert results > len([fault for fault in faults if fault.rule[0] not in "XY"])

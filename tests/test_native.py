"""The reader as machine code gives the same JSON as its sources, and is never used beside sources that it was not made from."""

import importlib.util
import json
import os
import shutil
import subprocess
import sys

import pytest

from margent import native

INVENTED = 5000
MADE = 1000

READ = """
import json, sys
from margent.exchange.letterings import lettering_from
from margent.lettering import reader as read_by
reader = read_by.Reader(json.loads(sys.stdin.readline()))
print(read_by.__file__.rpartition(".")[2])
for line in sys.stdin:
    print(json.dumps(reader.read(lettering_from(json.loads(line))).as_dict()))
"""


def settings(plain):
    kept = {name: value for name, value in os.environ.items() if name != native.PLAIN}
    return kept | {native.PLAIN: "1"} if plain else kept


@pytest.fixture(scope="module")
def made_here():
    """The machine code of these very sources; without it the test is skipped, or fails where CI=true."""
    folder = native.kept_in() / native.digest(native.sources())
    if not folder.is_dir():
        message = "no machine code was made from these sources (python -m margent.native)"
        if os.environ.get("CI", "").lower() in {"1", "true"}:
            pytest.fail(message)
        pytest.skip(message)
    return folder


def module_of(path):
    spec = importlib.util.spec_from_file_location(path.stem, path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def read(compiled, records, plain):
    """How the reader's modules end that read, and the readings as lines of JSON."""
    lines = [json.dumps(each) for each in (compiled, *records)]
    done = subprocess.run(
        [sys.executable, "-c", READ],
        input="\n".join(lines),
        env=settings(plain),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    ending, *readings = done.stdout.splitlines()
    return ending, readings


@pytest.mark.usefixtures("made_here")
def test_machine_code_reads_the_same(root, vocabulary, compiled):
    records = []
    for table in [
        root.parent / "shared/gold/letterings.jsonl",
        *sorted((root / "tests/outside/data").glob("letterings-*.jsonl")),
    ]:
        if table.is_file():
            records += [json.loads(line) for line in table.read_text(encoding="utf-8").splitlines()]
    invented = module_of(root / "tests/speed/invented_letterings.py")
    records += [{"lines": [line]} for line in invented.letterings(INVENTED)]
    made = module_of(root / "tests/lettering/made_letterings.py")
    records += made.made_letterings(vocabulary, sorted(compiled["techniques"]), MADE) + made.noise(
        vocabulary, MADE // 4
    )
    records += made.long_letterings()
    records = [
        record
        for record in records
        if sum(len(line["text"] if isinstance(line, dict) else line) for line in record["lines"]) < 20_000
    ]
    plain, machine = read(compiled, records, plain=True), read(compiled, records, plain=False)
    assert (plain[0], machine[0]) == ("py", native.EXTENSION_SUFFIXES[0].rpartition(".")[2])
    assert len(plain[1]) == len(records)
    differ = [record for record, one, other in zip(records, plain[1], machine[1], strict=True) if one != other]
    assert not differ, f"{len(differ)} of {len(records)} are read differently, the first: {json.dumps(differ[0])}"


@pytest.mark.usefixtures("made_here")
def test_a_batch_on_two_cores_is_the_same(root, tmp_path):
    """Letterings go to other processes, and so must be what can go there."""
    invented = module_of(root / "tests/speed/invented_letterings.py")
    (tmp_path / "batch.jsonl").write_text(
        "".join(json.dumps({"id": line, "lines": [line]}) + "\n" for line in invented.letterings(600)), encoding="utf-8"
    )
    found = [
        subprocess.run(
            [
                sys.executable,
                "-c",
                "from margent.cli import main; main()",
                "read",
                "--from",
                "batch.jsonl",
                "--as",
                "jsonl",
                "--jobs",
                "2",
            ],
            cwd=tmp_path,
            env=settings(plain),
            capture_output=True,
            check=False,
        )
        for plain in (True, False)
    ]
    assert [done.returncode for done in found] == [0, 0], found[1].stderr.decode()
    assert found[0].stdout == found[1].stdout
    assert found[0].stdout.count(b"\n") == 600


@pytest.fixture
def own_package(root, tmp_path, monkeypatch):
    """The package and the environment of a test by itself: what it changes there nobody else sees."""
    shutil.copytree(root / "builder/margent", tmp_path / "margent", ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(native, "PACKAGE", tmp_path / "margent")
    monkeypatch.setattr(native, "kept_in", lambda: tmp_path / "kept")
    monkeypatch.delenv(native.PLAIN)
    return tmp_path


def with_library(folder, library):
    """A folder of machine code that fits the sources as they are now."""
    made = folder / "kept" / native.digest(native.sources())
    made.mkdir(parents=True)
    shutil.copy(library, made)
    return made


def test_machine_code_is_used_only_beside_its_own_sources(made_here, own_package, monkeypatch):
    (library,) = made_here.glob(f"*{native.LIBRARY}*")
    made = with_library(own_package, library)
    assert native.folders(["plain"]) == [str(made), "plain"]
    monkeypatch.setenv(native.PLAIN, "1")
    assert native.folders(["plain"]) == ["plain"]
    monkeypatch.delenv(native.PLAIN)
    with (own_package / "margent/lettering/grammar.py").open("a") as source:
        source.write("\n")
    assert native.folders(["plain"]) == ["plain"]


def test_a_library_that_cannot_be_loaded_is_passed_over(own_package, tmp_path):
    broken = tmp_path / f"broken{native.LIBRARY}{native.EXTENSION_SUFFIXES[0]}"
    broken.write_bytes(b"no library")
    with_library(own_package, broken)
    assert native.folders(["plain"]) == ["plain"]
    assert f"broken{native.LIBRARY}" not in sys.modules


@pytest.mark.parametrize("lacking", ["mypyc", "a C compiler"])
def test_where_it_cannot_be_made_the_reader_stays_plain(own_package, monkeypatch, capsys, lacking):
    if lacking == "mypyc":
        monkeypatch.setattr(native, "find_spec", lambda _: None)
    else:
        monkeypatch.setenv("CC", str(own_package / "nowhere"))
    assert native.main() == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert said.startswith("The reader stays plain Python, which reads the same in more time: mypyc ")
    assert not (own_package / "kept").exists()

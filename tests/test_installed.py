"""Margent installed in each way, run from a folder that has nothing to do with it."""

import os
import subprocess
import sys
import sysconfig
import tarfile

import pytest

from margent.vocabulary.load import load_publication
from margent.vocabulary.turtle import turtle_files

pytestmark = pytest.mark.slow

QUIET = ["--quiet", "--disable-pip-version-check", "--no-deps", "--no-index"]
ASK = """
from margent.vocabulary.here import room
from margent.vocabulary.load import load_publication
from margent.vocabulary.turtle import read_folder
print(room("vocab"), room("shapes"), room("site"), sep="\\n")
print(load_publication(room("vocab")).version, len(read_folder(room("vocab"))))
"""


def run(*command, cwd, **more):
    env = {name: value for name, value in os.environ.items() if not name.startswith(("MARGENT_", "PYTHONPATH"))}
    done = subprocess.run(
        [str(word) for word in command], cwd=cwd, env=env | more, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """A function that builds one kind of distribution from a source tree, with nothing downloaded, and gives back its path."""

    def build(kind, source):
        out = tmp_path_factory.mktemp(kind)
        run(sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", out, cwd=source)
        (made,) = out.iterdir()
        return made

    return build


@pytest.fixture
def environment(tmp_path):
    """A new environment that has our dependencies, but not us; a function that installs into it gives back its bin folder."""
    folder = tmp_path / "venv"
    run(sys.executable, "-m", "venv", "--without-pip", folder, cwd=tmp_path)
    (site,) = folder.glob("lib/python*/site-packages")
    # A plain line in a .pth file: the packages there can be imported, but its own .pth files, ours among them, do not count.
    (site / "dependencies.pth").write_text(sysconfig.get_path("purelib") + "\n" + sysconfig.get_path("platlib") + "\n")

    def install(*what):
        run(sys.executable, "-m", "pip", "--python", folder / "bin/python", "install", *QUIET, *what, cwd=tmp_path)
        return folder / "bin"

    return install


def rooms_of(bin_folder, elsewhere):
    """Where vocab/, shapes/ and site/ are found, and the vocabulary's version and number of files."""
    assert run(bin_folder / "margent", "--version", cwd=elsewhere).startswith("margent ")
    return run(bin_folder / "python", "-c", ASK, cwd=elsewhere).splitlines()


def rooms_here(root):
    """The same of the checkout, which must lose nothing on its way."""
    return f"{load_publication(root / 'vocab').version} {len(turtle_files(root / 'vocab'))}"


def test_a_wheel_carries_its_data(root, built, environment, tmp_path):
    bin_folder = environment(built("wheel", root))
    vocab, shapes, site, held = rooms_of(bin_folder, tmp_path)
    assert vocab.startswith(str(tmp_path / "venv"))
    assert [part.rsplit("/", 2)[1:] for part in (vocab, shapes, site)] == [
        ["_data", "vocab"],
        ["_data", "shapes"],
        ["_data", "site"],
    ]
    assert held == rooms_here(root)


def test_an_editable_install_reads_the_checkout(root, environment, tmp_path):
    bin_folder = environment("--no-build-isolation", "--editable", root)
    assert rooms_of(bin_folder, tmp_path)[:3] == [str(root / name) for name in ("vocab", "shapes", "site")]


def test_a_wheel_made_from_the_sdist_is_the_same(root, built, environment, tmp_path):
    with tarfile.open(built("sdist", root)) as archive:
        archive.extractall(tmp_path, filter="data")
    (source,) = tmp_path.glob("margent-*")
    for name in (
        "LICENSE",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "Makefile",
        "requirements.lock",
        "vocab/LICENSE",
        "tests/conftest.py",
    ):
        assert (source / name).is_file(), name
    assert not (source / ".venv").exists()
    bin_folder = environment(built("wheel", source))
    vocab, _, _, held = rooms_of(bin_folder, tmp_path)
    assert vocab.startswith(str(tmp_path / "venv"))
    assert held == rooms_here(root)

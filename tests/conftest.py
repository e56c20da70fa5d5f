"""What every test may ask for, and what happens when the machine lacks it."""

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).resolve().parent.parent
SHARED = ROOT.parent / "shared"

# What is tested are the sources; that machine code made from them reads the same is a test of its own (test_native.py).
os.environ["MARGENT_PLAIN"] = "1"

# A law is no stopwatch: on a busy machine the first example of a test may take long.
settings.register_profile("margent", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("margent")


def _program(names, what):
    """The path of the first program that is there; without one the test is skipped, or fails where CI=true."""
    for name in names:
        found = shutil.which(name)
        if found:
            return found
    message = f"{what} is not installed (looked for {', '.join(names)})"
    if os.environ.get("CI", "").lower() in {"1", "true"}:
        pytest.fail(message)
    pytest.skip(message)


@pytest.fixture(scope="session")
def chromium():
    """The path of a Chromium that can be run without a screen."""
    return _program(("chromium", "chromium-browser", "google-chrome"), "Chromium")


@pytest.fixture(scope="session")
def node():
    """The path of Node, which runs the browser's part of the reader outside a browser."""
    return _program(("node", "nodejs"), "Node")


@pytest.fixture(scope="session")
def root():
    """The checkout."""
    return ROOT


@pytest.fixture(scope="session")
def shared():
    """The folder of outside measures beside the checkout; tests that need it are skipped without it."""
    if not SHARED.is_dir():
        pytest.skip("no folder of outside measures beside the checkout")
    return SHARED


@pytest.fixture(autouse=True)
def own_settings(monkeypatch):
    """No test depends on what the person running it has set."""
    for name in ("MARGENT_HOME", "MARGENT_AUTHORITY"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def turtle(tmp_path):
    """A function that writes one Turtle file below tmp_path and gives back its path; bytes are written as they are."""

    def write(name, content):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return path

    return write


@pytest.fixture(scope="session")
def vocabulary():
    """The vocabulary of the checkout, without an authority."""
    from margent.vocabulary.load import load

    return load(ROOT / "vocab")


@pytest.fixture(scope="session")
def compiled(vocabulary):
    """The compiled reader of the checkout, as another host would load it."""
    import json

    from margent.publishing.reader_file import as_json, compile_reader

    return json.loads(as_json(compile_reader(vocabulary)))


@pytest.fixture(scope="session")
def reader(compiled):
    """The reader of the checkout."""
    from margent.lettering.reader import Reader

    return Reader(compiled)


@pytest.fixture(scope="session")
def scorer(vocabulary):
    """What counts agreement with judged letterings, by the vocabulary's own list of roles that meet a judged one."""
    from margent.exchange.scoring import Scorer
    from margent.publishing.grammar_tables import grammar_tables

    return Scorer.of(grammar_tables(vocabulary).settings)


@pytest.fixture(scope="session")
def words(reader, vocabulary):
    """What every word of the vocabulary means."""
    from margent.lettering.words import Words

    return Words(reader, vocabulary)

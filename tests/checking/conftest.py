"""What the tests of the check share: what is kept between runs is kept with the test, not with the person running it."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))  # for the modules that sow faults


@pytest.fixture(autouse=True)
def own_cache(monkeypatch, tmp_path):
    monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))

"""What the tests of the check share: what is kept between runs is kept with the test, not with the person running it."""

import pytest


@pytest.fixture(autouse=True)
def own_cache(monkeypatch, tmp_path):
    monkeypatch.setenv("MARGENT_CACHE", str(tmp_path / "cache"))

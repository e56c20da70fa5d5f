"""What several processes find is what one finds."""

import multiprocessing

import pytest

from margent.checking import check as checking
from margent.checking.check import check, kept_in
from margent.checking.kept import NOTHING
from margent.checking.on_cores import made


def test_the_order_is_that_of_the_things():
    assert list(made(lambda each: each * 2, [3, 1, 2], much=False)) == [6, 2, 4]


@pytest.mark.skipif("fork" not in multiprocessing.get_all_start_methods(), reason="there is no forking here")
def test_several_processes_find_what_one_finds(root, tmp_path, monkeypatch):
    monkeypatch.setattr("os.sched_getaffinity", lambda _who: {0, 1}, raising=False)
    folder = tmp_path / "ours"
    folder.mkdir()
    for path in (root / "vocab" / "demo").rglob("*.ttl"):
        wrong = path.read_text("utf-8").replace("mg:born ", "mg:bron ").replace('"@mul', '"')
        (folder / path.name).write_text(wrong, "utf-8")
    alone = check([folder], [root / "vocab"], root / "shapes", kept=NOTHING)
    assert len(alone.findings) > 20
    monkeypatch.setattr(checking, "_MUCH", 0)
    for kept in (NOTHING, kept_in(tmp_path / "cache", root / "shapes"), kept_in(tmp_path / "cache", root / "shapes")):
        assert check([folder], [root / "vocab"], root / "shapes", kept=kept) == alone

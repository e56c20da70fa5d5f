import os
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from margent.faults import Fault
from margent.publishing.into_place import MARKER, built_beside


def put(target, text):
    with built_beside(target) as built:
        (built.new / MARKER).write_text("ours")
        (built.new / "page.html").write_text(text)


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_folder_is_there_whole_and_nothing_is_left_beside_it(tmp_path):
    put(tmp_path / "a" / "public", "one")
    put(tmp_path / "a" / "public", "two")
    assert (tmp_path / "a" / "public" / "page.html").read_text() == "two"
    assert names(tmp_path / "a") == ["public"]


def test_the_former_folder_stays_until_the_new_one_is_whole(tmp_path):
    target = tmp_path / "public"
    put(target, "one")

    def fail():
        with built_beside(target) as built:
            (built.new / "page.html").write_text("half")
            assert (target / "page.html").read_text() == "one"
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert (target / "page.html").read_text() == "one"
    assert names(tmp_path) == ["public"]


def test_an_empty_folder_may_be_filled(tmp_path):
    (tmp_path / "public").mkdir()
    put(tmp_path / "public", "one")
    assert (tmp_path / "public" / "page.html").exists()


def test_what_others_wrote_is_never_replaced(tmp_path):
    (tmp_path / "public").mkdir()
    (tmp_path / "public" / "thesis.txt").write_text("mine")
    with pytest.raises(Fault, match="holds something that margent did not publish"):
        put(tmp_path / "public", "one")
    assert names(tmp_path / "public") == ["thesis.txt"]
    assert names(tmp_path) == ["public"]


def test_a_file_and_a_link_are_refused(tmp_path):
    (tmp_path / "file").write_text("mine")
    with pytest.raises(Fault, match="a file, not a folder"):
        put(tmp_path / "file", "one")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(Fault, match="a link; name the folder itself"):
        put(tmp_path / "link", "one")
    assert names(tmp_path / "elsewhere") == []


def test_the_top_of_the_file_system_is_refused():
    with pytest.raises(Fault, match="not a folder to publish to"):
        put(Path("/"), "one")


def test_what_a_killed_run_left_is_cleared_away(tmp_path):
    target = tmp_path / "public"
    put(target, "one")
    (tmp_path / ".public.new").mkdir()
    (tmp_path / ".public.new" / "half.html").write_text("half")
    (tmp_path / ".public.lock").write_text("")
    put(target, "two")
    assert names(tmp_path) == ["public"]
    assert names(target) == [MARKER, "page.html"]


def test_a_run_killed_between_the_two_steps_loses_nothing(tmp_path):
    target = tmp_path / "public"
    put(target, "one")
    target.rename(tmp_path / ".public.old")
    with pytest.raises(ZeroDivisionError), built_beside(target):
        _ = 1 / 0
    assert (target / "page.html").read_text() == "one"
    assert names(tmp_path) == ["public"]


def test_a_second_run_at_the_same_time_is_refused(tmp_path):
    program = textwrap.dedent(
        """
        import sys
        from pathlib import Path
        from margent.faults import Fault
        from margent.publishing.into_place import built_beside
        try:
            with built_beside(Path(sys.argv[1])):
                print("began", flush=True)
        except Fault as fault:
            print(fault)
        """
    )
    target = tmp_path / "public"
    with built_beside(target) as built:
        (built.new / "page.html").write_text("first")
        done = subprocess.run([sys.executable, "-c", program, str(target)], capture_output=True, text=True, check=True)
        assert done.stdout == f"{target}: is being published to by another run; wait until that has ended\n"
    assert (target / "page.html").read_text() == "first"
    assert names(tmp_path) == ["public"]


@pytest.mark.skipif(os.geteuid() == 0 if hasattr(os, "geteuid") else True, reason="root may write everywhere")
def test_a_folder_that_cannot_be_written_is_one_sentence(tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(Fault, match="cannot be written"):
        put(tmp_path / "public", "one")
    tmp_path.chmod(0o700)


def test_a_full_disk_is_one_sentence_and_changes_nothing(tmp_path):
    target = tmp_path / "public"
    put(target, "one")
    with pytest.raises(Fault, match=r"cannot be written \(No space left on device\)"), built_beside(target):
        raise OSError(28, "No space left on device", "page.html")
    assert (target / "page.html").read_text() == "one"
    assert names(tmp_path) == ["public"]

import pytest

from margent.faults import Fault
from margent.vocabulary import here


def home_at(folder):
    for name in ("vocab", "shapes", "site"):
        (folder / name).mkdir(parents=True)
    return folder


def authority_at(folder):
    folder.mkdir(parents=True)
    (folder / "publication.ttl").write_text("")
    return folder


def test_a_checkout_is_its_own_home(root):
    assert here.home() == root
    assert here.room("vocab") == root / "vocab"


def test_the_option_wins_over_the_variable(tmp_path, monkeypatch):
    one, two = home_at(tmp_path / "one"), home_at(tmp_path / "two")
    monkeypatch.setenv("MARGENT_HOME", str(one))
    assert here.home() == one
    assert here.home(two) == two


def test_a_home_without_a_vocabulary_is_a_fault(tmp_path, monkeypatch):
    with pytest.raises(Fault, match="--home must name a folder with vocab/"):
        here.home(tmp_path)
    monkeypatch.setenv("MARGENT_HOME", str(tmp_path))
    with pytest.raises(Fault, match="MARGENT_HOME must name a folder with vocab/"):
        here.home()


def test_a_missing_room_is_a_fault(tmp_path):
    home = home_at(tmp_path)
    (home / "shapes").rmdir()
    with pytest.raises(Fault, match="shapes: no such folder"):
        here.room("shapes", home)


def test_nobody_is_offered_invented_makers_unasked():
    assert here.authority_folders() == []


def test_demo_is_a_word_that_works_from_any_folder(tmp_path, monkeypatch):
    home = home_at(tmp_path / "home")
    demo = authority_at(home / "vocab/demo")
    monkeypatch.chdir(tmp_path)
    assert here.authority_folder("demo", home) == demo


def test_authorities_from_the_variable_and_the_option(tmp_path, monkeypatch):
    one, two = authority_at(tmp_path / "one"), authority_at(tmp_path / "two")
    monkeypatch.setenv("MARGENT_AUTHORITY", f"{one}:{two}:{one}")
    assert here.authority_folders() == [one, two]
    assert here.authority_folders([two]) == [two]


@pytest.mark.parametrize(("make", "said"), [(False, "no such folder"), (True, "not an authority")])
def test_a_folder_that_is_no_authority_is_a_fault(tmp_path, make, said):
    if make:
        (tmp_path / "x").mkdir()
    with pytest.raises(Fault, match=said):
        here.authority_folder(tmp_path / "x")

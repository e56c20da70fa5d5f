from margent import cli


def test_the_page_to_begin_with_goes_to_stdout_and_the_rest_to_stderr(small, makers, tmp_path, capsys):
    target = tmp_path / "public"
    args = ["publish", "--home", str(small), "--to", str(target), "--authority", str(makers)]
    assert cli.run(args) == 0
    out, err = capsys.readouterr()
    assert out == f"{target}/index.html\n"
    assert err.endswith("data files\n")
    assert "\r" not in err  # no progress where nobody watches
    assert (target / "data" / "invented-makers" / "invented-makers.ttl").is_file()


def test_a_folder_of_somebody_else_is_one_plain_sentence(small, tmp_path, capsys):
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    assert cli.run(["publish", "--home", str(small), "--to", str(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"{tmp_path}: holds something that margent did not publish")
    assert err.count("\n") == 1


def test_an_authority_that_is_not_there_is_told_before_anything_is_written(small, tmp_path, capsys):
    missing = tmp_path / "nobody"
    assert (
        cli.run(["publish", "--home", str(small), "--to", str(tmp_path / "public"), "--authority", str(missing)]) == 2
    )
    assert capsys.readouterr().err.startswith(f"{missing}: no such folder")
    assert list(tmp_path.iterdir()) == []

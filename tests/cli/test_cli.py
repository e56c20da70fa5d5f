import subprocess
import sys

import click
import pytest

from margent import __version__, cli
from margent.faults import Fault, Faults

MARGENT = [sys.executable, "-c", "from margent.cli import main; main()"]


@pytest.fixture
def command(monkeypatch, tmp_path):
    """A function that makes `margent made` do what it is given."""
    monkeypatch.setattr(cli.tempfile, "tempdir", str(tmp_path))

    def make(body):
        made = click.Command("made", callback=body)
        monkeypatch.setattr(cli.CommandTable, "get_command", lambda self, ctx, name: made)

    return make


def raising(error):
    def body():
        raise error

    return body


def lettering():
    msg = "A. Verrou sculp."
    raise ValueError(msg)


@pytest.mark.parametrize(
    ("body", "code", "said"),
    [
        pytest.param(lambda: None, 0, "", id="done"),
        pytest.param(lambda: 1, 1, "", id="findings"),
        pytest.param(raising(Fault("a.ttl: no such file")), 2, "a.ttl: no such file\n", id="fault"),
        pytest.param(raising(Faults([Fault("a: 1"), Fault("b: 2")])), 2, "a: 1\nb: 2\n", id="several faults"),
        pytest.param(raising(KeyboardInterrupt()), 130, "", id="interrupted"),
        pytest.param(raising(click.Abort()), 130, "", id="aborted"),
        pytest.param(raising(SystemExit(2)), SystemExit, "", id="left alone: a command that leaves by itself"),
    ],
)
def test_what_happened_becomes_an_exit_code(command, capsys, body, code, said):
    command(body)
    if code is SystemExit:
        with pytest.raises(SystemExit):
            cli.run(["made"])
    else:
        assert cli.run(["made"]) == code
    assert capsys.readouterr() == ("", said)


def test_a_fault_of_our_own_is_one_sentence_and_a_log(command, capsys, tmp_path):
    command(lettering)
    assert cli.run(["made"]) == 3
    (log,) = tmp_path.glob("margent-*.log")
    assert capsys.readouterr() == ("", f"margent: a fault of Margent itself (ValueError); the log is {log}\n")
    assert "in lettering" in log.read_text()
    assert "ValueError" in log.read_text()


def test_the_log_never_holds_a_lettering(command, tmp_path):
    command(lettering)
    cli.run(["made"])
    (log,) = tmp_path.glob("margent-*.log")
    assert "Verrou sculp." not in log.read_text().replace('msg = "A. Verrou sculp."', "")


@pytest.mark.parametrize("args", [["nothing-of-the-kind"], ["--nothing"], []])
def test_wrong_use_is_two(args, capsys):
    assert cli.run(args) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err


def test_the_version(capsys):
    assert cli.run(["--version"]) == 0
    assert capsys.readouterr().out == f"margent {__version__}\n"


def test_a_command_whose_module_is_not_there_is_not_listed(monkeypatch, capsys):
    monkeypatch.setattr(cli, "COMMANDS", {"gone": cli.Listed("margent.cli.gone", "Nothing.")})
    assert cli.run(["--help"]) == 0
    assert "gone" not in capsys.readouterr().out
    assert cli.run(["gone"]) == 2


def test_the_table_lists_only_commands_with_help_that_ends_in_an_example(capsys):
    context = click.Context(cli.margent)
    for name in cli.margent.list_commands(context):
        assert cli.run([name, "--help"]) == 0
        text = capsys.readouterr().out
        assert "Example" in text, name
        assert f"margent {name}" in text[text.rindex("Example") :], name


def test_help_is_quick_for_it_loads_no_library_of_a_command():
    code = "import sys; from margent.cli import run; run(['--help']); print(sorted({'pyoxigraph', 'rdflib', 'pyshacl', 'jinja2'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.endswith("[]\n")


def test_a_reader_that_goes_away_is_no_fault(tmp_path):
    for number in range(3000):  # more than a pipe holds
        (tmp_path / f"{number:060}.ttl").write_text("<https://x.example/a>   a <https://x.example/b> .\n")
    process = subprocess.Popen(
        [*MARGENT, "tidy", "--check", str(tmp_path)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    process.stdout.readline()
    process.stdout.close()
    err = process.stderr.read()
    process.stderr.close()
    assert (process.wait(), err) == (0, "")

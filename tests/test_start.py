"""Start-up: help loads nothing heavy, and every command says what it does and how."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import click
import pytest
from click.testing import CliRunner

import dosecalc.faces.cli as cli
from dosecalc.catalog.files import shipped_recipes
from dosecalc.faces.cli.table import COMMANDS

GIVEN = 'log add boron-drench --row "40 m" --place north'
HEAVY = ("pint", "pydantic", "pydantic_core", "tabulate", "flexparser", "numpy")
PROBE = """
import sys
from dosecalc.faces.cli import main
sys.argv = ["dosecalc", *sys.argv[1:]]
try:
    main()
finally:
    print(*sorted(sys.modules), file=sys.stderr)
"""


def every_command() -> dict[str, click.Command]:
    """Each command and group by the words that call it, "" for the program itself."""
    found: dict[str, click.Command] = {}

    def walk(command: click.Command, words: tuple[str, ...]) -> None:
        found[" ".join(words)] = command
        if isinstance(command, click.Group):
            context = click.Context(command)
            for name in command.list_commands(context):
                inner = command.get_command(context, name)
                assert inner is not None
                walk(inner, (*words, name))

    walk(cli.group, ())
    return found


ALL = every_command()


def examples(command: click.Command) -> list[str]:
    """The command lines that a command's help gives as examples."""
    text = re.sub(r"^Examples?: *", "", command.epilog or "")
    return [line.strip() for line in text.split(";") if line.strip()]


def run(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-W", "error", *words], capture_output=True, text=True, cwd=cwd
    )


@pytest.mark.parametrize("words", [[], *([name] for name in COMMANDS)], ids=" ".join)
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    done = run("-c", PROBE, *words, "--help")
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: dosecalc")
    loaded = set(done.stderr.split())
    assert "click" in loaded  # else the probe saw nothing
    assert loaded.isdisjoint(HEAVY)


def test_a_mix_loads_no_pydantic_and_no_tabulate() -> None:
    """A shipped recipe needs no schema check at run time: that is half of the start-up."""
    done = run("-c", PROBE, "mix", "boron-drench", "--row", "40 m")
    assert done.returncode in (0, 3)
    loaded = set(done.stderr.split())
    assert "pint" in loaded
    assert loaded.isdisjoint({"pydantic", "tabulate", "numpy"})


def test_the_table_names_every_command_module() -> None:
    modules = {
        entry.name
        for entry in iter_modules(cli.__path__)
        if isinstance(
            getattr(import_module(f"{cli.__name__}.{entry.name}"), "command", None), click.Command
        )
    }
    assert modules == set(COMMANDS)
    assert len(modules) >= 4


def test_python_m_dosecalc_works_anywhere(tmp_path: Path) -> None:
    done = run("-m", "dosecalc", "convert", "1 acre", "m2", cwd=tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (0, "4046.86 m2\n", "")
    shown = run("-m", "dosecalc", "--help", cwd=tmp_path)
    assert shown.returncode == 0
    for name, line in COMMANDS.items():
        assert name in shown.stdout
        assert line.split(":")[0].split(",")[0] in shown.stdout


def test_the_version_is_the_package_version() -> None:
    done = run("-m", "dosecalc", "--version")
    assert re.fullmatch(r"dosecalc, version \d+\.\d+\.\d+\n", done.stdout)


@pytest.mark.parametrize("words", ALL)
def test_every_command_has_help(words: str) -> None:
    text = ALL[words].help or ""
    assert len(text.split()) >= 5
    assert text.split("\n\n")[0].rstrip().endswith(".")


@pytest.mark.parametrize("words", [words for words in ALL if words])
def test_every_option_says_what_it_takes(words: str) -> None:
    for parameter in ALL[words].params:
        if isinstance(parameter, click.Option):
            assert parameter.help, parameter.name


@pytest.mark.parametrize("words", [words for words in ALL if words])
def test_every_command_has_an_example_that_works(
    words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = shipped_recipes()
    assert isinstance(book, Path)
    (tmp_path / "my-recipes").mkdir()
    shutil.copy(book / "boron-drench.toml", tmp_path / "my-recipes" / "mine.toml")
    monkeypatch.chdir(tmp_path)
    if words.startswith("stock "):
        came = shlex.split('stock add borax "500 g"')
        CliRunner().invoke(cli.group, came, standalone_mode=False)
    if words.startswith("log "):
        for line in (GIVEN, "log crop start leek --place east", "log export old-season.json"):
            CliRunner().invoke(cli.group, shlex.split(line), standalone_mode=False)
    lines = examples(ALL[words])
    assert lines
    for line in lines:
        program, *rest = shlex.split(line)
        assert program == "dosecalc"
        assert " ".join(rest).startswith(words)
        done = CliRunner().invoke(cli.group, rest, standalone_mode=False)
        assert done.exception is None
        assert done.return_value in (None, 0, 3)
        assert done.output.strip()

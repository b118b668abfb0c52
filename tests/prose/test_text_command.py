"""``mix --text`` and ``recipes new``: the same recipe as a file, and nothing heavy for others."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

import dosecalc.faces.cli as cli
from dosecalc.catalog.lookup import recipe_from_path
from dosecalc.catalog.prose.reading import read_text
from dosecalc.errors import DoseError

SODA = "1 tbsp baking soda, 2.5 tbsp vegetable oil and 1 tsp liquid soap per gallon of water"
US = ["--recipe-measures", "us", "--sprayer", "2 L"]


def run(*words: str, stdin: str | None = None) -> Result:
    return CliRunner().invoke(cli.group, list(words), input=stdin, standalone_mode=False)


def refusal(*words: str) -> str:
    caught = run(*words).exception
    assert isinstance(caught, DoseError)
    return str(caught)


def test_a_text_a_file_and_standard_input_give_the_same(tmp_path: Path) -> None:
    file = tmp_path / "soda.txt"
    file.write_text(SODA, encoding="utf-8")
    typed = run("mix", "--text", SODA, *US)
    assert typed.exception is None
    assert "That is 14.8 mL of Baking soda" in typed.output
    assert run("mix", "--text-file", str(file), *US).output == typed.output
    assert run("mix", "--text-file", "-", *US, stdin=SODA).output == typed.output


def test_a_written_recipe_file_is_the_same_recipe(tmp_path: Path) -> None:
    file = tmp_path / "soda.toml"
    text = f"{SODA}; repeat every 14 days, at most 3 times a year"
    made = run("recipes", "new", str(file), "--from-text", text, "--recipe-measures", "us")
    assert made.exception is None
    found, problems = recipe_from_path(file)
    assert problems == []
    assert found is not None
    read = read_text(text, "us").recipe
    assert found.statements == read.statements
    assert (found.how, found.placement, found.repeat) == (read.how, read.placement, read.repeat)
    words = ("recipes", "new", str(file), "--from-text", text, "--recipe-measures", "us")
    assert str(file) in refusal(*words)


def test_an_analysis_of_ones_own_mixes_but_makes_no_file(tmp_path: Path) -> None:
    text = "2 lb of 12-4-8 per 100 sq ft"
    done = run("mix", "--text", text, "--recipe-measures", "us", "--area", "50 sq ft")
    assert "Feed 12-4-8" in done.output
    file = tmp_path / "own.toml"
    words = ("recipes", "new", str(file), "--from-text", text, "--recipe-measures", "us")
    assert "12-4-8" in refusal(*words)
    assert not file.exists()


def test_a_recipe_and_a_text_are_not_both_given() -> None:
    assert "not both" in refusal("mix", "boron-drench", "--text", SODA)
    missing = run("mix").exception
    assert isinstance(missing, click.UsageError)
    assert "give a recipe" in missing.message
    assert "cannot be read" in refusal("mix", "--text-file", "/no/such/file")


@pytest.mark.parametrize(
    "words", [["mix", "--help"], ["mix", "boron-drench", "--row", "40 m"]], ids=" ".join
)
def test_the_grammar_is_loaded_for_a_text_only(words: list[str]) -> None:
    probe = (
        "import sys; from dosecalc.faces.cli import main; sys.argv = ['dosecalc', *sys.argv[1:]]\n"
        "try: main()\nfinally: print('lark' in sys.modules, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", probe, *words], capture_output=True, text=True, check=False
    )
    assert done.stderr.split() == ["False"]

"""A doubt is asked back where a person sits at a terminal, and refused everywhere else."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import dosecalc.faces.cli as cli
from dosecalc.errors import DoseError
from dosecalc.faces.cli import ask

SOAP = "2 % soap in water"
SPRAY = ("--spray-volume", "2 L")
PROMPT = "Which one is meant"


def run(*words: str, typed: str = "", terminal: bool = False) -> Result:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ask, "on_terminal", lambda: terminal)
        return CliRunner().invoke(cli.group, list(words), input=typed, standalone_mode=False)


def refusal(done: Result) -> str:
    assert isinstance(done.exception, DoseError)
    assert done.exception.exit_code == 2
    return str(done.exception)


def test_on_a_terminal_each_doubt_is_asked_and_the_answers_are_read() -> None:
    done = run("mix", "--text", SOAP, *SPRAY, typed="1\n2\n", terminal=True)
    assert done.exception is None
    kinds, percent = done.stderr.split(PROMPT)[:2]
    assert kinds.splitlines() == [
        "'soap' can be read in several ways:",
        "  1  Soft soap (potassium soap, by weight)",
        "  2  Liquid soap (true potassium soap)",
        "  3  Washing-up liquid (detergent)",
    ]
    assert percent.splitlines()[1:] == [
        "'2 % of Soft soap (potassium soap, by weight)' can be read in several ways:",
        "  1  by volume: 20 mL made up to 1 L",
        "  2  by weight in the volume: 20 g made up to 1 L",
    ]
    assert done.stderr.splitlines()[-1] == (
        "The same without a question: 2 % w/v soft soap in water"
    )
    same = run("mix", "--text", "2 % w/v soft soap in water", *SPRAY)
    assert done.stdout == same.stdout
    assert "That is 20 g of Soft soap" in done.stdout


def test_the_measures_are_answered_as_the_option_gives_them() -> None:
    text, row = "1 tbsp borax per 100 ft of row", ("--row", "10 m")
    done = run("mix", "--text", text, *row, typed="4\n", terminal=True)
    assert "  4  Australian measures: 20 mL" in done.stderr
    assert "--recipe-measures australian" in done.stderr.splitlines()[-1]
    told = run("mix", "--text", text, *row, "--recipe-measures", "australian")
    assert done.stdout == told.stdout


def test_a_country_without_one_of_the_words_is_not_offered() -> None:
    done = run("mix", "--text", "1 tbsp borax per gallon of water", *SPRAY, terminal=True)
    assert "US measures" in done.stderr
    assert "metric" not in done.stderr


def test_nothing_typed_leaves_the_refusal_as_it_was() -> None:
    plain = refusal(run("mix", "--text", SOAP, *SPRAY))
    for typed in ("\n", "", "  \n", "0\n9\nfirst\n"):
        done = run("mix", "--text", SOAP, *SPRAY, typed=typed, terminal=True)
        assert refusal(done) == plain
        assert PROMPT in done.stderr
        assert done.stdout == ""
    assert done.stderr.count("is none of them") == 3
    assert done.stderr.count("can be read in several ways") == 1


def test_a_number_that_is_no_answer_can_be_typed_again() -> None:
    done = run("mix", "--text", SOAP, *SPRAY, typed="7\n1\n1\n", terminal=True)
    assert "'7' is none of them." in done.stderr
    assert "That is 20 mL of Soft soap" in done.stdout


@pytest.mark.parametrize("words", [("--json",), ("--no-ask",)])
def test_a_program_that_reads_the_result_is_not_asked(words: tuple[str, ...]) -> None:
    done = run("mix", "--text", SOAP, *SPRAY, *words, typed="1\n1\n", terminal=True)
    assert "soap" in refusal(done)
    assert PROMPT not in done.output


def test_without_a_terminal_it_is_asked_on_demand_only() -> None:
    typed = "1\n1\n"
    assert PROMPT not in run("mix", "--text", SOAP, *SPRAY, typed=typed).output
    done = run("mix", "--text", SOAP, *SPRAY, "--ask", "--json", typed=typed)
    assert done.stdout.startswith("{")
    assert PROMPT in done.stderr


@pytest.mark.parametrize(
    "text",
    [
        "1 kg of urea per tree",  # no way to write a reading down
        "2 % soap in water and GroMax 5 g per m2",  # refused whatever is answered
        "Use 2 % soft soap in water early. Later on use 2 % soft soap in water.",  # which of them
        "5 g borax per m2",
    ],
)
def test_what_no_answer_helps_is_not_asked(text: str) -> None:
    done = run("mix", "--text", text, typed="1\n1\n1\n", terminal=True)
    assert PROMPT not in done.output
    assert refusal(done) == refusal(run("mix", "--text", text))


PAGE = "1 g borax per m2 for beets. 10 g urea per plant for kale. 20 g kieserite per m of row"


def test_the_rate_of_a_page_is_asked_too() -> None:
    ground = ("--area", "10 m2", "--plants", "4")
    done = run("mix", "--text", PAGE, *ground, typed="2\n", terminal=True)
    assert done.exception is None
    assert "2. '10 g urea per plant" in done.stderr
    assert done.stderr.splitlines()[-1] == "Which rate, without a question: --rate 2"
    assert done.stdout == run("mix", "--text", PAGE, *ground, "--rate", "2").stdout
    left = run("mix", "--text", PAGE, *ground, typed="\n", terminal=True)
    assert refusal(left) == refusal(run("mix", "--text", PAGE, *ground))


@pytest.mark.parametrize(
    ("page", "after"),
    [
        ("Greenfly came early this year. Use 2 % soft soap in water.",
         "Greenfly came early this year. Use 2 % w/v soft soap in water."),
        ("Soft soap helps.  Greenfly sat on leaves. Take 2 per cent soft soap in water, weekly.",
         "Soft soap helps. Greenfly sat on leaves. Take 2 % w/v soft soap in water, weekly."),
    ],
)  # fmt: skip
def test_a_doubt_on_a_page_is_answered_where_it_stands(page: str, after: str) -> None:
    done = run("mix", "--text", page, *SPRAY, typed="2\n1\n", terminal=True)
    assert done.exception is None
    assert f"The same without a question: {after}" in done.stderr


def test_what_was_answered_is_shown_where_the_rest_is_refused() -> None:
    page = "1 tbsp borax per 100 ft of row. 1 tbsp urea per gallon of water"
    done = run("mix", "--text", page, "--row", "10 m", typed="1\n\n", terminal=True)
    assert "the text holds 2 rates" in refusal(done)
    assert done.stderr.splitlines()[-1].endswith("--recipe-measures us")


def test_more_doubts_than_anyone_is_asked_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ask, "MOST_ASKED", 1)
    done = run("mix", "--text", SOAP, *SPRAY, typed="1\n1\n", terminal=True)
    assert "2 % v/v" in refusal(done)
    assert done.stderr.count(PROMPT) == 1


def test_a_recipe_file_holds_what_was_answered(tmp_path: Path) -> None:
    file = tmp_path / "soap.toml"
    words = ("recipes", "new", str(file), "--from-text", "2 tsp soap per litre of water")
    done = run(*words, typed="2\n", terminal=True)
    assert done.exception is None
    assert 'material = "liquid-soap"' in file.read_text("utf-8")
    assert "2 tsp Liquid soap" not in done.stdout
    assert "2 tsp liquid soap per litre of water" in file.read_text("utf-8")
    left = tmp_path / "left.toml"
    refusal(run(*words[:2], str(left), *words[3:], typed="\n", terminal=True))
    assert not left.exists()


@pytest.mark.skipif(
    sys.platform == "win32",
    reason="Windows has no pseudo-terminals: the module pty is for Unix only",
)
def test_a_person_at_a_real_terminal_is_asked() -> None:
    import pty

    here, there = pty.openpty()
    words = [sys.executable, "-m", "dosecalc", "mix", "--text", SOAP, *SPRAY]
    child = subprocess.Popen(words, stdin=there, stdout=there, stderr=there)
    os.close(there)
    seen = b""
    for asked, answer in enumerate((b"3\n", b"1\n"), start=1):
        while seen.count(b"to stop): ") < asked:
            seen += os.read(here, 1024)
        os.write(here, answer)
    try:
        while part := os.read(here, 1024):
            seen += part
    except OSError:  # so a terminal ends on Linux once nobody holds its other side
        pass
    os.close(here)
    said = seen.decode()
    assert said.count(PROMPT) == 2
    assert "2 % v/v washing up detergent in water" in said
    assert "That is 20 mL of Washing-up liquid" in said
    assert child.wait() == 0

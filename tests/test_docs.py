"""Generated pages are current, commands are documented, the glossary knows every parameter."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from dosecalc.faces.cli.table import COMMANDS

ROOT = Path(__file__).parents[1]


def test_generated_pages_are_current() -> None:
    words = [sys.executable, "docs/generate.py", "--check"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_pictures_of_the_card_are_current() -> None:
    words = [sys.executable, "docs/pictures.py", "--check"]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_command_stands_in_the_docs() -> None:
    page = (ROOT / "docs/commands.md").read_text("utf-8")
    assert len(COMMANDS) > 3
    assert [name for name in COMMANDS if f"## dosecalc {name}\n" not in page] == []


def test_ci_runs_the_readmes_own_test_command() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    script = (ROOT / ".ci/run").read_text("utf-8").splitlines()
    assert script[-1].strip() in readme

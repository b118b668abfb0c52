"""What the pages print is what the commands print: every console block is run again."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[1] / "docs"
PAGES = (
    "feeding.md",
    "first-dose.md",
    "judging.md",
    "layers.md",
    "liming.md",
    "measures.md",
    "measuring.md",
    "schedule.md",
    "sites.md",
    "sowing.md",
)
BLOCK = re.compile(r"```(toml|console)\n(.*?)\n```", re.DOTALL)
CUT = "[...]"
BIN = Path(sys.executable).parent


def commands(block: str) -> list[tuple[str, list[str]]]:
    """Each command of a block with the lines that the page shows of its output."""
    found: list[tuple[str, list[str]]] = []
    lines = iter(block.splitlines())
    for line in lines:
        if line.startswith("$ "):
            words = line[2:]
            while words.endswith("\\"):
                words += "\n" + next(lines)
            found.append((words, []))
        else:
            found[-1][1].append(line)
    return found


def shell(words: str, folder: Path, code: int) -> tuple[str, int]:
    if words == "echo $?":
        return f"{code}\n", 0
    env = {**os.environ, "PATH": f"{BIN}:{os.environ['PATH']}"}
    done = subprocess.run(
        ["bash", "-c", words], cwd=folder, env=env, text=True, check=False,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    return done.stdout, done.returncode


@pytest.mark.parametrize("page", PAGES)
def test_every_block_of_a_page_is_what_is_printed_today(page: str, tmp_path: Path) -> None:
    toml, ran, code = "", 0, 0
    for kind, block in BLOCK.findall((DOCS / page).read_text("utf-8")):
        if kind == "toml":
            toml = block
            continue
        for words, shown in commands(block):
            # A page shows a file before it is used: it is written under the name that is used.
            for name in re.findall(r"[\w-]+\.toml", words):
                made = any(word in words for word in ("dosecalc label", "setup", "--save"))
                if not made and not (tmp_path / name).exists():
                    (tmp_path / name).write_text(toml + "\n")
            printed, code = shell(words, tmp_path, code)
            lines = iter(printed.splitlines())
            missing = [line for line in shown if line != CUT and line not in lines]
            assert missing == [], f"{page}: {words}"
            ran += 1
    assert ran > 3

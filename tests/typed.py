"""Commands as they are typed, run in this process."""

from __future__ import annotations

import json
import shlex
from typing import Any

from click.testing import CliRunner, Result

from dosecalc.faces.cli import group


def run(words: str) -> Result:
    return CliRunner().invoke(group, shlex.split(words), standalone_mode=False)


def found(words: str) -> dict[str, Any]:
    done = run(f"{words} --json")
    assert done.exception is None, done.exception
    data = json.loads(done.stdout)
    assert isinstance(data, dict)
    return data

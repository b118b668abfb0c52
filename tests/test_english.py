"""The sentences: each key once, and no command reads those that only others say."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from importlib import import_module
from pathlib import Path

from dosecalc.english import SENTENCES, every

PACKAGE = Path(__file__).parents[1] / "dosecalc"


def test_every_part_is_read_and_no_key_stands_twice() -> None:
    names = [path.stem for path in PACKAGE.glob("english_*.py")]
    assert len(names) >= 10
    parts = [import_module(f"dosecalc.{name}").SENTENCES for name in names]
    keys = Counter(key for part in (SENTENCES, *parts) for key in part)
    assert [key for key, count in keys.items() if count > 1] == []
    assert set(every()) == set(keys)


def test_a_dose_reads_no_sentences_of_other_commands(tmp_path: Path) -> None:
    code = (
        "import sys; from dosecalc.faces.cli import group;"
        "group(['mix', 'boron-drench', '--row', '4 m'], standalone_mode=False);"
        "print([name for name in sys.modules if name.startswith('dosecalc.english_')])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"

"""``python -m tests``: format check, lint, types, generated pages, tests. Stops at no failure."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
STEPS = (
    ("format", ["ruff", "format", "--check", "dosecalc", "tests"]),
    ("lint", ["ruff", "check", "dosecalc", "tests"]),
    ("types", ["mypy"]),
    ("tests", ["pytest", *sys.argv[1:]]),
)


def main() -> int:
    """Run every step and say which failed."""
    failed = [
        name
        for name, words in STEPS
        if subprocess.run([sys.executable, "-m", *words], cwd=ROOT, check=False).returncode
    ]
    print(f"failed: {', '.join(failed)}" if failed else "format, lint, types and tests passed")
    return bool(failed)


if __name__ == "__main__":
    sys.exit(main())

"""``python -m tests.bench``: whole-process times as ratios within one run, interleaved."""

from __future__ import annotations

import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 21
BARE = str(Path(__file__).with_name("bare.py"))
MIX = ["-m", "dosecalc", "mix", "boron-drench", "--row", "40 m", "--row-spacing", "45 cm"]
COMMANDS = {
    "import click": ["-c", "import click"],
    "--help": ["-m", "dosecalc", "--help"],
    "bare": [BARE],
    "mix": MIX,
    "mix --json": [*MIX, "--json"],
    "card": [
        "-m",
        "dosecalc",
        "card",
        *MIX[3:],
        "--replace",
        "-o",
        str(Path(tempfile.gettempdir()) / "dosecalc-bench.pdf"),
    ],
}


def once(words: list[str]) -> float:
    """Milliseconds of one fresh process."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], capture_output=True, check=False)
    return (time.perf_counter() - start) * 1000


def in_process() -> float:
    """Milliseconds of one `Mix` from a parsed recipe, median of 50."""
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.dose.mix import mix
    from dosecalc.faces.job import Job, gather

    request = gather(Job("boron-drench", SiteText(row="40 m", row_spacing="45 cm"), ToolsText()))
    times = []
    for _ in range(50):
        start = time.perf_counter()
        mix(request)
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def main() -> None:
    """Time every command in random order, then print medians and ratios."""
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS):
        for name in random.sample(list(COMMANDS), len(COMMANDS)):
            times[name].append(once(COMMANDS[name]))
    median = {name: statistics.median(found) for name, found in times.items()}
    for name, value in median.items():
        print(f"{name:<14}{value:8.1f} ms")
    print(f"--help / import click  {median['--help'] / median['import click']:.2f} (aim 2.5)")
    print(f"mix / bare             {median['mix'] / median['bare']:.2f} (aim 1.4)")
    print(f"mix --json / bare      {median['mix --json'] / median['bare']:.2f}")
    print(f"card / mix             {median['card'] / median['mix']:.2f} (aim 1.6)")
    print(f"one Mix in-process     {in_process():.2f} ms (aim 2)")


if __name__ == "__main__":
    main()

"""``python -m tests.bench.season``: what a long record costs, against a record of one entry."""

from __future__ import annotations

import datetime
import random
import statistics
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.faces.job import Job, run
from dosecalc.faces.record import entry_of
from dosecalc.season.entries import Entry, add
from dosecalc.season.store import writing
from tests.bench.__main__ import once

WORKED = (0, 3)
"""Exit codes of a command that did its work."""

ROUNDS = 15
ENTRIES, PLACES = 10_000, 200
LAST = datetime.date(2026, 6, 1)
MIX = ["-m", "dosecalc", "mix", "boron-drench", "--row", "40 m", "--row-spacing", "45 cm",
       "--crop", "beetroot", "--place", "bed 7", "--on", "2026-06-20"]  # fmt: skip
COMMANDS = {
    "log list": ["-m", "dosecalc", "log", "list"],
    "log show last": ["-m", "dosecalc", "log", "show", "last"],
    "mix --place": MIX,
    "log": ["-m", "dosecalc", "log", *MIX[3:-3], "bed 8", *MIX[-2:]],
}


def given() -> list[Entry]:
    """Three doses as `dosecalc log` writes them, to be repeated under other ids and days."""
    row = SiteText(row="40 m", row_spacing="45 cm")
    ground = SiteText(area="18 m2", spray_volume="2 L")
    jobs = [("boron-drench", row, "beetroot"), ("epsom-leaf-garden", ground, "beetroot"),
            ("potassium-bicarbonate-leaf", ground, "cucumber")]  # fmt: skip
    made = []
    for recipe, site, crop in jobs:
        found = run(Job(recipe, site, ToolsText(), ToldText(crop=crop)))
        made.append(entry_of(found, "foliar", crop, day="2026-01-01", bed=""))
    return made


def fill(file: Path, entries: int) -> None:
    """A record of so many entries over seven years, the last one on `LAST`."""
    kinds = given()
    with writing(file) as base:
        for n in range(entries):
            day = LAST - datetime.timedelta(days=(entries - 1 - n) * 2555 // ENTRIES)
            one = kinds[n % len(kinds)]
            add(base, replace(one, id=f"{n:012x}", day=day.isoformat(), bed=f"bed {n % PLACES}"))


def main() -> None:
    """Time each command on the long and the short record in random order; print the ratios."""
    with tempfile.TemporaryDirectory() as folder:
        files = {"long": Path(folder, "long.sqlite"), "short": Path(folder, "short.sqlite")}
        fill(files["long"], ENTRIES)
        fill(files["short"], 1)
        for words in COMMANDS.values():
            for file in files.values():
                line = [sys.executable, *words, "--season", str(file)]
                assert subprocess.run(line, capture_output=True, check=False).returncode in WORKED
        runs = [(name, size) for name in COMMANDS for size in files]
        times: dict[tuple[str, str], list[float]] = {key: [] for key in runs}
        for _ in range(ROUNDS):
            for name, size in random.sample(runs, len(runs)):
                words = [*COMMANDS[name], "--season", str(files[size])]
                times[name, size].append(once(words))
    for name in COMMANDS:
        long, short = (statistics.median(times[name, size]) for size in ("long", "short"))
        print(f"{name:<14}{long:8.1f} ms / {short:6.1f} ms = {long / short:.2f} (aim 1.5)")


if __name__ == "__main__":
    main()

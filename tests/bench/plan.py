"""``python -m tests.bench.plan``: a plan of 20 products and 12 nutrients against what it stands on.

The aim is one and a half times a plain mix and the bare import of the solver together, whole
processes in one interleaved run.
"""

from __future__ import annotations

import random
import statistics

from tests.bench.__main__ import MIX, ROUNDS, once

NEEDS = (
    "90 kg/ha N", "40 kg/ha P2O5", "120 kg/ha K2O", "60 kg/ha Ca", "20 kg/ha Mg", "25 kg/ha S",
    "1 kg/ha B", "2 kg/ha Zn", "2 kg/ha Mn", "1 kg/ha Cu", "2 kg/ha Fe", "0.2 kg/ha Mo",
)  # fmt: skip
HAVE = (
    "urea", "ammonium-sulfate", "calcium-nitrate-fertiliser",
    "triple-superphosphate", "diammonium-phosphate", "monoammonium-phosphate", "superphosphate",
    "potassium-chloride", "potassium-sulfate", "potassium-nitrate", "potassium-magnesium-sulfate",
    "epsom-salt", "kieserite", "gypsum", "borax", "zinc-sulfate-monohydrate",
    "manganese-sulfate-monohydrate", "copper-sulfate-pentahydrate", "ferrous-sulfate-heptahydrate",
    "sodium-molybdate",
)  # fmt: skip
SITE = ("--bed", "1.2 m x 8 m", "--crop", "beetroot")
PLAN = [
    "-m", "dosecalc", "plan", *SITE, *(word for need in NEEDS for word in ("--need", need)),
    *(word for have in HAVE for word in ("--have", have)),
]  # fmt: skip
COMMANDS = {"mix": MIX, "import highspy": ["-c", "import highspy"], "plan": PLAN}


def main() -> None:
    """Time the three in random order, then print medians and the ratio."""
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS):
        for name in random.sample(list(COMMANDS), len(COMMANDS)):
            times[name].append(once(COMMANDS[name]))
    median = {name: statistics.median(found) for name, found in times.items()}
    for name, value in median.items():
        print(f"{name:<16}{value:8.1f} ms")
    base = median["mix"] + median["import highspy"]
    print(f"plan / (mix + import highspy)  {median['plan'] / base:.2f} (aim 1.5)")


if __name__ == "__main__":
    main()

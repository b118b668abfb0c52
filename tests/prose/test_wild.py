"""Ninety recipes and mistakes as growers wrote them (``tests/wild``), through the commands."""

from __future__ import annotations

import json
import re
import shlex
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

import dosecalc.faces.cli as cli
from dosecalc.errors import DoseError
from dosecalc.units import read

FOLDER = Path(__file__).parents[1] / "wild"
KEYS = {
    "id", "kind", "text", "options", "args", "amount", "upper", "level", "not_level", "say",
    "refused", "printed", "bags", "ours", "unreachable", "miss",
}  # fmt: skip
KINDS = {
    "ok": 28, "contradictory": 20, "over": 17, "ambiguous": 16, "unknown": 4, "undissolvable": 3,
    "incompatible": 2,
}  # fmt: skip
FAR = "times the highest rate on file"
"""How a caution says that a dose is far above every published rate, where no limit is on file."""
MISSES: set[str] = set()
UNREACHABLE = {"a-limestone-cce", "b-borax-then-npk", "b-hose-dial-4oz"}
Case = dict[str, Any]


def load() -> list[Case]:
    return [
        case
        for path in sorted(FOLDER.glob("*.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]


CASES = load()


def run(case: Case) -> Result:
    words = shlex.split(case.get("args", ""))
    if "text" in case:
        words = ["mix", "--text", case["text"], *shlex.split(case["options"]), "--json"]
    return CliRunner().invoke(cli.group, words, standalone_mode=False)


def faults(case: Case) -> list[str]:
    """What came out otherwise than the case says."""
    done = run(case)
    if done.exception is not None:
        if not isinstance(done.exception, DoseError):
            return [repr(done.exception)]
        text = str(done.exception)
        return [] if case.get("refused", "\n") in text else [f"refused: {text}"]
    if "refused" in case:
        return [f"not refused: {done.output[:400]}"]
    if "printed" in case:
        return [] if case["printed"] in done.output else [done.output]
    return _of_mix(case, json.loads(done.output))


def _of_mix(case: Case, mix: dict[str, Any]) -> list[str]:
    found: list[str] = []
    amounts = {item["material"]: item for item in mix["amounts"]}
    for key in ("amount", "upper"):
        for id, text in case.get(key, {}).items():
            item = amounts[id]
            want = read.quantity(text)
            volume = text.endswith(" mL")
            got = item["up_to"] if key == "upper" else item["volume" if volume else "mass"]
            value = got["value"] if key == "upper" else got["likely"]
            unit = read.quantity(f"1 {got['unit']}")
            have = value * float(unit.amount_in(want.unit))
            digits = len(text.split()[0].partition(".")[2])
            # The answers were printed to six digits.
            if abs(have - float(want.value)) > max(0.5 * 10**-digits, float(want.value) * 3e-6):
                found.append(f"{id}: {have} and not {text}")
    levels = [finding["level"] for finding in mix["findings"]]
    if "level" in case and case["level"] not in levels:
        found.append(f"no {case['level']}: {[(f['level'], f['say']) for f in mix['findings']]}")
    if case.get("not_level") in levels:
        found.append(f"{case['not_level']}: {levels}")
    said = "\n".join([*mix["read_as"], *mix["steps"], *(f["say"] for f in mix["findings"])])
    found += [f"never said: {text}: {said}" for text in case.get("say", ()) if text not in said]
    of_level = [f["say"] for f in mix["findings"] if f["level"] == case.get("level")]
    for text in case.get("say", ()):
        # A note says it too; what answers the case is a finding of its own level.
        if FAR in text and not any(text in line for line in of_level):
            found.append(f"not said as {case.get('level')}: {text}: {of_level}")
    if "bags" in case and mix["bags"] != case["bags"]:
        found.append(f"{mix['bags']} bags")
    return found


def test_all_ninety_cases_are_there_once_and_well_formed() -> None:
    assert len({case["id"] for case in CASES}) == len(CASES) == 90
    assert Counter(case["kind"] for case in CASES) == KINDS
    assert [case["id"] for case in CASES if set(case) - KEYS] == []
    for case in CASES:
        assert ("text" in case) != ("args" in case), case["id"]
        told = [key for key in ("amount", "refused", "printed") if key in case]
        assert len(told) == 1, case["id"]


SIZE = re.compile(r"\d|% apart|times as much")
"""How far a page is from itself, or from what comes out: a refusal that says it says the slip."""


def answers_its_kind(case: Case) -> bool:
    """Whether what is asserted is the verdict itself, and not only an amount."""
    slip = SIZE.search(case.get("refused", "")) is not None
    return {
        "ok": True,
        "unknown": True,
        "over": slip
        or case.get("level") == "over"
        or (case.get("level") == "caution" and any(FAR in text for text in case.get("say", ()))),
        "contradictory": slip or "say" in case,
        "ambiguous": "refused" in case or "printed" in case,
        "undissolvable": case.get("level") in ("stop", "caution"),
        "incompatible": case.get("level") == "stop",
    }[case["kind"]]


def test_a_case_that_comes_out_otherwise_says_why() -> None:
    reasons = ("ours", "unreachable", "miss")
    silent = [
        case["id"]
        for case in CASES
        if not answers_its_kind(case) and not any(case.get(key) for key in reasons)
    ]
    assert silent == []


@pytest.mark.parametrize(
    "case", [case for case in CASES if "miss" not in case], ids=lambda case: case["id"]
)
def test_a_case_from_the_wild_comes_out(case: Case) -> None:
    assert faults(case) == []


def test_the_misses_are_exactly_these() -> None:
    missed = [case for case in CASES if "miss" in case]
    assert {case["id"] for case in missed} == MISSES
    assert [case["id"] for case in missed if not faults(case)] == []
    assert {case["id"] for case in CASES if "unreachable" in case} == UNREACHABLE

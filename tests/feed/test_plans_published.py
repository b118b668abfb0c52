"""Worked examples that others printed (``published_feeds/plans.toml``), by way of the program.

Each is held against the print, within half of its last digit and the rounding of its source, and
against an answer worked out apart to twelve digits. Where the print is wrong, the case says why.
"""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.asked import read_water
from dosecalc.catalog.lookup import source_exists
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.tools import ToolsText
from dosecalc.faces.job import Job
from dosecalc.faces.plan import make_plan
from dosecalc.faces.plan_read import PlanText
from dosecalc.units import read
from dosecalc.units.measure import Measure
from tests.printed import held, names

FILE = Path(__file__).parents[1] / "published_feeds" / "plans.toml"
DATA = tomllib.loads(FILE.read_text("utf-8"))
Case = dict[str, Any]
CLOSE = Fraction(1, 10**11)


def in_unit(amount: Measure, unit: str) -> Fraction:
    """How many of `unit` ("50 kg") an amount is."""
    step = read.quantity(unit if unit[0].isdigit() else f"1 {unit}", oz_is="weight")
    return amount.amount_in(step.unit) / step.value


def of_plan(case: Case) -> Fraction:
    site = SiteText(area=case.get("area"), medium_volume=case.get("medium_volume"))
    text = PlanText(
        need=tuple(case["need"]), have=tuple(case["have"]), whole=tuple(case.get("whole", ())),
        counts="oxide",
    )  # fmt: skip
    (dressing,) = make_plan(text, Job("", site, ToolsText(), measures="us")).dressings
    assert dressing.plan.clash == ()
    if "nutrient" in case:
        line = next(line for line in dressing.plan.lines if line.word == case["nutrient"])
        return in_unit(line.supply, case["unit"])
    amounts = {hand.offer.id: amount for hand, amount in dressing.plan.amounts}
    return in_unit(amounts[case["product"]], case["unit"])


def of_water(case: Case) -> Fraction:
    return in_unit(read_water(case["holds"], case["depth"]).amount, case["unit"])


@pytest.mark.parametrize("case", DATA["case"], ids=names)
def test_a_plan_comes_to_what_was_printed(case: Case) -> None:
    held(case, of_plan(case), CLOSE)


@pytest.mark.parametrize("case", DATA["water"], ids=names)
def test_nitrate_in_water_comes_to_what_was_printed(case: Case) -> None:
    held(case, of_water(case), CLOSE)


def test_every_case_has_a_source_and_a_name_of_its_own() -> None:
    cases = [*DATA["case"], *DATA["water"]]
    assert len(cases) > 20
    assert all(source_exists(case["source"]) for case in cases)
    assert len({case["id"] for case in cases}) == len(cases)

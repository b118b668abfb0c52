"""Published worked examples of lime, sulfur and gypsum (`tests/published_feeds/liming.toml`).

Each is held against what was printed, within half of its last digit, and against an answer worked
out apart from the program. Where the print is wrong the case stays and says why.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from dosecalc.catalog import lookup
from dosecalc.catalog.strength import pure_value
from tests.dose.liming import METHODS, advised, bag, in_unit, need
from tests.printed import held, names

FILE = Path(__file__).parents[1] / "published_feeds" / "liming.toml"
Case = dict[str, str]
CASES: list[Case] = tomllib.loads(FILE.read_text("utf-8"))["case"]
ALWAYS = {"id", "source", "about", "kind", "printed", "unit", "rounding", "exact"}
SOIL = ("ph", "target_ph", "buffer", "acidity", "texture", "sodium", "target_sodium", "cec")
# Molar masses differ in the fifth digit from one table of atomic weights to the next.
CLOSE = {"pure": Fraction(1, 10**4)}


def soil(case: Case) -> Case:
    return {key: case[key] for key in SOIL if key in case}


def by_advice(case: Case) -> Fraction:
    product = bag(case["value"], case.get("product", "ground-limestone"))
    return in_unit(advised(case["advice"], product).amount, case["unit"])


def by_method(case: Case) -> Fraction:
    return in_unit(need(case["method"], **soil(case)).amount, case["unit"])


def by_formula(case: Case) -> Fraction:
    return pure_value(case["formula"]) * 100


def by_fineness(case: Case) -> Fraction:
    product = bag(case["value"], sieves=case["fineness"])
    found = advised("1 lb/acre of 100 % ENV", product)
    assert found.counts.kind == "ENV"
    assert in_unit(found.amount, "lb/acre") == 100 / found.counts.value
    return found.counts.value


def by_sodium(case: Case) -> Fraction:
    return in_unit(need("gypsum-sodium", case["depth"], **soil(case)).amount, case["unit"])


def by_sodium_pure(case: Case) -> Fraction:
    field = METHODS["gypsum-sodium"].field_factor
    assert field is not None
    return by_sodium(case) / field


ANSWERS: dict[str, Callable[[Case], Fraction]] = {
    "advice": by_advice,
    "method": by_method,
    "pure": by_formula,
    "fineness": by_fineness,
    "sodium": by_sodium,
    "sodium-pure": by_sodium_pure,
}


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_published_example(case: Case) -> None:
    held(case, ANSWERS[case["kind"]](case), CLOSE.get(case["kind"], Fraction(1, 10**9)))


def test_the_cases_are_whole_and_of_every_kind() -> None:
    assert len(CASES) >= 30
    assert len({case["id"] for case in CASES}) == len(CASES)
    assert {case["kind"] for case in CASES} == set(ANSWERS)
    assert {case["rounding"] for case in CASES} == {"nearest", "down"}
    assert sum("disagree" in case for case in CASES) >= 5
    for case in CASES:
        assert set(case) >= ALWAYS
        assert lookup.source(case["source"]).id == case["source"]


def test_every_method_has_a_published_figure_but_two() -> None:
    """Two garden tables stand as disagreements with a third; their rows are held in test_liming."""
    used = {case["method"] for case in CASES if "method" in case} | {"gypsum-sodium"}
    assert set(METHODS) - used == {"garden-limestone-alabama", "garden-limestone-uk"}

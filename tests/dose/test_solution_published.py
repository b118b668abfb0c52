"""Feeding solutions that others printed (``published_feeds``), each by way of the program itself.

Held as ``tests/test_published.py`` holds its own: to half of the last printed digit and to an
answer worked out apart from this project. Where the print is wrong the case stays, and says why.
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog import lookup
from dosecalc.dose.solution import Portion, Salt, Want, blend, supplied
from dosecalc.dose.stock import Injector
from dosecalc.faces.solution.words import MG_PER_L, read_held, read_injector, read_want
from dosecalc.units.measure import GRAM, LITER, ML, Measure
from tests.printed import held, names, stated_miss
from tests.test_published import CASES as STRENGTHS
from tests.test_published import in_unit, material, quantity

FILE = Path(__file__).parents[1] / "published_feeds" / "solutions.toml"
Case = dict[str, Any]

ALWAYS = {"id", "source", "about", "kind", "printed", "unit", "rounding", "exact"}
SOMETIMES = {"constants", "tolerance", "disagree"}
KINDS: dict[str, tuple[set[str], set[str]]] = {
    "feed": ({"amounts", "volume", "holds", "nutrient"}, set()),
    "amount": ({"wants"}, {"holds", "formula", "density"}),
    "amount-for": ({"nutrient", "holds"}, set()),
    "stock": ({"want", "holds", "injector", "volume"}, set()),
    "stock-strength": ({"want", "injector"}, set()),
    "water-beside": ({"injector", "volume"}, set()),
    "feed-of": ({"injector", "volume"}, set()),
    "part-of": ({"injector", "volume"}, set()),
    "from-stock": ({"strength", "injector"}, set()),
    "in-volume": ({"strength", "volume"}, set()),
    "element": ({"want"}, set()),
    "on-ground": ({"strength", "irrigation"}, set()),
    "in-water": ({"want", "irrigation"}, set()),
    "held": ({"text"}, set()),
    "liquid": ({"mass", "density"}, set()),
    "liquid-holds": ({"amount", "density", "holds", "nutrient"}, set()),
}

CASES: list[Case] = tomllib.loads(FILE.read_text("utf-8"))["case"]
NO_WATER: dict[str, Fraction] = {}


def salt(case: Case) -> Salt:
    """A product of the analysis or the formula of a case."""
    text = f'formula = "{case["formula"]}"\n' if "formula" in case else ""
    if "density" in case:
        one = case["density"]
        text += f'[density]\nlow = "{one}"\nlikely = "{one}"\nhigh = "{one}"\nhow = "as printed"\n'
    for part in case.get("holds", []):
        for figure in part.split(", "):
            number, _, word = figure.split()
            text += (
                f'[[analysis]]\nnutrient = "{word}"\npercent = "{number}"\nkind = "minimum"\n'
                'source = "cornell-fertilizer-terms"\n'
            )
    return Salt("stuff", material(text))


def per_litre(mg: Fraction) -> Measure:
    return Measure(mg, MG_PER_L)


def injector(case: Case) -> Injector:
    return read_injector(case["injector"], to_water=False)


def litres(case: Case) -> Fraction:
    return quantity(case["volume"]).amount_in(LITER)


def by_feed(case: Case) -> Fraction:
    stuff = salt(case)
    portions = [
        Portion(stuff, stuff.counted(quantity(text)) / litres(case)) for text in case["amounts"]
    ]
    held = {line.element: line.total for line in supplied(portions, NO_WATER)}
    return in_unit(per_litre(held[case["nutrient"]]), case["unit"])


def by_amount(case: Case) -> Fraction:
    """Product in a litre: by weight, or by volume where that is what was printed."""
    wants = [read_want(text, None) for text in case["wants"]]
    (portion,) = blend([salt(case)], wants, NO_WATER).portions
    step = quantity(f"1 {case['unit']}")
    amount = portion.in_volume(Fraction(1))
    if "density" in case:
        density = portion.salt.material.need_density(amount).likely
        amount = Measure(amount.amount_in(GRAM) / density, ML)
    whole = amount / Measure(Fraction(1), LITER)
    return whole.amount_in(step.unit) / step.value


def by_amount_for(case: Case) -> Fraction:
    """As a strength of one litre, so that the mass wanted is that of the litre."""
    mass, word = case["nutrient"].rsplit(" ", 1)
    want = Want(word, quantity(mass).amount_in((("mg", 1),)))
    (portion,) = blend([salt(case)], [want], NO_WATER).portions
    return in_unit(portion.in_volume(Fraction(1)), case["unit"])


def by_stock(case: Case) -> Fraction:
    """Product in a tank of stock, or of feed where there is no injector."""
    (portion,) = blend([salt(case)], [read_want(case["want"], None)], NO_WATER).portions
    times = Fraction(1) if case["injector"] == "none" else injector(case).times()
    return in_unit(portion.in_volume(litres(case) * times), case["unit"])


def by_stock_strength(case: Case) -> Fraction:
    want = read_want(case["want"], None)
    return in_unit(per_litre(want.goal * injector(case).times()), case["unit"])


def by_water_beside(case: Case) -> Fraction:
    volume = quantity(case["volume"])
    return in_unit(volume * injector(case).times() - volume, case["unit"])


def by_feed_of(case: Case) -> Fraction:
    return in_unit(quantity(case["volume"]) * injector(case).times(), case["unit"])


def by_part_of(case: Case) -> Fraction:
    return in_unit(quantity(case["volume"]) / injector(case).times(), case["unit"])


def by_from_stock(case: Case) -> Fraction:
    return in_unit(quantity(case["strength"]) / injector(case).times(), case["unit"])


def by_in_volume(case: Case) -> Fraction:
    stuff = Salt("stuff", material('formula = "MgSO4.7H2O"\n'))
    one = quantity(case["strength"]) * Measure(Fraction(1), LITER)
    return in_unit(Portion(stuff, stuff.counted(one)).in_volume(litres(case)), case["unit"])


def by_element(case: Case) -> Fraction:
    """The element that a percentage of the oxide counts, as the strength of one litre would."""
    return read_want(case["want"], None).goal


def by_on_ground(case: Case) -> Fraction:
    return in_unit(quantity(case["strength"]) * quantity(case["irrigation"]), case["unit"])


def by_in_water(case: Case) -> Fraction:
    want = read_want(case["want"], quantity(case["irrigation"]))
    return in_unit(per_litre(want.per_litre), case["unit"])


def by_held(case: Case) -> Fraction:
    return in_unit(per_litre(read_held(case["text"]).per_litre), case["unit"])


def by_liquid(case: Case) -> Fraction:
    one = case["density"]
    text = f'[density]\nlow = "{one}"\nlikely = "{one}"\nhigh = "{one}"\nhow = "as printed"\n'
    text += (
        '[[analysis]]\nnutrient = "N"\npercent = "21"\nkind = "minimum"\nbasis = "w/v"\n'
        'source = "cornell-fertilizer-terms"\n'
    )
    stuff = Salt("stuff", material(text))
    assert stuff.unit == ML
    return in_unit(Measure(stuff.counted(quantity(case["mass"])), ML), case["unit"])


def by_liquid_holds(case: Case) -> Fraction:
    stuff = salt(case)
    assert stuff.unit == GRAM
    counted = stuff.counted(quantity(case["amount"]))
    return in_unit(Measure(counted * stuff.holds(case["nutrient"]), GRAM), case["unit"])


ANSWERS: dict[str, Callable[[Case], Fraction]] = {
    "feed": by_feed,
    "amount": by_amount,
    "amount-for": by_amount_for,
    "stock": by_stock,
    "stock-strength": by_stock_strength,
    "water-beside": by_water_beside,
    "feed-of": by_feed_of,
    "part-of": by_part_of,
    "from-stock": by_from_stock,
    "in-volume": by_in_volume,
    "element": by_element,
    "on-ground": by_on_ground,
    "in-water": by_in_water,
    "held": by_held,
    "liquid": by_liquid,
    "liquid-holds": by_liquid_holds,
}


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_published_solution(case: Case) -> None:
    held(case, ANSWERS[case["kind"]](case))


BACK = [c for c in STRENGTHS if c.get("nutrient_amount", "").endswith(" mg/L")]
FORWARD = [c for c in STRENGTHS if c["kind"] == "strength"]


def test_the_strengths_printed_elsewhere_are_here() -> None:
    assert len(BACK) >= 6
    assert len(FORWARD) >= 4


@pytest.mark.parametrize("case", FORWARD, ids=names)
def test_the_strengths_printed_elsewhere_come_out_of_a_solution_too(case: Case) -> None:
    stuff = salt({"holds": [f"{case['percent']} % N"]})
    feed = [Portion(stuff, stuff.counted(quantity(case["mass"])) / litres(case | {
        "volume": case["water"]}))]  # fmt: skip
    (line,) = supplied(feed, NO_WATER)
    exact = Fraction(case["exact"])
    assert abs(in_unit(per_litre(line.total), case["unit"]) - exact) <= exact / 10**9


@pytest.mark.parametrize("case", BACK, ids=names)
def test_the_amounts_printed_elsewhere_come_out_of_a_solution_too(case: Case) -> None:
    wanted = quantity(case["nutrient_amount"])
    step = quantity(f"1 {case['unit']}")
    want = Want("N", wanted.amount_in(MG_PER_L))
    (portion,) = blend([salt({"holds": [f"{case['percent']} % N"]})], [want], NO_WATER).portions
    whole = portion.in_volume(Fraction(1)) / Measure(Fraction(1), LITER)
    exact = Fraction(case["exact"])
    assert abs(whole.amount_in(step.unit) / step.value - exact) <= exact / 10**9


def test_there_are_enough_cases_of_every_kind() -> None:
    assert len(CASES) >= 40
    assert {case["kind"] for case in CASES} == set(ANSWERS) == set(KINDS)
    assert {case["rounding"] for case in CASES} == {"nearest", "down"}
    assert sum("disagree" in case for case in CASES) >= 3
    assert [id for id, count in Counter(map(names, CASES)).items() if count > 1] == []


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_case_has_the_keys_of_its_kind_and_no_other(case: Case) -> None:
    needed, allowed = KINDS[case["kind"]]
    assert set(case) >= ALWAYS | needed
    assert set(case) <= ALWAYS | SOMETIMES | needed | allowed
    assert ("tolerance" in case) <= ("constants" in case)
    assert not {"tolerance", "disagree"} <= set(case)
    assert re.fullmatch(r"\d+(\.\d+)?", case["printed"])
    assert lookup.source(case["source"]).id == case["source"]
    if "tolerance" in case:
        miss = abs(Fraction(case["exact"]) / Fraction(case["printed"]) - 1)
        assert stated_miss(case) <= 4 * miss

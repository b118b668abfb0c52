"""Layers that others reckoned (``published_feeds/layers.toml``), each by way of the program itself.

Held as in ``test_published``: within half of the last digit printed (or of the step that a source
rounded to), and against an answer worked out apart. Where the print is wrong the case says why.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from dosecalc.catalog import build, lookup
from dosecalc.catalog.availability import typed_share
from dosecalc.catalog.checking import validate
from dosecalc.catalog.material import Material
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.dose import layer
from dosecalc.units import read
from dosecalc.units.measure import Measure
from tests.printed import held, names

FILE = Path(__file__).parents[1] / "published_feeds" / "layers.toml"
Case = dict[str, str]
CASES: list[Case] = tomllib.loads(FILE.read_text("utf-8"))["case"]
KINDS = {
    "covers": ({"holds", "depth"}, set()),
    "volume": ({"depth", "area"}, set()),
    "ground": ({"beds"}, set()),
    "bags": ({"bag"}, {"volume", "depth", "area"}),
    "nitrogen": ({"goal", "percent", "share"}, set()),
    "feeds": ({"amount", "percent", "share"}, set()),
}
ALWAYS = {"id", "source", "about", "kind", "printed", "unit", "rounding", "exact"}
SOMETIMES = {"disagree", "step"}


def quantity(text: str) -> Measure:
    return read.quantity(text, "us", oz_is="weight")


def in_unit(amount: Measure, unit: str) -> Fraction:
    step = quantity(f"1 {unit}")
    return amount.amount_in(step.unit) / step.value


def holding(percent: str) -> Material:
    text = (
        f'name = "A heap"\nform = "bulk"\n[[analysis]]\nnutrient = "N"\npercent = "{percent}"\n'
        'kind = "typical"\nsource = "cornell-fertilizer-terms"\n'
    )
    data = tomllib.loads(text)
    assert validate("material", data, "heap.toml") == []
    return build.material("heap", data, build.Faults("heap.toml"))


def share(text: str) -> Fraction:
    return Fraction(text[:-2]) / 100 if text.endswith(" %") else ratio(text)


def ratio(text: str) -> Fraction:
    above, _, below = text.partition("/")
    return Fraction(above) / Fraction(below)


def by_covers(case: Case) -> Fraction:
    return in_unit(layer.covers(quantity(case["holds"]), quantity(case["depth"])), case["unit"])


def laid(case: Case) -> Measure:
    return quantity(case["depth"]) * quantity(case["area"])


def by_volume(case: Case) -> Fraction:
    back = layer.spread_over(laid(case), quantity(case["area"]))
    assert back.amount_in(quantity("1 in").unit) == quantity(case["depth"]).value
    return in_unit(laid(case), case["unit"])


def by_ground(case: Case) -> Fraction:
    grounds = [read_site(SiteText(bed=text.strip())).ground for text in case["beds"].split(";")]
    return sum((in_unit(ground, case["unit"]) for ground in grounds if ground), Fraction(0))


def by_bags(case: Case) -> Fraction:
    volume = quantity(case["volume"]) if "volume" in case else laid(case)
    bag = quantity(case["bag"])
    exact = (volume / bag).amount_in(())
    assert layer.fillings(volume, bag) == -(-exact // 1)
    return exact


def by_nitrogen(case: Case) -> Fraction:
    stuff = holding(case["percent"])
    found = layer.rate_for(quantity(case["goal"]), stuff, typed_share(share(case["share"])))
    return in_unit(Measure(found.likely, found.unit), case["unit"])


def by_feeds(case: Case) -> Fraction:
    rate = quantity(case["amount"]) / quantity("1 m2")
    found = layer.feeds(rate, holding(case["percent"]), typed_share(share(case["share"])))
    assert found is not None
    return in_unit(Measure(found.likely, found.unit) * quantity("1 m2"), case["unit"])


ANSWERS: dict[str, Callable[[Case], Fraction]] = {
    "covers": by_covers, "volume": by_volume, "ground": by_ground, "bags": by_bags,
    "nitrogen": by_nitrogen, "feeds": by_feeds,
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_published_layer(case: Case) -> None:
    held(case, ANSWERS[case["kind"]](case))


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_case_has_the_keys_of_its_kind(case: Case) -> None:
    needed, allowed = KINDS[case["kind"]]
    assert ALWAYS | needed <= set(case) <= ALWAYS | SOMETIMES | needed | allowed
    assert re.fullmatch(r"\d+(\.\d+)?", case["printed"])
    assert lookup.source(case["source"]).id == case["source"]


def test_every_kind_is_there_and_the_wrong_prints_are_kept() -> None:
    assert {case["kind"] for case in CASES} == set(ANSWERS) == set(KINDS)
    assert len({case["id"] for case in CASES}) == len(CASES) >= 30
    wrong = {case["source"] for case in CASES if "disagree" in case}
    assert wrong == {"garden-center-mulch", "csu-organic-amendments", "garden-club-measurements"}

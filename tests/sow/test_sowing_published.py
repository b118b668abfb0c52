"""What published examples print of seed rates, live seed, populations and living things."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from dosecalc.catalog import lookup
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.tally import read_tally_rate
from dosecalc.dose import sowing
from dosecalc.dose.sowing import Lot
from dosecalc.units import read
from dosecalc.units.measure import AREA, Measure
from tests.printed import held, names

FILE = Path(__file__).parents[1] / "published_feeds" / "sowing.toml"
Case = dict[str, str]
CASES: list[Case] = tomllib.loads(FILE.read_text("utf-8"))["case"]
ALWAYS = {"id", "source", "about", "kind", "printed", "exact"}
SOMETIMES = {"disagree", "step"}
SHARES = {"germination", "emergence", "purity", "coating", "establishment"}
SIZES = {"million": Fraction(10**6), "thousand": Fraction(10**3)}


def quantity(text: str) -> Measure:
    return read.quantity(text, "us", oz_is="weight")


def in_unit(amount: Measure, unit: str) -> Fraction:
    step = quantity(f"1 {unit}")
    return amount.amount_in(step.unit) / step.value


def share(case: Case, key: str, otherwise: str = "100") -> Fraction:
    return Fraction(case.get(key, otherwise)) / 100


def lot(case: Case) -> Lot:
    one = quantity("1 g")
    if "thousand" in case:
        one = quantity(case["thousand"]) / 1000
    elif "seed_count" in case:
        one = sowing.one_from_count(read_tally_rate(case["seed_count"], ("seed",), "1/g", "us"))
    emergence = share(case, "establishment" if "establishment" in case else "emergence")
    return Lot(one, False, share(case, "germination"), emergence, share(case, "purity"),
               share(case, "coating", "0"))  # fmt: skip


def plants(case: Case) -> Fraction:
    return read_tally_rate(case["stand"], ("plant",), "1/m2").over(quantity(case["area"]))


def by_weight(case: Case) -> Fraction:
    found = sowing.weight_of(sowing.seeds_for(plants(case), lot(case)), lot(case))
    return in_unit(found, case["unit"])


def by_row(case: Case) -> Fraction:
    """A stand on so many feet of row: an area is counted through the row spacing."""
    site = read_site(SiteText(row=case["row"], row_spacing=case["between"]))
    rate = read_tally_rate(case["stand"], ("plant",), "1/m2")
    over = site.ground if rate.is_per(AREA) else site.row_length
    assert over is not None
    if "area" in case:
        assert site.ground is not None
        assert site.ground.amount_in(quantity(case["area"]).unit) == quantity(case["area"]).value
    return rate.over(over)


def by_population(case: Case) -> Fraction:
    site = SiteText(area=case["area"], plant_spacing=case["along"], row_spacing=case["between"])
    return Fraction(read_site(site).plants or 0)


def by_count(case: Case) -> Fraction:
    return sowing.seeds_in(quantity(case["weight"]), Lot(quantity(case["hundred"]) / 100))


def by_living(case: Case) -> Fraction:
    rate = read_tally_rate(case["rate"], ("nematode",), "1/m2")
    return rate.over(quantity(case["area"])) / SIZES[case["unit"]]


ANSWERS: dict[str, tuple[set[str], Callable[[Case], Fraction]]] = {
    "row": ({"stand", "between", "row"}, by_row),
    "live-share": (set(), lambda case: lot(case).live_share * 100),
    "live-weight": (
        {"bag", "unit"},
        lambda case: in_unit(sowing.live_in(quantity(case["bag"]), lot(case)), case["unit"]),
    ),
    "bag": (
        {"live", "unit"},
        lambda case: in_unit(sowing.bag_for(quantity(case["live"]), lot(case)), case["unit"]),
    ),
    "weight": ({"stand", "area", "unit"}, by_weight),
    "seeds": ({"stand", "area"}, lambda case: sowing.seeds_for(plants(case), lot(case))),
    "count": ({"hundred", "weight"}, by_count),
    "population": ({"along", "between", "area"}, by_population),
    "living": ({"rate", "area", "unit"}, by_living),
}


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_published_sowing(case: Case) -> None:
    held(case, ANSWERS[case["kind"]][1](case))


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_case_has_the_keys_of_its_kind(case: Case) -> None:
    needed = ANSWERS[case["kind"]][0]
    extra = SHARES | {"thousand", "seed_count", "area"}
    assert ALWAYS | needed <= set(case) <= ALWAYS | SOMETIMES | needed | extra
    assert re.fullmatch(r"\d+(\.\d+)?", case["printed"])
    assert lookup.source(case["source"]).id == case["source"]


def test_every_kind_is_there_and_the_wrong_prints_are_kept() -> None:
    assert {case["kind"] for case in CASES} == set(ANSWERS)
    assert len({case["id"] for case in CASES}) == len(CASES) >= 60
    wrong = {case["source"] for case in CASES if "disagree" in case}
    assert wrong == {
        "texas-roads-live-seed", "nematodes-for-areas", "lawn-nematodes-page",
        "teagasc-spring-sowing", "manitoba-seeding-rate", "uky-wheat-seed-rate",
    }  # fmt: skip

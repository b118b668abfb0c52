"""What holds of every layer and every filling, and what must not be guessed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.availability import (
    Share,
    first_year,
    read_salt_marks,
    read_shares,
    shares_of,
    typed_share,
)
from dosecalc.catalog.limit import read_limits, terms_of
from dosecalc.catalog.material import Material
from dosecalc.catalog.product import read_product
from dosecalc.dose import fill, layer
from dosecalc.errors import DoseError
from dosecalc.units import read
from dosecalc.units.measure import LITER, METER, SQUARE_METER, Measure

COMPOST = lookup.material("garden-compost")
MANURE = lookup.material("cattle-manure")
SHARES = read_shares(lookup.source)
LIMITS = read_limits(terms_of({"N"}, [COMPOST, MANURE]), lookup.source)

positive = st.fractions(min_value=Fraction(1, 1000), max_value=1000, max_denominator=1000)
allowance = st.fractions(min_value=0, max_value=Fraction(1, 2), max_denominator=100)
percent = st.integers(min_value=1, max_value=40)


def quantity(text: str) -> Measure:
    return read.quantity(text, oz_is="weight")


def meters(value: Fraction) -> Measure:
    return Measure(value, METER)


def liters(value: Fraction) -> Measure:
    return Measure(value, LITER)


def compost(holds: str, state: str, moisture: str | None = None) -> Material:
    table = {"like": "garden-compost", "holds": (holds,), "state": state}
    if moisture is not None:
        table["moisture"] = moisture
    return read_product("heap", table, None).material


def likely(rate: Measure, material: Material, nutrient: str = "N") -> Fraction:
    found = layer.brings(rate, material, nutrient)
    assert found is not None
    return found.likely


@given(positive, allowance)
def test_what_is_laid_leaves_what_was_wanted(value: Fraction, lost: Fraction) -> None:
    laid = layer.before_loss(meters(value), lost)
    assert laid.value * (1 - lost) == value
    assert laid.value >= value


@pytest.mark.parametrize("share", [Fraction(-1, 10), Fraction(51, 100)])
def test_an_allowance_out_of_reach_is_refused(share: Fraction) -> None:
    with pytest.raises(DoseError, match="from 0 to 50 %"):
        layer.before_loss(meters(Fraction(1)), share)


@given(positive, positive, positive)
def test_volumes_scale_with_the_ground_and_the_depth(
    have: Fraction, ground: Fraction, times: Fraction
) -> None:
    area = Measure(ground, SQUARE_METER)
    rate = layer.spread_over(liters(have), area)
    assert layer.spread_over(liters(have * times), area).value == rate.value * times
    assert (rate * area).amount_in(LITER) == have


@given(positive, positive)
def test_bags_are_never_short_and_never_one_too_many(volume: Fraction, bag: Fraction) -> None:
    count = layer.fillings(liters(volume), liters(bag))
    assert count * bag >= volume
    assert (count - 1) * bag < volume


@given(positive, positive)
def test_what_covers_an_area_at_a_depth_has_its_volume(holds: Fraction, depth: Fraction) -> None:
    area = layer.covers(liters(holds), meters(depth))
    assert (area * meters(depth)).amount_in(LITER) == holds


@given(positive, percent)
def test_dry_and_as_it_lies_agree_without_moisture(value: Fraction, held: int) -> None:
    rate = meters(value)
    dry = compost(f"{held} % N", "dry", "0 %")
    assert likely(rate, dry) == likely(rate, compost(f"{held} % N", "as-is"))


@given(positive, percent, st.integers(0, 98))
def test_more_moisture_means_less_nutrient(value: Fraction, held: int, wet: int) -> None:
    rate = meters(value)
    drier, wetter = (compost(f"{held} % N", "dry", f"{w} %") for w in (wet, wet + 1))
    assert likely(rate, wetter) < likely(rate, drier)


def test_a_dry_analysis_is_not_taken_for_the_heap_as_it_lies() -> None:
    rate = quantity("10 kg/m2")
    assert likely(rate, compost("2 % N", "as-is")) == 2 * likely(
        rate, compost("2 % N", "dry", "50 %")
    )
    with pytest.raises(DoseError, match="dry matter or of the product as it lies"):
        read_product("heap", {"like": "garden-compost", "holds": ("2 % N",)}, None)
    with pytest.raises(DoseError, match="needs the moisture"):
        compost("2 % N", "dry")


@given(positive, st.fractions(Fraction(1, 100), 1, max_denominator=100))
def test_a_goal_is_fed_by_the_rate_that_it_asks_for(goal: Fraction, part: Fraction) -> None:
    share = typed_share(part)
    wanted = Measure(goal, (("hectare", -1), ("kg", 1)))
    for material in (COMPOST, MANURE, lookup.material("blood-meal")):
        fed = layer.feeds(layer.goal_rate(wanted, material, share), material, share)
        assert fed is not None
        assert fed.likely == goal


def test_a_goal_has_its_spread_from_rich_to_poor() -> None:
    share = first_year(COMPOST, SHARES)
    assert share is not None
    content = COMPOST.content("N")
    assert content is not None
    found = layer.rate_for(quantity("100 kg/ha"), COMPOST, share)
    assert found.low == 10 / (content.factor.high * share.high)
    assert found.likely == 10 / (content.factor.likely * share.likely)
    assert found.high == 10 / (content.factor.low * share.low)


def test_phosphorus_and_phosphate_are_told_apart() -> None:
    rate = quantity("2 cm")
    ratio = likely(rate, COMPOST, "P2O5") / likely(rate, COMPOST, "P")
    # Two of 30.974 g P in 141.943 g P2O5: 2.2914, as tables of fertilizer factors print it.
    assert abs(ratio - Fraction(22914, 10000)) < Fraction(1, 10000)


def test_without_a_density_a_depth_brings_nothing_that_is_known() -> None:
    unknown = replace(COMPOST, density=None)
    assert layer.brings(quantity("2 cm"), unknown, "N") is None
    assert layer.depth_of(quantity("10 kg/m2"), unknown) is None
    assert layer.brings(quantity("10 kg/m2"), unknown, "N") is not None
    share = typed_share(Fraction(1, 10))
    assert layer.goal_rate(quantity("100 kg/ha"), unknown, share).unit == (
        ("gram", 1), ("meter", -2)
    )  # fmt: skip


def test_nitrogen_is_asked_only_of_what_holds_it() -> None:
    with pytest.raises(DoseError, match="not known to hold nitrogen"):
        layer.rate_for(
            quantity("100 kg/ha"), lookup.material("wood-chips"), typed_share(Fraction(1))
        )


def test_a_depth_of_what_is_no_heap_is_refused() -> None:
    with pytest.raises(DoseError, match="does not come as a heap"):
        layer.checked_depth(quantity("1 cm"), lookup.material("blood-meal"))


@pytest.mark.parametrize(
    ("placement", "setting", "ids"),
    [
        ("mixed-in", "garden", ["compost-garden-year", "compost-new-bed"]),
        ("mulch", "garden", ["compost-garden-year"]),
        ("mixed-in", "container", []),
    ],
)
def test_the_figures_for_a_layer_are_those_of_its_place(
    placement: str, setting: str, ids: list[str]
) -> None:
    found = layer.at_limits(LIMITS, COMPOST, first_year(COMPOST, SHARES), placement, setting)
    assert [one.limit.id for one in found] == ids


def test_a_goal_is_held_against_what_a_layer_at_the_limit_feeds() -> None:
    (at, _) = layer.at_limits(LIMITS, COMPOST, first_year(COMPOST, SHARES), "mixed-in", "garden")
    assert at.feeds is not None
    just = Measure(at.feeds.likely, at.feeds.unit)
    assert layer.reaches(at, just)
    assert not layer.reaches(at, just * Fraction(101, 100))


def test_a_figure_by_weight_speaks_of_manure() -> None:
    found = layer.at_limits(LIMITS, MANURE, first_year(MANURE, SHARES), "mixed-in", "garden")
    assert [one.limit.id for one in found] == ["cattle-manure-garden-rate"]
    assert found[0].feeds is not None


def test_later_years_get_what_is_printed() -> None:
    first = first_year(COMPOST, SHARES)
    assert first is not None
    rate = quantity("2 cm")
    (pair,) = layer.later(rate, COMPOST, first, shares_of(COMPOST, "N", SHARES))
    share, span = pair
    assert share.id == "compost-later-years"
    assert span.likely == likely(rate, COMPOST) * (1 - first.likely) * share.likely


@pytest.mark.parametrize(("typed", "over"), [("7.9", False), ("8", False), ("8.1", True)])
def test_a_salty_compost_is_said_to_be_salty(typed: str, over: bool) -> None:
    mark = layer.salty(Fraction(typed), COMPOST, read_salt_marks(lookup.source))
    assert (mark is not None) == over
    assert layer.salty(Fraction(typed), MANURE, read_salt_marks(lookup.source)) is None


def part(id: str, parts: Fraction) -> fill.Part:
    return fill.Part(id, lookup.material(id), parts)


@given(positive, positive, positive, positive, allowance, allowance)
def test_the_parts_come_to_the_whole(
    one: Fraction, two: Fraction, three: Fraction, whole: Fraction, sinks: Fraction, lost: Fraction
) -> None:
    parts = [part("garden-compost", one), part("peat", two), part("vermiculite", three)]
    assert sum(fill.shares(parts)) == 1
    total = fill.loose(liters(whole), sinks, lost)
    found = fill.amounts(parts, total)
    assert sum(amount.value for amount in found) == total.value
    assert total.value * (1 - sinks) * (1 - lost) == whole
    assert found[0].value * two == found[1].value * one


def test_parts_that_make_no_medium_are_refused() -> None:
    with pytest.raises(DoseError, match="stands twice"):
        fill.shares([part("peat", Fraction(1)), part("peat", Fraction(2))])
    with pytest.raises(DoseError, match="does not come as a heap"):
        fill.shares([part("peat", Fraction(9)), part("urea", Fraction(1))])


@pytest.mark.parametrize("share", SHARES, ids=lambda share: share.id)
def test_a_share_runs_from_low_to_high_and_speaks_of_something(share: Share) -> None:
    assert 0 < share.low <= share.likely <= share.high <= 1
    assert share.from_year <= share.to_year
    assert share.source is not None
    assert any(
        share in shares_of(lookup.material(id), share.nutrient, SHARES)
        for id in lookup.material_ids()
    )


def test_a_goal_is_worked_out_with_one_share_of_a_first_year() -> None:
    by_own_id = {s.of for s in SHARES if s.used}
    assert len(by_own_id) == sum(s.used for s in SHARES) >= 6
    assert all((s.nutrient, s.from_year, s.to_year) == ("N", 1, 1) for s in SHARES if s.used)
    for id in ("garden-compost", "municipal-compost", "manure-compost", "cattle-manure",
               "horse-manure", "sheep-manure", "poultry-manure"):  # fmt: skip
        assert first_year(lookup.material(id), SHARES) is not None
    assert first_year(lookup.material("wood-chips"), SHARES) is None
    own = first_year(lookup.material("manure-compost"), SHARES)
    assert own is not None
    assert own.id == "composted-manure-first-year"

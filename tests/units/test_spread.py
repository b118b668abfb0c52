"""Spread: what a span claims is what a careful sceptic finds by trying every hand.

The reckoning beside `Est` here is a second one: it walks the same expression with plain
numbers and knows nothing of terms, keys or corners.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dosecalc.units.measure import GRAM, LITER, METER, ML, NONE, SQUARE_METER, Measure
from dosecalc.units.spread import Est, Factor, Span

F = Fraction
G_PER_ML = (("gram", 1), ("mL", -1))
G_PER_L = (("gram", 1), ("liter", -1))
KG_PER_HA = (("hectare", -1), ("kg", 1))
KEYS = ("density", "spoon", "scale", "jug")


def of(value: str | int, unit=GRAM) -> Est:
    return Est.of(Measure(F(value), unit))


def exactly(span: Span) -> Fraction:
    assert span.low == span.likely == span.high
    return span.likely


# ---------------------------------------------------------------- random expressions

positive = st.builds(F, st.integers(1, 100), st.integers(1, 20))
nonzero = st.one_of(positive, positive.map(lambda value: -value))


@st.composite
def factor_sets(draw) -> dict[str, Factor]:
    found = {}
    for key in KEYS:
        low, likely, high = sorted(draw(st.tuples(positive, positive, positive)))
        found[key] = Factor(key, low, likely, high)
    return found


def _trees(numbers):
    def grow(inner):
        times = st.tuples(
            st.just("times"), inner, st.sampled_from(KEYS), st.sampled_from([1, 1, -1, 2, -2])
        )
        return st.one_of(
            times,
            st.tuples(st.just("by"), inner, numbers),
            st.tuples(st.just("over"), inner, positive),
            st.tuples(st.just("plus"), inner, inner),
        )

    return st.recursive(st.tuples(st.just("exactly"), numbers), grow, max_leaves=6)


expressions = _trees(nonzero)
sums_of_positives = _trees(positive)


def build(tree, factors: dict[str, Factor]) -> Est:
    name, *rest = tree
    if name == "exactly":
        return Est.of(Measure(rest[0], GRAM))
    inner = build(rest[0], factors)
    if name == "times":
        return inner.times(factors[rest[1]], rest[2])
    if name == "by":
        return inner.by(rest[1])
    if name == "over":
        return inner.over(Measure(rest[1], NONE))
    return inner.plus(build(rest[1], factors))


def reckon(tree, values: dict[str, Fraction]) -> Fraction:
    name, *rest = tree
    if name == "exactly":
        return rest[0]
    inner = reckon(rest[0], values)
    if name == "times":
        return inner * values[rest[1]] ** rest[2]
    if name == "by":
        return inner * rest[1]
    if name == "over":
        return inner / rest[1]
    return inner + reckon(rest[1], values)


def powers_of(tree, above=()) -> list[dict[str, int]]:
    """The powers of each factor in every term of the sum, written out."""
    name, *rest = tree
    if name == "exactly":
        powers: dict[str, int] = {}
        for key, power in above:
            powers[key] = powers.get(key, 0) + power
        return [{key: power for key, power in powers.items() if power}]
    if name == "plus":
        return powers_of(rest[0], above) + powers_of(rest[1], above)
    more = ((rest[1], rest[2]),) if name == "times" else ()
    return powers_of(rest[0], above + more)


def corners_of(factors: dict[str, Factor]):
    ends = [((key, found.low), (key, found.high)) for key, found in factors.items()]
    return [dict(corner) for corner in product(*ends)]


def inside(draw_from: st.DataObject, factors: dict[str, Factor]) -> dict[str, Fraction]:
    many = st.lists(st.integers(0, 50), min_size=len(factors), max_size=len(factors))
    return {
        key: found.low + F(share, 50) * (found.high - found.low)
        for share, (key, found) in zip(draw_from.draw(many), factors.items(), strict=True)
    }


@given(expressions, factor_sets(), st.data())
@settings(deadline=None)
def test_a_span_holds_every_combination_of_factor_values(tree, factors, data):
    span = build(tree, factors).span()
    assert span.unit == GRAM
    assert span.low <= span.likely <= span.high
    assert span.likely == reckon(tree, {key: found.likely for key, found in factors.items()})
    tries = [inside(data, factors) for _ in range(3)] + corners_of(factors)
    for values in tries:
        assert span.low <= reckon(tree, values) <= span.high


def powers_seen(tree) -> dict[str, set[int]]:
    """Every power in which each factor stands somewhere in the sum."""
    seen: dict[str, set[int]] = {}
    for term in powers_of(tree):
        for key, power in term.items():
            seen.setdefault(key, set()).add(power)
    return seen


def _reaches_its_corners(tree, factors: dict[str, Factor]) -> bool:
    found = [reckon(tree, values) for values in corners_of(factors)]
    span = build(tree, factors).span()
    return (span.low, span.high) == (min(found), max(found))


@given(expressions, factor_sets())
@settings(deadline=None, max_examples=50)
def test_a_span_is_no_wider_than_its_corners_where_each_factor_has_one_power(tree, factors):
    assume(all(len(powers) == 1 for powers in powers_seen(tree).values()))
    assert _reaches_its_corners(tree, factors)


@given(sums_of_positives, factor_sets())
@settings(deadline=None, max_examples=50)
def test_a_span_is_no_wider_than_its_corners_where_each_factor_pushes_one_way(tree, factors):
    assume(all(min(powers) > 0 or max(powers) < 0 for powers in powers_seen(tree).values()))
    assert _reaches_its_corners(tree, factors)


monomials = st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from([1, -1, 2, -2])), max_size=5)


@given(nonzero, monomials, factor_sets())
@settings(deadline=None, max_examples=50)
def test_both_ends_of_a_product_are_reached(value, parts, factors):
    tree = ("exactly", value)
    for key, power in parts:
        tree = ("times", tree, key, power)
    powers = powers_of(tree)[0]
    rising = {key: (power > 0) == (value > 0) for key, power in powers.items()}
    lowest = {key: found.low if rising.get(key, True) else found.high
              for key, found in factors.items()}  # fmt: skip
    highest = {key: found.high if rising.get(key, True) else found.low
               for key, found in factors.items()}  # fmt: skip
    span = build(tree, factors).span()
    assert span.low == reckon(tree, lowest)
    assert span.high == reckon(tree, highest)


@given(expressions, factor_sets(), st.sampled_from(KEYS), st.sampled_from([1, -1, 2]))
@settings(deadline=None, max_examples=50)
def test_a_factor_that_is_divided_out_again_leaves_no_trace(tree, factors, key, power):
    there = build(tree, factors)
    back = there.times(factors[key], power).times(factors[key], -power)
    assert back.span() == there.span()


@given(expressions, factor_sets())
@settings(deadline=None, max_examples=50)
def test_what_is_taken_from_itself_is_nothing(tree, factors):
    whole = build(tree, factors)
    rest = whole.plus(whole.by(F(-1)))
    assert exactly(rest.span()) == 0


@given(expressions, expressions, factor_sets())
@settings(deadline=None, max_examples=50)
def test_a_sum_does_not_depend_on_its_order(one, other, factors):
    left = build(one, factors).plus(build(other, factors)).span()
    right = build(other, factors).plus(build(one, factors)).span()
    assert left == right


@given(expressions, factor_sets(), st.sampled_from(["kg", "mg", "oz", "lb"]))
@settings(deadline=None, max_examples=50)
def test_the_unit_of_a_span_changes_before_or_after_it_is_collapsed(tree, factors, name):
    whole = build(tree, factors)
    unit = ((name, 1),)
    assert whole.to(unit).span() == whole.span().to(unit)
    assert whole.to(unit).to(GRAM).span() == whole.span()


# ---------------------------------------------------------------- one factor twice

SPOON = Factor("tool:spoon", F("0.95"), F(1), F("1.05"))


def test_one_spoon_used_eight_times_is_one_factor():
    eight = of(0)
    for _ in range(8):
        eight = eight.plus(of(5).times(SPOON))
    assert eight.span() == Span(F(38), F(40), F(42), GRAM)
    assert eight.span() == of(40).times(SPOON).span()


def test_what_is_left_in_the_bag_is_never_less_than_nothing():
    # three of four spoonfuls taken with the same spoon: a quarter is left, as big as the spoon
    left = of(40).times(SPOON).plus(of(-30).times(SPOON)).span()
    assert left == Span(F("9.5"), F(10), F("10.5"), GRAM)


def test_two_spoons_are_two_factors():
    other = replace(SPOON, key="tool:other spoon")
    left = of(40).times(SPOON).plus(of(-30).times(other)).span()
    assert left == Span(40 * F("0.95") - 30 * F("1.05"), F(10), 40 * F("1.05") - F("28.5"), GRAM)


def test_a_spoon_shared_by_two_powders_is_counted_once():
    # both heaps grow with the spoon, so no corner has it large in one and small in the other
    lime = Factor("density:lime", F("0.8"), F(1), F("1.2"))
    less = of(40).times(SPOON).times(lime).plus(of(-10).times(SPOON)).span()
    assert less == Span(F("0.95") * 22, F(30), F("1.05") * 38, GRAM)


def test_a_ratio_of_the_same_powder_knows_no_density():
    density = Factor("density:borax", F("0.700"), F("0.85"), F("0.961"), G_PER_ML)
    volume = of(40, ML).times(density).times(density, -1)
    assert volume.unit == ML
    assert exactly(volume.span()) == 40


def test_two_different_factors_of_one_name_are_refused():
    other = replace(SPOON, high=F("1.2"))
    with pytest.raises(ValueError, match="two different factors are called tool:spoon"):
        of(1).times(SPOON).times(other)
    with pytest.raises(ValueError, match="two different factors"):
        of(1).times(SPOON).plus(of(1).times(other))


@pytest.mark.parametrize(
    ("low", "likely", "high"),
    [
        ("-1", "1", "2"), ("2", "1", "3"), ("1", "3", "2"), ("1", "0", "2"), ("0", "0", "2"),
        ("0", "0", "0"), ("-3", "-2", "-1"),
    ],
)  # fmt: skip
def test_a_factor_is_positive_and_in_order(low, likely, high):
    with pytest.raises(ValueError, match="low <= likely <= high does not hold"):
        Factor("scale", F(low), F(likely), F(high))


def test_a_factor_that_may_be_nothing_multiplies_but_does_not_divide():
    # an analysis of 0 to 2 percent: there may be none of it, and then there is none to count by
    content = Factor("content:trace", F(0), F(1, 100), F(1, 50))
    amount = of(100).times(content)
    assert amount.span() == Span(F(0), F(1), F(2), GRAM)
    assert amount.times(SPOON).span() == Span(F(0), F(1), F("2.1"), GRAM)
    with pytest.raises(ValueError, match="content:trace may be zero"):
        of(100).times(content, -1)
    assert amount.times(SPOON).widest() == content


@pytest.mark.parametrize(
    ("terms", "low", "high"),
    [
        (((2, 1), (-1, 2)), "1/2", "3/2"),  # 2x - x2 is highest at 1, between its ends
        (((-2, 1), (1, 2)), "1/2", "3/2"),  # and lowest there, upside down
        (((1, 1), (1, -1)), "1/2", "2"),  # x + 1/x is lowest at 1, between its ends
        (((-1, 1), (-1, -1)), "1/2", "2"),
        (((1, 2), (1, -1)), "1/3", "3"),
    ],
)
def test_a_sum_that_turns_between_its_ends_is_held_there_too(terms, low, high):
    spoon = Factor("tool:spoon", F(low), F(1), F(high))
    total = of(0)
    for value, power in terms:
        total = total.plus(of(value).times(spoon, power))
    span = total.span()
    for step in range(101):
        x = spoon.low + F(step, 100) * (spoon.high - spoon.low)
        assert span.low <= sum(value * x**power for value, power in terms) <= span.high


def test_a_factor_may_be_without_spread():
    assert exactly(of(3).times(Factor("scale", F(2), F(2), F(2))).span()) == 6


# ---------------------------------------------------------------- units


def test_units_follow_the_factors():
    density = Factor("density:lime", F(1), F(2), F(3), G_PER_ML)
    mass = of(10, ML).times(density)
    assert mass.unit == GRAM
    assert mass.to((("kg", 1),)).span() == Span(F("0.01"), F("0.02"), F("0.03"), (("kg", 1),))
    assert of(10, GRAM).times(density, -1).unit == ML
    assert of(1, NONE).times(density, 2).unit == (("gram", 2), ("mL", -2))
    assert of(1, NONE).times(density, -2).unit == (("gram", -2), ("mL", 2))
    assert mass.over(Measure(F(4), SQUARE_METER)).unit == (("gram", 1), ("meter", -2))
    assert mass.by(Measure(F(2), METER)).span().likely == 40
    assert mass.by(F(1, 2)).span() == Span(F(5), F(10), F(15), GRAM)


def test_sums_take_the_unit_of_the_first_and_refuse_another_kind():
    assert exactly(of(1, (("kg", 1),)).plus(of(500)).span()) == F("1.5")
    for way in (lambda: of(1).plus(of(1, ML)), lambda: of(1).to(LITER)):
        with pytest.raises(ValueError, match="dimensions differ"):
            way()


def test_a_span_changes_its_unit_whole():
    span = Span(F(1), F(2), F(3), GRAM).to((("mg", 1),))
    assert span == Span(F(1000), F(2000), F(3000), (("mg", 1),))
    assert span.measures() == tuple(Measure(F(value), (("mg", 1),)) for value in (1000, 2000, 3000))
    assert Span.exact(Measure(F(7), ML)) == Span(F(7), F(7), F(7), ML)


def test_a_span_has_no_arithmetic():
    # spans multiplied end by end would count one factor twice
    span = Span(F(1), F(2), F(3), GRAM)
    for way in (lambda: span * 2, lambda: span / 2, lambda: span + span, lambda: span - span):
        with pytest.raises(TypeError):
            way()


# ---------------------------------------------------------------- who widens it most


def test_the_widest_factor_is_named():
    density = Factor("density:borax", F("0.700"), F("0.85"), F("0.961"), G_PER_ML)
    amount = of(40, ML).times(SPOON).times(density)
    assert amount.widest() == density
    assert of(40).times(SPOON).widest() == SPOON
    assert of(40).widest() is None
    assert of(40).times(Factor("scale", F(1), F(1), F(1))).widest() is None
    assert amount.times(density, -1).widest() == SPOON


# ---------------------------------------------------------------- many factors


@given(st.lists(st.tuples(positive, positive), min_size=11, max_size=14), st.data())
@settings(deadline=None, max_examples=20)
def test_more_factors_than_corners_can_be_tried_are_still_held(ends, data):
    factors = {
        f"tool:{place}": Factor(f"tool:{place}", min(pair), min(pair), max(pair))
        for place, pair in enumerate(ends)
    }
    total = of(0)
    for place, found in enumerate(factors.values()):
        total = total.plus(of((-1) ** place * (place + 1)).times(found))
    span = total.span()
    for _ in range(3):
        values = inside(data, factors)
        got = sum(
            ((-1) ** place * (place + 1) * value for place, value in enumerate(values.values())),
            F(0),
        )
        assert span.low <= got <= span.high


# ---------------------------------------------------------------- the row of beetroot

# 40 mL of borax on the 40 m row of Saltmarsh Lane garden. Bulk density of borax: 0.700 g/mL
# (properties table of an encyclopedia page) to 0.961 g/mL (a bulk density chart), likely 0.85
# (53 to 55 lb/ft3, two bulk tables). Spoons 5 % either way, scale 0.1 % and 0.1 g: invented.
BORAX = Factor("density:borax", F("0.700"), F("0.85"), F("0.961"), G_PER_ML)


def test_spooned_borax():
    span = of(40, ML).times(SPOON).times(BORAX).span()
    assert span == Span(F("26.6"), F(34), F("40.362"), GRAM)


def test_weighed_borax_knows_neither_spoon_nor_density():
    share = F("0.001") + F("0.1") / 34
    scale = Factor("tool:scale", 1 - share, F(1), 1 + share)
    span = of(34).times(scale).span()
    assert span == Span(F("33.866"), F(34), F("34.134"), GRAM)


def test_borax_per_area():
    # 11.338 % boron in Na2B4O7.10H2O: 43.24 of 381.363 g/mol (standard atomic weights, IUPAC 2021)
    boron = of(40, ML).times(SPOON).times(BORAX).by(F("43.24") / F("381.363"))
    per_area = boron.over(Measure(F(18), SQUARE_METER)).to(KG_PER_HA).span()
    assert [round(value, 2) for value in (per_area.low, per_area.likely, per_area.high)] == [
        F("1.68"), F("2.14"), F("2.54"),
    ]  # fmt: skip


def test_borax_in_the_can_counts_the_jug_once():
    # two loads measured with one jug: the strength is that of one load
    jug = Factor("tool:jug", F("0.95"), F(1), F("1.05"))
    strength = of(40, ML).times(SPOON).times(BORAX).over(Measure(F("2.8"), LITER)).times(jug, -1)
    twice = of(80, ML).times(SPOON).times(BORAX).over(Measure(F("5.6"), LITER)).times(jug, -1)
    assert strength.to(G_PER_L).span() == twice.to(G_PER_L).span()
    assert round(strength.to(G_PER_L).span().high, 1) == F("15.2")

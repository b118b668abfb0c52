"""`Measure`: its algebra, its exactness, and the text that gives it back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dosecalc.errors import EXIT_REFUSED, DoseError
from dosecalc.units import engine, measure, read, words
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    GRAM,
    LITER,
    METER,
    ML,
    NONE,
    PI,
    PLANT,
    POT,
    SECOND,
    SQUARE_METER,
    Measure,
    exact_text,
    kind_word,
    unit_product,
    unit_text,
)

FOOT: Unit = (("foot", 1),)
POUND: Unit = (("lb", 1),)
READINGS = ("kelvin", "degC", "degF")
"""Temperatures are readings, not amounts: they have their own reader and are no Measure."""
SIZES = tuple(name for name in engine.unit_names() if name not in READINGS)


def of(value: str, unit: Unit) -> Measure:
    return Measure(Fraction(value), unit)


# ---------------------------------------------------------------- strategies

amounts = st.builds(Fraction, st.integers(0, 10**8 - 1), st.integers(1, 10**7 - 1))
"""Numbers that a person could have typed: 15 digits or fewer."""

any_fraction = st.fractions(min_value=Fraction(1, 10**9), max_value=10**9)

tops = st.one_of(
    st.sampled_from([((name, 1),) for name in SIZES]),
    st.sampled_from([((name, power),) for name in sorted(words.LENGTH_NAMES) for power in (2, 3)]),
)


@st.composite
def units(draw) -> Unit:
    """A unit as growers use it: one thing, for each of none to two others."""
    unit = draw(tops)
    for below in draw(st.lists(tops, max_size=2)):
        unit = unit_product(unit, below, -1)
    assume(sum(power > 0 for _, power in unit) == 1)
    assume(all(abs(power) <= (3 if name in words.LENGTH_NAMES else 1) for name, power in unit))
    return unit


@st.composite
def same_kind(draw) -> tuple[Unit, Unit]:
    """Two units of one dimension, plain or per another."""
    one = draw(tops)
    other = draw(tops.filter(lambda unit: engine.dimension(unit) == engine.dimension(one)))
    below = draw(st.one_of(st.just(NONE), tops))
    beneath = draw(
        st.one_of(st.just(NONE), tops).filter(
            lambda unit: engine.dimension(unit) == engine.dimension(below)
        )
    )
    return unit_product(one, below, -1), unit_product(other, beneath, -1)


# ---------------------------------------------------------------- algebra


def test_products_and_quotients_carry_their_units():
    row, spacing = of("40", METER), of("0.45", METER)
    assert row * spacing == of("18", SQUARE_METER)
    assert row * spacing / row == spacing
    assert of("2", POUND) / (of("100", (("foot", 2),))) == of("0.02", (("foot", -2), ("lb", 1)))
    assert row / row == Measure(Fraction(1), NONE)
    assert row * 3 == of("120", METER)
    assert row / Fraction(3) == Measure(Fraction(40, 3), METER)


def test_unlike_units_of_one_kind_stay_as_they_are_in_a_product():
    assert (of("1", FOOT) * of("1", METER)).unit == (("foot", 1), ("meter", 1))


def test_sums_take_the_unit_of_the_first():
    assert of("1", METER) + of("1", FOOT) == of("1.3048", METER)
    assert of("1", FOOT) + of("0.3048", METER) == of("2", FOOT)
    assert of("1", FOOT) - of("0.3048", METER) == of("0", FOOT)


@pytest.mark.parametrize("other", [GRAM, SQUARE_METER, PLANT, NONE, SECOND])
def test_sums_and_comparisons_of_unlike_kinds_are_refused(other):
    one, two = of("1", METER), of("1", other)
    for way in (Measure.__add__, Measure.__sub__, Measure.__lt__, Measure.__le__):
        with pytest.raises(DoseError, match="is needed"):
            way(one, two)


def test_plants_and_pots_are_no_bare_numbers():
    for count in (PLANT, POT):
        with pytest.raises(DoseError, match="a bare number is needed"):
            of("12", count).to(NONE)
    with pytest.raises(DoseError, match="a number of pots is needed"):
        of("12", PLANT).to(POT)


def test_comparisons_look_through_units():
    assert of("1", FOOT) < of("1", METER)
    assert not of("1", METER) < of("1", FOOT)
    assert of("1", FOOT) <= of("0.3048", METER)
    assert of("0.3048", METER) <= of("1", FOOT)
    assert not of("0.3048", METER) < of("1", FOOT)
    assert of("1", METER) > of("1", FOOT)
    assert of("1", METER) >= of("1", FOOT)


def test_a_measure_is_a_value():
    assert {of("1", GRAM), of("1", GRAM), of("1", ML)} == {of("1", ML), of("1", GRAM)}


def test_a_refusal_of_the_wrong_kind_names_both_kinds():
    with pytest.raises(DoseError) as caught:
        of("2", (("acre", -1), ("lb", 1))).to(LITER)
    assert str(caught.value) == (
        "'2 lb/acre' is a weight per area, but a volume is needed: write an amount of that kind."
    )
    assert caught.value.exit_code == EXIT_REFUSED


@pytest.mark.parametrize(
    ("unit", "words_for_it"),
    [
        (GRAM, "a weight"),
        (LITER, "a volume"),
        ((("foot", 3),), "a volume"),
        (SQUARE_METER, "an area"),
        ((("acre", 1),), "an area"),
        (METER, "a length"),
        (SECOND, "a time"),
        (NONE, "a bare number"),
        ((("count", 1),), "a bare number"),
        (PLANT, "a number of plants"),
        (POT, "a number of pots"),
        ((("acre", -1), ("lb", 1)), "a weight per area"),
        ((("gal_us", -1), ("oz", 1)), "a weight per volume"),
        ((("foot", -1), ("oz", 1)), "a weight per length"),
        ((("gram", 1), ("plant", -1)), "a measure in g/plant"),
    ],
)
def test_kind_words(unit, words_for_it):
    assert kind_word(unit) == words_for_it


def test_the_named_dimensions_are_those_of_their_units():
    for dim, name in (
        (measure.MASS, "gram"),
        (measure.VOLUME, "liter"),
        (measure.AREA, "acre"),
        (measure.LENGTH, "foot"),
        (measure.TIME, "day"),
        (measure.COUNT, "count"),
    ):
        assert Measure(Fraction(1), ((name, 1),)).is_a(dim)
        assert engine.dimension(((name, 1),)) == dim


def test_pi_is_right_to_its_35_decimals():
    # Machin's formula, with more terms than 40 digits take
    def arctan_of_one_over(x: int) -> Fraction:
        terms = (Fraction((-1) ** k, (2 * k + 1) * x ** (2 * k + 1)) for k in range(35))
        return sum(terms, Fraction(0))

    pi = 4 * (4 * arctan_of_one_over(5) - arctan_of_one_over(239))
    assert abs(PI - pi) <= Fraction(1, 2 * 10**35)


# ---------------------------------------------------------------- exactness


@given(any_fraction, same_kind())
@settings(deadline=None)
def test_up_and_back_is_exactly_the_input(value, pair):
    one, other = pair
    amount = Measure(value, one)
    there = amount.to(other)
    assert there.unit == other
    assert there.to(one) == amount
    assert there <= amount
    assert amount <= there


@given(any_fraction, same_kind())
@settings(deadline=None)
def test_a_sum_of_a_half_and_a_half_in_other_units_is_the_whole(value, pair):
    one, other = pair
    half = Measure(value / 2, one)
    assert half + half.to(other) == Measure(value, one)
    assert (half - half.to(other)).value == 0


def test_up_and_back_through_every_pair_of_units():
    pairs = [
        (one, other)
        for one in SIZES
        for other in SIZES
        if engine.dimension(((one, 1),)) == engine.dimension(((other, 1),))
    ]
    assert len(pairs) > 900
    for one, other in pairs:
        amount = Measure(Fraction(10, 3), ((one, 1),))
        assert amount.to(((other, 1),)).to(((one, 1),)) == amount


# ---------------------------------------------------------------- spelling


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ((("gram", 1), ("meter", -2)), "g/m2"),
        ((("acre", -1), ("gal_us", 1)), "US gal/acre"),
        ((("hectare", -1), ("kg", 1)), "kg/ha"),
        ((("liter", -1), ("mg", 1)), "mg/L"),
        ((("acre", -1), ("lb", 1), ("year", -1)), "lb/acre/year"),
        ((("tbsp_au", 1),), "AU tbsp"),
        ((("floz_imp", 1),), "imp fl oz"),
        ((("foot", 3),), "ft3"),
        ((("meter", -1),), "1/m"),
        (NONE, ""),
    ],
)
def test_unit_text(unit, text):
    assert unit_text(unit) == text


def test_no_two_units_share_a_spelling():
    spelled = [unit_text(((name, 1),)) for name in engine.unit_names()]
    assert len(set(spelled)) == len(spelled)


def test_spellings_are_of_units_that_exist():
    assert set(measure.SPELLING) <= set(engine.unit_names())


def _read_back(amount: Measure) -> Measure:
    # what we wrote ourselves holds no fluid ounce under the name of oz
    return read.quantity(exact_text(amount), oz_is="weight")


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("value", ["1", "3/2", "1/3", "0", "0.125", "1000000"])
def test_exact_text_of_every_unit_is_read_back(name, value):
    amount = of(value, ((name, 1),))
    assert _read_back(amount) == amount


@given(amounts, units())
@settings(deadline=None, max_examples=200)
def test_exact_text_of_any_measure_is_read_back(value, unit):
    # cm3 comes back as mL: the same amount, so it is compared in the unit it was written in
    amount = Measure(value, unit)
    assert _read_back(amount).to(unit) == amount


@pytest.mark.parametrize(
    ("have", "want"),
    [
        ("1 US gal", LITER),
        ("1 lb/acre", (("gram", 1), ("meter", -2))),
        ("1 1/2 US tsp", ML),
        ("1 oz by weight", GRAM),
        ("2 lb per 100 sq ft", (("hectare", -1), ("kg", 1))),
        ("40 mL per 40 m", (("floz_us", 1), ("foot", -1))),
        ("1 US bushel", LITER),
    ],
)
def test_exact_text_of_a_computed_amount_is_read_back(have, want):
    # what is stored is seldom what was typed: it has been through factors of many digits
    amount = read.quantity(have).to(want)
    assert _read_back(amount).to(want) == amount

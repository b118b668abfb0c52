"""Showing: rounding that says how much, in both systems, and never the wrong way."""

from __future__ import annotations

import json
import math
import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.units import engine, read
from dosecalc.units.measure import GRAM, LITER, METER, ML, NONE, PLANT, SQUARE_METER, Measure
from dosecalc.units.show import (
    Shown,
    in_words,
    metric_unit,
    number_text,
    rounded,
    show,
    show_span,
    show_unit,
    twelve_digits,
)
from dosecalc.units.spread import Span

F = Fraction
DIRECTIONS = ("nearest", "down", "up")
MG = (("mg", 1),)
KG = (("kg", 1),)
G_PER_M2 = (("gram", 1), ("meter", -2))
G_PER_M = (("gram", 1), ("meter", -1))
G_PER_L = (("gram", 1), ("liter", -1))
LB_PER_ACRE = (("acre", -1), ("lb", 1))

values = st.one_of(
    st.fractions(min_value=F(1, 10**6), max_value=10**7),
    st.integers(1, 10**7).map(Fraction),
    st.integers(1, 10**9).map(lambda number: Fraction(number, 10**6)),
)
# No amount of any unit here is beyond what our reader takes back (10^12 of a unit).
readable = values.map(lambda value: value / 100)
signed = st.one_of(values, values.map(lambda value: -value), st.just(F(0)))
digits = st.integers(1, 12)


def _is_on_its_side(shown: Fraction, exact: Fraction, step: Fraction, direction: str) -> bool:
    """Whether a shown number lies within its step, and on the side that was asked for."""
    if direction == "down":
        return exact - step < shown <= exact
    if direction == "up":
        return exact <= shown < exact + step
    return abs(shown - exact) <= step / 2


# ---------------------------------------------------------------- rounding


@pytest.mark.parametrize(
    ("value", "many", "nearest", "down", "up", "step"),
    [
        ("34", 3, "34", "34", "34", "0.1"),
        ("34.04", 3, "34", "34", "34.1", "0.1"),
        ("34.05", 3, "34", "34", "34.1", "0.1"),
        ("34.06", 3, "34.1", "34", "34.1", "0.1"),
        ("9.996", 3, "10", "9.99", "10", "0.01"),
        ("0.0099996", 3, "0.01", "0.00999", "0.01", "0.00001"),
        ("1234567", 3, "1230000", "1230000", "1240000", "10000"),
        ("1234567", 12, "1234567", "1234567", "1234567", "0.00001"),
        ("123", 1, "100", "100", "200", "100"),
        ("100", 3, "100", "100", "100", "1"),
        ("0.5", 3, "0.5", "0.5", "0.5", "0.001"),
        ("0.000001234", 2, "0.0000012", "0.0000012", "0.0000013", "0.0000001"),
        ("-34.06", 3, "-34.1", "-34.1", "-34", "0.1"),
        ("-0.0012345", 2, "-0.0012", "-0.0013", "-0.0012", "0.0001"),
    ],
)
def test_rounded(value, many, nearest, down, up, step):
    for direction, text in zip(DIRECTIONS, (nearest, down, up), strict=True):
        assert rounded(F(value), many, direction) == (text, F(step))


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_zero_is_exact(direction):
    assert rounded(F(0), 3, direction) == ("0", F(0))


@given(signed, digits, st.sampled_from(DIRECTIONS))
@settings(deadline=None, max_examples=200)
def test_what_is_rounded_lies_within_its_step(value, many, direction):
    text, step = rounded(value, many, direction)
    assert re.fullmatch(r"-?\d+(\.\d*[1-9])?", text), "plain decimals, no idle zeros"
    shown = F(text)
    assert shown == value == 0 or _is_on_its_side(shown, value, step, direction)
    assert step <= abs(value) * F(10) ** (1 - many)


@given(signed, digits)
@settings(deadline=None)
def test_down_is_never_above_up(value, many):
    down, near, up = (
        F(rounded(value, many, direction)[0]) for direction in ("down", "nearest", "up")
    )
    assert down <= value <= up
    assert down <= near <= up


@given(signed, digits, st.sampled_from(DIRECTIONS))
@settings(deadline=None)
def test_rounding_twice_changes_nothing_more(value, many, direction):
    once = F(rounded(value, many, direction)[0])
    assert F(rounded(once, many, direction)[0]) == once


# ---------------------------------------------------------------- both systems

SHOWN = [
    # (amount, unit, metric, US); the US figures worked by hand from NIST Handbook 44 sizes
    ("34", GRAM, "34 g", "1.2 oz"),  # / 28.3495
    ("0.5", GRAM, "500 mg", "0.0176 oz"),
    ("2500", GRAM, "2.5 kg", "5.51 lb"),  # / 453.592
    ("3000000", GRAM, "3 t", "6610 lb"),
    ("40", ML, "40 mL", "1.35 US fl oz"),  # / 29.5735
    ("2", LITER, "2 L", "67.6 US fl oz"),
    ("9", LITER, "9 L", "2.38 US gal"),  # / 3.78541
    ("15", LITER, "15 L", "3.96 US gal"),
    ("40", METER, "40 m", "131 ft"),  # / 0.3048
    ("0.45", METER, "45 cm", "1.48 ft"),
    ("0.2", METER, "20 cm", "7.87 in"),  # / 0.0254
    ("18", SQUARE_METER, "18 m2", "194 sq ft"),  # / 0.09290304
    ("1", LB_PER_ACRE, "0.112 g/m2", "1 lb/acre"),
    ("10", G_PER_M2, "10 g/m2", "89.2 lb/acre"),
    ("1", G_PER_M, "1 g/m", "1.08 oz/100 ft"),  # 30.48 / 28.3495
    ("12.1", G_PER_L, "12.1 g/L", "1.62 oz/US gal"),  # * 3.78541 / 28.3495
    ("5", ML, "5 mL", "1.01 US tsp"),  # / 4.92892
    ("12", PLANT, "12 plants", ""),
    ("1", PLANT, "1 plant", ""),
    ("90", (("minute", 1),), "1.5 h", ""),
    ("3", (("week", 1),), "21 days", ""),
    ("24", (("hour", 1),), "1 day", ""),
    ("5", (("gram", 1), ("plant", -1)), "5 g/plant", ""),
    ("2", NONE, "2", ""),
    ("1", (("gal_us", 1),), "3.79 L", "1 US gal"),
    ("1", (("oz", 1),), "28.3 g", "1 oz"),
    ("0", GRAM, "0 mg", "0 oz"),
    ("-34", GRAM, "-34 g", "-1.2 oz"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "unit", "metric", "us"), SHOWN)
def test_show_in_both_systems(value, unit, metric, us):
    shown = show(Measure(F(value), unit))
    assert (shown.metric, shown.us) == (metric, us)
    assert shown.both() == (f"{metric} ({us})" if us else metric)


@pytest.mark.parametrize(
    ("value", "us"),
    [("60", "2.12 cu ft"), ("1000", "1.31 cu yd"), ("5000", "6.54 cu yd")],
)
def test_a_heap_is_shown_in_cubic_feet_and_yards(value, us):
    # / 28.316846592 and / 764.554857984
    assert show(Measure(F(value), LITER), loose=True).us == us


def test_a_chosen_unit_is_used():
    assert show(Measure(F("0.1"), G_PER_M2), unit=(("hectare", -1), ("kg", 1))).metric == "1 kg/ha"
    assert number_text(Measure(F(40), METER), (("foot", 1),), 4) == "131.2 ft"


def test_digits_and_direction_reach_both_systems():
    amount = Measure(F("34.56"), GRAM)
    assert show(amount, digits=2) == Shown("35 g", "1.2 oz", F(1))
    assert show(amount, digits=2, direction="down") == Shown("34 g", "1.2 oz", F(1))
    assert show(amount, digits=2, direction="up") == Shown("35 g", "1.3 oz", F(1))


@pytest.mark.parametrize(
    ("unit", "text"),
    [
        ((("foot", 2),), "sq ft"), ((("foot", 3),), "cu ft"), ((("yard", 3),), "cu yd"),
        ((("hectare", -1), ("kg", 1)), "kg/ha"), ((("tbsp_us", 1),), "US tbsp"), (NONE, ""),
    ],
)  # fmt: skip
def test_show_unit(unit, text):
    assert show_unit(unit) == text


@pytest.mark.parametrize(
    ("value", "unit", "chosen"),
    [
        ("0.999", GRAM, MG), ("1", GRAM, GRAM), ("999", GRAM, GRAM), ("1000", GRAM, KG),
        ("999999", GRAM, KG), ("1000000", GRAM, (("tonne", 1),)), ("0.0001", GRAM, MG),
        ("999", ML, ML), ("1000", ML, LITER), ("1", LB_PER_ACRE, G_PER_M2),
    ],
)  # fmt: skip
def test_metric_unit_is_the_largest_of_which_there_is_one(value, unit, chosen):
    assert metric_unit(Measure(F(value), unit)) == chosen


SHOWABLE = [
    *[((name, 1),) for name in engine.unit_names() if name not in ("kelvin", "degC", "degF")],
    SQUARE_METER, (("foot", 2),), (("foot", 3),), (("meter", 3),), G_PER_M2, LB_PER_ACRE, G_PER_M,
    (("foot", -1), ("oz", 1)), G_PER_L, (("gal_us", -1), ("oz", 1)), (("gal_imp", -1), ("lb", 1)),
    (("liter", -1), ("mL", 1)), (("hectare", -1), ("liter", 1)), (("gram", 1), ("plant", -1)),
]  # fmt: skip


@given(
    readable,
    st.sampled_from(SHOWABLE),
    st.integers(1, 6),
    st.sampled_from(DIRECTIONS),
    st.booleans(),
)
@settings(deadline=None, max_examples=200)
def test_what_is_shown_is_read_back_within_its_step(value, unit, many, direction, loose):
    exact = Measure(value, unit)
    shown = show(exact, digits=many, direction=direction, loose=loose)
    chosen = metric_unit(exact)
    number, _, word = shown.metric.partition(" ")
    assert word in (show_unit(chosen), f"{show_unit(chosen)}s")
    assert _is_on_its_side(F(number), exact.amount_in(chosen), shown.step, direction)
    if shown.us:
        # our own texts are read by our own reader, so that no spelling is for show only
        back = read.quantity(shown.us, oz_is="weight").amount_in(unit)
        assert _is_on_its_side(back, value, value * F(10) ** (1 - many), direction)


@given(readable, st.sampled_from([unit for unit in SHOWABLE if unit != (("count", 1),)]))
@settings(deadline=None)
def test_what_is_shown_is_one_of_our_spellings(value, unit):
    text = show(Measure(value, unit), digits=6).metric
    back = read.quantity(text, oz_is="weight")
    assert abs(back.amount_in(unit) - value) <= value / 10**5


# ---------------------------------------------------------------- spans


@pytest.mark.parametrize(
    ("low", "likely", "high", "unit", "text"),
    [
        ("26.6", "34", "40.362", GRAM, "34 g (26.6 to 40.4)"),
        ("26.69", "34", "40.31", GRAM, "34 g (26.6 to 40.4)"),
        ("900", "1000", "1100", GRAM, "1 kg (0.9 to 1.1)"),
        ("34", "34", "34", GRAM, "34 g"),
        ("0.9996", "0.9996", "1.0001", LITER, "1000 mL (999 to 1010)"),
    ],
)
def test_show_span(low, likely, high, unit, text):
    assert show_span(Span(F(low), F(likely), F(high), unit)) == text


def test_show_span_in_a_chosen_unit():
    span = Span(F("0.1"), F("0.2"), F("0.3"), G_PER_M2)
    assert show_span(span, unit=(("hectare", -1), ("kg", 1))) == "2 kg/ha (1 to 3)"


@given(st.lists(values, min_size=3, max_size=3).map(sorted), st.integers(1, 6))
@settings(deadline=None)
def test_the_shown_ends_of_a_span_lie_outside_it(ends, many):
    span = Span(*ends, GRAM)
    text = show_span(span, digits=many)
    unit = metric_unit(Measure(span.likely, GRAM))
    if span.low == span.high:
        assert "(" not in text
        return
    low, high = (F(end) for end in re.search(r"\((\S+) to (\S+)\)", text).groups())
    assert low <= span.to(unit).low
    assert high >= span.to(unit).high


# ---------------------------------------------------------------- words


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("0", "no"), ("1/8", "one eighth"), ("1/4", "one quarter"), ("1/3", "one third"),
        ("1/2", "one half"), ("2/3", "two thirds"), ("3/4", "three quarters"), ("1", "one"),
        ("3/2", "one and one half"), ("9/4", "two and one quarter"), ("8/3", "two and two thirds"),
        ("12", "twelve"), ("51/4", "twelve and three quarters"), ("13", "13"),
        ("27/2", "13 and one half"), ("100", "100"),
    ],
)  # fmt: skip
def test_in_words(value, text):
    assert in_words(F(value)) == text


@pytest.mark.parametrize(
    "value", ["1/5", "3/8", "1/16", "1/10", "7/5", "1/3000", "-1", "-1/2", "-3/4", "-12"]
)
def test_no_words_for_what_no_spoon_holds(value):
    # nor for a negative count, which must not be looked up from the end of the list
    with pytest.raises(ValueError, match="is no kitchen fraction"):
        in_words(F(value))


@given(st.integers(0, 40), st.sampled_from(["0", "1/8", "1/4", "1/3", "1/2", "2/3", "3/4"]))
def test_words_tell_numbers_apart(whole, part):
    value = whole + F(part)
    others = {in_words(value + F(1, 1)), in_words(whole + F(1, 2)) if F(part) != F(1, 2) else ""}
    assert in_words(value) not in others


# ---------------------------------------------------------------- JSON


def _written(number: float) -> Fraction:
    """The number as a JSON file holds it."""
    return F(json.dumps(number))


@pytest.mark.parametrize(
    ("value", "nearest", "down", "up"),
    [
        ("1/3", "0.333333333333", "0.333333333333", "0.333333333334"),
        ("2/3", "0.666666666667", "0.666666666666", "0.666666666667"),
        ("0.1", "0.1", "0.1", "0.1"),
        ("473176473/125000000", "3.785411784", "3.785411784", "3.785411784"),
        ("1234567890123456", "1234567890120000", "1234567890120000", "1234567890130000"),
        ("1/3000000", "0.000000333333333333", "0.000000333333333333", "0.000000333333333334"),
        ("-1/3", "-0.333333333333", "-0.333333333334", "-0.333333333333"),
        ("0", "0", "0", "0"),
    ],
)
def test_twelve_digits(value, nearest, down, up):
    for direction, text in zip(DIRECTIONS, (nearest, down, up), strict=True):
        found = twelve_digits(F(value), direction)
        assert type(found) is float
        assert _written(found) == F(text)


@given(signed, st.sampled_from(DIRECTIONS))
@settings(deadline=None, max_examples=200)
def test_json_numbers_are_rounded_outward_as_they_are_written(value, direction):
    found = twelve_digits(value, direction)
    assert math.isfinite(found)
    written = _written(found)
    step = abs(value) * F(10) ** -11
    assert written == value == 0 or _is_on_its_side(written, value, step, direction)
    assert len(re.sub(r"e.*|\D", "", json.dumps(found)).strip("0")) <= 12

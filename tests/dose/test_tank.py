"""A tank that is not empty: nothing of the product or of the water is lost or made up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.dose.tank import thin, top_up
from dosecalc.errors import DoseError
from dosecalc.faces.tank import thin_text, top_up_text
from dosecalc.units.measure import GRAM, LITER, ML, Measure, unit_product
from dosecalc.units.show import show

F = Fraction
G_PER_L = unit_product(GRAM, LITER, -1)
ML_PER_L = unit_product(ML, LITER, -1)
US_GALLON = F("3.785411784")  # litres, NIST Handbook 44, Appendix C


def litres(value: Fraction | int | str) -> Measure:
    return Measure(F(value), LITER)


def per_litre(value: Fraction | int | str) -> Measure:
    return Measure(F(value), G_PER_L)


def ml_per_litre(value: Fraction | int | str) -> Measure:
    return Measure(F(value), ML_PER_L)


def shown(text: str) -> str:
    return text.replace("\u00a0", " ")


# Topping up.


def test_the_knapsack_that_still_holds_six_litres() -> None:
    """6 L at 5 g/L, 15 L at 4 g/L: 60 g belong in, 30 g are in, 9 L are missing."""
    found = top_up(litres(6), per_litre(5), litres(15), per_litre(4))
    assert (found.add, found.water, found.total) == (Measure(F(30), GRAM), litres(9), litres(15))
    said = shown(top_up_text("6 L", "5 g/L", "15 L", "4 g/L"))
    assert said.startswith("Add 30 g (1.06 oz) of product and 9 L (2.38 US gal) of water: 15 L")
    assert "Only onto a rest of the same product" in said


def test_a_product_poured_takes_its_own_room() -> None:
    """6 L at 5 mL/L to 15 L at 4 mL/L: 30 mL of product and 8.97 L of water make 15 L."""
    found = top_up(litres(6), ml_per_litre(5), litres(15), ml_per_litre(4))
    assert (found.add, found.water) == (Measure(F(30), ML), litres("8.97"))


@pytest.mark.parametrize(
    ("left", "holds", "want", "strength", "add", "water"),
    [
        ("6", "4", "15", "4", "36", "9"),  # the same strength: as if it were filled afresh
        ("6", "0", "15", "4", "60", "9"),  # plain water
        ("6", "10", "15", "4", "0", "9"),  # just strong enough for all of it
        ("15", "3", "15", "4", "15", "0"),  # full already, only too weak
        ("0.5", "5", "2", "5", "7.5", "1.5"),
    ],
)
def test_topping_up(left: str, holds: str, want: str, strength: str, add: str, water: str) -> None:
    found = top_up(litres(left), per_litre(holds), litres(want), per_litre(strength))
    assert (found.add.value, found.water.value) == (F(add), F(water))


def test_measures_of_two_countries_meet() -> None:
    """1 US gallon at 1 oz by weight to the US gallon, doubled: another 28.35 g."""
    ounce = F("28.349523125")  # g, NIST Handbook 44, Appendix C
    found = top_up(
        Measure(F(1), (("gal_us", 1),)), per_litre(ounce / US_GALLON), litres(2 * US_GALLON),
        per_litre(ounce / US_GALLON),
    )  # fmt: skip
    assert found.add == Measure(ounce, GRAM)
    assert found.water == litres(US_GALLON)


VOLUMES = st.fractions(min_value=F(1, 10), max_value=1000, max_denominator=1000)
STRENGTHS = st.fractions(min_value=0, max_value=500, max_denominator=1000)
WANTED = st.fractions(min_value=F(1, 1000), max_value=500, max_denominator=1000)


@given(VOLUMES, STRENGTHS, VOLUMES, WANTED, st.booleans())
def test_topping_up_keeps_the_balance(
    left: Fraction, holds: Fraction, want: Fraction, strength: Fraction, poured: bool
) -> None:
    unit = ML_PER_L if poured else G_PER_L
    have, need = left * holds, want * strength
    add = need - have
    water = want - left - (add / 1000 if poured else 0)
    try:
        found = top_up(litres(left), Measure(holds, unit), litres(want), Measure(strength, unit))
    except DoseError:
        assert want < left or add < 0 or water < 0
        return
    assert want >= left
    assert found.total.amount_in(LITER) == want
    assert found.add.amount_in(ML if poured else GRAM) == add >= 0
    assert found.water.amount_in(LITER) == water >= 0
    # What is in the tank in the end is what was wanted: product, and liquid in all.
    assert (have + found.add.value) / want == strength
    room = found.add.value / 1000 if poured else 0
    assert left + found.water.amount_in(LITER) + room == want


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("15 L", "5 g/L", "6 L", "4 g/L"), "15 L"),  # more is left than is wanted
        (("6 L", "5 g/L", "7 L", "4 g/L"), "7.5 L"),  # too strong: it makes 7.5 L
        (("6 L", "2000 mL/L", "15 L", "1500 mL/L"), "leave no room for water"),
        (("6 L", "5 g/L", "15 L", "4 g/m2"), "both strengths alike"),
        (("6 L", "5 g/L", "15 L", "4 g"), "both strengths alike"),
        (("6 L", "5", "15 L", "4 g/L"), ""),
        (("6 L", "5 g/L", "15 L", "4 mL/L"), ""),
        (("6 L", "5 mL/L", "15 L", "4 g/L"), ""),
        (("0 L", "5 g/L", "15 L", "4 g/L"), "--left"),
        (("6 L", "5 g/L", "0 L", "4 g/L"), "--want"),
        (("6 kg", "5 g/L", "15 L", "4 g/L"), "--left"),
        (("6 L", "-5 g/L", "15 L", "4 g/L"), "no number"),
        (("6 L", "1 tbsp/gal", "15 L", "4 g/L"), "US tbsp"),
        (("6 L", "5 g/L", "15 L", "0 g/L"), ""),  # nothing thins to no strength at all
    ],
)
def test_what_cannot_be_topped_up(words: tuple[str, str, str, str], sentence: str) -> None:
    with pytest.raises(DoseError) as refusal:
        top_up_text(*words)
    assert sentence in shown(str(refusal.value))
    assert str(refusal.value).endswith(".")


def test_two_kinds_of_strength_are_told_to_be_alike() -> None:
    """A weight per litre and a volume per litre: the way out is to write both in one kind."""
    with pytest.raises(DoseError, match="both strengths alike"):
        top_up_text("6 L", "5 g/L", "15 L", "4 mL/L")


# Thinning.


def test_twice_too_strong_without_a_tank() -> None:
    found = thin(litres(15), per_litre(8), per_litre(4), None)
    assert (found.total, found.water, found.draw_off) == (litres(30), litres(15), None)
    said = shown(thin_text("15 L", "8 g/L", "4 g/L", None))
    assert said.startswith(
        "Make it up to 30 L (7.93 US gal): add 15 L (3.96 US gal) of plain water."
    )
    assert "none is poured away" in said


def test_twice_too_strong_in_a_tank_of_twenty() -> None:
    """10 L of it make 20 L; the other 5 L are drawn off first."""
    found = thin(litres(15), per_litre(8), per_litre(4), litres(20))
    assert (found.total, found.water, found.draw_off) == (litres(20), litres(10), litres(5))
    said = shown(thin_text("15 L", "8 g/L", "4 g/L", "20 L"))
    assert said.index("Draw off 5 L") < said.index("Make it up to 20 L")
    assert "clean, labelled vessel" in said


@pytest.mark.parametrize(
    ("tank", "fits"), [("30", True), ("31", True), ("29.9", False), ("15", False)]
)
def test_only_what_does_not_fit_is_drawn_off(tank: str, fits: bool) -> None:
    found = thin(litres(15), ml_per_litre(8), ml_per_litre(4), litres(tank))
    assert (found.draw_off is None) == fits
    assert found.total == litres(min(F(30), F(tank)))


@given(VOLUMES, WANTED, WANTED, st.none() | VOLUMES, st.booleans())
def test_thinning_keeps_the_balance(
    have: Fraction, strength: Fraction, wanted: Fraction, tank: Fraction | None, poured: bool
) -> None:
    unit = ML_PER_L if poured else G_PER_L
    vessel = None if tank is None else litres(tank)
    if strength <= wanted:
        with pytest.raises(DoseError, match="nothing is to be thinned"):
            thin(litres(have), Measure(strength, unit), Measure(wanted, unit), vessel)
        return
    found = thin(litres(have), Measure(strength, unit), Measure(wanted, unit), vessel)
    total, water = found.total.amount_in(LITER), found.water.amount_in(LITER)
    drawn = F(0) if found.draw_off is None else found.draw_off.amount_in(LITER)
    assert tank is None or total <= tank
    assert 0 <= drawn < have
    assert water > 0
    assert have - drawn + water == total
    assert (have - drawn) * strength == total * wanted
    # Nothing is drawn off that would have fitted.
    assert (drawn > 0) == (tank is not None and have * strength / wanted > tank)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("15 L", "3 g/L", "4 g/L", None), "nothing is to be thinned"),
        (("15 L", "4 g/L", "4 g/L", None), "nothing is to be thinned"),
        (("15 L", "8 g/L", "4 mL/L", None), ""),
        (("15 L", "8 g/m2", "4 g/m2", None), "both strengths alike"),
        (("0 L", "8 g/L", "4 g/L", None), "--have"),
        (("15 L", "8 g/L", "4 g/L", "0 L"), "--tank"),
        (("15 L", "8 g/L", "4 g/L", "20 m"), "--tank"),
        (("15 L", "8 g/L", "0 g/L", None), ""),  # no amount of water makes it nothing
    ],
)
def test_what_cannot_be_thinned(words: tuple[str, str, str, str | None], sentence: str) -> None:
    with pytest.raises(DoseError) as refusal:
        thin_text(*words)
    assert sentence in shown(str(refusal.value))
    assert str(refusal.value).endswith(".")


def test_a_top_up_that_adds_nothing_says_so() -> None:
    found = top_up(litres(6), per_litre(10), litres(15), per_litre(4))
    assert found.add.value == 0
    assert show(found.add).metric.startswith("0 ")

"""Splitting a volume into fillings loses nothing, and no filling is above the tank."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.dose.tankfuls import MOST, shares, split
from dosecalc.errors import DoseError
from dosecalc.units.measure import LITER, Measure

GALLON = (("gal_us", 1),)
LITRES_OF = {LITER: Fraction(1), GALLON: Fraction("3.785411784")}  # NIST Handbook 44, Appendix C


def litres(value: Fraction | int | str) -> Measure:
    return Measure(Fraction(value), LITER)


def values(fillings: tuple[Measure, ...]) -> list[Fraction]:
    assert {filling.unit for filling in fillings} == {LITER}
    return [filling.value for filling in fillings]


VOLUMES = st.builds(
    Measure,
    st.fractions(min_value=Fraction(1, 1000), max_value=1000, max_denominator=10_000),
    st.sampled_from([LITER, GALLON]),
)


@given(VOLUMES, VOLUMES, st.booleans())
def test_a_split_loses_nothing(liquid: Measure, tank: Measure, equal: bool) -> None:
    whole = liquid.value * LITRES_OF[liquid.unit]
    most = tank.value * LITRES_OF[tank.unit]
    needed = -(-whole // most)
    if needed > MOST:
        with pytest.raises(DoseError, match="more than anyone makes"):
            split(liquid, tank, equal)
        return
    found = values(split(liquid, tank, equal))
    assert sum(found) == whole
    assert all(0 < value <= most for value in found)
    # No more trips than the tank asks for.
    assert len(found) == needed
    if equal:
        assert len(set(found)) == 1
    else:
        assert all(value == most for value in found[:-1])


@given(VOLUMES, VOLUMES, st.booleans())
def test_shares_sum_to_one(liquid: Measure, tank: Measure, equal: bool) -> None:
    try:
        fillings = split(liquid, tank, equal)
    except DoseError:
        return
    parts = shares(fillings)
    assert sum(parts) == 1
    whole = liquid.value * LITRES_OF[liquid.unit]
    assert [part * whole for part in parts] == values(fillings)


@given(st.integers(1, MOST), VOLUMES, st.booleans())
def test_a_whole_number_of_tanks_leaves_no_empty_last_one(
    count: int, tank: Measure, equal: bool
) -> None:
    found = split(tank * count, tank, equal)
    assert values(found) == [tank.value * LITRES_OF[tank.unit]] * count


def test_the_hand_sprayer_both_ways() -> None:
    """5.3 L in a sprayer of 2 L: two full ones and a last part, or three equal ones."""
    assert values(split(litres("5.3"), litres(2))) == [2, 2, Fraction("1.3")]
    assert values(split(litres("5.3"), litres(2), equal=True)) == [Fraction(53, 30)] * 3


@pytest.mark.parametrize("equal", [False, True])
def test_one_filling_where_it_fits(equal: bool) -> None:
    assert values(split(litres("2.8"), None, equal)) == [Fraction("2.8")]
    assert values(split(litres("2.8"), litres(9), equal)) == [Fraction("2.8")]
    assert values(split(litres(9), litres(9), equal)) == [9]
    assert values(split(litres(1000), None, equal)) == [1000]


def test_a_hair_more_than_the_tank_is_a_second_filling() -> None:
    hair = Fraction(1, 10**12)
    assert values(split(litres(9 + hair), litres(9))) == [9, hair]
    assert values(split(litres(9 + hair), litres(9), equal=True)) == [(9 + hair) / 2] * 2


def test_a_tank_in_gallons() -> None:
    found = values(split(litres(10), Measure(Fraction(1), GALLON)))
    assert found == [LITRES_OF[GALLON], LITRES_OF[GALLON], 10 - 2 * LITRES_OF[GALLON]]


@pytest.mark.parametrize("equal", [False, True])
def test_more_fillings_than_anyone_makes_are_refused(equal: bool) -> None:
    assert len(split(litres(2 * MOST), litres(2), equal)) == MOST
    with pytest.raises(DoseError) as caught:
        split(litres(2 * MOST + 1), litres(2), equal)
    assert f"{MOST + 1} fillings" in str(caught.value)
    assert "--sprayer" in str(caught.value)


def test_no_fillings_have_no_shares() -> None:
    assert shares(()) == ()

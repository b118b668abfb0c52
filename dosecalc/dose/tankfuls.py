"""Splitting a volume of liquid into fillings, losing nothing."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units.measure import LITER, Measure, exact_text

MOST = 400


def split(liquid: Measure, tank: Measure | None, equal: bool = False) -> tuple[Measure, ...]:
    """Fillings that sum exactly to `liquid`, none above `tank`.

    Parameters
    ----------
    liquid : Measure
        Volume needed.
    tank : Measure or None
        Usable volume of one filling; None makes one batch.
    equal : bool
        Equal fillings instead of full ones and a last part.

    Raises
    ------
    DoseError
        For more fillings than anybody would make.
    """
    whole = liquid.to(LITER)
    if tank is None:
        return (whole,)
    full = tank.to(LITER)
    count = -int(-(whole.value / full.value) // 1)
    if count > MOST:
        raise refuse("too-many-tankfuls", count=count, tank=exact_text(tank), most=MOST)
    if equal or count == 1:
        return (whole / count,) * count
    last = whole - full * (count - 1)
    return (full,) * (count - 1) + (last,)


def shares(fillings: tuple[Measure, ...]) -> tuple[Fraction, ...]:
    """Each filling's part of the whole; they sum to one."""
    total = sum((filling.value for filling in fillings), Fraction(0))
    return tuple(filling.value / total for filling in fillings)

"""A tank that is not empty: topping it up to another strength, and thinning what is too strong."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.errors import refuse
from dosecalc.units.measure import GRAM, LITER, MASS, ML, VOLUME, Measure
from dosecalc.units.show import show


@dataclass(frozen=True, slots=True)
class TopUp:
    """What goes into a tank that still holds some.

    Parameters
    ----------
    add : Measure
        Product, in grams or millilitres as the strength is written.
    water : Measure
        Water, in litres; a product measured by volume takes its own room of it.
    total : Measure
        Litres in the tank afterwards.
    """

    add: Measure
    water: Measure
    total: Measure


@dataclass(frozen=True, slots=True)
class Thinned:
    """How far a liquid that is too strong must be made up.

    Parameters
    ----------
    total, water : Measure
        Litres afterwards, and litres of plain water to add.
    draw_off : Measure or None
        How much of the strong liquid to take out first, so that the tank does not overflow;
        None when all fits or no tank was told.
    """

    total: Measure
    water: Measure
    draw_off: Measure | None


def _in(volume: Measure, strength: Measure) -> Measure:
    """The product in a volume of this strength, in grams or millilitres."""
    amount = volume * strength
    if amount.is_a(MASS):
        return amount.to(GRAM)
    if amount.is_a(VOLUME):
        return amount.to(ML)
    raise refuse("tank-strength")


def _alike(one: Measure, other: Measure) -> tuple[Measure, Measure]:
    """Two amounts of product of one kind, the second more than none; refuses anything else."""
    if one.unit != other.unit or other.value <= 0:
        raise refuse("tank-strength")
    return one, other


def top_up(left: Measure, left_strength: Measure, want: Measure, strength: Measure) -> TopUp:
    """Product and water that bring a rest to another volume and strength.

    Parameters
    ----------
    left, want : Measure
        Volumes in the tank now and afterwards.
    left_strength, strength : Measure
        Product per volume now and wanted, both by weight or both by volume.

    Raises
    ------
    DoseError
        When more is left than is wanted, or the rest is too strong to be thinned that far;
        then the least volume at the wanted strength is said.
    """
    if want < left:
        raise refuse("tank-too-full", left=show(left).both(), want=show(want).both())
    have, need = _alike(_in(left, left_strength), _in(want, strength))
    add = need - have
    if add.value < 0:
        least = (have / strength).to(LITER)
        raise refuse("tank-too-strong", want=show(want).both(), least=show(least).both())
    water = (want - left).to(LITER)
    if add.is_a(VOLUME):
        water = water - add
    if water.value < 0:
        raise refuse("tank-no-room", add=show(add).both())
    return TopUp(add, water, want.to(LITER))


def thin(have: Measure, strength: Measure, wanted: Measure, tank: Measure | None) -> Thinned:
    """How far to make up a liquid that is too strong.

    Parameters
    ----------
    have : Measure
        Volume of it.
    strength, wanted : Measure
        Product per volume now and as it should be.
    tank : Measure or None
        Usable volume of the tank, to say what does not fit.

    Raises
    ------
    DoseError
        When it is not too strong at all.
    """
    amount, less = _alike(_in(have, strength), _in(have, wanted))
    if less.value >= amount.value:
        raise refuse("tank-not-strong")
    total = (amount / wanted).to(LITER)
    if tank is None or total <= tank:
        return Thinned(total, total - have, None)
    share = tank.amount_in(LITER) / total.value
    kept = (have * share).to(LITER)
    return Thinned(tank.to(LITER), tank.to(LITER) - kept, have.to(LITER) - kept)

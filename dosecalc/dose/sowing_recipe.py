"""Seed, with an inoculant or without, as a `Recipe`: measured, judged, carded like any other."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.units.measure import LITER, METER, PLANT, SQUARE_METER, Measure
from dosecalc.units.show import show

PER: dict[str, tuple[Measure, str, str, str]] = {
    "row length": (Measure(Fraction(1), METER), "1 m", "band", "seed-row"),
    "area": (Measure(Fraction(1), SQUARE_METER), "1 m2", "broadcast", "broadcast"),
    "plant": (Measure(Fraction(1), PLANT), "1 plant", "planting hole", "planting-hole"),
    "medium volume": (Measure(Fraction(1), LITER), "1 L", "mix in", "mixed-in"),
}
"""What a dose is counted on: one of it, the same as text, how it is given, its placement."""
ON_SEED = "Wet the seed with a little water or milk, mix the inoculant on until every seed is dark."
DRY = "Let it dry in the shade and sow it within a day."
IN_FURROW = "Put the inoculant into every furrow, beside the seed."
EVENLY = "Sow it evenly over the whole length or area."


def sowing_recipe(
    name: str, basis: str, times: Fraction, amounts: Sequence[tuple[str, Measure]],
    order: tuple[str, ...], cautions: tuple[str, ...], sources: tuple[str, ...],
) -> Recipe:  # fmt: skip
    """What is sown on a site, for one metre, square metre or plant of it.

    Parameters
    ----------
    name : str
    basis : {"row length", "area", "plant", "medium volume"}
    times : Fraction
        How many metres, square metres, plants or litres the site has.
    amounts : sequence of (str, Measure)
        Material ids, each with how much of it goes on the whole site.
    order, cautions, sources : tuple of str
    """
    per, per_text, how, placement = PER[basis]
    items = []
    for material, whole in amounts:
        amount = whole / times
        items.append(Ingredient(material, amount, None, None, "active", show(amount).metric))
    statement = Statement(None, None, basis, per, per_text, tuple(items), None)
    return Recipe(
        id="sowing", name=name, purpose="To sow", how=how, placement=placement, setting=(),
        crops=(), not_on=(), when="", statements=(statement,), repeat=None, order=order,
        cautions=cautions, sources=sources, practice=not sources, caveat="",
    )  # fmt: skip

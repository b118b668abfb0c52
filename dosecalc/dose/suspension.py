"""Living things stirred into water first, so that every filling gets its own share of the packs."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.units.measure import LITER, Measure
from dosecalc.units.show import show

ONE_LITER = Measure(Fraction(1), LITER)
MOST_SHARE = Fraction(1, 4)
"""The packs are stirred into no more than this part of the water (common practice, no source)."""
ORDER = (
    "Water the ground first, and work in the evening or under cloud.",
    "Take filters and fine screens out of sprayer and can.",
    "Stir every pack of this release into cool water, up to the volume behind its name.",
    "Stir that well before every draw; put the measured part into the can and fill up with water.",
    "Keep stirring the can while it is poured, and use all of it at once.",
    "Water again afterwards, and keep the ground moist without puddles.",
)
"""What whoever stands at the can has to do; the card says it in its own language."""


def first_volume(water: Measure, can: Measure) -> Measure:
    """How much the packs are stirred into, so that a full can takes a litre of it.

    A can below four litres takes a quarter of its volume.

    Parameters
    ----------
    water : Measure
        For the whole release.
    can : Measure
    """
    full = can if can <= water else water
    share = min((ONE_LITER / full).amount_in(()), MOST_SHARE)
    return (water * share).to(LITER)


def suspension(name: str, packs: int, water: Measure, can: Measure) -> tuple[Recipe, Material]:
    """One release as a drench whose first suspension is measured into each can.

    Parameters
    ----------
    name : str
        What is let out.
    packs : int
    water, can : Measure
    """
    first = first_volume(water, can)
    shown = show(first).metric
    material = Material(
        id="living-suspension",
        name=f"{name} ({packs} pack{'s' if packs > 1 else ''} in {shown})",
        also=(), form="suspension", traits=(), contents=(), uncounted=(), by_weight=False,
        density=None, density_how="", solubility=(), insoluble="", hazards=(), caveat="",
        formula="", sources=(),
    )  # fmt: skip
    item = Ingredient(material.id, first, None, None, "active", shown)
    statement = Statement(None, None, "spray volume", water, show(water).metric, (item,), None)
    recipe = Recipe(
        id="release", name=name, purpose="To let out live controls", how="drench",
        placement="soil-drench", setting=(), crops=(), not_on=(), when="",
        statements=(statement,), repeat=None, order=ORDER, cautions=(),
        sources=("uc-ipm-nematodes", "umass-beneficial-nematodes"), practice=False, caveat="",
    )  # fmt: skip
    return recipe, material

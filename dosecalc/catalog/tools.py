"""What the grower holds: spoons, a scale, a sprayer or can; each with its tolerance."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, LITER, MASS, ML, VOLUME, Measure, exact_text
from dosecalc.units.spread import Factor
from dosecalc.units.words import SYSTEMS, System

SPOON_TOLERANCE = Fraction(5, 100)
"""Customary household measures may be off by 5 % of the marked capacity (productknowledge.com,
liquid measuring utensils: terminology and dimensions)."""
SCALE_SHARE = Fraction(1, 1000)
"""Consumer scales often state 0.1 % of the load plus one display step (weighingreview.com, what
precision specifications mean for the consumer)."""

SPOONS: dict[System, tuple[Unit, Unit]] = {
    "us": ((("tbsp_us", 1),), (("tsp_us", 1),)),
    "imperial": ((("tbsp_imp", 1),), (("tsp_imp", 1),)),
    "metric": ((("tbsp_metric", 1),), (("tsp_metric", 1),)),
    "australian": ((("tbsp_au", 1),), (("tsp_au", 1),)),
}
MOST_TANK = Measure(Fraction(100_000), LITER)


@dataclass(frozen=True, slots=True)
class ToolsText:
    """What was typed about the tools, None where nothing was said."""

    my_spoons: str | None = None
    scale: str | None = None
    sprayer: str | None = None
    bag: str | None = None


@dataclass(frozen=True, slots=True)
class Tools:
    """The tools at hand.

    Parameters
    ----------
    spoons : System
        Whose spoons.
    spoons_told : bool
    scale_step : Measure or None
        What the scale reads to; None when no scale was told.
    sprayer : Measure or None
        Usable volume of the sprayer, can or tank.
    bag : Measure or None
        Size of a bag of a loose material.
    """

    spoons: System = "metric"
    spoons_told: bool = False
    scale_step: Measure | None = None
    sprayer: Measure | None = None
    bag: Measure | None = None

    def spoon_factor(self) -> Factor:
        """The spoon's own size against its mark; one spoon used often is one factor."""
        return Factor(
            f"tool:{self.spoons}-spoons", 1 - SPOON_TOLERANCE, Fraction(1), 1 + SPOON_TOLERANCE, ()
        )

    def jug_factor(self) -> Factor:
        """The jug's own mark."""
        return Factor("tool:jug", 1 - SPOON_TOLERANCE, Fraction(1), 1 + SPOON_TOLERANCE, ())

    def tank_factor(self) -> Factor:
        """The mark on the vessel that the liquid is made up in; it errs apart from the jug."""
        return Factor("tool:tank", 1 - SPOON_TOLERANCE, Fraction(1), 1 + SPOON_TOLERANCE, ())

    def scale_factor(self, load: Measure, step: Measure) -> Factor:
        """The scale's error at this load: 0.1 % of the load plus one step."""
        grams = load.amount_in(GRAM)
        share = SCALE_SHARE + step.amount_in(GRAM) / grams
        share = min(share, Fraction(99, 100))
        return Factor(f"tool:scale:{exact_text(load)}", 1 - share, Fraction(1), 1 + share, ())


def read_tools(text: ToolsText, system: System | None = None) -> Tools:
    """Build `Tools` from typed text; refuses what cannot be read or is of no size."""
    spoons: System = "metric"
    if text.my_spoons is not None:
        found = [name for name in SYSTEMS if name == text.my_spoons]
        if not found:
            raise refuse("tools-spoons", text=text.my_spoons, known=", ".join(SYSTEMS))
        spoons = found[0]
    scale = None
    if text.scale is not None:
        scale = read.positive(
            text.scale, MASS, want="a scale's step", example="0.1 g", oz_is="weight"
        )
    sprayer = None
    if text.sprayer is not None:
        sprayer = read.positive(
            text.sprayer, VOLUME, system, want="the size of a sprayer or can", example="2 L",
            oz_is="doubt",
        )  # fmt: skip
        if sprayer > MOST_TANK or sprayer < Measure(Fraction(1), ML):
            raise refuse("site-absurd", text=text.sprayer, most=exact_text(MOST_TANK))
    bag = None
    if text.bag is not None:
        bag = read.positive(text.bag, VOLUME, system, want="a bag's volume", example="50 L")
    return Tools(spoons, text.my_spoons is not None, scale, sprayer, bag)

"""`Request`: everything one mix is computed from, as plain values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.site import Site
from dosecalc.catalog.source import Source
from dosecalc.catalog.told import Told
from dosecalc.catalog.tools import Tools
from dosecalc.dose.verdict import Knowledge
from dosecalc.units.measure import Measure
from dosecalc.units.words import System


@dataclass(frozen=True, slots=True)
class Request:
    """Everything one mix is computed from: plain values only.

    Parameters
    ----------
    recipe : Recipe
    site : Site
    tools : Tools
    materials : mapping of str to Material
        Every material that the recipe names.
    sources : mapping of str to Source
        Every source that may be cited.
    told : Told
        Crop, region, weather, what went before.
    knowledge : Knowledge
        Limits, rules and labels that may speak of the materials.
    measures : System or None
        Which wording of the recipe to use.
    water : Measure or None
        Water in place of the recipe's, for a vehicle only.
    equal : bool
        Equal tankfuls instead of full ones and a last part.
    stock : bool
        The liquid is a stock solution for an injector.
    feed_held : bool
        The feed that this stock is thinned to is held against its limits by itself.
    done : bool
        It was done already: the amounts are what was used, nothing is planned.
    placement_told : bool
        False where the placement was taken for granted.
    """

    recipe: Recipe
    site: Site
    tools: Tools
    materials: Mapping[str, Material]
    sources: Mapping[str, Source]
    told: Told
    knowledge: Knowledge
    measures: System | None = None
    water: Measure | None = None
    equal: bool = False
    stock: bool = False
    feed_held: bool = False
    done: bool = False
    placement_told: bool = True

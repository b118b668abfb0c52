"""Steps in mixing order, and the cautions that the materials and the way of use bring."""

from __future__ import annotations

from collections.abc import Iterable

from dosecalc.catalog.material import SOLID_FORMS, Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.dose.plan import Action
from dosecalc.say import Say
from dosecalc.units.measure import Measure
from dosecalc.units.show import show

_ORDER = ("powder", "crystals", "granules", "flakes", "suspension", "liquid", "bulk")
"""Solids that must dissolve go into the water first, then suspensions, then liquids."""

HAZARD_ORDER = (
    "eye-damage", "eye-irritation", "caustic", "skin-burns", "skin-irritation", "dust",
    "swallowing", "fertility", "ammonia-gas", "pathogens", "mould-spores", "oxidiser", "aquatic",
    "bees", "copper-livestock", "corrosive-metal", "plant-burn", "slippery", "children",
)  # fmt: skip
SPRAYS = frozenset({"foliar spray", "dormant spray"})


def steps(
    recipe: Recipe, actions: Iterable[Action], has_water: bool, *, stock: bool = False
) -> tuple[Say, ...]:
    """What to do, in order; the recipe's own order where it gives one.

    A stock may be kept, unless it can carry germs.
    """
    if recipe.order:
        return tuple(Say.of("recipe-text", text=text) for text in recipe.order)
    ordered = sorted(actions, key=lambda a: _rank(a.material))
    if not has_water:
        return (
            *(Say.of("step-measure", name=a.material.name) for a in ordered),
            Say.of("step-spread"),
        )
    soap = [a for a in ordered if _foams(a.material)]
    rest = [a for a in ordered if not _foams(a.material)]
    middle = [_add(a) for a in (*rest, *soap)]
    kept = stock and not any("pathogens" in a.material.hazards for a in ordered)
    last = Say.of("step-keep-stock" if kept else "step-use-today")
    return (Say.of("step-half-fill"), *middle, Say.of("step-fill-up"), last)


def _rank(material: Material) -> int:
    return _ORDER.index(material.form) if material.form in _ORDER else len(_ORDER)


def _foams(material: Material) -> bool:
    return "soap" in material.traits or "detergent" in material.traits


def _add(action: Action) -> Say:
    name = action.material.name
    if "oil" in action.material.traits:
        return Say.of("step-add-oil", name=name)
    if action.material.insoluble:
        return Say.of("step-add-suspend", name=name)
    if action.material.form in SOLID_FORMS:
        return Say.of("step-dissolve", name=name)
    return Say.of("step-add", name=name)


def cautions(
    recipe: Recipe, materials: Iterable[Material], stock: Measure | None = None
) -> tuple[Say, ...]:
    """Label first, then what the materials do, then what the way of use asks.

    Parameters
    ----------
    recipe : Recipe
    materials : iterable of Material
    stock : Measure or None
        How much of a stock solution it is made up to.
    """
    found = list(materials)
    hazards = {key: m.name for m in reversed(found) for key in m.hazards}
    lines = [Say.of("caution-label")]
    lines += [Say.of(f"hazard-{key}", name=hazards[key]) for key in HAZARD_ORDER if key in hazards]
    if hazards and "children" not in hazards:
        lines.append(Say.of("hazard-children", name=""))
    if recipe.how in SPRAYS:
        lines.append(Say.of("caution-spray"))
    if recipe.placement != "mixed-in":
        lines.append(Say.of("caution-water"))
    if stock is not None:
        lines.append(Say.of("caution-stock-up-to", volume=show(stock).both()))
        lines += [Say.of("caution-stock-label"), Say.of("caution-stock-night")]
        if sum(not material.liquid for material in found) > 1:
            lines.append(Say.of("caution-stock-share"))
    lines += [Say.of("recipe-text", text=text) for text in recipe.cautions]
    return tuple(lines)

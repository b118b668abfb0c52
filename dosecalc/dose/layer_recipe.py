"""A layer or a filling as a `Recipe`, so that it is measured, judged and carded like any other."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.dose.fill import Part, amounts
from dosecalc.units.measure import LENGTH, LITER, METER, SQUARE_METER, Measure
from dosecalc.units.show import show

_SQUARE_METER = Measure(Fraction(1), SQUARE_METER)
_CUBIC_METER = Measure(Fraction(1000), LITER)
PLACED = {
    "worked-in": ("mixed-in", "work in", "Mix into the top spade's depth."),
    "on-top": ("broadcast", "broadcast", "Leave it on top."),
    "mulch": ("mulch", "mulch", "Keep it a hand's width from the stems."),
}
"""How a layer is placed: the placement, how it is done, and the last step."""


def layer_recipe(
    name: str, material: Material, rate: Measure, placed: str, sources: tuple[str, ...],
    cautions: tuple[str, ...] = (),
) -> Recipe:  # fmt: skip
    """One material over ground.

    Parameters
    ----------
    name : str
        A material id, or the name of a product on hand.
    material : Material
    rate : Measure
        A depth, or a weight per area.
    placed : {"worked-in", "on-top", "mulch"}
    sources : tuple of str
        Source ids of what the rate rests on.
    cautions : tuple of str
    """
    placement, how, last = PLACED[placed]
    depth = rate.is_a(LENGTH)
    amount = rate if depth else rate * _SQUARE_METER
    role = "mulch" if placed == "mulch" else "amendment"
    printed = show(amount).metric
    return _recipe(
        name=f"{material.name}, {printed}{' deep' if depth else ' per m2'}",
        purpose="A layer over ground", how=how, placement=placement, setting=("garden",),
        basis="layer" if depth else "area", per=_SQUARE_METER,
        ingredients=(Ingredient(name, amount, None, None, role, printed),),
        order=("Spread to an even depth.", last), sources=sources, cautions=cautions,
    )  # fmt: skip


def fill_recipe(parts: Sequence[Part], whole: Measure) -> Recipe:
    """A medium by parts: over ground where `whole` is a depth, else in a volume.

    Parameters
    ----------
    parts : sequence of Part
    whole : Measure
        All parts together, loose: a depth, or litres for each cubic metre to be filled.
    """
    depth = whole.is_a(LENGTH)
    items = tuple(
        Ingredient(part.name, amount, None, None, "amendment", show(amount).metric)
        for part, amount in zip(parts, amounts(parts, whole.to(METER if depth else LITER)),
                                strict=True)
    )  # fmt: skip
    names = ", ".join(part.material.name for part in parts)
    return _recipe(
        name=f"Medium of {names}", purpose="To fill a bed or pots", how="mix in",
        placement="mixed-in", setting=("garden",) if depth else ("container", "greenhouse"),
        basis="layer" if depth else "medium volume", per=_SQUARE_METER if depth else _CUBIC_METER,
        ingredients=items,
        order=("Measure every part loose, with one and the same vessel.",
               "Turn the heap three times and moisten it.", "Fill, water and fill up again."),
        sources=(), cautions=(),
    )  # fmt: skip


def _recipe(
    *, name: str, purpose: str, how: str, placement: str, setting: tuple[str, ...], basis: str,
    per: Measure, ingredients: tuple[Ingredient, ...], order: tuple[str, ...],
    sources: tuple[str, ...], cautions: tuple[str, ...],
) -> Recipe:  # fmt: skip
    statement = Statement(
        measures=None, declared=None, basis=basis, per=per,
        per_text="1 m2" if per is _SQUARE_METER else "1 m3",
        ingredients=ingredients, water=None,
    )  # fmt: skip
    return Recipe(
        id="layer" if len(ingredients) == 1 else "medium", name=name, purpose=purpose, how=how,
        placement=placement, setting=setting, crops=(), not_on=(), when="",
        statements=(statement,), repeat=None, order=order, cautions=cautions, sources=sources,
        practice=not sources, caveat="",
    )  # fmt: skip

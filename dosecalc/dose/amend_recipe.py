"""A need of lime, sulfur or gypsum as a `Recipe`: measured and judged like any other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.liming import Method
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Repeat, Statement
from dosecalc.dose.amend import depth_text, wait_text
from dosecalc.say import Say
from dosecalc.units.measure import DAY, GRAM_PER_M2, Measure
from dosecalc.units.show import show

_NOT_LIMED = ("blueberry", "acid-loving")
_M2 = (("meter", 2),)
_NAMES = {
    "raise": "liming-amend-name-raise",
    "lower": "liming-amend-name-lower",
    "sodium": "liming-amend-name-sodium",
}


@dataclass(frozen=True, slots=True)
class Dressing:
    """One dressing of several.

    Parameters
    ----------
    amount : Measure
        Of the product, a mass over an area.
    count : int
        How many dressings there are in all.
    wait : Measure or None
        How long to wait between them, None where no source says.
    """

    amount: Measure
    count: int = 1
    wait: Measure | None = None


def amend_recipe(
    purpose: str,
    material: Material,
    dressing: Dressing,
    method: Method | None,
    depth: Measure | None,
    cautions: Sequence[str],
    on_top: bool = False,
) -> Recipe:
    """The recipe of one dressing.

    Parameters
    ----------
    purpose : str
        "raise", "lower" or "sodium".
    material : Material
    dressing : Dressing
    method : Method or None
        None where the report itself asks for the amount.
    depth : Measure or None
        How deep it is worked in.
    cautions : sequence of str
    on_top : bool
        Whether it stays on the surface.
    """
    placement = "broadcast" if on_top else "mixed-in"
    grams = dressing.amount.to(GRAM_PER_M2).value
    item = Ingredient(
        material.id,
        Measure(grams, (("gram", 1),)),
        None,
        None,
        "amendment",
        show(dressing.amount).metric,
    )
    per = Measure(Fraction(1), _M2)
    statement = Statement(None, None, "area", per, "1 m2", (item,), None)
    name = Say.of(_NAMES[purpose], product=material.name)
    if dressing.count > 1:
        name = Say.of("liming-amend-name-part", name=name, count=dressing.count)
    return Recipe(
        id=f"{purpose}-{'report' if method is None else method.id}",
        name=name.english(),
        purpose="" if method is None else method.name,
        how="broadcast" if on_top else "work in",
        placement=placement,
        setting=() if method is None else method.setting,
        crops=() if method is None else method.crops,
        not_on=_NOT_LIMED if purpose == "raise" else (),
        when=""
        if method is None or method.before is None
        else Say.of("liming-amend-before", wait=wait_text(method.before)).english(),
        statements=(statement,),
        repeat=None if dressing.wait is None else Repeat(_days(dressing.wait), None, None, None),
        order=_order(purpose, depth, on_top),
        cautions=tuple(cautions),
        sources=() if method is None else (method.source.id,),
        practice=method is None,
        caveat="" if method is None else method.caveat,
    )


def _days(wait: Measure) -> Measure:
    """A wait in whole days, never less."""
    return Measure(Fraction(-(-wait.amount_in(DAY) // 1)), DAY)


def _order(purpose: str, depth: Measure | None, on_top: bool) -> tuple[str, ...]:
    if on_top:
        spread = Say.of("liming-amend-on-top")
    else:
        deep = "" if depth is None else f", {depth_text(depth)} deep"
        spread = Say.of("liming-amend-work-in", depth=deep)
    last = Say.of("liming-amend-leach" if purpose == "sodium" else "liming-amend-retest")
    return Say.of("liming-amend-spread-still").english(), spread.english(), last.english()

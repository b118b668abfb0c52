"""Two wordings that a weight and a volume keep apart: held together through the density."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import ONE_RATE, Recipe, Statement
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, MASS, ML, VOLUME, Measure
from dosecalc.units.show import rounded

_CLASH = Fraction(5, 4)
"""Two wordings further apart are no rounding: one is a slip (common practice, no source)."""


def order_wordings(
    recipe: Recipe, materials: dict[str, Material]
) -> tuple[Recipe, tuple[Say, ...], tuple[Say, ...]]:
    """The wording with less of the first material first; how they compare; where they clash."""
    if len(recipe.statements) != 2:
        return recipe, (), ()
    one, other = recipe.statements
    item, match = one.ingredients[0], other.ingredients[0]
    material = materials[item.material]
    ratio = rate_ratio(one, other, material)
    if ratio is None:
        return recipe, (Say.of("prose-two-apart", first=item.printed, second=match.printed),), ()
    if ratio < 1:
        recipe = replace(recipe, statements=(other, one))
        item, match, ratio = match, item, 1 / ratio
    less = f"{item.printed} per {recipe.statements[0].per_text}"
    more = f"{match.printed} per {recipe.statements[1].per_text}"
    if ratio - 1 <= ONE_RATE:
        return recipe, (Say.of("prose-agree", first=less, second=more),), ()
    percent = rounded((ratio - 1) * 100, 2)[0]
    key = (
        "prose-differ-density"
        if item.amount.is_a(MASS) != match.amount.is_a(MASS)
        else ("prose-differ")
    )
    line = Say.of(key, first=less, second=more, percent=percent, name=material.name)
    if ratio > _CLASH:
        return recipe, (), (line,)
    return recipe, (line,), ()


def rate_ratio(one: Statement, other: Statement, material: Material) -> Fraction | None:
    """The other statement's rate of the first material over this one's, None where unlike."""
    mine = _grams(one.ingredients[0].amount, material)
    theirs = _grams(other.ingredients[0].amount, material)
    if one.ingredients[0].amount.is_a(VOLUME) and other.ingredients[0].amount.is_a(VOLUME):
        mine, theirs = one.ingredients[0].amount, other.ingredients[0].amount
    if mine is None or theirs is None or one.basis != other.basis:
        return None
    try:
        mine, theirs = mine / one.per, theirs / other.per
        return theirs.amount_in(mine.unit) / mine.value
    except ValueError:
        return None


def _grams(amount: Measure, material: Material) -> Measure | None:
    if amount.is_a(MASS):
        return amount.to(GRAM)
    if not amount.is_a(VOLUME) or material.density is None:
        return None
    return Measure(amount.amount_in(ML) * material.density.likely, GRAM)

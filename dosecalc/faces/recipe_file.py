"""A recipe that was computed, as a file that `mix`, `card` and `log` read like any other."""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from pathlib import Path
from typing import Any

from dosecalc.catalog.lookup import material_ids
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.errors import refuse
from dosecalc.faces.prose import toml
from dosecalc.faces.whole_file import write_all
from dosecalc.units.measure import Measure, exact_text
from dosecalc.units.show import rounded

_DIGITS = 15


def save(files: dict[Path, Recipe], shelf: Collection[str], *, over: bool) -> None:
    """Write every recipe, or none.

    Parameters
    ----------
    files : dict of Path to Recipe
    shelf : collection of str
        Names of the products of the garden file, which a recipe file may use.
    over : bool
        Write over files that are there.

    Raises
    ------
    DoseError
        For a material that neither the catalog nor the garden file holds, for a name that does
        not end in .toml, and for a file that is there.
    """
    texts: dict[Path, bytes] = {}
    for file, recipe in files.items():
        if file.suffix != ".toml":
            raise refuse("made-file", path=file)
        for id in recipe.material_ids():
            if id not in material_ids() and id not in shelf:
                raise refuse("made-own", name=id)
        texts[file] = toml(table(recipe)).encode("utf-8")
    write_all(texts, replace=over)


def table(recipe: Recipe) -> dict[str, Any]:
    """A recipe in the shape of ``catalog.schema.RecipeFile``; amounts as exact text."""
    found: dict[str, Any] = {
        "name": recipe.name, "purpose": recipe.purpose, "how": recipe.how,
        "placement": recipe.placement,
    }  # fmt: skip
    for key in ("setting", "crops", "not_on", "order", "cautions"):
        if getattr(recipe, key):
            found[key] = list(getattr(recipe, key))
    for key in ("when", "caveat"):
        if getattr(recipe, key):
            found[key] = getattr(recipe, key)
    if recipe.sources:
        found["source"] = list(recipe.sources)
    else:
        found["practice"] = "common practice, no source"
    found["statement"] = [_statement(one) for one in recipe.statements]
    repeat = recipe.repeat
    if repeat is not None:
        interval = None if repeat.interval is None else exact_text(repeat.interval)
        rows = {"interval": interval, "most": repeat.most, "window": repeat.window,
                "source": repeat.source}  # fmt: skip
        found["repeat"] = {key: value for key, value in rows.items() if value is not None}
    return found


def _statement(one: Statement) -> dict[str, Any]:
    found: dict[str, Any] = {"basis": one.basis, "per": _plain(one.per)}
    if one.declared is not None:
        found["measures"] = one.declared
    found["ingredient"] = [_ingredient(item) for item in one.ingredients]
    if one.water is not None:
        found["water"] = {"amount": _plain(one.water.amount), "need": one.water.need}
    return found


def _ingredient(item: Ingredient) -> dict[str, Any]:
    found: dict[str, Any] = {"material": item.material, "amount": _plain(item.amount)}
    if item.to is not None:
        found["to"] = _plain(item.to)
    if item.nutrient is not None:
        found["nutrient"] = item.nutrient
    return {**found, "role": item.role}


def _plain(measure: Measure) -> str:
    """An amount as exact text, in decimals where they end: "15.6 g", not "78/5 g"."""
    text = exact_text(measure)
    number, _, unit = text.partition(" ")
    if "/" not in number:
        return text
    decimals, step = rounded(measure.value, _DIGITS)
    return f"{decimals} {unit}" if Fraction(decimals) == measure.value and step else text

"""One look into the book for one job: the recipe, its materials and every source it may cite."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dosecalc.catalog import lookup
from dosecalc.catalog.material import Material
from dosecalc.catalog.product import distinct
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.source import Source


@dataclass(frozen=True, slots=True)
class Book:
    """What a recipe needs from the catalog, read on demand."""

    recipe: Recipe
    materials: dict[str, Material]
    sources: dict[str, Source]


def open_book(recipe: Recipe, own: Mapping[str, Material] | None = None) -> Book:
    """Read the materials of `recipe`, `own` ones first, and the sources that it and they cite.

    Raises
    ------
    DoseError
        When two of the own ones stand for the same material of the catalog.
    """
    own = own or {}
    mine = {id: own[id] for id in recipe.material_ids() if id in own}
    distinct(mine)
    materials = {id: mine.get(id) or lookup.material(id) for id in recipe.material_ids()}
    ids = [*recipe.sources, *(["common-practice"] if recipe.practice else [])]
    for material in materials.values():
        ids += material.sources
    return Book(recipe, materials, {id: lookup.source(id) for id in dict.fromkeys(ids)})

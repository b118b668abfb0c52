"""One look into the book for one job: the recipe, its materials and every source it may cite."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.catalog import lookup
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.source import Source


@dataclass(frozen=True, slots=True)
class Book:
    """What a recipe needs from the catalog, read on demand."""

    recipe: Recipe
    materials: dict[str, Material]
    sources: dict[str, Source]


def open_book(recipe: Recipe) -> Book:
    """Read the materials of `recipe` and the sources that it and they cite."""
    materials = {id: lookup.material(id) for id in recipe.material_ids()}
    ids = [*recipe.sources, *(["common-practice"] if recipe.practice else [])]
    for material in materials.values():
        ids += material.sources
    return Book(recipe, materials, {id: lookup.source(id) for id in dict.fromkeys(ids)})

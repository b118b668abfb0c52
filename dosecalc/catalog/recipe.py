"""`Recipe`: a published or practised rate, each wording of it whole."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.units.measure import Measure
from dosecalc.units.words import System

ONE_RATE = Fraction(2, 100)
"""Wordings within 2 % of each other are one rate printed twice (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One material of a statement.

    Parameters
    ----------
    material : str
        Material id.
    amount : Measure
        A mass, a volume, or a depth for a layer.
    to : Measure or None
        The upper end where the recipe leaves the grower a choice.
    nutrient : str or None
        Where the amount counts a nutrient of the material and not the material itself.
    role : str
    printed : str
        The amount as written.
    """

    material: str
    amount: Measure
    to: Measure | None
    nutrient: str | None
    role: str
    printed: str


@dataclass(frozen=True, slots=True)
class Water:
    """Water of a statement: `need` is "strength" (must be kept) or "vehicle" (carries only)."""

    amount: Measure
    need: str


@dataclass(frozen=True, slots=True)
class Statement:
    """One whole wording of the rate, in one measure system.

    Parameters
    ----------
    measures : System or None
        Whose measures it was read in; None where none of its words differ by country.
    declared : System or None
        Whose measures the file says it speaks.
    basis : str
        "row length", "area", "spray volume", "plant", "pot", "medium volume" or "layer".
    per : Measure
        The amount of basis that the rate is for.
    """

    measures: System | None
    declared: System | None
    basis: str
    per: Measure
    per_text: str
    ingredients: tuple[Ingredient, ...]
    water: Water | None


@dataclass(frozen=True, slots=True)
class Repeat:
    """How soon and how often at most."""

    interval: Measure | None
    most: int | None
    window: str | None
    source: str | None


@dataclass(frozen=True, slots=True)
class Recipe:
    """One recipe of the book. See ``catalog.schema.RecipeFile`` for the file."""

    id: str
    name: str
    purpose: str
    how: str
    placement: str
    setting: tuple[str, ...]
    crops: tuple[str, ...]
    not_on: tuple[str, ...]
    when: str
    statements: tuple[Statement, ...]
    repeat: Repeat | None
    order: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    practice: bool
    caveat: str

    def material_ids(self) -> tuple[str, ...]:
        """Every material it names, once, in order."""
        seen = dict.fromkeys(i.material for s in self.statements for i in s.ingredients)
        return tuple(seen)

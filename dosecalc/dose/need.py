"""Recipe statement and site to what is needed: exact, without spread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import element_of
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.catalog.site import Site
from dosecalc.catalog.tools import Tools
from dosecalc.dose.result import Assumed
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.measure import (
    GRAM,
    LITER,
    PLANT,
    POT,
    VOLUME,
    Measure,
    exact_text,
)
from dosecalc.units.show import show
from dosecalc.units.words import SYSTEM_WORD, System

SPRAYED = frozenset({"foliar", "dormant-spray"})
"""Placements that are sprayed, so that their liquid is a spray volume."""


@dataclass(frozen=True, slots=True)
class NeedAmount:
    """One material and exactly how much of it the whole site needs (a mass or a volume)."""

    material: Material
    asked: Measure
    up_to: Measure | None
    role: str
    printed: str


@dataclass(frozen=True, slots=True)
class Need:
    """What one statement asks for on one site.

    Parameters
    ----------
    statement : Statement
    times : Fraction
        How many of the statement's own basis the site is.
    amounts : tuple of NeedAmount
    liquid : Measure or None
        Water or spray needed for the whole site.
    liquid_is : {"", "strength", "vehicle"}
    assumed : tuple of Assumed
    """

    statement: Statement
    times: Fraction
    amounts: tuple[NeedAmount, ...]
    liquid: Measure | None
    liquid_is: str
    assumed: tuple[Assumed, ...]


def choose_statement(
    recipe: Recipe, measures: System | None, materials: Mapping[str, Material]
) -> tuple[Statement, Assumed | None]:
    """One whole statement: the one in `measures`, else the one with less active per basis.

    Raises
    ------
    DoseError
        When the recipe has no statement in `measures`.
    """
    if measures is not None:
        for statement in recipe.statements:
            if statement.measures == measures:
                return statement, None
    if len(recipe.statements) == 1:
        return recipe.statements[0], None
    chosen = recipe.statements[0]
    for other in recipe.statements[1:]:
        ratio = active_ratio(other, chosen, materials)
        if ratio is not None and ratio < 1:
            chosen = other
    assumed = Assumed(
        Say.of("assume-statement"),
        f"{system_word(chosen.measures)} wording",
        Say.of("instead-statement"),
    )
    return chosen, assumed


def system_word(system: System | None) -> str:
    """A measure system as a word for people."""
    return "no country's" if system is None else SYSTEM_WORD[system]


def active_ratio(
    one: Statement, other: Statement, materials: Mapping[str, Material]
) -> Fraction | None:
    """How much of the first active `one` gives per basis, relative to `other`; None if unlike."""
    if one.basis != other.basis:
        return None
    first = _active(one)
    match = next((i for i in other.ingredients if i.material == first.material), None)
    if match is None or first.nutrient != match.nutrient:
        return None
    try:
        mine = first.amount / one.per
        theirs = match.amount / other.per
        return mine.amount_in(theirs.unit) / theirs.value
    except ValueError:
        return None


def _active(statement: Statement) -> Ingredient:
    return next((i for i in statement.ingredients if i.role == "active"), statement.ingredients[0])


def need(
    recipe: Recipe,
    statement: Statement,
    site: Site,
    tools: Tools,
    materials: Mapping[str, Material],
    water: Measure | None = None,
) -> Need:
    """Scale one statement to one site.

    Parameters
    ----------
    recipe : Recipe
    statement : Statement
        One of the recipe's.
    site : Site
    tools : Tools
    materials : mapping of str to Material
    water : Measure or None
        Water in place of the statement's own, for the whole site; only a vehicle may change.

    Raises
    ------
    DoseError
        When the site does not tell what the statement's basis needs.
    """
    assumed: list[Assumed] = []
    liquid: Measure | None = None
    liquid_is = ""
    if statement.basis == "spray volume":
        liquid = _spray_total(site, tools, assumed)
        liquid_is = "strength"
        times = liquid / statement.per
    else:
        times = _how_many(recipe, statement, site, assumed)
    factor = times.amount_in(())
    if statement.water is not None:
        liquid = statement.water.amount * factor
        liquid_is = statement.water.need
        if water is not None:
            if liquid_is == "strength":
                raise refuse("water-strength", text=exact_text(water))
            liquid = water
    elif recipe.placement in SPRAYED and statement.basis != "spray volume":
        liquid = water or _spray_on(site, tools, assumed)
        liquid_is = "vehicle"
    elif water is not None:
        raise refuse("water-none", text=exact_text(water))
    amounts = tuple(
        _scaled(item, statement, factor, site, materials[item.material])
        for item in statement.ingredients
    )
    return Need(statement, factor, amounts, liquid, liquid_is, tuple(assumed))


def _spray_on(site: Site, tools: Tools, assumed: list[Assumed]) -> Measure | None:
    """The spray that this site takes, as told or as calibrated; None when neither was told."""
    ground = site.ground
    if site.spray is not None and site.spray.is_a(VOLUME):
        return site.spray.to(LITER)
    if site.spray is not None:
        if ground is None:
            raise refuse("need-spray-ground", text=exact_text(site.spray))
        _say_bed_top(site, assumed)
        return (site.spray * ground).to(LITER)
    if tools.output is not None and site.band_area is not None:
        assumed.append(_calibrated(tools.output))
        shown = show(site.band_area).metric
        assumed.append(Assumed(Say.of("assume-band"), shown, Say.of("instead-one-tank")))
        return (tools.output * site.band_area).to(LITER)
    if tools.output is not None and ground is not None:
        assumed.append(_calibrated(tools.output))
        _say_bed_top(site, assumed)
        return (tools.output * ground).to(LITER)
    if tools.along_row is not None and site.row_length is not None:
        assumed.append(_calibrated(tools.along_row))
        return (tools.along_row * site.row_length).to(LITER)
    return None


def _spray_total(site: Site, tools: Tools, assumed: list[Assumed]) -> Measure:
    """How much spray is made up: for the site, else one filling of the sprayer."""
    told = _spray_on(site, tools, assumed)
    if told is not None:
        return told
    if site.ground is not None or site.row_length is not None or site.plants is not None:
        raise refuse("need-spray-volume")
    if tools.sprayer is not None:
        assumed.append(
            Assumed(
                Say.of("assume-one-tank"), show(tools.sprayer).metric, Say.of("instead-one-tank")
            )
        )
        return tools.sprayer.to(LITER)
    raise refuse("need-spray")


def _calibrated(output: Measure) -> Assumed:
    return Assumed(Say.of("assume-calibrated"), exact_text(output), Say.of("instead-one-tank"))


def _say_bed_top(site: Site, assumed: list[Assumed]) -> None:
    if site.gross_area is not None and site.area is not None and site.area < site.gross_area:
        assumed.append(
            Assumed(Say.of("assume-bed-top"), show(site.area).metric, Say.of("instead-bed-top"))
        )


def _how_many(recipe: Recipe, statement: Statement, site: Site, assumed: list[Assumed]) -> Measure:
    basis = statement.basis
    if basis == "row length":
        if site.row_length is None:
            raise refuse("need-rows-in-bed" if site.area is not None else "need-row")
        return site.row_length / statement.per
    if basis in ("area", "layer"):
        ground = site.ground
        if ground is None:
            raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
        _say_bed_top(site, assumed)
        return ground / statement.per
    if basis == "plant":
        if site.plants is None:
            raise refuse("need-plants")
        return Measure(Fraction(site.plants), PLANT) / statement.per
    if basis == "pot":
        if site.pots is None:
            raise refuse("need-pots")
        return Measure(Fraction(site.pots), POT) / statement.per
    if site.medium_volume is None:
        raise refuse("need-medium")
    return site.medium_volume / statement.per


def _scaled(
    item: Ingredient, statement: Statement, times: Fraction, site: Site, material: Material
) -> NeedAmount:
    amount, upper = item.amount, item.to
    if statement.basis == "layer":
        ground = site.ground
        assert ground is not None
        depth = site.layer or amount
        top = None if site.layer is not None or upper is None else (upper * ground).to(LITER)
        printed = item.printed if site.layer is None else show(site.layer).metric
        return NeedAmount(material, (depth * ground).to(LITER), top, item.role, printed)
    if item.nutrient is not None:
        amount = product_for(amount, item.nutrient, material)
        upper = None if upper is None else product_for(upper, item.nutrient, material)
    return NeedAmount(
        material,
        amount * times,
        None if upper is None else upper * times,
        item.role,
        item.printed if item.nutrient is None else f"{item.printed} of {item.nutrient}",
    )


def product_for(nutrient_mass: Measure, word: str, material: Material) -> Measure:
    """The mass of a material that holds `nutrient_mass` of a nutrient word (B, P2O5, ...).

    Raises
    ------
    DoseError
        When the material is not known to hold it, or holds it by volume only.
    """
    element, share = element_of(word)
    content = material.content(element)
    if content is None or content.basis != "w/w":
        raise refuse("no-content", material=material.name, nutrient=word)
    return (nutrient_mass * share / content.factor.likely).to(GRAM)

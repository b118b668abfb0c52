"""``dosecalc check``: what was already done, as a recipe of its own, judged the same way."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from dosecalc.catalog.formula import WORDS, element_of
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import IRRIGATION_WATER, Content, Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement, Water
from dosecalc.catalog.site import Site, SiteText, read_site
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.mix import mix
from dosecalc.dose.request import Request
from dosecalc.dose.result import Mix
from dosecalc.errors import refuse
from dosecalc.faces.job import (
    Job,
    garden_of,
    knowledge_of,
    read_system,
    told_of,
    tools_of,
    with_garden,
    with_record,
)
from dosecalc.faces.record import Record, with_past_said
from dosecalc.units import read
from dosecalc.units.measure import GRAM_PER_ML, LENGTH, LITER, MASS, PLANT, POT, VOLUME, Measure
from dosecalc.units.show import show
from dosecalc.units.spread import Factor
from dosecalc.units.words import System

PLACEMENTS = (
    "broadcast", "band", "seed-row", "row-drench", "soil-drench", "foliar", "mulch", "mixed-in",
    "planting-hole", "fertigation", "irrigation", "dormant-spray", "dip",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Done:
    """What was done, as typed: amounts of materials, in how much water, where, how."""

    amounts: tuple[str, ...]
    site: SiteText
    tools: ToolsText
    water: str | None = None
    holds: tuple[str, ...] = ()
    depth: str | None = None
    placement: str | None = None
    stock: bool = False
    told: ToldText = field(default_factory=ToldText)
    labels: tuple[str, ...] = ()
    measures: str | None = None
    garden: str | None = None
    at: str | None = None
    record: Record | None = None


def run(done: Done) -> Mix:
    """Judge what was done; see `gather`."""
    request = gather(done)
    return with_past_said(mix(request), done.record, request.told.past)


def gather(done: Done) -> Request:
    """Read what was done as a recipe of its own.

    Raises
    ------
    DoseError
        For anything that cannot be read.
    """
    asked = Job(
        "as-done", done.site, done.tools, done.told, done.labels, done.measures,
        garden=done.garden, at=done.at,
    )  # fmt: skip
    garden = garden_of(done.garden)
    known = with_garden(asked, garden)
    done = replace(done, site=known.site, tools=known.tools, told=known.told, labels=known.labels)
    system = read_system(done.measures)
    site = read_site(done.site, system)
    water = None
    if done.water is not None:
        water = read.positive(
            done.water, VOLUME, system, want="a volume of water", example="500 mL", oz_is="doubt"
        )
    if done.holds:
        parts = [_irrigation(done, site, water)]
    else:
        if not done.amounts:
            raise refuse("check-nothing")
        parts = [_part(text, system, garden) for text in done.amounts]
    materials = {material.id: material for material, _, _ in parts}
    recipe = _recipe(done, site, water, parts)
    if recipe.statements[0].basis == "spray volume":
        site = replace(site, spray=recipe.statements[0].per)
    told = told_of(done.told)
    ids = {id for m in materials.values() for id in m.sources}
    return with_record(
        Request(
            recipe=recipe,
            site=site,
            tools=tools_of(done.tools, system, garden),
            materials=materials,
            sources={id: source(id) for id in sorted(ids)},
            told=told,
            knowledge=knowledge_of(recipe, materials, told, done.labels),
            stock=done.stock,
            done=True,
            placement_told=done.placement is not None,
        ),
        done.record,
        done.labels,
    )


def _part(text: str, system: System | None, garden: Garden) -> tuple[Material, Measure, str]:
    """The material, how much of it, and the amount as it was typed."""
    amount, name = read.leading(text, system, example="100 g borax", oz_is="weight")
    if not name:
        raise refuse("check-material", text=text)
    found = garden.material(name.removeprefix("of "))
    if found.liquid:
        amount, _ = read.leading(text, system, example="8 US fl oz neem oil", oz_is="doubt")
    if not (amount.is_a(MASS) or amount.is_a(VOLUME)) or amount.value <= 0:
        raise refuse("check-material", text=text)
    return found, amount, read.tidy(text, "", "").removesuffix(name).strip()


def _irrigation(done: Done, site: Site, water: Measure | None) -> tuple[Material, Measure, str]:
    """Irrigation water as a material whose contents were typed, and how much of it."""
    if done.amounts:
        raise refuse("check-holds-alone")
    contents = tuple(_holds(text) for text in done.holds)
    found = Material(
        id=IRRIGATION_WATER, name="irrigation water", also=(), form="bulk", traits=(),
        contents=contents, uncounted=(), by_weight=False, density=None, density_how="",
        solubility=(), insoluble="", hazards=(), caveat="", formula="", sources=(),
    )  # fmt: skip
    if done.depth is not None:
        depth = read.positive(done.depth, LENGTH, want="a depth of water", example="400 mm")
        if site.ground is None:
            raise refuse("check-depth")
        return found, (depth * site.ground).to(LITER), done.depth
    amount = water or Measure(Fraction(1), LITER)
    return found, amount, show(amount).metric


def _holds(text: str) -> Content:
    measure, word = read.labelled(text, WORDS, example="0.8 mg/L B")
    if word is None:
        head, _, last = text.rpartition(" ")
        if last not in WORDS:
            raise refuse("check-holds", text=text)
        measure, word = read.quantity(head, example="0.8 mg/L B", oz_is="weight"), last
    element, share = element_of(word)
    grams = measure.amount_in(GRAM_PER_ML) * share
    if grams <= 0:
        raise refuse("check-holds", text=text)
    key = f"content:irrigation-water:{element}"
    factor = Factor(key, grams, grams, grams, GRAM_PER_ML, "typed")
    return Content(element, factor, "w/v", "typical", "")


def _basis(site: Site, water: Measure | None) -> tuple[str, Measure]:
    """What the amounts are over: the site as told, else the water."""
    if site.row_length is not None:
        return "row length", site.row_length
    if site.ground is not None:
        return "area", site.ground
    if site.plants is not None:
        return "plant", Measure(Fraction(site.plants), PLANT)
    if site.pots is not None:
        return "pot", Measure(Fraction(site.pots), POT)
    if site.medium_volume is not None:
        return "medium volume", site.medium_volume
    if water is not None:
        return "spray volume", water
    raise refuse("check-where")


def _placement(done: Done, basis: str, water: Measure | None) -> str:
    if done.placement is not None:
        if done.placement not in PLACEMENTS:
            raise refuse(
                "one-of", text=done.placement, option="--placement", known=", ".join(PLACEMENTS)
            )
        return done.placement
    if done.holds:
        return "irrigation"
    if done.stock:
        return "fertigation"
    if basis == "spray volume":
        return "foliar"
    if water is None:
        dry = {"medium volume": "mixed-in", "pot": "mixed-in", "row length": "band"}
        return dry.get(basis, "broadcast")
    return "row-drench" if basis == "row length" else "soil-drench"


def _recipe(
    done: Done, site: Site, water: Measure | None, parts: list[tuple[Material, Measure, str]]
) -> Recipe:
    amount = parts[0][1]
    where = ("spray volume", amount) if done.holds and site.ground is None else None
    basis, per = where or _basis(site, water)
    placement = _placement(done, basis, water)
    ingredients = tuple(
        Ingredient(material.id, measure, None, None, "active", printed)
        for material, measure, printed in parts
    )
    vehicle = None
    if done.holds and basis != "spray volume":
        vehicle = Water(amount, "vehicle")
    elif water is not None and basis != "spray volume":
        vehicle = Water(water, "vehicle")
    return Recipe(
        id="as-done", name="What was done", purpose="", how=_how(placement), placement=placement,
        setting=(), crops=(), not_on=(), when="",
        statements=(Statement(None, None, basis, per, "whole site", ingredients, vehicle),),
        repeat=None, order=(), cautions=(), sources=(), practice=False, caveat="",
    )  # fmt: skip


def _how(placement: str) -> str:
    return {"foliar": "foliar spray", "dormant-spray": "dormant spray", "mulch": "mulch"}.get(
        placement, placement
    )

"""What the plan delivers: nutrients over every basis that the site allows, with their spread."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import NUTRIENTS, element_of, oxide_words
from dosecalc.catalog.material import Material, is_volume
from dosecalc.catalog.site import Site
from dosecalc.catalog.tools import Tools
from dosecalc.dose.plan import Action
from dosecalc.dose.result import Supply
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    GRAM,
    GRAM_PER_L,
    KG_PER_HA,
    LITER,
    METER,
    ML,
    PLANT,
    POT,
    Measure,
)
from dosecalc.units.show import show, show_span
from dosecalc.units.spread import Est, Span

GRAM_PER_M: Unit = (("gram", 1), ("meter", -1))
GRAM_PER_PLANT: Unit = (("gram", 1), ("plant", -1))
GRAM_PER_POT: Unit = (("gram", 1), ("pot", -1))
SHOWN_OXIDES = ("P2O5", "K2O")


@dataclass(frozen=True, slots=True)
class Delivered:
    """Everything of one material that all tankfuls deliver.

    Parameters
    ----------
    material : Material
    mass, volume : Est or None
        None where the density that would tell it is not known.
    way : str
        How it was measured ("weighed", "spooned", "poured", "spread").
    """

    material: Material
    mass: Est | None
    volume: Est | None
    way: str


def deliver(actions: Iterable[Action]) -> tuple[Delivered, ...]:
    """Sum the actions of all tankfuls by material."""
    found: dict[str, Delivered] = {}
    for action in actions:
        id = action.material.id
        mass, volume = action.mass, action.volume
        if (before := found.get(id)) is not None:
            mass = None if mass is None or before.mass is None else before.mass.plus(mass)
            volume = None if volume is None or before.volume is None else before.volume.plus(volume)
        found[id] = Delivered(action.material, mass, volume, action.way)
    return tuple(found.values())


def nutrient_masses(delivered: Iterable[Delivered]) -> dict[str, Est]:
    """Mass of each element over all materials, in grams."""
    totals: dict[str, Est] = {}
    for item in delivered:
        for content in item.material.contents:
            base = item.mass if content.basis == "w/w" else item.volume
            if base is None:
                continue
            grams = base.times(content.factor).to(GRAM)
            have = totals.get(content.element)
            totals[content.element] = grams if have is None else have.plus(grams)
    return totals


def supplies(
    totals: Mapping[str, Est], site: Site, liquid: Measure | None, tools: Tools
) -> tuple[Supply, ...]:
    """Each nutrient of `totals`, as the element and as the oxide words the trade counts."""
    found: list[Supply] = []
    for element in NUTRIENTS:
        if element not in totals:
            continue
        found.append(_supply(element, totals[element], site, liquid, tools))
        for word in oxide_words(element):
            if word in SHOWN_OXIDES:
                _, share = element_of(word)
                found.append(_supply(word, totals[element].by(1 / share), site, liquid, tools))
    return tuple(found)


def _supply(word: str, mass: Est, site: Site, liquid: Measure | None, tools: Tools) -> Supply:
    area, band = site.judged_area, site.band_area
    per_area = None if area is None else mass.over(area).to(KG_PER_HA).span()
    in_band = None if band is None else mass.over(band).to(KG_PER_HA).span()
    per_length = None
    if site.row_length is not None:
        per_length = mass.over(site.row_length.to(METER)).to(GRAM_PER_M).span()
    per_plant = _per_plant(mass, site)
    in_solution = None if liquid is None else strength(mass, liquid, tools).span()
    whole = mass.span()
    return Supply(
        word, whole, per_area, per_length, in_band, per_plant, in_solution,
        _shown(whole, per_area, per_length, in_band, per_plant, in_solution),
    )  # fmt: skip


def _per_plant(mass: Est, site: Site) -> Span | None:
    if site.plants is not None:
        return mass.over(Measure(Fraction(site.plants), PLANT)).to(GRAM_PER_PLANT).span()
    if site.pots is not None:
        return mass.over(Measure(Fraction(site.pots), POT)).to(GRAM_PER_POT).span()
    return None


def strength(amount: Est, liquid: Measure, tools: Tools) -> Est:
    """An amount in a liquid whose volume the tank's mark fixes: per litre."""
    return amount.over(liquid.to(LITER)).times(tools.tank_factor(), -1)


def _shown(
    whole: Span,
    per_area: Span | None,
    per_length: Span | None,
    in_band: Span | None,
    per_plant: Span | None,
    in_solution: Span | None,
) -> tuple[str, ...]:
    """The figures as text, in the order: whole, per area, per length, band, plant, solution."""
    lines = [show_span(whole)]
    for span, per_words, unit in (
        (per_length, "", GRAM_PER_M),
        (per_area, "", KG_PER_HA),
        (in_band, " in the band", KG_PER_HA),
        (per_plant, "", None), (in_solution, " in the solution", GRAM_PER_L),
    ):  # fmt: skip
        if span is not None:
            us = show(Measure(span.likely, span.unit)).us
            text = show_span(span, unit=unit or span.unit)
            lines.append(f"{text}{per_words}" + (f" ({us})" if us else ""))
    return tuple(lines)


def asked_span(asked: Measure, material: Material, want_volume: bool) -> Span | None:
    """What the recipe asks, as a volume or a mass; through the density where it must."""
    est = Est.of(asked)
    volume = is_volume(asked)
    found = material.volume_of(est, volume) if want_volume else material.mass_of(est, volume)
    return None if found is None else found.to(ML if want_volume else GRAM).span()

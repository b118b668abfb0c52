"""What was typed about one layer, read; nothing is guessed that could be meant two ways."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from dosecalc.catalog.availability import Share, first_year, read_shares, typed_share
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.product import Product, read_product
from dosecalc.catalog.site import read_site
from dosecalc.dose import layer
from dosecalc.dose.layer_recipe import PLACED
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, garden_of, read_system, with_garden
from dosecalc.units import read
from dosecalc.units.measure import CM, GRAM_PER_M2, LENGTH, MASS, MASS_PER_AREA, VOLUME, Measure
from dosecalc.units.words import System

OWN = "own-analysis"
"""What a material with a typed analysis is called among the ingredients."""
_CONDUCTIVITY = re.compile(r"(\d+(?:\.\d+)?) ?(mS/cm|dS/m|mmhos?/cm)", re.ASCII)


@dataclass(frozen=True, slots=True)
class LayerText:
    """What was typed about one layer besides its site: text, None where nothing was said."""

    material: str
    rate: str | None = None
    have: str | None = None
    nitrogen: str | None = None
    settling: str | None = None
    first_year: str | None = None
    placed: str | None = None
    barrow: str | None = None
    load: str | None = None
    holds: tuple[str, ...] = ()
    state: str | None = None
    moisture: str | None = None
    density: str | None = None
    organic_matter: str | None = None
    salts: str | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """One layer as it was asked for.

    Parameters
    ----------
    job : Job
        With what the garden file knows.
    name : str
        The name among the ingredients.
    own : bool
        Whether the analysis was typed on the command line.
    share : Share or None
        What of its nitrogen feeds the first crop; None where that is not known.
    rate : Measure
        What is spread: a depth, or a weight per area.
    remains, settling : Measure or None, Fraction or None
        Where a depth was asked for: what shall be left, and what settles away.
    have, goal : Measure or None
        Where all there is, or nitrogen per area, was asked for.
    matter : Fraction or None
        Organic matter of the heap as it lies.
    salts : Fraction or None
        Conductivity in mS/cm.
    vessels : tuple of (str, Measure)
        The bag, barrow and load that were told, and what each holds.
    """

    text: LayerText
    job: Job
    material: Material
    name: str
    own: bool
    share: Share | None
    shares: tuple[Share, ...]
    ground: Measure
    placed: str
    setting: str
    rate: Measure
    remains: Measure | None
    settling: Fraction | None
    have: Measure | None
    goal: Measure | None
    matter: Fraction | None
    salts: Fraction | None
    vessels: tuple[tuple[str, Measure], ...]


def read_layer(text: LayerText, job: Job) -> Asked:
    """Read one layer.

    Raises
    ------
    DoseError
        For anything that cannot be read, that is told twice, or that could be read in two ways.
    """
    garden = garden_of(job.garden)
    job = with_garden(job, garden)
    system = read_system(job.measures)
    name, material, own = _material(text, garden)
    given = (job.site.layer, text.rate, text.have, text.nitrogen)
    count = sum(item is not None for item in given)
    if count != 1:
        raise refuse("layer-goals", count=count or "none")
    if text.settling is not None and job.site.layer is None:
        raise refuse("layer-settling-only")
    site = read_site(job.site, system)
    if site.ground is None:
        raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
    placed = text.placed or ("mulch" if "mulch" in material.traits else "worked-in")
    if placed not in PLACED:
        raise refuse("layer-placed", text=placed)
    shares = read_shares(source)
    share = _share(text, name, own, garden) or first_year(material, shares)
    settling = None if text.settling is None else percent(text.settling, "--settling", "15 %")
    have = None if text.have is None else _have(text.have, system)
    goal = None if text.nitrogen is None else _goal(text.nitrogen, system)
    if site.layer is not None:
        rate = layer.checked_depth(layer.before_loss(site.layer, settling or Fraction(0)), material)
    elif have is not None:
        rate = layer.spread_over(have, site.ground)
    elif goal is not None:
        if share is None:
            layer.rate_for(goal, material, typed_share(Fraction(1)))  # no nitrogen comes first
            raise refuse("layer-no-share", material=material.name)
        rate = layer.goal_rate(goal, material, share)
    else:
        rate = _rate(text.rate or "", system)
    if rate.is_a(LENGTH):
        rate = layer.checked_depth(rate, material)
    return Asked(
        text, job, material, name, own, share, shares, site.ground, placed,
        job.told.setting or "garden", rate, site.layer, settling, have, goal, _matter(text),
        _salts(text), _vessels(text, job, None if own else garden.products().get(name), system),
    )  # fmt: skip


def _vessels(
    text: LayerText, job: Job, product: Product | None, system: System | None
) -> tuple[tuple[str, Measure], ...]:
    """What was told; the pack of a product on hand is its bag, unless --bag says another."""
    found = tuple(vessels(job, text.barrow, text.load, system))
    pack = None if product is None else product.pack
    if job.tools.bag is None and pack is not None and pack.is_a(VOLUME):
        return (("bag", pack), *found)
    return found


def _material(text: LayerText, garden: Garden) -> tuple[str, Material, bool]:
    """The name among the ingredients, the material, and whether its analysis was typed here."""
    shelf = garden.products()
    known = garden.material(text.material)
    analysed = bool(text.holds) or text.organic_matter is not None
    if not analysed and (text.state is not None or text.moisture is not None):
        raise refuse("layer-own-alone")
    if not analysed and text.density is None:
        return (text.material if text.material in shelf else known.id), known, False
    if text.material in shelf:
        raise refuse("layer-own-product", name=text.material)
    if analysed and text.state is None:
        raise refuse("layer-own-state")
    if text.state not in (None, "dry", "as-is"):
        raise refuse("layer-own-state-word", text=text.state)
    if text.state == "dry" and text.moisture is None:
        raise refuse("layer-own-moisture")
    table: dict[str, Any] = {"like": known.id, "name": known.name}
    if text.holds:
        table["holds"] = text.holds
        table["name"] = f"{known.name}, own analysis"
    for key in ("state", "moisture", "density"):
        if getattr(text, key) is not None:
            table[key] = getattr(text, key)
    return OWN, read_product(OWN, table, None).material, True


def _share(text: LayerText, name: str, own: bool, garden: Garden) -> Share | None:
    """The first-year share that was typed here or in the garden file, None where none was."""
    if text.first_year is not None:
        typed = percent(text.first_year, "--first-year", "10 %")
        if not typed:
            raise refuse("layer-share", text=text.first_year, option="--first-year",
                         example="10 %")  # fmt: skip
        return typed_share(typed)
    shelf = garden.products()
    told = shelf[name].first_year if not own and name in shelf else None
    return typed_share(told) if told else None


def percent(text: str, option: str, example: str) -> Fraction:
    """A share written in percent.

    Raises
    ------
    DoseError
        For anything but a percent from 0 to 100.
    """
    clean = text.strip()
    if not clean.endswith("%"):
        raise refuse("layer-share", text=text, option=option, example=example)
    share = read.number(clean[:-1], "us", example=example.removesuffix(" %")) / 100
    if not 0 <= share <= 1:
        raise refuse("layer-share", text=text, option=option, example=example)
    return share


def _have(text: str, system: System | None) -> Measure:
    have = read.quantity(text, system, want="what there is", example="2 m3", oz_is="weight")
    if have.value <= 0 or not (have.is_a(VOLUME) or have.is_a(MASS)):
        raise refuse("layer-have", text=text)
    return have


def _goal(text: str, system: System | None) -> Measure:
    goal = read.quantity(
        text, system, want="nitrogen for an area", example="100 kg/ha", oz_is="weight"
    )
    if goal.value <= 0 or not goal.is_a(MASS_PER_AREA):
        raise refuse("layer-nitrogen", text=text)
    return goal


def _rate(text: str, system: System | None) -> Measure:
    rate = read.quantity(text, system, want="a rate", example="40 t/ha", oz_is="weight")
    over = any(power < 0 for _, power in rate.unit)
    if rate.value <= 0 or not over or not (rate.is_a(LENGTH) or rate.is_a(MASS_PER_AREA)):
        raise refuse("layer-rate", text=text)
    return rate.to(CM if rate.is_a(LENGTH) else GRAM_PER_M2)


def _matter(text: LayerText) -> Fraction | None:
    if text.organic_matter is None:
        return None
    share = percent(text.organic_matter, "--organic-matter", "37 %")
    if text.state == "dry":
        share *= 1 - percent(text.moisture or "", "--moisture", "45 %")
    return share


def _salts(text: LayerText) -> Fraction | None:
    if text.salts is None:
        return None
    match = _CONDUCTIVITY.fullmatch(text.salts.strip())
    if match is None:
        raise refuse("layer-salt", text=text.salts)
    return Fraction(match[1])


def vessels(
    job: Job, barrow: str | None, load: str | None, system: System | None
) -> Iterator[tuple[str, Measure]]:
    """The bag, barrow and load that were told, each with what it holds."""
    for key, text, example in (
        ("bag", job.tools.bag, "50 L"), ("barrow", barrow, "80 L"), ("load", load, "3 m3"),
    ):  # fmt: skip
        if text is not None:
            yield (
                key,
                read.positive(
                    text,
                    VOLUME,
                    system,
                    want=f"what one {key} holds",
                    example=example,
                    oz_is="doubt",
                ),
            )

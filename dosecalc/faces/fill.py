"""``fill``: the parts of a medium and what they shall fill, read; the sums and the job."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.limit import read_limits, terms_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.site import Site, read_site
from dosecalc.dose import dump, fill, layer
from dosecalc.dose.fill import Part
from dosecalc.dose.layer_recipe import fill_recipe
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, Ready, garden_of, read_system, with_garden
from dosecalc.faces.layer import Made
from dosecalc.faces.layer_read import percent, vessels
from dosecalc.faces.layer_text import (
    area_text,
    depth_text,
    percent_text,
    plain_volume,
    volume_text,
    weight_text,
)
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import GRAM, LITER, METER, Measure
from dosecalc.units.show import listed
from dosecalc.units.spread import Est

MOST_PARTS = 12
_BETWEEN = re.compile(r" *(?:(?<!\d),|,(?!\d)|[;+]| and ) *(?:and )?")
_PART = re.compile(r"(?P<number>[^a-zA-Z%]+?) *(?P<unit>parts?|%)(?: of)? +(?P<name>.+)")
_THOUSAND_LITERS = Measure(Fraction(1000), LITER)


@dataclass(frozen=True, slots=True)
class FillText:
    """What was typed about one filling besides its site: text, None where nothing was said."""

    parts: str
    settling: str | None = None
    shrinkage: str | None = None
    barrow: str | None = None
    load: str | None = None


def read_parts(text: str, garden: Garden) -> tuple[Part, ...]:
    """Such as "2 parts compost, 1 part peat" or "60 % topsoil, 40 % compost".

    Raises
    ------
    DoseError
        For what cannot be read, parts and percent together, percent that do not come to 100, and
        a material that is not known.
    """
    clean = read.tidy(text, "parts", "2 parts compost, 1 part peat")
    pieces = _BETWEEN.split(clean)
    if len(pieces) > MOST_PARTS:
        raise refuse("fill-many", text=text, count=len(pieces), most=MOST_PARTS)
    found: list[Part] = []
    units: set[str] = set()
    for piece in pieces:
        match = _PART.fullmatch(piece.strip())
        if match is None:
            raise refuse("fill-text", text=text)
        units.add(match["unit"].removesuffix("s"))
        number = read.number(match["number"], "us", example="2")
        if number <= 0:
            raise refuse("fill-text", text=text)
        name = match["name"].strip()
        material = garden.material(name)
        found.append(Part(name if name in garden.products() else material.id, material, number))
    if len(units) > 1:
        raise refuse("fill-mixed", text=text)
    whole = sum((part.parts for part in found), Fraction(0))
    if units == {"%"} and whole != 100:
        raise refuse("fill-percent", text=text, sum=percent_text(whole / 100)[:-2])
    return tuple(found)


def made(text: FillText, job: Job) -> Made:
    """Read one filling and turn it into a job.

    Parameters
    ----------
    text : FillText
    job : Job
        With site, tools and what was told; no recipe yet.

    Raises
    ------
    DoseError
        For anything that cannot be read, and where it is not told what shall be filled.
    """
    garden = garden_of(job.garden)
    job = with_garden(job, garden)
    system = read_system(job.measures)
    parts = read_parts(text.parts, garden)
    full, ground = _full(read_site(job.site, system))
    settling = percent(text.settling or "0 %", "--settling", "15 %")
    shrinkage = percent(text.shrinkage or "0 %", "--shrinkage", "10 %")
    wanted = (full if ground is None else full * ground).to(LITER)
    whole = fill.loose(wanted, settling, shrinkage)
    held = tuple(vessels(job, text.barrow, text.load, system))
    amounts = fill.amounts(parts, whole)
    rate = fill.loose(_THOUSAND_LITERS if ground is None else full, settling, shrinkage)
    says = [
        Say.of("fill-wanted", whole=volume_text(wanted)) if ground is None
        else Say.of("fill-bed", depth=depth_text(full), whole=volume_text(wanted)),
        *_allowances(text, settling, shrinkage, whole),
        *(_part(part, amount, whole, held) for part, amount in zip(parts, amounts, strict=True)),
    ]  # fmt: skip
    notes = list(_notes(parts, None if ground is None else rate))
    told = job.told
    if ground is not None and told.phase is None:
        told = replace(told, phase="establishing")
        notes.append(Say.of("fill-new-bed"))
    recipe = fill_recipe(parts, rate)
    title = "A medium by parts" + ("" if ground is None else f" over {area_text(ground)}")
    lines = [*section(title, [say.english() for say in says]),
             *section("About the parts", [say.english() for say in notes])]  # fmt: skip
    # The bags of each part are counted above; a `Mix` counts those of one loose material.
    filled = replace(
        job, site=replace(job.site, layer=None), tools=replace(job.tools, bag=None), told=told,
        recipe=recipe.id, ready=Ready(recipe, {}),
    )  # fmt: skip
    about = _about(parts, wanted, whole, held, [*says, *notes])
    return Made(filled, tuple(lines), {"fill": about})


def _full(site: Site) -> tuple[Measure, Measure | None]:
    """What shall be full: a depth and the ground below it, or a volume."""
    ground = site.ground
    if ground is None:
        if site.medium_volume is None or site.layer is not None:
            raise refuse("fill-place")
        return site.medium_volume, None
    if site.medium_volume is not None:
        raise refuse("fill-two-places")
    if site.layer is None:
        raise refuse("fill-depth")
    return site.layer.to(METER), ground


def _notes(parts: tuple[Part, ...], depth: Measure | None) -> Iterator[Say]:
    """What is known of each part, and published depths that it may be held beside."""
    for part, share in zip(parts, fill.shares(parts), strict=True):
        name = part.material.name
        if part.material.caveat:
            yield Say.of("fill-about", name=name, caveat=" ".join(part.material.caveat.split()))
        if depth is None:
            continue
        limits = read_limits(terms_of((), [part.material]), source)
        for at in layer.at_limits(limits, part.material, None, "mixed-in", "garden"):
            if at.limit.phase == "establishing" and at.limit.per == "depth":
                yield Say.of("fill-figure", name=name, depth=depth_text(depth * share),
                             printed=at.limit.printed, source=at.limit.source.cite())  # fmt: skip


def _allowances(
    text: FillText, settling: Fraction, shrinkage: Fraction, whole: Measure
) -> Iterator[Say]:
    """What is allowed for settling and mixing, and what is not counted."""
    told = []
    if text.settling is not None:
        told.append(Say.of("fill-settling", share=percent_text(settling)).english())
    if text.shrinkage is not None:
        told.append(Say.of("fill-shrinkage", share=percent_text(shrinkage)).english())
    if told:
        yield Say.of("fill-allow", allowances=listed(told), whole=volume_text(whole))
    if text.settling is None:
        yield Say.of("fill-unsettled")
    if text.shrinkage is None:
        yield Say.of("fill-unshrunk")


def _part(
    part: Part, amount: Measure, whole: Measure, held: tuple[tuple[str, Measure], ...]
) -> Say:
    mass = part.material.mass_of(Est.of(amount), True)
    weight = "" if mass is None else f", {weight_text(mass.to(GRAM).span())}"
    counted = "".join(
        Say.of(f"fill-vessel-{key}", count=layer.fillings(amount, holds),
               holds=plain_volume(holds)).english()
        for key, holds in held
    )  # fmt: skip
    return Say.of(
        "fill-part", name=part.material.name, share=percent_text((amount / whole).amount_in(())),
        volume=volume_text(amount), weight=weight, vessels=counted,
    )  # fmt: skip


def _about(
    parts: tuple[Part, ...], wanted: Measure, whole: Measure,
    held: tuple[tuple[str, Measure], ...], says: list[Say],
) -> dict[str, Any]:  # fmt: skip
    return {
        "wanted": dump.quantity(wanted),
        "loose": dump.quantity(whole),
        "parts": [
            {
                "material": part.material.id, "volume": dump.quantity(amount),
                "fillings": {key: layer.fillings(amount, holds) for key, holds in held},
            }
            for part, amount in zip(parts, fill.amounts(parts, whole), strict=True)
        ],
        "says": [say.english() for say in says],
    }  # fmt: skip

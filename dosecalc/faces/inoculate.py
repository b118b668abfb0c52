"""``inoculate``: the sums of one inoculant, and the job where a ground was told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.lookup import material, source
from dosecalc.catalog.sowing import read_published
from dosecalc.dose import dump, sowing
from dosecalc.dose.plan import SPREAD, plan
from dosecalc.dose.sowing_recipe import DRY, ON_SEED, sowing_recipe
from dosecalc.faces.inoculate_read import Asked, InoculateText, read_inoculant
from dosecalc.faces.job import Job, Ready, garden_of, tools_of
from dosecalc.faces.layer_text import area_text
from dosecalc.faces.sow import Made
from dosecalc.faces.sow_text import count_text, short
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, LITER, METER, SQUARE_METER, VOLUME, Measure
from dosecalc.units.show import show, twelve_digits

EVENLY = "Lay the inoculant evenly in the open furrow or over the ground, and cover it at once."
AT_ROOTS = "Put it where the roots will touch it, and cover it at once."
INTO_MEDIUM = "Mix it evenly through the growing medium before potting."
CARE = "It lives: keep it cool and out of the sun, away from treated seed and fertiliser."
_ON_SEED = ("seed", "seed weight")
_NAMES = {"CFU": "CFU", "propagule": "propagules"}


def made(text: InoculateText, job: Job) -> Made:
    """Read one inoculant and turn it into a job, where a ground was told.

    Parameters
    ----------
    text : InoculateText
    job : Job
        With site, tools and what was told; no recipe yet.

    Raises
    ------
    DoseError
        As `read_inoculant`.
    """
    asked = read_inoculant(text, job)
    basis = _ground(asked)
    name = material(_material(asked)).name
    title = Say.of("inoculate-title", name=name, where=_where(asked)).english()
    says = [
        *_amounts(asked, alone=basis is None),
        *_published(asked),
        Say.of("inoculate-label-first"),
    ]
    lines = section(title, [say.english() for say in says])
    jobs = () if basis is None else (_job(asked, *basis),)
    return Made(jobs, tuple(lines), {"inoculant": _about(asked, says)})


def _material(asked: Asked) -> str:
    if asked.kind == "mycorrhiza":
        return "mycorrhizal-inoculant"
    return "liquid-inoculant" if asked.amount.is_a(VOLUME) else "rhizobium-inoculant"


def _ground(asked: Asked) -> tuple[str, Fraction] | None:
    """What the job is counted on, and how much of it; None for seed without a ground."""
    if asked.basis not in _ON_SEED:
        return asked.basis, asked.many
    site = asked.site
    if site.row_length is not None:
        return "row length", site.row_length.amount_in(METER)
    if site.ground is not None:
        return "area", site.ground.amount_in(SQUARE_METER)
    return None if site.plants is None else ("plant", Fraction(site.plants))


def _job(asked: Asked, basis: str, times: Fraction) -> Job:
    order = {
        "seed": (ON_SEED, DRY), "seed weight": (ON_SEED, DRY), "plant": (AT_ROOTS,),
        "medium volume": (INTO_MEDIUM,),
    }.get(asked.basis, (EVENLY,))  # fmt: skip
    recipe = sowing_recipe(
        material(_material(asked)).name, basis, times, [(_material(asked), asked.amount)], order,
        (CARE,), (),
    )  # fmt: skip
    recipe = replace(recipe, id="inoculant", purpose="To inoculate")
    site = replace(asked.job.site, layer=None)
    return replace(asked.job, site=site, recipe=recipe.id, ready=Ready(recipe, {}))


def _where(asked: Asked) -> str:
    many = asked.many
    if asked.basis == "seed":
        return f"{count_text(many)} seeds"
    if asked.basis == "seed weight":
        return f"{show(Measure(many, GRAM)).both()} of seed"
    if asked.basis == "area":
        return area_text(Measure(many, SQUARE_METER))
    if asked.basis == "row length":
        return f"{show(Measure(many, METER)).both()} of row"
    if asked.basis == "plant":
        return f"{many} plants"
    return f"{show(Measure(many, LITER)).both()} of growing medium"


def _amounts(asked: Asked, *, alone: bool) -> Iterator[Say]:
    amount = show(asked.amount).both()
    text = asked.text
    key = "inoculate-amount" if asked.cells is None else "inoculate-cells"
    cells = "" if asked.cells is None else count_text(asked.cells)
    yield Say.of(key, rate=text.rate, amount=amount, cells=cells, label=text.living,
                 things=_NAMES.get(asked.things, ""))  # fmt: skip
    each = cells_on_seed(asked)
    if each is not None:
        yield Say.of("inoculate-each", each=count_text(each), things=_NAMES[asked.things])
    if asked.packet is not None:
        share = (asked.amount / asked.packet).amount_in(())
        yield Say.of("inoculate-packs", holds=show(asked.packet).both(),
                     count=sowing.packets(share, Fraction(1)))  # fmt: skip
    if alone:
        tools = tools_of(asked.job.tools, asked.system, garden_of(asked.job.garden))
        action = plan(asked.amount, material(_material(asked)), tools, SPREAD)
        yield Say.of("inoculate-measure", action=action.say)


def cells_on_seed(asked: Asked) -> Fraction | None:
    """How many live cells come on one seed; None where that is not known."""
    if asked.cells is None or asked.basis not in _ON_SEED:
        return None
    if asked.basis == "seed":
        return asked.cells / asked.many
    return None if asked.each is None else asked.cells / (asked.many / asked.each)


def _published(asked: Asked) -> Iterator[Say]:
    wanted = ("mycorrhiza",) if asked.kind == "mycorrhiza" else ("inoculant", "living")
    for rate in read_published(source):
        if rate.of in wanted:
            yield Say.of("sow-published", printed=rate.printed, source=short(rate.source),
                         caveat=f" {rate.caveat}" if rate.caveat else "")  # fmt: skip


def _about(asked: Asked, says: list[Say]) -> dict[str, Any]:
    each = cells_on_seed(asked)
    return {
        "kind": asked.kind, "basis": asked.basis, "many": twelve_digits(asked.many),
        "amount": dump.quantity(asked.amount), "counts": asked.things,
        "cells": None if asked.cells is None else twelve_digits(asked.cells),
        "cells_on_seed": None if each is None else twelve_digits(each),
        "says": [say.english() for say in says],
    }  # fmt: skip

"""``sow`` with --release: living things in counted packs, never weighed; nematodes in water."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.lookup import source
from dosecalc.catalog.site import Site, read_site
from dosecalc.catalog.sowing import PublishedRate, read_published, speaks
from dosecalc.catalog.tally import ROW_PLANT, TallyRate, read_tally, read_tally_rate
from dosecalc.dose import dump, sowing, tankfuls
from dosecalc.dose.sowing import Release
from dosecalc.dose.suspension import first_volume, suspension
from dosecalc.errors import MOST_TYPED, printable, refuse
from dosecalc.faces.inoculate_read import is_inoculant
from dosecalc.faces.job import Job, Ready, garden_of, read_system, tools_of, with_garden
from dosecalc.faces.layer_text import area_text
from dosecalc.faces.sow import Made
from dosecalc.faces.sow_text import count_text, short, times_text
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import (
    AREA,
    LENGTH,
    LITER,
    PLANT,
    TIME,
    VOLUME,
    Measure,
    exact_text,
)
from dosecalc.units.show import show, twelve_digits

MOST_RELEASES = 52
MUCH = 2
"""Times the animals needed above which a packet is remarked on: our own bound."""
_EXAMPLE = "50/m2"
_THINGS = ("animal", "nematode")


@dataclass(frozen=True, slots=True)
class ReleaseText:
    """What was typed about a release: text, None where nothing was said."""

    what: str
    release: str | None = None
    packet: str | None = None
    releases: str | None = None
    every: str | None = None


def is_living(what: str) -> bool:
    """Whether a name is that of a live control on file."""
    return any(speaks(rate, what) for rate in _on_file())


def _on_file() -> tuple[PublishedRate, ...]:
    inoculants = ("inoculant", "living", "mycorrhiza")
    return tuple(r for r in read_published(source) if r.of not in inoculants)


def made_release(text: ReleaseText, job: Job) -> Made:
    """Read one release, or several alike; only what is stirred into water makes a job.

    Raises
    ------
    DoseError
        For what cannot be read, and where the site does not tell what the rate is counted on.
    """
    name = printable(read.tidy(text.what, "what is let out", "nematodes"), MOST_TYPED)
    known = [rate for rate in _on_file() if speaks(rate, name)]
    if is_inoculant(name):
        raise refuse("inoculate-not-released", text=name)
    if text.release is None:
        printed = "".join(f"; published: {r.printed} ({short(r.source)})" for r in known)
        raise refuse("sow-release", name=name, example=_EXAMPLE, printed=printed)
    job = with_garden(job, garden_of(job.garden))
    system = read_system(job.measures)
    site = read_site(job.site, system)
    rate = read_tally_rate(text.release, _THINGS, _EXAMPLE, system)
    need, ground = _need(text.release, rate, site)
    holds = None
    if text.packet is not None:
        holds = read_tally(text.packet, _THINGS, "5 million").number
    times = _releases(text)
    one = sowing.release(need, holds)
    water = _water(site)
    can = tools_of(job.tools, system, garden_of(job.garden)).sprayer
    swims = any(rate.of == "nematodes" for rate in known) or rate.tally.things == "nematode"
    every = _every(text, times)
    key = "sow-release-one" if times == 1 else "sow-release-every" if every else "sow-release-many"
    releases = Say.of(key, count=times, every=every).english()
    title = Say.of("sow-release-title", name=name[:1].upper() + name[1:], ground=ground,
                   releases=releases).english()  # fmt: skip
    says = [
        Say.of("sow-release-need", rate=text.release, need=count_text(need, "up")),
        *_packs(text, one, times),
        *_carried(one, water, can, swims=swims),
        *(
            Say.of("sow-published", printed=r.printed, source=short(r.source),
                   caveat=f" {r.caveat}" if r.caveat else "")
            for r in known
        ),
        *_care(swims=swims),
    ]  # fmt: skip
    lines = section(title, [say.english() for say in says])
    jobs: tuple[Job, ...] = ()
    if swims and water is not None and one.packs is not None:
        recipe, material = suspension(name, one.packs, water, can or water)
        told = replace(job.site, spray_volume=exact_text(water))
        ready = Ready(recipe, {material.id: material})
        jobs = (replace(job, site=told, recipe=recipe.id, ready=ready),)
    return Made(jobs, tuple(lines), {"release": _about(name, one, times, water, says)})


def _need(text: str, rate: TallyRate, site: Site) -> tuple[Fraction, str]:
    """How many one release takes, and on what."""
    if rate.is_per(AREA):
        if site.ground is None:
            raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
        return rate.over(site.ground), area_text(site.ground)
    if rate.is_per(LENGTH):
        if site.row_length is None:
            raise refuse("need-rows-in-bed" if site.area is not None else "need-row")
        return rate.over(site.row_length), f"{show(site.row_length).both()} of row"
    if rate.is_per(ROW_PLANT):
        if site.plants is None:
            raise refuse("need-plants")
        return rate.over(Measure(Fraction(site.plants), PLANT)), f"{site.plants} plants"
    raise refuse("sow-release-form", text=text)


def _releases(text: ReleaseText) -> int:
    if text.releases is None:
        return 1
    value = read.number(text.releases, "us", example="3")
    if value.denominator != 1 or not 1 <= value <= MOST_RELEASES:
        raise refuse("sow-releases", text=text.releases)
    return int(value)


def _every(text: ReleaseText, times: int) -> str:
    if text.every is None:
        return ""
    if times == 1:
        raise refuse("sow-every-alone")
    apart = read.quantity(text.every, want="a time", example="2 weeks")
    if not apart.is_a(TIME) or apart.value <= 0:
        raise refuse("sow-every", text=text.every)
    return text.every.strip()


def _water(site: Site) -> Measure | None:
    """The water that carries one release, None where none was told."""
    if site.spray is None:
        return None
    if site.spray.is_a(VOLUME):
        return site.spray.to(LITER)
    if site.ground is None:
        raise refuse("need-spray-ground", text=show(site.spray).metric)
    return (site.spray * site.ground).to(LITER)


def _packs(text: ReleaseText, one: Release, times: int) -> Iterator[Say]:
    if one.packs is None:
        return
    yield Say.of("sow-release-packs", holds=text.packet, packs=one.packs, all=one.packs * times,
                 given=count_text(one.given), times=times_text(one.given / one.need))  # fmt: skip
    if one.given > MUCH * one.need:
        yield Say.of("sow-release-much")


def _carried(
    one: Release, water: Measure | None, can: Measure | None, *, swims: bool
) -> Iterator[Say]:
    if water is not None:
        cans = "" if can is None else _cans(one, tankfuls.split(water, can))
        yield Say.of("sow-release-water", water=show(water).both(), cans=cans)
    if swims:
        yield Say.of("sow-release-stir")
    if swims and water is not None and one.packs is not None:
        first = first_volume(water, can or water)
        yield Say.of("sow-release-first", first=show(first).both())


def _cans(one: Release, fillings: tuple[Measure, ...]) -> str:
    """What each filling holds: a smaller last one gets its own, smaller share."""
    each = [count_text(one.given * share) for share in tankfuls.shares(fillings)]
    full, last = fillings[0], fillings[-1]
    if len(fillings) == 1:
        return Say.of("sow-release-can", can=show(full).metric).english()
    if last.value == full.value:
        return Say.of("sow-release-cans", count=len(fillings), can=show(full).metric,
                      each=each[0]).english()  # fmt: skip
    key = "sow-release-can-and-last" if len(fillings) == 2 else "sow-release-cans-and-last"
    return Say.of(key, count=len(fillings) - 1, can=show(full).metric, each=each[0],
                  last=show(last).metric, rest=each[-1]).english()  # fmt: skip


def _care(*, swims: bool) -> Iterator[Say]:
    if swims:
        cited = short(source("nematode-information-page"))
        yield Say.of("sow-release-when", source=cited)
    for key in ("sow-release-use", "sow-release-law", "sow-release-label"):
        yield Say.of(key)


def _about(
    name: str, one: Release, times: int, water: Measure | None, says: list[Say]
) -> dict[str, Any]:
    return {
        "name": name,
        "need": twelve_digits(one.need),
        "packs": one.packs,
        "given": twelve_digits(one.given),
        "releases": times,
        "water": dump.quantity(water),
        "says": [say.english() for say in says],
    }

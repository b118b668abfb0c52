"""From what was typed about needs and products on hand to plans, and to the jobs they end as."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from dosecalc.catalog import files
from dosecalc.catalog.asked import KG, Asked, read_asked, read_water
from dosecalc.catalog.credit import Credit, read_credit
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.lookup import material, material_ids, source
from dosecalc.catalog.material import Material
from dosecalc.catalog.soil import Figure, Level, Report, levels, read_report
from dosecalc.catalog.source import Source
from dosecalc.catalog.split import Part, advice, read_split
from dosecalc.dose.feed.bounds import Offer
from dosecalc.dose.feed.plan import SHOWN_PER, OnHand, Order, Plan, compose, draft, unit_for
from dosecalc.dose.feed.solve import Solver
from dosecalc.dose.request import Request
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, Ready, garden_of, gather, read_system, run, with_garden
from dosecalc.faces.on_hand import on_hand, products, read_shop
from dosecalc.faces.on_hand import share as percent_of
from dosecalc.faces.plan_says import of_order, of_soil, of_split
from dosecalc.faces.quiet import no_output
from dosecalc.faces.record import Record, day_of, entry_of
from dosecalc.say import Say
from dosecalc.season.entries import Entry
from dosecalc.units.measure import Measure
from dosecalc.units.show import number_text

PREFER = ("cost", "fewest", "least")
HOW: dict[str, str] = {
    "broadcast": "broadcast", "work in": "mixed-in", "band": "band", "side-dress": "band",
    "planting hole": "planting-hole", "mix in": "mixed-in",
}  # fmt: skip
"""How a plan is given, and the placement that its limits go by."""
_USUAL_HOW = {
    "area": "broadcast", "row length": "side-dress", "plant": "side-dress", "pot": "broadcast",
    "medium volume": "mix in",
}  # fmt: skip
_NO_PLACE = "this ground"


@dataclass(frozen=True, slots=True)
class PlanText:
    """What was typed for a plan: text throughout."""

    need: tuple[str, ...] = ()
    have: tuple[str, ...] = ()
    credit: tuple[str, ...] = ()
    first_year: tuple[str, ...] = ()
    price: tuple[str, ...] = ()
    whole: tuple[str, ...] = ()
    watered: str | None = None
    water_holds: str | None = None
    soil: str | None = None
    prefer: str | None = None
    near: str | None = None
    how: str | None = None
    counts: str | None = None
    split: str | None = None


@dataclass(frozen=True, slots=True)
class Dressing:
    """One time of giving: a plan, and the job of each of its passes.

    Parameters
    ----------
    plan : Plan
    order : Order
    jobs : tuple of Job
    part : Part or None
        Its share of the nitrogen; None where nothing is split.
    days : int
        After the dressing before it, at the least; 0 where nothing is known.
    much : tuple of Say
        What is brought to more than twice its need, or without any, and what that does.
    """

    plan: Plan
    order: Order
    jobs: tuple[Job, ...]
    part: Part | None
    days: int
    much: tuple[Say, ...]


@dataclass(frozen=True, slots=True)
class Planned:
    """Plans with all that they rest on.

    Parameters
    ----------
    dressings : tuple of Dressing
    credits : tuple of Credit
    report : Report or None
    levels : tuple of Level
    silent : tuple of Figure
        Figures of the report that no scale on file speaks of.
    assumed : tuple of Say
        What an adviser should look at.
    sources : tuple of Source
    """

    dressings: tuple[Dressing, ...]
    credits: tuple[Credit, ...]
    report: Report | None
    levels: tuple[Level, ...]
    silent: tuple[Figure, ...]
    assumed: tuple[Say, ...]
    sources: tuple[Source, ...]

    @property
    def jobs(self) -> tuple[Job, ...]:
        """The jobs of all passes, in order."""
        return tuple(job for one in self.dressings for job in one.jobs)


def make_plan(text: PlanText, job: Job) -> Planned:
    """Read, look up and compute.

    Parameters
    ----------
    text : PlanText
    job : Job
        Site, tools, crop, past; no recipe.

    Raises
    ------
    DoseError
        For anything that cannot be read, found or planned.
    """
    garden = garden_of(job.garden)
    job = with_garden(job, garden)
    report = None if text.soil is None else read_report(Path(text.soil))
    told, silent = ((), ()) if report is None else levels(report)
    system = read_system(job.measures)
    needs = tuple(read_asked(one, system, "--need") for one in text.need)
    credits = _credits(text)
    basis = _basis(needs, job)
    how = _one_of(text.how, tuple(HOW), "--how") or _USUAL_HOW[basis]
    shop = read_shop(text.have, text.first_year, text.price, text.whole)
    named = products(shop, text.counts, garden, job.told.region)
    excess = _excess({need.element for need in needs})
    parts = (Part(Fraction(1), None),) if text.split is None else read_split(text.split)
    if len(parts) > 1 and all(need.element != "N" for need in needs):
        raise refuse("feed-split-no-n")
    near = Fraction(0) if text.near is None else percent_of(text.near, "--near", "5 %")
    shelf = garden.products()
    solver = Solver(no_output())
    done: list[Dressing] = []
    planned: tuple[Entry, ...] = ()
    day = job.record.day if job.record is not None else day_of(None)
    for at, part in enumerate(parts):
        given = how if at == 0 else "side-dress"
        recipe = draft(given, _placement(given, basis, first=at == 0), basis, tuple(named))
        own = {k: m for k, (_, m) in named.items() if k not in material_ids() or material(k) != m}
        ready = replace(job, recipe="plan", ready=Ready(recipe, own))
        request = gather(_later(ready, planned, day) if planned else ready)
        days = 0 if at == 0 else _wait(part, request)
        day += datetime.timedelta(days=days)
        if planned:
            request = gather(_later(ready, planned, day))
        hand = tuple(
            on_hand(Offer(key, made, unit_for(made), recipe), typed, shop, shelf)
            for key, (typed, made) in named.items()
        )
        order = Order(
            request=request, basis=basis, hand=_left(hand, done),
            needs=_needs_of(part, needs, credits, request, done), credits=(), near=near,
            prefer=_prefer(text.prefer, hand), excess=tuple(excess),
        )  # fmt: skip
        if at == 0:
            order = replace(order, credits=tuple(_credits_of(part, credits)))
        found = compose(order, solver)
        title = "Plan" if len(parts) == 1 else f"Plan, dressing {at + 1} of {len(parts)}"
        jobs, planned, day = _passes(found, ready, own, planned, day, title)
        done.append(
            Dressing(
                found, order, jobs, part if len(parts) > 1 else None, days,
                tuple(_much(found, excess, basis)),
            )
        )  # fmt: skip
    said = [
        *of_order(text.soil is None, done[0].order, credits, None if text.how else how),
        *of_split(parts, done[0].order, credits),
    ]
    said += of_soil(needs, report, told, silent)
    sources = [source(entry["source"]) for entry in excess.values()]
    sources += [c.source for c in credits if c.source is not None]
    sources += [level.source for level in told]
    shares = [hand.share for hand in done[0].order.hand if hand.share is not None]
    sources += [share.source for share in shares if share.source is not None]
    return Planned(
        tuple(done), credits, report, told, silent, tuple(said), tuple(dict.fromkeys(sources))
    )


def _placement(how: str, basis: str, *, first: bool) -> str:
    if first or basis in ("row length", "plant"):
        return HOW[how]
    return "broadcast"


def _wait(part: Part, request: Request) -> int:
    """Days after the dressing before: as typed, else the least that is published for the crop."""
    if part.days is not None:
        return part.days
    days = [one.days for one in advice(request.told.crop) if one.days is not None]
    return max(days, default=0)


def _needs_of(
    part: Part, needs: tuple[Asked, ...], credits: tuple[Credit, ...], request: Request,
    done: list[Dressing],
) -> tuple[Asked, ...]:  # fmt: skip
    """What one dressing is to bring: a share of the nitrogen; the first all of the rest too.

    Credits are taken off the nitrogen before it is shared out, and what an earlier dressing
    brought beyond its share off the next.
    """
    if part.share == 1:
        return needs
    found = []
    for need in needs:
        if need.element != "N":
            found += [] if done else [need]
            continue
        credit = sum(
            (c.asked.on(request.site) for c in credits if c.asked.element == "N"), Fraction(0)
        )
        kg = max(Fraction(0), need.on(request.site) - credit) * part.share
        for line in done[-1].plan.lines if done else ():
            if line.word == "N":
                kg -= line.more.value
        if kg > 0:
            found.append(Asked("N", Measure(kg, KG), need.printed))
    return tuple(found)


def _credits_of(part: Part, credits: tuple[Credit, ...]) -> Iterator[Credit]:
    """Credits that still have to be taken off: those of nitrogen are, where it is shared out."""
    for credit in credits:
        if part.share == 1 or credit.asked.element != "N":
            yield credit


def _left(hand: tuple[OnHand, ...], done: list[Dressing]) -> tuple[OnHand, ...]:
    """The products with what earlier dressings leave of their stock."""
    used: dict[str, Fraction] = {}
    for one in done:
        for had, amount in one.plan.amounts:
            used[had.offer.id] = used.get(had.offer.id, Fraction(0)) + amount.value
    return tuple(
        one
        if one.stock is None
        else replace(one, stock=one.stock - used.get(one.offer.id, Fraction(0)))
        for one in hand
    )


def _later(job: Job, planned: tuple[Entry, ...], day: datetime.date) -> Job:
    """A job that is judged as if the passes before it had been given."""
    kept = job.record
    if kept is None or not kept.bed:
        kept = Record(None, _NO_PLACE, day)
    return replace(job, record=replace(kept, day=day, planned=(*kept.planned, *planned)))


def _passes(
    found: Plan, ready: Job, own: Mapping[str, Material], planned: tuple[Entry, ...],
    day: datetime.date, title: str,
) -> tuple[tuple[Job, ...], tuple[Entry, ...], datetime.date]:  # fmt: skip
    """The job of each pass, judged with those before it; they as entries; the day of the last."""
    jobs: list[Job] = []
    for one, recipe in zip(found.passes, found.recipes, strict=True):
        day += datetime.timedelta(days=one.days)
        named = replace(recipe, name=recipe.name.replace("Plan", title))
        job = replace(ready, ready=Ready(named, own))
        if planned:
            job = _later(job, planned, day)
        told = gather(job).told
        crop = "" if told.crop is None else told.crop.id
        bed = _NO_PLACE if job.record is None else job.record.bed
        entry = entry_of(run(job), recipe.placement, crop, {"day": day.isoformat(), "bed": bed})
        planned = (*planned, entry)
        jobs.append(job)
    return tuple(jobs), planned, day


def _credits(text: PlanText) -> tuple[Credit, ...]:
    found = [read_credit(one, None) for one in text.credit]
    if (text.watered is None) != (text.water_holds is None):
        raise refuse("feed-water-both")
    if text.watered is not None and text.water_holds is not None:
        asked = read_water(text.water_holds, text.watered)
        found.append(Credit(asked, asked.printed))
    return tuple(found)


def _basis(needs: tuple[Asked, ...], job: Job) -> str:
    """What the recipes are counted on: what the needs are, or for whole amounts the site."""
    if not needs:
        raise refuse("feed-no-need")
    elements = [need.element for need in needs]
    for element in elements:
        if elements.count(element) > 1:
            raise refuse("feed-need-twice", nutrient=element)
    for need in needs:
        if need.basis != "site":
            return need.basis
    site = job.site
    for told, basis in (
        (site.row, "row length"), (site.area or site.bed or site.shape, "area"),
        (site.plants, "plant"), (site.pots, "pot"), (site.medium_volume, "medium volume"),
    ):  # fmt: skip
        if told is not None:
            return basis
    raise refuse("feed-no-site")


def _one_of(text: str | None, known: tuple[str, ...], option: str) -> str | None:
    if text is None or text in known:
        return text
    raise refuse("one-of", text=text[:60], option=option, known=", ".join(known))


def _prefer(text: str | None, hand: tuple[OnHand, ...]) -> str:
    chosen = _one_of(text, PREFER, "--prefer")
    priced = all(one.cost is not None for one in hand)
    if chosen == "cost" and not priced:
        lacking = ", ".join(one.offer.material.name for one in hand if one.cost is None)
        raise refuse("feed-no-price", names=lacking)
    return chosen or ("cost" if priced else "fewest")


def _excess(needed: set[str]) -> dict[str, Mapping[str, str]]:
    """In which order an excess is kept down, and why."""
    table = files.shipped(files.data_root().joinpath("excess.toml"))["excess"]
    return {e["of"]: e for e in table if e["always"] or e["of"] in needed}


def _per(amount: Measure, found: Plan, basis: str) -> str:
    return number_text(amount / found.over, SHOWN_PER[basis])


def _much(found: Plan, excess: Mapping[str, Mapping[str, str]], basis: str) -> Iterator[Say]:
    """What is brought beyond twice what is needed; where nothing is needed, all of it."""
    for line in found.lines:
        entry = excess.get(element_of(line.word)[0])
        wanted = max(Fraction(0), line.need.value - line.credit.value)
        if entry is None or line.more.value <= wanted:
            continue
        yield Say.of(
            "feed-much", word=line.word, more=_per(line.more, found, basis),
            why=entry["why"], source=source(entry["source"]).cite(),
        )  # fmt: skip

"""From what was typed about needs and products on hand to plans, and to the jobs they end as."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.asked import Asked
from dosecalc.catalog.credit import Credit
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.soil import Figure, Level, Report, levels
from dosecalc.catalog.source import Source
from dosecalc.catalog.split import Part, advice
from dosecalc.dose.feed.bounds import Offer
from dosecalc.dose.feed.plan import SHOWN_PER, OnHand, Order, Plan, compose, draft, unit_for
from dosecalc.dose.feed.solve import Solver
from dosecalc.dose.request import Request
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, Ready, garden_of, gather, run, with_garden
from dosecalc.faces.on_hand import on_hand
from dosecalc.faces.plan_read import HOW, PlanText, Typed, read_plan
from dosecalc.faces.plan_says import of_order, of_soil, of_split
from dosecalc.faces.quiet import no_output
from dosecalc.faces.record import Record, day_of, entry_of
from dosecalc.say import Say
from dosecalc.season.entries import Entry
from dosecalc.units.measure import KG, Measure
from dosecalc.units.show import number_text

_NO_PLACE = "this ground"


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


@dataclass(frozen=True, slots=True)
class _Before:
    """What is to be given before the next pass, and the day of the last of it."""

    planned: tuple[Entry, ...]
    day: datetime.date


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
    typed = read_plan(text, job, garden)
    told, silent = ((), ()) if typed.report is None else levels(typed.report)
    solver = Solver(no_output())
    before = _Before((), job.record.day if job.record is not None else day_of(None))
    done: list[Dressing] = []
    for part in typed.parts:
        one, before = _dressing(part, typed, job, done, before, solver)
        done.append(one)
    first = done[0].order
    said = (
        *of_order(text.soil is None, first, typed.credits, None if text.how else typed.how),
        *of_split(typed.parts, first, typed.credits),
        *of_soil(typed.needs, typed.report, told, silent),
    )
    return Planned(
        tuple(done), typed.credits, typed.report, told, silent, said,
        tuple(dict.fromkeys(_sources(typed, first, told))),
    )  # fmt: skip


def _dressing(
    part: Part, typed: Typed, job: Job, done: list[Dressing], before: _Before, solver: Solver
) -> tuple[Dressing, _Before]:
    """One dressing, judged with those done before it."""
    how = "side-dress" if done else typed.how
    recipe = draft(how, _placement(how, typed.basis, done), typed.basis, tuple(typed.named))
    ready = replace(job, recipe="plan", ready=Ready(recipe, typed.own))
    request = gather(_later(ready, before))
    days = _wait(part, request) if done else 0
    if days:
        before = replace(before, day=before.day + datetime.timedelta(days=days))
        request = gather(_later(ready, before))
    shelf = garden_of(job.garden).products()
    hand = tuple(
        on_hand(Offer(key, made, unit_for(made), recipe), name, typed.shop, shelf)
        for key, (name, made) in typed.named.items()
    )
    order = Order(
        request=request,
        basis=typed.basis,
        hand=_left(hand, done),
        needs=_needs_of(part, typed, request, done),
        credits=() if done else tuple(_credits_of(part, typed.credits)),
        near=typed.near,
        prefer=_prefer(typed.prefer, hand),
        excess=tuple(typed.excess),
    )
    found = compose(order, solver)
    of = len(typed.parts)
    title = f"Plan for {', '.join(dict.fromkeys(need.word for need in order.needs))}"
    if of > 1:
        title += f", dressing {len(done) + 1} of {of}"
    jobs, before = _passes(found, ready, typed.own, before, title)
    much = tuple(_much(found, typed.excess, typed.basis))
    return Dressing(found, order, jobs, part if of > 1 else None, days, much), before


def _sources(typed: Typed, order: Order, told: tuple[Level, ...]) -> Iterator[Source]:
    """Whose figures a plan rests on."""
    yield from (source(entry["source"]) for entry in typed.excess.values())
    yield from (credit.source for credit in typed.credits if credit.source is not None)
    yield from (level.source for level in told)
    for hand in order.hand:
        if hand.share is not None and hand.share.source is not None:
            yield hand.share.source


def _placement(how: str, basis: str, done: list[Dressing]) -> str:
    """The placement that the limits go by."""
    if not done or basis in ("row length", "plant"):
        return HOW[how]
    return "broadcast"


def _wait(part: Part, request: Request) -> int:
    """Days after the dressing before: as typed, else the least that is published for the crop."""
    if part.days is not None:
        return part.days
    days = [one.days for one in advice(request.told.crop) if one.days is not None]
    return max(days, default=0)


def _needs_of(
    part: Part, typed: Typed, request: Request, done: list[Dressing]
) -> tuple[Asked, ...]:
    """What one dressing is to bring: a share of the nitrogen; the first all of the rest too.

    Credits are taken off the nitrogen before it is shared out, and what an earlier dressing
    brought beyond its share off the next.
    """
    if part.share == 1:
        return typed.needs
    found = []
    for need in typed.needs:
        if need.element != "N":
            found += [] if done else [need]
            continue
        credit = sum(
            (c.asked.on(request.site) for c in typed.credits if c.asked.element == "N"), Fraction(0)
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


def _later(job: Job, before: _Before) -> Job:
    """A job that is judged as if the passes before it had been given; nothing changes for none."""
    if not before.planned:
        return job
    kept = job.record
    if kept is None or not kept.bed:
        kept = Record(None, _NO_PLACE, before.day)
    planned = (*kept.planned, *before.planned)
    return replace(job, record=replace(kept, day=before.day, planned=planned))


def _passes(
    found: Plan, ready: Job, own: Mapping[str, Material], before: _Before, title: str
) -> tuple[tuple[Job, ...], _Before]:
    """The job of each pass, judged with those before it, and all of them as given."""
    jobs: list[Job] = []
    for one, recipe in zip(found.passes, found.recipes, strict=True):
        day = before.day + datetime.timedelta(days=one.days)
        named = replace(recipe, name=recipe.name.replace("Plan", title))
        job = _later(replace(ready, ready=Ready(named, own)), replace(before, day=day))
        told = gather(job).told
        crop = "" if told.crop is None else told.crop.id
        bed = _NO_PLACE if job.record is None else job.record.bed
        entry = entry_of(run(job), recipe.placement, crop, day=day.isoformat(), bed=bed)
        before = _Before((*before.planned, entry), day)
        jobs.append(job)
    return tuple(jobs), before


def _prefer(chosen: str | None, hand: tuple[OnHand, ...]) -> str:
    """What decides among plans of one excess: as typed, else money where every price is known."""
    priced = all(one.cost is not None for one in hand)
    if chosen == "cost" and not priced:
        lacking = ", ".join(one.offer.material.name for one in hand if one.cost is None)
        raise refuse("feed-no-price", names=lacking)
    return chosen or ("cost" if priced else "fewest")


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

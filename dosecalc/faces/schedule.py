"""Doses ahead: each computed on its day with all that went before, so that the plan is judged."""

from __future__ import annotations

import calendar
import datetime
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from dosecalc.dose.result import LEVELS, Finding, Mix, Waiting
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, crop_and_placement, run
from dosecalc.faces.record import Record, entry_of
from dosecalc.season.entries import Entry
from dosecalc.units import read
from dosecalc.units.measure import TIME, Measure

MOST_DOSES = 60
_MONTHS = re.compile(r"(\d{1,2}) months?", re.ASCII)
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
_DAY = (("day", 1),)
_MINUTE = (("minute", 1),)
_LAST = datetime.date(2200, 1, 1)
"""No plan reaches that far: a slip of the pen in a year or an interval does."""


@dataclass(frozen=True, slots=True)
class Every:
    """How far doses lie apart: days, or months of the calendar."""

    days: int = 0
    months: int = 0


@dataclass(frozen=True, slots=True)
class Dose:
    """One dose of a plan.

    Parameters
    ----------
    number, of : int
    day : date
    place : str
    job : Job
        With the record as it will stand on that day.
    mix : Mix
    """

    number: int
    of: int
    day: datetime.date
    place: str
    job: Job
    mix: Mix


@dataclass(frozen=True, slots=True)
class Ahead:
    """A finding of the whole plan: from which dose on, and in how many doses."""

    first: Dose
    finding: Finding
    count: int


@dataclass(frozen=True, slots=True)
class Until:
    """A wait after the doses of a plan, with the day or time at which each is over.

    Parameters
    ----------
    waiting : Waiting
    ends : tuple of (Dose, date or datetime or None)
        None where the wait is in hours and no time of the day was told.
    """

    waiting: Waiting
    ends: tuple[tuple[Dose, datetime.date | None], ...]


def every_of(text: str) -> Every:
    """How far apart, as typed: "14 days", "2 weeks", "1 month".

    Raises
    ------
    DoseError
        For what is no whole number of days or months.
    """
    months = _MONTHS.fullmatch(text.strip())
    if months is not None and int(months[1]):
        return Every(months=int(months[1]))
    found = read.positive(text, TIME, want="an interval", example="14 days")
    days = found.amount_in(_DAY)
    if days.denominator != 1 or days > 3660:
        raise refuse("schedule-every", text=text)
    return Every(days=int(days))


def clock_of(text: str | None) -> datetime.time | None:
    """A time of the day, "07:00".

    Raises
    ------
    DoseError
    """
    if text is None:
        return None
    match = _CLOCK.fullmatch(text.strip())
    if match is None:
        raise refuse("schedule-time", text=text)
    return datetime.time(int(match[1]), int(match[2]))


def times_of(text: str) -> int:
    """How many doses.

    Raises
    ------
    DoseError
    """
    count = read.number(text, "us", example="4")
    if count.denominator != 1 or not 1 <= count <= MOST_DOSES:
        raise refuse("schedule-times", text=text, most=MOST_DOSES)
    return int(count)


def days_of(first: datetime.date, every: Every | None, times: int) -> list[datetime.date]:
    """The days of the doses; the 31st of a month that has none is its last day.

    Raises
    ------
    DoseError
        When there are several and nothing says how far apart, or they go too far ahead.
    """
    if times > 1 and every is None:
        raise refuse("schedule-no-interval")
    every = every or Every(days=1)
    days = []
    for at in range(times):
        try:
            day = _later(first, every.months * at) + datetime.timedelta(every.days * at)
        except (ValueError, OverflowError):
            day = _LAST
        if day >= _LAST:
            raise refuse("schedule-far", year=_LAST.year)
        days.append(day)
    return days


def _later(day: datetime.date, months: int) -> datetime.date:
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return datetime.date(year, month + 1, min(day.day, last))


def plan(job: Job, place: str, days: Sequence[datetime.date]) -> list[Dose]:
    """The doses of one job, each with the record and the planned ones before it.

    Parameters
    ----------
    job : Job
        With its record, if there is one.
    place : str
    days : sequence of date
        In order.

    Raises
    ------
    DoseError
        When the job cannot be computed.
    """
    file = None if job.record is None else job.record.file
    planned: list[Entry] = []
    found = []
    for number, day in enumerate(days, start=1):
        mine = replace(job, record=Record(file, place, day, planned=tuple(planned)))
        mix = run(mine)
        found.append(Dose(number, len(days), day, place, mine, mix))
        crop, placement = crop_and_placement(mine)
        planned.append(entry_of(mix, placement, crop, {"day": day.isoformat(), "bed": place}))
    return found


def ahead(doses: Sequence[Dose]) -> list[Ahead]:
    """What is over, stopped or to be careful of in a plan, the gravest first; each said once."""
    first: dict[tuple[str, str, str], tuple[Dose, Finding]] = {}
    count: dict[tuple[str, str, str], int] = {}
    for dose in doses:
        for finding in dose.mix.findings:
            if finding.level in ("stop", "over", "caution"):
                key = (dose.place, finding.id, finding.level)
                first.setdefault(key, (dose, finding))
                count[key] = count.get(key, 0) + 1
    rows = [Ahead(dose, finding, count[key]) for key, (dose, finding) in first.items()]
    return sorted(rows, key=lambda row: (LEVELS.index(row.finding.level), row.first.number))


def waits(doses: Sequence[Dose], clock: datetime.time | None) -> list[Until]:
    """Every wait of a plan with the day on which it is over after each dose."""
    rows: dict[str, tuple[Waiting, list[tuple[Dose, datetime.date | None]]]] = {}
    for dose in doses:
        for one in dose.mix.waiting:
            ends = rows.setdefault(one.say.english(), (one, []))[1]
            ends.append((dose, over(dose.day, one.wait, clock)))
    return [Until(one, tuple(ends)) for one, ends in rows.values()]


def over(day: datetime.date, wait: Measure, clock: datetime.time | None) -> datetime.date | None:
    """When a wait is over: a day for a wait in days, a time for one in hours.

    The times are those of the clock on the wall; where clocks change meanwhile, an hour more or
    less is not counted. None for hours without a time of the day.
    """
    if any(name in ("hour", "minute") for name, _ in wait.unit):
        if clock is None:
            return None
        minutes = ceil(wait.amount_in(_MINUTE))
        return datetime.datetime.combine(day, clock) + datetime.timedelta(minutes=minutes)
    return day + datetime.timedelta(ceil(wait.amount_in(_DAY)))


def harvest(found: Sequence[Until]) -> datetime.date | None:
    """The first day on which every harvest wait of the plan is over; None where none is held."""
    days = [
        end if not isinstance(end, datetime.datetime) else end.date() + datetime.timedelta(1)
        for one in found
        if one.waiting.what == "harvest"
        for _, end in one.ends
        if end is not None
    ]
    return max(days, default=None)


def interval_of(job: Job) -> tuple[Every | None, int]:
    """What the recipe itself says: how far apart, and how often at most (once if it does not)."""
    from dosecalc.faces.job import gather

    repeat = gather(replace(job, record=None)).recipe.repeat
    if repeat is None or repeat.interval is None:
        return None, 1
    days = repeat.interval.amount_in(_DAY)
    return Every(days=max(1, ceil(days))), repeat.most or 1


def amounts(doses: Sequence[Dose]) -> Iterator[tuple[str, str, bool, Fraction]]:
    """Material, name, whether by weight, and how much in g or mL, of every dose but its water."""
    for dose in doses:
        weighed = {m.material for f in dose.mix.tankfuls for m in f.measures if _weighed(m.say.key)}
        for item in dose.mix.amounts:
            if item.material in ("water", "irrigation-water"):
                continue
            mass = item.mass is not None and (item.material in weighed or item.volume is None)
            span = item.mass if mass else item.volume
            if span is not None:
                yield item.material, item.name, mass, span.likely * _one(span.unit, mass=mass)


def _weighed(key: str) -> bool:
    return key.startswith("do-weigh")


def _one(unit: tuple[tuple[str, int], ...], *, mass: bool) -> Fraction:
    from dosecalc.units.measure import GRAM, ML

    return Measure(Fraction(1), unit).amount_in(GRAM if mass else ML)

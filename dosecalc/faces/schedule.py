"""Doses ahead: each computed on its day with all that went before, so that the plan is judged."""

from __future__ import annotations

import calendar
import datetime
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil
from pathlib import Path

from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, crop_and_placement, run
from dosecalc.faces.record import Record, entry_of
from dosecalc.season.entries import Entry
from dosecalc.season.places import alike, folded
from dosecalc.units import read
from dosecalc.units.measure import DAY, TIME

MOST_DOSES = 60
_MONTHS = re.compile(r"(\d{1,2}) (month|year)s?", re.ASCII)
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)", re.ASCII)
_LAST = datetime.date(2200, 1, 1)
"""No plan reaches that far: a slip of the pen in a year or an interval does."""


@dataclass(frozen=True, slots=True)
class Every:
    """How far doses lie apart: days, or months of the calendar."""

    days: int = 0
    months: int = 0


@dataclass(frozen=True, slots=True)
class Line:
    """One job of a plan: what, where, on which days in order."""

    job: Job
    place: str
    days: Sequence[datetime.date]


@dataclass(frozen=True, slots=True)
class Dose:
    """One dose of a plan.

    Parameters
    ----------
    line : int
        Which job of the plan it belongs to, from 0.
    number, of : int
        Within that job.
    day : date
    place : str
    job : Job
        With the record as it will stand on that day.
    mix : Mix
    """

    line: int
    number: int
    of: int
    day: datetime.date
    place: str
    job: Job
    mix: Mix


@dataclass(frozen=True, slots=True)
class Ahead:
    """A finding of one job of the plan: from which dose on, and in how many doses."""

    first: Dose
    finding: Finding
    count: int


def every_of(text: str) -> Every:
    """How far apart, as typed: "14 days", "2 weeks", "1 month", "1 year".

    Raises
    ------
    DoseError
        For what is no whole number of days or months.
    """
    months = _MONTHS.fullmatch(text.strip())
    if months is not None and int(months[1]):
        return Every(months=int(months[1]) * (12 if months[2] == "year" else 1))
    found = read.positive(text, TIME, want="an interval", example="14 days")
    days = found.amount_in(DAY)
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


def plan(lines: Sequence[Line]) -> list[Dose]:
    """The doses of every job, each with the record and all planned ones before it on its place.

    Two jobs of one day on one place count in the order in which they stand.

    Parameters
    ----------
    lines : sequence of Line
        The doses come back in this order, those of one job by their days.

    Raises
    ------
    DoseError
        When a job cannot be computed.
    """
    order = sorted(
        (day, at, number)
        for at, line in enumerate(lines)
        for number, day in enumerate(line.days, start=1)
    )
    planned: dict[str, list[Entry]] = {}
    given = [crop_and_placement(line.job) for line in lines]
    found = []
    for day, at, number in order:
        line = lines[at]
        before = planned.setdefault(folded(line.place), [])
        known = line.job.record or Record(None, line.place, day)
        record = replace(known, bed=line.place, day=day, planned=tuple(before))
        mine = replace(line.job, record=record)
        mix = run(mine)
        found.append(Dose(at, number, len(line.days), day, line.place, mine, mix))
        crop, placement = given[at]
        before.append(entry_of(mix, placement, crop, day=day.isoformat(), bed=line.place))
    return sorted(found, key=lambda dose: (dose.line, dose.number))


def ahead(doses: Sequence[Dose]) -> list[Ahead]:
    """What is over, stopped or to be careful of in a plan, the gravest first; each said once."""
    first: dict[tuple[int, str, str], tuple[Dose, Finding]] = {}
    count: dict[tuple[int, str, str], int] = {}
    for dose in doses:
        for finding in dose.mix.findings:
            if finding.level in ("stop", "over", "caution"):
                key = (dose.line, finding.id, finding.level)
                first.setdefault(key, (dose, finding))
                count[key] = count.get(key, 0) + 1
    rows = [Ahead(dose, finding, count[key]) for key, (dose, finding) in first.items()]
    return sorted(rows, key=lambda row: (LEVELS.index(row.finding.level), row.first.day))


def given_already(doses: Sequence[Dose]) -> list[Dose]:
    """Doses that the record holds on their day and place already, so that they count twice.

    Raises
    ------
    DoseError
        When the record cannot be read.
    """
    from dosecalc.season.entries import counting
    from dosecalc.season.store import reading

    found = []
    held: dict[tuple[Path, str], set[tuple[str, str]]] = {}
    for dose in doses:
        file = None if dose.job.record is None else dose.job.record.file
        if file is None:
            continue
        key = (file, folded(dose.place))
        if key not in held:
            with reading(file) as base:
                held[key] = {(e.day, e.recipe) for e in counting(base, dose.place)}
        if (dose.day.isoformat(), dose.mix.recipe_id) in held[key]:
            found.append(dose)
    return found


def look_alike(doses: Sequence[Dose]) -> list[tuple[str, str]]:
    """Pairs of places of a plan that could be one, written with a slip of the pen."""
    places = list({folded(dose.place): dose.place for dose in doses}.values())
    return [pair for pair in combinations(places, 2) if alike(*pair)]


def interval_of(job: Job) -> tuple[Every | None, int]:
    """What the recipe itself says: how far apart, and how often at most (once if it does not)."""
    from dosecalc.faces.job import gather

    repeat = gather(replace(job, record=None)).recipe.repeat
    if repeat is None or repeat.interval is None:
        return None, 1
    days = repeat.interval.amount_in(DAY)
    return Every(days=max(1, ceil(days))), repeat.most or 1

"""Waits after the doses of a plan, as days and times, and when the last harvest wait is over."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from dosecalc.dose.result import Waiting
from dosecalc.faces.schedule import Dose
from dosecalc.season.places import folded
from dosecalc.units.measure import DAY, Measure

_MINUTE = (("minute", 1),)
_ONE = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Until:
    """A wait after the doses of one job, with the day or time at which each is over.

    Parameters
    ----------
    waiting : Waiting
    ends : tuple of (Dose, date or datetime or None)
        None where the wait is in hours and no time of the day was told.
    """

    waiting: Waiting
    ends: tuple[tuple[Dose, datetime.date | None], ...]


def waits(doses: Sequence[Dose], clock: datetime.time | None) -> list[Until]:
    """Every wait of a plan with the day on which it is over after each dose."""
    rows: dict[tuple[int, str], tuple[Waiting, list[tuple[Dose, datetime.date | None]]]] = {}
    for dose in doses:
        for one in dose.mix.waiting:
            ends = rows.setdefault((dose.line, one.say.english()), (one, []))[1]
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
    return day + datetime.timedelta(ceil(wait.amount_in(DAY)))


def first_whole_day(dose: Dose, wait: Measure, end: datetime.date | None) -> datetime.date:
    """The first day on which a wait runs at no hour, whenever on its day the dose is given."""
    if end is None:
        return dose.day + datetime.timedelta(ceil(wait.amount_in(DAY))) + _ONE
    return end.date() + _ONE if isinstance(end, datetime.datetime) else end


def harvest(found: Sequence[Until]) -> list[tuple[str, datetime.date]]:
    """Each place that a harvest wait is held for, with the first whole day after the last one."""
    places: dict[str, str] = {}
    days: dict[str, datetime.date] = {}
    for one in found:
        for dose, end in one.ends if one.waiting.what == "harvest" else ():
            key = folded(dose.place)
            places.setdefault(key, dose.place)
            day = first_whole_day(dose, one.waiting.wait, end)
            days[key] = max(day, days.get(key, day))
    return [(places[key], day) for key, day in days.items()]

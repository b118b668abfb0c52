"""A plan as lines for people, and as plain values for JSON."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Any

from dosecalc.dose.dump import dump
from dosecalc.errors import printable
from dosecalc.faces.calendar_file import measures
from dosecalc.faces.schedule import Ahead, Dose, Every, Until, harvest
from dosecalc.faces.shopping import Buy, money
from dosecalc.faces.wrap import section
from dosecalc.say import Say
from dosecalc.units.measure import exact_text


def plan_lines(
    doses: Sequence[Dose], every: Every | None, found: Sequence[Ahead], waits: Sequence[Until],
    *, when: str, today: datetime.date,
) -> list[str]:  # fmt: skip
    """The whole plan, what is wrong with it first."""
    lines = []
    for place in dict.fromkeys(dose.place for dose in doses):
        first = next(dose for dose in doses if dose.place == place)
        lines.append(_title(first, every))
    if when:
        lines.append(Say.of("schedule-when", when=printable(when), day=doses[0].day).english())
    elif doses[0].day < today:
        lines.append(Say.of("schedule-past-day", day=doses[0].day).english())
    says = [_ahead(one) for one in found]
    if not found:
        held = {f.id for dose in doses for f in dose.mix.findings if f.level == "within"}
        says = [Say.of("schedule-none", count=len(held)).english()]
    over = [_wait(one) for one in waits]
    last = harvest(waits)
    if last is not None:
        over.append(Say.of("schedule-harvest", day=_day(last)).english())
    for title, rows in (
        ("schedule-ahead", says), ("schedule-doses", _doses(doses)), ("schedule-waits", over),
    ):  # fmt: skip
        found_rows = section(Say.of(title).english(), rows)
        lines += ["", *found_rows] if found_rows else []
    return lines


def _title(first: Dose, every: Every | None) -> str:
    if first.of == 1 or every is None:
        count = Say.of("schedule-one")
    else:
        count = Say.of("schedule-many", count=first.of, every=_apart(every))
    return Say.of(
        "schedule-title", recipe=first.mix.recipe_name, place=printable(first.place),
        count=count, day=_day(first.day),
    ).english()  # fmt: skip


def _apart(every: Every) -> Say:
    if every.months:
        key = "schedule-month" if every.months == 1 else "schedule-months"
        return Say.of(key, count=every.months)
    return Say.of("schedule-day" if every.days == 1 else "schedule-days", count=every.days)


def _ahead(one: Ahead) -> str:
    dose = one.first
    say, level = one.finding.say.english(), one.finding.level.upper()
    if one.count == dose.of:
        return Say.of("schedule-every-dose", level=level, say=say).english()
    key = "schedule-at-dose" if one.count == 1 else "schedule-from-dose"
    return Say.of(
        key, level=level, number=dose.number, day=_day(dose.day), count=one.count, say=say
    ).english()  # fmt: skip


def _doses(doses: Sequence[Dose]) -> list[str]:
    """Doses that are measured alike, in one line with their days."""
    several = len({dose.place for dose in doses}) > 1
    alike: dict[tuple[str, str], list[Dose]] = {}
    for dose in doses:
        alike.setdefault((dose.place, " | ".join(measures(dose))), []).append(dose)
    key = "schedule-dose-place" if several else "schedule-dose"
    return [
        Say.of(
            key, days=", ".join(_day(dose.day) for dose in mine), place=printable(place), what=what
        ).english()
        for (place, what), mine in alike.items()
    ]


def _wait(one: Until) -> str:
    say = one.waiting.say.english()
    if any(end is None for _, end in one.ends):
        return Say.of("schedule-hours", say=say).english()
    ends = dict.fromkeys(_day(end) for _, end in one.ends if end is not None)
    return Say.of("schedule-over", say=say, days=", ".join(ends)).english()


def _day(day: datetime.date) -> str:
    """The day, and for a time of the day that too."""
    return day.isoformat(" ", "minutes") if isinstance(day, datetime.datetime) else day.isoformat()


def plan_dump(
    doses: Sequence[Dose], found: Sequence[Ahead], waits: Sequence[Until], buys: Sequence[Buy]
) -> dict[str, Any]:
    """The same for JSON; amounts to buy as exact text."""
    last = harvest(waits)
    return {
        "doses": [
            {"number": d.number, "of": d.of, "day": d.day.isoformat(), "place": d.place,
             "mix": dump(d.mix)}
            for d in doses
        ],
        "findings": [
            {"level": one.finding.level, "why": one.finding.why, "place": one.first.place,
             "from_dose": one.first.number, "day": one.first.day.isoformat(), "doses": one.count,
             "say": one.finding.say.english()}
            for one in found
        ],
        "waits": [
            {"what": one.waiting.what, "say": one.waiting.say.english(),
             "over": [None if end is None else _day(end) for _, end in one.ends]}
            for one in waits
        ],
        "harvest_waits_over": None if last is None else _day(last),
        "shopping": [
            {"material": one.material, "need": exact_text(one.need),
             "left": None if one.left is None else exact_text(one.left),
             "buy": exact_text(one.buy), "packs": one.packs,
             "pack": None if one.pack is None else exact_text(one.pack),
             "cost": None if one.cost is None else money(one.cost)}
            for one in buys
        ],
    }  # fmt: skip

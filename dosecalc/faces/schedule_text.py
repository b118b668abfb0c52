"""A plan as lines for people, and as plain values for JSON."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from dosecalc.dose.dump import dump
from dosecalc.errors import printable
from dosecalc.faces.calendar_file import measures
from dosecalc.faces.schedule import Ahead, Dose, Every, given_already, look_alike
from dosecalc.faces.shopping import Buy, money
from dosecalc.faces.waits import Until, harvest
from dosecalc.faces.wrap import section, wrap
from dosecalc.say import Say
from dosecalc.season.places import folded
from dosecalc.units.measure import exact_text


def plan_lines(
    doses: Sequence[Dose], apart: Sequence[Every | None], found: Sequence[Ahead],
    waits: Sequence[Until], *, when: str, today: datetime.date,
) -> list[str]:  # fmt: skip
    """The whole plan, what is wrong with it first.

    Parameters
    ----------
    apart : sequence of Every or None
        How far apart the doses of each job are.
    """
    names = _names(doses)
    firsts = {dose.line: dose for dose in doses if dose.number == 1}
    lines = _titles([(dose, apart[at]) for at, dose in firsts.items()])
    if when:
        day = min(dose.day for dose in doses)
        lines.append(Say.of("schedule-when", when=printable(when), day=day).english())
    else:
        past = dict.fromkeys(_day(dose.day) for dose in doses if dose.day < today)
        if past:
            lines.append(Say.of("schedule-past-day", days=", ".join(past)).english())
    lines += [say.english() for say in _doubts(doses)]
    says = _for_each(names, [(one.first.line, _ahead(one)) for one in found])
    if not found:
        held = {f.id for dose in doses for f in dose.mix.findings if f.level == "within"}
        says = [Say.of("schedule-none", count=len(held)).english()]
    over = _for_each(names, [(one.ends[0][0].line, _wait(one)) for one in waits])
    over += _harvest(harvest(waits), several=len({folded(dose.place) for dose in doses}) > 1)
    for title, rows in (
        ("schedule-ahead", says), ("schedule-doses", _for_each(names, _doses(doses))),
        ("schedule-waits", over), ("schedule-not-told", _for_each(names, _not_told(doses))),
    ):  # fmt: skip
        found_rows = section(Say.of(title).english(), rows)
        lines += ["", *found_rows] if found_rows else []
    return [row for line in lines for row in ([line] if line.startswith(" ") else _row(line))]


def _row(line: str) -> list[str]:
    return wrap(line, "", "  ") if line else [""]


def _doubts(doses: Sequence[Dose]) -> list[Say]:
    """What would count twice, and places that may be one."""
    twice = dict.fromkeys((printable(d.place), _day(d.day)) for d in given_already(doses))
    found = [Say.of("schedule-given", place=place, day=day) for place, day in twice]
    found += [
        Say.of("schedule-alike", one=printable(one), other=printable(other))
        for one, other in look_alike(doses)
    ]
    return found


def _names(doses: Sequence[Dose]) -> dict[int, str]:
    """What tells each job of a plan from the others: "", its place, or that and its recipe."""
    firsts = {dose.line: dose for dose in doses if dose.number == 1}
    if len(firsts) == 1:
        return dict.fromkeys(firsts, "")
    places = Counter(folded(dose.place) for dose in firsts.values())
    return {
        at: printable(dose.place)
        if places[folded(dose.place)] == 1
        else f"{printable(dose.place)}, {dose.mix.recipe_name}"
        for at, dose in firsts.items()
    }


def _for_each(names: Mapping[int, str], rows: Iterable[tuple[int, str]]) -> list[str]:
    """Each sentence once, behind the names of the jobs that it is about."""
    whose: dict[str, list[str]] = {}
    for line, text in rows:
        whose.setdefault(text, []).append(names[line])
    return [
        Say.of("schedule-whose", whose="; ".join(mine), say=text).english() if mine[0] else text
        for text, mine in ((text, list(dict.fromkeys(mine))) for text, mine in whose.items())
    ]


def _titles(firsts: Sequence[tuple[Dose, Every | None]]) -> list[str]:
    """What is planned, one line for the places of which the same is planned."""
    places: dict[tuple[str, str, str], list[str]] = {}
    for first, every in firsts:
        count = Say.of("schedule-one")
        if first.of > 1 and every is not None:
            count = Say.of("schedule-many", count=first.of, every=_apart(every))
        key = (first.mix.recipe_name, count.english(), _day(first.day))
        places.setdefault(key, []).append(printable(first.place))
    return [
        Say.of(
            "schedule-title", recipe=recipe, place="; ".join(mine), count=count, day=day
        ).english()
        for (recipe, count, day), mine in places.items()
    ]  # fmt: skip


def _harvest(found: Sequence[tuple[str, datetime.date]], *, several: bool) -> list[str]:
    """From when no harvest wait that was held runs any more, a line for each such day."""
    days: dict[str, list[str]] = {}
    for place, day in found:
        days.setdefault(_day(day), []).append(printable(place))
    key = "schedule-harvest-place" if several else "schedule-harvest"
    return [Say.of(key, place="; ".join(mine), day=day).english() for day, mine in days.items()]


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


def _doses(doses: Sequence[Dose]) -> list[tuple[int, str]]:
    """Doses of one job that are measured alike, in one line with their days."""
    alike: dict[tuple[int, str], list[Dose]] = {}
    for dose in doses:
        alike.setdefault((dose.line, " | ".join(measures(dose))), []).append(dose)
    return [
        (line, Say.of(
            "schedule-dose", days=", ".join(_day(dose.day) for dose in mine), what=what
        ).english())
        for (line, what), mine in alike.items()
    ]  # fmt: skip


def _not_told(doses: Sequence[Dose]) -> list[tuple[int, str]]:
    """What would have let more be held against, each once."""
    rows = ((dose.line, say.english()) for dose in doses for say in dose.mix.not_told)
    return list(dict.fromkeys(rows))


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
    return {
        "doses": [
            {"job": d.line + 1, "number": d.number, "of": d.of,
             "day": d.day.isoformat(), "place": d.place, "mix": dump(d.mix)}
            for d in doses
        ],
        "findings": [
            {"level": one.finding.level, "why": one.finding.why, "job": one.first.line + 1,
             "place": one.first.place, "from_dose": one.first.number,
             "day": one.first.day.isoformat(), "doses": one.count, "say": one.finding.say.english()}
            for one in found
        ],
        "waits": [
            {"what": one.waiting.what, "job": one.ends[0][0].line + 1,
             "place": one.ends[0][0].place, "say": one.waiting.say.english(),
             "over": [None if end is None else _day(end) for _, end in one.ends]}
            for one in waits
        ],
        "harvest_waits_over": [
            {"place": place, "day": _day(day)} for place, day in harvest(waits)
        ],
        "not_told": [
            {"job": line + 1, "say": say} for line, say in _not_told(doses)
        ],
        "given_already": [
            {"place": d.place, "day": _day(d.day)} for d in given_already(doses)
        ],
        "places_alike": [list(pair) for pair in look_alike(doses)],
        "shopping": [
            {"material": one.material, "need": exact_text(one.need),
             "left": None if one.left is None else exact_text(one.left),
             "buy": exact_text(one.buy), "packs": one.packs,
             "pack": None if one.pack is None else exact_text(one.pack),
             "cost": None if one.cost is None else money(one.cost), "currency": one.currency}
            for one in buys
        ],
    }  # fmt: skip

"""A plan as an iCalendar file (RFC 5545): a day for each dose, an alarm before it, the waits."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from dosecalc.errors import refuse
from dosecalc.faces.schedule import Dose, Until
from dosecalc.say import Say

_SPACE = uuid5(NAMESPACE_URL, "dosecalc:schedule")
_ONE = datetime.timedelta(days=1)


def calendar_bytes(
    doses: Sequence[Dose], waits: Sequence[Until], stamp: datetime.datetime, when: str
) -> bytes:
    """The file.

    An event keeps its id when the plan is written again for the same recipe, place, number and
    year, so that a calendar moves it instead of showing it twice.

    Parameters
    ----------
    doses : sequence of Dose
    waits : sequence of Until
    stamp : datetime
        Now, UTC; the same plan and stamp give the same bytes.
    when : str
        The sign to begin, "" where only a day was told.

    Raises
    ------
    DoseError
        When the library is not installed.
    """
    try:
        from icalendar import Alarm, Calendar, Event
    except ImportError:
        raise refuse("schedule-extra") from None
    whole = Calendar()
    whole.add("prodid", "-//dosecalc//schedule//EN")
    whole.add("version", "2.0")
    for dose in doses:
        names = {"recipe": dose.mix.recipe_name, "place": dose.place}
        title = Say.of("calendar-dose", number=dose.number, of=dose.of, **names).english()
        event = _event(Event(), dose, "dose", title, stamp)
        event.add("dtstart", dose.day)
        event.add("dtend", dose.day + _ONE)
        event.add("description", _description(dose, when))
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", Say.of("calendar-alarm", **names).english())
        alarm.add("trigger", -_ONE)
        event.add_component(alarm)
        whole.add_component(event)
    for at, one in enumerate(waits):
        for dose, end in one.ends:
            names = {"recipe": dose.mix.recipe_name, "place": dose.place}
            title = Say.of(f"calendar-wait-{one.waiting.what}", **names).english()
            event = _event(Event(), dose, f"wait {at}", title, stamp)
            event.add("dtstart", dose.day)
            event.add("dtend", _end(dose, one, end))
            event.add("description", one.waiting.say.english())
            event.add("transp", "TRANSPARENT")
            whole.add_component(event)
    made: bytes = whole.to_ical()
    return made


def _event(event: Any, dose: Dose, what: str, title: str, stamp: datetime.datetime) -> Any:
    parts = (dose.mix.recipe_id, dose.place, str(dose.day.year), str(dose.number), what)
    event.add("uid", str(uuid5(_SPACE, "\n".join(parts))))
    event.add("dtstamp", stamp)
    event.add("summary", title)
    return event


def _end(dose: Dose, one: Until, end: datetime.date | None) -> datetime.date:
    """The first day after the wait: a day on which hours still run is inside it."""
    if end is None:
        days = -int(-one.waiting.wait.amount_in((("day", 1),)) // 1)
        return dose.day + datetime.timedelta(days=days) + _ONE
    return end.date() + _ONE if isinstance(end, datetime.datetime) else max(end, dose.day + _ONE)


def _description(dose: Dose, when: str) -> str:
    lines = [Say.of("calendar-first").english()]
    if when:
        lines.append(Say.of("calendar-when", when=when).english())
    lines += measures(dose)
    for finding in dose.mix.findings:
        if finding.level in ("stop", "over", "caution"):
            lines.append(f"{finding.level.upper()}: {finding.say.english()}")
    return "\n".join(lines)


def measures(dose: Dose) -> list[str]:
    """What to measure for one dose: each filling that differs from the one before."""
    lines: list[str] = []
    for filling in dose.mix.tankfuls:
        said = "; ".join(f"{m.name}: {m.say.english()}" for m in filling.measures)
        if said not in lines:
            lines.append(said)
    return lines

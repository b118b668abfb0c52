"""A plan as an iCalendar file (RFC 5545): a day for each dose, an alarm before it, the waits."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Sequence
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from dosecalc.errors import printable, refuse
from dosecalc.faces.schedule import Dose
from dosecalc.faces.waits import Until, first_whole_day
from dosecalc.say import Say
from dosecalc.season.places import folded

_SPACE = uuid5(NAMESPACE_URL, "dosecalc:schedule")
_ONE = datetime.timedelta(days=1)
_MOST = 200
"""Characters of a name in a title."""


def calendar_bytes(
    doses: Sequence[Dose], waits: Sequence[Until], stamp: datetime.datetime, when: str
) -> bytes:
    """The file.

    An event keeps its id when the plan is written again for the same recipe, place, number and
    year of the first dose, so that a calendar moves it instead of showing it twice.

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
    ids = _ids(doses)
    for dose in doses:
        names = {"recipe": dose.mix.recipe_name, "place": printable(dose.place, _MOST)}
        title = Say.of("calendar-dose", number=dose.number, of=dose.of, **names).english()
        event = _event(Event(), ids[dose.line], dose, "dose", title, stamp)
        event.add("dtstart", dose.day)
        event.add("dtend", dose.day + _ONE)
        event.add("description", _description(dose, when))
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", Say.of("calendar-alarm", **names).english())
        alarm.add("trigger", -_ONE)
        event.add_component(alarm)
        whole.add_component(event)
    times: Counter[tuple[int, str]] = Counter()
    for one in waits:
        what = one.waiting.what
        key = (one.ends[0][0].line, what)
        times[key] += 1
        for dose, end in one.ends:
            names = {"recipe": dose.mix.recipe_name, "place": printable(dose.place, _MOST)}
            title = Say.of(f"calendar-wait-{what}", **names).english()
            event = _event(Event(), ids[dose.line], dose, f"{what} {times[key]}", title, stamp)
            event.add("dtstart", dose.day)
            clear = first_whole_day(dose, one.waiting.wait, end)
            event.add("dtend", max(clear, dose.day + _ONE))
            event.add("description", one.waiting.say.english())
            event.add("transp", "TRANSPARENT")
            whole.add_component(event)
    made: bytes = whole.to_ical()
    return made


def _ids(doses: Sequence[Dose]) -> dict[int, str]:
    """What the ids of each job's events are made of; a job twice on one place is told apart."""
    seen: Counter[tuple[str, str, str, int]] = Counter()
    found: dict[int, str] = {}
    for dose in (dose for dose in doses if dose.number == 1):
        what = dose.mix.recipe_id
        if dose.job.ready is not None:  # a text has no name of its own
            what = ", ".join(sorted(item.material for item in dose.mix.amounts))
        parts = (what, dose.mix.recipe_name, folded(dose.place), dose.day.year)
        seen[parts] += 1
        found[dose.line] = "\n".join(str(part) for part in (*parts, seen[parts]))
    return found


def _event(event: Any, id: str, dose: Dose, what: str, title: str, stamp: datetime.datetime) -> Any:
    parts = (id, str(dose.number), what)
    event.add("uid", str(uuid5(_SPACE, "\n".join(parts))))
    event.add("dtstamp", stamp)
    event.add("summary", title)
    return event


def _description(dose: Dose, when: str) -> str:
    lines = [Say.of("calendar-first").english()]
    if when:
        lines.append(Say.of("calendar-when", when=printable(when, _MOST)).english())
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

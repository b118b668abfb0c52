"""What is no dose, as it is written down: an event of today's writing, on a day that has come."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from dosecalc.errors import refuse
from dosecalc.faces.record import day_of, stamp, tool
from dosecalc.season.entries import new_id
from dosecalc.season.events import Event
from dosecalc.season.ground import PART
from dosecalc.season.places import tidy


def event_of(
    kind: str, what: str, day: datetime.date, details: Mapping[str, str], about: str | None = None
) -> Event:
    """An event of today's writing; of its details those that say something, and every part."""
    return Event(
        id=new_id(),
        kind=kind,
        about=about,
        day=day.isoformat(),
        written=stamp(),
        what=tidy(what),
        tool=tool(),
        details={name: text for name, text in details.items() if text or name.startswith(PART)},
    )


def withdrawal(about: Event) -> Event:
    """The counter-event that takes another out."""
    day = datetime.date.fromisoformat(about.day)
    return event_of("withdrawn", about.what, day, {}, about.id)


def past_day(text: str | None, *, dose: bool = False) -> datetime.date:
    """The day that was typed, else today.

    Parameters
    ----------
    text : str or None
    dose : bool
        Whether a dose was given on it, for the sentence of a refusal.

    Raises
    ------
    DoseError
        For a day that is none, or lies ahead.
    """
    day = day_of(text)
    if day > datetime.date.today():
        raise refuse("season-future" if dose else "event-future", day=day)
    return day

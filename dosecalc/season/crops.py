"""Which crops stand on a piece of ground, from when to when."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from dosecalc.season.events import Event
from dosecalc.season.ground import Ground, Lineage


@dataclass(frozen=True, slots=True)
class Growing:
    """One crop on one piece of ground.

    Parameters
    ----------
    crop : str
        Id of the crop.
    start : str or None
        Day; None where only its end was written down.
    end : str or None
        Day, which still belongs to it; None while it stands.
    place : str
        Where it was begun.
    """

    crop: str
    start: str | None
    end: str | None
    place: str


def growing(ground: Ground, lineage: Lineage, events: Iterable[Event]) -> tuple[Growing, ...]:
    """Every crop of the ground, the oldest first; a crop that was begun on one of its parts too.

    Parameters
    ----------
    events : iterable of Event
        Those of the kinds "crop start" and "crop end" that were not withdrawn.

    An end ends each crop of its name that was begun before on the same ground; one that still
    stands on another part of what was merged since goes on.
    """
    mine: list[list[Event]] = [[] for _ in lineage.pieces]
    for event in events:
        step = ground.step(lineage, event.what, event.day)
        if step is not None:
            mine[step].append(event)
    found: list[set[Growing]] = []
    for piece, own in zip(lineage.pieces, mine, strict=True):
        here: set[Growing] = set()
        for origin in piece.origins:
            here |= found[origin.at]
        for event in own:
            crop = event.details.get("crop", "")
            if event.kind == "crop start":
                here.add(Growing(crop, event.day, None, event.what))
            else:
                here = _ended(here, crop, event)
        found.append(here)
    standing = {(g.crop, g.start, g.place) for g in found[-1] if g.end is None}
    kept = [g for g in found[-1] if g.end is None or (g.crop, g.start, g.place) not in standing]
    return tuple(sorted(kept, key=lambda g: (g.start or "", g.end or "~", g.crop, g.place)))


def _ended(here: set[Growing], crop: str, event: Event) -> set[Growing]:
    alike = [g for g in here if g.crop == crop and g.end is None]
    before = [g for g in alike if (g.start or "") < event.day] or alike
    if not before:
        return here | {Growing(crop, None, event.day, event.what)}
    return (here - set(before)) | {replace(g, end=event.day) for g in before}


def standing_on(found: Iterable[Growing], day: str) -> tuple[Growing, ...]:
    """Those that stand on that day; the first and the last day belong to a crop."""
    return tuple(
        g for g in found
        if g.start is not None and g.start <= day and (g.end is None or day <= g.end)
    )  # fmt: skip


def window(found: Iterable[Growing], crop: str, day: str) -> tuple[str | None, str | None]:
    """From when a crop counts, and when the one of the same name before it ended.

    Parameters
    ----------
    crop : str
        Today's; "" counts from the first of those that stand.

    Returns
    -------
    tuple of (str or None, str or None)
        The first day of the crop that stands, None where none does; the last day of the one
        before, None where none was written down or it may still be on a part.
    """
    known = [g for g in found if crop in ("", g.crop)]
    now = standing_on(known, day)
    if not now:
        return None, None
    start = min(g.start for g in now if g.start is not None)
    ends = [g.end for g in known if g.end is not None and g.end <= start and crop != ""]
    return start, max(ends, default=None)

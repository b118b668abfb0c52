"""What the record adds to a job: its past, its tests, the crop that stands."""

from __future__ import annotations

import datetime
from dataclasses import replace

from dosecalc.catalog.crops import crops, find_crop
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.told import Past, Tested, ToldText
from dosecalc.errors import printable
from dosecalc.faces.record import Record
from dosecalc.say import Say
from dosecalc.season.checks import day_of
from dosecalc.season.crops import standing_on
from dosecalc.season.here import Here, here
from dosecalc.season.soil import Figure, Sampled
from dosecalc.season.store import reading


def with_ground(figures: Past, found: Here, record: Record, crop: str) -> Past:
    """The past with what the record says beside figures: tests, crops, how the ground came about.

    Parameters
    ----------
    crop : str
        Id of today's crop, "" where none was told.
    """
    day = record.day.isoformat()
    said = (*came_of(found, day), *record.said, *_grows(found, crop, day))
    tests = tuple(
        tested for test in found.tests if test.day <= day for tested in _tested(test, record.day)
    )
    return replace(figures, place=printable(record.bed), tests=tests, said=said)


def with_standing(told: ToldText, record: Record | None, garden: Garden, at: str | None) -> tuple[
    ToldText, Record | None
]:  # fmt: skip
    """What was told with the crop that the record says stands there, where none was typed.

    The record goes before the garden file: it is of that day. Where several crops stand none is
    taken.
    """
    if record is None or record.file is None or not record.bed or told.crop is not None:
        return told, record
    with reading(record.file) as base:
        found = here(base, record.bed, record.day.isoformat())
    names = found.standing(record.day.isoformat())
    if len(names) != 1:
        return told, record
    filed = None if at is None else garden.bed(at).get("crop")
    key = "season-crop"
    if filed is not None and find_crop(str(filed)).id != names[0]:
        key = "season-crop-filed"
    grown = next(g for g in standing_on(found.crops, record.day.isoformat()))
    said = Say.of(key, crop=crop_name(names[0]), day=grown.start, filed=filed or "")
    return replace(told, crop=names[0]), replace(record, said=(*record.said, said))


def crop_name(id: str) -> str:
    """What a crop is called, in small letters."""
    known = {crop.id: crop.name for crop in crops().values()}
    return known.get(id, id).lower()


def came_of(found: Here, day: str) -> list[Say]:
    """How the ground came about, and what of it does not fit together."""
    lines = []
    pieces = found.lineage.pieces
    for piece in pieces:
        if not piece.origins:
            continue
        names = [pieces[origin.at].name for origin in piece.origins]
        key = "ground-part" if len(names) == 1 else "ground-merged"
        lines.append(
            Say.of(
                key, bed=printable(piece.name), words=printable(", ".join(names)), day=piece.start
            )
        )
    late = [
        (at, e) for at, e in found.given
        if e.day <= day and pieces[at].end is not None and e.day > str(pieces[at].end)
    ]  # fmt: skip
    if late:
        beds = ", ".join(dict.fromkeys(e.bed for _, e in late))
        lines.append(Say.of("ground-late", count=len(late), words=printable(beds)))
    return [*lines, *found.ground.faults]


def _grows(found: Here, crop: str, day: str) -> list[Say]:
    """Several crops at once, or another than the one that was told."""
    names = found.standing(day)
    if len(names) > 1:
        known = ", ".join(crop_name(name) for name in names)
        return [Say.of("season-crops-several", crops=known)]
    if len(names) == 1 and crop not in ("", names[0]):
        return [Say.of("season-crop-other", crop=crop_name(names[0]), told=crop_name(crop))]
    return []


def test_says(test: Sampled) -> list[tuple[str, Say]]:
    """Each figure of a test with the element it speaks of, "" for none."""
    about = [
        Say.of(f"test-{name}", text=test.about[name])
        for name in ("crop", "depth", "lab") if test.about.get(name)
    ]  # fmt: skip
    return [
        (
            figure.element,
            Say.around(
                "test-figure", "about", [_how(test, figure), *about], "; ",
                of=figure.of, text=figure.text,
            ),
        )
        for figure in test.figures
    ]  # fmt: skip


def _how(test: Sampled, figure: Figure) -> Say:
    """The method; without it a figure of what was shaken out of soil says nothing."""
    if figure.how:
        return Say.of("test-how", text=figure.how)
    return Say.of("test-no-how" if test.of == "soil" and figure.element else "test-no-how-leaf")


def _tested(test: Sampled, today: datetime.date) -> list[Tested]:
    days = (today - day_of(test.day)).days
    return [
        Tested(test.of, element, say, printable(test.place), test.day, days)
        for element, say in test_says(test)
    ]

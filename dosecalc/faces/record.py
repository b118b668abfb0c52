"""The season's file of a job: which, which bed, which day; a `Mix` as an entry."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from dosecalc.catalog.limit import Limit
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.told import Past
from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.errors import printable, refuse
from dosecalc.say import Say
from dosecalc.units.measure import MASS, VOLUME, Measure, exact_text
from dosecalc.units.spread import Span

if TYPE_CHECKING:  # a dose without a record does without the season's modules
    from dosecalc.season.entries import Entry

NAME = "season.sqlite"
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class Record:
    """Where the past of a job stands.

    Parameters
    ----------
    file : Path or None
        None where there is no record yet.
    bed : str
        "" where none was told: then nothing is counted.
    day : date
        What was given after it is not counted.
    without : str
        An entry that is not counted, as it was typed: the one that is being corrected.
    planned : tuple of Entry
        Doses that are to be given before this one, counted as if they had been.
    said : tuple of Say
        What of the record already stands in the job: the crop that it took from there.
    """

    file: Path | None
    bed: str
    day: datetime.date
    without: str = ""
    planned: tuple[Entry, ...] = ()
    said: tuple[Say, ...] = ()


def file_of(named: str | None, garden: Path | None) -> Path:
    """The season's file: named, else the one beside the garden file or in this folder."""
    if named is not None:
        return Path(named)
    return Path(NAME) if garden is None else garden.with_name(NAME)


def record_of(named: str | None, garden: Path | None, bed: str, day: str | None) -> Record | None:
    """The record that a job is judged with; None where no file is there.

    Where a file is there but no bed was told, a record without a bed: nothing of it is counted,
    and `with_past_said` says so.

    Raises
    ------
    DoseError
        When a file was named and is missing or no bed was told, and for a day that is none.
    """
    file = file_of(named, garden)
    if named is None and not file.is_file():
        return None
    from dosecalc.season.places import tidy

    bed = tidy(bed)
    if named is not None and not bed:
        raise refuse("season-bed")
    return Record(file, bed, day_of(day))


def past_of(record: Record, limits: Iterable[Limit], crop: str, recipe: Recipe) -> Past:
    """What the record says of its place before today.

    Raises
    ------
    DoseError
        When the file cannot be read or what it holds is damaged, and for ground that is no more
        or not yet there on that day.
    """
    from dosecalc.faces.past import with_ground
    from dosecalc.season.entries import one
    from dosecalc.season.here import here
    from dosecalc.season.places import near
    from dosecalc.season.store import reading
    from dosecalc.season.totals import past

    if record.file is None:
        return past(record.planned, limits, record.day, crop, recipe)
    with reading(record.file) as base:
        out = one(base, record.without).id if record.without else ""
        found = here(base, record.bed, record.day.isoformat())
        entries = found.given
        counted = found.with_given(
            [*(pair for pair in entries if pair[1].id != out), *found.placed(record.planned)]
        )
        made = past(counted, limits, record.day, crop, recipe)
        made = with_ground(made, counted, record, crop)
        return made if entries else replace(made, near=near(base, record.bed))


def with_past_said(mix: Mix, record: Record | None, past: Past) -> Mix:
    """The `Mix` with a line on what the record holds of its place, and on a place spelt nearly so.

    Parameters
    ----------
    mix : Mix
    record : Record or None
        None leaves the `Mix` as it is.
    past : Past
    """
    if record is None:
        return mix
    if not record.bed:
        unread = Say.of("season-no-place", path=printable(str(record.file)))
        return replace(mix, not_told=(*mix.not_told, unread))
    bed = printable(record.bed)
    key = {0: "season-past-none", 1: "season-past-one"}.get(past.entries, "season-past")
    said = Say.of(key, bed=bed, count=past.entries, day=record.day)
    found = mix.findings
    if past.near:
        say = Say.of("season-near", bed=bed, near=printable(past.near))
        note = Finding("place-near", "note", "place-near", "record", say)
        found = tuple(sorted((*found, note), key=lambda one: LEVELS.index(one.level)))
    read_as = (*mix.read_as, said, *past.said)
    return replace(mix, read_as=read_as, findings=found)


def day_of(text: str | None) -> datetime.date:
    """The day that was typed, else today where this machine stands.

    Raises
    ------
    DoseError
        For anything that is no day.
    """
    if text is None:
        return datetime.date.today()
    try:
        if not _DAY.fullmatch(text):
            raise ValueError
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise refuse("season-day", text=text) from None


def entry_of(mix: Mix, placement: str, crop: str, *, day: str, bed: str) -> Entry:
    """A `Mix` as an entry of the record, given; who gave it and the rest is the caller's to add.

    Parameters
    ----------
    mix : Mix
    placement, crop : str
    day : str
        YYYY-MM-DD.
    bed : str
    """
    from dosecalc.season.entries import Entry, new_id

    amounts: dict[tuple[str, str], tuple[str, str, str]] = {}
    for item in mix.amounts:
        if item.material == "water":
            continue
        for kind, span in (("asked mass", item.mass), ("asked volume", item.volume)):
            if span is not None:
                amounts[kind, item.material] = _exact(span)
        measured = _measured(mix, item.material)
        if measured is not None:
            amounts["measured", item.material] = _exact(measured)
    for supply in mix.supplies:
        amounts["nutrient", supply.nutrient] = _exact(supply.mass)
    ground = {
        name: exact_text(size) if isinstance(size, Measure) else f"{size} {name.removesuffix('s')}"
        for name, size in mix.site
    }
    return Entry(
        id=new_id(),
        kind="given",
        about=None,
        day=day,
        written=stamp(),
        bed=bed,
        recipe=mix.recipe_id,
        placement=placement,
        crop=crop,
        tool=tool(),
        amounts=amounts,
        ground=ground,
    )


def _measured(mix: Mix, material: str) -> Span | None:
    """What the measuring actions deliver of a material in all; None where they do not add up."""
    spans = [m.amount for f in mix.tankfuls for m in f.measures if m.material == material]
    kinds = {Measure(s.likely, s.unit).is_a(MASS) for s in spans}
    if not spans or len(kinds) != 1 or any(f.batch is not None for f in mix.tankfuls):
        return None
    first = spans[0]
    if not (
        Measure(first.likely, first.unit).is_a(MASS)
        or Measure(first.likely, first.unit).is_a(VOLUME)
    ):
        return None
    low = likely = high = first.low * 0
    for span in (span.to(first.unit) for span in spans):
        low, likely, high = low + span.low, likely + span.likely, high + span.high
    return Span(low, likely, high, first.unit)


def _exact(span: Span) -> tuple[str, str, str]:
    low, likely, high = span.measures()
    return exact_text(low), exact_text(likely), exact_text(high)


def undo_of(about: Entry) -> Entry:
    """The counter-entry that takes another out of every total."""
    from dosecalc.season.entries import Entry, new_id

    return Entry(
        id=new_id(),
        kind="undo",
        about=about.id,
        day=about.day,
        written=stamp(),
        bed=about.bed,
        tool=tool(),
    )


def stamp() -> str:
    """When something is written down: now, UTC, as text."""
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="microseconds")


def tool() -> str:
    """Our version, as it stands beside what is written down."""
    from importlib.metadata import version

    return f"dosecalc {version('dosecalc')}"

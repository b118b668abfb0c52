"""What is no dose, as events of the record: crops, tests, beds split and merged."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence

from dosecalc.catalog.crops import find_crop
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.errors import DoseError, printable, refuse
from dosecalc.faces.past import crop_name, test_says
from dosecalc.faces.written import event_of, withdrawal
from dosecalc.say import Say
from dosecalc.season.events import Event, add_event, one_event, standing
from dosecalc.season.ground import PART, Ground, follow, sizes
from dosecalc.season.here import Base, first_days, given_after, here
from dosecalc.season.places import folded
from dosecalc.season.soil import details_of, read_figure, sampled
from dosecalc.units import read
from dosecalc.units.measure import AREA, LENGTH, Measure, exact_text
from dosecalc.units.show import listed, show

MOST_NAME = 80


def start_crop(base: Base, crop: str, place: str, day: datetime.date, note: str) -> list[Say]:
    """Write that a crop stands from a day on."""
    found = find_crop(crop)
    there = here(base, place, day.isoformat())
    event = event_of("crop start", place, day, {"crop": found.id, "name": crop, "note": note})
    add_event(base, event)
    said = [Say.of("crop-started", crop=crop_name(found.id), place=place, day=day, id=event.id)]
    others = [crop_name(id) for id in there.standing(day.isoformat())]
    if others:
        said.append(Say.of("crop-beside", others=listed(others)))
    return said


def end_crop(base: Base, crop: str | None, place: str, day: datetime.date, note: str) -> list[Say]:
    """Write that a crop ended; the one that stands, where none is named.

    Raises
    ------
    DoseError
        When none is named and none or several stand.
    """
    names = here(base, place, day.isoformat()).standing(day.isoformat())
    if crop is None and len(names) != 1:
        known = listed([crop_name(name) for name in names]) if names else ""
        raise refuse("crop-which" if names else "crop-no-end", crops=known, place=place, day=day)
    id = names[0] if crop is None else find_crop(crop).id
    event = event_of("crop end", place, day, {"crop": id, "name": crop or "", "note": note})
    add_event(base, event)
    said = [Say.of("crop-ended", crop=crop_name(id), place=place, day=day, id=event.id)]
    if id not in names:
        said.append(Say.of("crop-no-start", crop=crop_name(id), place=place))
    return said


def add_test(
    base: Base, of: str, figures: Sequence[str], place: str, day: datetime.date,
    about: Mapping[str, str],
) -> list[Say]:  # fmt: skip
    """Write a soil or leaf test, each figure as told."""
    here(base, place, day.isoformat())
    method = about.get("method", "")
    told = {name: text for name, text in about.items() if name != "method"}
    details = details_of(of, [read_figure(text, method) for text in figures], told)
    event = event_of("test", place, day, details)
    add_event(base, event)
    shown = "; ".join(say.english() for _, say in test_says(sampled(event)))
    return [Say.of("test-logged", id=event.id, of=of, place=place, day=day, figures=shown)]


def split(
    base: Base, place: str, parts: Sequence[str], day: datetime.date, garden: Garden,
    size: str | None,
) -> list[Say]:  # fmt: skip
    """Write that a place was split into parts.

    Raises
    ------
    DoseError
        For fewer than two parts, a size that is none, a name that is in use, and ground that is
        not there on that day.
    """
    if len(parts) < 2:
        raise refuse("ground-one", text=" ".join(parts))
    found = _named(parts)
    whole = _typed(size) if size else _bed_size(garden, place)
    _one_kind(found, " ".join(parts))
    details = {f"{PART}{name}": text for name, text in found.items()}
    event = event_of("split", place, day, {**details, "size": whole})
    ground = _fitting(base, event)
    add_event(base, event)
    shown = _named_text(found)
    said = [Say.of("ground-split", id=event.id, name=place, parts=shown, day=day)]
    return [*said, *_about(base, ground, event, [place], list(found))]


def merge(
    base: Base, parts: Sequence[str], place: str, day: datetime.date, garden: Garden
) -> list[Say]:
    """Write that several places became one; a size that is not told is taken from what is known.

    Raises
    ------
    DoseError
        As `split`, and for a size that nobody told.
    """
    if len(parts) < 2:
        raise refuse("ground-merge-one", text=" ".join(parts))
    found = _named(parts)
    before = _ground(base, None)
    for name, text in found.items():
        if not text:
            known = before.now(name, day.isoformat())
            text = known.piece.size if known is not None else ""
            found[name] = text or _bed_size(garden, name)
        if not found[name]:
            raise refuse("ground-no-size", name=name)
    _one_kind(found, " ".join(parts))
    event = event_of("merge", place, day, {f"{PART}{name}": text for name, text in found.items()})
    ground = _fitting(base, event)
    add_event(base, event)
    shown = _named_text(found)
    said = [Say.of("ground-merge", id=event.id, name=place, parts=shown, day=day)]
    return [*said, *_about(base, ground, event, list(found), [place])]


def withdraw(base: Base, id: str) -> list[Say]:
    """Take an event out; it stays readable. "last" is the last one written that still stands.

    Raises
    ------
    DoseError
        When there is none, it was withdrawn before, or later ground rests on it.
    """
    if id == "last":
        newest = max(standing(base), key=lambda event: event.written, default=None)
        id = newest.id if newest is not None else id
    try:
        about = one_event(base, id)
    except DoseError:
        raise refuse("event-no", text=id) from None
    if about.kind in ("split", "merge"):
        rest = [e for e in standing(base, ("split", "merge")) if e.id != about.id]
        old = set(follow(standing(base, ("split", "merge"))).faults)
        new = [fault for fault in follow(rest).faults if fault not in old]
        if new or _rests(rest, about):
            raise refuse("ground-rests", id=about.id)
    add_event(base, withdrawal(about))
    said = Say.of("event-withdrawn", id=about.id, kind=about.kind, what=about.what, day=about.day)
    return [said]


def _rests(rest: Sequence[Event], about: Event) -> bool:
    """Whether a later split or merge ends ground that this event began."""
    began = set(map(folded, sizes(about) if about.kind == "split" else [about.what]))
    later = [e for e in rest if (e.day, e.written) > (about.day, about.written)]
    ends = {folded(n) for e in later for n in ([e.what] if e.kind == "split" else sizes(e))}
    return not began.isdisjoint(ends)


def event_lines(events: Sequence[Event]) -> list[Say]:
    """One line for each event."""
    return [
        Say.of(
            "event-listed", id=event.id, day=event.day, kind=event.kind,
            what=printable(event.what), details=printable(details_text(event)),
        )
        for event in events
    ]  # fmt: skip


def details_text(event: Event) -> str:
    """What an event tells, in one line."""
    if event.kind == "test":
        test = sampled(event)
        shown = "; ".join(say.english() for _, say in test_says(test))
        return f"{test.of}: {shown}"
    if event.kind in ("split", "merge"):
        word = "into" if event.kind == "split" else "of"
        return f"{word} {_named_text(sizes(event))}"
    if event.kind.startswith("crop"):
        return crop_name(event.details.get("crop", ""))
    return ", ".join(f"{name} {text}" for name, text in sorted(event.details.items()))


def _named(parts: Sequence[str]) -> dict[str, str]:
    """Each part's name with its size: "north-a 12 m2"; "" where no size was told."""
    found: dict[str, str] = {}
    for text in parts:
        clean = read.tidy(text, "a place", "north-a 12 m2")
        name, size = clean, ""
        for at in range(1, clean.count(" ") + 1):
            words = clean.split(" ")
            if words[at][:1].isdigit() and _is_size(" ".join(words[at:])):
                name, size = " ".join(words[:at]), " ".join(words[at:])
                break
        if not size and any(word[:1].isdigit() for word in clean.split(" ")[1:]):
            raise refuse("ground-size", text=text)
        if len(name) > MOST_NAME or (name[:1].isdigit() and _is_size(name)):
            raise refuse("ground-size", text=text)
        if folded(name) in map(folded, found):
            raise refuse("ground-twice", text=name)
        found[name] = _typed(size) if size else ""
    return found


def _is_size(text: str) -> bool:
    try:
        _typed(text)
    except DoseError:
        return False
    return True


def _typed(text: str) -> str:
    """A size as exact text."""
    size = read.quantity(text, want="a size", example="12 m2")
    if size.value <= 0 or not (size.is_a(AREA) or size.is_a(LENGTH)):
        raise refuse("ground-size", text=text)
    return exact_text(size)


def _one_kind(parts: Mapping[str, str], text: str) -> None:
    told = [read.quantity(size) for size in parts.values() if size]
    if told and not any(all(size.is_a(dim) for size in told) for dim in (AREA, LENGTH)):
        raise refuse("ground-kinds", text=text)


def _named_text(parts: Mapping[str, str]) -> str:
    return listed([f"{n} ({size_text(size)})" if size else n for n, size in parts.items()])


def size_text(size: str) -> str:
    """A size as a person reads it; one that cannot be read (from a file taken in) as it stands."""
    try:
        return show(read.quantity(size)).metric
    except DoseError:
        return printable(size)


def _bed_size(garden: Garden, name: str) -> str:
    """The size of a bed of the garden file: its area, else its row; "" where there is none."""
    if name not in garden.data.get("bed", {}):
        return ""
    site = read_site(garden.site(SiteText(), name))
    size: Measure | None = site.ground or site.row_length
    return "" if size is None else exact_text(size)


def _ground(base: Base, event: Event | None) -> Ground:
    events = [*standing(base, ("split", "merge")), *([] if event is None else [event])]
    events.sort(key=lambda e: (e.day, e.written, e.id))
    return follow(events, first_days(base))


def _fitting(base: Base, event: Event) -> Ground:
    """The ground with one event more.

    Raises
    ------
    DoseError
        When the event does not fit what is on record.
    """
    old = set(_ground(base, None).faults)
    ground = _ground(base, event)
    new = [fault for fault in ground.faults if fault not in old]
    if new:
        args = dict(new[0].args)
        if new[0].key == "ground-in-use" and _only_entries(base, args["bed"]):
            raise refuse("ground-used", name=args["bed"], day=args["day"])
        raise refuse(new[0].key, **args)
    return ground


def _only_entries(base: Base, name: str) -> bool:
    pieces = follow(standing(base, ("split", "merge"))).pieces
    return all(folded(piece.name) != folded(name) for piece in pieces)


def _about(base: Base, ground: Ground, event: Event, old: list[str], new: list[str]) -> list[Say]:
    """What the grower should know of it: sizes that do not add up, entries of later days."""
    said = [say for say in ground.said if dict(say.args).get("id") == event.id]
    for name in old:
        count = 0 if folded(name) in map(folded, new) else given_after(base, name, event.day)
        if count:
            said.append(
                Say.of("ground-after", count=count, name=name, day=event.day, parts=listed(new))
            )
    others = [e for e in standing(base) if e.id != event.id]
    names = {*(e.what for e in others), *(n for e in others for n in sizes(e))}
    heard = {*first_days(base), *map(folded, names)}
    unheard = [name for name in old if folded(name) not in heard]
    return [*said, *(Say.of("ground-unheard", name=name) for name in unheard)]

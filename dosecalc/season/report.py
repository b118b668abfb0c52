"""What the record comes to over some time: each ground's doses, totals and the limits in scope.

A limit is held against what the judge would have said on the day of each dose, with that dose and
all that counts beside it; the worst of those days stands in the report.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.crops import GENERAL, Crop, crops
from dosecalc.catalog.formula import OXIDES
from dosecalc.catalog.limit import Limit
from dosecalc.catalog.lookup import material, material_ids
from dosecalc.catalog.material import Material
from dosecalc.season.checks import amount_of, day_of
from dosecalc.season.entries import Entry, counting, everything
from dosecalc.season.events import Event, every_event
from dosecalc.season.ground import Ground, Lineage
from dosecalc.season.here import Base, Here, gathered, ground_of
from dosecalc.season.places import folded
from dosecalc.season.totals import Spread, figure, holds, in_window, summed, times
from dosecalc.units.measure import GRAM, MASS

Window = tuple[str, str]
SALT = "salt:"
_OPEN_GROUND = frozenset({"field", "garden"})


@dataclass(frozen=True, slots=True)
class Scope:
    """What decides which limits speak of a ground, beside its entries.

    Parameters
    ----------
    region, setting, phase : str or None
    """

    region: str | None = None
    setting: str | None = None
    phase: str | None = None


@dataclass(frozen=True, slots=True)
class Held:
    """One limit and the most that was reached of it.

    Parameters
    ----------
    low, likely, high : Fraction
        In the unit of the limit, of the part of the ground that got the most.
    mean : Fraction or None
        The likely mean over the ground; None where the sizes of its parts are not known.
    day : str
        The day on which it was reached.
    together : int
        How many entries count together on that day.
    """

    limit: Limit
    low: Fraction
    likely: Fraction
    high: Fraction
    mean: Fraction | None
    day: str
    together: int

    @property
    def over(self) -> str:
        """Which figure exceeds the limit: "likely", "high", or "" for none."""
        most = self.limit.limit.value
        for name, value in (("likely", self.likely), ("high", self.high)):
            if value > most or (value == most and not self.limit.inclusive):
                return name
        return ""


@dataclass(frozen=True, slots=True)
class Total:
    """All of one nutrient or material within the time.

    Parameters
    ----------
    mass : tuple of Fraction or None
        Low, likely, high in grams; what was given to ground that was split since is shared by
        size. None where a weight or a size is not known.
    per_area : tuple of Fraction or None
        The same in g/m2 of the part that got the most.
    mean : Fraction or None
        The likely mean over the ground.
    without_area : int
        Entries of it that tell no area and are left out of `per_area`.
    """

    what: str
    nutrient: bool
    mass: Spread | None
    per_area: Spread | None
    mean: Fraction | None
    without_area: int


@dataclass(frozen=True, slots=True)
class OfPlace:
    """One ground over the time of the report."""

    here: Here
    given: tuple[tuple[int, Entry], ...]
    totals: tuple[Total, ...]
    held: tuple[Held, ...]
    untold: tuple[tuple[Limit, int], ...]
    unlimited: tuple[str, ...]
    foreign: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report.

    Parameters
    ----------
    window : tuple of (str, str)
        First and last day.
    changed : tuple of (Entry, Entry)
        What was corrected or undone, and the counter-entry.
    events : tuple of Event
        Stock of that time, and what was withdrawn, each before the event that withdraws it.
    """

    window: Window
    places: tuple[OfPlace, ...]
    changed: tuple[tuple[Entry, Entry], ...]
    events: tuple[Event, ...]


Limits = Callable[[Iterable[str], Iterable[Material]], Iterable[Limit]]


def report(
    base: Base, window: Window, place: str | None, scope: Callable[[str], Scope], limits: Limits
) -> Report | None:
    """The record between two days, both included.

    Parameters
    ----------
    place : str or None
        None for every ground.
    scope : callable
        From a place's name to what is known of it.
    limits : callable
        From nutrients and materials to the limits that may speak of them.

    Returns
    -------
    Report or None
        None where the record does not know the place.
    """
    ground = ground_of(base)
    wanted = [
        found
        for lineage in _lineages(base, ground, window, place)
        if _lived(found := gathered(base, ground, lineage), window)
    ]
    names = {folded(name) for found in wanted for name in found.lineage.names}
    if place is not None:
        known = {folded(entry.bed) for entry in counting(base)}
        known |= {folded(piece.name) for piece in ground.pieces}
        known |= {folded(event.what) for event in every_event(base)}
        if folded(place) not in known:
            return None
        names.add(folded(place))
    places = tuple(_of_place(found, window, scope, limits) for found in wanted)
    every = {entry.id: entry for entry in everything(base)}
    changed = tuple(
        (every[entry.about], entry)
        for entry in every.values()
        if entry.about is not None
        and (_within(entry.day, window) or _within(every[entry.about].day, window))
        and (place is None or {folded(entry.bed), folded(every[entry.about].bed)} & names)
    )
    return Report(window, places, changed, _told(base, window, names, place))


def _told(base: Base, window: Window, names: set[str], place: str | None) -> tuple[Event, ...]:
    events = every_event(base)
    out = {event.about for event in events if event.about is not None}
    return tuple(
        event
        for event in events
        if _within(event.day, window)
        and (event.kind.startswith("stock") or event.kind == "withdrawn" or event.id in out)
        and (place is None or event.kind.startswith("stock") or folded(event.what) in names)
    )


def _lineages(base: Base, ground: Ground, window: Window, place: str | None) -> list[Lineage]:
    """Every ground of that name, or of any, that was there within the time."""
    start, end = window
    found: list[Lineage] = []
    split = {folded(piece.name) for piece in ground.pieces}
    alone: dict[str, str] = {}
    for entry in counting(base):
        alone.setdefault(folded(entry.bed), entry.bed)
    for event in every_event(base):
        if event.kind in ("crop start", "crop end", "test"):
            alone.setdefault(folded(event.what), event.what)
    for key, name in alone.items():
        if key not in split and (place is None or key == folded(place)):
            lineage = ground.now(name, end)
            assert lineage is not None
            found.append(lineage)
    for at, piece in enumerate(ground.pieces):
        there = (piece.start or "") <= end and (piece.end or "~") >= start
        if there and (place is None or folded(piece.name) == folded(place)):
            found.append(ground.lineage(at))
    return sorted(found, key=lambda one: (folded(one.piece.name), one.piece.start or ""))


def _lived(found: Here, window: Window) -> bool:
    """Whether anything is to be said of the ground within the time."""
    return (
        any(_within(entry.day, window) for _, entry in found.given)
        or any(_within(test.day, window) for test in found.tests)
        or any((g.start or "") <= window[1] and (g.end or "~") >= window[0] for g in found.crops)
    )


def _within(day: str, window: Window) -> bool:
    return window[0] <= day <= window[1]


def _of_place(
    found: Here, window: Window, scope: Callable[[str], Scope], limits: Limits
) -> OfPlace:
    given = tuple(pair for pair in found.given if _within(pair[1].day, window))
    known = set(material_ids())
    ids = dict.fromkeys(
        what for _, e in given for kind, what in e.amounts if kind.startswith("asked")
    )
    mine = [material(id) for id in ids if id in known]
    nutrients = dict.fromkeys(what for _, e in given for kind, what in e.amounts
                              if kind == "nutrient")  # fmt: skip
    totals = [_total(found, given, name, nutrient=True) for name in sorted(nutrients)]
    totals += [_total(found, given, m.id, nutrient=False) for m in mine if m.by_weight]
    told = scope(found.lineage.piece.name)
    held: list[Held] = []
    untold: list[tuple[Limit, int]] = []
    for limit in limits(nutrients, mine):
        if not limit.judges or limit.lower:
            continue
        spoken = [e for _, e in given if _speaks(limit, e) and _in_scope(limit, e, found, told)]
        if not spoken:
            continue
        if limit.of.startswith(SALT):
            untold.append((limit, len(spoken)))
            continue
        one, missing = _held(limit, spoken, found)
        held += [] if one is None else [one]
        untold += [(limit, missing)] if missing else []
    words = {h.limit.of for h in held} | {limit.of for limit, _ in untold}
    unlimited = [
        m.name for m in mine
        if m.id not in words and not words & {f"trait:{t}" for t in m.traits}
        and not any(c.element in words for c in m.contents)
    ]  # fmt: skip
    foreign = tuple(id for id in ids if id not in known)
    held.sort(key=_by_ratio)
    return OfPlace(
        found, given, tuple(totals), tuple(held), tuple(untold), tuple(unlimited), foreign
    )


def _speaks(limit: Limit, entry: Entry) -> bool:
    """Whether a limit is about an entry, one on salts together among them."""
    if not limit.of.startswith(SALT):
        return holds(limit, entry)
    words = {OXIDES[w][0] if w in OXIDES else w for w in limit.of.removeprefix(SALT).split("+")}
    given = {what for kind, what in entry.amounts if kind == "nutrient"}
    fits = "any" in limit.placement or entry.placement in limit.placement
    return fits and not words.isdisjoint(given)


def _by_ratio(one: Held) -> tuple[int, Fraction]:
    most = one.limit.limit.value
    return ({"likely": 0, "high": 1, "": 2}[one.over], -one.likely / most if most else Fraction(0))


def _held(limit: Limit, spoken: Sequence[Entry], found: Here) -> tuple[Held | None, int]:
    """The worst day of one limit, and how many entries do not tell what it is counted over."""
    about = [(at, e, figure(limit, e)) for at, e in found.given if holds(limit, e)]
    worst: Held | None = None
    mean: Fraction | None
    missing = 0
    for entry in spoken:
        day = day_of(entry.day)
        since = found.window(entry.crop, entry.day)
        beside = [
            (at, e, span)
            for at, e, span in about
            if e is entry or (e.day <= entry.day and in_window(limit, e, day, entry.crop, since))
        ]
        if limit.per == "count":
            count = Fraction(times(found, [at for at, _, _ in beside]))
            low, likely, high, mean = count, count, count, count
        else:
            mine = next(span for _, e, span in beside if e is entry)
            missing += mine is None
            some = summed(found, [(at, span) for at, _, span in beside])
            if some is None or mine is None:
                continue
            low, likely, high, mean = some
        if worst is None or (likely, high) > (worst.likely, worst.high):
            worst = Held(limit, low, likely, high, mean, entry.day, len(beside))
    return worst, missing


def _in_scope(limit: Limit, entry: Entry, found: Here, told: Scope) -> bool:
    """As `dose.scene.in_scope`, by what an entry tells; the placement stands in `totals.holds`."""
    grown = _crops_of(entry, found)
    words = frozenset(word for crop in grown for word in crop.words)
    settings = frozenset({told.setting}) if told.setting else _settings(entry, grown)
    return (
        ("any" in limit.crops or not limit.crops.isdisjoint(words))
        and limit.not_crops.isdisjoint(words)
        and ("any" in limit.setting or not limit.setting.isdisjoint(settings))
        and limit.region in ("any", told.region)
        and (limit.phase == "any" or told.phase in (None, limit.phase))
    )


def _crops_of(entry: Entry, found: Here) -> list[Crop]:
    """The crop it was given to, else those that stood there, else vegetables in general."""
    known = {crop.id: crop for crop in crops().values()}
    ids = [entry.crop] if entry.crop else found.standing(entry.day)
    return [known[id] for id in ids if id in known] or [GENERAL]


def _settings(entry: Entry, grown: Iterable[Crop]) -> frozenset[str]:
    if "pots" in entry.ground or "volume" in entry.ground:
        return frozenset({"container"})
    return frozenset(s for crop in grown for s in crop.settings) or _OPEN_GROUND


def _total(found: Here, given: Iterable[tuple[int, Entry]], what: str, *, nutrient: bool) -> Total:
    kind = "nutrient" if nutrient else "asked mass"
    masses = found.lineage.masses()
    mass: list[Fraction] | None = [Fraction(0)] * 3
    spans: list[tuple[int, Spread | None]] = []
    without = 0
    for at, entry in given:
        texts = entry.amounts.get((kind, what))
        if texts is None:
            if not nutrient and ("asked volume", what) in entry.amounts:
                mass, without = None, without + 1
            continue
        low, likely, high = (amount_of(text) for text in texts)
        if not likely.is_a(MASS):
            continue
        grams = (low.amount_in(GRAM), likely.amount_in(GRAM), high.amount_in(GRAM))
        part = masses[at]
        if mass is None or part is None:
            mass = None
        else:
            mass = [a + part * b for a, b in zip(mass, grams, strict=True)]
        area = entry.ground.get("judged_area")
        if area is None:
            without += 1
            continue
        size = amount_of(area).amount_in((("meter", 2),))
        spans.append((at, (grams[0] / size, grams[1] / size, grams[2] / size)))
    total = summed(found, spans)
    return Total(
        what, nutrient, None if mass is None else (mass[0], mass[1], mass[2]),
        None if total is None else total[:3], None if total is None else total[3], without,
    )  # fmt: skip

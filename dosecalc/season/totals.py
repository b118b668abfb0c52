"""What the record says of one bed before today: totals over each limit's window, days since."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from fractions import Fraction

from dosecalc.catalog.formula import OXIDES, element_of
from dosecalc.catalog.limit import Limit
from dosecalc.catalog.lookup import material, material_ids
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.told import Before, Past
from dosecalc.dose.scene import by_volume
from dosecalc.season.checks import amount_of, day_of
from dosecalc.season.entries import Entry
from dosecalc.season.here import Here, alone
from dosecalc.units.measure import Measure

_BASES = {
    "field area": "judged_area", "band area": "band_area", "row length": "row_length",
    "depth": "area", "medium volume": "volume",
}  # fmt: skip
_NARROW = frozenset({"B", "Cu", "Mo", "Zn"})
_LONGEST_CROP = 365
"""Days within which entries for one crop on one bed are one crop, where no end was told
(common practice, no source)."""


def past(
    entries: Iterable[Entry] | Here,
    limits: Iterable[Limit],
    day: datetime.date,
    crop: str,
    recipe: Recipe | None = None,
) -> Past:
    """The past of one bed, as the judge takes it.

    Parameters
    ----------
    entries : iterable of Entry or Here
        Of that bed, those that count; a `Here` also knows what the bed came of and what grew.
    limits : iterable of Limit
        Those that may speak of today's materials.
    day : date
        Today's: what was given later is not counted.
    crop : str
        Today's crop: a limit for one crop counts the entries of that crop.
    recipe : Recipe or None
        Today's, where it says itself how often at most.

    Of ground that was merged the part that got the most is judged; the mean stands beside it.

    Raises
    ------
    DamagedError
        When a day or an amount of the record cannot be read.
    """
    here = entries if isinstance(entries, Here) else alone(entries)
    found = [(at, e) for at, e in here.given if day_of(e.day) <= day]
    since = here.window(crop, day.isoformat())
    figures: list[tuple[str, tuple[Fraction, Fraction, Fraction]]] = []
    means: list[tuple[str, Fraction | None]] = []
    counts: list[tuple[str, int]] = []
    for limit in limits:
        mine = [
            (at, e) for at, e in found if in_window(limit, e, day, crop, since) and holds(limit, e)
        ]
        if not mine:
            continue
        counts.append((limit.id, times(here, [at for at, _ in mine])))
        total = summed(here, [(at, figure(limit, e)) for at, e in mine])
        if total is not None:
            low, likely, high, mean = total
            figures.append((limit.id, (low, likely, high)))
            if mean != likely:
                means.append((limit.id, mean))
    alike = [at for at, e in found if recipe and _alike(recipe, e, day, crop, since)]
    return Past(
        tuple(figures), tuple(counts), _since([e for _, e in found], day), len(found),
        times(here, alike), means=tuple(means),
    )  # fmt: skip


Since = tuple[str | None, str | None]
Spread = tuple[Fraction, Fraction, Fraction]


def summed(
    here: Here, given: Iterable[tuple[int, Spread | None]]
) -> tuple[Fraction, Fraction, Fraction, Fraction | None] | None:
    """Low, likely and high of the part that got the most, and the likely mean over the ground.

    Parameters
    ----------
    given : iterable of (int, tuple or None)
        The piece of the lineage and the figure of each entry; None where the record does not
        tell it. None at all gives None; a mean is None where sizes are not known.
    """
    own = [[Fraction(0)] * 3 for _ in here.lineage.pieces]
    known = False
    for at, span in given:
        if span is not None:
            known = True
            own[at] = [a + b for a, b in zip(own[at], span, strict=True)]
    if not known:
        return None
    low, likely, high = here.lineage.highest(own)
    mean = here.lineage.mean([row[1] for row in own]) if here.lineage.merged else likely
    return low, likely, high, mean


def times(here: Here, pieces: Iterable[int]) -> int:
    """How often some part of the ground met one of them."""
    own = [[Fraction(0)] for _ in here.lineage.pieces]
    for at in pieces:
        own[at][0] += 1
    return int(here.lineage.highest(own)[0])


def _alike(recipe: Recipe, entry: Entry, day: datetime.date, crop: str, since: Since) -> bool:
    """Whether the same recipe was given within the window that it names itself."""
    window = None if recipe.repeat is None else recipe.repeat.window
    if entry.recipe != recipe.id:
        return False
    if window == "crop":
        return _met(entry, day, crop, since, longest=False)
    then = day_of(entry.day)
    return then > years_before(day, 1) if window == "year" else then.year == day.year


def years_before(day: datetime.date, years: int) -> datetime.date:
    """The same day so many years ago; 29 February is the 28th where there is none."""
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return day.replace(year=day.year - years, day=28)


def in_window(limit: Limit, entry: Entry, day: datetime.date, crop: str, since: Since) -> bool:
    """Whether an entry lies in the window that a limit counts over, as of `day`.

    Parameters
    ----------
    since : tuple of (str or None, str or None)
        From when the crop of today stands, and when the one before it ended; see `crops.window`.
    """
    then = day_of(entry.day)
    if limit.window == "lifetime":
        return True
    if limit.window == "rolling years":
        return then > years_before(day, limit.years or 1)
    if limit.window in ("crop", "application"):
        met = _met(entry, day, crop, since, longest=limit.window == "application")
        return met and (limit.window == "crop" or _narrow(limit, entry))
    return then.year == day.year  # a season and a calendar year


def _met(entry: Entry, day: datetime.date, crop: str, since: Since, *, longest: bool) -> bool:
    """Whether the crop of today met an entry.

    All that was given since the crop was begun counts, whichever crop was named with it, and what
    was given for it before: on ground made ready for beetroot the beetroot meets it. With
    `longest` no more than a year of a crop that stands for years.
    """
    start, ended = since
    recent = (day - day_of(entry.day)).days < _LONGEST_CROP
    if start is not None and entry.day >= start:
        return recent or not longest
    of_one_before = start is not None and ended is not None and entry.day <= ended
    return entry.crop == crop and recent and not of_one_before


def _narrow(limit: Limit, entry: Entry) -> bool:
    """Whether the step from enough to harm is small: then a crop meets the sum of its doses.

    A figure per application is printed for a crop that gets one (common practice, no source).
    """
    known = set(material_ids())
    ids = [id for id in _ids(limit, entry) if id in known]
    return limit.of in _NARROW or any(material(id).by_weight for id in ids)


def holds(limit: Limit, entry: Entry) -> bool:
    """Whether an entry gave, where the limit counts it, what the limit speaks of."""
    watered = entry.placement == "irrigation"  # what is in the water reaches the ground anyhow
    if "any" not in limit.placement and entry.placement not in limit.placement and not watered:
        return False
    return bool(_ids(limit, entry)) or _nutrient(limit.of) in _nutrients(entry)


def _ids(limit: Limit, entry: Entry) -> list[str]:
    """Materials of an entry that a limit speaks of by name or by trait."""
    ids = [what for kind, what in entry.amounts if kind.startswith("asked")]
    known = set(material_ids())
    if limit.of.startswith("trait:"):
        trait = limit.of.removeprefix("trait:")
        return [id for id in dict.fromkeys(ids) if id in known and trait in material(id).traits]
    return [id for id in dict.fromkeys(ids) if id == limit.of]


def _nutrient(word: str) -> str:
    return OXIDES[word][0] if word in OXIDES else word


def _nutrients(entry: Entry) -> set[str]:
    return {what for kind, what in entry.amounts if kind == "nutrient"}


def figure(limit: Limit, entry: Entry) -> Spread | None:
    """One entry's amount over the limit's basis, in the limit's unit."""
    basis = _basis(limit, entry)
    if basis is None:
        return None
    ids = _ids(limit, entry)
    kind = "asked volume" if by_volume(limit.per, limit.limit) else "asked mass"
    keys = [(kind, id) for id in ids] if ids else [("nutrient", _nutrient(limit.of))]
    share = Fraction(1) if ids or limit.of not in OXIDES else 1 / element_of(limit.of)[1]
    total = [Fraction(0)] * 3
    for key in keys:
        span = entry.amounts.get(key)
        if span is None:
            return None
        for at, text in enumerate(span):
            over = amount_of(text) / basis * share
            total[at] += over.amount_in(limit.limit.unit)
    return total[0], total[1], total[2]


def _basis(limit: Limit, entry: Entry) -> Measure | None:
    name = _BASES.get(limit.per)
    if limit.per == "plant":
        name = "plants" if "plants" in entry.ground else "pots"
    text = None if name is None else entry.ground.get(name)
    return None if text is None else amount_of(text)


def _since(entries: list[Entry], day: datetime.date) -> tuple[Before, ...]:
    """How many days ago each material was last given, a product of one's own too."""
    last: dict[str, int] = {}
    for entry in entries:
        days = (day - day_of(entry.day)).days
        for kind, what in entry.amounts:
            if kind.startswith("asked"):
                last[what] = min(days, last.get(what, days))
    return tuple(Before(id, Fraction(days)) for id, days in sorted(last.items()))

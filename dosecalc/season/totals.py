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
from dosecalc.units.measure import Measure

_BASES = {
    "field area": "judged_area", "band area": "band_area", "row length": "row_length",
    "depth": "area", "medium volume": "volume",
}  # fmt: skip
_NARROW = frozenset({"B", "Cu", "Mo", "Zn"})
_LONGEST_CROP = 365
"""Days within which entries for one crop on one bed are one crop, where no end was told."""


def past(
    entries: Iterable[Entry],
    limits: Iterable[Limit],
    day: datetime.date,
    crop: str,
    recipe: Recipe | None = None,
) -> Past:
    """The past of one bed, as the judge takes it.

    Parameters
    ----------
    entries : iterable of Entry
        Of that bed, those that count.
    limits : iterable of Limit
        Those that may speak of today's materials.
    day : date
        Today's: what was given later is not counted.
    crop : str
        Today's crop: a limit for one crop counts the entries of that crop.
    recipe : Recipe or None
        Today's, where it says itself how often at most.

    Raises
    ------
    DamagedError
        When a day or an amount of the record cannot be read.
    """
    found = [e for e in entries if day_of(e.day) <= day]
    figures: list[tuple[str, tuple[Fraction, Fraction, Fraction]]] = []
    counts: list[tuple[str, int]] = []
    for limit in limits:
        mine = [e for e in found if _within(limit, e, day, crop) and _holds(limit, e)]
        if not mine:
            continue
        counts.append((limit.id, len(mine)))
        total = [_figure(limit, e) for e in mine]
        spans = [span for span in total if span is not None]
        if spans:
            low, likely, high = (sum(part, Fraction(0)) for part in zip(*spans, strict=True))
            figures.append((limit.id, (low, likely, high)))
    alike = 0 if recipe is None else _alike(recipe, found, day, crop)
    return Past(tuple(figures), tuple(counts), _since(found, day), len(found), alike)


def _alike(recipe: Recipe, entries: Iterable[Entry], day: datetime.date, crop: str) -> int:
    """How often the same recipe was given within the window that it names itself."""
    window = None if recipe.repeat is None else recipe.repeat.window
    count = 0
    for entry in entries:
        then = day_of(entry.day)
        if window == "crop":
            within = entry.crop == crop and (day - then).days < _LONGEST_CROP
        elif window == "year":
            within = then > years_before(day, 1)
        else:
            within = then.year == day.year
        count += entry.recipe == recipe.id and within
    return count


def years_before(day: datetime.date, years: int) -> datetime.date:
    """The same day so many years ago; 29 February is the 28th where there is none."""
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return day.replace(year=day.year - years, day=28)


def _within(limit: Limit, entry: Entry, day: datetime.date, crop: str) -> bool:
    """Whether an entry lies in the window that a limit counts over, as of `day`."""
    then = day_of(entry.day)
    if limit.window == "lifetime":
        return True
    if limit.window == "rolling years":
        return then > years_before(day, limit.years or 1)
    if limit.window in ("crop", "application"):
        recent = entry.crop == crop and (day - then).days < _LONGEST_CROP
        return recent and (limit.window == "crop" or _narrow(limit, entry))
    return then.year == day.year  # a season and a calendar year


def _narrow(limit: Limit, entry: Entry) -> bool:
    """Whether the step from enough to harm is small: then a crop meets the sum of its doses.

    A figure per application is printed for a crop that gets one (common practice, no source).
    """
    known = set(material_ids())
    ids = [id for id in _ids(limit, entry) if id in known]
    return limit.of in _NARROW or any(material(id).by_weight for id in ids)


def _holds(limit: Limit, entry: Entry) -> bool:
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


def _figure(limit: Limit, entry: Entry) -> tuple[Fraction, Fraction, Fraction] | None:
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
    """How many days ago each material was last given."""
    last: dict[str, int] = {}
    known = set(material_ids())
    for entry in entries:
        days = (day - day_of(entry.day)).days
        for kind, what in entry.amounts:
            if kind.startswith("asked") and what in known:
                last[what] = min(days, last.get(what, days))
    return tuple(Before(id, Fraction(days)) for id, days in sorted(last.items()))

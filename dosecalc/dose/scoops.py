"""The smallest search in the house: which scoops of which spoons come closest to a volume.

Exact: sizes and target are whole numbers of one tiny unit, and every total that twelve fillings'
worth of effort can reach is looked at, least effort first. A spoon filled half by eye is worth
three level ones: it errs more, so level spoons are taken where there are any that serve.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from dosecalc.units.measure import ML, Measure

MOST_SCOOPS = 12
HALF_EFFORT = 3


@dataclass(frozen=True, slots=True)
class Scoop:
    """One filling of one spoon.

    Parameters
    ----------
    name : str
        "tablespoon", "teaspoon", "2.5 mL spoon".
    size : Measure
        What one filling holds.
    share : Fraction
        1 for a level spoon, 1/2 for one filled half by eye.
    error : Fraction
        How far one filling may be off, as a share of what it holds.
    """

    name: str
    size: Measure
    share: Fraction = Fraction(1)
    error: Fraction = Fraction(0)

    @property
    def effort(self) -> int:
        """What one such filling counts for: a half by eye as much as three level ones."""
        return 1 if self.share == 1 else HALF_EFFORT

    @property
    def holds(self) -> Fraction:
        """Millilitres of one such filling."""
        return self.size.amount_in(ML) * self.share


@dataclass(frozen=True, slots=True)
class Scoops:
    """A combination of scoops: how often each, largest first."""

    counts: tuple[tuple[Scoop, int], ...]

    @property
    def total(self) -> Fraction:
        """Millilitres in all."""
        return sum((scoop.holds * count for scoop, count in self.counts), Fraction(0))

    @property
    def fillings(self) -> int:
        """How many fillings a person counts."""
        return sum(count for _, count in self.counts)

    @property
    def effort(self) -> int:
        """Fillings, a half by eye counted three times."""
        return sum(scoop.effort * count for scoop, count in self.counts)


_State = tuple[int, tuple[int, ...]]
"""Kinds of scoop used so far, and how often each."""
_Level = dict[tuple[int, int, tuple[int, ...]], _State]
"""By the last spoon used, the total reached and the halves in it."""


def best(
    target: Fraction, scoops: tuple[Scoop, ...], below: Fraction, above: Fraction
) -> Scoops | None:
    """The least effort within the tolerance; outside it, the scoops that can miss least.

    Parameters
    ----------
    target : Fraction
        Millilitres asked, more than zero.
    scoops : tuple of Scoop
        What may be filled. A half filling is used at most once.
    below, above : Fraction
        How far under and over the target is tolerated, as shares of it. With `above` zero
        nothing above the target is ever taken.

    Returns
    -------
    Scoops or None
        None when even the smallest scoop is more than may be taken, or the largest would
        have to be filled more than `MOST_SCOOPS` times.
    """
    ordered = tuple(sorted(scoops, key=lambda scoop: (-scoop.holds, scoop.share)))
    if not ordered or ordered[0].holds * MOST_SCOOPS < target * (1 - below):
        return None
    unit = lcm(*(scoop.holds.denominator for scoop in ordered), target.denominator)
    sizes = tuple(int(scoop.holds * unit) for scoop in ordered)
    goal = int(target * unit)
    nearest: tuple[Fraction, int, int, tuple[int, ...]] | None = None
    # Reached totals by the last spoon used: fillings are added smallest last, so that each
    # combination is met once, and of two ways to one total with the same halves (so with the
    # same error) the one with fewer kinds is kept.
    levels: list[_Level] = [{(0, 0, ()): (0, (0,) * len(sizes))}]
    errors = tuple(scoop.holds * scoop.error * unit for scoop in ordered)
    efforts = tuple(scoop.effort for scoop in ordered)
    for effort in range(1, MOST_SCOOPS + 1):
        worth = above if nearest is None else max(above, nearest[0])
        high = goal if above == 0 else int(goal * (1 + worth)) if nearest else None
        levels.append(_reach(levels, effort, sizes, efforts, high))
        found: tuple[int, Fraction, tuple[int, ...]] | None = None
        for (_, total, _), (kinds, counts) in levels[effort].items():
            shift = Fraction(total, goal) - 1
            inside = (kinds, abs(shift), counts)
            if -below <= shift <= above and (found is None or inside < found):
                found = inside
            if nearest is None or abs(shift) <= nearest[0]:
                error = sum((e * n for e, n in zip(errors, counts, strict=True)), Fraction(0))
                candidate = (abs(shift) + error / total, effort, kinds, counts)
                nearest = candidate if nearest is None else min(nearest, candidate)
        if found is not None:
            return _as_scoops(ordered, found[2])
    return None if nearest is None else _as_scoops(ordered, nearest[3])


def _reach(
    levels: list[_Level],
    effort: int,
    sizes: tuple[int, ...],
    efforts: tuple[int, ...],
    high: int | None,
) -> _Level:
    """Every total that one more filling reaches with this effort; none above `high`."""
    reached: _Level = {}
    for index, (size, cost) in enumerate(zip(sizes, efforts, strict=True)):
        if cost > effort:
            continue
        for (last, total, halves), (kinds, counts) in levels[effort - cost].items():
            now = total + size
            if last > index or (high is not None and now > high):
                continue
            if cost > 1 and counts[index]:
                continue  # a half is filled once at most
            more = (*counts[:index], counts[index] + 1, *counts[index + 1 :])
            state = (kinds + (counts[index] == 0), more)
            key = (index, now, halves if cost == 1 else (*halves, index))
            have = reached.get(key)
            if have is None or state < have:
                reached[key] = state
    return reached


def _as_scoops(ordered: tuple[Scoop, ...], counts: tuple[int, ...]) -> Scoops:
    pairs = zip(ordered, counts, strict=True)
    return Scoops(tuple((scoop, count) for scoop, count in pairs if count))

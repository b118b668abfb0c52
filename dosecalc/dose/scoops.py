"""The smallest search in the house: which scoops of which spoons come closest to a volume.

Exact: sizes and target are whole numbers of one tiny unit, and every combination up to the
number of scoops that a person would count is looked at, fewest scoops first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from dosecalc.units.measure import ML, Measure

MOST_SCOOPS = 12


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
    """

    name: str
    size: Measure
    share: Fraction = Fraction(1)

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


def best(
    target: Fraction, scoops: tuple[Scoop, ...], below: Fraction, above: Fraction
) -> Scoops | None:
    """The fewest scoops within the tolerance; outside it, the ones that come closest.

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
    halves = tuple(scoop.share != 1 for scoop in ordered)
    goal = int(target * unit)
    nearest: tuple[Fraction, int, int, tuple[int, ...]] | None = None
    for fillings in range(1, MOST_SCOOPS + 1):
        worth = above if nearest is None else max(above, nearest[0])
        high = goal if above == 0 else int(goal * (1 + worth)) if nearest else None
        if high is not None and fillings * sizes[-1] > high:
            break  # more fillings of even the smallest scoop only lead away
        found: tuple[int, Fraction, tuple[int, ...]] | None = None
        for counts, total in _combinations(sizes, halves, fillings, high):
            shift = Fraction(total, goal) - 1
            kinds = sum(count > 0 for count in counts)
            inside = (kinds, abs(shift), counts)
            if -below <= shift <= above and (found is None or inside[:2] < found[:2]):
                found = inside
            candidate = (abs(shift), fillings, kinds, counts)
            if nearest is None or candidate[:3] < nearest[:3]:
                nearest = candidate
        if found is not None:
            return _as_scoops(ordered, found[2])
    return None if nearest is None else _as_scoops(ordered, nearest[3])


def _combinations(
    sizes: tuple[int, ...], halves: tuple[bool, ...], fillings: int, high: int | None
) -> Iterator[tuple[tuple[int, ...], int]]:
    """Every way to make so many fillings, with its total; none above `high`."""

    def walk(index: int, left: int, total: int) -> Iterator[tuple[tuple[int, ...], int]]:
        if index == len(sizes) - 1:
            whole = total + left * sizes[index]
            if (high is None or whole <= high) and not (halves[index] and left > 1):
                yield (left,), whole
            return
        most = min(left, 1) if halves[index] else left
        for count in range(most, -1, -1):
            now = total + count * sizes[index]
            if high is not None and now > high:
                continue
            for rest, whole in walk(index + 1, left - count, now):
                yield (count, *rest), whole

    yield from walk(0, fillings, 0)


def _as_scoops(ordered: tuple[Scoop, ...], counts: tuple[int, ...]) -> Scoops:
    pairs = zip(ordered, counts, strict=True)
    return Scoops(tuple((scoop, count) for scoop, count in pairs if count))

"""A second reckoner for small programs: every corner is tried, nothing of the package is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

Line = list[Fraction]


def corners(lines: Sequence[Line], sides: Sequence[Fraction]) -> Iterator[tuple[Fraction, ...]]:
    """Every corner of {x : line . x <= side for all lines}."""
    count = len(lines[0])
    for chosen in combinations(range(len(lines)), count):
        point = crossing([lines[i] for i in chosen], [sides[i] for i in chosen])
        if point is not None and all(
            sum(a * x for a, x in zip(line, point, strict=True)) <= side
            for line, side in zip(lines, sides, strict=True)
        ):
            yield point


def crossing(lines: Sequence[Line], sides: Sequence[Fraction]) -> tuple[Fraction, ...] | None:
    """Where the lines cross, None where they do not in one point."""
    count = len(lines)
    work = [[*line, side] for line, side in zip(lines, sides, strict=True)]
    for at in range(count):
        lead = next((row for row in range(at, count) if work[row][at]), None)
        if lead is None:
            return None
        work[at], work[lead] = work[lead], work[at]
        work[at] = [part / work[at][at] for part in work[at]]
        for row in range(count):
            if row != at and work[row][at]:
                times = work[row][at]
                work[row] = [a - times * b for a, b in zip(work[row], work[at], strict=True)]
    return tuple(row[-1] for row in work)


def lowest(
    lines: Sequence[Line], sides: Sequence[Fraction], aims: Sequence[Line]
) -> tuple[Fraction, ...] | None:
    """What each aim comes to when one after the other is made small; None where nothing holds."""
    found = [
        tuple(sum((a * x for a, x in zip(aim, point, strict=True)), Fraction(0)) for aim in aims)
        for point in corners(lines, sides)
    ]
    return min(found, default=None)

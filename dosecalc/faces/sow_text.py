"""Counts of living things as text: whole, or in millions; never with a unit of weight."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.catalog.source import Source
from dosecalc.units.show import Direction, rounded

_LARGE = ((10**9, "billion"), (10**6, "million"))


def count_text(number: Fraction, direction: Direction = "nearest") -> str:
    """Such as "1563" or "2.5 million"; where it is not rounded up or down, "0.25" below ten."""
    for size, word in _LARGE:
        if number >= size:
            return f"{rounded(number / size, 4, direction)[0]} {word}"
    if number.denominator == 1:
        return str(number)
    if direction == "up":
        return str(-(-number // 1))
    if direction == "down":
        return str(number // 1)
    return rounded(number, 3)[0] if number < 10 else str(round(number))


def times_text(number: Fraction) -> str:
    """Such as "1.25 times"."""
    return f"{rounded(number)[0]} times"


def short(found: Source) -> str:
    """The publisher alone: the whole citation stands under Sources."""
    weak = "" if found.strong else ", a weak source"
    return f"{found.publisher}{f' {found.year}' if found.year else ''}{weak}"

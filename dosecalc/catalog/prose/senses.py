"""Ways to take an amount whose words have no one size, and numbers as people print them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Literal, NamedTuple

from dosecalc.catalog.prose.figures import Figures, Item
from dosecalc.errors import DoseError
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import Measure
from dosecalc.units.show import rounded
from dosecalc.units.words import COUNTRY_WORDS, SYSTEMS, System

_WHOSE: dict[str, System] = {
    "american": "us", "imperial": "imperial", "british": "imperial", "britain": "imperial",
    "uk": "imperial", "metric": "metric", "australian": "australian", "australia": "australian",
}  # fmt: skip


class Sense(NamedTuple):
    """One way to take the words of a text that have no one size.

    Parameters
    ----------
    system : {"us", "imperial", "metric", "australian"}
    oz_is : {"weight", "fluid"}
    """

    system: System
    oz_is: Literal["weight", "fluid"]


def senses(system: System | None) -> tuple[Sense, ...]:
    """Every way to take a text whose measures are `system`, or are not told."""
    whose = SYSTEMS if system is None else (system,)
    return tuple(Sense(one, oz) for one in whose for oz in ("weight", "fluid"))


def named(found: Figures) -> Iterator[Sense]:
    """The measures that a text names itself: "an imperial fluid ounce is 1/20 pint"."""
    for item in found.items:
        whose = COUNTRY_WORDS.get(item.unit.partition(" ")[0])
        if item.kind == "w":
            whose = _WHOSE.get(item.text)
        if whose is not None:
            yield from senses(whose)


@lru_cache(maxsize=2048)
def unit_of(spelling: str, sense: Sense) -> Unit | None:
    """The unit of a spelling, None where there is no such thing."""
    try:
        return read.quantity(f"1 {spelling}", sense.system, oz_is=sense.oz_is).unit
    except DoseError:
        return None


def amount(item: Item, sense: Sense, *, upper: bool = False) -> Measure | None:
    """An item's amount, or its upper end; None where its unit does not exist in this sense."""
    unit = unit_of(item.unit, sense)
    if unit is None:
        return None
    text = item.to if upper and item.to is not None else item.text
    made = Measure(number(text), unit)
    if item.more is not None:
        small = unit_of(item.more[1], Sense(sense.system, "weight"))
        return None if small is None else made + Measure(number(item.more[0]), small)
    return made


def number(text: str) -> Fraction:
    """A number of an item; a comma with three digits behind it groups thousands."""
    return read.number(text, "us")


def half(text: str) -> Fraction:
    """Half of the last printed digit behind the point; a whole number stands as it is."""
    behind = len(text.partition(".")[2]) if number(text) != 1 else 0
    return Fraction(1, 2 * 10**behind) if behind else Fraction(0)


_ROUND = Fraction(2, 100)
_ABOUT = Fraction(5, 100)
_CUT = Fraction(1, 100)
_HALF = Fraction(55, 100)
"""Half a digit, and a little for a figure that was rounded twice: 28.3495 g, 28.35 g, 28.4 g."""


def as_printed(text: str, value: Fraction, *, about: bool = False) -> bool:
    """Whether a printed number is `value` as people round it.

    Right within half of the last printed digit; cut off after it within 1 %; to full tens or
    hundreds, as a kitchen fraction, or after "about", within 2 %; to "about 60", within 5 %.
    """
    off = abs(value - number(text))
    if "/" in text or about:
        if off <= _ROUND * abs(value):
            return True
        if "/" in text:
            return False
    behind = len(text.partition("." if "." in text else ",")[2])
    grouped = "," in text and ("." in text or behind == 3)
    step = Fraction(1, 10 ** (0 if grouped and "." not in text else behind))
    if off <= step * _HALF:
        return True
    if 0 <= value - number(text) < step and off <= _CUT * abs(value):
        return True
    zeros = len(text) - len(text.replace(",", "").rstrip("0")) - text.count(",")
    if "." in text or zeros == 0:
        return False
    return off <= Fraction(10**zeros, 2) and off <= (_ABOUT if about else _ROUND) * abs(value)


def difference(printed: Fraction, right: Fraction) -> Say:
    """How far a printed figure is off, in words; both are more than zero."""
    ratio = printed / right
    if ratio >= 2:
        return Say.of("sum-times", times=rounded(ratio)[0])
    if ratio <= Fraction(1, 2):
        return Say.of("sum-part", times=rounded(1 / ratio)[0])
    key = "sum-more" if ratio > 1 else "sum-less"
    return Say.of(key, percent=rounded(abs(ratio - 1) * 100, 2)[0])


def distance(printed: Fraction, right: Fraction) -> Fraction:
    """How many times the one is the other, whichever is more; both are more than zero."""
    return max(printed / right, right / printed)

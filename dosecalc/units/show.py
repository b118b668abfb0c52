"""Turning exact amounts into what a person reads: both unit systems, sensible digits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from dosecalc.units import engine
from dosecalc.units.engine import Unit
from dosecalc.units.measure import AREA, LENGTH, MASS, TIME, VOLUME, Measure, unit_text
from dosecalc.units.spread import Span

Direction = Literal["nearest", "down", "up"]
DIGITS = 3

_LADDER: dict[Unit, tuple[tuple[str, ...], tuple[str, ...]]] = {
    MASS: (("mg", "gram", "kg", "tonne"), ("oz", "lb")),
    LENGTH: (("mm", "cm", "meter", "km"), ("inch", "foot")),
    TIME: (("minute", "hour", "day"), ()),
}
_METRIC_VOLUME = ("mL", "liter")
_US_VOLUME = {
    "liquid": ("tsp_us", "floz_us", "gal_us"),
    "loose": ("floz_us", "foot3"),
}
_CUBIC_YARD: Unit = (("yard", 3),)

_PER_AREA = (("[length]", -2), ("[mass]", 1))
_PER_LENGTH = (("[length]", -1), ("[mass]", 1))
_PER_VOLUME = (("[length]", -3), ("[mass]", 1))
_METRIC_FIXED: dict[Unit, Unit] = {
    AREA: (("meter", 2),),
    _PER_AREA: (("gram", 1), ("meter", -2)),
    _PER_LENGTH: (("gram", 1), ("meter", -1)),
    _PER_VOLUME: (("gram", 1), ("liter", -1)),
}
_US_FIXED: dict[Unit, tuple[Unit, int, str]] = {
    AREA: ((("foot", 2),), 1, "sq ft"),
    _PER_AREA: ((("acre", -1), ("lb", 1)), 1, "lb/acre"),
    _PER_LENGTH: ((("foot", -1), ("oz", 1)), 100, "oz/100 ft"),
    _PER_VOLUME: ((("gal_us", -1), ("oz", 1)), 1, "oz/US gal"),
}
_PLAIN_UNITS: dict[Unit, str] = {
    (("foot", 2),): "sq ft",
    (("foot", 3),): "cu ft",
    (("yard", 3),): "cu yd",
    (("inch", 2),): "sq in",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """One amount as text.

    Parameters
    ----------
    metric, us : str
        "34.0 g" and "1.20 oz"; `us` is "" where it adds nothing.
    step : Fraction
        The rounding step of `metric`, in its own unit; the exact amount lies within it.
    """

    metric: str
    us: str
    step: Fraction

    def both(self) -> str:
        """Such as "34.0 g (1.20 oz)"."""
        return f"{self.metric} ({self.us})" if self.us else self.metric


def rounded(
    value: Fraction, digits: int = DIGITS, direction: Direction = "nearest"
) -> tuple[str, Fraction]:
    """`value` to so many significant digits, and the step; plain decimals, no exponent.

    Integers of more digits keep a step of one where `digits` is larger, else end in zeros.
    """
    if value == 0:
        return "0", Fraction(0)
    power = _order(abs(value)) - digits + 1
    above = value.numerator * 10 ** max(-power, 0)
    below = value.denominator * 10 ** max(power, 0)
    units, rest = divmod(above, below)
    if direction == "up":
        units += rest > 0
    elif direction == "nearest":
        units += rest * 2 > below or (rest * 2 == below and units % 2 == 1)
    step = Fraction(10) ** power
    if power >= 0:
        return str(units * 10**power), step
    text = f"{abs(units):0{-power + 1}d}"
    sign = "-" if units < 0 else ""
    whole, part = text[:power], text[power:].rstrip("0")
    return sign + (f"{whole}.{part}" if part else whole), step


def _order(value: Fraction) -> int:
    """The power of ten of the leading digit of a positive number."""
    above, below = value.numerator, value.denominator
    order = len(str(above)) - len(str(below))
    reached = above >= below * 10**order if order >= 0 else above * 10**-order >= below
    return order if reached else order - 1


def _scale_pick(value: Measure, units: list[Unit]) -> Unit:
    """The largest unit of which there is at least one, else the smallest."""
    best = units[0]
    for unit in units:
        if abs(value.amount_in(unit)) >= 1:
            best = unit
    return best


def _unit(name: str) -> Unit:
    if name.endswith("3"):
        return ((name[:-1], 3),)
    return ((name, 1),)


def metric_unit(measure: Measure) -> Unit:
    """The metric unit a person would use for this amount."""
    dim = engine.dimension(measure.unit)
    if dim == VOLUME:
        return _scale_pick(measure, [_unit(name) for name in _METRIC_VOLUME])
    if dim in _LADDER:
        return _scale_pick(measure, [_unit(name) for name in _LADDER[dim][0]])
    return _METRIC_FIXED.get(dim, measure.unit)


def _us_text(measure: Measure, digits: int, direction: Direction, loose: bool) -> str:
    """The amount in US units, "" where there is none to add."""
    dim = engine.dimension(measure.unit)
    if dim in _US_FIXED:
        unit, per, label = _US_FIXED[dim]
        text, _ = rounded(measure.amount_in(unit) * per, digits, direction)
        return f"{text} {label}"
    names = _LADDER[dim][1] if dim in _LADDER else ()
    if dim == VOLUME:
        if loose and measure.amount_in(_CUBIC_YARD) >= Fraction(1, 4):
            return number_text(measure, _CUBIC_YARD, digits, direction)
        names = _US_VOLUME["loose" if loose else "liquid"]
    if not names:
        return ""
    return number_text(measure, _scale_pick(measure, [_unit(n) for n in names]), digits, direction)


def number_text(
    measure: Measure, unit: Unit, digits: int = DIGITS, direction: Direction = "nearest"
) -> str:
    """One amount in a chosen unit, as text."""
    text, _ = rounded(measure.amount_in(unit), digits, direction)
    return f"{text} {_counted(text, unit)}".strip()


def _counted(text: str, unit: Unit) -> str:
    """A unit word after its number: days are counted, everything else is not."""
    word = show_unit(unit)
    return f"{word}s" if word in ("day", "plant", "pot") and text != "1" else word


def show_unit(unit: Unit) -> str:
    """A unit as a person reads it: "sq ft", "cu yd", "kg/ha"."""
    return _PLAIN_UNITS.get(unit) or unit_text(unit)


def show(
    measure: Measure,
    *,
    digits: int = DIGITS,
    direction: Direction = "nearest",
    loose: bool = False,
    unit: Unit | None = None,
) -> Shown:
    """An amount in both systems.

    Parameters
    ----------
    measure : Measure
        What is shown.
    digits : int
        Significant digits.
    direction : {"nearest", "down", "up"}
        Outward rounding for the ends of a span.
    loose : bool
        A heap rather than a liquid: cubic feet and yards instead of gallons.
    unit : Unit or None
        The metric unit to use; chosen when None.
    """
    first = unit or metric_unit(measure)
    text, step = rounded(measure.amount_in(first), digits, direction)
    us = _us_text(measure, digits, direction, loose)
    return Shown(f"{text} {_counted(text, first)}".strip(), us, step)


def show_span(span: Span, *, unit: Unit | None = None, digits: int = DIGITS) -> str:
    """Such as "34.0 g (26.6 to 40.4)": likely first, the ends rounded outward."""
    low, likely, high = span.measures()
    first = unit or metric_unit(likely)
    middle = number_text(likely, first, digits)
    if span.low == span.high:
        return middle
    below, _ = rounded(low.amount_in(first), digits, "down")
    above, _ = rounded(high.amount_in(first), digits, "up")
    return f"{middle} ({below} to {above})"


_QUARTERS = {
    Fraction(0): "", Fraction(1, 4): "one quarter", Fraction(1, 3): "one third",
    Fraction(1, 2): "one half", Fraction(2, 3): "two thirds", Fraction(3, 4): "three quarters",
    Fraction(1, 8): "one eighth",
}  # fmt: skip
_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
)  # fmt: skip


def listed(parts: Sequence[str]) -> str:
    """Such as "a, b and c"."""
    *head, last = parts
    return f"{', '.join(head)} and {last}" if head else last


def in_words(value: Fraction) -> str:
    """A kitchen number in words: 3/2 is "one and one half".

    Raises
    ------
    ValueError
        For a part that is no kitchen fraction.
    """
    whole, part = divmod(value, 1)
    if value < 0 or part not in _QUARTERS:
        raise ValueError(f"{value} is no kitchen fraction")
    count = _NUMBERS[int(whole)] if whole < len(_NUMBERS) else str(int(whole))
    if part == 0:
        return count
    return _QUARTERS[part] if whole == 0 else f"{count} and {_QUARTERS[part]}"


def twelve_digits(value: Fraction, direction: Direction = "nearest") -> float:
    """A number for JSON: 12 significant digits, ends of spans rounded outward."""
    return float(rounded(value, 12, direction)[0])

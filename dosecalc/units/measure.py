"""`Measure`: an exact number with its unit, and the algebra on it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from dosecalc.errors import refuse
from dosecalc.units import engine
from dosecalc.units.engine import Unit

PI = Fraction(314159265358979323846264338327950288, 10**35)
"""Pi to 35 decimals (OEIS A000796), so that round shapes stay rational."""

NONE: Unit = ()
METER: Unit = (("meter", 1),)
SQUARE_METER: Unit = (("meter", 2),)
LITER: Unit = (("liter", 1),)
ML: Unit = (("mL", 1),)
GRAM: Unit = (("gram", 1),)
PLANT: Unit = (("plant", 1),)
POT: Unit = (("pot", 1),)
SECOND: Unit = (("second", 1),)
KG: Unit = (("kg", 1),)
CM: Unit = (("cm", 1),)
DAY: Unit = (("day", 1),)
GRAM_PER_M2: Unit = (("gram", 1), ("meter", -2))
GRAM_PER_ML: Unit = (("gram", 1), ("mL", -1))
GRAM_PER_L: Unit = (("gram", 1), ("liter", -1))
KG_PER_HA: Unit = (("hectare", -1), ("kg", 1))

MASS = (("[mass]", 1),)
VOLUME = (("[length]", 3),)
AREA = (("[length]", 2),)
LENGTH = (("[length]", 1),)
TIME = (("[time]", 1),)
MASS_PER_AREA = (("[length]", -2), ("[mass]", 1))
MASS_PER_VOLUME = (("[length]", -3), ("[mass]", 1))
COUNT: Unit = ()

KIND_WORDS = {
    MASS: "a weight",
    VOLUME: "a volume",
    AREA: "an area",
    LENGTH: "a length",
    TIME: "a time",
    COUNT: "a bare number",
    (("[plant]", 1),): "a number of plants",
    (("[pot]", 1),): "a number of pots",
    (("[length]", -2), ("[mass]", 1)): "a weight per area",
    (("[length]", -3), ("[mass]", 1)): "a weight per volume",
    (("[length]", -1), ("[mass]", 1)): "a weight per length",
}


@lru_cache(maxsize=1024)
def unit_product(left: Unit, right: Unit, sign: int = 1) -> Unit:
    """The unit of a product (sign 1) or a quotient (sign -1), same names merged."""
    powers = dict(left)
    for name, power in right:
        powers[name] = powers.get(name, 0) + sign * power
    return tuple(sorted((name, power) for name, power in powers.items() if power))


def kind_word(unit: Unit) -> str:
    """What a unit measures, in words for a refusal ("a volume")."""
    return KIND_WORDS.get(engine.dimension(unit), f"a measure in {unit_text(unit)}")


@dataclass(frozen=True, slots=True)
class Measure:
    """An exact amount: `value` of `unit`.

    Parameters
    ----------
    value : Fraction
        Exact; a float is refused.
    unit : Unit
        Sorted (name, power) pairs of the closed list.

    Raises
    ------
    TypeError
        When `value` is a float or a bool.
    """

    value: Fraction
    unit: Unit

    def __post_init__(self) -> None:
        if type(self.value) is not Fraction:
            raise TypeError(f"Measure takes a Fraction, not {type(self.value).__name__}")

    def to(self, unit: Unit) -> Measure:
        """The same amount in `unit`. Refuses another dimension."""
        return Measure(self.amount_in(unit), unit)

    def amount_in(self, unit: Unit) -> Fraction:
        """The exact number of `unit` in this amount. Refuses another dimension."""
        if unit == self.unit:
            return self.value
        try:
            return self.value * engine.factor(self.unit, unit)
        except ValueError:
            raise refuse(
                "wrong-kind",
                text=exact_text(self),
                is_kind=kind_word(self.unit),
                want_kind=kind_word(unit),
            ) from None

    def is_a(self, dim: Unit) -> bool:
        """Whether its dimension is `dim` (MASS, VOLUME, AREA, ...)."""
        return engine.dimension(self.unit) == dim

    def __mul__(self, other: Measure | Fraction | int) -> Measure:
        if isinstance(other, Measure):
            return Measure(self.value * other.value, unit_product(self.unit, other.unit))
        return Measure(self.value * _exact(other), self.unit)

    def __truediv__(self, other: Measure | Fraction | int) -> Measure:
        if isinstance(other, Measure):
            return Measure(self.value / other.value, unit_product(self.unit, other.unit, -1))
        return Measure(self.value / _exact(other), self.unit)

    def __add__(self, other: Measure) -> Measure:
        return Measure(self.value + other.amount_in(self.unit), self.unit)

    def __sub__(self, other: Measure) -> Measure:
        return Measure(self.value - other.amount_in(self.unit), self.unit)

    def __lt__(self, other: Measure) -> bool:
        return self.value < other.amount_in(self.unit)

    def __le__(self, other: Measure) -> bool:
        return self.value <= other.amount_in(self.unit)


def _exact(number: Fraction | int) -> Fraction:
    """Refuse a float, a bool or a text where an exact number belongs."""
    if type(number) not in (Fraction, int):
        raise TypeError(f"an exact number is needed, not {type(number).__name__}")
    return Fraction(number)


def unit_text(unit: Unit) -> str:
    """The closed spelling of a unit, as JSON and exact text use it: "g/m2", "US gal/acre"."""
    above = [_power_text(name, power) for name, power in unit if power > 0]
    below = [_power_text(name, -power) for name, power in unit if power < 0]
    top = " ".join(above) or "1"
    return "/".join([top, *below]) if unit else ""


def _power_text(name: str, power: int) -> str:
    return SPELLING.get(name, name) + (str(power) if power > 1 else "")


SPELLING = {
    "meter": "m", "gram": "g", "second": "s", "inch": "in", "foot": "ft", "yard": "yd",
    "mile": "mi", "are": "are", "hectare": "ha", "liter": "L", "gal_us": "US gal", "qt_us": "US qt",
    "pt_us": "US pt", "cup_us": "US cup", "floz_us": "US fl oz", "tbsp_us": "US tbsp",
    "tsp_us": "US tsp", "bushel_us": "US bushel", "peck_us": "US peck", "dryqt_us": "US dry qt",
    "drypt_us": "US dry pt", "gal_imp": "imp gal", "qt_imp": "imp qt", "pt_imp": "imp pt",
    "floz_imp": "imp fl oz", "cup_imp": "imp cup", "bushel_imp": "imp bushel",
    "tbsp_imp": "imp tbsp", "tsp_imp": "imp tsp", "tbsp_metric": "metric tbsp",
    "tsp_metric": "metric tsp", "cup_metric": "metric cup", "tbsp_au": "AU tbsp",
    "tsp_au": "AU tsp", "cup_au": "AU cup", "tonne": "t", "cwt_us": "US cwt",
    "cwt_imp": "imp cwt", "ton_us": "US ton", "ton_imp": "imp ton", "minute": "min",
    "hour": "h", "kelvin": "K",
}  # fmt: skip
"""Unit names whose spelling differs from their name; each is read back by ``read``."""


def exact_text(measure: Measure) -> str:
    """`measure` without any rounding; ``read.quantity`` gives back the same amount."""
    number = str(measure.value)
    text = unit_text(measure.unit)
    return f"{number} {text}".strip()

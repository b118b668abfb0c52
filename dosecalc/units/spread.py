"""Spread that enters at the hand: named positive factors, kept symbolic until output.

A `Factor` is one physical thing (this bag's density, this spoon, this scale). An `Est` is
a sum of exact coefficients times products of factors: a factor that stands twice is one
thing, so it cancels where it cancels. Only for output does an Est collapse to a `Span`.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from dosecalc.units import engine
from dosecalc.units.engine import Unit
from dosecalc.units.measure import Measure, unit_product

Monomial = tuple[tuple[str, int], ...]
_MOST_CORNERS = 10


@dataclass(frozen=True, slots=True)
class Factor:
    """A positive number known only within a span.

    Parameters
    ----------
    key : str
        What it is ("density:borax"); the same key is the same thing.
    low, likely, high : Fraction
        0 <= low <= likely <= high, and likely more than 0.
    unit : Unit
        Its unit, () for a pure number.
    why : str
        Where the span comes from.
    """

    key: str
    low: Fraction
    likely: Fraction
    high: Fraction
    unit: Unit = ()
    why: str = ""

    def __post_init__(self) -> None:
        if any(type(end) is not Fraction for end in (self.low, self.likely, self.high)):
            raise TypeError(f"factor {self.key}: its ends must be Fractions")
        if not (0 <= self.low <= self.likely <= self.high and self.likely > 0):
            raise ValueError(f"factor {self.key}: 0 <= low <= likely <= high does not hold")


@dataclass(frozen=True, slots=True)
class Span:
    """Low, likely and high of one amount. It has no arithmetic: that belongs to `Est`."""

    low: Fraction
    likely: Fraction
    high: Fraction
    unit: Unit

    def to(self, unit: Unit) -> Span:
        """The same span in another unit of the same kind."""
        ratio = engine.factor(self.unit, unit)
        return Span(self.low * ratio, self.likely * ratio, self.high * ratio, unit)

    @classmethod
    def exact(cls, measure: Measure) -> Span:
        """A span without spread."""
        return cls(measure.value, measure.value, measure.value, measure.unit)

    def measures(self) -> tuple[Measure, Measure, Measure]:
        """Low, likely and high as measures."""
        return (
            Measure(self.low, self.unit),
            Measure(self.likely, self.unit),
            Measure(self.high, self.unit),
        )


@dataclass(frozen=True, slots=True)
class Est:
    """An amount with its symbolic spread: {monomial: coefficient} in `unit`."""

    terms: tuple[tuple[Monomial, Fraction], ...]
    factors: tuple[Factor, ...]
    unit: Unit

    @classmethod
    def of(cls, measure: Measure) -> Est:
        """An exact amount."""
        return cls((((), measure.value),), (), measure.unit)

    def times(self, factor: Factor, power: int = 1) -> Est:
        """Multiply by `factor` to the `power`; its unit joins this one's."""
        if power < 0 and factor.low == 0:
            raise ValueError(f"factor {factor.key} may be zero: nothing can be divided by it")
        terms = tuple((_join(mono, factor.key, power), coef) for mono, coef in self.terms)
        sign = 1 if power > 0 else -1
        unit = self.unit
        for _ in range(abs(power)):
            unit = unit_product(unit, factor.unit, sign)
        return Est(terms, _merge(self.factors, (factor,)), unit)

    def by(self, measure: Measure | Fraction) -> Est:
        """Multiply by an exact amount or number."""
        value, unit = (
            (measure, ()) if isinstance(measure, Fraction) else (measure.value, measure.unit)
        )
        terms = tuple((mono, coef * value) for mono, coef in self.terms)
        return Est(terms, self.factors, unit_product(self.unit, unit))

    def over(self, measure: Measure) -> Est:
        """Divide by an exact amount."""
        return self.by(Measure(1 / measure.value, unit_product((), measure.unit, -1)))

    def plus(self, other: Est) -> Est:
        """Add an amount of the same kind."""
        ratio = engine.factor(other.unit, self.unit)
        total: dict[Monomial, Fraction] = dict(self.terms)
        for mono, coef in other.terms:
            total[mono] = total.get(mono, Fraction(0)) + coef * ratio
        return Est(tuple(total.items()), _merge(self.factors, other.factors), self.unit)

    def to(self, unit: Unit) -> Est:
        """The same amount in another unit of the same kind."""
        ratio = engine.factor(self.unit, unit)
        return Est(tuple((mono, coef * ratio) for mono, coef in self.terms), self.factors, unit)

    def span(self) -> Span:
        """Collapse to low, likely and high.

        Where every term is positive and each factor pushes every term one way, it goes to
        that end. A factor that raises some terms and lowers others is tried at both ends
        when it has one and the same power wherever it stands (the sum is then monotone in
        it for fixed others, so corners are exact). Anything else is bounded term by term,
        which is sound but wider.
        """
        known = {factor.key: factor for factor in self.factors}
        powers: dict[str, set[int]] = {}
        for mono, _ in self.terms:
            for key, power in mono:
                powers.setdefault(key, set()).add(power)
        likely = self._at({key: known[key].likely for key in powers})
        if all(known[key].low == known[key].high for key in powers):
            return Span(likely, likely, likely, self.unit)
        one_way = all(min(found) > 0 or max(found) < 0 for found in powers.values())
        if one_way and all(coef >= 0 for _, coef in self.terms):
            ends = {
                key: (known[key].low, known[key].high)
                if min(found) > 0
                else (known[key].high, known[key].low)
                for key, found in powers.items()
            }
            low = self._at({key: end[0] for key, end in ends.items()})
            high = self._at({key: end[1] for key, end in ends.items()})
        elif all(len(found) == 1 for found in powers.values()) and len(powers) <= _MOST_CORNERS:
            sides = [((key, known[key].low), (key, known[key].high)) for key in sorted(powers)]
            corners = [self._at(dict(corner)) for corner in product(*sides)]
            low, high = min(corners), max(corners)
        else:
            bounds = [
                (self._bound(mono, coef, known, True), self._bound(mono, coef, known, False))
                for mono, coef in self.terms
            ]
            low = sum((below for below, _ in bounds), Fraction(0))
            high = sum((above for _, above in bounds), Fraction(0))
        return Span(low, likely, high, self.unit)

    def widest(self) -> Factor | None:
        """The factor whose own spread is the widest, None when there is none."""
        used = {key for mono, _ in self.terms for key, _ in mono}
        found = [
            factor for factor in self.factors if factor.key in used and factor.low < factor.high
        ]
        return max(
            found,
            key=lambda factor: (factor.low == 0, factor.high / (factor.low or factor.likely)),
            default=None,
        )

    def _at(self, values: dict[str, Fraction]) -> Fraction:
        total = Fraction(0)
        for mono, coef in self.terms:
            for key, power in mono:
                coef = coef * values[key] if power == 1 else coef * values[key] ** power
            total += coef
        return total

    @staticmethod
    def _bound(mono: Monomial, coef: Fraction, known: dict[str, Factor], low: bool) -> Fraction:
        for key, power in mono:
            rising = (coef > 0) == (power > 0)
            value = known[key].low if rising == low else known[key].high
            coef = coef * value**power
        return coef


def _join(mono: Monomial, key: str, power: int) -> Monomial:
    powers = dict(mono)
    powers[key] = powers.get(key, 0) + power
    return tuple(sorted((name, power) for name, power in powers.items() if power))


def _merge(left: tuple[Factor, ...], right: tuple[Factor, ...]) -> tuple[Factor, ...]:
    merged = {factor.key: factor for factor in left}
    for factor in right:
        if merged.setdefault(factor.key, factor) != factor:
            raise ValueError(f"two different factors are called {factor.key}")
    return tuple(merged.values())

"""A linear program in Fractions, and the basis that stands for one of its corners."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

Parts = tuple[tuple[int, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One variable. `low` is always a number; `whole` asks for a whole number."""

    id: str
    low: Fraction = Fraction(0)
    high: Fraction | None = None
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One linear form over the columns, by their place, and its bounds; at least one is told."""

    id: str
    parts: Parts
    low: Fraction | None = None
    high: Fraction | None = None

    def value(self, values: tuple[Fraction, ...]) -> Fraction:
        """The form at a point."""
        return sum((part * values[at] for at, part in self.parts), Fraction(0))


@dataclass(frozen=True, slots=True)
class Program:
    """Minimise the aim over the columns within all rows.

    Parameters
    ----------
    columns : tuple of Column
    rows : tuple of Row
    aim : tuple of (int, Fraction)
    """

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    aim: Parts = ()

    def holds(self, values: tuple[Fraction, ...]) -> bool:
        """Whether a point keeps every bound, exactly."""
        return all(
            _within(value, column.low, column.high)
            for value, column in zip(values, self.columns, strict=True)
        ) and all(_within(row.value(values), row.low, row.high) for row in self.rows)

    def worth(self, values: tuple[Fraction, ...]) -> Fraction:
        """The aim at a point."""
        return sum((part * values[at] for at, part in self.aim), Fraction(0))

    def fixed(self, at: Mapping[int, Fraction]) -> Program:
        """The same program with some columns held at a value."""
        return replace(
            self,
            columns=tuple(
                replace(column, low=at[place], high=at[place]) if place in at else column
                for place, column in enumerate(self.columns)
            ),
        )

    def with_rows(self, rows: Iterable[Row]) -> Program:
        """The same program with further rows."""
        return replace(self, rows=(*self.rows, *rows))


def _within(value: Fraction, low: Fraction | None, high: Fraction | None) -> bool:
    return (low is None or value >= low) and (high is None or value <= high)


@dataclass(frozen=True, slots=True)
class Basis:
    """Where each column and each row stands: "basic", "low" or "high"."""

    columns: tuple[str, ...]
    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Optimum:
    """A corner that was proven to be the best.

    Parameters
    ----------
    values : tuple of Fraction
        Of the columns.
    pull : tuple of Fraction
        What the aim would change by for one more of each column; zero for those in the basis.
    push : tuple of Fraction
        What the aim would change by for one more on each row's bound.
    """

    values: tuple[Fraction, ...]
    pull: tuple[Fraction, ...]
    push: tuple[Fraction, ...]

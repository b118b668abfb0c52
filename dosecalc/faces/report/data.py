"""The report as words and bars, ready to be placed on paper or a screen."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

LIMIT_AT = Fraction(2, 3)
"""Where the limit stands along a bar: what is half as much again reaches its end."""


@dataclass(frozen=True, slots=True)
class Given:
    """One dose: day, what, on which crop, by whom, in which weather, and what else was told."""

    day: str
    what: str
    crop: str
    who: str
    weather: str
    more: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """All of one thing: its name, its amount, the same per area."""

    name: str
    amount: str
    per_area: str


@dataclass(frozen=True, slots=True)
class Bar:
    """One limit, with how far it was reached.

    Parameters
    ----------
    about, figure, limit, ratio, mark, scope, source : str
        `mark` is "" or says that the figure is over.
    more : tuple of str
    likely, high : Fraction or None
        As shares of a bar on which the limit stands at `LIMIT_AT`; None where the limit is zero.
    """

    about: str
    figure: str
    limit: str
    ratio: str
    mark: str
    scope: str
    source: str
    more: tuple[str, ...]
    likely: Fraction | None
    high: Fraction | None


@dataclass(frozen=True, slots=True)
class Section:
    """Lines under a heading."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Place:
    """One ground."""

    title: str
    about: tuple[str, ...]
    given_title: str
    heads: tuple[str, ...]
    given: tuple[Given, ...]
    sums_title: str
    sum_heads: tuple[str, ...]
    sums: tuple[Sum, ...]
    bars_title: str
    key: str
    bars: tuple[Bar, ...]
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class Document:
    """The whole report; `page` stands before a page number, `none` where no limit was held."""

    title: str
    first: tuple[str, ...]
    places: tuple[Place, ...]
    sections: tuple[Section, ...]
    page: str
    none: str

"""Rows of figures that one proportion makes: a rate for several volumes, a heap at some depths."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.prose.figures import Figures, Item
from dosecalc.catalog.prose.senses import (
    Sense,
    amount,
    as_printed,
    difference,
    distance,
    half,
    number,
)
from dosecalc.say import Say
from dosecalc.units import engine
from dosecalc.units.measure import LITER, METER, Measure
from dosecalc.units.show import number_text

_DIGITS = 5
_MEMBER = r"[mvzn]P[vsln]"
_ROW = re.compile(rf"{_MEMBER}(?:[,:;=]?[CRi]?{_MEMBER}){{3,}}")
_ONE = re.compile(_MEMBER)
_SLACK = Fraction(2, 100)
_AGREEING = 3
"""Two figures in one proportion may be chance; three that agree state a row."""


@dataclass(frozen=True, slots=True)
class _Member:
    """One figure of a row: its rate, from the lowest to the highest that it is printed for."""

    text: str
    top: Measure
    under: Measure
    low: Fraction
    high: Fraction

    def meets(self, other: _Member) -> bool:
        return self.low <= other.high * (1 + _SLACK) and other.low <= self.high * (1 + _SLACK)


def wrong_rows(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    """The one figure of a row that the others contradict: "6.4 per 5, 2.6 per 2, 0.8 per 1"."""
    for match in _ROW.finditer(found.letters):
        spans = [one.span() for one in _ONE.finditer(found.letters, *match.span())]
        said: list[Say] = []
        for sense in taken:
            row = _row(found, spans, sense)
            if row is None:
                continue
            agree = max(([other.meets(one) for other in row] for one in row), key=sum)
            if all(agree):
                said = []
                break
            if sum(agree) == len(row) - 1 >= _AGREEING and not said:
                said = _odd(found, found.said(match), spans, row, agree.index(False))
        yield from said


def _row(found: Figures, spans: list[tuple[int, int]], sense: Sense) -> list[_Member] | None:
    """The members of a row; a number without a unit has the unit of the one before it."""
    made: list[_Member] = []
    above, below = "", ""
    for start, end in spans:
        one, other = found.items[start], found.items[end - 1]
        above, below = one.unit or above, other.unit or below
        top = amount(replace(one, unit=above), sense)
        under = amount(replace(other, unit=below), sense)
        if top is None or under is None or not top.value or not under.value:
            return None
        first = made[0] if made else _Member("", top, under, Fraction(0), Fraction(0))
        if not (_alike(top, first.top) and _alike(under, first.under)):
            return None
        size, spread = under.amount_in(first.under.unit), Measure(half(one.text), top.unit)
        low, high = ((top + spread * way).amount_in(first.top.unit) / size for way in (-1, 1))
        made.append(_Member(one.text, top, under, low, high))
    return made


def _alike(one: Measure, other: Measure) -> bool:
    return engine.dimension(one.unit) == engine.dimension(other.unit)


def _odd(
    found: Figures, said: str, spans: list[tuple[int, int]], row: list[_Member], at: int
) -> list[Say]:
    """The member that the others contradict, unless its rounding explains it."""
    odd = row[at]
    sharp = min((one for one in row if one is not odd), key=lambda one: one.high - one.low)
    size = odd.under.amount_in(row[0].under.unit)
    due = Measure((sharp.low + sharp.high) / 2 * size, row[0].top.unit).to(odd.top.unit)
    if as_printed(odd.text, due.value):
        return []
    return [
        Say.of(
            "sum-row",
            text=said,
            odd=found.quote(*spans[at]),
            right=number_text(due, due.unit, _DIGITS),
            off=difference(odd.top.value, due.value),
        )
    ]


_LAYER = r"[sn][FTwO]{0,4}l"
_COVERS = re.compile(
    rf"(?P<heap>v)[)wOX]{{0,3}}KA?[:;]{{0,3}}(?P<layers>{_LAYER}(?:w?[,;C]{{1,3}}{_LAYER})*)"
)
_ONE_LAYER = re.compile(r"(?P<area>[sn])[FTwO]{0,4}(?P<depth>l)")
_BAGS = Fraction(5, 100)
"""Such figures are rounded so that the bags suffice; a twentieth is no slip."""


def wrong_coverages(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Areas that a heap does not cover at that depth: "1 cu yd covers 30 sq ft 12 in deep"."""
    for match in _COVERS.finditer(found.letters):
        heap, unit = found.of(match, "heap"), ""
        for layer in _ONE_LAYER.finditer(found.letters, *match.span("layers")):
            area, depth = found.of(layer, "area"), found.of(layer, "depth")
            unit = area.unit or unit
            due = _due(heap, replace(area, unit=unit), depth, taken)
            if due is None:
                continue
            first = found.quote(match.start(), match.start("layers"))
            yield Say.of(
                "sum-covers",
                text=f"{first} {found.said(layer)}",
                heap=f"{heap.text} {heap.unit}",
                depth=f"{depth.text} {depth.unit}",
                right=number_text(due, due.unit),
                off=difference(number(area.text), due.value),
            )


def _due(heap: Item, area: Item, depth: Item, taken: tuple[Sense, ...]) -> Measure | None:
    """The area that a heap covers, None where some sense makes the printed one near enough."""
    if heap.to is not None or area.to is not None or depth.to is not None:
        return None
    printed = number(area.text)
    dues: list[Measure] = []
    for sense in taken:
        volume, ground = amount(heap, sense), amount(area, sense)
        deep = amount(depth, sense)
        if volume is None or ground is None or deep is None or not deep.value or not volume.value:
            continue
        due = (volume.to(LITER) / deep.to(METER)).to(ground.unit)
        if not printed or abs(due.value - printed) <= _BAGS * due.value:
            return None
        dues.append(due)
    return min(dues, key=lambda due: distance(printed, due.value), default=None)

"""Beds, pots and heaps filled with a medium that is mixed by parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.dose.layer import before_loss
from dosecalc.errors import refuse
from dosecalc.units.measure import Measure


@dataclass(frozen=True, slots=True)
class Part:
    """One component of a medium.

    Parameters
    ----------
    name : str
        A material id, or a product of the garden file.
    material : Material
    parts : Fraction
        By volume, as written: parts or percent.
    """

    name: str
    material: Material
    parts: Fraction


def shares(parts: Sequence[Part]) -> tuple[Fraction, ...]:
    """The share of each part of all parts together; they come to one.

    Raises
    ------
    DoseError
        For a material that stands twice, and for one that does not come as a heap.
    """
    seen: set[str] = set()
    for part in parts:
        if not part.material.loose:
            raise refuse("fill-not-bulk", material=part.material.name)
        if part.name in seen:
            raise refuse("fill-twice", material=part.material.name)
        seen.add(part.name)
    whole = sum((part.parts for part in parts), Fraction(0))
    return tuple(part.parts / whole for part in parts)


def loose(amount: Measure, settling: Fraction, shrinkage: Fraction) -> Measure:
    """All parts together, measured loose and apart, that fill `amount` in the end.

    Parameters
    ----------
    amount : Measure
        A depth or a volume that shall be full.
    settling : Fraction
        Of 1: how much the filled medium sinks.
    shrinkage : Fraction
        Of 1: how much the parts lose in volume when they are mixed, the small filling the gaps
        of the coarse.
    """
    return before_loss(before_loss(amount, settling), shrinkage)


def amounts(parts: Sequence[Part], whole: Measure) -> tuple[Measure, ...]:
    """How much of each part makes the whole."""
    return tuple(whole * share for share in shares(parts))

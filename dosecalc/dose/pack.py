"""What several jobs need in all: what to buy and weigh out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dosecalc.dose.result import Amount, Mix
from dosecalc.units.measure import MASS, VOLUME, Measure
from dosecalc.units.show import show


@dataclass(frozen=True, slots=True)
class Total:
    """One material of several jobs.

    Parameters
    ----------
    material, name : str
    amount : Measure
        By weight or by volume; a material that is given both ways makes two totals.
    shown : str
        The amount in both unit systems.
    jobs : int
        In how many jobs it is used.
    """

    material: str
    name: str
    amount: Measure
    shown: str
    jobs: int


def totals(mixes: Iterable[Mix]) -> tuple[Total, ...]:
    """Every material in all, water left out; in the order in which they first come."""
    sums: dict[tuple[str, str], tuple[Amount, Measure, int]] = {}
    for mix in mixes:
        for item in mix.amounts:
            asked = _asked(item)
            if item.material == "water" or asked is None:
                continue
            key = item.material, "mass" if asked.is_a(MASS) else "volume"
            known = sums.get(key)
            total = asked if known is None else known[1] + asked
            sums[key] = item, total, 1 if known is None else known[2] + 1
    return tuple(
        Total(item.material, item.name, total, show(total).both(), jobs)
        for item, total, jobs in sums.values()
    )


def _asked(item: Amount) -> Measure | None:
    """The likely amount, in what the recipe states: a volume is told once more as a weight."""
    span = item.volume if item.mass is None or item.shown_other else item.mass
    if span is None:
        return None
    asked = Measure(span.likely, span.unit)
    return asked if asked.is_a(MASS) or asked.is_a(VOLUME) else None

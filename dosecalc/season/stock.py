"""Products on the shelf: what the last count and the purchases since leave after the entries."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.season.checks import amount_of
from dosecalc.season.entries import Entry, counting
from dosecalc.season.events import Event, standing
from dosecalc.units.measure import GRAM, MASS, ML, Measure

BOUGHT, COUNTED = "stock in", "stock count"


@dataclass(frozen=True, slots=True)
class Stock:
    """What is left of one product.

    Parameters
    ----------
    material : str
        Material id.
    name : str
        As it was typed last.
    counted : Measure or None
        The last count, and the day of it; None where nobody counted.
    day : str
        Of that count, else of the first purchase.
    bought, used : Measure
        Since that count; in grams or millilitres, as the product is kept.
    left : Measure
        Below zero where the record used more than came in.
    unknown : int
        Entries that used it in an amount of the other kind, without a density: not subtracted.
    pack : Measure or None
    price : Fraction or None
        Of one pack, as last bought.
    """

    material: str
    name: str
    counted: Measure | None
    day: str
    bought: Measure
    used: Measure
    left: Measure
    unknown: int
    pack: Measure | None
    price: Fraction | None


def by_mass(events: Iterable[Event], material: str) -> bool | None:
    """Whether a product is kept by weight, else by volume; None where nothing of it came in."""
    first = next((e for e in events if e.what == material and "amount" in e.details), None)
    return None if first is None else amount_of(first.details["amount"]).is_a(MASS)


def on_hand(events: Iterable[Event], entries: Iterable[Entry]) -> dict[str, Stock]:
    """What is left of every product that ever came in or was counted, by material id.

    A count holds whatever was done on an earlier day, or written down earlier on its own day; all
    else comes behind it. Where nobody counted, entries count from the day of the first purchase.

    Parameters
    ----------
    events : iterable of Event
        Those that stand, the oldest first.
    entries : iterable of Entry
        Those that count.
    """
    rows = [e for e in events if e.kind in (BOUGHT, COUNTED)]
    given = list(entries)
    return {id: _one(id, rows, given) for id in dict.fromkeys(e.what for e in rows)}


def stock_of(base: sqlite3.Connection, materials: Collection[str] | None = None) -> list[Stock]:
    """What is left of these products, or of all; see `on_hand`."""
    events = standing(base, (BOUGHT, COUNTED))
    if materials is not None:
        events = [event for event in events if event.what in materials]
    return list(on_hand(events, counting(base)).values()) if events else []


def _one(id: str, events: list[Event], entries: list[Entry]) -> Stock:
    mine = [e for e in events if e.what == id]
    unit = GRAM if by_mass(mine, id) else ML
    last = max((e for e in mine if e.kind == COUNTED), key=_when, default=None)
    since = (min(e.day for e in mine), "") if last is None else _when(last)
    zero = Measure(Fraction(0), unit)
    start = zero if last is None else amount_of(last.details["amount"]).to(unit)
    bought, used, unknown = zero, zero, 0
    for event in mine:
        if event.kind == BOUGHT and _when(event) > since:
            bought += amount_of(event.details["amount"]).to(unit)
    for entry in entries:
        if (entry.day, entry.written) > since:
            taken = _taken(entry, id, by_mass=unit == GRAM)
            if taken is None:
                unknown += _gave(entry, id)
            else:
                used += taken.to(unit)
    buys = [e for e in mine if e.kind == BOUGHT]
    return Stock(
        material=id, name=mine[-1].details.get("name", id),
        counted=None if last is None else start, day=(last or mine[0]).day,
        bought=bought, used=used, left=start + bought - used, unknown=unknown,
        pack=_last(buys, "pack"),
        price=next((Fraction(e.details["cost"]) for e in reversed(buys) if "cost" in e.details),
                   None),
    )  # fmt: skip


def _when(event: Event) -> tuple[str, str]:
    return event.day, event.written


def _last(buys: list[Event], name: str) -> Measure | None:
    found = next((e.details[name] for e in reversed(buys) if name in e.details), None)
    return None if found is None else amount_of(found)


def _gave(entry: Entry, id: str) -> bool:
    return any(what == id and kind.startswith("asked") for kind, what in entry.amounts)


def _taken(entry: Entry, id: str, *, by_mass: bool) -> Measure | None:
    """How much an entry took: as measured, else as asked; None where neither is of the kind."""
    amounts: Mapping[tuple[str, str], tuple[str, str, str]] = entry.amounts
    for kind in ("measured", "asked mass" if by_mass else "asked volume"):
        span = amounts.get((kind, id))
        if span is not None and amount_of(span[1]).is_a(MASS) == by_mass:
            return amount_of(span[1])
    return None

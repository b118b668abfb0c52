"""Products on the shelf: what the last count and the purchases since leave after the entries."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.season.checks import amount_of, cost_of
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
    asked : Measure
        The part of `used` of entries that hold no measured amount of that kind: what was asked.
    left : Measure
        Below zero where the record used more than came in.
    unknown : int
        Entries that used it in an amount of the other kind, without a density: not subtracted.
    strange : int
        Purchases and counts by the other kind of amount, as an import can bring them: not counted.
    pack : Measure or None
        As last bought.
    price : Fraction or None
        Of one such pack, as last paid.
    currency : str
        Of that price, "" where none was told.
    """

    material: str
    name: str
    counted: Measure | None
    day: str
    bought: Measure
    used: Measure
    asked: Measure
    left: Measure
    unknown: int
    strange: int
    pack: Measure | None
    price: Fraction | None
    currency: str


def by_mass(events: Iterable[Event], material: str) -> bool | None:
    """Whether a product is kept by weight, else by volume; None where nothing of it came in."""
    first = next((e for e in events if e.what == material), None)
    return None if first is None else _amount(first, "amount").is_a(MASS)


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
    return list(on_hand(events, as_first_written(base)).values()) if events else []


def as_first_written(base: sqlite3.Connection) -> Iterator[Entry]:
    """The entries that count, a correction with the time at which the first one was written.

    What was counted on the shelf in between had been taken already, however late its entry was put
    right.
    """
    rows = base.execute("SELECT id, about, written FROM entry").fetchall()
    about = {id: of for id, of, _ in rows}
    written = {id: at for id, _, at in rows}
    for entry in counting(base):
        first, seen = entry.id, set[str]()
        while about.get(first) in written and first not in seen:
            seen.add(first)
            first = about[first]
        yield entry if first == entry.id else replace(entry, written=written[first])


def _one(id: str, events: list[Event], entries: list[Entry]) -> Stock:
    every = [e for e in events if e.what == id]
    unit = GRAM if by_mass(every, id) else ML
    mine = [e for e in every if _amount(e, "amount").is_a(MASS) == (unit == GRAM)]
    last = max((e for e in mine if e.kind == COUNTED), key=_when, default=None)
    since = (min(e.day for e in mine), "") if last is None else _when(last)
    zero = Measure(Fraction(0), unit)
    start = zero if last is None else _amount(last, "amount").to(unit)
    bought, used, asked, unknown = zero, zero, zero, 0
    for event in mine:
        if event.kind == BOUGHT and _when(event) > since:
            bought += _amount(event, "amount").to(unit)
    for entry in entries:
        if (entry.day, entry.written) > since:
            taken, measured = _taken(entry, id, by_mass=unit == GRAM)
            if taken is None:
                unknown += _gave(entry, id)
            else:
                used += taken.to(unit)
                asked += zero if measured else taken.to(unit)
    pack, price, currency = _pack([e for e in mine if e.kind == BOUGHT])
    return Stock(
        material=id, name=mine[-1].details.get("name", id),
        counted=None if last is None else start, day=(last or mine[0]).day,
        bought=bought, used=used, asked=asked, left=start + bought - used, unknown=unknown,
        strange=len(every) - len(mine), pack=pack, price=price, currency=currency,
    )  # fmt: skip


def _when(event: Event) -> tuple[str, str]:
    return event.day, event.written


def _pack(buys: list[Event]) -> tuple[Measure | None, Fraction | None, str]:
    """The pack as last bought, and the last price of one such pack with its currency."""
    packs = [(_amount(e, "pack"), e.details) for e in buys if "pack" in e.details]
    if not packs:
        return None, None, ""
    pack = packs[-1][0]
    paid = [details for size, details in packs if size == pack and "cost" in details]
    if not paid:
        return pack, None, ""
    return pack, cost_of(paid[-1]["cost"]), paid[-1].get("currency", "")


def _amount(event: Event, name: str) -> Measure:
    return amount_of(event.details.get(name, ""))


def _gave(entry: Entry, id: str) -> bool:
    return any(what == id and kind.startswith("asked") for kind, what in entry.amounts)


def _taken(entry: Entry, id: str, *, by_mass: bool) -> tuple[Measure | None, bool]:
    """How much an entry took, and whether it was measured, else asked; None if of no such kind."""
    amounts: Mapping[tuple[str, str], tuple[str, str, str]] = entry.amounts
    for kind in ("measured", "asked mass" if by_mass else "asked volume"):
        span = amounts.get((kind, id))
        if span is not None and amount_of(span[1]).is_a(MASS) == by_mass:
            return amount_of(span[1]), kind == "measured"
    return None, False

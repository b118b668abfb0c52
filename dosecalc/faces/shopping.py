"""What a plan takes in all, less what is on hand, in whole packs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from dosecalc.catalog.garden import Garden
from dosecalc.errors import printable, refuse
from dosecalc.faces.shelf import amount_typed
from dosecalc.say import Say
from dosecalc.season.stock import Stock
from dosecalc.units.measure import GRAM, MASS, ML, Measure
from dosecalc.units.show import show


@dataclass(frozen=True, slots=True)
class Buy:
    """One product of the list.

    Parameters
    ----------
    material, name : str
    need : Measure
        In all, in g or mL.
    left : Measure or None
        On hand, never below zero; None where no stock is kept of it.
    other : bool
        Stock is kept by the other kind of amount, so nothing was taken off.
    buy : Measure
        What is lacking, zero where nothing is.
    pack : Measure or None
    packs : int or None
        Whole packs, None where the pack is not known or of the other kind.
    cost : Fraction or None
    """

    material: str
    name: str
    need: Measure
    left: Measure | None
    other: bool
    buy: Measure
    pack: Measure | None
    packs: int | None
    cost: Fraction | None


def packs_typed(texts: Sequence[str], garden: Garden) -> dict[str, Measure]:
    """Pack sizes as typed, "borax: 500 g", by material id.

    Raises
    ------
    DoseError
    """
    found = {}
    for text in texts:
        name, colon, size = text.rpartition(":")
        if not colon or not name.strip():
            raise refuse("shopping-pack-form", text=text)
        found[garden.material(name.strip()).id] = amount_typed(size)
    return found


def shopping(
    amounts: Iterable[tuple[str, str, bool, Fraction]],
    stocks: Mapping[str, Stock],
    packs: Mapping[str, Measure],
    prices: Mapping[str, Fraction],
) -> list[Buy]:
    """The list for all amounts of a plan.

    Parameters
    ----------
    amounts : iterable of (str, str, bool, Fraction)
        Material, name, whether by weight, g or mL.
    stocks : mapping of str to Stock
    packs : mapping of str to Measure
        Before those of the stock.
    prices : mapping of str to Fraction
        Of one of these packs.
    """
    need: dict[tuple[str, bool], Fraction] = {}
    names: dict[str, str] = {}
    for material, name, mass, amount in amounts:
        need[material, mass] = need.get((material, mass), Fraction(0)) + amount
        names[material] = name
    return [
        _buy(id, names[id], Measure(amount, GRAM if mass else ML), stocks.get(id),
             packs.get(id), prices.get(id))
        for (id, mass), amount in need.items()
    ]  # fmt: skip


def _buy(
    id: str, name: str, need: Measure, stock: Stock | None, pack: Measure | None,
    price: Fraction | None,
) -> Buy:  # fmt: skip
    other = stock is not None and stock.left.is_a(MASS) != need.is_a(MASS)
    left = None
    if stock is not None and not other:
        left = max(stock.left, stock.left * 0, key=lambda one: one.value)
    if pack is None and stock is not None:
        pack, price = stock.pack, stock.price if price is None else price
    lacking = need if left is None or left.value < 0 else need - left
    buy = max(lacking, need * 0, key=lambda one: one.value)
    count = None
    if pack is not None and pack.is_a(MASS) == need.is_a(MASS):
        count = ceil(buy.value / pack.to(buy.unit).value)
    cost = None if price is None or count is None else price * count
    return Buy(id, name, need, left, other, buy, pack, count, cost)


def shopping_lines(found: Sequence[Buy]) -> list[str]:
    """The list in words, with the sum of what has a price."""
    lines = [_line(one) for one in found]
    lines += [Say.of("shopping-other", name=printable(one.name), need=_both(one.need))
              for one in found if one.other]  # fmt: skip
    costs = [one.cost for one in found if one.cost]
    if costs:
        lines.append(Say.of("shopping-total", cost=money(sum(costs, Fraction(0)))))
    return [line.english() for line in lines]


def _line(one: Buy) -> Say:
    name, need = printable(one.name), _both(one.need)
    if not one.buy.value:
        assert one.left is not None
        return Say.of("shopping-there", name=name, need=need, left=show(one.left).metric)
    left: Say | str = ""
    if one.left is not None:
        shown = show(one.left, direction="down").metric if one.left.value else "nothing"
        left = Say.of("shopping-left", left=shown)
    if one.packs is None or one.pack is None:
        buy = show(one.buy, direction="up").both()
        return Say.of("shopping-loose", name=name, need=need, left=left, buy=buy)
    packs = Say.of("shopping-pack-one") if one.packs == 1 else Say.of(
        "shopping-pack-many", count=one.packs
    )  # fmt: skip
    cost = "" if one.cost is None else Say.of("shopping-cost", cost=money(one.cost))
    pack = show(one.pack).metric
    return Say.of(
        "shopping-buy", name=name, need=need, left=left, packs=packs, pack=pack, cost=cost
    )


def _both(measure: Measure) -> str:
    return show(measure, direction="up").both()


def money(amount: Fraction) -> str:
    """An amount of money to the hundredth, half of one rounded up."""
    cents = (amount * 200 + 1) // 2
    return f"{cents // 100}.{cents % 100:02d}"

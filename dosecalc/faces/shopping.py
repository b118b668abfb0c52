"""What a plan takes in all, less what is on hand, in whole packs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.material import IRRIGATION_WATER
from dosecalc.errors import printable, refuse
from dosecalc.faces.schedule import Dose
from dosecalc.faces.shelf import amount_typed
from dosecalc.say import Say
from dosecalc.season.stock import Stock
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, MASS, ML, Measure
from dosecalc.units.show import show
from dosecalc.units.spread import Span


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
        Of all packs.
    currency : str
        "" where none was told.
    through : bool
        It is measured by the other kind of amount, which meets this one through the likely density.
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
    currency: str = ""
    through: bool = False


@dataclass(frozen=True, slots=True)
class Price:
    """What one pack costs; the currency is "" where none was told."""

    amount: Fraction
    currency: str = ""


@dataclass(frozen=True, slots=True)
class Need:
    """What a plan takes of one material in all, in g and in mL; None where one is not known.

    Parameters
    ----------
    weighed : bool
        Whether it is measured by weight.
    """

    material: str
    name: str
    mass: Fraction | None
    volume: Fraction | None
    weighed: bool


def needs(doses: Iterable[Dose]) -> list[Need]:
    """The sum over all doses but their water; doses that are told in unlike ways stay apart."""
    sums: dict[tuple[str, bool, bool, bool], Need] = {}
    for dose in doses:
        weighed = {
            m.material for f in dose.mix.tankfuls for m in f.measures
            if m.say.key.startswith("do-weigh")
        }  # fmt: skip
        for item in dose.mix.amounts:
            if item.material in ("water", IRRIGATION_WATER):
                continue
            mass, volume = _likely(item.mass, GRAM), _likely(item.volume, ML)
            by_mass = mass is not None and (item.material in weighed or volume is None)
            key = (item.material, mass is None, volume is None, by_mass)
            have = sums.get(key, Need(item.material, item.name, Fraction(0), Fraction(0), by_mass))
            sums[key] = replace(
                have,
                mass=None if mass is None or have.mass is None else have.mass + mass,
                volume=None if volume is None or have.volume is None else have.volume + volume,
            )
    return list(sums.values())


def _likely(span: Span | None, unit: Unit) -> Fraction | None:
    return None if span is None else Measure(span.likely, span.unit).amount_in(unit)


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
    needed: Iterable[Need],
    stocks: Mapping[str, Stock],
    packs: Mapping[str, Measure],
    prices: Mapping[str, Price],
) -> list[Buy]:
    """The list for all needs of a plan.

    A material is counted as its stock is kept, else as its pack is sold, else as it is measured.

    Parameters
    ----------
    needed : iterable of Need
    stocks : mapping of str to Stock
    packs : mapping of str to Measure
        Before those of the stock.
    prices : mapping of str to Price
        Of one of these packs.
    """
    sums: dict[tuple[str, bool], tuple[str, Fraction, bool]] = {}
    for need in needed:
        stock, pack = stocks.get(need.material), packs.get(need.material)
        by = stock.left if stock is not None else pack
        mass = need.weighed if by is None else by.is_a(MASS)
        mass = mass if (need.mass if mass else need.volume) is not None else not mass
        amount = need.mass if mass else need.volume
        assert amount is not None
        _, before, through = sums.get((need.material, mass), ("", Fraction(0), False))
        sums[need.material, mass] = (
            need.name, before + amount, through or mass != need.weighed
        )  # fmt: skip
    return [
        _buy(id, name, Measure(amount, GRAM if mass else ML), stocks.get(id), packs.get(id),
             prices.get(id), through=through)
        for (id, mass), (name, amount, through) in sums.items()
    ]  # fmt: skip


def _buy(
    id: str, name: str, need: Measure, stock: Stock | None, pack: Measure | None,
    price: Price | None, *, through: bool,
) -> Buy:  # fmt: skip
    zero = need * 0
    other = stock is not None and stock.left.is_a(MASS) != need.is_a(MASS)
    left = None
    if stock is not None and not other:
        left = max(stock.left, zero, key=lambda one: one.value)
    if stock is not None and pack in (None, stock.pack):
        pack = stock.pack
        if price is None and stock.price is not None:
            price = Price(stock.price, stock.currency)
    lacking = need if left is None else need - left
    buy = max(lacking, zero, key=lambda one: one.value)
    count = None
    if pack is not None and pack.is_a(MASS) == need.is_a(MASS):
        count = ceil(buy.value / pack.to(buy.unit).value)
    cost = None if price is None or count is None else price.amount * count
    currency = "" if price is None else price.currency
    return Buy(id, name, need, left, other, buy, pack, count, cost, currency, through)


def shopping_lines(found: Sequence[Buy]) -> list[str]:
    """The list in words, with the sum of what has a price."""
    lines = [_line(one) for one in found]
    lines += [Say.of("shopping-other", name=printable(one.name), need=_both(one.need))
              for one in found if one.other]  # fmt: skip
    costs: dict[str, list[Fraction]] = {}
    for one in found:
        if one.cost:
            costs.setdefault(one.currency, []).append(one.cost)
    if costs:
        sums = [money(sum(mine, Fraction(0)), currency) for currency, mine in costs.items()]
        lines.append(Say.of("shopping-total", cost=", ".join(sums)))
    return [line.english() for line in lines]


def _line(one: Buy) -> Say:
    name, need = printable(one.name), _both(one.need)
    if one.through:
        need = Say.of("shopping-through", need=need).english()
    if not one.buy.value:
        assert one.left is not None
        return Say.of(
            "shopping-there", name=name, need=need, left=show(one.left, direction="down").both()
        )
    left: Say | str = ""
    if one.left is not None:
        shown = show(one.left, direction="down").both() if one.left.value else "nothing"
        left = Say.of("shopping-left", left=shown)
    if one.packs is None or one.pack is None:
        buy = show(one.buy, direction="up").both()
        return Say.of("shopping-loose", name=name, need=need, left=left, buy=buy)
    packs = Say.of("shopping-pack-one") if one.packs == 1 else Say.of(
        "shopping-pack-many", count=one.packs
    )  # fmt: skip
    cost = "" if one.cost is None else Say.of("shopping-cost", cost=money(one.cost, one.currency))
    pack = show(one.pack).both()
    return Say.of(
        "shopping-buy", name=name, need=need, left=left, packs=packs, pack=pack, cost=cost
    )


def _both(measure: Measure) -> str:
    return show(measure, direction="up").both()


def money(amount: Fraction, currency: str = "") -> str:
    """An amount of money to the hundredth, half of one rounded up."""
    cents = (amount * 200 + 1) // 2
    return f"{cents // 100}.{cents % 100:02d} {currency}".rstrip()

"""The products on hand as they are typed: names or analyses, with stock, price, measure, share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from dosecalc.catalog.availability import first_year, read_shares
from dosecalc.catalog.formula import ANALYSIS
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.product import Product
from dosecalc.catalog.prose.stuff import stuff
from dosecalc.dose.feed.bounds import Offer
from dosecalc.dose.feed.plan import OnHand
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import MASS, VOLUME, Measure

COUNTS = {"oxide": "US", "element": "AU"}
"""What P and K of an analysis count, by a region whose bags do the same."""
SLOW = frozenset({"raw-manure", "composted-manure", "compost", "organic-meal", "mulch"})
"""Traits of what must rot first, so that only a part of its nitrogen feeds the first crop."""
_LITRE: Unit = (("liter", 1),)


@dataclass(slots=True)
class Shop:
    """What the options say of each product, by the name it was typed under."""

    names: list[str] = field(default_factory=list)
    stock: dict[str, Measure] = field(default_factory=dict)
    first: dict[str, Fraction] = field(default_factory=dict)
    price: dict[str, tuple[Fraction, Measure]] = field(default_factory=dict)
    whole: dict[str, Measure] = field(default_factory=dict)


def read_shop(
    have: tuple[str, ...], counting: tuple[str, ...], price: tuple[str, ...],
    whole: tuple[str, ...],
) -> Shop:  # fmt: skip
    """The products, and what the options say of them.

    Raises
    ------
    DoseError
        For an option that cannot be read or that speaks of a product that is not on hand.
    """
    shop = Shop()
    for one in have:
        name, colon, rest = (part.strip() for part in one.partition(":"))
        if name in shop.names:
            raise refuse("feed-have-twice", text=name)
        shop.names.append(name)
        if colon:
            shop.stock[name] = _amount(rest, "--have", "5 kg")
    if not shop.names:
        raise refuse("feed-no-have")
    for one in counting:
        name, rest = _pair(one, "--first-year", "kitchen-compost: 15 %")
        shop.first[name] = share(rest, "--first-year", "15 %")
    for one in price:
        name, rest = _pair(one, "--price", "urea: 24.50 for 25 kg")
        money, for_, pack = rest.partition(" for ")
        if not for_:
            raise refuse("feed-pair", text=one, option="--price", example="urea: 24.50 for 25 kg")
        paid = read.number(money, "us", example="24.50")
        shop.price[name] = paid, _amount(pack, "--price", "25 kg")
    for one in whole:
        name, rest = _pair(one, "--whole", "urea: 25 kg")
        shop.whole[name] = _amount(rest, "--whole", "25 kg")
    for option, told in (
        ("--first-year", shop.first), ("--price", shop.price), ("--whole", shop.whole)
    ):  # fmt: skip
        for name in told:
            if name not in shop.names:
                known = ", ".join(shop.names)
                raise refuse("feed-not-on-hand", text=name, option=option, known=known)
    return shop


def share(text: str, option: str, example: str) -> Fraction:
    """A percentage from 0 to 100."""
    clean = text.strip()
    found = read.number(clean.removesuffix("%").strip(), "us", example=example) / 100
    if not clean.endswith("%") or not 0 <= found <= 1:
        raise refuse("feed-percent", text=text, option=option, example=example)
    return found


def _pair(text: str, option: str, example: str) -> tuple[str, str]:
    name, colon, rest = text.partition(":")
    if not colon or not rest.strip():
        raise refuse("feed-pair", text=text, option=option, example=example)
    return name.strip(), rest.strip()


def _amount(text: str, option: str, example: str) -> Measure:
    found = read.quantity(text, want=f"an amount for {option}", example=example, oz_is="weight")
    if not (found.is_a(MASS) or found.is_a(VOLUME)) or found.value <= 0:
        raise refuse("feed-pair", text=text, option=option, example=example)
    return found


def products(
    shop: Shop, counts: str | None, garden: Garden, region: str | None
) -> dict[str, tuple[str, Material]]:
    """Each product of the garden file, the catalog or a typed analysis, and how it was typed.

    Parameters
    ----------
    shop : Shop
    counts : str or None
        What P and K of a typed analysis count, where it was told.
    garden : Garden
    region : str or None

    Raises
    ------
    DoseError
        For a product that is not known, is a liquid, holds nothing, or could be read in two ways.
    """
    if counts is not None and counts not in COUNTS:
        raise refuse("one-of", text=counts[:60], option="--counts", known=", ".join(COUNTS))
    where = COUNTS[counts] if counts is not None else region
    shelf = garden.products()
    found: dict[str, tuple[str, Material]] = {}
    for name in shop.names:
        if ANALYSIS.fullmatch(name):
            made = _of_analysis(name, where)
            key = name.replace(".", "-")
        else:
            made = garden.material(name)
            key = name if name in shelf else made.id
        if made.liquid:
            raise refuse("feed-liquid", name=made.name)
        if not made.contents:
            raise refuse("feed-holds-nothing", name=made.name)
        if key in found:
            raise refuse("feed-have-twice", text=name)
        found[key] = (name, made)
    return found


def _of_analysis(name: str, region: str | None) -> Material:
    if region is None and any(Fraction(part) for part in name.split("-")[1:]):
        raise refuse("feed-counts", text=name)
    return stuff(name, None, None, region or "US").material


def on_hand(offer: Offer, typed: str, shop: Shop, shelf: Mapping[str, Product]) -> OnHand:
    """A product with what was typed of it, else with what the garden file or a source holds.

    Raises
    ------
    DoseError
        For what must rot first, where no share of its nitrogen was told or is published.
    """
    made, own = offer.material, shelf.get(offer.id)
    first = shop.first.get(typed, None if own is None else own.first_year)
    known = None
    if first is None and made.content("N") is not None and not SLOW.isdisjoint(made.traits):
        known = first_year(made, read_shares(source))
        if known is None:
            raise refuse("feed-first-year", name=made.name, text=typed)
        first = known.likely
    cost = None
    if typed in shop.price:
        paid, pack = shop.price[typed]
        cost = paid / _units(pack, offer)
    elif own is not None and own.price is not None and own.pack is not None:
        cost = own.price / _units(own.pack, offer)
    stock, whole = shop.stock.get(typed), shop.whole.get(typed)
    return OnHand(
        offer,
        {} if first is None else {"N": first},
        None if stock is None else _units(stock, offer),
        cost,
        None if whole is None else _units(whole, offer),
        known,
    )


def _units(amount: Measure, offer: Offer) -> Fraction:
    """An amount in the unit that the plan counts a product in; through its density if it must."""
    by_volume = amount.is_a(VOLUME)
    if by_volume == (offer.unit == _LITRE):
        return amount.amount_in(offer.unit)
    density = offer.material.need_density(amount)
    per = Measure(density.likely, density.unit)
    return ((amount * per) if by_volume else (amount / per)).amount_in(offer.unit)

"""From needs, credits and products on hand to a plan, and to the recipes that it ends as."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from dosecalc.catalog.asked import Asked
from dosecalc.catalog.availability import Share
from dosecalc.catalog.credit import Credit
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.limit import Limit
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.catalog.site import Site
from dosecalc.catalog.split import MOST_PARTS
from dosecalc.dose.feed.bounds import Offer, bounds, view_of
from dosecalc.dose.feed.clash import plan
from dosecalc.dose.feed.passes import Pass, in_passes, never_both
from dosecalc.dose.feed.problem import Answer, Feed, Member, Problem, Want
from dosecalc.dose.feed.solve import Solver
from dosecalc.dose.request import Request
from dosecalc.dose.wording import about_text, limit_text, scope_say, times_text
from dosecalc.say import Say
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, KG, PLANT, POT, Measure, exact_text
from dosecalc.units.show import show

ONE_OF: dict[str, Measure] = {
    "area": Measure(Fraction(1), (("meter", 2),)),
    "row length": Measure(Fraction(1), (("meter", 1),)),
    "plant": Measure(Fraction(1), PLANT),
    "pot": Measure(Fraction(1), POT),
    "medium volume": Measure(Fraction(1), (("liter", 1),)),
}
"""The basis that a plan's recipe is written for."""
SHOWN_PER: dict[str, Unit] = {
    "area": (("hectare", -1), ("kg", 1)),
    "row length": (("gram", 1), ("meter", -1)),
    "plant": (("gram", 1), ("plant", -1)),
    "pot": (("gram", 1), ("pot", -1)),
    "medium volume": (("gram", 1), ("liter", -1)),
}


@dataclass(frozen=True, slots=True)
class OnHand:
    """One product on hand with what a plan must know of it.

    Parameters
    ----------
    offer : Offer
    counts : mapping of str to Fraction
        The share of an element that feeds this crop; all of it where nothing stands.
    stock, cost, whole : Fraction or None
        Units on hand, the price of one, and units of one whole measure.
    share : Share or None
        The published share of its nitrogen that `counts` goes by, where none was typed.
    """

    offer: Offer
    counts: Mapping[str, Fraction]
    stock: Fraction | None = None
    cost: Fraction | None = None
    whole: Fraction | None = None
    share: Share | None = None


@dataclass(frozen=True, slots=True)
class Order:
    """What a plan is asked for.

    Parameters
    ----------
    request : Request
        Site, tools, what was told, the past, and what is known of every product.
    basis : str
        What the plan's recipes are counted on.
    hand : tuple of OnHand
    needs : tuple of Asked
    credits : tuple of Credit
    near : Fraction
        The share of a need within which more or less counts as met.
    prefer : str
        See `Problem`.
    excess : tuple of str
        Elements, the one whose excess harms first in front.
    """

    request: Request
    basis: str
    hand: tuple[OnHand, ...]
    needs: tuple[Asked, ...]
    credits: tuple[Credit, ...]
    near: Fraction
    prefer: str
    excess: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One nutrient of a plan, in kg on the whole site, counted in the word it was asked in.

    Parameters
    ----------
    word : str
    need, credit, supply, later, more, missing : Measure
        `later` is brought by the products but does not feed this crop; `more` is what need and
        tolerance leave over.
    """

    word: str
    need: Measure
    credit: Measure
    supply: Measure
    later: Measure
    more: Measure
    missing: Measure


@dataclass(frozen=True, slots=True)
class Plan:
    """How much of each product, what that comes to, and the recipes of its passes.

    Parameters
    ----------
    lines : tuple of Line
    amounts : tuple of (OnHand, Measure)
    unused : tuple of OnHand
    clash : tuple of Say
        Why the needs cannot all be met; empty where they are.
    passes : tuple of Pass
    recipes : tuple of Recipe
        One for each pass.
    over : Measure
        The basis of the whole site.
    answer : Answer
    """

    lines: tuple[Line, ...]
    amounts: tuple[tuple[OnHand, Measure], ...]
    unused: tuple[OnHand, ...]
    clash: tuple[Say, ...]
    passes: tuple[Pass, ...]
    recipes: tuple[Recipe, ...]
    over: Measure
    answer: Answer


def compose(order: Order, solver: Solver) -> Plan:
    """The best plan for an order; where the needs cannot all be met, the nearest to them.

    Parameters
    ----------
    order : Order
    solver : Solver

    Raises
    ------
    DoseError
        When the site does not tell a basis, or no whole numbers of measures do.
    """
    request, site = order.request, order.request.site
    offers = [hand.offer for hand in order.hand]
    held = bounds(request, offers)
    view = view_of(request, [(offer, Fraction(1)) for offer in offers])
    brings = {offer.id: _brings(request, offer) for offer in offers}
    credits = _credits(order, site)
    wants = tuple(
        Want(need.element, need.on(site) - credits.get(need.element, Fraction(0)), order.near)
        for need in order.needs
    )
    problem = Problem(
        feeds=tuple(
            Feed(
                hand.offer.id,
                tuple(
                    (element, kg * hand.counts.get(element, Fraction(1)))
                    for element, kg in brings[hand.offer.id].items()
                ),
                hand.cost, hand.stock, hand.whole,
            )
            for hand in order.hand
        ),
        wants=wants,
        bounds=tuple(bound for bound, _ in held),
        order=order.excess,
        prefer=order.prefer,
        apart=never_both(request.knowledge.rules.pairs, offers, view),
    )  # fmt: skip
    found = plan(problem, solver)
    used = [hand for hand in order.hand if found.units(hand.offer.id)]
    passes = in_passes(request.knowledge.rules.pairs, [hand.offer for hand in used], view)
    over = _whole(order.basis, site)
    amounts = tuple(
        (hand, Measure(found.units(hand.offer.id), hand.offer.unit)) for hand in used
    )  # fmt: skip
    by_id = {hand.offer.id: amount for hand, amount in amounts}
    return Plan(
        lines=_lines(order, credits, brings, found),
        amounts=amounts,
        unused=tuple(hand for hand in order.hand if hand not in used),
        clash=tuple(_clash(order, member, {limit.id: limit for _, limit in held})
                    for member in found.clash),
        passes=passes,
        recipes=tuple(
            _recipe(one, by_id, order.basis, over, at, len(passes))
            for at, one in enumerate(passes, start=1)
        ),
        over=over,
        answer=found,
    )  # fmt: skip


def _whole(basis: str, site: Site) -> Measure:
    one = Asked("N", Measure(Fraction(1), KG) / ONE_OF[basis], "")
    return ONE_OF[basis] * one.on(site)


def _brings(request: Request, offer: Offer) -> dict[str, Fraction]:
    """Kilograms of each element in one unit of a product."""
    masses = view_of(request, [(offer, Fraction(1))]).nutrients
    found = {element: est.to(KG).span().likely for element, est in masses.items()}
    return {element: kg for element, kg in found.items() if kg}


def _credits(order: Order, site: Site) -> dict[str, Fraction]:
    found: dict[str, Fraction] = {}
    for credit in order.credits:
        element = credit.asked.element
        found[element] = found.get(element, Fraction(0)) + credit.asked.on(site)
    return found


def _lines(
    order: Order, credits: Mapping[str, Fraction], brings: Mapping[str, Mapping[str, Fraction]],
    found: Answer,
) -> tuple[Line, ...]:  # fmt: skip
    """Every nutrient that was asked for, and those whose excess counts."""
    words = {need.element: need.word for need in order.needs}
    needs = {need.element: need.on(order.request.site) for need in order.needs}
    missing = dict(found.missing)
    lines = []
    for element in dict.fromkeys((*words, *order.excess)):
        whole = counted = Fraction(0)
        for hand in order.hand:
            kg = brings[hand.offer.id].get(element, Fraction(0)) * found.units(hand.offer.id)
            whole += kg
            counted += kg * hand.counts.get(element, Fraction(1))
        need, credit = needs.get(element, Fraction(0)), credits.get(element, Fraction(0))
        if element not in words and not whole:
            continue
        # What credits bring beyond the need was there before the plan.
        wanted = max(Fraction(0), need - credit)
        word = words.get(element, {"P": "P2O5", "K": "K2O"}.get(element, element))
        share = element_of(word)[1]
        lines.append(
            Line(
                word,
                *(
                    Measure(kg / share, KG)
                    for kg in (
                        need, credit, counted, whole - counted,
                        max(Fraction(0), counted - wanted), missing.get(element, Fraction(0)),
                    )
                ),
            )
        )  # fmt: skip
    return tuple(lines)


def _clash(order: Order, member: Member, limits: Mapping[str, Limit]) -> Say:
    """One of the needs and limits that cannot all hold, in words."""
    if member.kind == "need":
        word = next(need.word for need in order.needs if need.element == member.id)
        share = element_of(word)[1]
        asked, reached = (
            show(Measure(kg / share, KG).to(GRAM)).metric for kg in (member.asked, member.reached)
        )
        key = "feed-clash-need" if member.reached > 0 else "feed-clash-none"
        return Say.of(key, word=word, asked=asked, reached=reached)
    if member.kind == "stock":
        offer = next(hand.offer for hand in order.hand if hand.offer.id == member.id)
        asked, reached = (
            show(Measure(units, offer.unit)).metric for units in (member.asked, member.reached)
        )
        return Say.of(
            "feed-clash-stock", name=offer.material.name, asked=asked, reached=reached
        )  # fmt: skip
    limit = limits[member.id]
    offers = [(hand.offer, Fraction(1)) for hand in order.hand]
    holders = view_of(order.request, offers).holds(limit.of)
    args = {
        "about": about_text(limit.of, holders), "limit": limit_text(limit),
        "scope": scope_say(limit), "source": limit.source.cite(), "reason": limit.why,
    }  # fmt: skip
    if member.asked <= 0:
        return Say.of("feed-clash-spent", **args)
    times = member.reached / member.asked
    return Say.of("feed-clash-limit", times=times_text(times), split=_split(limit, times), **args)


def _split(limit: Limit, times: Fraction) -> Say | str:
    """How many applications would hold a limit of one, where it speaks of nitrogen."""
    count = ceil(times)
    if limit.of != "N" or limit.window != "application" or not 2 <= count <= MOST_PARTS:
        return ""
    share = Fraction(100 // count)
    parts = [share] * (count - 1)
    parts.insert(0, 100 - sum(parts, Fraction(0)))
    if max(parts) * times > 100:
        return ""  # the uneven first part would pass it
    return Say.of("feed-clash-split", count=count, split=", ".join(f"{part} %" for part in parts))


def _recipe(
    one: Pass, amounts: Mapping[str, Measure], basis: str, over: Measure, at: int, of: int
) -> Recipe:
    """One pass as a recipe per square metre, metre of row, plant, pot or litre."""
    per = ONE_OF[basis]
    times = (over / per).amount_in(())
    statement = Statement(
        measures=None, declared=None, basis=basis, per=per, per_text=exact_text(per),
        ingredients=tuple(
            Ingredient(
                material=offer.id, amount=given(offer, amounts[offer.id]) / times, to=None,
                nutrient=None, role="feed",
                printed=show(given(offer, amounts[offer.id]) / times).metric,
            )
            for offer in one.offers
        ),
        water=None,
    )  # fmt: skip
    name = "Plan" if of == 1 else f"Plan, pass {at} of {of}"
    return replace(one.offers[0].recipe, name=name, statements=(statement,))


def given(offer: Offer, amount: Measure) -> Measure:
    """An amount of a product as it is given: a heap by volume, through its likely density.

    Small parts of a kilogram or litre are read better in g and mL.
    """
    density = offer.material.density
    if amount.unit == KG and offer.material.loose and density is not None:
        return (amount / Measure(density.likely, density.unit)).to((("liter", 1),))
    return amount.to(GRAM) if amount.unit == KG else amount.to((("mL", 1),))


def draft(how: str, placement: str, basis: str, names: tuple[str, ...]) -> Recipe:
    """The recipe of a plan before its amounts are known: one gram of each product.

    Parameters
    ----------
    how, placement, basis : str
    names : tuple of str
    """
    per = ONE_OF[basis]
    one = Measure(Fraction(1), GRAM)
    items = tuple(Ingredient(name, one, None, None, "feed", "1 g") for name in names)
    return Recipe(
        id="plan", name="Plan", purpose="Products on hand for what the ground needs.", how=how,
        placement=placement, setting=(), crops=(), not_on=(), when="",
        statements=(Statement(None, None, basis, per, exact_text(per), items, None),),
        repeat=None, order=(), cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip


def unit_for(material: Material) -> Unit:
    """Kilograms; litres where the label counts by volume and no density tells the weight."""
    by_volume = any(content.basis == "w/v" for content in material.contents)
    return (("liter", 1),) if by_volume and material.density is None else KG

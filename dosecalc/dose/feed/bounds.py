"""The judge's limits as linear forms over the products on hand: the same reckoning, turned round.

What one unit of a product alone comes to against a limit is its part of the form; what the record
of the bed holds is taken off the limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.limit import Limit
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.feed.problem import Bound
from dosecalc.dose.judge import counted, figure
from dosecalc.dose.request import Request
from dosecalc.dose.scene import Scene, in_scope, scene
from dosecalc.dose.settle import counted_site
from dosecalc.units.engine import Unit
from dosecalc.units.measure import Measure
from dosecalc.units.spread import Est


@dataclass(frozen=True, slots=True)
class Offer:
    """One product on hand as the limits see it.

    Parameters
    ----------
    id : str
    material : Material
    unit : Unit
        What its amount is counted in: kilograms, or litres where its label counts by volume.
    recipe : Recipe
        How it would be given: its placement decides which limits speak of it.
    """

    id: str
    material: Material
    unit: Unit
    recipe: Recipe


def view_of(request: Request, offers: Iterable[tuple[Offer, Fraction]]) -> Scene:
    """The scene in which so much of each product is given.

    Parameters
    ----------
    request : Request
        Site, tools, what was told and the past.
    offers : iterable of (Offer, Fraction)
        Products given in one way, and how many units of each; of two that stand for one material
        the first.
    """
    given: list[Delivered] = []
    recipe = request.recipe
    for offer, units in offers:
        if any(item.material.id == offer.material.id for item in given):
            continue
        recipe = offer.recipe
        amount = Est.of(Measure(units, offer.unit))
        as_volume = offer.unit == (("liter", 1),)
        given.append(
            Delivered(
                offer.material,
                offer.material.mass_of(amount, as_volume),
                offer.material.volume_of(amount, as_volume),
                "weighed",
            )
        )
    statement = recipe.statements[0]
    return scene(
        recipe, request.knowledge.recipe_crops, counted_site(request.site, statement),
        request.tools, request.told, None, tuple(given), basis=statement.basis,
    )  # fmt: skip


def bounds(request: Request, offers: Sequence[Offer]) -> tuple[tuple[Bound, Limit], ...]:
    """Every limit that judges in this scope, as a bound over the products that it speaks of.

    Parameters
    ----------
    request : Request
    offers : sequence of Offer
    """
    labels = tuple(limit for label in request.knowledge.labels for limit in label.limits)
    alone = [(offer, view_of(request, [(offer, Fraction(1))])) for offer in offers]
    found = []
    for limit in (*labels, *request.knowledge.limits):
        if not limit.judges or limit.lower:
            continue
        parts = tuple(_parts(limit, alone))
        if parts:
            found.append((Bound(limit.id, parts, _left(limit, alone[0][1]), _most(limit)), limit))
    return tuple(found)


def _parts(limit: Limit, alone: list[tuple[Offer, Scene]]) -> Iterator[tuple[str, Fraction]]:
    for offer, view in alone:
        if not view.holds(limit.of) or not in_scope(limit, view):
            continue
        if limit.per == "count":
            if view.told.already + counted(limit, view) + 1 > limit.limit.value:
                yield offer.id, Fraction(1)
            continue
        if limit.excludes:
            yield offer.id, Fraction(1)
            continue
        span = figure(limit, view)
        if span is not None and span.likely:
            yield offer.id, span.likely


def _left(limit: Limit, view: Scene) -> Fraction:
    """What the limit leaves after what the record of the bed holds."""
    if limit.per == "count" or limit.excludes:
        return Fraction(0)
    past = dict(view.told.past.figures).get(limit.id)
    return limit.limit.value - (past[1] if past is not None else 0)


def _most(limit: Limit) -> bool:
    return limit.inclusive or limit.excludes or limit.per == "count"

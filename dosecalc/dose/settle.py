"""Plan and judge together: what is measured for each filling, and what that comes to.

Rounding up may carry a material over a limit that the exact amount keeps; then it is planned
again, never above what was asked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Statement
from dosecalc.catalog.site import Site
from dosecalc.dose.deliver import Delivered, deliver
from dosecalc.dose.need import SPRAYED, Need
from dosecalc.dose.plan import (
    NARROW,
    Action,
    Tolerance,
    as_done,
    none_fits,
    offer,
    tolerance_for,
)
from dosecalc.dose.request import Request
from dosecalc.dose.result import URGENT, Finding
from dosecalc.dose.scene import Scene, scene
from dosecalc.dose.small import Batch, batch, stock
from dosecalc.dose.verdict import Verdict, pass_judgement
from dosecalc.say import Say
from dosecalc.units.show import rounded


@dataclass(frozen=True, slots=True)
class Filling:
    """What is done for one filling: its actions, and the batch they belong to if there is one."""

    actions: tuple[Action, ...]
    batch: Batch | None = None


@dataclass(frozen=True, slots=True)
class Settled:
    """The plan of every kind of filling, and the verdict on what they deliver together.

    Parameters
    ----------
    planned : mapping of Fraction to Filling
        By the filling's part of the whole.
    view : Scene
    verdict : Verdict
    """

    planned: Mapping[Fraction, Filling]
    view: Scene
    verdict: Verdict


def counted_site(site: Site, statement: Statement) -> Site:
    """The site over which figures are counted: a bed's top, unless the work goes by row."""
    return site if statement.basis == "row length" else site.counted_over_the_top()


def settle(
    request: Request, asked: Need, statement: Statement, parts: tuple[Fraction, ...]
) -> Settled:
    """Plan every filling and judge the whole.

    Parameters
    ----------
    request : Request
    asked : Need
    statement : Statement
    parts : tuple of Fraction
        Each filling's part of the whole; equal ones are planned once.
    """
    never_above: frozenset[str] = frozenset()
    while True:
        planned = {part: _fill(request, asked, part, never_above) for part in dict.fromkeys(parts)}
        delivered = deliver(action for part in parts for action in planned[part].actions)
        view = _scene(request, counted_site(request.site, statement), asked, delivered)
        verdict = pass_judgement(request.knowledge, view)
        carried = _carried_over(verdict.findings, planned, view) - never_above
        if request.done or not carried:
            return Settled(planned, view, verdict)
        never_above |= carried


def _scene(request: Request, site: Site, asked: Need, delivered: tuple[Delivered, ...]) -> Scene:
    return scene(
        request.recipe,
        request.knowledge.recipe_crops,
        site,
        request.tools,
        request.told,
        asked.liquid,
        delivered,
        request.stock,
        frozenset(item.material.id for item in asked.amounts if item.role == "adjuvant"),
        asked.statement.basis,
        asked.liquid_is,
        request.feed_held,
    )


_OVER = ("limit-over", "limit-over-weak", "limit-maybe", "limit-maybe-spooned")


def _carried_over(
    findings: tuple[Finding, ...], planned: Mapping[Fraction, Filling], view: Scene
) -> frozenset[str]:
    """Materials measured above what was asked that a limit finding speaks of."""
    above = {a.material.id for filling in planned.values() for a in filling.actions if a.shift > 0}
    named = {d.material.id for f in findings if f.why in _OVER for d in view.holds(f.about)}
    return frozenset(above & named)


def _fill(request: Request, asked: Need, part: Fraction, never_above: frozenset[str]) -> Filling:
    """The actions for one filling, from a batch or a stock where they are too small."""
    tools = request.tools
    amounts = tuple((item.material, item.asked * part) for item in asked.amounts)
    if request.done:
        return Filling(tuple(as_done(amount, m, tools) for m, amount in amounts))
    sprayed = request.recipe.placement in SPRAYED

    def tolerance(material: Material) -> Tolerance:
        usual = tolerance_for(material, sprayed)
        if material.id in never_above:
            return Tolerance(max(usual.below, NARROW.below), NARROW.above)
        return usual

    offers = [offer(amount, m, tools, tolerance(m)) for m, amount in amounts]
    poor = [
        action is None or action.poor(tolerance(m))
        for action, (m, _) in zip(offers, amounts, strict=True)
    ]
    if asked.liquid is not None and any(poor):
        water = asked.statement.water
        own = asked.statement.per if water is None else water.amount
        made = batch(amounts, asked.liquid * part, own, tools, tolerance)
        if made is not None:
            return Filling(made.actions, made)
    settled: list[Action] = []
    for action, bad, (material, amount) in zip(offers, poor, amounts, strict=True):
        way_round = None
        if bad and asked.liquid is not None:
            way_round = stock(amount, material, tools, tolerance(material), request.told.water)
        chosen = way_round or action
        if chosen is None:
            raise none_fits(amount, material)
        settled.append(chosen)
    return Filling(tuple(settled))


def upper_end_findings(
    request: Request, asked: Need, statement: Statement, parts: tuple[Fraction, ...], first: Settled
) -> tuple[Finding, ...]:
    """Where a recipe leaves a choice, what its upper end would run into that the lower does not."""
    if request.done or all(item.up_to is None for item in asked.amounts):
        return ()
    upper = replace(
        asked,
        amounts=tuple(
            replace(item, asked=item.up_to or item.asked, up_to=None) for item in asked.amounts
        ),
    )
    known = {f.id for f in first.verdict.findings if f.level in URGENT}
    return tuple(
        replace(
            found,
            id=f"upper-{found.id}",
            level="caution",
            why="upper-end",
            say=Say.around("upper-end", "what", [found.say]),
            brief=None,
        )
        for found in settle(request, upper, statement, parts).verdict.findings
        if found.level in URGENT and found.id not in known and found.why != "not-told"
    )


def measuring_findings(planned: Mapping[Fraction, Filling]) -> tuple[Finding, ...]:
    """What the tools at hand cannot measure within the tolerance: said, never passed over."""
    worst: dict[str, Action] = {}
    for filling in planned.values():
        for action in filling.actions:
            have = worst.get(action.material.id)
            if not action.within and (have is None or abs(have.shift) < abs(action.shift)):
                worst[action.material.id] = action
    return tuple(
        Finding(
            id=f"measure-{action.material.id}",
            level="caution" if action.material.by_weight else "note",
            why="measuring",
            about=action.material.id,
            say=Say.of(
                "cannot-measure" if action.say.key == "do-weigh-too-fine" else "measured-off",
                name=action.material.name,
                percent=rounded(abs(action.shift) * 100, 2)[0],
                side="more" if action.shift > 0 else "less",
            ),
        )
        for action in worst.values()
    )

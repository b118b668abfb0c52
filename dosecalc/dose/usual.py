"""A dose far above every rate on file, where no limit forbids it: mostly a slip in the text.

A published rate is no limit, and nothing here approves a dose: at or below twice the highest
rate on file nothing is said, unless one dose is more than the rate of a whole season.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.label import GRADE
from dosecalc.catalog.usual import Usual
from dosecalc.dose.deliver import Delivered, nutrient_masses, strength
from dosecalc.dose.result import Finding
from dosecalc.dose.scene import Scene, basis_measure, by_volume
from dosecalc.dose.wording import about_text, basis_text, figure_text, settings_say, times_text
from dosecalc.say import Say
from dosecalc.units.engine import dimension
from dosecalc.units.measure import Measure
from dosecalc.units.spread import Est, Span

FAR = 2
"""How many times the highest rate on file a dose may be before it is called far above it.

Our own choice, no source: less than that may be another soil or another page, and the slips it
looks for (a tablespoon for a teaspoon, 10 for 100 square feet) are threefold and more.
"""

_HELD_OVER: dict[str, tuple[str, ...]] = {
    "area": ("field area", "depth", "solution"),
    "layer": ("depth", "field area"),
    "row length": ("row length", "field area", "solution"),
    "plant": ("plant", "field area", "solution"),
    "pot": ("plant", "medium volume", "solution"),
    "medium volume": ("medium volume", "solution"),
    "spray volume": ("solution", "field area"),
}
"""By what a recipe's rate is counted on: the bases that its dose is compared over."""

_INSTEAD_OF_AREA = ("row length", "depth", "plant")
"""Bases of a recipe's own in which a rate on file makes one over the ground say nothing more."""

_SAID_ALREADY = ("limit-over-weak", "limit-over-phase")


@dataclass(frozen=True, slots=True)
class Held:
    """One rate and the dose that was compared with it."""

    rate: Usual
    figure: Span
    holders: tuple[Delivered, ...]

    @property
    def ratio(self) -> Fraction:
        """Likely figure over the rate."""
        return self.figure.likely / self.rate.rate.value

    @property
    def ids(self) -> frozenset[str]:
        """Ids of the materials it counts."""
        return frozenset(item.material.id for item in self.holders)


def far_above(
    rates: Iterable[Usual], view: Scene, judged: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """A caution for each thing whose likely figure is more than twice the highest rate on file.

    The likely figure decides, as for a limit that is passed; the high one is only carried along.

    Parameters
    ----------
    rates : iterable of Usual
    view : Scene
    judged : tuple of Finding
        What the limits say: a thing that one of them calls over is not said again.
    """
    groups: dict[tuple[str, str, bool, str], list[Usual]] = {}
    for rate in rates:
        if rate.per in _HELD_OVER.get(view.basis, (rate.per,)) and _placed(rate, view):
            for setting in sorted(view.settings):
                if "any" in rate.setting or setting in rate.setting:
                    once = rate.window == "application"
                    groups.setdefault((rate.of, rate.per, once, setting), []).append(rate)
    held = [one for group in groups.values() if (one := _highest(group, view)) is not None]
    own_basis = _HELD_OVER.get(view.basis, ("",))[0]
    if own_basis in _INSTEAD_OF_AREA:
        own = [one.ids for one in held if one.rate.per == own_basis]
        held = [one for one in held if one.rate.per != "field area" or one.ids not in own]
    held.sort(key=lambda one: -one.ratio)
    found: list[Finding] = []
    said: set[str] = set()
    for one in held:
        why = _why(one, view)
        if why is None or one.ids <= said or _spoken(one, view, judged):
            continue
        said |= one.ids
        found.append(_finding(one, view, why))
    return tuple(found)


def _placed(rate: Usual, view: Scene) -> bool:
    return "any" in rate.placement or view.recipe.placement in rate.placement


def _highest(group: list[Usual], view: Scene) -> Held | None:
    """The dose against the highest of some rates; None where one of them cannot be compared.

    A rate by the spoon and one by weight are compared through the dose itself: the highest is
    the one that the dose is the fewest times of.
    """
    held = [_hold(rate, view) for rate in group]
    known = [one for one in held if one is not None]
    return min(known, key=lambda one: one.ratio) if known and len(known) == len(held) else None


def _hold(rate: Usual, view: Scene) -> Held | None:
    holders = _holders(rate, view)
    amount = _amount(rate, view, holders)
    if amount is None:
        return None
    if rate.per == "solution":
        if view.liquid is None or view.stock or not _keeps_strength(view):
            return None
        over = strength(amount, view.liquid, view.tools)
    else:
        basis = basis_measure(rate.per, rate.rate, view.site)
        if basis is None:
            return None
        over = amount.over(basis)
    doses = 1 if rate.window == "application" else view.told.already + 1
    return Held(rate, over.by(Fraction(doses)).to(rate.rate.unit).span(), holders)


def _keeps_strength(view: Scene) -> bool:
    """Whether the strength of the liquid tells anything: on open ground water may only carry."""
    return view.liquid_is != "vehicle" or view.basis not in ("area", "layer", "row length")


def _holders(rate: Usual, view: Scene) -> tuple[Delivered, ...]:
    """The delivered materials that a rate counts."""
    return tuple(
        item
        for item in view.holds(rate.of)
        if not (rate.carriers and rate.carriers.isdisjoint(item.material.traits))
        and not (rate.dry and item.material.liquid)
    )


def _amount(rate: Usual, view: Scene, holders: tuple[Delivered, ...]) -> Est | None:
    """How much of the rate's thing these bring; None where a density that tells it is unknown."""
    if not holders:
        return None
    counted = replace(view, delivered=holders, nutrients=nutrient_masses(holders))
    return counted.amount(rate.of, by_volume(rate.per, rate.rate))


def _why(one: Held, view: Scene) -> str | None:
    """Which sentence a figure deserves, None for none."""
    if one.ratio > FAR:
        return "far-above"
    whole_season = one.rate.window != "application" and view.told.already == 0
    return "season-at-once" if whole_season and one.ratio > 1 else None


def _spoken(one: Held, view: Scene, judged: tuple[Finding, ...]) -> bool:
    """Whether the limits have said already that it is too much, or a label has judged it."""
    said: set[str] = set()
    for found in judged:
        over = found.level in ("over", "stop") or found.why == "excluded"
        alike = found.limit is not None and dimension(found.limit.unit) == dimension(
            one.rate.rate.unit
        )
        if over or (alike and (found.why in _SAID_ALREADY or found.grade == GRADE)):
            said |= {item.material.id for item in view.holds(found.about)}
    return one.ids <= said


def _finding(one: Held, view: Scene, why: str) -> Finding:
    rate, figure = one.rate, one.figure
    window = "" if rate.window == "application" else f" ({rate.window})"
    weighed = any(item.way == "weighed" for item in one.holders)
    through = " (by its likely density)" if weighed and by_volume(rate.per, rate.rate) else ""
    return Finding(
        id=f"usual-{rate.id}",
        level="caution" if why == "far-above" else "note",
        why=why,
        about=rate.of,
        say=Say.of(
            why,
            about=about_text(rate.of, one.holders),
            figure=figure_text(Measure(figure.likely, figure.unit), rate.per),
            basis=basis_text(rate.per) + window + through,
            times=times_text(one.ratio),
            rate=f"{figure_text(rate.rate, rate.per)} (printed: {rate.printed})",
            window=rate.window,
            scope=scope_say(rate),
            source=rate.source.cite(),
            reason=rate.why,
        ),
        likely=Measure(figure.likely, figure.unit),
        high=Measure(figure.high, figure.unit),
        ratio=one.ratio,
        scope=scope_text(rate),
        grade=rate.source.grade,
        source=rate.source.id,
    )


def scope_text(rate: Usual) -> str:
    """Where a rate was published for: setting and window."""
    return scope_say(rate).english()


def scope_say(rate: Usual) -> Say:
    """The same as the sentence that it is."""
    settings = ["any place"] if "any" in rate.setting else sorted(rate.setting)
    parts = (settings_say(settings), Say.of("scope-window", window=rate.window))
    return Say.around("scope", "parts", parts, "; ")

"""Amounts too small for the tools: a bigger batch and a part of it, or a stock solution.

The trade's way comes first: make the recipe's own batch and use a part of it. Then a stock of
one material, held against what dissolves; a weak dose takes a stock of the stock.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.material import SOLID_FORMS, Material, is_volume
from dosecalc.catalog.tools import Tools
from dosecalc.dose.dissolve import solubility_at
from dosecalc.dose.plan import Action, Tolerance, offer
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, LITER, ML, Measure
from dosecalc.units.show import number_text, show

_TIMES = (1, 2, 3, 4, 5, 10, 20)
_MOST_BATCH = Measure(Fraction(20), LITER)
_STOCK_VOLUMES = tuple(Measure(Fraction(ml), ML) for ml in (100, 250, 500, 1000))
_STOCK_MARK = Fraction(5)
_LEAST_TAKEN = Fraction(5)
_DISSOLVE_SHARE = Fraction(8, 10)
"""A stock is kept under this share of what dissolves (common practice, no source)."""
_SECOND = Fraction(10)


@dataclass(frozen=True, slots=True)
class Batch:
    """The recipe's own batch, some times over, of which a part is used.

    Parameters
    ----------
    make, use : Measure
        How much liquid is made and how much of it this filling takes.
    actions : tuple of Action
        What goes into the whole batch; each delivers only its portion.
    """

    make: Measure
    use: Measure
    actions: tuple[Action, ...]

    @property
    def rest(self) -> Measure:
        """What is left over."""
        return self.make - self.use


def batch(
    amounts: tuple[tuple[Material, Measure], ...],
    filling: Measure,
    own: Measure,
    tools: Tools,
    tolerance: Callable[[Material], Tolerance],
) -> Batch | None:
    """The smallest batch in which every material can be measured, None when there is none.

    Parameters
    ----------
    amounts : tuple of (Material, Measure)
        What this filling needs.
    filling : Measure
        Its liquid.
    own : Measure
        The liquid of the recipe as it is written.
    tools : Tools
    tolerance : callable
        Material to `Tolerance`.
    """
    if tools.jug is None:
        return None
    for times in _TIMES:
        make = own * times
        if make <= filling or make > _MOST_BATCH:
            continue
        scale = make.amount_in(ML) / filling.amount_in(ML)
        offers = [offer(asked * scale, m, tools, tolerance(m)) for m, asked in amounts]
        actions = [action for action in offers if action is not None and action.within]
        if len(actions) == len(offers):
            taken = tools.part_factor()
            return Batch(
                make.to(LITER),
                filling.to(LITER),
                tuple(replace(a, portion=1 / scale, taken=taken) for a in actions),
            )
    return None


def stock(
    asked: Measure,
    material: Material,
    tools: Tools,
    tolerance: Tolerance,
    celsius: Fraction,
) -> Action | None:
    """One material as a part of a stock that dissolves, None when there is no way.

    Parameters
    ----------
    asked : Measure
    material : Material
        A solid that dissolves.
    tools : Tools
    tolerance : Tolerance
    celsius : Fraction
        Temperature of the water.
    """
    used = tuple(point for point in material.solubility if point.used)
    if not used or material.form not in SOLID_FORMS or material.insoluble:
        return None
    if tools.jug is None and tools.syringe is None:
        return None
    grams = _grams(asked, material, tools)
    if grams is None:
        return None
    most, _ = solubility_at(used, celsius)
    for volume in _STOCK_VOLUMES:
        for times in (5, 10, 20, 50, 100):
            whole = Measure(grams * times, GRAM)
            if whole.value / volume.amount_in(LITER) > most * _DISSOLVE_SHARE:
                break
            amount = asked * times if is_volume(asked) else whole
            measured = offer(amount, material, tools, tolerance)
            if measured is None or not measured.within:
                continue
            found = _taken(asked, measured, volume, grams, tools, tolerance)
            if found is not None:
                return found
    return None


def _grams(asked: Measure, material: Material, tools: Tools) -> Fraction | None:
    """What the amount weighs, by the grower's own spoons where they were weighed."""
    if not is_volume(asked):
        return asked.amount_in(GRAM)
    own = tools.own_spoon(material.id)
    density = material.density if own is None else own.factor
    return None if density is None else asked.amount_in(ML) * density.likely


def _taken(
    asked: Measure,
    measured: Action,
    volume: Measure,
    grams: Fraction,
    tools: Tools,
    tolerance: Tolerance,
) -> Action | None:
    """How much of the stock is taken, from a weaker second one where it is too little."""
    mass = measured.mass
    if mass is None:
        return None
    strength = mass.span().likely / volume.amount_in(ML)
    exact = grams / strength
    second = exact < _LEAST_TAKEN
    if second:
        exact *= _SECOND
    count = exact / _STOCK_MARK
    units = int(count) if tolerance.above == 0 else round(count)
    if not units:
        return None
    taken = Measure(units * _STOCK_MARK, ML)
    shift = taken.value / exact - 1
    if not -tolerance.below <= shift <= tolerance.above:
        return None
    portion = taken.value / volume.amount_in(ML) / (_SECOND if second else 1)
    if portion >= 1:
        return None
    material = measured.material
    delivered = mass.by(portion).times(tools.part_factor())
    if second:
        delivered = delivered.times(tools.second_part_factor())
    nominal = Measure(mass.span().likely * portion, GRAM)
    return Action(
        material=material,
        say=Say.of(
            "do-stock-second" if second else "do-stock",
            measure=measured.say.english(),
            volume=show(volume).metric,
            take=number_text(taken, ML),
        ),
        nominal=nominal,
        asked=Measure(grams, GRAM),
        delivered=delivered,
        way="weighed" if measured.way == "weighed" else "spooned",
        within=True,
        own=delivered,
    )

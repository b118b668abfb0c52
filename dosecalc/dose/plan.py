"""Exact amounts to measuring actions with the tools at hand: the plain default plan."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.material import SOLID_FORMS, Material, is_volume
from dosecalc.catalog.tools import SPOONS, Tools
from dosecalc.say import Say
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, LITER, ML, Measure
from dosecalc.units.show import in_words, number_text, show
from dosecalc.units.spread import Est
from dosecalc.units.words import SYSTEM_WORD

MOST_BY_SPOON = Measure(Fraction(250), ML)
_ASSUMED_STEPS = ((Fraction(20), Fraction(1)), (Fraction(2), Fraction(1, 10)))
_FINEST_STEP = Fraction(1, 100)
_TRUST_STEPS = 20


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do with one material for one tankful.

    Parameters
    ----------
    material : Material
    say : Say
    nominal : Measure
        What the action says: a mass when weighed, else a volume.
    asked : Measure
        The exact amount asked, of the same kind as `nominal`.
    delivered : Est
        `nominal` with the spread of the tool.
    way : {"weighed", "spooned", "poured", "spread"}
    step : Measure or None
        The scale's step that this weighing takes for granted, None where it was told.
    """

    material: Material
    say: Say
    nominal: Measure
    asked: Measure
    delivered: Est
    way: str
    step: Measure | None = None

    @property
    def shift(self) -> Fraction:
        """Signed share by which the nominal misses what was asked."""
        return self.nominal.amount_in(self.asked.unit) / self.asked.value - 1

    @property
    def mass(self) -> Est | None:
        """Delivered mass; None when only the volume is known."""
        return self.material.mass_of(self.delivered, is_volume(self.nominal))

    @property
    def volume(self) -> Est | None:
        """Delivered volume; None when only the mass is known."""
        return self.material.volume_of(self.delivered, is_volume(self.nominal))


def plan(asked: Measure, material: Material, tools: Tools) -> Action:
    """One action for one exact amount: weighed, spooned or poured."""
    volume = is_volume(asked)
    if material.loose and volume:
        return _spread(asked, material)
    if not volume and material.liquid and material.density is not None:
        asked = Measure(asked.amount_in(GRAM) / material.density.likely, ML)
        volume = True
    if not volume:
        return _weigh(asked, material, tools)
    solid = material.form in SOLID_FORMS
    if solid and tools.scale_step is not None and material.density is not None:
        grams = asked.amount_in(ML) * material.density.likely
        return _weigh(Measure(grams, GRAM), material, tools)
    return _pour(asked, material, tools)


def as_done(asked: Measure, material: Material, tools: Tools) -> Action:
    """What somebody says they used: nothing is rounded, the tool's error stays."""
    if not is_volume(asked):
        grams = Measure(asked.amount_in(GRAM), GRAM)
        step = tools.scale_step or Measure(_assumed_step(grams.value), GRAM)
        est = Est.of(grams).times(tools.scale_factor(grams, step))
        assumed = None if tools.scale_step else step
        return Action(material, Say.of("done"), grams, grams, est, "weighed", assumed)
    mls = Measure(asked.amount_in(ML), ML)
    if material.loose:
        return Action(material, Say.of("done"), mls, mls, Est.of(mls), "spread")
    factor = tools.jug_factor() if asked > MOST_BY_SPOON else tools.spoon_factor()
    way = "poured" if material.liquid else "spooned"
    return Action(material, Say.of("done"), mls, mls, Est.of(mls).times(factor), way)


def _spread(asked: Measure, material: Material) -> Action:
    shown = show(asked, loose=True).both()
    return Action(
        material, Say.of("do-spread", amount=shown), asked, asked, Est.of(asked), "spread"
    )


def _weigh(asked: Measure, material: Material, tools: Tools) -> Action:
    grams = asked.amount_in(GRAM)
    step = tools.scale_step.amount_in(GRAM) if tools.scale_step else _assumed_step(grams)
    count = grams / step
    units = math.floor(count) if material.by_weight else round(count)
    nominal = Measure(units * step if units else grams, GRAM)
    say = Say.of(
        "do-weigh" if units else "do-weigh-too-fine",
        amount=show(nominal, digits=4).metric,
        step=show(Measure(step, GRAM)).metric,
    )
    factor = tools.scale_factor(nominal, Measure(step, GRAM))
    assumed = None if tools.scale_step else Measure(step, GRAM)
    return Action(
        material, say, nominal, Measure(grams, GRAM), Est.of(nominal).times(factor), "weighed",
        assumed,
    )  # fmt: skip


def _assumed_step(grams: Fraction) -> Fraction:
    """The coarsest common scale that this load can be trusted to: 20 steps at least."""
    return next((step for least, step in _ASSUMED_STEPS if grams >= least), _FINEST_STEP)


def _pour(asked: Measure, material: Material, tools: Tools) -> Action:
    way = "poured" if material.liquid else "spooned"
    if asked > MOST_BY_SPOON:
        nominal = _jug_mark(asked)
        say = Say.of("do-jug", amount=show(nominal, digits=4).metric)
        return Action(material, say, nominal, asked, Est.of(nominal).times(tools.jug_factor()), way)
    table, tea = SPOONS[tools.spoons]
    per_table = int(Measure(Fraction(1), table).amount_in(tea) * 4)
    exact = asked.amount_in(tea) * 4
    quarters = math.floor(exact) if material.by_weight else round(exact)
    nominal = Measure(Fraction(quarters, 4), tea) if quarters else asked
    say = _spoon_words(quarters, per_table, nominal, tools)
    return Action(
        material, say, nominal.to(ML), asked, Est.of(nominal.to(ML)).times(tools.spoon_factor()),
        way,
    )  # fmt: skip


def _jug_mark(asked: Measure) -> Measure:
    """The nearest mark of a jug: 10 mL below a litre, 50 mL above."""
    mark = Fraction(10 if asked.amount_in(LITER) < 1 else 50)
    return Measure(round(asked.amount_in(ML) / mark) * mark, ML)


def _spoon_words(quarters: int, per_table: int, nominal: Measure, tools: Tools) -> Say:
    whose = SYSTEM_WORD[tools.spoons]
    shown = number_text(nominal, ML)
    if not quarters:
        return Say.of("do-spoon-too-small", amount=shown)
    tables, rest = divmod(quarters, per_table)
    parts = []
    if tables:
        parts.append(_spoons(Fraction(tables), "tablespoon"))
    if rest:
        parts.append(_spoons(Fraction(rest, 4), "teaspoon"))
    return Say.of("do-spoon", spoons=" and ".join(parts), whose=whose, amount=shown)


def _spoons(count: Fraction, word: str) -> str:
    plural = "s" if count > 1 else ""
    return f"{in_words(count)} level {word}{plural}"


def trusted(grams: Fraction, step: Fraction) -> bool:
    """Whether a scale of this step can be trusted to about 5 % with this load."""
    return grams >= _TRUST_STEPS * step


def spoon_units(tools: Tools) -> tuple[Unit, Unit]:
    """Tablespoon and teaspoon of the grower's own spoons."""
    return SPOONS[tools.spoons]

"""Exact amounts to measuring actions with the tools at hand.

For one amount every tool offers one action; the best is taken by one ordered key: within the
tolerance first, then the kind of tool that errs least, then the fewest fillings, then the
smallest shift from what was asked.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.material import SOLID_FORMS, Material, is_volume
from dosecalc.catalog.tools import Scale, Tools
from dosecalc.dose.scoops import Scoop, Scoops, best
from dosecalc.errors import DoseError, refuse
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, ML, Measure
from dosecalc.units.show import in_words, listed, number_text, show
from dosecalc.units.spread import Est, Factor
from dosecalc.units.words import SYSTEM_WORD

MOST_BY_SPOON = Measure(Fraction(250), ML)
_ASSUMED_STEPS = (
    (Fraction(5000), Fraction(50)), (Fraction(20), Fraction(1)), (Fraction(2), Fraction(1, 10)),
)  # fmt: skip
_FINEST_STEP = Fraction(1, 100)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far a measured amount may lie under and over what was asked, as shares of it."""

    below: Fraction
    above: Fraction


NARROW = Tolerance(Fraction(10, 100), Fraction(0))
"""Boron, copper, zinc, molybdenum, pesticides: never above what was asked."""
SPRAY = Tolerance(Fraction(5, 100), Fraction(5, 100))
SPREAD = Tolerance(Fraction(10, 100), Fraction(10, 100))
"""The three tolerances of the plan (common practice, no source)."""


def tolerance_for(material: Material, sprayed: bool) -> Tolerance:
    """What this material may be off by."""
    if material.by_weight:
        return NARROW
    return SPRAY if sprayed else SPREAD


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
    within : bool
        Whether it lies within the tolerance and the tool can be trusted with it.
    fillings : int
        How often the tool is filled, a spoon half by eye counted three times.
    own : Est or None
        The delivered mass where the grower's own weighed spoons tell it.
    portion : Fraction
        The part of what was measured that is used: less than 1 of a batch.
    taken : Factor or None
        The error of the measure that takes the portion.
    """

    material: Material
    say: Say
    nominal: Measure
    asked: Measure
    delivered: Est
    way: str
    step: Measure | None = None
    within: bool = True
    fillings: int = 1
    own: Est | None = None
    portion: Fraction = Fraction(1)
    taken: Factor | None = None

    @property
    def shift(self) -> Fraction:
        """Signed share by which the nominal misses what was asked."""
        return self.nominal.amount_in(self.asked.unit) / self.asked.value - 1

    def poor(self, tolerance: Tolerance) -> bool:
        """Whether it is so far off, or the tool so little to be trusted, that a way round pays."""
        if self.within:
            return False
        outside = -2 * tolerance.below <= self.shift <= 2 * tolerance.above
        return self.say.key == "do-weigh-too-fine" or not outside

    @property
    def mass(self) -> Est | None:
        """Delivered mass; None when only the volume is known."""
        found = self.own or self.material.mass_of(self.delivered, is_volume(self.nominal))
        return None if found is None else self._portion_of(found)

    @property
    def volume(self) -> Est | None:
        """Delivered volume; None when only the mass is known."""
        found = self.material.volume_of(self.delivered, is_volume(self.nominal))
        return None if found is None else self._portion_of(found)

    def _portion_of(self, whole: Est) -> Est:
        part = whole.by(self.portion)
        return part if self.taken is None else part.times(self.taken)


def plan(asked: Measure, material: Material, tools: Tools, tolerance: Tolerance) -> Action:
    """The best action for one exact amount.

    Parameters
    ----------
    asked : Measure
        A mass or a volume.
    material : Material
    tools : Tools
    tolerance : Tolerance

    Raises
    ------
    DoseError
        When no tool at hand can measure it at all.
    """
    found = offer(asked, material, tools, tolerance)
    if found is None:
        raise none_fits(asked, material)
    return found


def none_fits(asked: Measure, material: Material) -> DoseError:
    """The refusal of an amount that no tool at hand can measure."""
    return refuse("tools-none-fits", name=material.name, amount=show(asked).both())


def offer(asked: Measure, material: Material, tools: Tools, tolerance: Tolerance) -> Action | None:
    """The best action as in `plan`, None where no tool at hand can measure it."""
    if material.loose and is_volume(asked):
        return _spread(asked, material)
    return min(_offers(asked, material, tools, tolerance), key=_rank, default=None)


def _rank(action: Action) -> tuple[bool, Fraction, Fraction, Fraction, Fraction]:
    """Within the tolerance: the kind of tool, then fillings, then shift. Outside: worst error."""
    span = action.delivered.span()
    error = span.high / span.likely - 1
    if not action.within:
        worst = abs(action.shift) + error
        return True, worst, Fraction(action.fillings), Fraction(0), abs(action.shift)
    weighed = action.say.key.startswith("do-weigh")
    kind = 1 if action.say.key == "do-syringe" else 2
    if weighed:
        kind = 0 if action.step is None else 3  # a scale that nobody told of comes last
    shift = abs(action.shift)
    return False, Fraction(kind), Fraction(action.fillings), error if weighed else shift, shift


def _offers(
    asked: Measure, material: Material, tools: Tools, tolerance: Tolerance
) -> Iterator[Action]:
    """What each tool would do."""
    own = tools.own_spoon(material.id)
    density = own.factor if own else material.density
    volume = is_volume(asked)
    mass = not volume
    solid = material.form in SOLID_FORMS
    if mass:
        yield from _weighings(asked.to(GRAM), material, tools, tolerance, take=True)
    elif solid and density is not None:
        grams = Measure(asked.amount_in(ML) * density.likely, GRAM)
        yield from _weighings(grams, material, tools, tolerance, take=False)
    if volume:
        yield from _volumes(asked.to(ML), material, tools, tolerance)
    elif density is not None and (material.liquid or own is not None or _no_scale(tools)):
        millilitres = Measure(asked.amount_in(GRAM) / density.likely, ML)
        yield from _volumes(millilitres, material, tools, tolerance)


def _no_scale(tools: Tools) -> bool:
    """Whether it was told that there is no scale: then a weight is spooned through its density."""
    return tools.scale_told and not tools.scales


def _spread(asked: Measure, material: Material) -> Action:
    shown = show(asked, loose=True).both()
    return Action(
        material, Say.of("do-spread", amount=shown), asked, asked, Est.of(asked), "spread"
    )


def _weighings(
    grams: Measure, material: Material, tools: Tools, tolerance: Tolerance, *, take: bool
) -> Iterator[Action]:
    """Each scale at hand, else (for an amount told by weight) the scale it would take."""
    scales = tools.scales
    assumed = not scales
    if assumed and (tools.scale_told or not take):
        return
    if assumed:
        scales = (Scale(Measure(_assumed_step(grams.value), GRAM)),)
    for scale in scales:
        step = scale.step.amount_in(GRAM)
        count = grams.value / step
        units = math.floor(count) if tolerance.above == 0 else round(count)
        nominal = Measure(units * step if units else grams.value, GRAM)
        shift = nominal.value / grams.value - 1
        trusted = scale.trusts(nominal) and units > 0
        lots = 1
        if scale.most is not None and scale.most < nominal:
            lots = -int(-(nominal.value / scale.most.amount_in(GRAM)) // 1)
            trusted = scale.trusts(nominal / lots)
        key = "do-weigh" if trusted else "do-weigh-too-fine"
        if trusted and lots > 1:
            key = "do-weigh-lots"
        yield Action(
            material=material,
            say=Say.of(
                key, amount=_weight_text(nominal, tolerance), step=show(scale.step).metric,
                least=show(scale.least).metric, lots=lots,
            ),
            nominal=nominal,
            asked=grams,
            delivered=Est.of(nominal).times(scale.factor(nominal / lots)),
            way="weighed",
            step=scale.step if assumed else None,
            within=trusted and -tolerance.below <= shift <= tolerance.above,
            fillings=lots,
        )  # fmt: skip


def _weight_text(nominal: Measure, tolerance: Tolerance) -> str:
    """A weight as it is read off the scale: never shown above where nothing may be above."""
    return show(nominal, digits=7, direction="down" if tolerance.above == 0 else "nearest").metric


def _assumed_step(grams: Fraction) -> Fraction:
    """The coarsest common scale that this load can be trusted to: 20 steps at least."""
    return next((step for least, step in _ASSUMED_STEPS if grams >= least), _FINEST_STEP)


def _volumes(
    asked: Measure, material: Material, tools: Tools, tolerance: Tolerance
) -> Iterator[Action]:
    """Spoons, syringe and jug."""
    way = "poured" if material.liquid else "spooned"
    if tools.spoons:
        spooned = _spooned(asked, material, tools, tolerance, way)
        if spooned is not None:
            yield spooned
    if tools.syringe is not None and material.liquid:
        syringe = _Marked("do-syringe", tools.syringe, tools.syringe_factor(), 20, 5, 2)
        yield from _to_mark(asked, material, tolerance, syringe, way)
    if tools.jug is not None:
        jug = _Marked("do-jug", tools.jug, tools.jug_factor(), 20, 40, 1)
        yield from _to_mark(asked, material, tolerance, jug, way)


def _spooned(
    asked: Measure, material: Material, tools: Tools, tolerance: Tolerance, way: str
) -> Action | None:
    scoops = best(asked.value, _scoops(tools), tolerance.below, tolerance.above)
    if scoops is None:
        return None
    nominal = Measure(scoops.total, ML)
    shift = nominal.value / asked.value - 1
    within = -tolerance.below <= shift <= tolerance.above
    est = _scooped(scoops, tools)
    own = tools.own_spoon(material.id)
    if own is not None:
        level = Est.of(nominal).times(own.factor).to(GRAM)
        return Action(
            material, _spoon_words(scoops, nominal, tools), nominal, asked, est, way,
            within=within, fillings=scoops.effort, own=level,
        )  # fmt: skip
    return Action(
        material, _spoon_words(scoops, nominal, tools), nominal, asked, est, way,
        within=within, fillings=scoops.effort,
    )  # fmt: skip


def _scoops(tools: Tools) -> tuple[Scoop, ...]:
    """Every spoon level, and half of each that has no spoon of half its size."""
    spoon, eye = tools.spoon_factor().high, tools.half_factor().high
    level = [Scoop(s.name, s.size, error=spoon - 1) for s in tools.spoons]
    sizes = {scoop.holds for scoop in level}
    halves = [Scoop(s.name, s.size, Fraction(1, 2), spoon * eye - 1) for s in level]
    return (*level, *(half for half in halves if half.holds not in sizes))


def _scooped(scoops: Scoops, tools: Tools) -> Est:
    """What the scoops deliver: level ones err with the spoon, a half one with the eye too."""
    total: Est | None = None
    for scoop, count in scoops.counts:
        part = Est.of(Measure(scoop.holds * count, ML)).times(tools.spoon_factor())
        if scoop.share != 1:
            part = part.times(tools.half_factor())
        total = part if total is None else total.plus(part)
    assert total is not None
    return total


def _spoon_words(scoops: Scoops, nominal: Measure, tools: Tools) -> Say:
    by_name: dict[str, Fraction] = {}
    for scoop, count in scoops.counts:
        by_name[scoop.name] = by_name.get(scoop.name, Fraction(0)) + scoop.share * count
    parts = [
        f"{in_words(count)} level {name}{'s' if count > 1 else ''}"
        for name, count in by_name.items()
    ]
    whose = SYSTEM_WORD[tools.system]
    return Say.of("do-spoon", spoons=listed(parts), whose=whose, amount=number_text(nominal, ML))


@dataclass(frozen=True, slots=True)
class _Marked:
    """A tool that is filled to a mark: how it is called, its marks, how often it may be filled."""

    say: str
    size: Measure
    error: Factor
    marks: int
    most: int
    least_marks: int


def _to_mark(
    asked: Measure, material: Material, tolerance: Tolerance, tool: _Marked, way: str
) -> Iterator[Action]:
    """The nearest mark (the one below, where nothing may be over), some fillings at most."""
    size = tool.size.amount_in(ML)
    mark = size / tool.marks
    count = asked.value / mark
    units = math.floor(count) if tolerance.above == 0 else round(count)
    fillings = -int(-(units * mark) // size)
    if not units or fillings > tool.most:
        return
    nominal = Measure(units * mark, ML)
    shift = nominal.value / asked.value - 1
    yield Action(
        material=material,
        say=Say.of(
            tool.say, amount=show(nominal, digits=4).metric, size=number_text(tool.size, ML)
        ),
        nominal=nominal,
        asked=asked,
        delivered=Est.of(nominal).times(tool.error),
        way=way,
        within=-tolerance.below <= shift <= tolerance.above and units >= tool.least_marks,
        fillings=fillings,
    )


def as_done(asked: Measure, material: Material, tools: Tools) -> Action:
    """What somebody says they used: nothing is rounded, the tool's error stays."""
    if not is_volume(asked):
        grams = Measure(asked.amount_in(GRAM), GRAM)
        scale = next(
            (s for s in tools.scales if s.trusts(grams)),
            tools.scales[-1] if tools.scales else Scale(Measure(_assumed_step(grams.value), GRAM)),
        )
        est = Est.of(grams).times(scale.factor(grams))
        assumed = None if tools.scales else scale.step
        return Action(material, Say.of("done"), grams, grams, est, "weighed", assumed)
    mls = Measure(asked.amount_in(ML), ML)
    if material.loose:
        return Action(material, Say.of("done"), mls, mls, Est.of(mls), "spread")
    factor = tools.jug_factor() if mls > MOST_BY_SPOON else tools.spoon_factor()
    way = "poured" if material.liquid else "spooned"
    own = tools.own_spoon(material.id)
    mass = None if own is None else Est.of(mls).times(own.factor).to(GRAM)
    return Action(material, Say.of("done"), mls, mls, Est.of(mls).times(factor), way, own=mass)

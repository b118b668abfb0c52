"""A layer over ground: from a depth, a rate or a nitrogen goal to what is spread and comes along.

A rate per area is a depth (a volume over an area) or a weight over an area. The two meet only
through the material's density.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.availability import SaltMark, Share, speaks_of
from dosecalc.catalog.build import whole_bags
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.limit import ANY, Limit
from dosecalc.catalog.material import Material
from dosecalc.errors import refuse
from dosecalc.units.measure import (
    CM,
    GRAM,
    GRAM_PER_M2,
    KG_PER_HA,
    LENGTH,
    LITER,
    SQUARE_METER,
    VOLUME,
    Measure,
    exact_text,
)
from dosecalc.units.show import rounded
from dosecalc.units.spread import Est, Factor, Span

MOST_ALLOWANCE = Fraction(1, 2)
"""A settling or shrinkage above one half is taken for a slip of the pen (common practice)."""
_ONE = Measure(Fraction(1), SQUARE_METER)
LEAST_DEPTH = Measure(Fraction(5, 10), CM)
"""A heap thinner than this is spread by weight: no rake lays it evenly (common practice)."""


def before_loss(remains: Measure, allowance: Fraction) -> Measure:
    """What must be laid or mixed so that `remains` is left when `allowance` of it is lost.

    Parameters
    ----------
    remains : Measure
        A depth or a volume.
    allowance : Fraction
        Of 1: the share that settles or shrinks away.

    Raises
    ------
    DoseError
        For a share below zero or above one half.
    """
    if not 0 <= allowance <= MOST_ALLOWANCE:
        raise refuse("layer-allowance", text=f"{rounded(allowance * 100)[0]} %")
    return remains / (1 - allowance)


def spread_over(have: Measure, ground: Measure) -> Measure:
    """The rate per area at which all of `have` lies on `ground`.

    Parameters
    ----------
    have : Measure
        A volume or a weight.
    ground : Measure
        An area.
    """
    rate = have / ground
    return rate.to(CM) if have.is_a(VOLUME) else rate.to(GRAM_PER_M2)


def covers(holds: Measure, depth: Measure) -> Measure:
    """The area that one bag, barrow or load covers at a depth."""
    return (holds / depth).to(SQUARE_METER)


def fillings(volume: Measure, holds: Measure) -> int:
    """How many bags, barrows or loads hold a volume, rounded up."""
    return whole_bags(volume, holds).bags


def depth_of(rate: Measure, material: Material) -> Measure | None:
    """A rate per area as a depth, by the likely density; None where that is not known."""
    if rate.is_a(LENGTH):
        return rate if len(rate.unit) == 1 else rate.to(CM)
    if material.density is None:
        return None
    density = Measure(material.density.likely, material.density.unit)
    return (rate / density).to(CM)


def mass_of(rate: Measure, material: Material) -> Est | None:
    """The weight on a square metre, with its spread; None where the density is not known."""
    amount = rate * _ONE
    volume = amount.is_a(VOLUME)
    return material.mass_of(Est.of(amount.to(LITER if volume else GRAM)), volume)


def brings(rate: Measure, material: Material, nutrient: str) -> Span | None:
    """What a rate brings of a nutrient word (N, P, P2O5 ...), per hectare.

    Returns
    -------
    Span or None
        In kg/ha; None where the material is not known to hold it, or its density is not known.
    """
    held = _held(rate, material, nutrient)
    return None if held is None else _per_hectare(held)


def feeds(rate: Measure, material: Material, share: Share) -> Span | None:
    """How much nitrogen of a rate feeds the first crop, per hectare; None as in `brings`."""
    held = _held(rate, material, "N")
    return None if held is None else _per_hectare(held.times(_factor(share)))


def _held(rate: Measure, material: Material, nutrient: str) -> Est | None:
    element, of_word = element_of(nutrient)
    content = material.content(element)
    mass = mass_of(rate, material)
    if content is None or content.basis != "w/w" or mass is None:
        return None
    return mass.times(content.factor).by(1 / of_word)


def _per_hectare(held: Est) -> Span:
    return held.over(_ONE).to(KG_PER_HA).span()


def _factor(share: Share) -> Factor:
    return Factor(f"first-year:{share.id}", share.low, share.likely, share.high)


def rate_for(goal: Measure, material: Material, share: Share) -> Span:
    """The weight per area of which `goal` of nitrogen feeds the first crop.

    Parameters
    ----------
    goal : Measure
        Nitrogen per area.
    material : Material
    share : Share
        The part of its nitrogen that feeds the first crop.

    Returns
    -------
    Span
        In g/m2: little where the material is rich, much where it is poor.

    Raises
    ------
    DoseError
        When the material is not known to hold nitrogen.
    """
    content = material.content("N")
    if content is None or content.basis != "w/w":
        raise refuse("layer-no-nitrogen", material=material.name)
    needed = Est.of(goal.to(GRAM_PER_M2)).times(content.factor, -1).times(_factor(share), -1)
    return needed.span()


def goal_rate(goal: Measure, material: Material, share: Share) -> Measure:
    """The likely rate of `rate_for`: a depth for a heap of known density, else a weight.

    A depth that is too thin to be laid is a weight too.
    """
    needed = rate_for(goal, material, share)
    weight = Measure(needed.likely, needed.unit)
    depth = depth_of(weight, material) if material.loose else None
    return weight if depth is None or depth < LEAST_DEPTH else depth


def later(
    rate: Measure, material: Material, first: Share, shares: Iterable[Share]
) -> tuple[tuple[Share, Span], ...]:
    """What later years get of the same layer, per hectare and year, one for each published share.

    A share of the organic part is taken of the whole, for how much of it is organic is not known:
    the figure is then an upper end. A share of the rest is of what the first year left.
    """
    held = _held(rate, material, "N")
    if held is None:
        return ()
    found = []
    for share in shares:
        if share.from_year < 2:
            continue
        est = held.times(_factor(share))
        if share.share_of == "rest":
            est = est.by(1 - first.likely)
        found.append((share, _per_hectare(est)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class AtLimit:
    """What a layer just at a published figure would bring.

    Parameters
    ----------
    limit : Limit
    rate : Measure
        A depth or a weight per area.
    feeds : Span or None
        Nitrogen for the first crop, kg/ha; None where that is not known.
    """

    limit: Limit
    rate: Measure
    feeds: Span | None


def at_limits(
    limits: Iterable[Limit], material: Material, share: Share | None, placement: str, setting: str
) -> tuple[AtLimit, ...]:
    """Every upper figure by depth or field area that speaks of this material in this place.

    Judging ones first. Phases are not told apart: each figure says which it is for.
    """
    found = []
    for limit in limits:
        if limit.lower or limit.excludes or limit.per not in ("depth", "field area"):
            continue
        if not speaks_of(limit.of, material) or limit.region != "any":
            continue
        if not _fits(limit.placement, placement) or not _fits(limit.setting, setting):
            continue
        rate = limit.limit
        gives = None if share is None else feeds(rate, material, share)
        found.append(AtLimit(limit, rate, gives))
    return tuple(sorted(found, key=lambda one: (not one.limit.judges, one.limit.id)))


def _fits(words: frozenset[str], word: str) -> bool:
    return words == ANY or word in words


def reaches(at: AtLimit, goal: Measure) -> bool:
    """Whether a layer at the figure likely feeds the goal."""
    return at.feeds is not None and at.feeds.likely >= goal.amount_in(at.feeds.unit)


def salty(conductivity: Fraction, material: Material, marks: Iterable[SaltMark]) -> SaltMark | None:
    """The lowest mark that a conductivity in mS/cm lies above, None where there is none."""
    over = [m for m in marks if speaks_of(m.of, material) and conductivity > m.above]
    return min(over, key=lambda mark: mark.above, default=None)


def checked_depth(depth: Measure, material: Material) -> Measure:
    """A depth; refuses one of a material that does not come as a heap."""
    if not material.loose:
        raise refuse("layer-not-bulk", material=material.name, text=exact_text(depth))
    return depth if len(depth.unit) == 1 else depth.to(CM)

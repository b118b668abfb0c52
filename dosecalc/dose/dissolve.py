"""Will it dissolve: the strength of each soluble solid against its solubility in this water."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from dosecalc.catalog.material import SOLID_FORMS, Material, Solubility
from dosecalc.dose.deliver import strength
from dosecalc.dose.need import SPRAYED
from dosecalc.dose.result import Finding
from dosecalc.dose.scene import Scene
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, GRAM_PER_L, LITER, Measure
from dosecalc.units.show import rounded, show

COLD_SHARE = Fraction(1, 4)
"""Below the coldest measured point a strength above this share of it is not passed over.

From memory: cooling from 20 to 0 C takes the steepest salts of the catalog (octaborate, saltpetre)
to a quarter or a half of what dissolves.
"""


def _colder(points: tuple[Solubility, ...], celsius: Fraction) -> bool:
    return celsius < min(point.celsius for point in points)


def solubility_at(points: tuple[Solubility, ...], celsius: Fraction) -> tuple[Fraction, bool]:
    """Grams per litre at a temperature, and whether it lies outside the measured range.

    Where points of one temperature disagree the lower holds; between temperatures it is
    interpolated in a straight line; outside them the nearest point is taken.
    """
    lowest: dict[Fraction, Fraction] = {}
    for point in points:
        lowest[point.celsius] = min(
            point.grams_per_litre, lowest.get(point.celsius, point.grams_per_litre)
        )
    temperatures = sorted(lowest)
    if celsius <= temperatures[0]:
        return lowest[temperatures[0]], celsius < temperatures[0]
    for below, above in pairwise(temperatures):
        if celsius <= above:
            share = (celsius - below) / (above - below)
            return lowest[below] + share * (lowest[above] - lowest[below]), False
    return lowest[temperatures[-1]], celsius > temperatures[-1]


def dissolving(view: Scene) -> tuple[Finding, ...]:
    """A finding for every solid in the liquid: too strong, maybe too strong, or not soluble."""
    if view.liquid is None:
        return ()
    celsius, _ = rounded(view.told.water)
    found: list[Finding] = []
    for item in view.delivered:
        material = item.material
        used = tuple(point for point in material.solubility if point.used)
        if material.insoluble and not material.liquid:
            stirred_in = material.suspends or bool(view.recipe.order)
            if stirred_in or not used:
                found.append(_undissolved(material, view))
                continue
        elif material.form not in SOLID_FORMS:
            continue
        if not used:
            found.append(_note(material, "solubility-unknown"))
            continue
        if item.mass is None:
            found.append(_note(material, "untold-dissolving"))
            continue
        span = strength(item.mass, view.liquid, view.tools).to(GRAM_PER_L).span()
        most, outside = solubility_at(used, view.told.water)
        if span.likely > most:
            # what is known to dissolve little can still be stirred in and kept moving
            level, why = "caution" if material.insoluble else "stop", "will-not-dissolve"
        elif span.high > most:
            level, why = "caution", "may-not-dissolve"
        elif _colder(used, view.told.water) and span.likely > most * COLD_SHARE:
            level, why = "caution", "cold-not-measured"
        else:
            continue
        grams = item.mass.to(GRAM).span().likely
        found.append(
            Finding(
                id=f"dissolve-{material.id}",
                level=level,
                why="dissolving",
                about=material.id,
                say=Say.of(
                    why,
                    name=material.name,
                    strength=_per_litre(span.likely),
                    high=_per_litre(span.high),
                    most=_per_litre(most),
                    celsius=celsius,
                    water=_water_by_source(material, grams, most),
                    outside=Say.of("outside-measured") if outside else "",
                ),
                likely=Measure(span.likely, GRAM_PER_L),
                high=Measure(span.high, GRAM_PER_L),
                limit=Measure(most, GRAM_PER_L),
                ratio=span.likely / most,
                scope=f"water at {celsius} C",
                source=used[0].source,
            )
        )
    return tuple(found)


def _note(material: Material, key: str) -> Finding:
    return Finding(
        id=f"dissolve-{material.id}",
        level="note",
        why="dissolving",
        about=material.id,
        say=Say.of(key, name=material.name),
    )


def _undissolved(material: Material, view: Scene) -> Finding:
    """What becomes of a solid that water does not dissolve.

    A note where it is made to be stirred in, where a solubility on record shows how little
    dissolves, or where the recipe's own steps tell how it is kept moving; else a caution.
    """
    known = material.suspends or bool(material.solubility) or bool(view.recipe.order)
    key = "suspends"
    if not known:
        key = "settles-in-spray" if view.recipe.placement in SPRAYED else "settles"
    soluble_kind = not known and "complete-feed" in material.traits
    return Finding(
        id=f"suspends-{material.id}",
        level="note" if known else "caution",
        why="dissolving",
        about=material.id,
        say=Say.of(
            key,
            name=material.name,
            how=" ".join(material.insoluble.split()),
            unless=Say.of("settles-unless") if soluble_kind else "",
        ),
    )


def _per_litre(grams: Fraction) -> str:
    return f"{rounded(grams)[0]} g/L"


def _water_by_source(material: Material, grams: Fraction, most: Fraction) -> Say:
    """Such as "1.9 L (single figures: 2.1 L at 10 C by ...)": the water this amount needs."""
    need = show(Measure(grams / most, LITER), direction="up").both()
    figures = [
        Say.of(
            "water-figure" if p.used else "water-figure-unused",
            water=show(Measure(grams / p.grams_per_litre, LITER), direction="up").metric,
            celsius=rounded(p.celsius)[0],
            source=p.source,
        )
        for p in sorted(material.solubility, key=lambda p: (p.celsius, p.grams_per_litre))
    ]
    return Say.around("water-needed", "figures", figures, "; ", need=need)

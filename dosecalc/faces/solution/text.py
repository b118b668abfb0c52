"""A solution as the lines above its first `Mix`, and as JSON beside the "mixes"."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from dosecalc.catalog.formula import element_of, oxide_words
from dosecalc.dose.deliver import SHOWN_OXIDES
from dosecalc.dose.dump import quantity
from dosecalc.dose.solution import Line, load, nitrogen_forms, supplied
from dosecalc.faces.solution.read import Solution, mg_text
from dosecalc.faces.solution.words import ALKALINITY
from dosecalc.faces.wrap import wrap
from dosecalc.say import Say
from dosecalc.units.engine import Unit
from dosecalc.units.measure import LITER, Measure
from dosecalc.units.show import listed, number_text, rounded, show, twelve_digits

MM: Unit = (("mm", 1),)
HARD = {"Ca": 60, "Mg": 30, ALKALINITY: 150}
"""Milligrams in a litre of water above which carbonate may drop out (fertiliser maker's page,
source fertiliser-maker-compatibility): said, never judged by."""


def lines(found: Solution) -> list[str]:
    """What was worked out: the strength of each nutrient and from what, then how it was read."""
    rows = [Say.of("solution-title").english(), *_table(found)]
    for say in (*_forms(found), *_load(found), *_volumes(found), *_read(found), *_water(found)):
        rows += wrap(say.english())
    return rows


def _per_area(found: Solution, mg: Fraction) -> Fraction | None:
    """Kilograms on a hectare: a milligram in a litre over a millimetre is ten grams."""
    if found.depth is None:
        return None
    return mg * found.depth.amount_in(MM) / 100


def _table(found: Solution) -> list[str]:
    rows = [["nutrient", "ppm (mg/L)", *(["kg/ha"] if found.depth else []), "from"]]
    for line in supplied(found.portions, found.water):
        rows.append(_row(found, line.element, Fraction(1), line))
        for word in oxide_words(line.element):
            if word in SHOWN_OXIDES:
                rows.append(_row(found, f"as {word}", element_of(word)[1], line))
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]) - 1)]
    shown: list[str] = []
    for row in rows:
        head = "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=False))
        shown += wrap(f"{head}  {row[-1]}")
    return shown


def _row(found: Solution, word: str, share: Fraction, line: Line) -> list[str]:
    area = _per_area(found, line.total)
    row = [word, mg_text(line.total / share)]
    if area is not None:
        row.append(rounded(area / share)[0])
    names = [f"{name or 'the water'} {mg_text(mg / share)}" for name, mg in line.parts]
    return [*row, ", ".join(names)]


def _forms(found: Solution) -> list[Say]:
    forms = nitrogen_forms(found.portions)
    if not forms:
        return []
    says = [
        Say.of("solution-form", mg=mg_text(mg), form=form)
        if form else Say.of("solution-form-untold", mg=mg_text(mg))
        for form, mg in sorted(forms.items(), reverse=True)
    ]  # fmt: skip
    return [Say.around("solution-forms", "forms", says)]


def _load(found: Solution) -> list[Say]:
    grams = load(found.portions)
    if grams is None:
        return [Say.of("solution-load-unknown")]
    return [Say.of("solution-load", grams=rounded(grams)[0])]


def _volumes(found: Solution) -> list[Say]:
    says = []
    if found.injector is not None:
        times = found.injector.times(len(found.tanks))
        says.append(
            Say.of(
                "solution-stock", times=rounded(times, 4)[0],
                stock=show(found.made, digits=4).metric, feed=show(found.feed, digits=4).metric,
            )
        )  # fmt: skip
        says.append(_counted(found))
    if len(found.tanks) > 1:
        others: dict[str, list[str]] = {}
        for one, other in found.apart:
            others.setdefault(one, []).append(other)
        pairs = "; ".join(
            Say.of("solution-pair", one=one, other=listed(names)).english()
            for one, names in others.items()
        )
        says.append(
            Say.of(
                "solution-tanks", count=len(found.tanks),
                stock=show(found.made, digits=4).metric, pairs=pairs,
            )
        )  # fmt: skip
    if found.fill is not None:
        says.append(Say.of("solution-fillings", vessel=show(found.fill).metric))
    if found.depth is not None:
        feed, depth = show(found.feed, digits=4).metric, number_text(found.depth, MM)
        says.append(Say.of("solution-depth", feed=feed, depth=depth))
    return says


def _counted(found: Solution) -> Say:
    """Which way the injector's parts are counted, and what the other way would give."""
    injector = found.injector
    assert injector is not None
    part, whole = rounded(injector.part, 6)[0], rounded(injector.whole, 6)[0]
    if injector.percent:
        return Say.of("solution-in-percent", ratio=f"{part} %")
    ratio = f"{part}:{whole}"
    count = len(found.tanks)
    to_water = (injector.whole + count * injector.part) / injector.part
    in_feed = injector.whole / injector.part
    if injector.to_water:
        percent = rounded((to_water / in_feed - 1) * 100, 2)[0]
        return Say.of("solution-in-water", ratio=ratio, part=part, whole=whole, percent=percent)
    percent = rounded((1 - in_feed / to_water) * 100, 2)[0]
    return Say.of("solution-in-feed", ratio=ratio, part=part, whole=whole, percent=percent)


def _read(found: Solution) -> list[Say]:
    says = [*found.says, Say.of("solution-ppm")] if found.wants else list(found.says)
    for want in found.wants:
        for oxide in SHOWN_OXIDES:
            element, share = element_of(oxide)
            if want.word == element:
                says.append(
                    Say.of(
                        "solution-element", word=want.word, mg=mg_text(want.per_litre),
                        oxide=mg_text(want.per_litre / share), other=oxide,
                    )
                )  # fmt: skip
    says += [Say.of("solution-none-of", name=name) for name in found.idle]
    return says


def _water(found: Solution) -> list[Say]:
    says = []
    credited = [f"{mg_text(mg)} mg/L {element}" for element, mg in found.water.items()]
    if credited:
        says.append(Say.of("solution-credit", words=listed(credited)))
    for held in found.held:
        most = HARD.get(held.element)
        if most is not None and held.per_litre > most:
            got = mg_text(held.per_litre)
            word = held.word if held.element == ALKALINITY else held.element
            says.append(Say.of("solution-hard", word=word, got=got, most=f"{most} mg/L"))
    if any(held.element == ALKALINITY for held in found.held):
        says.append(Say.of("solution-alkalinity"))
    return says


def about(found: Solution) -> dict[str, Any]:
    """The same for a program; strengths in mg/L of the element, 12 significant digits."""
    times = None
    if found.injector is not None:
        times = twelve_digits(found.injector.times(len(found.tanks)))
    grams = load(found.portions)
    return {
        "solution": {
            "feed": quantity(found.feed.to(LITER)),
            "made": quantity(found.made.to(LITER)),
            "stock_times": times,
            "irrigation": quantity(found.depth),
            "wanted": [
                {"nutrient": w.word, "mg_per_litre": twelve_digits(w.per_litre)}
                for w in found.wants
            ],
            "products": [
                {
                    "material": p.salt.key,
                    "name": p.salt.material.name,
                    "in_feed": quantity(Measure(p.per_litre, (*p.salt.unit, ("liter", -1)))),
                }
                for p in found.portions
            ],
            "supplies": [
                {
                    "nutrient": line.element,
                    "mg_per_litre": twelve_digits(line.total),
                    "from": [
                        {"name": name or "water", "mg_per_litre": twelve_digits(mg)}
                        for name, mg in line.parts
                    ],
                }
                for line in supplied(found.portions, found.water)
            ],
            "nitrogen_forms": {
                form or "untold": twelve_digits(mg)
                for form, mg in nitrogen_forms(found.portions).items()
            },
            "grams_per_litre": None if grams is None else twelve_digits(grams),
            "tanks": [[p.salt.key for p in tank.portions] for tank in found.tanks],
            "read_as": [
                say.english()
                for say in (*_volumes(found), *_read(found), *_water(found))
            ],
        }
    }  # fmt: skip

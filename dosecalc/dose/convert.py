"""One amount turned into another unit: plain, through a density, or into a nutrient."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.catalog.formula import element_of
from dosecalc.catalog.material import Material, is_volume
from dosecalc.errors import refuse
from dosecalc.units import engine
from dosecalc.units.engine import Unit
from dosecalc.units.measure import MASS, VOLUME, Measure, exact_text, kind_word
from dosecalc.units.spread import Est, Factor, Span


@dataclass(frozen=True, slots=True)
class Converted:
    """The answer, and which spreads went into it.

    Parameters
    ----------
    span : Span
        In the unit asked for.
    exact : Measure or None
        The exact amount where nothing uncertain went in.
    through : tuple of Factor
        Density and contents used.
    """

    span: Span
    exact: Measure | None
    through: tuple[Factor, ...]


def convert(
    amount: Measure, to: Unit, material: Material | None, nutrient: str | None
) -> Converted:
    """Turn `amount` of `material` into `to`, counting `nutrient` where one is named.

    Parameters
    ----------
    amount : Measure
        A mass, a volume, or either of them per something.
    to : Unit
    material : Material or None
    nutrient : str or None
        An element or an oxide word.

    Raises
    ------
    DoseError
        When the kinds differ, the density is unknown, or the material does not hold it.
    """
    est = Est.of(amount)
    if nutrient is not None:
        if material is None:
            raise refuse("convert-needs-material", nutrient=nutrient)
        est = _nutrient(est, amount, material, nutrient)
    elif material is not None and not _same(est.unit, to):
        est = _through_density(est, amount, to, material)
    if not _same(est.unit, to):
        raise refuse(
            "wrong-kind", text=exact_text(amount), is_kind=kind_word(est.unit),
            want_kind=kind_word(to),
        )  # fmt: skip
    est = est.to(to)
    span = est.span()
    exact = Measure(span.likely, to) if span.low == span.high else None
    return Converted(span, exact, tuple(f for f in est.factors if f.why != "formula"))


def _same(left: Unit, right: Unit) -> bool:
    return engine.dimension(left) == engine.dimension(right)


def _split(amount: Measure) -> tuple[bool, Unit]:
    """Whether the amount counts a volume, and what it is per: (True, ha) for 2 L/ha."""
    for name, power in amount.unit:
        unit: Unit = ((name, power),)
        if power > 0 and engine.dimension(unit) in (MASS, VOLUME):
            return is_volume(Measure(amount.value, unit)), unit
    raise refuse(
        "wrong-kind", text=exact_text(amount), is_kind=kind_word(amount.unit),
        want_kind="a weight or a volume",
    )  # fmt: skip


def _through_density(est: Est, amount: Measure, to: Unit, material: Material) -> Est:
    volume, _ = _split(amount)
    density = material.need_density(amount)
    turned = est.times(density, 1 if volume else -1)
    return turned if _same(turned.unit, to) else est


def _nutrient(est: Est, amount: Measure, material: Material, nutrient: str) -> Est:
    element, share = element_of(nutrient)
    content = material.content(element)
    if content is None:
        raise refuse("no-content", material=material.name, nutrient=nutrient)
    volume, _ = _split(amount)
    if (content.basis == "w/w") == volume:
        density = material.need_density(amount)
        est = est.times(density, 1 if volume else -1)
    return est.times(content.factor).by(1 / share)

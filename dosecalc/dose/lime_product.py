"""From a need of pure lime, sulfur or gypsum to the product in the bag, and to single doses."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from dosecalc.catalog.liming import Fineness, Instead
from dosecalc.catalog.material import Content, Material, exact_factor
from dosecalc.catalog.strength import LimingValue, Sieve, pure_value
from dosecalc.dose.amend import Requirement, per_area, plain
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure

_SIEVED = frozenset({"ENV", "lime score", "ENP", "ENM"})
"""Counts that the sieves have gone into; all but the first also hold the moisture."""


@dataclass(frozen=True, slots=True)
class LimeProduct:
    """What is in the bag.

    Parameters
    ----------
    material : Material
    value : LimingValue
        Its strength, by the count of the label.
    told : bool
        Whether that was told; else the pure material is taken.
    moisture : Fraction or None
        Share of water, where the strength is that of the dry stuff.
    sieves : tuple of Sieve
        What passes each sieve, where it was told.
    """

    material: Material
    value: LimingValue
    told: bool
    moisture: Fraction | None = None
    sieves: tuple[Sieve, ...] = ()


def pure_product(material: Material) -> LimingValue:
    """The strength of a catalog material counted as pure.

    Raises
    ------
    DoseError
        For a material without a formula, such as wood ash.
    """
    if not material.formula:
        raise refuse("liming-value-untold", name=material.name)
    return LimingValue("CaCO3", pure_value(material.formula) * 100)


def own_product(product: LimeProduct) -> Material:
    """The catalog material with the contents that a purity on the label leaves it.

    Raises
    ------
    DoseError
        For a label that is stronger than the pure material.
    """
    material, value = product.material, product.value
    if not product.told and product.moisture is None:
        return material
    share = Fraction(1)
    if product.told and material.formula and value.family in ("CaCO3", "S", "gypsum"):
        pure = pure_value(material.formula) if value.family == "CaCO3" else Fraction(1)
        share = value.share / pure
        if share > 1:
            raise refuse(
                "liming-value-over", text=value.text(), name=material.name,
                most=LimingValue(value.kind, value.value / share).text(),
            )  # fmt: skip
    if product.moisture is not None:
        share *= 1 - product.moisture
    name = f"{material.name}, {value.text()}" if product.told else material.name
    return replace(material, name=name, contents=tuple(_less(c, share) for c in material.contents))


def _less(content: Content, share: Fraction) -> Content:
    factor = content.factor
    if factor.low == factor.high:
        return replace(content, factor=exact_factor(factor.key, factor.likely * share, factor.why))
    scaled = replace(
        factor, low=factor.low * share, likely=factor.likely * share, high=factor.high * share
    )
    return replace(content, factor=scaled)


def in_product(
    need: Requirement, product: LimeProduct, schemes: Sequence[Fineness] = ()
) -> Requirement:
    """The same need as an amount of the product.

    Parameters
    ----------
    need : Requirement
    product : LimeProduct
    schemes : sequence of Fineness
        Counts of sieves on file.

    Raises
    ------
    DoseError
        Where the need and the label count by counts that no source turns into each other.
    """
    value, lines, taken = product.value, [], list(need.taken)
    if not product.told:
        option = "--liming-value" if need.counts.family not in ("S", "gypsum") else "--purity"
        name = product.material.name.lower()
        taken.append(Say.of("liming-taken-pure", name=name, value=value.text(), option=option))
    if product.sieves:
        value, line = _sieved(need, product, schemes)
        lines.append(line)
    if product.moisture is not None:
        if product.value.kind in _SIEVED:
            raise refuse("liming-moisture", text=value.text())
        lines.append(Say.of("liming-need-moisture", moisture=plain(product.moisture * 100)))
    if need.counts.family != value.family:
        if need.counts.kind != "lime score" or value.family != "CaCO3":
            raise refuse("liming-counts", need=need.counts.text(), text=value.text())
        taken.append(Say.of("liming-taken-score", text=value.text()))
    dry = 1 - (product.moisture or Fraction(0))
    share = need.counts.share / (value.share * dry)
    amount = need.amount * share
    once = None if need.once is None else need.once * share
    if share != 1:
        lines.append(
            Say.of(
                "liming-need-product", need=need.counts.text(), have=value.text(),
                times=plain(share), amount=per_area(amount),
            )
        )  # fmt: skip
    if value.kind == "CaO" or need.counts.kind == "CaO":
        lines.append(Say.of("liming-need-oxide"))
    return Requirement(amount, value, (*need.lines, *lines), tuple(taken), once)


def _sieved(
    need: Requirement, product: LimeProduct, schemes: Sequence[Fineness]
) -> tuple[LimingValue, Say]:
    """The effective value by the count of sieves that the need itself is counted by."""
    value = product.value
    if value.family != "CaCO3":
        raise refuse("liming-fineness-twice", text=value.text())
    scheme = next((s for s in schemes if s.counts == need.counts.kind), None)
    if scheme is None:
        raise refuse("liming-fineness-need", need=need.counts.text())
    passing = dict(product.sieves)
    if set(passing) != set(scheme.sieves):
        raise refuse(
            "liming-fineness-sieves", name=scheme.name,
            sieves=", ".join(plain(mesh) for mesh in scheme.sieves),
        )  # fmt: skip
    through = [passing[mesh] for mesh in scheme.sieves]
    held = [a - b for a, b in zip(through, (*through[1:], Fraction(0)), strict=True)]
    factor = sum((h * s for h, s in zip(held, scheme.shares, strict=True)), Fraction(0))
    if factor == 0:
        raise refuse("liming-fineness-none", name=scheme.name)
    found = LimingValue(scheme.counts, factor * value.share * 100)
    return found, Say.of(
        "liming-need-sieves", name=scheme.name, factor=plain(factor * 100), value=value.text(),
        found=found.text(), source=scheme.source.cite(),
    )  # fmt: skip


def instead_of_sulfur(need: Requirement, salt: Instead) -> Requirement:
    """So much of a salt as does the work of the sulfur."""
    amount = need.amount * (salt.factor / need.counts.share)
    line = Say.of(
        "liming-need-instead", factor=plain(salt.factor), source=salt.source.cite(),
        amount=per_area(amount),
    )  # fmt: skip
    return replace(need, amount=amount, lines=(*need.lines, line))


def parts(amount: Measure, most: Iterable[Measure]) -> int:
    """In how many equal doses an amount is given so that none is more than any of `most`."""
    counts = [-(-amount.amount_in(one.unit) // one.value) for one in most if one.value > 0]
    return max([1, *map(int, counts)])

"""Short ways to a need of lime, sulfur or gypsum, for the tests of all three."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.catalog.acidity import SoilText, read_soil
from dosecalc.catalog.liming import Method, fineness, methods
from dosecalc.catalog.lookup import material
from dosecalc.catalog.strength import read_advice, read_fineness, read_liming_value
from dosecalc.dose.acidify import acid_need
from dosecalc.dose.amend import Requirement
from dosecalc.dose.lime import lime_need
from dosecalc.dose.lime_product import LimeProduct, in_product
from dosecalc.dose.sodium import sodium_need
from dosecalc.units import read
from dosecalc.units.measure import Measure

METHODS = {method.id: method for method in methods()}


def length(text: str | None) -> Measure | None:
    return None if text is None else read.quantity(text)


def need(method: Method | str, depth: str | None = None, **soil: str) -> Requirement:
    """The need by one method of a soil as it is typed."""
    found = METHODS[method] if isinstance(method, str) else method
    told = read_soil(SoilText(**soil))
    if found.shape == "sodium":
        return sodium_need(found, told, length(depth))
    if found.lowers:
        return acid_need(found, told, length(depth))
    return lime_need(found, told, length(depth))


def bag(value: str, name: str = "ground-limestone", sieves: str | None = None) -> LimeProduct:
    """A bag of lime with the strength of its label."""
    passing = () if sieves is None else read_fineness(sieves)
    return LimeProduct(material(name), read_liming_value(value), True, None, passing)


def advised(advice: str, product: LimeProduct) -> Requirement:
    """What a report's own advice comes to in a product."""
    amount, counts = read_advice(advice)
    return in_product(Requirement(amount, counts, ()), product, fineness())


def in_unit(amount: Measure, unit: str) -> Fraction:
    """How many of `unit` ("lb/100 sq ft") an amount is."""
    step = read.quantity(f"1 {unit}", oz_is="weight")
    return amount.amount_in(step.unit) / step.value

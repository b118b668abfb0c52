"""From checked tables to values: text becomes exact measures, faults become problems.

The tables have the shape of ``catalog.schema``: a person's file was validated against it, a
shipped file is validated by the tests. So nothing here loads pydantic.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from fractions import Fraction
from typing import Any, NamedTuple

from dosecalc.catalog.formula import NUTRIENTS, contents, element_of
from dosecalc.catalog.material import Content, Material, Solubility, exact_factor
from dosecalc.catalog.recipe import Ingredient, Recipe, Repeat, Statement, Water
from dosecalc.catalog.source import Source
from dosecalc.errors import DoseError, Problem, refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    AREA,
    GRAM,
    GRAM_PER_L,
    GRAM_PER_ML,
    LENGTH,
    LITER,
    MASS,
    MASS_PER_VOLUME,
    ML,
    TIME,
    VOLUME,
    Measure,
    kind_word,
)
from dosecalc.units.spread import Factor
from dosecalc.units.words import System

_PLANT_DIM = (("[plant]", 1),)
_POT_DIM = (("[pot]", 1),)

BASIS_KIND: dict[str, tuple[Unit, str]] = {
    "row length": (LENGTH, "5 m"),
    "area": (AREA, "100 sq ft"),
    "layer": (AREA, "1 m2"),
    "spray volume": (VOLUME, "1 gal"),
    "medium volume": (VOLUME, "1 cu yd"),
    "plant": (_PLANT_DIM, "1 plant"),
    "pot": (_POT_DIM, "1 pot"),
}


Table = Mapping[str, Any]


class Faults:
    """Collects the problems of one file, each with its place."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []

    @contextmanager
    def at(self, place: str) -> Iterator[None]:
        """Turn a refusal inside the block into a problem at `place`."""
        try:
            yield
        except DoseError as err:
            self.problems.append(Problem(self.file, place, str(err), err.doubt))


def source(id: str, file: Table) -> Source:
    """One source."""
    return Source(
        id, file["title"], file["publisher"], file["grade"], file.get("year"), file.get("url")
    )


def material(id: str, file: Table, faults: Faults) -> Material:
    """One material; what cannot be read is a problem and left out."""
    found: list[Content] = []
    uncounted: list[str] = []
    if "formula" in file:
        with faults.at("formula"):
            found.extend(_formula_contents(id, file))
    for index, entry in enumerate(file.get("analysis", ()), start=1):
        with faults.at(f"analysis {index}"):
            content = _analysis_content(id, entry, file.get("moisture"))
            if content is None:
                uncounted.append(entry["nutrient"])
            else:
                found.append(content)
    density = None
    if "density" in file:
        with faults.at("density"):
            density = _density(id, file["density"])
    solubility: list[Solubility] = []
    for index, point in enumerate(file.get("solubility", ()), start=1):
        with faults.at(f"solubility {index}"):
            solubility.append(_solubility(point))
    return Material(
        id=id,
        name=file["name"],
        also=tuple(file.get("also", ())),
        form=file["form"],
        traits=tuple(file.get("traits", ())),
        contents=tuple(found),
        uncounted=tuple(uncounted),
        by_weight=file.get("by_weight", False),
        density=density,
        density_how=file.get("density", {}).get("how", ""),
        solubility=tuple(solubility),
        insoluble=file.get("insoluble", ""),
        hazards=tuple(entry["key"] for entry in file.get("hazard", ())),
        caveat=file.get("caveat", ""),
        formula=file.get("formula", ""),
        sources=tuple(dict.fromkeys(_material_sources(file))),
        suspends=file.get("suspends", False),
    )


def _material_sources(file: Table) -> Iterator[str]:
    yield from (entry["source"] for entry in file.get("analysis", ()))
    for seen in file.get("density", {}).get("seen", ()):
        if seen.get("used", True):
            yield seen["source"]


def _percent(text: str | None) -> Fraction | None:
    return None if text is None else read.number(text, example="46") / 100


def _formula_contents(id: str, file: Table) -> Iterator[Content]:
    purity = _percent(file.get("purity")) or Fraction(1)
    for element, fraction in contents(file["formula"]).items():
        if element in NUTRIENTS:
            factor = exact_factor(f"content:{id}:{element}", fraction * purity, "formula")
            yield Content(element, factor, "w/w", "formula", "")


def _analysis_content(id: str, entry: Table, moisture: str | None) -> Content | None:
    element, share = element_of(entry["nutrient"])
    dry = Fraction(1)
    if entry.get("state") == "dry":
        wet = _percent(moisture)
        if wet is None:
            return None
        dry = 1 - wet
    likely, low, high = (_percent(entry.get(key)) for key in ("percent", "low", "high"))
    if likely is None and low is not None and high is not None:
        likely = (low + high) / 2
    if likely is None:
        raise refuse("analysis-number", nutrient=entry["nutrient"])
    low = likely if low is None else low
    high = likely if high is None else high
    if not (0 <= low <= likely <= high <= 1 and likely > 0):
        raise refuse("analysis-span", nutrient=entry["nutrient"])
    unit: Unit = () if entry.get("basis", "w/w") == "w/w" else GRAM_PER_ML
    part = share * dry
    factor = Factor(
        f"content:{id}:{element}", low * part, likely * part, high * part,
        unit, entry["kind"],
    )  # fmt: skip
    return Content(element, factor, entry.get("basis", "w/w"), entry["kind"], entry["source"])


def _density(id: str, entry: Table) -> Factor:
    low, likely, high = (
        read.positive(
            text, MASS_PER_VOLUME, want="a density", example="0.85 g/mL", oz_is="weight"
        ).amount_in(GRAM_PER_ML)
        for text in (entry["low"], entry["likely"], entry["high"])
    )
    if not low <= likely <= high:
        raise refuse("span-order", what="density")
    return Factor(f"density:{id}", low, likely, high, GRAM_PER_ML, entry["how"])


def _solubility(entry: Table) -> Solubility:
    return Solubility(
        read.temperature(entry["at"]),
        read.positive(
            entry["value"], MASS_PER_VOLUME, want="a solubility", example="47 g/L", oz_is="weight"
        ).amount_in(GRAM_PER_L),
        entry["printed"],
        entry["source"],
        entry.get("used", True),
        entry.get("caveat", ""),
    )


MaterialForms = Callable[[str], Material | None]


def recipe(
    id: str,
    file: Table,
    known: MaterialForms,
    faults: Faults,
    speak: System | None = None,
) -> Recipe:
    """One recipe.

    Parameters
    ----------
    id : str
    file : Table
    known : callable
        Looks a material up, so that `oz` of a liquid can be refused.
    faults : Faults
    speak : System or None
        Read every statement in these measures, unless one declares them itself.
    """
    statements: list[Statement] = []
    own_words = any(entry.get("measures") == speak for entry in file["statement"])
    for index, entry in enumerate(file["statement"], start=1):
        system = entry.get("measures") if speak is None or own_words else speak
        made = statement(entry, system, known, faults, f"statement {index}")
        if made is not None:
            statements.append(made)
    if ("practice" in file) == bool(file.get("source")):
        faults.problems.append(
            Problem(
                faults.file,
                "source",
                'give either source ids or practice = "common practice, no source", not both and'
                " not neither.",
            )
        )
    return Recipe(
        id=id,
        name=file["name"],
        purpose=file["purpose"],
        how=file["how"],
        placement=file["placement"],
        setting=tuple(file.get("setting", ())),
        crops=tuple(file.get("crops", ())),
        not_on=tuple(file.get("not_on", ())),
        when=file.get("when", ""),
        statements=tuple(statements),
        repeat=_repeat(file["repeat"], faults) if "repeat" in file else None,
        order=tuple(file.get("order", ())),
        cautions=tuple(file.get("cautions", ())),
        sources=tuple(file.get("source", ())),
        practice="practice" in file,
        caveat=file.get("caveat", ""),
    )


def _repeat(entry: Table, faults: Faults) -> Repeat | None:
    interval: Measure | None = None
    with faults.at("repeat, interval"):
        if "interval" in entry:
            interval = read.positive(entry["interval"], TIME, want="an interval", example="14 days")
        return Repeat(interval, entry.get("most"), entry.get("window"), entry.get("source"))
    return None


def statement(
    entry: Table,
    system: System | None,
    known: MaterialForms,
    faults: Faults,
    place: str,
) -> Statement | None:
    """One statement, read in the measures of `system`; None when its basis cannot be read."""
    basis = entry["basis"]
    dim, example = BASIS_KIND[basis]
    per: Measure | None = None
    with faults.at(f"{place}, per"):
        per = read.positive(entry["per"], dim, system, want=_basis_word(basis), example=example)
    if per is None:
        return None
    ingredients: list[Ingredient] = []
    for number, item in enumerate(entry["ingredient"], start=1):
        with faults.at(f"{place}, ingredient {number}"):
            ingredients.append(_ingredient(item, system, basis, per, known))
    water = None
    if "water" in entry:
        with faults.at(f"{place}, water"):
            amount = read.positive(
                entry["water"]["amount"], VOLUME, system, want="a volume of water",
                example="350 mL",
            )  # fmt: skip
            water = Water(amount, entry["water"]["need"])
    if not ingredients:
        return None
    return Statement(
        system, entry.get("measures"), basis, per, entry["per"], tuple(ingredients), water
    )


def _basis_word(basis: str) -> str:
    return {"row length": "a length of row", "area": "an area", "layer": "an area"}.get(
        basis, f"a {basis}"
    )


_STRENGTH = re.compile(r"(.+?) ?% ?(w/v|v/v)")


def _ingredient(
    item: Table,
    system: System | None,
    basis: str,
    per: Measure,
    known: MaterialForms,
) -> Ingredient:
    text, to, nutrient = item["amount"], item.get("to"), item.get("nutrient")
    found = known(item["material"])
    if found is None:
        raise refuse("material-id", text=item["material"])
    amount, upper = _amount(text, to, system, found, basis, per)
    for measure in (amount, upper):
        if measure is None:
            continue
        if basis == "layer" and not measure.is_a(LENGTH):
            raise refuse("layer-depth", text=text)
        if basis != "layer" and not (measure.is_a(MASS) or measure.is_a(VOLUME)):
            raise refuse("amount-kind", text=text, is_kind=kind_word(measure.unit))
        if measure.value <= 0:
            raise refuse("read-positive", text=text, want="an amount", example="5 g")
    if upper is not None and upper <= amount:
        raise refuse("read-range-order", text=f"{text} to {to}")
    if nutrient is not None and not amount.is_a(MASS):
        raise refuse("nutrient-mass", text=text, nutrient=nutrient)
    printed = text if to is None else f"{text} to {to}"
    return Ingredient(item["material"], amount, upper, nutrient, item["role"], printed)


def _amount(
    text: str, to: str | None, system: System | None, found: Material, basis: str, per: Measure
) -> tuple[Measure, Measure | None]:
    oz_is = "doubt" if found.liquid else "weight"
    upper = None if to is None else read.quantity(to, system, oz_is=oz_is)
    if match := _STRENGTH.fullmatch(text.strip()):
        if basis not in ("spray volume", "medium volume"):
            raise refuse("strength-basis", text=text)
        share = read.number(match[1], system, example="2 % v/v") / 100
        whole = per.to(ML)
        unit = ML if match[2] == "v/v" else GRAM
        return Measure(whole.value * share, unit), upper
    low, high = read.choice(text, system, oz_is=oz_is)
    return low, upper if high is None else high


class BagPlan(NamedTuple):
    """Whole bags for a volume."""

    bags: int
    bag: Measure


def whole_bags(volume: Measure, bag: Measure) -> BagPlan:
    """How many whole bags of `bag` hold `volume`, rounded up."""
    exact = volume.amount_in(LITER) / bag.amount_in(LITER)
    return BagPlan(-int(-exact // 1), bag)

"""Products of a solution by what people call them: own ones, the catalog's, a typed analysis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.material import Content, Material
from dosecalc.catalog.product import distinct
from dosecalc.catalog.prose.stuff import stuff
from dosecalc.dose.solution import Salt
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import GRAM_PER_ML, ML, Measure
from dosecalc.units.show import rounded
from dosecalc.units.spread import Factor
from dosecalc.units.words import System

_BASES = ("w/w", "w/v")


class Shelf:
    """Looks products up, and keeps what was read into them."""

    def __init__(self, garden: Garden, system: System | None, region: str | None) -> None:
        self.garden = garden
        self.system = system
        self.region = region
        self.own: dict[str, Material] = {}
        self.says: list[Say] = []

    def salt(self, text: str) -> Salt:
        """A product of the garden file, of the catalog, or of a typed analysis."""
        tidy = read.tidy(text, "a product", "20-20-20")
        if (mine := self.garden.products().material(tidy)) is not None:
            return self._soluble(tidy, mine)
        basis = next((b for b in _BASES if tidy.endswith(f" {b}")), "")
        name = tidy.removesuffix(basis).strip()
        if name[:1].isdigit() and "-" in name:
            region = None if self.region is None else self.region.upper()
            read_as = stuff(name, None, self.system, region)
            found = read_as.material
            if read_as.own:
                self.says += read_as.says
                return self._typed(name, found, basis)
        else:
            found = self.garden.material(name)
        if basis or _doubtful(found):
            return self._liquid(tidy, name, found, basis)
        return self._soluble(found.id, found)

    def _typed(self, name: str, found: Material, basis: str) -> Salt:
        """A solid feed of a typed analysis; what holds phosphorus is kept from calcium."""
        if basis:
            raise refuse("solution-basis-solid", text=f"{name} {basis}")
        if found.content("P") is not None and "phosphate" not in found.traits:
            found = replace(found, traits=(*found.traits, "phosphate"))
        key = f"typed {name}"
        self.own[key] = found
        return Salt(key, found)

    def _soluble(self, key: str, found: Material) -> Salt:
        if found.loose:
            raise refuse("solution-bulk", name=found.name)
        return Salt(key, found)

    def _liquid(self, text: str, name: str, found: Material, basis: str) -> Salt:
        """A liquid feed of the catalog, whose label counts by weight or by volume."""
        if not _doubtful(found):
            raise refuse("solution-basis-solid", text=text)
        first = found.contents[0]
        share = first.factor.likely
        if not basis:
            density = found.need_density(Measure(Fraction(1), ML)).likely
            raise refuse(
                "solution-basis", text=name, word=first.element,
                percent=f"{rounded(share * 100)[0]} %", weight=rounded(share * density * 1000)[0],
                volume=rounded(share * 1000)[0],
            )  # fmt: skip
        words = "by weight (w/w)" if basis == "w/w" else "by volume (w/v: grams in 100 mL)"
        self.says.append(Say.of("solution-read-basis", name=found.name, basis=words))
        if basis == "w/w":
            return Salt(found.id, found)
        contents = tuple(_by_volume(content) for content in found.contents)
        made = replace(found, name=f"{found.name} (w/v)", contents=contents)
        key = f"{found.id} w/v"
        self.own[key] = made
        return Salt(key, made)

    def amount(self, text: str) -> tuple[Salt, Measure, str]:
        """Such as "100 g 20-20-20", "0.6 g/L potassium nitrate" or "5 mL/L bottle"."""
        amount, name = read.leading(
            text, self.system, example="100 g 20-20-20", oz_is="weight"
        )  # fmt: skip
        if not name:
            raise refuse("solution-amount", text=text)
        salt = self.salt(name.removeprefix("of "))
        if salt.material.liquid:
            amount, _ = read.leading(
                text, self.system, example="50 mL fish feed", oz_is="doubt"
            )  # fmt: skip
        if amount.value <= 0:
            raise refuse("solution-amount", text=text)
        return salt, amount, text


def _doubtful(found: Material) -> bool:
    """Whether a catalog liquid holds printed percentages, which a label counts either way."""
    return "liquid-feed" in found.traits and any(c.kind != "formula" for c in found.contents)


def _by_volume(content: Content) -> Content:
    """The same percentages counted as grams in 100 mL."""
    f = content.factor
    factor = Factor(f.key, f.low, f.likely, f.high, GRAM_PER_ML, f.why)
    return Content(content.element, factor, "w/v", content.kind, content.source)


def all_distinct(salts: Sequence[Salt]) -> None:
    """Refuse a product that is named twice, and two that stand for one material of the catalog.

    Raises
    ------
    DoseError
    """
    seen: set[str] = set()
    for salt in salts:
        if salt.key in seen:
            raise refuse("solution-twice", name=salt.material.name)
        seen.add(salt.key)
    distinct({salt.key: salt.material for salt in salts})

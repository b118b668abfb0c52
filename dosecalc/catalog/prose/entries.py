"""One ingredient of a written recipe: an amount, a strength or a nutrient as a file holds it."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from dosecalc.catalog.material import Material
from dosecalc.catalog.prose import doubt, words
from dosecalc.catalog.prose.draft import Item
from dosecalc.catalog.prose.scan import Spot
from dosecalc.catalog.prose.sizes import Sized
from dosecalc.catalog.prose.stuff import Stuff, stuff
from dosecalc.errors import DoseError, refuse
from dosecalc.say import Say
from dosecalc.units import engine, read
from dosecalc.units.measure import LITER, Measure, exact_text
from dosecalc.units.show import show
from dosecalc.units.words import System

Table = dict[str, Any]
_MOST_APART = Fraction(4, 3)
"""Further apart, "x or y" is no rounded conversion but a choice (common practice, no source)."""


@dataclass(slots=True)
class Made:
    """The statements of a text, and what must be said of them.

    Parameters
    ----------
    tables : list of dict
        As ``[[statement]]`` of a recipe file.
    materials : dict
        Every material by its id.
    own : set of str
        Ids whose analysis is the one written, not the catalog's.
    """

    tables: list[Table] = field(default_factory=list)
    materials: dict[str, Material] = field(default_factory=dict)
    own: set[str] = field(default_factory=set)
    says: list[Say] = field(default_factory=list)


class Entries:
    """Turns the items of a rate into ingredients, in the measures of one system.

    Parameters
    ----------
    system : System or None
    region : str or None
        Whose law: it settles whether an analysis counts oxides.
    """

    def __init__(self, system: System | None, region: str | None) -> None:
        self.system = system
        self.region = region
        self.made = Made()

    def fixed(self, size: Sized) -> str:
        """The text of one exact size, as a recipe file may hold it."""
        if size.kind == "area" and " x " in size.text:
            measure = exact_text(self.measure(size))
            self.say("prose-box", text=size.text, area=show(self.measure(size)).metric)
            return measure
        return size.text

    def measure(self, size: Sized) -> Measure:
        """A size read: in the measures of the text."""
        if size.kind == "area" and " x " in size.text:
            one, other = read.dimensions(size.text, self.system)
            return one * other
        return read.quantity(size.text, self.system, oz_is="doubt")

    def entry(self, item: Item, per: Sized, variant: int) -> Table:
        """One ingredient as a recipe file holds it."""
        size = None if item.size is None else wording(item.size, variant)
        said = item.strength if size is None else size.shown
        if not item.name:
            if item.nutrient:
                raise doubt.nutrient_source(said, item.nutrient)
            if item.strength.endswith(" %"):
                raise doubt.percent(item.strength, None, None)
            if ":" in item.strength:
                raise doubt.ratio(item.strength.partition(" ")[0], None)
            raise refuse("prose-of-what", text=said)
        if (
            size is not None
            and size.text.endswith(" t")
            and not re.search(r"\b(ha|hectares?|acres?)$", per.text)
        ):
            raise refuse("prose-t", text=size.shown)
        found = self.stuff(item, size)
        material = found.material
        self.made.materials[material.id] = material
        if found.own:
            self.made.own.add(material.id)
        if not variant:
            self.made.says += [say for say in found.says if say not in self.made.says]
        entry: Table = {"material": material.id}
        if size is None:
            entry.update(self.strength(item, material, per))
        else:
            if material.liquid:
                self.check_ounces(size)
            entry.update(self.amount(size, variant))
            self.check_either(item.size, size)
        if item.nutrient:
            entry["nutrient"] = self.nutrient(item, said)
        return entry

    def stuff(self, item: Item, size: Sized | None) -> Stuff:
        """The material of an item."""
        amount = None if size is None or item.nutrient else size.text
        whole = None
        if size is not None and size.twin is None and size.to is None:
            whole = _together(size.spot, item.spot("MAT"))
        return stuff(item.name, amount, self.system, self.region, item.name_spot(), whole)

    def check_ounces(self, size: Sized) -> None:
        """An ounce of a liquid is a weight or a volume."""
        found = doubt.ounces(size.text, size.to, self.system, size.spot)
        if found is not None:
            raise found

    def check_either(self, main: Sized | None, size: Sized) -> None:
        """An "or" joins two wordings of one amount only where they are about the same."""
        if main is None or not main.either or size is not main.twin:
            return
        one, other = self.measure(main), self.measure(size)
        if engine.dimension(one.unit) != engine.dimension(other.unit):
            return
        ratio = one.value / other.amount_in(one.unit)
        if not 1 / _MOST_APART <= ratio <= _MOST_APART:
            raise refuse("prose-or", text=f"{main.text} or {size.text}")

    def amount(self, size: Sized, variant: int) -> Table:
        """The amount of an entry, heaped spoons as a range."""
        entry: Table = {"amount": size.text}
        if size.to is not None:
            entry["to"] = size.to
        if size.heaped:
            if size.to is not None:
                raise refuse("prose-heaped-range", text=size.shown)
            number, unit = _split(size.text)
            entry["to"] = f"{read.number(number, self.system) * 2} {unit}"
            if not variant:
                self.say("prose-heaped", text=size.text, to=entry["to"])
        if size.about and not variant:
            self.say("prose-about", text=size.shown)
        return entry

    def nutrient(self, item: Item, said: str) -> str:
        """The nutrient that is counted, refused where an oxide could be meant."""
        word = (
            words.NUTRIENT_WORDS.get(item.nutrient) or words.NUTRIENT_WORDS[item.nutrient.lower()]
        )
        if word in ("P", "K") and not item.surely:
            american = self.system == "us" or re.search(r"\b(lbs?|pounds?|oz|ounces?)\b", said)
            if american and item.size is not None:
                raise doubt.oxide(item.size.text, word, self.system, item.spot("NUTR"))
            self.say("prose-element", word=word)
        return word

    def strength(self, item: Item, material: Material, per: Sized) -> Table:
        """A percentage, ppm or ratio as an amount in the liquid it is part of."""
        text = item.strength
        litres = self.measure(per).amount_in(LITER)
        if text.endswith(" ppm"):
            low, to = _ends(text.removesuffix(" ppm"))
            if not item.nutrient:
                raise refuse("prose-ppm", text=text, name=material.name)
            grams = [f"{read.number(part, self.system) * litres} mg" for part in (low, *to)]
            return {"amount": grams[0], **({"to": grams[1]} if to else {})}
        if " of water" in text:
            return self.parts(text, material, litres)
        if ":" in text:
            raise self.ratio(item, material)
        number, _, kind = text.partition(" % ")
        if not kind:
            raise doubt.percent(text, material, item.spot("PCT"))
        if kind == "w/w":
            raise refuse("prose-by-weight", text=text, number=number)
        unit = "mL" if kind == "v/v" else "g"
        low, to = _ends(number)
        shown = [f"{read.number(part, self.system) * 10 * litres} {unit}" for part in (low, *to)]
        return {"amount": shown[0], **({"to": shown[1]} if to else {})}

    def ratio(self, item: Item, material: Material) -> DoseError:
        """A ratio without its parts, which a liquid's name beside it can be part of."""
        alone = item.spot("RATIO") if material.liquid else None
        both = _together(alone, item.spot("MAT"))
        if both is None:
            return doubt.ratio(item.strength, alone)
        return doubt.ratio(item.strength, both, item.name)

    def parts(self, text: str, material: Material, litres: Fraction) -> Table:
        """Named parts of a liquid and of water."""
        one, _, other = text.removesuffix(" of water").partition(":")
        if not material.liquid:
            raise refuse("prose-parts", text=text, name=material.name)
        if "-" in one + other:
            raise refuse("prose-parts-range", text=text)
        left, right = read.number(one, self.system), read.number(other, self.system)
        if left <= 0 or right <= 0:
            raise refuse("read-ratio", text=f"{one}:{other}")
        share = left / (left + right) * 1000 * litres
        self.say("prose-share", one=one, name=material.name, other=other)
        return {"amount": f"{share} mL"}

    def say(self, key: str, **args: object) -> None:
        """Note what was taken as read, once."""
        line = Say.of(key, **args)
        if line not in self.made.says:
            self.made.says.append(line)


def _together(one: Spot | None, other: Spot | None) -> Spot | None:
    """Where two words stand side by side; None where more than "of" or a colon is between."""
    if one is None or other is None:
        return None
    if max(one.start, other.start) - min(one.end, other.end) > len(" of "):
        return None
    return Spot(min(one.start, other.start), max(one.end, other.end))


def _ends(text: str) -> tuple[str, list[str]]:
    low, dash, high = text.partition("-")
    return low, [high] if dash else []


def _split(text: str) -> tuple[str, str]:
    match = re.fullmatch(r"([\d ./,-]*\d) (.+)", text)
    assert match is not None
    return match[1], match[2]


def wording(size: Sized, variant: int) -> Sized:
    """The first or the second wording of a size."""
    return size.twin if variant and size.twin is not None else size

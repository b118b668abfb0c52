"""Needs and credits as people write them: "120 kg/ha N", "0.1 lb actual N per 100 sq ft"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import NUTRIENTS, OXIDES, element_of, molar_mass
from dosecalc.catalog.site import Site
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit, dimension
from dosecalc.units.measure import (
    KG,
    LENGTH,
    MASS,
    MASS_PER_AREA,
    MASS_PER_VOLUME,
    PLANT,
    POT,
    Measure,
)
from dosecalc.units.words import System

_MASS_PER_LENGTH: Unit = (("[length]", -1), ("[mass]", 1))
_MASS_PER_PLANT: Unit = (("[mass]", 1), ("[plant]", -1))
_MASS_PER_POT: Unit = (("[mass]", 1), ("[pot]", -1))
BASES: dict[Unit, str] = {
    MASS_PER_AREA: "area", _MASS_PER_LENGTH: "row length", MASS_PER_VOLUME: "medium volume",
    _MASS_PER_PLANT: "plant", _MASS_PER_POT: "pot", MASS: "site",
}  # fmt: skip

_PLAIN = {
    "nitrogen": "N", "phosphate": "P2O5", "potash": "K2O", "boron": "B", "copper": "Cu",
    "iron": "Fe", "manganese": "Mn", "molybdenum": "Mo", "zinc": "Zn", "NO3-N": "N",
}  # fmt: skip
"""Words that the trade uses for one thing only; phosphate and potash are always the oxides."""
_TWO = {
    "phosphorus": "P or P2O5", "phosphorous": "P or P2O5", "potassium": "K or K2O",
    "calcium": "Ca or CaO", "magnesium": "Mg or MgO", "sulfur": "S or SO3",
    "sulphur": "S or SO3", "nitrate": "NO3-N", "NO3": "NO3-N", "SO4": "S or SO3",
    "PO4": "P or P2O5", "ammonium": "N", "NH4": "N", "urea": "N", "CaCO3": "Ca",
}  # fmt: skip
"""Words of which a page means now the one, now the other."""
_WORD = re.compile(r"(?<![A-Za-z0-9-])([A-Za-z][A-Za-z0-9-]*)(?![A-Za-z0-9-])")
_SURE = re.compile(r"\b(?:actual|elemental|available|of)\b ?", re.IGNORECASE)
NITRATE_N = molar_mass("N") / molar_mass("NO3")
"""Share of nitrogen in nitrate, 0.2259 (atomic weights: IUPAC, CIAAW 2021)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """So much of one nutrient over one basis.

    Parameters
    ----------
    word : str
        The nutrient as it counts: an element or an oxide word.
    amount : Measure
        A mass, or a mass per area, length, plant, pot or volume of growing medium.
    printed : str
        As typed.
    """

    word: str
    amount: Measure
    printed: str

    @property
    def element(self) -> str:
        """The element that it counts."""
        return element_of(self.word)[0]

    @property
    def basis(self) -> str:
        """What it is counted over: "area", "row length", "plant", "pot", ... or "site"."""
        return BASES[dimension(self.amount.unit)]

    def on(self, site: Site) -> Fraction:
        """Kilograms of the element on the whole site.

        Raises
        ------
        DoseError
            When the site does not tell the basis.
        """
        per = _basis(self.basis, site)
        whole = self.amount if per is None else self.amount * per
        return whole.amount_in(KG) * element_of(self.word)[1]


def _basis(basis: str, site: Site) -> Measure | None:
    if basis == "site":
        return None
    if basis == "area":
        if site.ground is None:
            raise refuse("need-row-spacing" if site.row_length is not None else "need-area")
        return site.ground
    if basis == "row length":
        if site.row_length is None:
            raise refuse("need-rows-in-bed" if site.area is not None else "need-row")
        return site.row_length
    if basis == "medium volume":
        if site.medium_volume is None:
            raise refuse("need-medium")
        return site.medium_volume
    count, unit = (site.plants, PLANT) if basis == "plant" else (site.pots, POT)
    if count is None:
        raise refuse("need-plants" if basis == "plant" else "need-pots")
    return Measure(Fraction(count), unit)


def nutrient_in(text: str) -> tuple[str, str]:
    """The one nutrient word of a text, and the text without it.

    Raises
    ------
    DoseError
        For none, for two, and for a word that can mean two things.
    """
    found: list[tuple[str, re.Match[str]]] = []
    for match in _WORD.finditer(text):
        word = match[1]
        plain = _PLAIN.get(word) or _PLAIN.get(word.lower())
        if word in NUTRIENTS or word in OXIDES:
            found.append((word, match))
        elif plain is not None:
            found.append((plain, match))
        elif word in _TWO or word.lower() in _TWO:
            raise refuse(
                "feed-two-words", text=text, word=word, which=_TWO.get(word) or _TWO[word.lower()]
            )
    if len(found) != 1:
        raise refuse("feed-no-nutrient" if not found else "feed-several", text=text)
    word, match = found[0]
    rest = f"{text[: match.start()]} {text[match.end() :]}"
    return word, " ".join(_SURE.sub("", rest).split()).replace(" /", "/")


def read_asked(text: str, system: System | None, option: str) -> Asked:
    """One need or credit.

    Parameters
    ----------
    text : str
    system : System or None
        Whose tons it is counted in.
    option : str
        The option it was typed for, named in a refusal.

    Raises
    ------
    DoseError
        For anything that is not one amount of one nutrient.
    """
    word, rest = nutrient_in(read.tidy(text, "an amount of a nutrient", "120 kg/ha N"))
    amount = read.quantity(
        rest, system, want=f"an amount for {option}", example="120 kg/ha", oz_is="weight"
    )
    if dimension(amount.unit) not in BASES:
        raise refuse("feed-amount-kind", text=text)
    if amount.value <= 0:
        raise refuse("read-positive", text=text, want="an amount", example="120 kg/ha N")
    return Asked(word, amount, text.strip())


def read_water(held: str, depth: str, system: System | None = None) -> Asked:
    """The nitrogen that irrigation water brings over an area.

    Parameters
    ----------
    held : str
        Nitrate in it: "9 mg/L NO3-N" or "40 mg/L as NO3".
    depth : str
        How much of it is given: "200 mm", or a volume per area.
    system : System or None

    Raises
    ------
    DoseError
        For a nitrate of which was not told whether nitrate or its nitrogen is counted.
    """
    text = read.tidy(held, "what the water holds", "9 mg/L NO3-N")
    if match := re.fullmatch(r"(.+?) (?:NO3-N|nitrate-N|nitrate nitrogen|N)", text):
        share = Fraction(1)
    elif match := re.fullmatch(r"(.+?) as (?:NO3|nitrate)", text):
        share = NITRATE_N
    elif match := re.fullmatch(r"(.+?) (?:NO3|nitrate)", text):
        raise refuse("feed-nitrate", text=text, number=match[1])
    else:
        raise refuse("feed-water-holds", text=text)
    strength = read.quantity(
        match[1].replace("ppm", "mg/L"), want="what the water holds", example="9 mg/L",
        oz_is="weight",
    )  # fmt: skip
    deep = read.quantity(depth, system, want="a depth of water", example="200 mm")
    if dimension(strength.unit) != MASS_PER_VOLUME or strength.value <= 0:
        raise refuse("feed-water-holds", text=text)
    if not deep.is_a(LENGTH) or deep.value <= 0:
        raise refuse("feed-water-depth", text=depth)
    whole = (strength * deep * share).to((("gram", 1), ("meter", -2)))
    return Asked("N", whole, f"{depth} of water with {held}")

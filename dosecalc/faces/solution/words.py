"""The words of a feeding solution as people type them: strengths, water analyses, injectors."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import NUTRIENTS, OXIDES, contents, element_of
from dosecalc.dose.solution import Want
from dosecalc.dose.stock import Injector
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit, dimension
from dosecalc.units.measure import LENGTH, VOLUME, Measure
from dosecalc.units.words import System

MG_PER_L: Unit = (("liter", -1), ("mg", 1))
_STRENGTH = (("[length]", -3), ("[mass]", 1))
_ON_GROUND = (("[length]", -2), ("[mass]", 1))
_IONS = {"NO3": "N", "NH4": "N", "PO4": "P", "SO4": "S"}
"""What laboratories count in water, and the element that the plant feeds on."""
ALKALINITY = "HCO3"


def _one_of(words: list[str]) -> re.Pattern[str]:
    known = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
    return re.compile(rf"(?<![A-Za-z0-9-])({known})(?![A-Za-z0-9-])", re.ASCII)


_WANTED = _one_of([*NUTRIENTS, *OXIDES])
_FORMS = _one_of([*_IONS, *(f"{ion}-{element}" for ion, element in _IONS.items())])
_HELD = _one_of([*NUTRIENTS, *OXIDES, ALKALINITY, *_IONS, *(f"{i}-{e}" for i, e in _IONS.items())])
_PPM = re.compile(r"(?<=\d) ?(ppm|PPM)\b")
_UNIT = re.compile(r"[A-Za-z%]")
_PERCENT = re.compile(r"(?P<number>[^%]+?) ?(%|percent)")


def _parted(text: str, words: re.Pattern[str]) -> tuple[str, str] | None:
    """The one nutrient word of a text and the rest of it, ppm as mg/L; None for none or several."""
    found = words.findall(text)
    if len(found) != 1:
        return None
    rest = words.sub(" ", text).replace(" of ", " ")
    rest = re.sub(r"\s*/\s*", "/", " ".join(rest.split()))
    return found[0], _PPM.sub(" mg/L", rest)


def read_want(text: str, depth: Measure | None) -> Want:
    """Such as "200 ppm N", "60 mg/L P2O5", or "20 kg N/ha" over an irrigation.

    Parameters
    ----------
    text : str
    depth : Measure or None
        Depth of the irrigation, for an amount on the ground.

    Raises
    ------
    DoseError
        For anything else; for an amount on the ground without a depth.
    """
    tidy = read.tidy(text, "a wanted strength", "200 ppm N")
    if _FORMS.search(tidy):
        raise refuse("solution-want-form", text=text)
    parted = _parted(tidy, _WANTED)
    if parted is None:
        raise refuse("solution-want", text=text)
    word, rest = parted
    if not _UNIT.search(rest):
        raise refuse("solution-want", text=text)
    found = read.quantity(rest, want="a wanted strength", example="200 ppm N", oz_is="weight")
    if found.value <= 0:
        raise refuse("solution-want-zero", text=text)
    if dimension(found.unit) == _ON_GROUND:
        if depth is None:
            raise refuse("solution-want-depth", text=text)
        found = found / depth
    if dimension(found.unit) != _STRENGTH:
        raise refuse("solution-want", text=text)
    return Want(word, found.amount_in(MG_PER_L))


@dataclass(frozen=True, slots=True)
class Held:
    """One figure of a water analysis: the word as typed, its element, milligrams in a litre."""

    word: str
    element: str
    per_litre: Fraction


def read_held(text: str) -> Held:
    """Such as "50 mg/L NO3", "11 mg/L NO3-N", "80 ppm Ca", "200 mg/L HCO3".

    Raises
    ------
    DoseError
        For a word that could be counted in two ways ("nitrate"), and for anything else.
    """
    tidy = read.tidy(text, "what the water holds", "50 mg/L NO3")
    parted = _parted(tidy, _HELD)
    if parted is None:
        key = "solution-nitrate" if "nitrate" in tidy.casefold() else "solution-held"
        raise refuse(key, text=text)
    word, rest = parted
    if not _UNIT.search(rest):
        raise refuse("solution-held", text=text)
    found = read.quantity(rest, want="what the water holds", example="50 mg/L NO3",
                          oz_is="weight")  # fmt: skip
    if dimension(found.unit) != _STRENGTH or found.value < 0:
        raise refuse("solution-held", text=text)
    mg = found.amount_in(MG_PER_L)
    if word == ALKALINITY:
        return Held(word, ALKALINITY, mg)
    ion, _, counted = word.partition("-")
    if ion in _IONS:
        element = _IONS[ion]
        return Held(word, element, mg if counted else mg * contents(ion)[element])
    element, share = element_of(word)
    return Held(word, element, mg * share)


def read_injector(text: str, *, to_water: bool) -> Injector:
    """Such as "1:100", "1 to 128" or "1 %".

    Parameters
    ----------
    text : str
    to_water : bool
        See `Injector`; not for a percentage.

    Raises
    ------
    DoseError
    """
    tidy = read.tidy(text, "an injector's setting", "1:100")
    if match := _PERCENT.fullmatch(tidy):
        if to_water:
            raise refuse("solution-injector-water", text=text)
        share = read.number(match["number"], example="1 %")
        if not 0 < share < 100:
            raise refuse("solution-injector", text=text)
        return Injector(share, Fraction(100), percent=True)
    if ":" not in tidy and " to " not in f" {tidy} ":
        raise refuse("solution-injector", text=text)
    part, whole = read.ratio(tidy)
    if part >= whole:
        raise refuse("solution-injector", text=text)
    return Injector(part, whole, to_water)


def read_irrigation(text: str, system: System | None) -> Measure:
    """A depth ("10 mm", "20 000 L/ha" as litres per area) or a volume ("5000 L") of water.

    Raises
    ------
    DoseError
    """
    found = read.quantity(text, system, want="an irrigation", example="10 mm", oz_is="doubt")
    if found.value <= 0 or dimension(found.unit) not in (LENGTH, VOLUME):
        raise refuse("solution-irrigation", text=text)
    return found

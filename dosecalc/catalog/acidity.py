"""`Soil`: what a report says of acidity, sodium and texture, with how each was measured."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units import read

BUFFERS = ("Sikora", "SMP", "Adams-Evans", "Mehlich", "Woodruff", "NCDA")
"""Buffer tests by name: they read differently, so that a reading without its name says nothing."""
LIQUIDS = {"water": "water", "kcl": "KCl", "cacl2": "CaCl2"}
_PH = re.compile(r"(?:pH ?)?(?P<number>\S+)(?: in (?P<liquid>\S+))?", re.IGNORECASE)
_BUFFER = re.compile(r"(?P<name>[A-Za-z][A-Za-z-]*) (?:buffer )?(?:pH )?(?P<number>\S+)")
_CHARGE = re.compile(r"(?P<number>.+?) ?(?P<unit>meq/100 ?g|meq/100 ?cm3|cmolc?/kg|mmolc?/kg)")
_CHARGES = {
    "meq/100g": ("100 g", Fraction(1)),
    "meq/100cm3": ("100 cm3", Fraction(1)),
    "cmol/kg": ("100 g", Fraction(1)),
    "cmolc/kg": ("100 g", Fraction(1)),
    "mmol/kg": ("100 g", Fraction(1, 10)),
    "mmolc/kg": ("100 g", Fraction(1, 10)),
}
_PERCENT = re.compile(r"(?P<number>.+?) ?%")
_PPM = re.compile(r"(?P<number>.+?) ?(?:ppm|mg/kg)")


@dataclass(frozen=True, slots=True)
class SoilText:
    """A soil report as typed, None where nothing was said."""

    ph: str | None = None
    target_ph: str | None = None
    buffer: str | None = None
    acidity: str | None = None
    texture: str | None = None
    cec: str | None = None
    sodium: str | None = None
    target_sodium: str | None = None
    magnesium: str | None = None
    fizzes: str | None = None


@dataclass(frozen=True, slots=True)
class Charge:
    """An amount of charge in soil: `value` meq in each `per` ("100 g" or "100 cm3")."""

    value: Fraction
    per: str


@dataclass(frozen=True, slots=True)
class Soil:
    """What a soil report says.

    Parameters
    ----------
    ph, target_ph : Fraction or None
    ph_in : str
        The liquid that the pH was read in: "water", "KCl" or "CaCl2".
    ph_in_told : bool
        Whether that was said; else water is taken.
    buffer : (str, Fraction) or None
        Which buffer test, and its reading.
    acidity, cec : Charge or None
    texture : str or None
        In small letters.
    sodium, target_sodium : Fraction or None
        Exchangeable sodium percentage.
    magnesium : Fraction or None
        In ppm of the soil.
    fizzes : bool or None
        Whether it fizzes with vinegar.
    """

    ph: Fraction | None = None
    target_ph: Fraction | None = None
    ph_in: str = "water"
    ph_in_told: bool = False
    buffer: tuple[str, Fraction] | None = None
    acidity: Charge | None = None
    texture: str | None = None
    cec: Charge | None = None
    sodium: Fraction | None = None
    target_sodium: Fraction | None = None
    magnesium: Fraction | None = None
    fizzes: bool | None = None


def read_soil(text: SoilText) -> Soil:
    """Read a soil report.

    Raises
    ------
    DoseError
        For anything not wholly understood: a buffer reading without the name of the buffer, a
        lime index, a charge without its unit, a pH out of any soil's reach.
    """
    ph, liquid = (None, None) if text.ph is None else _ph(text.ph)
    target = None if text.target_ph is None else _ph(text.target_ph)[0]
    return Soil(
        ph=ph,
        target_ph=target,
        ph_in=liquid or "water",
        ph_in_told=liquid is not None,
        buffer=None if text.buffer is None else _buffer(text.buffer),
        acidity=None if text.acidity is None else _charge(text.acidity, "the acidity"),
        texture=None if text.texture is None else _texture(text.texture),
        cec=None if text.cec is None else _charge(text.cec, "the exchange capacity"),
        sodium=None if text.sodium is None else percent(text.sodium),
        target_sodium=None if text.target_sodium is None else percent(text.target_sodium),
        magnesium=None if text.magnesium is None else _ppm(text.magnesium),
        fizzes=None if text.fizzes is None else _yes(text.fizzes),
    )


def _ph(text: str) -> tuple[Fraction, str | None]:
    clean = read.tidy(text, "a pH", "5.8")
    match = _PH.fullmatch(clean)
    if match is None:
        raise refuse("liming-soil-ph", text=text)
    number = read.number(match["number"], example="5.8")
    if not 3 <= number <= 10:
        raise refuse("liming-soil-ph", text=text)
    liquid = match["liquid"]
    if liquid is not None and liquid.casefold() not in LIQUIDS:
        raise refuse("liming-soil-ph-liquid", text=text, liquid=liquid)
    return number, None if liquid is None else LIQUIDS[liquid.casefold()]


def _buffer(text: str) -> tuple[str, Fraction]:
    clean = read.tidy(text, "a buffer reading", "Sikora 6.0")
    if "index" in clean.casefold():
        raise refuse("liming-soil-index", text=text)
    match = _BUFFER.fullmatch(clean)
    if match is None:
        raise refuse("liming-soil-buffer-which", text=text, known=", ".join(BUFFERS))
    known = {name.casefold(): name for name in BUFFERS}
    name = known.get(match["name"].casefold())
    if name is None:
        raise refuse("liming-soil-buffer-which", text=text, known=", ".join(BUFFERS))
    number = read.number(match["number"], example="6.0")
    if number > 10:
        raise refuse("liming-soil-index", text=text)
    if number < 4:
        raise refuse("liming-soil-buffer-size", text=text)
    return name, number


def _charge(text: str, what: str) -> Charge:
    clean = read.tidy(text, what, "6.0 meq/100 g")
    match = _CHARGE.fullmatch(clean)
    if match is None:
        raise refuse("liming-soil-charge", text=text, what=what)
    per, times = _CHARGES[match["unit"].replace(" ", "")]
    number = read.number(match["number"], example="6.0") * times
    if number > 200:
        raise refuse("liming-soil-charge-size", text=text, what=what)
    return Charge(number, per)


def _texture(text: str) -> str:
    clean = read.tidy(text, "a texture", "sandy loam").casefold().replace("-", " ")
    return " ".join(clean.split())


def percent(text: str) -> Fraction:
    """A percentage up to 100, as its number."""
    match = _PERCENT.fullmatch(read.tidy(text, "a percentage", "15 %"))
    if match is None:
        raise refuse("liming-soil-percent", text=text)
    number = read.number(match["number"], example="15")
    if number > 100:
        raise refuse("liming-soil-percent", text=text)
    return number


def _ppm(text: str) -> Fraction:
    match = _PPM.fullmatch(read.tidy(text, "magnesium in the soil", "60 ppm"))
    if match is None:
        raise refuse("liming-soil-ppm", text=text)
    return read.number(match["number"], example="60")


def _yes(text: str) -> bool:
    word = text.strip().casefold()
    if word not in ("yes", "no"):
        raise refuse("liming-soil-fizzes", text=text)
    return word == "yes"

"""`Told`: what was said about crop, region, weather and the past; None where nothing was."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.crops import Crop, find_crop
from dosecalc.catalog.rules import weather_value
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import TIME

REGIONS = ("EU", "US", "UK", "CA", "AU", "NZ")
PHASES = ("establishing", "yearly")
SETTINGS = ("field", "garden", "turf", "container", "tree", "greenhouse", "ornamental")
DEFAULT_WATER = Fraction(10)
_YES_NO = ("in bloom", "frost", "sun", "drought")
_AFTER = re.compile(r"(.+?)[:,]? (\S+ days?)(?: ago)?")


@dataclass(frozen=True, slots=True)
class ToldText:
    """What was typed, as text."""

    crop: str | None = None
    region: str | None = None
    setting: str | None = None
    phase: str | None = None
    already: str | None = None
    after: tuple[str, ...] = ()
    sprayer_held: str | None = None
    water_temperature: str | None = None
    temperature: str | None = None
    humidity: str | None = None
    wind: str | None = None
    rain_in: str | None = None
    dry_in: str | None = None
    weather: str | None = None
    organic: bool = False


@dataclass(frozen=True, slots=True)
class Before:
    """One material that was applied here some days ago."""

    material: str
    days: Fraction


@dataclass(frozen=True, slots=True)
class Tested:
    """One figure of a soil or leaf test, as it was told and never interpreted.

    Parameters
    ----------
    matter : {"soil", "leaf"}
    element : str
        "" for a figure of no nutrient (pH).
    say : Say
        Figure, method, depth, laboratory.
    place : str
        What the ground was called when it was tested.
    day : str
    days : int
        How many days before today.
    """

    matter: str
    element: str
    say: Say
    place: str
    day: str
    days: int


@dataclass(frozen=True, slots=True)
class Past:
    """What the record of this bed adds to today's dose.

    Parameters
    ----------
    figures : tuple of (str, (Fraction, Fraction, Fraction))
        Id of a limit, and low, likely and high of what was given within its window over its
        basis, in the unit of the limit.
    counts : tuple of (str, int)
        Id of a limit, and how many applications lie in its window.
    since : tuple of Before
        How many days ago each material was last given.
    entries : int
        How many entries of the record were looked at.
    alike : int
        How many applications of the same recipe lie in the window that the recipe itself names.
    near : str
        Where no entry is on this bed: a bed of the record whose name is all but this one.
    means : tuple of (str, Fraction or None)
        Id of a limit, and the likely mean over ground that was merged, where the figures above are
        those of its highest part; None where the sizes of the parts are not known.
    place : str
        What the record calls the ground; "" where no record was read.
    tests : tuple of Tested
        Soil and leaf tests of that ground, the oldest first.
    said : tuple of Say
        What the record says beside figures: crops that stand, how the ground came about.
    """

    figures: tuple[tuple[str, tuple[Fraction, Fraction, Fraction]], ...] = ()
    counts: tuple[tuple[str, int], ...] = ()
    since: tuple[Before, ...] = ()
    entries: int = 0
    alike: int = 0
    near: str = ""
    means: tuple[tuple[str, Fraction | None], ...] = ()
    place: str = ""
    tests: tuple[Tested, ...] = ()
    said: tuple[Say, ...] = ()


@dataclass(frozen=True, slots=True)
class Told:
    """What was said, read.

    Parameters
    ----------
    crop : Crop or None
    region, setting, phase : str or None
    already : int
        How often this same dose was already given within the window of a limit.
    after : tuple of Before
    sprayer_held : str
        Material id that the sprayer last held, "" when not told.
    water : Fraction
        Temperature of the water in C.
    water_told : bool
    weather : tuple of (str, Fraction or None)
        Quantities in the unit of ``rules.weather_value``; None for yes.
    organic : bool
        Whether it is grown to organic rules.
    past : Past
        What the record says of this bed.
    """

    crop: Crop | None = None
    region: str | None = None
    setting: str | None = None
    phase: str | None = None
    already: int = 0
    after: tuple[Before, ...] = ()
    sprayer_held: str = ""
    water: Fraction = DEFAULT_WATER
    water_told: bool = False
    weather: tuple[tuple[str, Fraction | None], ...] = ()
    organic: bool = False
    past: Past = Past()


def _one_of(text: str | None, known: tuple[str, ...], option: str) -> str | None:
    if text is None:
        return None
    for word in known:
        if word.casefold() == text.strip().casefold():
            return word
    raise refuse("one-of", text=text[:60], option=option, known=", ".join(known))


def read_told(text: ToldText, material_id: dict[str, str]) -> Told:
    """Read what was typed.

    Parameters
    ----------
    text : ToldText
    material_id : dict
        Material ids of the names in `after` and `sprayer_held`, looked up by the caller.

    Raises
    ------
    DoseError
        For the first piece that cannot be read.
    """
    weather: list[tuple[str, Fraction | None]] = []
    for quantity, typed in (
        ("temperature", text.temperature), ("humidity", text.humidity), ("wind", text.wind),
        ("hours to rain", text.rain_in), ("hours to dry", text.dry_in),
    ):  # fmt: skip
        if typed is not None:
            weather.append((quantity, weather_value(quantity, typed)))
    for word in (text.weather or "").split(","):
        if word.strip():
            found = _one_of(word.strip(), _YES_NO, "--weather")
            weather.append((str(found), None))
    already = Fraction(0)
    if text.already is not None:
        already = read.number(text.already, example="2")
        if already.denominator != 1 or already > 1000:
            raise refuse(
                "site-count", text=text.already, option="--already", example="2", most=1000
            )
    water = DEFAULT_WATER
    if text.water_temperature is not None:
        water = read.temperature(text.water_temperature)
    return Told(
        crop=None if text.crop is None else find_crop(text.crop),
        region=_one_of(text.region, REGIONS, "--region"),
        setting=_one_of(text.setting, SETTINGS, "--setting"),
        phase=_one_of(text.phase, PHASES, "--phase"),
        already=int(already),
        after=tuple(_before(item, material_id) for item in text.after),
        sprayer_held="" if text.sprayer_held is None else material_id[text.sprayer_held],
        water=water,
        water_told=text.water_temperature is not None,
        weather=tuple(weather),
        organic=text.organic,
    )


def split_after(text: str) -> tuple[str, str]:
    """Split "horticultural oil 20 days" into the name and the time.

    Raises
    ------
    DoseError
        When it does not end with a number of days.
    """
    match = _AFTER.fullmatch(read.tidy(text, "a material and days", "horticultural oil 20 days"))
    if match is None:
        raise refuse("after-form", text=text[:80])
    return match[1], match[2]


def _before(text: str, material_id: dict[str, str]) -> Before:
    name, time = split_after(text)
    days = read.quantity(time, want="a time", example="20 days")
    if not days.is_a(TIME):
        raise refuse("after-form", text=text[:80])
    return Before(material_id[name], days.amount_in((("day", 1),)))

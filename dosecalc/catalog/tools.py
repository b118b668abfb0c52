"""What the grower holds: spoons, syringe, jug, scale, sprayer; each with its tolerance."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, LITER, MASS, ML, VOLUME, Measure, exact_text
from dosecalc.units.show import number_text
from dosecalc.units.spread import Factor
from dosecalc.units.words import SYSTEMS, System

SPOON_TOLERANCE = Fraction(5, 100)
"""Customary household measures may be off by 5 % of the marked capacity (productknowledge.com,
liquid measuring utensils: terminology and dimensions)."""
SYRINGE_TOLERANCE = Fraction(5, 100)
"""From memory of ISO 7886-1: 5 % of the delivered volume from half of the nominal upwards."""
HALF_BY_EYE = Fraction(15, 100)
"""A spoon filled half by eye: common practice, no source."""
SCALE_SHARE = Fraction(1, 1000)
"""Consumer scales often state 0.1 % of the load plus one display step (weighingreview.com, what
precision specifications mean for the consumer)."""
TRUSTED_STEPS = 20
"""A load of 20 steps errs by 5 % at one step (minimum weighable quantity, a pharmacy teaching
site, 2024)."""

SPOONS: dict[System, tuple[Unit, Unit]] = {
    "us": ((("tbsp_us", 1),), (("tsp_us", 1),)),
    "imperial": ((("tbsp_imp", 1),), (("tsp_imp", 1),)),
    "metric": ((("tbsp_metric", 1),), (("tsp_metric", 1),)),
    "australian": ((("tbsp_au", 1),), (("tsp_au", 1),)),
}
MOST_TANK = Measure(Fraction(100_000), LITER)
DEFAULT_JUG = Measure(Fraction(1), LITER)
NONE = "none"
MOST_SPOONS = 8


@dataclass(frozen=True, slots=True)
class ToolsText:
    """What was typed about the tools, None where nothing was said."""

    my_spoons: str | None = None
    spoons: str | None = None
    scale: str | None = None
    syringe: str | None = None
    jug: str | None = None
    sprayer: str | None = None
    bag: str | None = None
    weighed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Spoon:
    """One measuring spoon or cup: what it is called and what it holds level."""

    name: str
    size: Measure


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale: the step it reads to, and the most it carries (None when not told)."""

    step: Measure
    most: Measure | None = None

    @property
    def least(self) -> Measure:
        """The smallest load it can be trusted with."""
        return self.step * TRUSTED_STEPS

    def trusts(self, load: Measure) -> bool:
        """Whether a load is neither too small nor too heavy for it."""
        return self.least <= load and (self.most is None or load <= self.most)

    def factor(self, load: Measure) -> Factor:
        """Its error at this load: 0.1 % of the load plus one step."""
        share = SCALE_SHARE + self.step.amount_in(GRAM) / load.amount_in(GRAM)
        share = min(share, Fraction(99, 100))
        key = f"tool:scale {exact_text(self.step)}:{exact_text(load)}"
        return Factor(key, 1 - share, Fraction(1), 1 + share, ())


@dataclass(frozen=True, slots=True)
class OwnSpoon:
    """A grower's own weighed spoons of one material: grams in a marked millilitre.

    It stands in place of the material's density and of the spoon's own tolerance.
    """

    material: str
    factor: Factor


@dataclass(frozen=True, slots=True)
class Tools:
    """The tools at hand.

    Parameters
    ----------
    system : System
        Whose spoons they are.
    spoons_told : bool
        Whether spoons were told at all.
    spoons : tuple of Spoon
        Empty where there is none.
    scales : tuple of Scale
        Empty when no scale was told, or none is there.
    scale_told : bool
        Whether anything was said of scales; "none" is told too.
    syringe, jug : Measure or None
        Capacity; None where there is none.
    sprayer : Measure or None
        Usable volume of the sprayer, can or tank.
    output, along_row : Measure or None
        The sprayer's calibrated output per area and per length of row.
    bag : Measure or None
        Size of a bag of a loose material.
    own : tuple of OwnSpoon
    """

    system: System = "metric"
    spoons_told: bool = False
    spoons: tuple[Spoon, ...] = ()
    scales: tuple[Scale, ...] = ()
    scale_told: bool = False
    syringe: Measure | None = None
    jug: Measure | None = DEFAULT_JUG
    sprayer: Measure | None = None
    output: Measure | None = None
    along_row: Measure | None = None
    bag: Measure | None = None
    own: tuple[OwnSpoon, ...] = ()

    def spoon_factor(self) -> Factor:
        """The spoon's own size against its mark; one spoon used often is one factor."""
        return _either_way(f"tool:{self.system}-spoons", SPOON_TOLERANCE)

    def half_factor(self) -> Factor:
        """A spoon filled half by eye, against half a level one."""
        return _either_way("tool:half by eye", HALF_BY_EYE)

    def jug_factor(self) -> Factor:
        """The jug's own mark."""
        return _either_way("tool:jug", SPOON_TOLERANCE)

    def part_factor(self) -> Factor:
        """The measure with which a part of a batch or of a stock is taken."""
        return _either_way("tool:part", SPOON_TOLERANCE)

    def syringe_factor(self) -> Factor:
        """The syringe's own graduation."""
        return _either_way("tool:syringe", SYRINGE_TOLERANCE)

    def second_part_factor(self) -> Factor:
        """The measure with which a stock of the stock is made."""
        return _either_way("tool:second part", SPOON_TOLERANCE)

    def tank_factor(self) -> Factor:
        """The mark on the vessel that the liquid is made up in; it errs apart from the jug."""
        return _either_way("tool:tank", SPOON_TOLERANCE)

    def own_spoon(self, material: str) -> OwnSpoon | None:
        """The grower's own weighed spoons of a material, None where there are none."""
        return next((own for own in self.own if own.material == material), None)


def _either_way(key: str, share: Fraction) -> Factor:
    return Factor(key, 1 - share, Fraction(1), 1 + share, ())


def standard_spoons(system: System) -> tuple[Spoon, ...]:
    """Tablespoon and teaspoon of a measure system."""
    table, tea = SPOONS[system]
    return (
        Spoon("tablespoon", Measure(Fraction(1), table)),
        Spoon("teaspoon", Measure(Fraction(1), tea)),
    )


def read_tools(
    text: ToolsText,
    system: System | None = None,
    own: tuple[OwnSpoon, ...] = (),
    output: Measure | None = None,
    along_row: Measure | None = None,
) -> Tools:
    """Build `Tools` from typed text; refuses what cannot be read or is of no size.

    Parameters
    ----------
    text : ToolsText
    system : System or None
        Whose gallons a typed volume speaks.
    own : tuple of OwnSpoon
        Read by `read_own_spoon`, which needs the material looked up.
    output, along_row : Measure or None
        From a calibration that the garden file holds.
    """
    mine = spoon_system(text.my_spoons)
    spoons = _spoons(text.spoons, mine)
    sprayer = _volume(text.sprayer, system, "the size of a sprayer or can", "2 L")
    if sprayer is not None and (sprayer > MOST_TANK or sprayer < Measure(Fraction(1), ML)):
        raise refuse("tools-tank", text=text.sprayer, most=exact_text(MOST_TANK))
    jug = None if text.jug == NONE else _volume(text.jug, system, "the size of a jug", "1 L")
    if text.jug is None:
        jug = DEFAULT_JUG
    found = Tools(
        system=mine,
        spoons_told=text.my_spoons is not None or text.spoons is not None,
        spoons=spoons,
        scales=_scales(text.scale),
        scale_told=text.scale is not None,
        syringe=_volume(text.syringe, system, "the size of a syringe", "10 mL"),
        jug=jug,
        sprayer=sprayer,
        output=output,
        along_row=along_row,
        bag=_volume(text.bag, system, "a bag's volume", "50 L"),
        own=own,
    )
    if not (found.spoons or found.scales or found.syringe or found.jug):
        raise refuse("tools-nothing")
    return found


def spoon_system(text: str | None) -> System:
    """Whose spoons were named, metric ones where none were; refuses any other word."""
    if text is None:
        return "metric"
    for name in SYSTEMS:
        if text == name:
            return name
    raise refuse("tools-spoons", text=text, known=", ".join(SYSTEMS))


def _volume(text: str | None, system: System | None, want: str, example: str) -> Measure | None:
    if text is None or text == NONE:
        return None
    return read.positive(text, VOLUME, system, want=want, example=example, oz_is="doubt")


def _spoons(text: str | None, mine: System) -> tuple[Spoon, ...]:
    if text is None:
        return standard_spoons(mine)
    if text.strip() == NONE:
        return ()
    standard = standard_spoons(mine)
    found: list[Spoon] = []
    parts = text.split(",")
    if len(parts) > MOST_SPOONS:
        raise refuse("tools-many-spoons", text=text, most=MOST_SPOONS)
    for part in parts:
        size = read.positive(part, VOLUME, mine, want="a spoon's size", example="5 mL")
        name = next((s.name for s in standard if s.size.to(ML) == size.to(ML)), None)
        found.append(Spoon(name or f"{number_text(size, ML)} spoon", size))
    return tuple(found)


_SCALE = re.compile(r"(.+?) (?:to|up to) (.+)")


def _scales(text: str | None) -> tuple[Scale, ...]:
    """Such as "0.1 g" or "1 g to 5 kg"; several with a comma between."""
    if text is None or text.strip() == NONE:
        return ()
    found = []
    for part in text.split(","):
        match = _SCALE.fullmatch(part.strip())
        step = _mass(match[1] if match else part)
        most = _mass(match[2]) if match else None
        scale = Scale(step, most)
        if most is not None and most < scale.least:
            raise refuse("tools-scale", text=part, least=exact_text(scale.least))
        found.append(scale)
    return tuple(sorted(found, key=lambda scale: -scale.step.amount_in(GRAM)))


def _mass(text: str) -> Measure:
    return read.positive(text, MASS, want="a scale's step", example="0.1 g", oz_is="weight")


_NUMBER_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "twelve": 12, "twenty": 20,
}  # fmt: skip
_WEIGHED = re.compile(r"(\w+) level (.+?)s? weigh (.+)")


def read_own_spoon(text: str, material: str, system: System) -> OwnSpoon:
    """Read "ten level 5 mL spoons weigh 41 g" for one material.

    Parameters
    ----------
    text : str
        How many, which spoons, what they weigh together.
    material : str
        Material id.
    system : System
        Whose teaspoons and tablespoons they are.

    Raises
    ------
    DoseError
        When it cannot be read, or for fewer than five spoons, whose mean says little.
    """
    match = _WEIGHED.fullmatch(read.tidy(text, "weighed spoons", WEIGHED_EXAMPLE))
    if match is None:
        raise refuse("tools-weighed", text=text, example=WEIGHED_EXAMPLE)
    count = _NUMBER_WORDS.get(match[1])
    if count is None:
        number = read.number(match[1], example="10")
        count = int(number) if number.denominator == 1 else 0
    if not LEAST_WEIGHED <= count <= MOST_WEIGHED:
        raise refuse("tools-weighed-few", text=text, least=LEAST_WEIGHED, most=MOST_WEIGHED)
    spoon = match[2].removesuffix(" spoon")
    size = read.positive(
        spoon if spoon[0].isdigit() else f"1 {spoon}", VOLUME, system, want="a spoon's size",
        example="5 mL",
    )  # fmt: skip
    grams = read.positive(match[3], MASS, want="a weight", example="41 g", oz_is="weight")
    density = grams.amount_in(GRAM) / (size.amount_in(ML) * count)
    share = SPOON_TOLERANCE
    unit: Unit = (("gram", 1), ("mL", -1))
    factor = Factor(
        f"own-spoon:{material}", density * (1 - share), density, density * (1 + share), unit,
        "your own weighed spoons",
    )  # fmt: skip
    return OwnSpoon(material, factor)


LEAST_WEIGHED = 5
MOST_WEIGHED = 1000
WEIGHED_EXAMPLE = "ten level 5 mL spoons weigh 41 g"

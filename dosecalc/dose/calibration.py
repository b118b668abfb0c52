"""What calibration observes and finds: the kinds of observation, the result, how catches agree."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units import engine
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    AREA,
    GRAM_PER_M2,
    LENGTH,
    MASS,
    SECOND,
    TIME,
    VOLUME,
    Measure,
    exact_text,
)
from dosecalc.units.show import number_text, rounded, show

Kind = Literal["strip", "refill", "nozzle", "speed", "can", "spreader", "band"]

LITER_PER_HA: Unit = (("hectare", -1), ("liter", 1))
ML_PER_METER: Unit = (("mL", 1), ("meter", -1))
GRAM_PER_METER: Unit = (("gram", 1), ("meter", -1))
LITER_PER_MINUTE: Unit = (("liter", 1), ("minute", -1))
M2_PER_MINUTE: Unit = (("meter", 2), ("minute", -1))
KM_PER_HOUR: Unit = (("hour", -1), ("km", 1))

CATCHES_APART = Fraction(10, 100)
"""Most that repeated catches may lie apart, of their mean (common practice, no source)."""
NOZZLES_APART = Fraction(5, 100)
"""The same for nozzles. The source replaces a nozzle more than 5 % off the mean; held against
the whole way from lowest to highest, this is the stricter reading of it."""
NOZZLE_SOURCE = "alberta-agdex-606-1"
MOST_CATCHES = 100
# Beyond these a digit or a unit was mistyped: a mist and a decimetre of water, a pinch on a
# lawn and a muck heap, a snail and a gallop.
_REACH: dict[Unit, tuple[Fraction, Fraction]] = {
    LITER_PER_HA: (Fraction(1), Fraction(1_000_000)),
    ML_PER_METER: (Fraction(1, 100), Fraction(1_000_000)),
    GRAM_PER_M2: (Fraction(1, 1000), Fraction(100_000)),
    GRAM_PER_METER: (Fraction(1, 1000), Fraction(100_000)),
    KM_PER_HOUR: (Fraction(1, 100), Fraction(100)),
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """One kind of observation: what it is called and what it must measure.

    Dimensions are not enough here: 5 cm and 500 000 L/ha have the same one. So what stands
    above and below the stroke is looked at apart.

    Parameters
    ----------
    what : str
        In words, for a refusal ("the width of the strip").
    above, below : Unit
        The dimension above the stroke, and the one below it, () where there is none.
    example : str
        How it is written.
    many : str
        What several of them are called.
    again : str
        What to do for another one.
    """

    what: str
    above: tuple[Unit, ...]
    below: Unit
    example: str
    many: str = "catches"
    again: str = "catch again"

    def check(self, measure: Measure, text: str | None = None) -> Measure:
        """`measure` itself; refuses another kind, zero, and less than zero.

        Parameters
        ----------
        text : str or None
            How a person wrote it, for the refusal.
        """
        above = tuple((name, power) for name, power in measure.unit if power > 0)
        below = tuple((name, -power) for name, power in measure.unit if power < 0)
        written = text or exact_text(measure)
        if engine.dimension(above) not in self.above or engine.dimension(below) != self.below:
            raise refuse("calibrate-kind", text=written, want=self.what, example=self.example)
        if measure.value <= 0:
            raise refuse("calibrate-zero", text=written, want=self.what, example=self.example)
        return measure


def _plain(
    what: str,
    dimension: Unit,
    example: str,
    many: str = "catches",
    again: str = "catch again",
) -> Wanted:
    return Wanted(what, (dimension,), (), example, many, again)


CAUGHT = _plain("a caught volume", VOLUME, "400 mL")
REFILLED = _plain("the volume of a refill", VOLUME, "1.2 L", "refills", "spray and refill again")
EMPTIED = _plain("the volume that was poured out", VOLUME, "9 L", "pours", "pour again")
WEIGHED = _plain("a caught weight", MASS, "120 g")
WIDTH = _plain("the width", LENGTH, "1 m")
RUN = _plain("the length", LENGTH, "10 m", "lengths", "walk again")
DISTANCE = _plain("the distance walked", LENGTH, "100 m")
PLOT = _plain("the area", AREA, "10 m2")
CATCH_TIME = _plain("the time of a catch", TIME, "30 s")
WALK_TIME = _plain("the time of a walk", TIME, "90 s", "times", "walk again")
SPACING = _plain("the nozzle spacing", LENGTH, "50 cm")
SWATH = _plain("the swath", LENGTH, "1.2 m")
BAND_WIDTH = _plain("the band width", LENGTH, "25 cm")
ROW_SPACING = _plain("the row spacing", LENGTH, "75 cm")
TANK = _plain("the size of a filling", VOLUME, "15 L")
SPEED = Wanted("a walking speed", (LENGTH,), TIME, "4 km/h")
RATE = Wanted("a rate per area", (VOLUME, MASS), AREA, "2.5 kg/ha")
SPREAD_RATE = Wanted("a rate per area", (MASS,), AREA, "25 g/m2")


@dataclass(frozen=True, slots=True)
class Aim:
    """A spreader's output held against the rate that was wanted.

    Parameters
    ----------
    target : Measure
        The rate wanted [g/m2].
    due : Measure
        What one catch should have weighed [g].
    off : Fraction
        How far the output is off, of the target: 0.04 is 4 % too much.
    allowed : Fraction
        The most that `source` lets it be off, either way.
    source : str
        Id of the source.
    """

    target: Measure
    due: Measure
    off: Fraction
    allowed: Fraction
    source: str

    @property
    def held(self) -> bool:
        """Whether the output is inside what is allowed; just at the edge it is."""
        return abs(self.off) <= self.allowed


@dataclass(frozen=True, slots=True)
class Calibration:
    """What one set of catches says about a sprayer, can, spreader or pace.

    Parameters
    ----------
    kind : str
        By which method.
    catches : tuple of Measure
        As observed [mL, g or s], in the order given; lengths [m] where a known volume was let
        run out.
    mean : Measure or None
        Of the catches; None where nothing was caught (band).
    volume : Measure or None
        What was let run out, where lengths were observed [L].
    area, length : Measure or None
        The ground and the length of row that one catch stands for [m2, m].
    per_area : Measure or None
        Output on the ground that is treated [L/ha, or g/m2 for what is spread dry].
    per_length : Measure or None
        Output along the strip or row [mL/m or g/m].
    flow : Measure or None
        Output over time [L/min], of all nozzles that were caught.
    speed : Measure or None
        Walking speed [km/h].
    pace : Measure or None
        Ground covered over time [m2/min].
    band_share : Fraction or None
        Treated part of the ground: band width over row spacing.
    aim : Aim or None
        Against the wanted rate of a spreader.
    said : tuple of Say
        What must be said about the catches.
    """

    kind: Kind
    catches: tuple[Measure, ...]
    mean: Measure | None = None
    volume: Measure | None = None
    area: Measure | None = None
    length: Measure | None = None
    per_area: Measure | None = None
    per_length: Measure | None = None
    flow: Measure | None = None
    speed: Measure | None = None
    pace: Measure | None = None
    band_share: Fraction | None = None
    aim: Aim | None = None
    said: tuple[Say, ...] = ()

    @property
    def spread(self) -> Fraction:
        """How far the catches lie apart: (highest - lowest) / mean. Zero for one catch."""
        return spread_of(self.catches)

    @property
    def repeated(self) -> bool:
        """Whether there is more than one catch, so that `spread` means anything."""
        return len(self.catches) > 1

    @property
    def per_field(self) -> Measure | None:
        """Output over the whole field, the ground between the bands included."""
        if self.per_area is None or self.band_share is None:
            return None
        return self.per_area * self.band_share


@dataclass(frozen=True, slots=True)
class TankLoad:
    """How far one filling goes, and how much product it takes.

    Parameters
    ----------
    tank : Measure
        Volume of the filling.
    area : Measure or None
        Treated ground that it covers [m2].
    field : Measure or None
        Ground with bands that it covers, the ground between them included [m2].
    row : Measure or None
        Length of strip or row that it covers [m].
    product : Measure or None
        Amount for this filling of a product that goes by treated area.
    strength : Measure or None
        That product in the liquid [a weight or a volume for each volume].
    """

    tank: Measure
    area: Measure | None
    field: Measure | None
    row: Measure | None
    product: Measure | None
    strength: Measure | None


def percent_text(share: Fraction) -> str:
    """Such as "2.5 %": to a tenth, rounded up, so that nothing is shown as closer than it is."""
    text, _ = rounded(Fraction(-(-share * 1000 // 1), 10), digits=12)
    return f"{text} %"


def spread_of(catches: Sequence[Measure]) -> Fraction:
    """(highest - lowest) / mean of the catches, zero for one alone."""
    if len(catches) < 2:
        return Fraction(0)
    unit = catches[0].unit
    values = [each.amount_in(unit) for each in catches]
    return (max(values) - min(values)) * len(values) / sum(values)


def gather(
    wanted: Wanted,
    catches: Sequence[Measure],
    *,
    accept: bool,
    most: Fraction = CATCHES_APART,
) -> tuple[tuple[Measure, ...], Measure, tuple[Say, ...]]:
    """The catches, their mean, and what must be said about them.

    Raises
    ------
    DoseError
        For none, far too many, or any that are not `wanted`; and for catches that lie more
        than `most` apart, unless `accept`.
    """
    if not catches:
        raise refuse("calibrate-none", want=wanted.what, example=wanted.example)
    if len(catches) > MOST_CATCHES:
        raise refuse("calibrate-many", count=len(catches), many=wanted.many, most=MOST_CATCHES)
    kept = tuple(wanted.check(each) for each in catches)
    if len(kept) == 1:
        return kept, kept[0], (Say.of("calibrate-once", again=wanted.again.capitalize()),)
    unit = kept[0].unit
    values = [each.amount_in(unit) for each in kept]
    mean = Measure(sum(values, Fraction(0)) / len(values), unit)
    apart = spread_of(kept)
    told = {
        "many": wanted.many,
        "again": wanted.again,
        "apart": percent_text(apart),
        "most": percent_text(most),
    }
    if apart <= most:
        return kept, mean, (Say.of("calibrate-agree", **told),)
    if not accept:
        clock = SECOND if mean.is_a(TIME) else None
        low, high = (show(Measure(pick(values), unit), unit=clock).metric for pick in (min, max))
        raise refuse("calibrate-apart", low=low, high=high, **told)
    return kept, mean, (Say.of("calibrate-accepted", **told),)


def in_reach(found: Measure) -> Measure:
    """`found` itself; refuses what no sprayer, spreader or walker does."""
    low, high = _REACH[found.unit]
    if not low <= found.value <= high:
        raise refuse("calibrate-reach", found=number_text(found, found.unit))
    return found

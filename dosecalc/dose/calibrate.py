"""Calibration: what was caught, poured, weighed or timed becomes an output. All of it is exact.

Every method is one division: what came out, over the ground or the length of row that it came
out on. Fluid ounces on 1/128 acre are US gallons per acre, and millilitres on 10 m2 are litres
per hectare, because the units say so and not because a formula does.

How far repeated catches lie apart stays with the result: a mean of catches that do not agree is
refused unless the caller accepts it, and one catch alone is said to be one catch alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from dosecalc.dose.calibration import (
    BAND_WIDTH,
    CATCH_TIME,
    CAUGHT,
    DISTANCE,
    EMPTIED,
    GRAM_PER_METER,
    KM_PER_HOUR,
    LITER_PER_HA,
    LITER_PER_MINUTE,
    M2_PER_MINUTE,
    ML_PER_METER,
    NOZZLES_APART,
    PLOT,
    RATE,
    REFILLED,
    ROW_SPACING,
    RUN,
    SPACING,
    SPEED,
    SPREAD_RATE,
    SWATH,
    TANK,
    WALK_TIME,
    WEIGHED,
    WIDTH,
    Aim,
    Calibration,
    Kind,
    TankLoad,
    Wanted,
    gather,
    in_reach,
)
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    GRAM,
    GRAM_PER_M2,
    LITER,
    MASS,
    METER,
    SECOND,
    SQUARE_METER,
    Measure,
    exact_text,
)

TEN_M2 = Measure(Fraction(10), SQUARE_METER)
"""The plot on which millilitres caught are litres per hectare."""
ACRE_128TH = Measure(Fraction(1, 128), (("acre", 1),))
"""The plot on which US fluid ounces caught are US gallons per acre (340.3 sq ft)."""

SPREADER_OFF = Fraction(5, 100)
"""Most that a spreader may be off its target."""
SPREADER_SOURCE = "umass-rotary-spreader"
BAND_OFF = Fraction(10, 100)
"""Most that a granular band applicator may be off its target."""
BAND_SOURCE = "stewardship-band-applicators"

MOST_NOZZLES = 1000
MOST_PASSES = 20
_DRY: Unit = (("[length]", -2), ("[mass]", 1))


def strip(
    caught: Sequence[Measure], width: Measure, length: Measure, *, accept: bool = False
) -> Calibration:
    """What was caught in the time that a known strip takes.

    Parameters
    ----------
    caught : sequence of Measure
        Volume of each catch [mL]. From one nozzle of several, `width` is that nozzle's own.
    width : Measure
        Of what the caught nozzles cover [m].
    length : Measure
        Of the strip [m].
    accept : bool
        Take the mean of catches that lie too far apart.

    Raises
    ------
    DoseError
        For no catch, zero, another kind of measure, or catches too far apart.

    Examples
    --------
    A course of 102 ft on 40 in rows: 14 US fl oz caught are 14 US gallons per acre
    (lsu-ounces-gallons).
    """
    WIDTH.check(width)
    return _liquid("strip", CAUGHT, caught, [length], width, accept)


def refill(
    poured: Sequence[Measure],
    *,
    area: Measure | None = None,
    width: Measure | None = None,
    lengths: Sequence[Measure] = (),
    accept: bool = False,
) -> Calibration:
    """What refilled the tank after known ground, or how far a known volume went.

    Parameters
    ----------
    poured : sequence of Measure
        Volume of each refill [L]; one alone where each of several `lengths` used it up.
    area : Measure or None
        The ground that was sprayed [m2], or `width` and `lengths` [m] instead.
    accept : bool
        Take the mean of what lies too far apart.

    Raises
    ------
    DoseError
        As `strip`; and for the ground told twice, or not at all.

    Examples
    --------
    A 10 ft swath over 436 ft, refilled with 4 US gal: 40 US gal/acre (good-fruit-calibration).
    """
    if area is None:
        if width is None or not lengths:
            raise refuse("calibrate-ground")
        return _liquid("refill", REFILLED, poured, lengths, WIDTH.check(width), accept)
    if width is not None or lengths:
        raise refuse("calibrate-ground")
    ground = PLOT.check(area)
    catches, mean, said = gather(REFILLED, poured, accept=accept)
    rate = in_reach((mean / ground).to(LITER_PER_HA))
    return Calibration("refill", catches, mean, area=ground, per_area=rate, said=said)


def nozzle(
    caught: Sequence[Measure],
    time: Measure,
    speed: Measure,
    *,
    nozzles: int = 1,
    spacing: Measure | None = None,
    swath: Measure | None = None,
    accept: bool = False,
) -> Calibration:
    """What nozzles give in a known time, at a known walking speed.

    Parameters
    ----------
    caught : sequence of Measure
        Volume of each catch [mL].
    time : Measure
        Of each catch [s].
    speed : Measure
        Walking speed [km/h].
    nozzles : int
        How many nozzles each catch took in.
    spacing, swath : Measure or None
        Width of one nozzle, or of all that were caught [m]: one of the two.
    accept : bool
        Take the mean of catches that lie too far apart.

    Raises
    ------
    DoseError
        As `strip`, already above 5 %; and for the width told twice, or not at all.

    Examples
    --------
    480 US fl oz a minute on a 222 in swath at 5 miles an hour: 20 US gal/acre
    (albany-sprayer-calibration).
    """
    if not 1 <= nozzles <= MOST_NOZZLES:
        raise refuse("calibrate-count", what="the number of nozzles", most=MOST_NOZZLES)
    if swath is not None and spacing is None:
        width = SWATH.check(swath)
    elif spacing is not None and swath is None:
        width = SPACING.check(spacing) * nozzles
    else:
        raise refuse("calibrate-nozzle-width")
    walk = in_reach(SPEED.check(speed).to(KM_PER_HOUR))
    CATCH_TIME.check(time)
    catches, mean, said = gather(CAUGHT, caught, accept=accept, most=NOZZLES_APART)
    flow = mean / time
    return Calibration(
        "nozzle",
        catches,
        mean,
        per_area=in_reach((flow / (walk * width)).to(LITER_PER_HA)),
        per_length=in_reach((flow / walk).to(ML_PER_METER)),
        flow=flow.to(LITER_PER_MINUTE),
        speed=walk,
        pace=(walk * width).to(M2_PER_MINUTE),
        said=said,
    )


def ground_speed(
    distance: Measure, times: Sequence[Measure], *, accept: bool = False
) -> Calibration:
    """Walking speed over a known distance.

    Parameters
    ----------
    distance : Measure
        Of each walk [m].
    times : sequence of Measure
        Time of each walk [s].
    accept : bool
        Take the mean of times that lie too far apart.

    Examples
    --------
    100 m in 90 s are 4 km/h (turf-knapsack-calibration).
    """
    DISTANCE.check(distance)
    catches, mean, said = gather(WALK_TIME, times, accept=accept)
    speed = in_reach((distance / mean).to(KM_PER_HOUR))
    return Calibration("speed", catches, mean, length=distance, speed=speed, said=said)


def walking_time(distance: Measure, speed: Measure) -> Measure:
    """Time that `distance` [m] takes at `speed` [km/h], in seconds: to practise a pace by."""
    walk = in_reach(SPEED.check(speed).to(KM_PER_HOUR))
    return (DISTANCE.check(distance) / walk).to(SECOND)


def can(
    emptied: Sequence[Measure],
    lengths: Sequence[Measure],
    *,
    width: Measure | None = None,
    accept: bool = False,
) -> Calibration:
    """What a can gives along a length of row at one pace.

    Parameters
    ----------
    emptied : sequence of Measure
        Volume poured out in each walk [L]; one alone where a full can went several `lengths`.
    lengths : sequence of Measure
        Of row [m]; one alone where each of several volumes went along it.
    width : Measure or None
        Of the wetted strip [m]; without it there is no figure per area.
    accept : bool
        Take the mean of what lies too far apart.
    """
    return _liquid(
        "can", EMPTIED, emptied, lengths, None if width is None else WIDTH.check(width), accept
    )


def spreader(
    caught: Sequence[Measure],
    *,
    area: Measure | None = None,
    width: Measure | None = None,
    length: Measure | None = None,
    passes: int = 1,
    target: Measure | None = None,
    band: bool = False,
    accept: bool = False,
) -> Calibration:
    """What a spreader drops on a sheet or into a pan.

    Parameters
    ----------
    caught : sequence of Measure
        Weight of each catch [g].
    area : Measure or None
        Of the sheet or pan [m2], or `width` and `length` [m] instead.
    passes : int
        How often the ground will be gone over, where a catch is one pass.
    target : Measure or None
        The rate wanted [g/m2].
    band : bool
        A granular band applicator, which may be 10 % off and not 5 %.
    accept : bool
        Take the mean of catches that lie too far apart.

    Raises
    ------
    DoseError
        As `refill`.

    Examples
    --------
    5 lb for 1000 sq ft are wanted: 4.75 to 5.25 lb are taken (umass-rotary-spreader).
    """
    if not 1 <= passes <= MOST_PASSES:
        raise refuse("calibrate-count", what="the number of passes", most=MOST_PASSES)
    ground, run = _ground(area, width, length)
    catches, mean, said = gather(WEIGHED, caught, accept=accept)
    rate = in_reach((mean * passes / ground).to(GRAM_PER_M2))
    aim = None
    if target is not None:
        wanted = SPREAD_RATE.check(target).to(GRAM_PER_M2)
        aim = Aim(
            wanted,
            due_on(wanted, ground) / passes,
            (rate.value - wanted.value) / wanted.value,
            BAND_OFF if band else SPREADER_OFF,
            BAND_SOURCE if band else SPREADER_SOURCE,
        )
    if passes > 1:
        said = (*said, Say.of("calibrate-passes", passes=passes))
    along = None
    if band and run is not None:
        along = in_reach((mean * passes / run).to(GRAM_PER_METER))
    return Calibration(
        "spreader",
        catches,
        mean,
        area=ground,
        length=run,
        per_area=rate,
        per_length=along,
        aim=aim,
        said=said,
    )


def due_on(rate: Measure, area: Measure) -> Measure:
    """What `rate` [g/m2 or L/ha] comes to on `area` [m2]: what a sheet or pan should catch."""
    amount = RATE.check(rate) * PLOT.check(area)
    return amount.to(GRAM if amount.is_a(MASS) else LITER)


def band(rate: Measure, band_width: Measure, row_spacing: Measure) -> Calibration:
    """A rate on treated bands, and what it comes to over the whole field.

    Parameters
    ----------
    rate : Measure
        On the ground that is treated [L/ha or kg/ha].
    band_width : Measure
        Of the treated strip along each row [m].
    row_spacing : Measure
        Middle of row to middle of row [m].

    Raises
    ------
    DoseError
        For bands wider than their rows are apart.

    Examples
    --------
    3 lb/acre in 10 in bands on 30 in rows take 1 lb for each acre of crop (umn-herbicide-rates).
    """
    share = _share(band_width, row_spacing)
    per_area = RATE.check(rate)
    along = per_area * band_width
    if per_area.is_a(_DRY):
        per_area, along = per_area.to(GRAM_PER_M2), along.to(GRAM_PER_METER)
    else:
        per_area, along = per_area.to(LITER_PER_HA), along.to(ML_PER_METER)
    return Calibration(
        "band", (), per_area=in_reach(per_area), per_length=in_reach(along), band_share=share
    )


def on_bands(field_rate: Measure, band_width: Measure, row_spacing: Measure) -> Measure:
    """The rate on the bands [L/ha or g/m2] of a rate over the whole field; `band` goes back."""
    return RATE.check(field_rate) / _share(band_width, row_spacing)


def course(width: Measure, area: Measure) -> Measure:
    """How far to walk [m] with a swath of `width` [m] to cover `area` [m2].

    Examples
    --------
    340 sq ft with a swath of 20 in: 204 ft (lsu-ounces-gallons).
    """
    return (PLOT.check(area) / WIDTH.check(width)).to(METER)


def tank_load(found: Calibration, tank: Measure, rate: Measure | None = None) -> TankLoad:
    """How far a filling goes at this output, and the product it takes.

    Parameters
    ----------
    found : Calibration
        Of something that gives a liquid.
    tank : Measure
        Volume of the filling [L].
    rate : Measure or None
        Product for each treated area [L/ha or kg/ha].

    Raises
    ------
    DoseError
        For a tank of zero, an output that is no liquid, or a rate where the output per area
        is not known.

    Examples
    --------
    8 US fl oz/acre at 7.5 US gal/acre: 3.2 US fl oz in 3 US gal (ncsu-backpack-worksheet).
    """
    TANK.check(tank)
    output, along = found.per_area, found.per_length
    if output is not None and output.is_a(_DRY):
        raise refuse("calibrate-dry")
    if output is None and along is None:
        raise refuse("calibrate-no-output")
    area = None if output is None else (tank / output).to(SQUARE_METER)
    product = strength = None
    if rate is not None:
        if output is None or area is None:
            raise refuse("calibrate-no-area")
        product = due_on(rate, area)
        strength = product / tank.to(LITER)
    return TankLoad(
        tank,
        area,
        None if area is None or found.band_share is None else area / found.band_share,
        None if along is None else (tank / along).to(METER),
        product,
        strength,
    )


def _liquid(
    kind: Kind,
    wanted: Wanted,
    volumes: Sequence[Measure],
    lengths: Sequence[Measure],
    width: Measure | None,
    accept: bool,
) -> Calibration:
    """A liquid along a strip: several volumes on one length, or one volume on several."""
    if len(lengths) == 1:
        (length,) = (RUN.check(each) for each in lengths)
        catches, volume, said = gather(wanted, volumes, accept=accept)
    elif len(volumes) == 1:
        (volume,) = (wanted.check(each) for each in volumes)
        catches, length, said = gather(RUN, lengths, accept=accept)
    else:
        raise refuse("calibrate-both-vary")
    area = None if width is None else (width * length).to(SQUARE_METER)
    return Calibration(
        kind,
        catches,
        volume if len(lengths) == 1 else length,
        None if len(lengths) == 1 else volume,
        area,
        length,
        None if area is None else in_reach((volume / area).to(LITER_PER_HA)),
        in_reach((volume / length).to(ML_PER_METER)),
        said=said,
    )


def _ground(
    area: Measure | None, width: Measure | None, length: Measure | None
) -> tuple[Measure, Measure | None]:
    """The ground and the length along it, from an area or from width and length."""
    if area is not None and width is None and length is None:
        return PLOT.check(area), None
    if area is None and width is not None and length is not None:
        return (WIDTH.check(width) * RUN.check(length)).to(SQUARE_METER), length
    raise refuse("calibrate-ground")


def _share(band_width: Measure, row_spacing: Measure) -> Fraction:
    """Band width over row spacing, at most one."""
    width, spacing = BAND_WIDTH.check(band_width), ROW_SPACING.check(row_spacing)
    if spacing < width:
        raise refuse("site-band-wide", band=exact_text(width), spacing=exact_text(spacing))
    return (width / spacing).amount_in(())

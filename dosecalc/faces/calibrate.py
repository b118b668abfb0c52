"""``calibrate`` for people: what they typed read, a result as text, as JSON and as garden lines."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from dosecalc.catalog.lookup import source
from dosecalc.dose import dump
from dosecalc.dose.calibrate import ACRE_128TH, TEN_M2, course, ground_speed
from dosecalc.dose.calibration import (
    DISTANCE,
    GRAM_PER_METER,
    KM_PER_HOUR,
    LITER_PER_HA,
    LITER_PER_MINUTE,
    M2_PER_MINUTE,
    ML_PER_METER,
    NOZZLE_SOURCE,
    SPEED,
    WALK_TIME,
    Aim,
    Calibration,
    TankLoad,
    Wanted,
    percent_text,
)
from dosecalc.errors import refuse
from dosecalc.faces.job import read_system
from dosecalc.faces.wrap import section, wrap
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM_PER_M2, MASS, SECOND, TIME, Measure
from dosecalc.units.show import number_text, rounded, show, twelve_digits

_LABEL = 18
_LIQUID = ("strip", "refill", "nozzle", "can")
_DRY = (("[length]", -2), ("[mass]", 1))
_DRY_ROW = (("[length]", -1), ("[mass]", 1))


class Reader:
    """Reads the observations of one calibration, all in the measures of one country.

    Parameters
    ----------
    measures : str or None
        Whose gallons and fluid ounces were written, as typed.
    """

    def __init__(self, measures: str | None) -> None:
        self.system = read_system(measures)

    def one(self, wanted: Wanted, text: str) -> Measure:
        """One observation; refuses what is not of its kind, and zero."""
        measure = read.quantity(
            text,
            self.system,
            want=wanted.what,
            example=wanted.example,
            option="--measures",
            oz_is="weight" if wanted.above == (MASS,) else "doubt",
        )
        return wanted.check(measure, text)

    def maybe(self, wanted: Wanted, text: str | None) -> Measure | None:
        """One observation, None where nothing was written."""
        return None if text is None else self.one(wanted, text)

    def each(self, wanted: Wanted, texts: Sequence[str]) -> tuple[Measure, ...]:
        """Every observation of a repeated option."""
        return tuple(self.one(wanted, text) for text in texts)

    def pace(self, speed: str | None, distance: str | None, time: str | None) -> Measure:
        """A walking speed, written or from one timed walk."""
        if speed is not None and distance is None and time is None:
            return self.one(SPEED, speed)
        if speed is None and distance is not None and time is not None:
            walked = ground_speed(self.one(DISTANCE, distance), [self.one(WALK_TIME, time)]).speed
            assert walked is not None
            return walked
        raise refuse("calibrate-nozzle-speed")

    def count(self, text: str | None, what: str, most: int) -> int:
        """A whole number from 1 to `most`, 1 where nothing was written."""
        if text is None:
            return 1
        value = read.number(text, self.system, example="2")
        if value.denominator != 1 or not 1 <= value <= most:
            raise refuse("calibrate-count", what=what, most=most)
        return int(value)


def render(found: Calibration, load: TankLoad | None = None) -> str:
    """A result in metric and US units, at most 92 columns wide."""
    rows = [*_output(found), *_from(found)]
    if load is not None:
        rows += _load(found, load)
    rows += section("Take care", cautions(found))
    rows += section("Sources", [source(id).cite() for id in source_ids(found)])
    return "\n".join(rows)


def _output(found: Calibration) -> list[str]:
    rows = ["Speed" if found.kind == "speed" else "Output"]
    where = "on the bands" if found.kind == "band" else "on the ground"
    if found.per_area is not None:
        rows += _row(where, rate_text(found.per_area))
    if found.per_field is not None and found.band_share is not None:
        rows += _row("over the field", rate_text(found.per_field))
        share, _ = rounded(found.band_share * 100)
        rows += _row("bands take", f"{share} % of the ground")
    if found.per_length is not None:
        rows += _row(_along(found), along_text(found.per_length))
    if found.flow is not None:
        us = _per(found.flow, (("floz_us", 1), ("minute", -1)), 1, "US fl oz/min")
        rows += _row("over time", f"{number_text(found.flow, LITER_PER_MINUTE)} ({us})")
    if found.speed is not None:
        slow = number_text(found.speed, (("meter", 1), ("second", -1)))
        us = _per(found.speed, (("hour", -1), ("mile", 1)), 1, "mi/h")
        rows += _row("walking", f"{number_text(found.speed, KM_PER_HOUR)} = {slow} ({us})")
    if found.pace is not None:
        us = _per(found.pace, (("foot", 2), ("minute", -1)), 1, "sq ft/min")
        rows += _row("ground covered", f"{number_text(found.pace, M2_PER_MINUTE)} ({us})")
    return rows


def _along(found: Calibration) -> str:
    return "along the row" if found.kind in ("can", "band", "spreader") else "along the strip"


def _from(found: Calibration) -> list[str]:
    if found.mean is None:
        return []
    rows = ["From"]
    catches = ", ".join(_metric(each) for each in found.catches)
    if found.repeated:
        catches += f"; mean {_both(found.mean)}"
    rows += _row("observed", catches)
    if found.volume is not None:
        rows += _row("with", _both(found.volume))
    if found.area is not None:
        rows += _row("on", _both(found.area))
    if found.length is not None and found.volume is None:
        rows += _row("along", _both(found.length))
    rows += _fill(line.english() for line in found.said)
    if found.aim is not None:
        rows += _fill([aim_line(found.aim).english()])
    return rows


def _load(found: Calibration, load: TankLoad) -> list[str]:
    rows = [f"One filling of {_both(load.tank)}"]
    if load.area is not None:
        rows += _row("covers", _both(load.area))
    if load.field is not None:
        rows += _row("of field", _both(load.field))
    if load.row is not None:
        rows += _row(_along(found), _both(load.row))
    if load.product is not None and load.strength is not None:
        rows += _row("takes product", f"{_both(load.product)}, {_strength(load)} of liquid")
        rows += _fill([Say("calibrate-not-held").english()])
    return rows


def _strength(load: TankLoad) -> str:
    assert load.strength is not None
    above = "gram" if load.product is not None and load.product.is_a(MASS) else "mL"
    return number_text(load.strength, tuple(sorted(((above, 1), ("liter", -1)))))


def rate_text(rate: Measure) -> str:
    """An output per area: "405 L/ha = 40.5 mL/m2 (43.3 US gal/acre, ...)"."""
    if rate.is_a(_DRY):
        metric = (GRAM_PER_M2, (("hectare", -1), ("kg", 1)))
        weight: Unit = (("foot", -2), ("lb", 1))
        us = _per(rate, weight, 1000, "lb/1000 sq ft"), _per(rate, _ACRE_LB, 1, "lb/acre")
    else:
        metric = (LITER_PER_HA, (("mL", 1), ("meter", -2)))
        volume: Unit = (("foot", -2), ("gal_us", 1))
        us = (
            _per(rate, _ACRE_GAL, 1, "US gal/acre"),
            _per(rate, volume, 1000, "US gal/1000 sq ft"),
        )
    first, second = (number_text(rate, unit) for unit in metric)
    return f"{first} = {second} ({us[0]}, {us[1]})"


_ACRE_LB: Unit = (("acre", -1), ("lb", 1))
_ACRE_GAL: Unit = (("acre", -1), ("gal_us", 1))


def along_text(rate: Measure) -> str:
    """An output along the row: "40.5 mL/m (41.7 US fl oz/100 ft)"."""
    if rate.is_a(_DRY_ROW):
        us = _per(rate, (("foot", -1), ("oz", 1)), 100, "oz/100 ft")
        return f"{number_text(rate, GRAM_PER_METER)} ({us})"
    us = _per(rate, (("floz_us", 1), ("foot", -1)), 100, "US fl oz/100 ft")
    return f"{number_text(rate, ML_PER_METER)} ({us})"


def aim_line(aim: Aim) -> Say:
    """How far a spreader is off its target, with the source of what is taken."""
    if aim.off == 0:
        off = "exactly"
    else:
        off = f"{percent_text(abs(aim.off))} {'above' if aim.off > 0 else 'below'}"
    return Say.of(
        "calibrate-aim-held" if aim.held else "calibrate-aim-missed",
        off=off,
        target=number_text(aim.target, GRAM_PER_M2),
        allowed=percent_text(aim.allowed),
        source=source(aim.source).publisher,
        due=_both(aim.due),
    )


def render_course(width: Measure) -> str:
    """How far to walk at this swath so that what is caught needs no arithmetic."""
    lines = (
        Say.of(key, length=_both(course(width, plot))).english()
        for key, plot in (("calibrate-plot-metric", TEN_M2), ("calibrate-plot-us", ACRE_128TH))
    )
    return "\n".join(["Mark out", *_fill(lines)])


def course_json(width: Measure) -> str:
    """The same for scripts."""
    lengths = {"l_per_ha": course(width, TEN_M2), "us_gal_per_acre": course(width, ACRE_128TH)}
    return json.dumps({name: dump.quantity(length) for name, length in lengths.items()}, indent=1)


def render_time(distance: Measure, time: Measure) -> str:
    """The time that a distance takes at a pace, to practise the pace by."""
    return f"{_both(distance)} in {number_text(time, SECOND)}"


def time_json(distance: Measure, time: Measure) -> str:
    """The same for scripts."""
    return json.dumps({"distance": dump.quantity(distance), "time": dump.quantity(time)}, indent=1)


def cautions(found: Calibration) -> list[str]:
    """What to take care of while catching."""
    if found.kind in _LIQUID:
        return [Say("calibrate-care-liquid").english()]
    return [Say("calibrate-care-dry").english()] if found.kind == "spreader" else []


def source_ids(found: Calibration) -> list[str]:
    """Ids of the sources that the catches and the output were held against."""
    ids = [NOZZLE_SOURCE] if found.kind == "nozzle" and found.repeated else []
    return ids if found.aim is None else [*ids, found.aim.source]


def garden_lines(calibration: Calibration) -> dict[str, str]:
    """What a garden file keeps of a calibration, each as text that ``units.read`` reads back.

    Parameters
    ----------
    calibration : Calibration

    Returns
    -------
    dict of str to str
        `output` ("430 L/ha" or "25 g/m2"), `along_row` ("70 mL/m" or "12 g/m") and `spread`
        ("2.1 %", only of repeated catches); each only where it is known.
    """
    lines: dict[str, str] = {}
    if (rate := calibration.per_area) is not None:
        lines["output"] = number_text(rate, GRAM_PER_M2 if rate.is_a(_DRY) else LITER_PER_HA)
    if (along := calibration.per_length) is not None:
        unit = GRAM_PER_METER if along.is_a(_DRY_ROW) else ML_PER_METER
        lines["along_row"] = number_text(along, unit)
    if calibration.repeated and lines:
        lines["spread"] = percent_text(calibration.spread)
    return lines


def as_json(found: Calibration, load: TankLoad | None = None) -> str:
    """The same result for scripts; a figure that is not known is null."""
    said = [line.english() for line in found.said]
    if found.aim is not None:
        said.append(aim_line(found.aim).english())
    return json.dumps(
        {
            "kind": found.kind,
            "per_area": dump.quantity(found.per_area),
            "per_length": dump.quantity(found.per_length),
            "per_field": dump.quantity(found.per_field),
            "flow": dump.quantity(found.flow),
            "speed": dump.quantity(found.speed),
            "pace": dump.quantity(found.pace),
            "band_share": None if found.band_share is None else twelve_digits(found.band_share),
            "catches": [dump.quantity(each) for each in found.catches],
            "mean": dump.quantity(found.mean),
            "volume": dump.quantity(found.volume),
            "area": dump.quantity(found.area),
            "length": dump.quantity(found.length),
            "spread_percent": twelve_digits(found.spread * 100) if found.repeated else None,
            "aim": _aim_json(found.aim),
            "filling": _load_json(load),
            "said": said,
            "cautions": cautions(found),
            "sources": [dump.source(source(id)) for id in source_ids(found)],
        },
        indent=1,
        ensure_ascii=False,
    )


def _aim_json(aim: Aim | None) -> dict[str, Any] | None:
    if aim is None:
        return None
    return {
        "target": dump.quantity(aim.target),
        "due": dump.quantity(aim.due),
        "off_percent": twelve_digits(aim.off * 100),
        "allowed_percent": twelve_digits(aim.allowed * 100),
        "held": aim.held,
    }


def _load_json(load: TankLoad | None) -> dict[str, Any] | None:
    if load is None:
        return None
    names = ("tank", "area", "field", "row", "product", "strength")
    return {name: dump.quantity(getattr(load, name)) for name in names}


def _metric(measure: Measure) -> str:
    """Times of a walk or a catch are read off in seconds."""
    return show(measure, unit=SECOND if measure.is_a(TIME) else None).metric


def _both(measure: Measure) -> str:
    return show(measure, unit=SECOND if measure.is_a(TIME) else None).both()


def _per(measure: Measure, unit: Unit, many: int, label: str) -> str:
    """A US figure on `many` of what stands below the stroke: "0.994 US gal/1000 sq ft"."""
    text, _ = rounded(measure.amount_in(unit) * many)
    return f"{text} {label}"


def _row(label: str, text: str) -> list[str]:
    return wrap(text, f"  {label:<{_LABEL}}", " " * (_LABEL + 2))


def _fill(lines: Iterable[str]) -> list[str]:
    return [row for line in lines for row in wrap(line)]

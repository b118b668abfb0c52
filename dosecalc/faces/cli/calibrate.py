"""``dosecalc calibrate``: what was caught becomes an output per area and per length of row."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from dosecalc.dose.calibration import Calibration
    from dosecalc.faces.calibrate import Reader

Command = TypeVar("Command", bound=Callable[..., Any])
STRIP_EXAMPLE = (
    'Example: dosecalc calibrate strip --caught "400 mL" --caught "410 mL" --width "1 m"'
    ' --length "10 m" --tank "2 L"'
)


def _option(
    name: str, text: str, *, many: bool = False, required: bool = False
) -> Callable[[Command], Command]:
    return click.option(f"--{name}", metavar="TEXT", help=text, multiple=many, required=required)


def _shared(function: Command) -> Command:
    """Add what every method takes: whose measures, and JSON."""
    function = click.option("--json", "as_json", is_flag=True, help="print the result as JSON")(
        function
    )
    return _option("measures", "whose gal and fl oz these are: us, imperial, australian")(function)


def _keep(name: str) -> Callable[[click.Context, click.Parameter, str | None], None]:
    def note(context: click.Context, parameter: click.Parameter, value: str | None) -> None:
        context.meta[name] = value

    return note


def _saving(function: Command) -> Command:
    """Add what keeps a result in a garden file; read back from the context when printing."""
    function = click.option(
        "--sprayer-name", metavar="NAME", expose_value=False, callback=_keep("sprayer_name"),
        help="the sprayer of the garden file that --save keeps it for",
    )(function)  # fmt: skip
    return click.option(
        "--save", metavar="FILE", expose_value=False, callback=_keep("save"),
        help="keep the output in this garden file",
    )(function)  # fmt: skip


def _repeated(function: Command) -> Command:
    """Add what every method with catches takes besides."""
    return click.option("--accept", is_flag=True, help="take the mean although it varies too much")(
        _shared(function)
    )


def _filling(function: Command) -> Command:
    """Add what turns an output into a filling."""
    function = _option("rate", 'product for each treated area: "2.5 kg/ha", "8 fl oz/acre"')(
        function
    )
    return _saving(_option("tank", 'usable volume of one filling: "15 L"')(function))


def _print(
    found: Calibration, reader: Reader, as_json: bool, tank: str | None, rate: str | None
) -> None:
    from dosecalc.dose.calibrate import tank_load
    from dosecalc.dose.calibration import RATE, TANK
    from dosecalc.errors import refuse
    from dosecalc.faces import calibrate as face

    if rate is not None and tank is None:
        raise refuse("calibrate-rate-tank")
    load = None
    if tank is not None:
        load = tank_load(found, reader.one(TANK, tank), reader.maybe(RATE, rate))
    meta = click.get_current_context().meta
    if meta.get("save") is not None:
        from pathlib import Path

        from dosecalc.faces.garden_file import save_calibration
        from dosecalc.units.measure import exact_text

        save_calibration(
            Path(meta["save"]),
            meta.get("sprayer_name"),
            face.garden_lines(found),
            None if tank is None else exact_text(reader.one(TANK, tank)),
        )
    click.echo(face.as_json(found, load) if as_json else face.render(found, load))


@click.group(epilog=STRIP_EXAMPLE)
def command() -> None:
    """Turn what a sprayer, can or spreader gave into L/ha, mL/m and metres per filling.

    Catch at least twice with clean water; docs/calibrating.md says how.
    """


@command.command("strip", epilog=STRIP_EXAMPLE)
@_option("caught", 'each catch, in the time the strip takes: "400 mL"', many=True)
@_option("width", 'of what the caught nozzles cover: "1 m"', required=True)
@_option("length", 'of the strip: "10 m"')
@_filling
@_repeated
def strip(
    caught: tuple[str, ...], width: str, length: str | None, tank: str | None, rate: str | None,
    measures: str | None, accept: bool, as_json: bool,
) -> None:  # fmt: skip
    """Catch the spray for the time that a known strip takes.

    With --width alone it says how long a strip to mark out so that no arithmetic is needed.
    """
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import CAUGHT, RUN, WIDTH
    from dosecalc.errors import refuse
    from dosecalc.faces.calibrate import Reader, course_json, render_course

    reader = Reader(measures)
    wide = reader.one(WIDTH, width)
    if length is None:
        if caught or tank is not None or rate is not None:
            raise refuse("calibrate-strip-length")
        click.echo(course_json(wide) if as_json else render_course(wide))
        return
    found = calibrate.strip(
        reader.each(CAUGHT, caught), wide, reader.one(RUN, length), accept=accept
    )
    _print(found, reader, as_json, tank, rate)


@command.command(
    "refill",
    epilog='Example: dosecalc calibrate refill --refilled "1.2 L" --refilled "1.25 L"'
    ' --width "1.2 m" --length "25 m" --tank "15 L"',
)
@_option("refilled", 'what brought the tank back to its mark: "1.2 L"', many=True)
@_option("area", 'the ground sprayed each time: "30 m2"')
@_option("width", 'or its width: "1.2 m"')
@_option("length", 'and its length, or each that one volume reached: "25 m"', many=True)
@_filling
@_repeated
def refill(
    refilled: tuple[str, ...], area: str | None, width: str | None, length: tuple[str, ...],
    tank: str | None, rate: str | None, measures: str | None, accept: bool, as_json: bool,
) -> None:  # fmt: skip
    """Spray known ground with water and measure what refills the tank.

    Or spray a known volume (--refilled "1 L") and write each --length that it reached.
    """
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import PLOT, REFILLED, RUN, WIDTH
    from dosecalc.faces.calibrate import Reader

    reader = Reader(measures)
    found = calibrate.refill(
        reader.each(REFILLED, refilled),
        area=reader.maybe(PLOT, area),
        width=reader.maybe(WIDTH, width),
        lengths=reader.each(RUN, length),
        accept=accept,
    )
    _print(found, reader, as_json, tank, rate)


@command.command(
    "nozzle",
    epilog='Example: dosecalc calibrate nozzle --caught "450 mL" --caught "460 mL"'
    ' --time "30 s" --swath "1.2 m" --speed "4 km/h" --tank "15 L"',
)
@_option("caught", 'each catch: "450 mL"', many=True)
@_option("time", 'of each catch: "30 s"', required=True)
@_option("nozzles", "how many nozzles each catch took in; 1 if not told")
@_option("nozzle-spacing", 'from nozzle to nozzle: "50 cm"')
@_option("swath", 'or the width that the caught nozzles cover: "1.2 m"')
@_option("speed", 'walking speed: "4 km/h"')
@_option("distance", 'or a distance: "20 m"')
@_option("walk-time", 'and the time it took to walk: "18 s"')
@_filling
@_repeated
def nozzle(
    caught: tuple[str, ...], time: str, nozzles: str | None, nozzle_spacing: str | None,
    swath: str | None, speed: str | None, distance: str | None, walk_time: str | None,
    tank: str | None, rate: str | None, measures: str | None, accept: bool, as_json: bool,
) -> None:  # fmt: skip
    """Catch nozzles for a known time, at a known walking speed."""
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import CATCH_TIME, CAUGHT, SPACING, SWATH
    from dosecalc.faces.calibrate import Reader

    reader = Reader(measures)
    found = calibrate.nozzle(
        reader.each(CAUGHT, caught),
        reader.one(CATCH_TIME, time),
        reader.pace(speed, distance, walk_time),
        nozzles=reader.count(nozzles, "--nozzles", calibrate.MOST_NOZZLES),
        spacing=reader.maybe(SPACING, nozzle_spacing),
        swath=reader.maybe(SWATH, swath),
        accept=accept,
    )
    _print(found, reader, as_json, tank, rate)


@command.command(
    "speed",
    epilog='Examples: dosecalc calibrate speed --distance "20 m" --time "18 s" --time "18.5 s";'
    ' dosecalc calibrate speed --distance "20 m" --speed "4 km/h"',
)
@_option("distance", 'a measured distance: "20 m"', required=True)
@_option("time", 'each time it took: "18 s"', many=True)
@_option("speed", 'or a speed to practise: "4 km/h"')
@_repeated
def speed(
    distance: str, time: tuple[str, ...], speed: str | None, measures: str | None,
    accept: bool, as_json: bool,
) -> None:  # fmt: skip
    """Time a walk for its speed, or find the time a speed takes."""
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import DISTANCE, SPEED, WALK_TIME
    from dosecalc.errors import refuse
    from dosecalc.faces.calibrate import Reader, render_time, time_json

    reader = Reader(measures)
    far = reader.one(DISTANCE, distance)
    if (speed is None) != bool(time):
        raise refuse("calibrate-speed-what")
    if speed is not None:
        needed = calibrate.walking_time(far, reader.one(SPEED, speed))
        click.echo(time_json(far, needed) if as_json else render_time(far, needed))
        return
    found = calibrate.ground_speed(far, reader.each(WALK_TIME, time), accept=accept)
    _print(found, reader, as_json, None, None)


@command.command(
    "can",
    epilog='Example: dosecalc calibrate can --poured "9 L" --length "18 m" --length "17 m"'
    ' --width "30 cm" --tank "9 L"',
)
@_option("poured", 'what was poured out in each walk: "9 L"', many=True)
@_option("length", 'of row, or each that one canful reached: "18 m"', many=True, required=True)
@_option("width", 'of the wetted strip: "30 cm"')
@_filling
@_repeated
def can(
    poured: tuple[str, ...], length: tuple[str, ...], width: str | None, tank: str | None,
    rate: str | None, measures: str | None, accept: bool, as_json: bool,
) -> None:  # fmt: skip
    """Pour a can along a row: mL per metre, metres per canful."""
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import EMPTIED, RUN, WIDTH
    from dosecalc.faces.calibrate import Reader

    reader = Reader(measures)
    found = calibrate.can(
        reader.each(EMPTIED, poured),
        reader.each(RUN, length),
        width=reader.maybe(WIDTH, width),
        accept=accept,
    )
    _print(found, reader, as_json, tank, rate)


@command.command(
    "spreader",
    epilog='Example: dosecalc calibrate spreader --caught "102 g" --caught "98 g"'
    ' --width "2 m" --length "2 m" --target "25 g/m2"',
)
@_option("caught", 'each catch, weighed: "102 g"', many=True)
@_option("area", 'of the sheet or pan: "1 sq ft"')
@_option("width", 'or its width: "2 m"')
@_option("length", 'and its length: "2 m"')
@_option("passes", "how often the ground is gone over; 1 if not told")
@_option("target", 'the rate wanted in all: "25 g/m2", "5 lb/1000 sq ft"')
@click.option("--band", is_flag=True, help="a granular band applicator: 10 % off is taken, not 5 %")
@_repeated
def spreader(
    caught: tuple[str, ...], area: str | None, width: str | None, length: str | None,
    passes: str | None, target: str | None, band: bool, measures: str | None, accept: bool,
    as_json: bool,
) -> None:  # fmt: skip
    """Weigh what a hand spreader drops on a sheet or into a pan."""
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import PLOT, RUN, SPREAD_RATE, WEIGHED, WIDTH
    from dosecalc.faces.calibrate import Reader

    reader = Reader(measures)
    found = calibrate.spreader(
        reader.each(WEIGHED, caught),
        area=reader.maybe(PLOT, area),
        width=reader.maybe(WIDTH, width),
        length=reader.maybe(RUN, length),
        passes=reader.count(passes, "--passes", calibrate.MOST_PASSES),
        target=reader.maybe(SPREAD_RATE, target),
        band=band,
        accept=accept,
    )
    _print(found, reader, as_json, None, None)


@command.command(
    "band",
    epilog='Example: dosecalc calibrate band --on-band "400 L/ha" --band-width "25 cm"'
    ' --row-spacing "75 cm" --tank "15 L"',
)
@_option("on-band", 'rate on the treated strip: "400 L/ha", "3 lb/acre"')
@_option("on-field", 'or over the whole field: "133 L/ha"')
@_option("band-width", 'of the treated strip: "25 cm"', required=True)
@_option("row-spacing", 'middle of row to middle of row: "75 cm"', required=True)
@_filling
@_shared
def band(
    on_band: str | None, on_field: str | None, band_width: str, row_spacing: str,
    tank: str | None, rate: str | None, measures: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Turn a rate on the bands into the rate over the field, or back."""
    from dosecalc.dose import calibrate
    from dosecalc.dose.calibration import BAND_WIDTH, RATE, ROW_SPACING
    from dosecalc.errors import refuse
    from dosecalc.faces.calibrate import Reader

    reader = Reader(measures)
    wide, spacing = reader.one(BAND_WIDTH, band_width), reader.one(ROW_SPACING, row_spacing)
    if on_field is not None and on_band is None:
        treated = calibrate.on_bands(reader.one(RATE, on_field), wide, spacing)
    elif on_band is not None and on_field is None:
        treated = reader.one(RATE, on_band)
    else:
        raise refuse("calibrate-band-rate")
    _print(calibrate.band(treated, wide, spacing), reader, as_json, tank, rate)

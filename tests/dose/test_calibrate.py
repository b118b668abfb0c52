"""Calibration: laws that hold for any catch, refusals that name the way out, and its faces."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.dose import calibrate, calibration
from dosecalc.dose.calibration import Calibration
from dosecalc.errors import EXIT_REFUSED, DoseError
from dosecalc.faces import calibrate as face
from dosecalc.faces import cli
from dosecalc.faces.cli.calibrate import command
from dosecalc.faces.cli.table import COMMANDS
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, LITER, METER, ML, SECOND, SQUARE_METER, Measure

F = Fraction
PAGE = Path(__file__).parents[2] / "docs" / "calibrating.md"
FLOZ: Unit = (("floz_us", 1),)
GAL_PER_ACRE: Unit = (("acre", -1), ("gal_us", 1))


def q(text: str) -> Measure:
    return read.quantity(text, oz_is="weight")


def each(*texts: str) -> list[Measure]:
    return [q(text) for text in texts]


def known(measure: Measure | None) -> Measure:
    assert measure is not None
    return measure


def span(low: str, high: str) -> st.SearchStrategy[Fraction]:
    return st.fractions(F(low), F(high), max_denominator=1000)


widths = span("0.1", "3").map(lambda value: Measure(value, METER))
runs = span("1", "200").map(lambda value: Measure(value, METER))
volumes = span("0.1", "20").map(lambda value: Measure(value, LITER))
# Within a tenth of a litre: such catches agree, whatever their number.
alike = st.lists(span("1", "1.05"), min_size=1, max_size=8).map(
    lambda values: [Measure(value, LITER) for value in values]
)


# Laws


@given(alike, widths, runs, span("0.2", "5"))
def test_as_much_more_on_as_much_more_ground_is_the_same_output(
    caught: list[Measure], width: Measure, length: Measure, times: Fraction
) -> None:
    one = calibrate.strip(caught, width, length)
    more = calibrate.strip([each * times for each in caught], width, length * times)
    assert more.per_area == one.per_area
    assert more.per_length == one.per_length
    assert more.spread == one.spread
    wider = calibrate.strip(caught, width * times, length)
    assert known(wider.per_area).value * times == known(one.per_area).value
    assert wider.per_length == one.per_length


@given(alike.flatmap(lambda values: st.tuples(st.just(values), st.permutations(values))))
def test_the_order_of_the_catches_does_not_matter(
    pair: tuple[list[Measure], list[Measure]],
) -> None:
    one, other = (calibrate.strip(caught, q("1 m"), q("10 m")) for caught in pair)
    assert (one.mean, one.per_area, one.spread) == (other.mean, other.per_area, other.spread)
    assert one.said == other.said


@given(span("10", "100000"), widths)
def test_millilitres_on_ten_square_metres_are_litres_per_hectare(
    caught: Fraction, width: Measure
) -> None:
    length = calibrate.course(width, calibrate.TEN_M2)
    found = calibrate.strip([Measure(caught, ML)], width, length)
    assert found.per_area == Measure(caught, calibration.LITER_PER_HA)


@given(span("1", "10000"), widths)
def test_us_fluid_ounces_on_a_128th_of_an_acre_are_us_gallons_per_acre(
    caught: Fraction, width: Measure
) -> None:
    length = calibrate.course(width, calibrate.ACRE_128TH)
    found = calibrate.strip([Measure(caught, FLOZ)], width, length)
    assert known(found.per_area).amount_in(GAL_PER_ACRE) == caught


@given(alike, widths, span("1", "10"), span("5", "120"))
def test_a_nozzle_caught_while_walking_is_a_strip(
    caught: list[Measure], swath: Measure, speed: Fraction, seconds: Fraction
) -> None:
    walk = Measure(speed, calibration.KM_PER_HOUR)
    time = Measure(seconds, SECOND)
    found = calibrate.nozzle(caught, time, walk, swath=swath)
    same = calibrate.strip(caught, swath, (walk * time).to(METER))
    assert (found.per_area, found.per_length) == (same.per_area, same.per_length)
    by_spacing = calibrate.nozzle(caught, time, walk, nozzles=4, spacing=swath / 4)
    assert by_spacing.per_area == found.per_area
    back = calibrate.ground_speed(q("100 m"), [calibrate.walking_time(q("100 m"), walk)])
    assert back.speed == walk


@given(volumes, st.lists(span("20", "21"), min_size=1, max_size=6), widths)
def test_a_volume_that_runs_out_is_counted_over_all_the_ground_it_reached(
    volume: Measure, reached: list[Fraction], width: Measure
) -> None:
    lengths = [Measure(value, METER) for value in reached]
    found = calibrate.can([volume], lengths, width=width)
    total = volume * len(reached) / Measure(sum(reached, F(0)), METER)
    assert known(found.per_length) == total.to(calibration.ML_PER_METER)
    assert known(found.per_area) == (total / width).to(calibration.LITER_PER_HA)
    again = calibrate.refill([volume], width=width, lengths=lengths)
    assert (again.per_area, again.per_length) == (found.per_area, found.per_length)


@given(span("10", "5000"), span("0.05", "1"), span("1", "3"))
def test_field_and_band_lead_back_to_each_other_exactly(
    rate: Fraction, width: Fraction, spacing: Fraction
) -> None:
    sizes = Measure(width, METER), Measure(spacing, METER)
    on_band = Measure(rate, calibration.LITER_PER_HA)
    found = calibrate.band(on_band, *sizes)
    assert found.per_area == on_band
    assert found.band_share == width / spacing
    field = known(found.per_field)
    assert field.value == rate * width / spacing
    assert calibrate.on_bands(field, *sizes) == on_band
    # What stands along a metre of row is the same, however it is counted.
    assert known(found.per_length) == (field * sizes[1]).to(calibration.ML_PER_METER)


@given(alike, widths, runs, volumes, span("0.01", "50"))
def test_a_filling_covers_what_it_holds_and_carries_the_rate(
    caught: list[Measure], width: Measure, length: Measure, tank: Measure, kilos: Fraction
) -> None:
    found = calibrate.strip(caught, width, length)
    rate = Measure(kilos, (("hectare", -1), ("kg", 1)))
    load = calibrate.tank_load(found, tank, rate)
    area = known(load.area)
    assert (area * known(found.per_area)).amount_in(LITER) == tank.value
    assert (known(load.row) * known(found.per_length)).amount_in(LITER) == tank.value
    assert (known(load.product) / area).amount_in(rate.unit) == kilos
    assert (known(load.strength) * tank).amount_in(GRAM) == known(load.product).value
    assert load.field is None


@given(volumes, span("0.1", "1"))
def test_a_filling_goes_further_in_a_field_of_bands(tank: Measure, width: Fraction) -> None:
    found = calibrate.band(q("400 L/ha"), Measure(width, METER), q("1 m"))
    load = calibrate.tank_load(found, tank)
    assert known(load.field).value * width == known(load.area).value


@given(span("1", "1000"), span("0.1", "100"), span("0", "1"), st.booleans(), st.integers(1, 4))
def test_a_spreader_is_held_to_its_target_and_to_nothing_wider(
    target: Fraction, area: Fraction, off: Fraction, band: bool, passes: int
) -> None:
    wanted, sheet = Measure(target, calibration.GRAM_PER_M2), Measure(area, SQUARE_METER)
    allowed = F(1, 10) if band else F(1, 20)
    for share in (off / 5, -off / 5):
        caught = Measure(target * area * (1 + share) / passes, GRAM)
        found = calibrate.spreader([caught], area=sheet, target=wanted, band=band, passes=passes)
        aim = found.aim
        assert aim is not None
        assert aim.off == share
        assert aim.held is (abs(share) <= allowed)
        assert aim.due.amount_in(GRAM) * passes == target * area


@pytest.mark.parametrize("nozzles", [True, False])
@pytest.mark.parametrize("step", [F(0), F(1, 10**9), F(-1, 10**9)])
def test_catches_are_refused_just_above_what_is_taken_and_not_at_it(
    nozzles: bool, step: Fraction
) -> None:
    most = F(5, 100) if nozzles else F(10, 100)
    caught = [Measure(1 + side * (most + step) / 2, LITER) for side in (-1, 1)]

    def run(accept: bool) -> Calibration:
        if nozzles:
            return calibrate.nozzle(caught, q("1 min"), q("4 km/h"), swath=q("1 m"), accept=accept)
        return calibrate.strip(caught, q("1 m"), q("10 m"), accept=accept)

    taken = run(True)
    assert taken.spread == most + step
    if step <= 0:
        assert run(False) == taken
        assert [say.key for say in taken.said] == ["calibrate-agree"]
        return
    assert [say.key for say in taken.said] == ["calibrate-accepted"]
    with pytest.raises(DoseError, match="catch again") as caught_error:
        run(False)
    # The percentage is rounded up, so that it never reads like the limit itself.
    assert f"{float(most * 100) + 0.1:.1f} % apart" in str(caught_error.value)


def test_one_catch_is_said_to_be_one() -> None:
    found = calibrate.strip(each("400 mL"), q("1 m"), q("10 m"))
    assert (found.spread, found.repeated) == (0, False)
    assert [say.key for say in found.said] == ["calibrate-once"]
    assert "not known" in face.render(found)
    assert json.loads(face.as_json(found))["spread_percent"] is None


def test_a_sprayer_of_our_own_on_paper() -> None:
    """900 mL a minute at 4 km/h on 1.2 m: 0.9 / (66.667 x 1.2) x 10000 = 112.5 L/ha."""
    found = calibrate.nozzle(each("900 mL"), q("1 min"), q("4 km/h"), swath=q("1.2 m"))
    assert known(found.per_area).value == F("112.5")
    assert known(found.pace).value == 80


def test_the_same_backpack_with_another_tank_on_paper() -> None:
    """12 fl oz per acre at 7.5 gal/acre: 12 / 7.5 x 4 = 6.4 fl oz in 4 gal, on 4 / 7.5 acre."""
    found = calibrate.refill(each("7.5 US gal"), area=q("1 acre"))
    load = calibrate.tank_load(found, q("4 US gal"), q("12 US fl oz/acre"))
    assert known(load.product).amount_in(FLOZ) == F("6.4")
    assert known(load.area).amount_in((("acre", 1),)) == F(4) / F("7.5")


def test_the_sources_that_a_result_leans_on_are_there() -> None:
    for id in (calibration.NOZZLE_SOURCE, calibrate.SPREADER_SOURCE, calibrate.BAND_SOURCE):
        assert lookup.source(id).strong


# Refusals


M, TEN, HALF_MIN, WALK = q("1 m"), q("10 m"), q("30 s"), q("4 km/h")
ONE = each("400 mL")
STRIP = calibrate.strip(ONE, M, TEN)


@pytest.mark.parametrize(
    ("call", "key"),
    [
        (lambda: calibrate.strip([], M, TEN), "calibrate-none"),
        (lambda: calibrate.strip(ONE * 101, M, TEN), "calibrate-many"),
        (lambda: calibrate.strip(each("0 mL"), M, TEN), "calibrate-zero"),
        (lambda: calibrate.strip(each("400 mL", "0 mL"), M, TEN), "calibrate-zero"),
        (lambda: calibrate.strip(ONE, q("0 m"), TEN), "calibrate-zero"),
        (lambda: calibrate.strip(ONE, M, q("0 m")), "calibrate-zero"),
        (lambda: calibrate.strip(ONE, M, Measure(F(-1), METER)), "calibrate-zero"),
        (lambda: calibrate.strip(each("400 g"), M, TEN), "calibrate-kind"),
        (lambda: calibrate.strip(each("400 mL", "400 g"), M, TEN), "calibrate-kind"),
        (lambda: calibrate.strip(ONE, q("1 m2"), TEN), "calibrate-kind"),
        # A volume per area has the dimension of a length; it is none.
        (lambda: calibrate.strip(ONE, q("5 L/ha"), TEN), "calibrate-kind"),
        (lambda: calibrate.strip(each("1 kL"), M, TEN), "read-unit"),
        (lambda: calibrate.strip(each("40000 L"), M, TEN), "calibrate-reach"),
        (lambda: calibrate.strip(ONE, M, q("90 km")), "calibrate-reach"),
        (lambda: calibrate.refill(ONE), "calibrate-ground"),
        (lambda: calibrate.refill(ONE, width=M), "calibrate-ground"),
        (lambda: calibrate.refill(ONE, lengths=[TEN]), "calibrate-ground"),
        (lambda: calibrate.refill(ONE, area=q("9 m2"), width=M), "calibrate-ground"),
        (lambda: calibrate.refill(ONE, area=q("9 m2"), lengths=[TEN]), "calibrate-ground"),
        (lambda: calibrate.refill(ONE, area=q("0 m2")), "calibrate-zero"),
        (lambda: calibrate.refill(ONE * 2, width=M, lengths=[TEN] * 2), "calibrate-both-vary"),
        (lambda: calibrate.refill(each("1 L", "2 L"), area=q("9 m2")), "calibrate-apart"),
        (lambda: calibrate.nozzle(ONE, q("0 s"), WALK, swath=M), "calibrate-zero"),
        (lambda: calibrate.nozzle(ONE, HALF_MIN, q("0 km/h"), swath=M), "calibrate-zero"),
        (lambda: calibrate.nozzle(ONE, HALF_MIN, q("4 km"), swath=M), "calibrate-kind"),
        (lambda: calibrate.nozzle(ONE, HALF_MIN, q("400 km/h"), swath=M), "calibrate-reach"),
        (lambda: calibrate.nozzle(ONE, HALF_MIN, WALK), "calibrate-nozzle-width"),
        (
            lambda: calibrate.nozzle(ONE, HALF_MIN, WALK, swath=M, spacing=M),
            "calibrate-nozzle-width",
        ),
        (lambda: calibrate.nozzle(ONE, HALF_MIN, WALK, swath=M, nozzles=0), "calibrate-count"),
        (lambda: calibrate.ground_speed(TEN, []), "calibrate-none"),
        (lambda: calibrate.ground_speed(TEN, each("0 s")), "calibrate-zero"),
        (lambda: calibrate.ground_speed(TEN, each("9 s", "12 s")), "calibrate-apart"),
        (lambda: calibrate.ground_speed(q("10 m2"), each("9 s")), "calibrate-kind"),
        (lambda: calibrate.walking_time(TEN, q("0 km/h")), "calibrate-zero"),
        (lambda: calibrate.can(each("9 L"), []), "calibrate-none"),
        (lambda: calibrate.can(each("9 L"), each("18 m", "14 m")), "calibrate-apart"),
        (lambda: calibrate.can(each("9 L"), each("18 m"), width=q("0 cm")), "calibrate-zero"),
        (lambda: calibrate.spreader(each("9 mL"), area=q("1 m2")), "calibrate-kind"),
        (lambda: calibrate.spreader(each("9 g")), "calibrate-ground"),
        (lambda: calibrate.spreader(each("9 g"), area=q("1 m2"), passes=0), "calibrate-count"),
        (
            lambda: calibrate.spreader(each("9 g"), area=q("1 m2"), target=q("9 L/ha")),
            "calibrate-kind",
        ),
        (
            lambda: calibrate.spreader(each("9 g"), area=q("1 m2"), target=q("0 g/m2")),
            "calibrate-zero",
        ),
        (lambda: calibrate.band(q("5 cm"), M, TEN), "calibrate-kind"),
        (lambda: calibrate.band(q("9 L/ha"), TEN, M), "site-band-wide"),
        (lambda: calibrate.on_bands(q("9 L/ha"), TEN, M), "site-band-wide"),
        (lambda: calibrate.tank_load(STRIP, q("0 L")), "calibrate-zero"),
        (lambda: calibrate.tank_load(STRIP, q("2 kg")), "calibrate-kind"),
        (lambda: calibrate.tank_load(STRIP, q("2 L"), q("5 g/L")), "calibrate-kind"),
        (lambda: calibrate.tank_load(STRIP, q("2 L"), q("0 kg/ha")), "calibrate-zero"),
        (
            lambda: calibrate.tank_load(
                calibrate.can(each("9 L"), each("18 m")), q("9 L"), q("2 kg/ha")
            ),
            "calibrate-no-area",
        ),
        (
            lambda: calibrate.tank_load(calibrate.spreader(each("9 g"), area=q("1 m2")), q("9 L")),
            "calibrate-dry",
        ),
        (
            lambda: calibrate.tank_load(calibrate.ground_speed(TEN, each("9 s")), q("9 L")),
            "calibrate-no-output",
        ),
    ],
)
def test_a_refusal_is_one_sentence_with_a_way_out(call: Callable[[], object], key: str) -> None:
    with pytest.raises(DoseError) as caught:
        call()
    assert caught.value.say.key == key
    text = str(caught.value)
    assert ": " in text
    assert text.endswith(".")
    assert "{" not in text


@settings(max_examples=50)
@given(st.lists(span("0.01", "100"), min_size=1, max_size=5), widths, runs)
def test_any_catch_gives_a_result_or_a_refusal_of_its_own(
    caught: list[Fraction], width: Measure, length: Measure
) -> None:
    refusal = ""
    try:
        found = calibrate.strip([Measure(value, LITER) for value in caught], width, length)
    except DoseError as err:
        refusal = err.say.key
    else:
        assert found.spread <= F(1, 10)
        assert face.garden_lines(found)["output"].endswith(" L/ha")
    assert refusal in ("", "calibrate-apart", "calibrate-reach")


# Faces


def run(*words: str) -> Result:
    return CliRunner().invoke(command, words, standalone_mode=False)


def refused(*words: str) -> DoseError:
    done = run(*words)
    assert isinstance(done.exception, DoseError), done.output
    assert done.exception.exit_code == EXIT_REFUSED
    assert done.output == ""
    return done.exception


@pytest.mark.parametrize(
    ("caught", "needle"),
    [
        ("400", "without a unit"),
        ("", "Nothing was written"),
        ("lots", "no number"),
        ("-400 mL", "no number"),
        ("0 mL", "more than zero"),
        ("1,500 mL", "comma"),
        ("400-410 mL", "range"),
        ("400 mL or so", "not understood"),
        ("1/0 L", "below the line is zero"),
        ("13 oz", "by weight"),
        ("1 pint", "differs by country"),
        ("400 ppm", "ppm"),
        ("4e2 mL", "not known"),
        ("\uff14\uff10\uff10 mL", "no number"),
        ("400 g", "not a caught volume"),
        ("400 L/ha", "not a caught volume"),
        ("9" * 20 + " mL", "out of any reach"),
        ("400 mL" + " " * 300, "characters long"),
        ("400 mL; rm -rf /", "not known"),
        ("NaN L", "no number"),
    ],
)
def test_an_ugly_catch_is_refused(caught: str, needle: str) -> None:
    error = refused("strip", "--caught", caught, "--width", "1 m", "--length", "10 m")
    assert needle in str(error)


@pytest.mark.parametrize(
    ("line", "needle"),
    [
        ("strip --caught '1 L' --width '1 m'", "--length"),
        ("strip --width '1 m' --tank '2 L'", "--length"),
        ("strip --caught '1 L' --width '1 m' --length '0 m'", "more than zero"),
        ("strip --width '1 m' --length '9 m'", "400 mL"),
        ("strip --caught '1 L' --width '1 m' --length '9 m' --rate '1 kg/ha'", "--tank"),
        ("strip --caught '1 L' --width '1 m' --length '9 m' --tank '0 L'", "more than zero"),
        ("strip --caught '1 L' --caught '2 L' --width '1 m' --length '9 m'", "catch again"),
        ("strip --caught '9 fl oz' --width '1 m' --length '9 m'", "--measures"),
        ("strip --caught '9 fl oz' --width '1 m' --length '9 m' --measures yankee", "us"),
        ("refill --refilled '1 L' --area '9 m2' --width '1 m'", "--area"),
        ("nozzle --caught '1 L' --time '1 min' --swath '1 m'", "--speed"),
        (
            "nozzle --caught '1 L' --time '1 min' --swath '1 m' --speed '4 km/h' --distance '9 m'",
            "--speed",
        ),
        ("nozzle --caught '1 L' --time '0 s' --swath '1 m' --speed '4 km/h'", "more than zero"),
        (
            "nozzle --caught '1 L' --time '1 s' --swath '1 m' --speed '4 km/h' --nozzles 1.5",
            "whole number",
        ),
        ("speed --distance '20 m'", "--time"),
        ("speed --distance '20 m' --time '9 s' --speed '4 km/h'", "--speed"),
        ("can --poured '9 L' --poured '8 L' --length '9 m' --length '8 m'", "only one thing"),
        ("spreader --caught '9 g' --area '1 m2' --passes 0", "whole number"),
        ("spreader --caught '9 g' --area '1 m2' --target '9 L/ha'", "25 g/m2"),
        ("band --band-width '25 cm' --row-spacing '75 cm'", "--on-band"),
        ("band --on-band '4 L' --band-width '25 cm' --row-spacing '75 cm'", "rate per area"),
        ("band --on-band '4 L/ha' --band-width '80 cm' --row-spacing '75 cm'", "wider"),
        ("band --on-band '8 oz/acre' --band-width '25 cm' --row-spacing '75 cm'", "fl oz"),
    ],
)
def test_a_command_that_does_not_add_up_is_refused(line: str, needle: str) -> None:
    assert needle in str(refused(*shlex.split(line)))


def test_a_refusal_is_printed_alone_and_ends_with_two(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(COMMANDS, "calibrate", "Turn what was caught into an output.")
    words = ["strip", "--caught", "1 L", "--caught", "2 L", "--width", "1 m", "--length", "9 m"]
    monkeypatch.setattr("sys.argv", ["dosecalc", "calibrate", *words])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    assert ended.value.code == EXIT_REFUSED
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith("dosecalc: the catches run from 1 L to 2 L, 66.7 % apart")
    assert shown.err.count("\n") == 1


PRINTED = re.findall(r"^\$ (dosecalc calibrate .+)\n((?:(?!\$ |```).*\n)*)", PAGE.read_text(), re.M)


def test_the_page_for_growers_shows_every_method() -> None:
    assert {line.split()[2] for line, _ in PRINTED} == set(command.commands)


@pytest.mark.parametrize(("line", "printed"), PRINTED)
def test_the_page_for_growers_shows_what_is_printed(line: str, printed: str) -> None:
    done = run(*shlex.split(line)[2:])
    if isinstance(done.exception, DoseError):
        assert printed == f"dosecalc: {done.exception}\n"
    else:
        assert done.exception is None
        assert done.output == printed


@pytest.mark.parametrize(("line", "printed"), PRINTED)
def test_what_is_printed_is_narrow_and_in_both_systems(line: str, printed: str) -> None:
    if printed.startswith("dosecalc: "):
        return
    assert max(map(len, printed.splitlines())) <= 92
    assert re.search(r"US gal|US fl oz|mi/h|lb/acre|ft\)", printed)


@pytest.mark.parametrize("name", sorted(command.commands))
def test_every_method_works_as_its_help_shows(name: str) -> None:
    method = command.commands[name]
    epilog = method.epilog or ""
    lines = re.sub(r"^Examples?: *", "", epilog).split(";")
    for line in lines:
        words = shlex.split(line)
        assert words[:3] == ["dosecalc", "calibrate", name]
        assert run(*words[2:]).exception is None
        done = run(*words[2:], "--json")
        assert done.exception is None
        assert isinstance(json.loads(done.output), dict)
        assert done.output == run(*words[2:], "--json").output


@pytest.mark.parametrize(
    ("line", "same"),
    [
        # 20 m in 18 s are 4 km/h.
        (
            "nozzle --caught '1 L' --time '1 min' --swath '1 m' --distance '20 m'"
            " --walk-time '18 s'",
            "nozzle --caught '1 L' --time '1 min' --swath '1 m' --speed '4 km/h'",
        ),
        (
            "nozzle --caught '1 L' --time '1 min' --swath '1 m' --speed '4 km/h'",
            "nozzle --caught '1 L' --time '1 min' --nozzles 2 --nozzle-spacing '50 cm'"
            " --speed '4 km/h'",
        ),
        (
            "band --on-field '100 L/ha' --band-width '25 cm' --row-spacing '75 cm'",
            "band --on-band '300 L/ha' --band-width '25 cm' --row-spacing '75 cm'",
        ),
        (
            "strip --caught '14 fl oz' --width '40 in' --length '102 ft' --measures us",
            "strip --caught '14 US fl oz' --width '40 in' --length '102 ft'",
        ),
    ],
)
def test_two_ways_to_say_the_same(line: str, same: str) -> None:
    one, other = (run(*shlex.split(words), "--json") for words in (line, same))
    assert one.exception is None
    assert one.output == other.output


def test_accepted_catches_are_said_to_vary() -> None:
    done = run(
        *shlex.split("strip --caught '1 L' --caught '2 L' --width '1 m' --length '9 m' --accept")
    )
    assert done.exception is None
    assert "66.7 % apart, more than the 10 % that is taken" in " ".join(done.output.split())


def test_json_says_what_the_text_says() -> None:
    words = shlex.split(
        "spreader --caught '110 g' --caught '104 g' --width '2 m' --length '2 m'"
        " --target '25 g/m2' --passes 1 --json"
    )
    data = json.loads(run(*words).output)
    assert data["kind"] == "spreader"
    assert data["per_area"] == {"value": 26.75, "unit": "g/m2"}
    assert data["per_length"] is None
    assert data["aim"]["off_percent"] == 7
    assert data["aim"]["held"] is False
    assert "change the setting and catch again" in data["said"][-1]
    assert [each["id"] for each in data["sources"]] == ["umass-rotary-spreader"]


def test_two_passes_are_said() -> None:
    found = calibrate.spreader(each("50 g"), area=q("4 m2"), passes=2, target=q("25 g/m2"))
    assert known(found.per_area).value == 25
    text = face.render(found)
    assert "all 2 passes" in text
    assert "exactly the 25 g/m2" in text
    assert "should weigh 50 g" in text


def test_a_product_in_a_filling_is_said_to_be_held_against_nothing() -> None:
    load = calibrate.tank_load(STRIP, q("2 L"), q("2.5 L/ha"))
    text = face.render(STRIP, load)
    assert "12.5 mL (2.54 US tsp), 6.25 mL/L of liquid" in text
    assert "held against nothing" in text


@pytest.mark.parametrize(
    ("found", "lines"),
    [
        (
            calibrate.strip(each("426 mL", "434 mL"), q("0.163 m"), q("61.5 m"), accept=True),
            {"output": "429 L/ha", "along_row": "6.99 mL/m", "spread": "1.9 %"},
        ),
        (STRIP, {"output": "400 L/ha", "along_row": "40 mL/m"}),
        (
            calibrate.can(each("9 L"), each("18 m", "17 m")),
            {"along_row": "514 mL/m", "spread": "5.8 %"},
        ),
        (
            calibrate.spreader(each("100 g"), width=q("25 cm"), length=q("16 m"), band=True),
            {"output": "25 g/m2", "along_row": "6.25 g/m"},
        ),
        (calibrate.ground_speed(q("20 m"), each("18 s", "18.5 s")), {}),
    ],
)
def test_the_garden_file_keeps_output_row_and_spread(
    found: Calibration, lines: dict[str, str]
) -> None:
    assert face.garden_lines(found) == lines
    for name, rate in (("output", found.per_area), ("along_row", found.per_length)):
        if name in lines:
            kept = read.quantity(lines[name])
            assert abs(kept.amount_in(known(rate).unit) / known(rate).value - 1) <= F(5, 1000)

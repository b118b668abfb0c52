"""The closed unit list against printed figures, and against pint's own list where that is right."""

from __future__ import annotations

import importlib.util
import re
import shutil
from fractions import Fraction
from pathlib import Path
from types import ModuleType

import pint
import pytest

from dosecalc.errors import DoseError
from dosecalc.units import engine, read, words
from dosecalc.units.engine import Unit

DEFINITIONS = Path(engine.__file__).with_name("definitions.txt")

SI9 = "SI Brochure, 9th edition (BIPM, 2019; from memory)"
FR2020 = "Deprecation of the US survey foot, 85 FR 62698 (NIST and NOAA, 2020)"
HB44 = "NIST Handbook 44, Appendix C, General Tables of Units of Measurement"
HB44_MEMORY = f"{HB44} (from memory)"
DATA = "units definitions data file 3.22 (Free Software Foundation, 2024; cites NIST SP 447, HB44)"
WMA = "Weights and Measures Act 1985, Schedule 1 (United Kingdom)"
HK87 = "Weights and Measures Ordinance, Ord. No. 54/87 (Hong Kong, 1987)"
HK91 = "Hong Kong Year Book 1991, appendix on weights and measures"
ILLINOIS = "Illinois Administrative Code title 8, part 600, table D"
SP430 = "NIST SP 430, Household Weights and Measures"
NSW = "Conversion chart: metric cup and spoon sizes (New South Wales government)"
ISO31 = "gallon, concept page quoting ISO 31 and the statute"
STARRED = "Volume conversion factors, exact ones starred"
PEACE = "Soils, Crops and Fertilizer Use (Peace Corps, 1986)"
KENTUCKY = "Pesticides calculations for homeowners (University of Kentucky)"
HANDBOOK = "a handbook for vegetable growers (2nd edition, 1980), as quoted with its table"
INCH = "What is an inch of water, extension article (2024)"
UMASS = "Rotary Spreader Calibration Procedures (UMass Extension)"
CFR = "21 CFR 101.9(b)(5)(viii), US nutrition labels, as quoted by the UCUM organisation"
ARITHMETIC = "worked by hand from two definitions above"
JULIAN = "Julian year of 365.25 days (International Astronomical Union; from memory)"


def unit(text: str) -> Unit:
    """`unit("kg/meter2")` is the engine's own form of it."""
    powers: dict[str, int] = {}
    for place, part in enumerate(text.split("/")):
        match = re.fullmatch(r"([A-Za-z_]+)(\d?)", part)
        assert match is not None, text
        powers[match[1]] = int(match[2] or 1) * (-1 if place else 1)
    return tuple(sorted(powers.items()))


# (entry, unit, printed, in what, where it is printed); every figure is exact as printed
EXACT = [
    ("unit-inch-foot-international", "inch", "2.54", "cm", FR2020),
    ("unit-inch-foot-international", "inch", "0.0254", "meter", FR2020),
    ("unit-inch-foot-international", "foot", "0.3048", "meter", FR2020),
    ("unit-inch-foot-international", "yard", "0.9144", "meter", FR2020),
    ("unit-acre-international", "acre", "43560", "foot2", DATA),
    ("unit-acre-international", "acre", "4840", "yard2", DATA),
    ("unit-acre-international", "acre", "10", "chain2", DATA),
    ("unit-acre-international", "acre", "160", "rod2", DATA),
    ("unit-acre-international", "acre", "4046.8564224", "meter2", DATA),
    ("unit-acre-international", "acre", "0.40468564224", "hectare", DATA),
    ("unit-rod-chain", "rod", "16.5", "foot", DATA),
    ("unit-rod-chain", "rod", "5.0292", "meter", DATA),
    ("unit-rod-chain", "chain", "66", "foot", DATA),
    ("unit-rod-chain", "chain", "20.1168", "meter", DATA),
    ("unit-mile", "mile", "5280", "foot", HB44_MEMORY),
    ("unit-mile", "mile", "1609.344", "meter", HB44_MEMORY),
    ("unit-are-hectare", "are", "100", "meter2", WMA),
    ("unit-are-hectare", "hectare", "100", "are", WMA),
    ("unit-are-hectare", "hectare", "10000", "meter2", WMA),
    ("unit-us-gallon", "gal_us", "231", "inch3", HB44),
    ("unit-us-gallon", "gal_us", "3.785411784", "liter", ISO31),
    ("unit-us-quart-pint-cup", "gal_us", "4", "qt_us", DATA),
    ("unit-us-quart-pint-cup", "gal_us", "8", "pt_us", DATA),
    ("unit-us-quart-pint-cup", "gal_us", "16", "cup_us", DATA),
    ("unit-us-quart-pint-cup", "qt_us", "0.946352946", "liter", DATA),
    ("unit-us-quart-pint-cup", "pt_us", "0.473176473", "liter", DATA),
    ("unit-us-quart-pint-cup", "cup_us", "236.5882365", "mL", DATA),
    ("unit-us-fluid-ounce", "gal_us", "128", "floz_us", DATA),
    ("unit-us-fluid-ounce", "cup_us", "8", "floz_us", ILLINOIS),
    ("unit-us-fluid-ounce", "floz_us", "29.5735295625", "mL", DATA),
    ("unit-us-tablespoon-teaspoon", "floz_us", "2", "tbsp_us", DATA),
    ("unit-us-tablespoon-teaspoon", "cup_us", "16", "tbsp_us", DATA),
    ("unit-us-tablespoon-teaspoon", "tbsp_us", "3", "tsp_us", DATA),
    ("unit-us-tablespoon-teaspoon", "tbsp_us", "14.78676478125", "mL", DATA),
    ("unit-us-tablespoon-teaspoon", "tsp_us", "4.92892159375", "mL", DATA),
    ("unit-us-dry-measures", "bushel_us", "2150.42", "inch3", HB44),
    ("unit-us-dry-measures", "bushel_us", "4", "peck_us", HB44),
    ("unit-us-dry-measures", "bushel_us", "32", "dryqt_us", HB44),
    ("unit-us-dry-measures", "bushel_us", "64", "drypt_us", HB44),
    ("unit-us-dry-measures", "dryqt_us", "67.200625", "inch3", HB44),
    ("unit-us-dry-measures", "bushel_us", "35.23907016688", "liter", HB44),
    ("unit-us-dry-measures", "dryqt_us", "1.101220942715", "liter", HB44),
    ("unit-us-dry-measures", "drypt_us", "0.5506104713575", "liter", HB44),
    ("unit-imperial-gallon", "gal_imp", "4.54609", "liter", HK87),
    ("unit-imperial-gallon", "gal_imp", "4.54609", "liter", WMA),
    ("unit-imperial-quart-pint-floz", "gal_imp", "4", "qt_imp", HK87),
    ("unit-imperial-quart-pint-floz", "gal_imp", "8", "pt_imp", HK87),
    ("unit-imperial-quart-pint-floz", "pt_imp", "20", "floz_imp", HK87),
    ("unit-imperial-quart-pint-floz", "gal_imp", "160", "floz_imp", HK87),
    ("unit-imperial-quart-pint-floz", "qt_imp", "1.1365225", "liter", HK87),
    ("unit-imperial-quart-pint-floz", "pt_imp", "0.56826125", "liter", HK87),
    ("unit-imperial-quart-pint-floz", "floz_imp", "28.4130625", "mL", HK87),
    ("unit-imperial-bushel", "bushel_imp", "8", "gal_imp", DATA),
    ("unit-imperial-bushel", "bushel_imp", "36.36872", "liter", DATA),
    ("unit-imperial-spoons", "tbsp_imp", "15", "mL", DATA),
    ("unit-imperial-spoons", "tbsp_imp", "3", "tsp_imp", DATA),
    ("unit-imperial-cup", "pt_imp", "2", "cup_imp", DATA),
    ("unit-imperial-cup", "cup_imp", "284.130625", "mL", DATA),
    ("unit-metric-spoons", "tsp_metric", "5", "mL", SP430),
    ("unit-metric-spoons", "tbsp_metric", "15", "mL", SP430),
    ("unit-australian-spoons-cups", "tsp_au", "5", "mL", NSW),
    ("unit-australian-spoons-cups", "tbsp_au", "20", "mL", NSW),
    ("unit-australian-spoons-cups", "tbsp_au", "4", "tsp_au", NSW),
    ("unit-australian-spoons-cups", "cup_au", "250", "mL", NSW),
    ("unit-metric-cup", "cup_metric", "250", "mL", DATA),
    ("unit-pound-ounce", "lb", "0.45359237", "kg", HK87),
    ("unit-pound-ounce", "lb", "453.59237", "gram", DATA),
    ("unit-pound-ounce", "lb", "16", "oz", HK87),
    ("unit-pound-ounce", "oz", "28.349523125", "gram", DATA),
    ("unit-hundredweight", "cwt_imp", "112", "lb", HK87),
    ("unit-hundredweight", "cwt_us", "100", "lb", DATA),
    ("unit-hundredweight", "cwt_imp", "50.80234544", "kg", HK87),
    ("unit-hundredweight", "cwt_us", "45.359237", "kg", DATA),
    ("unit-tons", "ton_us", "2000", "lb", ILLINOIS),
    ("unit-tons", "ton_imp", "2240", "lb", WMA),
    ("unit-tons", "tonne", "1000", "kg", WMA),
    ("unit-tons", "ton_us", "907.18474", "kg", DATA),
    ("unit-tons", "ton_imp", "1016.0469088", "kg", HK91),
    ("unit-cubic-foot-yard", "foot3", "28.316846592", "liter", STARRED),
    ("unit-cubic-foot-yard", "yard3", "27", "foot3", STARRED),
    ("unit-cubic-foot-yard", "foot3", "0.028316846592", "meter3", STARRED),
    ("unit-cubic-foot-yard", "yard3", "0.764554857984", "meter3", STARRED),
    ("conv-kg-ha-to-g-m2", "kg/hectare", "0.1", "gram/meter2", SI9),
    ("conv-kg-ha-to-g-m2", "tonne/hectare", "100", "gram/meter2", SI9),
    ("conv-inch-of-water", "inch", "25.4", "liter/meter2", INCH),
    ("conv-inch-of-water", "mm", "1", "liter/meter2", INCH),
    ("si-prefix", "um", "0.000001", "meter", SI9),
    ("si-prefix", "mm", "0.001", "meter", SI9),
    ("si-prefix", "cm", "0.01", "meter", SI9),
    ("si-prefix", "km", "1000", "meter", SI9),
    ("si-litre", "liter", "0.001", "meter3", SI9),
    ("si-prefix", "uL", "0.000001", "liter", SI9),
    ("si-prefix", "mL", "0.001", "liter", SI9),
    ("si-prefix", "mL", "1", "cm3", SI9),
    ("si-prefix", "cL", "0.01", "liter", SI9),
    ("si-prefix", "dL", "0.1", "liter", SI9),
    ("si-prefix", "hL", "100", "liter", SI9),
    ("si-prefix", "ug", "0.000001", "gram", SI9),
    ("si-prefix", "mg", "0.001", "gram", SI9),
    ("si-prefix", "kg", "1000", "gram", SI9),
    ("si-tonne", "tonne", "1000", "kg", SI9),
    ("si-time", "minute", "60", "second", SI9),
    ("si-time", "hour", "60", "minute", SI9),
    ("si-time", "day", "24", "hour", SI9),
    ("calendar", "week", "7", "day", SI9),
    ("calendar", "year", "365.25", "day", JULIAN),
    ("calendar", "year", "12", "month", JULIAN),
]

# (entry, how many, of unit, printed, in what, where): right to half the last printed digit
ROUNDED = [
    ("conv-lb-acre-to-kg-ha", "1", "lb/acre", "1.12", "kg/hectare", PEACE),
    ("conv-lb-acre-to-kg-ha", "1", "lb/acre", "1.120851", "kg/hectare", ARITHMETIC),
    ("conv-gpa-to-l-ha", "1", "gal_us/acre", "9.354", "liter/hectare", ARITHMETIC),
    ("conv-gpa-to-l-ha", "1", "gal_imp/acre", "11.2336", "liter/hectare", ARITHMETIC),
    ("conv-lb-per-100gal", "0.01", "lb/gal_us", "1.198", "gram/liter", KENTUCKY),
    ("conv-lb-per-100gal", "0.01", "lb/gal_us", "1.198264", "gram/liter", ARITHMETIC),
    ("conv-lb-per-100gal", "0.01", "lb/gal_us", "0.16", "oz/gal_us", KENTUCKY),
    ("conv-lb-per-100gal", "0.01", "lb/gal_us", "4.5", "gram/gal_us", KENTUCKY),
    ("conv-ppm-oz-100gal", "0.01", "oz/gal_us", "75", "mg/liter", HANDBOOK),
    ("conv-ppm-oz-100gal", "0.01", "oz/gal_us", "74.89", "mg/liter", ARITHMETIC),
    ("conv-inch-of-water", "1", "inch", "0.623", "gal_us/foot2", INCH),
    ("conv-inch-of-water", "1", "inch", "0.62", "gal_us/foot2", INCH),
    ("conv-inch-of-water", "1", "inch", "2.3597", "liter/foot2", ARITHMETIC),
    ("conv-1000ft2-100ft2", "1000", "foot2", "92.90304", "meter2", UMASS),
    ("conv-1000ft2-100ft2", "43.56", "foot2", "0.001", "acre", UMASS),
    ("unit-imperial-bushel", "1", "bushel_imp", "1.032", "bushel_us", HB44),
    ("amb-gallon", "1", "gal_imp", "1.20095", "gal_us", HK91),
    ("amb-pint-quart", "1", "pt_imp", "1.20095", "pt_us", HK91),
    ("amb-pint-quart", "1", "dryqt_us", "1.16365", "qt_us", HK91),
    ("amb-pint-quart", "1", "pt_us", "0.473176", "liter", HK91),
    ("amb-pint-quart", "1", "drypt_us", "0.550610", "liter", HK91),
    ("amb-pint-quart", "1", "pt_imp", "0.568261", "liter", HK91),
    ("amb-fluid-ounce", "1", "floz_imp", "0.960760", "floz_us", DATA),
]

# (entry, printed size, in what, where): measures that exist and are none of ours
FOREIGN_SIZES = [
    ("unit-survey-foot", "0.3048006096", "meter", FR2020),
    ("unit-acre-survey", "4046.87260987", "meter2", DATA),
    ("unit-rod-chain (link)", "0.201168", "meter", DATA),
    ("unit-are-hectare (decare)", "1000", "meter2", WMA),
    ("unit-manzana", "7000", "meter2", PEACE),
    ("unit-us-food-label-measures (fluid ounce)", "30", "mL", CFR),
    ("unit-us-food-label-measures (cup)", "240", "mL", CFR),
    ("unit-us-food-label-measures (ounce)", "28", "gram", CFR),
    ("unit-imperial-spoons (old tablespoon)", "17.7581640625", "mL", DATA),
    ("unit-imperial-spoons (old teaspoon)", "4.439541", "mL", DATA),
    ("unit-metric-cup (Japan)", "200", "mL", DATA),
    ("unit-troy-ounce", "31.1034768", "gram", ILLINOIS),
    ("unit-hk-catty", "604.78982", "gram", HK87),
    ("unit-hk-catty (China)", "500", "gram", HK87),
    ("amb-gallon (US dry)", "4.4049", "liter", HK91),
]

FOREIGN_WORDS = [
    "survey foot", "survey acre", "link", "links", "decare", "manzana", "teacup", "catty", "tael",
    "stone", "troy oz", "troy ounce", "dry gal", "US dry gal", "Japanese cup", "dram", "grain",
    "drop", "dash", "pinch", "handful", "gill", "minim", "furlong", "hand", "kilogallon", "Mg",
    "hkg", "milligallon", "kilofoot", "dag", "nm", "ML", "M", "K", "C", "c",
]  # fmt: skip


@pytest.mark.parametrize(("entry", "one", "printed", "of", "source"), EXACT)
def test_each_unit_is_exactly_what_is_printed(entry, one, printed, of, source):
    assert engine.factor(unit(one), unit(of)) == Fraction(printed), f"{entry}: {source}"


@pytest.mark.parametrize(("entry", "count", "one", "printed", "of", "source"), ROUNDED)
def test_each_rounded_figure_agrees_to_its_last_digit(entry, count, one, printed, of, source):
    half = Fraction(1, 2 * 10 ** len(printed.partition(".")[2]))
    got = Fraction(count) * engine.factor(unit(one), unit(of))
    assert abs(got - Fraction(printed)) <= half, f"{entry}: {source}"


def test_1000_square_feet_is_a_43_56th_of_an_acre():
    assert engine.factor(unit("acre"), unit("foot2")) / 1000 == Fraction("43.56"), UMASS


def test_the_list_holds_60_units_or_more_once_each():
    names = engine.unit_names()
    assert len(names) >= 60
    assert len(set(names)) == len(names)


def test_every_unit_has_a_printed_figure_above():
    base = {"meter", "gram", "second", "kelvin", "plant", "pot", "count"}
    temperatures = {"degC", "degF"}  # readings, not sizes: tested with their own figures
    told = {
        re.sub(r"\d$", "", text) for row in EXACT for text in re.split("/", row[1] + "/" + row[3])
    }
    assert set(engine.unit_names()) == told | base | temperatures


def test_every_definition_names_its_source():
    lines = [line for line in DEFINITIONS.read_text("utf-8").splitlines() if "=" in line]
    bare = [
        line for line in lines if not line.startswith("#") and not line.partition("#")[2].strip()
    ]
    assert len(lines) > 60
    assert bare == []


@pytest.mark.parametrize(("entry", "printed", "of", "source"), FOREIGN_SIZES)
def test_no_unit_has_the_size_of_a_look_alike(entry, printed, of, source):
    dim = engine.dimension(unit(of))
    sizes = {
        (name, power): engine.factor(((name, power),), unit(of))
        for name in engine.unit_names()
        for power in (1, 2, 3)
        if engine.dimension(((name, power),)) == dim
    }
    assert len(sizes) > 5
    half = Fraction(1, 2 * 10 ** len(printed.partition(".")[2])) if "." in printed else 0
    near = [name for name, size in sizes.items() if abs(size - Fraction(printed)) <= half]
    assert near == [], f"{entry}: {source}"


@pytest.mark.parametrize("word", FOREIGN_WORDS)
def test_a_word_outside_the_list_is_refused(word):
    for system in (None, *words.SYSTEMS):
        with pytest.raises(DoseError, match="is not known"):
            read.quantity(f"1 {word}", system)


@pytest.mark.parametrize("name", ["kilogram", "feet", "furlong", "litre", "milligallon", "gallon"])
def test_the_engine_makes_no_prefix_plural_or_stock_unit(name):
    with pytest.raises(AttributeError, match="is not defined"):
        engine.dimension(((name, 1),))


def test_every_spelling_names_a_unit_and_every_unit_has_a_spelling():
    named = set(words.FIXED.values())
    named |= {name for sizes in words.VARYING.values() for name in sizes.values()}
    named |= {"oz"}  # read by its own rule: it may be a fluid ounce
    assert named | {"kelvin", "degC", "degF"} == set(engine.unit_names())
    assert {name for form in words.SHORT_FORMS.values() for name, _ in form} <= named


def test_a_word_is_either_fixed_or_varying():
    assert set(words.FIXED) & set(words.VARYING) == set()


# The fixed points of the two scales; -40 is where they meet. From memory.
TEMPERATURES = [("32", "0"), ("212", "100"), ("-40", "-40"), ("50", "10"), ("68", "20")]


@pytest.mark.parametrize(("fahrenheit", "celsius"), TEMPERATURES)
def test_temperature_scales_meet_at_their_fixed_points(fahrenheit, celsius):
    up, down = Fraction(fahrenheit), Fraction(celsius)
    assert engine.convert_temperature(up, "degF", "degC") == down
    assert engine.convert_temperature(down, "degC", "degF") == up


def test_zero_celsius_is_273_15_kelvin():
    assert engine.convert_temperature(Fraction(0), "degC", "kelvin") == Fraction("273.15"), SI9


# ---------------------------------------------------------------- pint's own list as an oracle

# our name: pint's name. Not in pint's list: metric, Australian and present British spoons, two
# cups, plants and pots. Different there: acre, rod, chain (tested below).
SAME_IN_PINT = {
    "meter": "meter", "um": "micrometer", "mm": "millimeter", "cm": "centimeter",
    "km": "kilometer", "inch": "inch", "foot": "foot", "yard": "yard", "mile": "mile",
    "are": "are", "hectare": "hectare", "liter": "liter", "uL": "microliter",
    "mL": "milliliter", "cL": "centiliter", "dL": "deciliter", "hL": "hectoliter",
    "gal_us": "gallon", "qt_us": "quart", "pt_us": "pint", "cup_us": "cup",
    "floz_us": "fluid_ounce", "tbsp_us": "tablespoon", "tsp_us": "teaspoon",
    "bushel_us": "bushel", "peck_us": "peck", "dryqt_us": "dry_quart", "drypt_us": "dry_pint",
    "gal_imp": "imperial_gallon", "qt_imp": "imperial_quart", "pt_imp": "imperial_pint",
    "floz_imp": "imperial_fluid_ounce", "cup_imp": "imperial_cup",
    "bushel_imp": "imperial_bushel", "gram": "gram", "ug": "microgram", "mg": "milligram",
    "kg": "kilogram", "tonne": "metric_ton", "lb": "pound", "oz": "ounce",
    "cwt_us": "hundredweight", "cwt_imp": "long_hundredweight", "ton_us": "ton",
    "ton_imp": "long_ton", "second": "second", "minute": "minute", "hour": "hour", "day": "day",
    "week": "week", "year": "year", "month": "month",
}  # fmt: skip

# our name: (its size here, what pint's survey-foot definition makes of it over ours)
OTHER_IN_PINT = {
    "acre": (Fraction("4046.8564224"), "1.000004"),
    "rod": (Fraction("5.0292"), "1.000002"),
    "chain": (Fraction("20.1168"), "1.000002"),
}


@pytest.fixture(scope="module")
def stock() -> pint.UnitRegistry:
    return pint.UnitRegistry(non_int_type=Fraction)


def _in_base(name: str) -> tuple[Unit, Fraction]:
    """The SI unit (metre, gram, second) of our `name`, and the exact size in it."""
    base = {"[length]": "meter", "[mass]": "gram", "[time]": "second"}
    si = tuple((base[dim], power) for dim, power in engine.dimension(((name, 1),)))
    return si, engine.factor(((name, 1),), si)


def _stock_size(stock: pint.UnitRegistry, name: str, si: Unit) -> Fraction:
    wanted = stock.UnitsContainer({one: Fraction(power) for one, power in si})
    return stock.Quantity(Fraction(1), name).to(wanted).magnitude


@pytest.mark.parametrize(("ours", "theirs"), SAME_IN_PINT.items())
def test_pint_s_own_list_agrees(stock, ours, theirs):
    si, size = _in_base(ours)
    assert size == _stock_size(stock, theirs, si)


@pytest.mark.parametrize("name", OTHER_IN_PINT)
def test_pint_s_own_list_still_has_the_retired_survey_measures(stock, name):
    size, ratio = OTHER_IN_PINT[name]
    si, ours = _in_base(name)
    stocked = _stock_size(stock, name, si)
    assert ours == size, FR2020
    assert stocked != ours
    assert abs(stocked / ours - Fraction(ratio)) <= Fraction(1, 2 * 10**6), DATA


# ---------------------------------------------------------------- redefinition


def _engine_on(folder: Path) -> ModuleType:
    """A second engine with empty memories that reads its definitions from `folder`."""
    spec = importlib.util.spec_from_file_location("second_engine", engine.__file__)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    module.files = lambda _package: folder
    return module


@pytest.mark.parametrize(
    "line",
    [
        "acre = 4047 * meter ** 2",
        "acre = 43560 * foot ** 2",
        "gal_us = 4 * liter",
        "spoon = 15 * mL = _ = tbsp_us",
        "gram = [other]",
    ],
)
def test_a_second_definition_is_refused(tmp_path, line):
    shutil.copy(DEFINITIONS, tmp_path)
    assert _engine_on(tmp_path).factor(unit("acre"), unit("foot2")) == 43560
    with (tmp_path / DEFINITIONS.name).open("a", encoding="utf-8") as file:
        file.write(f"\n{line}\n")
    with pytest.raises(pint.RedefinitionError):
        _engine_on(tmp_path).factor(unit("acre"), unit("foot2"))

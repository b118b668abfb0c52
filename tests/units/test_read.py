"""The strict reader: what it takes, what it refuses and how, and that nothing else can happen."""

from __future__ import annotations

import re
import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.errors import EXIT_REFUSED, DoseError
from dosecalc.units import read, words
from dosecalc.units.engine import Unit
from dosecalc.units.measure import (
    GRAM,
    LENGTH,
    LITER,
    MASS,
    METER,
    ML,
    NONE,
    PLANT,
    POT,
    SECOND,
    SQUARE_METER,
    VOLUME,
    Measure,
)

F = Fraction

# Sizes in SI, typed from the standards and not taken from the code.
POUND = F("453.59237")  # g; NIST Handbook 44, Appendix C
OUNCE = POUND / 16  # g; NIST Handbook 44, Appendix C
FOOT = F("0.3048")  # m; 85 FR 62698 (2020)
YARD = 3 * FOOT  # m; NIST Handbook 44, Appendix C
INCH = FOOT / 12  # m; 85 FR 62698 (2020)
ACRE = 43560 * FOOT**2  # m2; NIST Handbook 44, Appendix C
US_GALLON = F("3785.411784")  # mL; 231 cubic inches, NIST Handbook 44, Appendix C
IMP_GALLON = F("4546.09")  # mL; Weights and Measures Act 1985 (United Kingdom)
US_CUP, US_FLOZ = US_GALLON / 16, US_GALLON / 128  # mL; NIST Handbook 44, Appendix C
US_TBSP, US_TSP = US_FLOZ / 2, US_FLOZ / 6  # mL; NIST Handbook 44, Appendix C
IMP_FLOZ = IMP_GALLON / 160  # mL; Weights and Measures Act 1985 (United Kingdom)
BUSHEL = F("2150.42") * (100 * INCH) ** 3  # mL; NIST Handbook 44, Appendix C

CUBIC_METER: Unit = (("meter", 3),)
G_PER_M2: Unit = (("gram", 1), ("meter", -2))
G_PER_M: Unit = (("gram", 1), ("meter", -1))
G_PER_ML: Unit = (("gram", 1), ("mL", -1))
ML_PER_L: Unit = (("liter", -1), ("mL", 1))
ML_PER_M2: Unit = (("mL", 1), ("meter", -2))

# (text, whose measures, exact value, in what)
ACCEPTED = [
    # mixed numbers, fractions, decimals
    ("1 1/2 tsp", None, F("7.5"), ML),
    ("1-1/2 tsp", None, F("7.5"), ML),
    ("1 1/2 tsp", "us", US_TSP * 3 / 2, ML),
    ("11/2 tsp", None, F("27.5"), ML),
    ("1/4 cup", "us", US_CUP / 4, ML),
    ("2 2/3 cups", "metric", F(2000, 3), ML),
    ("0.25 g", None, F("0.25"), GRAM),
    (".5 g", None, F("0.5"), GRAM),
    ("5 g", None, F(5), GRAM),
    ("5g", None, F(5), GRAM),
    ("  5   g ", None, F(5), GRAM),
    ("5\u00a0g", None, F(5), GRAM),
    ("05 g", None, F(5), GRAM),
    ("0 g", None, F(0), GRAM),
    ("999999999999 g", None, F(10**12 - 1), GRAM),
    ("0.000000000001 g", None, F(1, 10**12), GRAM),
    ("0.123456789012345 kg", None, F("123.456789012345"), GRAM),
    ("0.00000123456789012345 g", None, F("0.00000123456789012345"), GRAM),
    ("473176473/125000000 L", None, US_GALLON, ML),
    # glyph fractions
    ("2\u00bd Tbsp", "us", US_TBSP * 5 / 2, ML),
    ("2 \u00bd tbsp", "us", US_TBSP * 5 / 2, ML),
    ("\u00bc cup", "imperial", IMP_GALLON / 64, ML),
    ("\u2153 cup", "australian", F(250, 3), ML),
    ("1\u215e in", None, INCH * 15 / 8, METER),
    ("\u00be lb", None, POUND * 3 / 4, GRAM),
    # commas
    ("1,5 L", None, F(1500), ML),
    ("1,5 L", "metric", F(1500), ML),
    ("0,500 kg", None, F(500), GRAM),
    ("2,25 kg", "metric", F(2250), GRAM),
    ("1,500 g", "us", F(1500), GRAM),
    ("1,500 g", "imperial", F(1500), GRAM),
    ("1,500 g", "australian", F(1500), GRAM),
    ("1,234,567 g", None, F(1234567), GRAM),
    ("1,500.5 g", None, F("1500.5"), GRAM),
    ("12,000 sq ft", "us", 12000 * FOOT**2, SQUARE_METER),
    # two parts of one amount
    ("15 ft 6 in", None, F("15.5") * FOOT, METER),
    ("2 lb 4 oz", None, F("2.25") * POUND, GRAM),
    ("2 lb 4\u00bd oz", None, 2 * POUND + F("4.5") * OUNCE, GRAM),
    ("1 gal 1 pt", "us", US_GALLON * 9 / 8, ML),
    ("1 h 30 min", None, F(5400), SECOND),
    ("2 lb 4 oz per 100 sq ft", None, F("2.25") * POUND / (100 * FOOT**2), G_PER_M2),
    # per, slash
    ("2 lb per 100 sq ft", None, 2 * POUND / (100 * FOOT**2), G_PER_M2),
    ("2 lb per 1,000 sq ft", "us", 2 * POUND / (1000 * FOOT**2), G_PER_M2),
    ("2 lb/1000 sq ft", None, 2 * POUND / (1000 * FOOT**2), G_PER_M2),
    ("2 lb per acre", None, 2 * POUND / ACRE, G_PER_M2),
    ("2 lb/acre", None, 2 * POUND / ACRE, G_PER_M2),
    ("2 lb / acre", None, 2 * POUND / ACRE, G_PER_M2),
    ("2 lb/ acre", None, 2 * POUND / ACRE, G_PER_M2),
    ("2 lb per 1/2 acre", None, 4 * POUND / ACRE, G_PER_M2),
    ("2 lb per 100 ft", None, 2 * POUND / (100 * FOOT), G_PER_M),
    ("1 oz per 100 ft", None, OUNCE / (100 * FOOT), G_PER_M),
    ("1 oz/sq yd", None, OUNCE / YARD**2, G_PER_M2),
    ("1 oz by weight per gal", "us", OUNCE / US_GALLON, G_PER_ML),
    ("1 lb per 100 gal", "us", POUND / (100 * US_GALLON), G_PER_ML),
    ("1 lb per 100 gal", "imperial", POUND / (100 * IMP_GALLON), G_PER_ML),
    ("1 tbsp/gal", "us", 1000 * US_TBSP / US_GALLON, ML_PER_L),
    ("1 fl oz/gal", "us", F(1000, 128), ML_PER_L),
    ("5 mL/L", None, F(5), ML_PER_L),
    ("400 L/ha", None, F(40), ML_PER_M2),
    ("40 gal/acre", "us", 40 * US_GALLON / ACRE, ML_PER_M2),
    ("5 g/m2", None, F(5), G_PER_M2),
    ("5 g/m\u00b2", None, F(5), G_PER_M2),
    ("5 g per square metre", None, F(5), G_PER_M2),
    ("100 g per plant", None, F(100), (("gram", 1), ("plant", -1))),
    ("2 lb per acre per year", None, 2 * POUND / ACRE, (*G_PER_M2, ("year", -1))),
    # shares of a stated kind
    ("2 % w/v", None, F(20, 1000), G_PER_ML),
    ("1/2 % w/v", None, F(5, 1000), G_PER_ML),
    ("2% v/v", None, F(20), ML_PER_L),
    ("0,5 % v/v", None, F(5), ML_PER_L),
    ("2 % w/w", None, F(20), (("gram", 1), ("kg", -1))),
    ("2 gal/100 gal", "us", F(20), ML_PER_L),
    # countries
    ("1 US gal", None, US_GALLON, ML),
    ("1 American gallon", None, US_GALLON, ML),
    ("1 U.S. gallon", None, US_GALLON, ML),
    ("1 imperial gallon", None, IMP_GALLON, ML),
    ("1 imp gal", None, IMP_GALLON, ML),
    ("1 UK pint", None, IMP_GALLON / 8, ML),
    ("1 British pint", "us", IMP_GALLON / 8, ML),
    ("1 US fl oz", None, US_FLOZ, ML),
    ("1 imp fl oz", None, IMP_FLOZ, ML),
    ("1 US fluid ounce", None, US_FLOZ, ML),
    ("1 metric cup", None, F(250), ML),
    ("1 Australian tablespoon", None, F(20), ML),
    ("1 AU tbsp", "us", F(20), ML),
    ("1 metric tbsp", None, F(15), ML),
    ("1 US ton", None, 2000 * POUND, GRAM),
    ("1 imp ton", None, 2240 * POUND, GRAM),
    ("1 US cwt", None, 100 * POUND, GRAM),
    ("1 cwt", "imperial", 112 * POUND, GRAM),
    ("1 US dry qt", None, BUSHEL / 32, ML),
    ("1 US bushel", None, BUSHEL, ML),
    # whose measures
    ("1 gal", "us", US_GALLON, ML),
    ("1 gal", "imperial", IMP_GALLON, ML),
    ("1 gal", "australian", IMP_GALLON, ML),
    ("1 qt", "us", US_GALLON / 4, ML),
    ("1 dry qt", "us", BUSHEL / 32, ML),
    ("1 pint", "imperial", IMP_GALLON / 8, ML),
    ("2 fl oz", "us", 2 * US_FLOZ, ML),
    ("2 fl. oz.", "imperial", 2 * IMP_FLOZ, ML),
    ("1 cup", "us", US_CUP, ML),
    ("1 cup", "metric", F(250), ML),
    ("1 tbsp", "us", US_TBSP, ML),
    ("1 tbsp", "imperial", F(15), ML),
    ("1 tbsp", "metric", F(15), ML),
    ("1 tbsp", "australian", F(20), ML),
    ("1 T", "us", US_TBSP, ML),
    ("1 t", "us", F(1000000), GRAM),
    ("1 tsp", None, F(5), ML),
    ("1 teaspoon", None, F(5), ML),
    ("2 tsp/L", None, F(10), ML_PER_L),
    ("1 tsp", "us", US_TSP, ML),
    ("1 tsp", "metric", F(5), ML),
    ("1 ton", "us", 2000 * POUND, GRAM),
    ("1 ton", "imperial", 2240 * POUND, GRAM),
    ("1 peck", "us", BUSHEL / 4, ML),
    # areas, volumes, counts, times
    ("30 sq ft", None, 30 * FOOT**2, SQUARE_METER),
    ("30 sqft", None, 30 * FOOT**2, SQUARE_METER),
    ("30 ft2", None, 30 * FOOT**2, SQUARE_METER),
    ("18 m2", None, F(18), SQUARE_METER),
    ("1 acre", None, ACRE, SQUARE_METER),
    ("0.5 ha", None, F(5000), SQUARE_METER),
    ("2 cu yd", None, 2 * YARD**3, CUBIC_METER),
    ("2 cubic feet", None, 2 * FOOT**3, CUBIC_METER),
    ("60 L", None, F(60), LITER),
    ("20 cc", None, F(20), ML),
    ("12 plants", None, F(12), PLANT),
    ("12 pots", None, F(12), POT),
    ("3 count", None, F(3), NONE),
    ("2 weeks", None, F(14 * 86400), SECOND),
    ("1 oz by weight", None, OUNCE, GRAM),
    ("2 lbs.", None, 2 * POUND, GRAM),
    ("3 in.", None, 3 * INCH, METER),
]  # fmt: skip

# (text, whose measures, low, high, in what): the grower's choice
CHOICES = [
    ("1-2 tbsp", "us", US_TBSP, 2 * US_TBSP, ML),
    ("1 - 2 tbsp", "us", US_TBSP, 2 * US_TBSP, ML),
    ("1 \u2013 2 tbsp", "us", US_TBSP, 2 * US_TBSP, ML),
    ("1 to 2 tsp", None, F(5), F(10), ML),
    ("\u00bd-1 tsp", None, F("2.5"), F(5), ML),
    ("1/2-3/4 tsp", None, F("2.5"), F("3.75"), ML),
    ("1 1/2-2 tsp", None, F("7.5"), F(10), ML),
    ("1-2 lb per 100 sq ft", None, POUND / (100 * FOOT**2), 2 * POUND / (100 * FOOT**2), G_PER_M2),
    ("1-2 g/L", None, F(1, 1000), F(2, 1000), G_PER_ML),
    ("1,000-1,500 g", "us", F(1000), F(1500), GRAM),
    ("0,5 - 1,5 kg", None, F(500), F(1500), GRAM),
    ("1-2 % v/v", None, F(10), F(20), ML_PER_L),
]

# (text, whose measures, a distinctive piece of the refusal)
REFUSED = [
    # whose gallon
    ("1 gal", None, "'US gal' (3.785 L) or 'imperial gal' or 'Australian gal' (4.546 L)"),
    ("1 gallon", None, "'US gallon' (3.785 L) or 'imperial gallon' or 'Australian gallon' (4.546"),
    ("1 gallon", None, "'Australian gallon' (4.546 L)"),
    ("2 tbsp per gal", "metric", "there is no metric gal"),
    ("1 qt", None, "'US qt' (946.4 mL) or 'imperial qt' or 'Australian qt' (1.137 L)"),
    ("1 pint", None, "'US pint' (473.2 mL) or 'imperial pint' or 'Australian pint' (568.3 mL)"),
    ("1 cup", None, "'US cup' (236.6 mL) or 'imperial cup' (284.1 mL) or 'metric cup'"),
    ("1 cup", None, "'metric cup' or 'Australian cup' (250 mL)"),
    ("1 tbsp", None, "'US tbsp' (14.79 mL)"),
    ("1 tbsp", None, "'Australian tbsp' (20 mL)"),
    ("1 T", None, "differs by country"),
    ("2 fl oz", None, "'US fl oz' (29.57 mL) or 'imperial fl oz' or 'Australian fl oz' (28.41 mL)"),
    ("1 ton", None, "'US ton' (907.2 kg) or 'imperial ton' (1016 kg)"),
    ("1 cwt", None, "'US cwt' (45.36 kg) or 'imperial cwt' or 'Australian cwt' (50.8 kg)"),
    ("1 bushel", None, "'US bushel' (35.24 L) or 'imperial bushel' (36.37 L)"),
    ("1 lb per gal", None, "--recipe-measures"),
    ("1 gal", "metric", "there is no metric gal"),
    ("1 AU peck", None, "there is no Australian peck"),
    ("1 dry qt", "imperial", "there is no imperial dry qt"),
    ("1 metric ton", None, "there is no metric ton"),
    # oz
    ("1 oz", None, "a weight (28.35 g) or a fluid ounce (29.57 mL US, 28.41 mL imperial)"),
    ("1 oz", "us", "write 'oz by weight' or 'fl oz'"),
    ("2 ounces", "imperial", "oz can be a weight"),
    ("1 oz/gal", "us", "oz can be a weight"),
    ("1 oz per L", None, "oz can be a weight"),
    ("1-2 oz", None, "oz can be a weight"),
    # kinds that only a context fixes
    ("2 %", None, "% w/v (grams in 100 mL), % v/v (mL in 100 mL) or % w/w (grams in 100 g)"),
    ("2%", None, "% is not known without its kind"),
    ("2 percent", None, "% is not known without its kind"),
    ("2 % w/z", None, "% is not known without its kind"),
    ("2 % w/v per acre", None, "% is not known without its kind"),
    ("2 percent w/v", None, "% is not known without its kind"),
    ("-2 % w/v", None, "no number that can be read"),
    ("150 ppm", None, "mg/L for a solution or mg/kg for a solid"),
    ("150 PPM", None, "ppm is not known without its kind"),
    # numbers
    ("1,500 g", None, "1.500 or 1500"),
    ("1,500 g", "metric", "1.500 or 1500"),
    ("1e3 g", None, "'e3' is not known"),
    ("1E3 g", None, "'E3' is not known"),
    ("1e400 g", None, "'e400' is not known"),
    ("1.5e-2 g", None, "'e-2' is not known"),
    ("-5 g", None, "no number that can be read"),
    ("\u22125 g", None, "no number that can be read"),
    ("+5 g", None, "no number that can be read"),
    ("nan g", None, "no number that can be read"),
    ("inf g", None, "no number that can be read"),
    ("infinity g", None, "no number that can be read"),
    ("five g", None, "no number that can be read"),
    ("a cup", "us", "no number that can be read"),
    ("g", None, "no number that can be read"),
    ("about 5 g", None, "no number that can be read"),
    ("~5 g", None, "no number that can be read"),
    ("<5 g", None, "no number that can be read"),
    ("1_000 g", None, "'_000' is not known"),
    ("\u0663 g", None, "no number that can be read"),
    ("\u0661\u0662 g", None, "no number that can be read"),
    ("1\u0663 g", None, "'\u0663' is not known"),
    ("\uff15 g", None, "no number that can be read"),
    ("0x10 g", None, "'x10' is not known"),
    ("1.2.3 g", None, "no number that can be read"),
    ("1,2,3 g", None, "no number that can be read"),
    ("1.500,5 g", None, "no number that can be read"),
    ("01,500 g", "us", "01,500"),
    ("5. g", None, "'.' is not known"),
    ("1 3/2 cup", "us", "write it like 1 1/2"),
    ("1/2/3 g", None, "1/2/3 g"),
    ("1 2/3/4 g", None, "1 2/3/4 g"),
    ("1 500 g", None, "'500' is not known"),
    ("1/0 g", None, "below the line is zero"),
    ("1 1/0 g", None, "below the line is zero"),
    ("2 lb/0 acre", None, "below the line is zero"),
    ("2 lb per 0 sq ft", None, "below the line is zero"),
    ("2 lb per 0.0 sq ft", None, "below the line is zero"),
    ("1234567890123456 g", None, "out of any reach"),
    ("0.1234567890123456 g", None, "out of any reach"),
    (f"{'1' * 61}/{'1' * 60} g", None, "out of any reach"),
    ("9999999999999 g", None, "out of any reach"),
    ("0.0000000000000000000000001 g", None, "out of any reach"),
    ("1/9999999999999999999999999 g", None, "out of any reach"),
    ("1 g per 9999999999999 m2", None, "out of any reach"),
    ("5 g" + " " * 198, None, "201 characters long: write at most 200"),
    ("5 " + "g" * 1000, None, "1002 characters long: write at most 200"),
    ("", None, "Nothing was written where an amount belongs"),
    (" \t ", None, "Nothing was written"),
    # units
    ("5", None, "a number without a unit"),
    ("1 1/2", None, "a number without a unit"),
    ("1-2", None, "a number without a unit"),
    ("2 lb/", None, "a number without a unit"),
    ("1/acre", None, "a number without a unit"),
    ("1 per acre", None, "a number without a unit"),
    ("5 grms", None, "write 'grams' or "),
    ("5 teespoon", None, "'teaspoon'"),
    ("5 litters", None, "'liters'"),
    ("5 galons", "us", "'gallons'"),
    ("5 acers", None, "'acres'"),
    ("5 foo", None, "'foo' is not known"),
    ("5 xyzzy", None, "write it like 5 mL"),
    ("5 Mg", None, "'Mg' is not known"),
    ("5 G", None, "'G' is not known"),
    ("5 m4", None, "'m4' is not known"),
    ("5 L2", None, "'L2' is not known"),
    ("5 acre2", None, "'acre2' is not known"),
    ("5 g/m^2", None, "'m^2' is not known"),
    ("5 \u00b0C", None, "is not known"),
    ("5' 6\"", None, "is not known"),
    ("5 US lb", None, "'US' is not known"),
    ("5 US acres", None, "'US' is not known"),
    # left over, or out of order
    ("5 g g", None, "'g' was not understood"),
    ("5 g L", None, "'L' was not understood"),
    ("5 g m-2", None, "'m-2' was not understood"),
    ("5 g and 2 L", None, "'and 2 L' was not understood"),
    ("5 g (approx)", None, "'(approx)' was not understood"),
    ("2 lb per", None, "'per' was not understood"),
    ("2 lb 4", None, "'4' was not understood"),
    ("2 lb 16 oz", None, "'16 oz' was not understood"),
    ("2 lb 4 ft", None, "'4 ft' was not understood"),
    ("2 oz 3 lb", None, "'3 lb' was not understood"),
    ("5 ft 12 in", None, "'12 in' was not understood"),
    ("5 ft 6", None, "'6' was not understood"),
    ("5 ft 6 in 2 mm", None, "'2 mm' was not understood"),
    ("1 gal 8 oz", "us", "'8 oz' was not understood"),
    ("1-2 lb 4 oz", None, "'4 oz' was not understood"),
    ("4 x 8 ft", None, "'x' is not known"),
    ("1:100", None, "':100' is not known"),
    ("1.5 lb B/acre", None, "'B/acre' was not understood"),
    ("2 to 1 g", None, "the range runs backwards"),
    ("2-2 g", None, "the range runs backwards"),
    ("10-10-10 g", None, "the range runs backwards"),
    ("1-2-3 g", None, "'-3' is not known"),
]  # fmt: skip


def test_the_tables_are_long_enough():
    assert len(ACCEPTED) >= 60
    assert len(REFUSED) >= 60
    assert len({row[:2] for row in ACCEPTED}) == len(ACCEPTED)


@pytest.mark.parametrize(("text", "system", "value", "unit"), ACCEPTED)
def test_what_growers_write_is_read_exactly(text, system, value, unit):
    found = read.quantity(text, system)
    assert type(found) is Measure
    assert found.amount_in(unit) == value
    assert read.choice(text, system) == (found, None)


@pytest.mark.parametrize(("text", "system", "low", "high", "unit"), CHOICES)
def test_a_range_is_a_choice(text, system, low, high, unit):
    found = read.choice(text, system)
    assert found.high is not None
    assert found.low.amount_in(unit) == low
    assert found.high.amount_in(unit) == high
    with pytest.raises(DoseError, match="is a range, but one amount is needed"):
        read.quantity(text, system)


@pytest.mark.parametrize(("text", "system", "piece"), REFUSED)
def test_what_is_not_wholly_understood_is_refused(text, system, piece):
    for reader in (read.quantity, read.choice):
        with pytest.raises(DoseError) as caught:
            reader(text, system)
        message = str(caught.value)
        assert piece in message
        assert caught.value.exit_code == EXIT_REFUSED
        # what was read, what is wrong, what to write instead
        assert re.search(r"\b(write|leave it out|check)\b", message)
        assert message.endswith(".")
        if text.strip() and len(text) <= read.MAX_TEXT:
            # a long text is quoted by its beginning
            assert message.startswith(f"'{text}'" if len(text) <= 60 else f"'{text[:60]}")


@pytest.mark.parametrize("text", [row[0] for row in REFUSED if "differs by" in row[2]] + [
    "1 gal", "1 quart", "1 pt", "1 cup", "1 tbsp", "1 ton", "1 cwt", "1 bushel", "1 peck",
    "1 fl oz", "1 fluid ounces", "1 dry qt", "1 dry pt",
])  # fmt: skip
def test_each_reading_that_a_refusal_offers_is_taken(text):
    with pytest.raises(DoseError) as caught:
        read.quantity(text)
    offered = re.findall(r"((?:'[^']+'(?: or )?)+) \(([\d.]+) (mL|L|kg)\)", str(caught.value))
    assert offered
    for names, size, unit in offered:
        for name in re.findall(r"'([^']+)'", names):
            found = read.quantity(f"1 {name}")
            shown = {"mL": ML, "L": LITER, "kg": (("kg", 1),)}[unit]
            assert f"{float(found.amount_in(shown)):.4g}" == size


def _hint(text: str) -> str:
    with pytest.raises(DoseError) as caught:
        read.quantity(text)
    return str(caught.value).partition("is not known: ")[2]


@pytest.mark.parametrize(
    ("text", "wrong"), [("5 Kg", "g"), ("5 ML", "L"), ("5 mcg", "mg"), ("5 Mg", "g"), ("5 LB", "L")]
)
def test_a_hint_is_never_a_unit_of_another_size(text, wrong):
    # 'mg' for mcg is a dose a thousand times too big: worse than no hint
    assert f"'{wrong}'" not in _hint(text)


@pytest.mark.parametrize("micro", ["\u00b5", "\u03bc"])
def test_a_microgram_is_never_shown_as_a_gram(micro):
    try:
        found = read.quantity(f"5 {micro}g")
    except DoseError:
        assert "'g'" not in _hint(f"5 {micro}g")
    else:
        assert found.amount_in(GRAM) == F(5, 10**6)


@pytest.mark.parametrize(
    ("text", "right"),
    [
        ("5 Kg", "kg"), ("5 KG", "kg"), ("5 ML", "mL"), ("5 G", "g"), ("5 Ha", "ha"),
        ("5 LB", "lb"), ("5 TSP", "tsp"), ("5 Litres", "litres"), ("5 Grams", "grams"),
        ("5 Acres", "acres"), ("5 FT", "ft"), ("5 Cups", "cups"),
    ],
)  # fmt: skip
def test_a_word_in_other_capitals_is_shown_as_it_is_written(text, right):
    assert _hint(text).startswith(f"write '{right}'")


def test_the_option_that_names_the_measures_can_be_another():
    with pytest.raises(DoseError, match="--my-spoons"):
        read.quantity("1 tbsp", option="--my-spoons")


# ---------------------------------------------------------------- oz


def test_oz_as_a_weight():
    assert read.quantity("1 oz", oz_is="weight").amount_in(GRAM) == OUNCE
    assert read.quantity("1 oz/gal", "us", oz_is="weight").amount_in(G_PER_ML) == OUNCE / US_GALLON


def test_oz_as_a_fluid_ounce_needs_a_country():
    assert read.quantity("1 oz", "us", oz_is="fluid").amount_in(ML) == US_FLOZ
    assert read.quantity("1 oz", "imperial", oz_is="fluid").amount_in(ML) == IMP_FLOZ
    with pytest.raises(DoseError, match=r"29\.57 mL"):
        read.quantity("1 oz", oz_is="fluid")


def test_oz_of_a_liquid_is_in_doubt_even_over_an_area():
    assert read.quantity("1 oz/acre").is_a((("[length]", -2), ("[mass]", 1)))
    with pytest.raises(DoseError, match="oz can be a weight"):
        read.quantity("1 oz/acre", oz_is="doubt")
    assert read.quantity("1 oz by weight/acre", oz_is="doubt").amount_in(G_PER_M2) == OUNCE / ACRE


# ---------------------------------------------------------------- the other readers

NUMBERS = [
    ("1", None, F(1)), ("1 1/2", None, F(3, 2)), ("\u00bd", None, F(1, 2)),
    ("1,5", None, F(3, 2)), ("1,500", "us", F(1500)), ("0.125", None, F(1, 8)), ("0", None, F(0)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system", "value"), NUMBERS)
def test_numbers(text, system, value):
    assert read.number(text, system) == value


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("", "Nothing was written where a number belongs"), ("1 g", "'g' was not understood"),
        ("-1", "no number"), ("1e3", "'e3' was not understood"), ("1,500", "1.500 or 1500"),
        ("1-2", "'-2' was not understood"), ("1/0", "below the line is zero"),
        ("1" * 16, "out of any reach"), ("1 " * 101, "characters long"),
    ],
)  # fmt: skip
def test_numbers_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.number(text)
    assert piece in str(caught.value)


TEMPERATURES = [
    ("20 C", F(20)), ("20C", F(20)), ("-2 C", F(-2)), ("68 F", F(20)), ("68F", F(20)),
    ("20 \u00b0C", F(20)), ("68 \u00b0F", F(20)), ("20 degC", F(20)), ("20 deg F", F(-20, 3)),
    ("2 1/2 C", F(5, 2)), ("12,5 C", F(25, 2)), ("-40 F", F(-40)), ("120 C", F(120)),
    ("-60 C", F(-60)), ("248 F", F(120)), ("0 F", F(-160, 9)),
]  # fmt: skip


@pytest.mark.parametrize(("text", "celsius"), TEMPERATURES)
def test_temperatures(text, celsius):
    assert read.temperature(text) == celsius


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("20", "like 20 C or 68 F"), ("C", "like 20 C or 68 F"), ("20 K", "like 20 C or 68 F"),
        ("20 c", "like 20 C or 68 F"), ("121 C", "like 20 C or 68 F"), ("-61 C", "20 C or 68 F"),
        ("249 F", "like 20 C or 68 F"), ("20 celsius", "like 20 C or 68 F"),
        ("1e1 C", "'e1' was not understood"), ("nan C", "no number"), ("--2 C", "no number"),
        ("+2 C", "no number"), ("20 C 5", "like 20 C or 68 F"), ("", "where a temperature belongs"),
        ("\u0662\u0660 C", "no number"), ("1" * 16 + " C", "out of any reach"),
        ("2" * 250 + " C", "characters long"),
    ],
)  # fmt: skip
def test_temperatures_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.temperature(text)
    assert piece in str(caught.value)


SIZES = [
    ("4 x 8 ft", None, (4 * FOOT, 8 * FOOT)),
    ("4x8 ft", None, (4 * FOOT, 8 * FOOT)),
    ("4 X 8 ft", None, (4 * FOOT, 8 * FOOT)),
    ("4 \u00d7 8 ft", None, (4 * FOOT, 8 * FOOT)),
    ("4 1/2 x 8 ft", None, (F("4.5") * FOOT, 8 * FOOT)),
    ("1.2 m x 8 m", None, (F("1.2"), F(8))),
    ("75 cm x 30 m", None, (F("0.75"), F(30))),
    ("1,2 x 8 m", None, (F("1.2"), F(8))),
    ("15 ft 6 in x 8 ft", None, (F("15.5") * FOOT, 8 * FOOT)),
    ("4 ft x 8 in x 2 m", None, (4 * FOOT, 8 * INCH, F(2))),
    ("1,200 x 8 mm", "us", (F("1.2"), F("0.008"))),
    ("40 m", None, (F(40),)),
]


@pytest.mark.parametrize(("text", "system", "sizes"), SIZES)
def test_dimensions(text, system, sizes):
    found = read.dimensions(text, system)
    assert tuple(size.amount_in(METER) for size in found) == sizes


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("4 x 8", "a number without a unit"), ("4 ft x 8", "a number without a unit"),
        ("4 x", "is not known"), ("x 8 ft", "no number"), ("4 x x 8 ft", "no number"),
        ("0 x 8 ft", "more than zero"), ("4 x 0 ft", "more than zero"),
        ("-4 x 8 ft", "no number"), ("4 x 8 sq ft", "is an area, but a length is needed"),
        ("4 x 8 g", "is a weight, but a length is needed"), ("4 by 8 ft", "is not known"),
        ("4 x 8-10 ft", "is a range"), ("1,200 x 8 m", "1.200 or 1200"),
        ("", "Nothing was written where a size belongs"), ("4 x " * 60 + "8 ft", "characters long"),
    ],
)  # fmt: skip
def test_dimensions_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.dimensions(text)
    assert piece in str(caught.value)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("1:100", (F(1), F(100))), ("1 : 100", (F(1), F(100))), ("1 to 100", (F(1), F(100))),
        ("1.5:100", (F(3, 2), F(100))), ("1 1/2 : 100", (F(3, 2), F(100))),
        ("1/2:3", (F(1, 2), F(3))), ("1:1,5", (F(1), F(3, 2))), ("\u00bd:10", (F(1, 2), F(10))),
    ],
)  # fmt: skip
def test_ratios(text, parts):
    assert read.ratio(text) == parts


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("1", "like 1:100"), ("1:", "like 1:100"), (":100", "like 1:100"), ("1:0", "like 1:100"),
        ("0:1", "like 1:100"), ("1:2:3", "':3' was not understood"), ("1:-3", "no number"),
        ("1:1e3", "'e3' was not understood"), ("1:1,500", "1.500 or 1500"), ("a:b", "no number"),
        ("1/100", "like 1:100"), ("1:100 g", "'g' was not understood"), ("", "where a ratio"),
        ("1:1/0", "below the line is zero"), ("1:" + "1" * 16, "out of any reach"),
        ("1:" + "1" * 250, "characters long"),
    ],
)  # fmt: skip
def test_ratios_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.ratio(text)
    assert piece in str(caught.value)


LABELS = frozenset({"B", "N", "P", "P2O5", "K", "K2O"})


@pytest.mark.parametrize(
    ("text", "system", "value", "unit", "label"),
    [
        ("1.5 lb B/acre", None, F("1.5") * POUND / ACRE, G_PER_M2, "B"),
        ("1.5 lb B per acre", None, F("1.5") * POUND / ACRE, G_PER_M2, "B"),
        ("1.5 lb B / acre", None, F("1.5") * POUND / ACRE, G_PER_M2, "B"),
        ("2 lb N per 1000 sq ft", None, 2 * POUND / (1000 * FOOT**2), G_PER_M2, "N"),
        ("3 kg K2O/ha", None, F("0.3"), G_PER_M2, "K2O"),
        ("3 kg P2O5/ha", None, F("0.3"), G_PER_M2, "P2O5"),
        ("3 kg P/ha", None, F("0.3"), G_PER_M2, "P"),
        ("1 oz B", None, OUNCE, GRAM, "B"),
        ("1 oz B/gal", "us", OUNCE / US_GALLON, G_PER_ML, "B"),
        ("1 lb N", None, POUND, GRAM, "N"),
        ("1.5 lb/acre", None, F("1.5") * POUND / ACRE, G_PER_M2, None),
        ("2 L", None, F(2000), ML, None),
    ],
)
def test_labelled(text, system, value, unit, label):
    found, of = read.labelled(text, LABELS, system)
    assert found.amount_in(unit) == value
    assert of == label


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("1.5 lb Zz/acre", "'Zz/acre' was not understood"), ("1.5 lb b/acre", "'b/acre'"),
        ("1.5 lb B B/acre", "'B/acre' was not understood"), ("1.5 B lb/acre", "'B' is not known"),
        ("lb B/acre", "no number"), ("1.5 B", "a number without a unit"),
        ("1-2 lb N/acre", "is a range"), ("1 oz/gal", "differs by country"), ("1 oz", "oz can be"),
        ("1 lb P2O5 K2O/acre", "was not understood"), ("", "Nothing was written"),
        ("1 lb N/0 acre", "below the line is zero"), ("1 lb N/" + "a" * 250, "characters long"),
    ],
)  # fmt: skip
def test_labelled_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.labelled(text, LABELS)
    assert piece in str(caught.value)


@pytest.mark.parametrize(
    ("text", "system", "value", "unit", "rest"),
    [
        ("1 tbsp borax", "us", US_TBSP, ML, "borax"),
        ("1 1/2 tsp borax", None, F("7.5"), ML, "borax"),
        ("2 lb 4 oz bone meal", None, F("2.25") * POUND, GRAM, "bone meal"),
        ("2 lb 10-10-10", None, 2 * POUND, GRAM, "10-10-10"),
        ("5 g/m2 lime", None, F(5), G_PER_M2, "lime"),
        ("5 g", None, F(5), GRAM, ""),
    ],
)
def test_leading(text, system, value, unit, rest):
    found, left = read.leading(text, system, example="1 tbsp borax")
    assert found.amount_in(unit) == value
    assert left == rest


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("borax", "no number"), ("5", "a number without a unit"), ("1 tbsp borax", "differs by"),
        ("1 oz borax", "oz can be"), ("1 heap borax", "'heap' is not known"), ("", "Nothing was"),
        ("2 lb 4 foo", "'foo' is not known"), ("1 g " + "a" * 250, "characters long"),
    ],
)  # fmt: skip
def test_leading_refused(text, piece):
    with pytest.raises(DoseError) as caught:
        read.leading(text, example="1 tbsp borax")
    assert piece in str(caught.value)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("g", GRAM), ("g/m2", G_PER_M2), ("US gal", (("gal_us", 1),)), ("oz", (("oz", 1),)),
        ("lb/acre", (("acre", -1), ("lb", 1))), ("sq ft", (("foot", 2),)),
        ("lb per acre", (("acre", -1), ("lb", 1))), ("fl oz", (("floz_us", 1),)),
    ],
)  # fmt: skip
def test_units(text, unit):
    assert read.unit(text, "us") == unit


@pytest.mark.parametrize(
    "text",
    [
        "5 g", "1/2 g", "lb/100 sq ft", "g/0.5 m2", "", "foo", "5", "/m2", "ft 6 in",
        "0/5 g", "ft 0 in", "-2 g", "%", "ppm", "g g", "g" * 250,
    ],
)  # fmt: skip
def test_units_refused(text):
    # a number that happens to change nothing is still a number where only a unit belongs
    with pytest.raises(DoseError):
        read.unit(text)


def test_a_unit_without_its_country_is_refused():
    with pytest.raises(DoseError, match="differs by country"):
        read.unit("gal")


def test_positive_holds_the_kind_and_the_sign():
    def bed(text: str) -> Measure:
        return read.positive(text, LENGTH, want="a bed width", example="75 cm")

    assert bed("75 cm").amount_in(METER) == F(3, 4)
    with pytest.raises(DoseError, match="'0 m': a bed width must be more than zero: write it like"):
        bed("0 m")
    with pytest.raises(DoseError, match="'2 g' is a weight, but a bed width is needed"):
        bed("2 g")
    with pytest.raises(DoseError, match="is a range"):
        bed("1-2 m")
    assert read.positive("1 kg", MASS, want="a weight", example="5 g").amount_in(GRAM) == 1000
    with pytest.raises(DoseError, match="is a weight, but a tank is needed"):
        read.positive("1 kg", VOLUME, want="a tank", example="2 L")


# ---------------------------------------------------------------- hostile texts

HOSTILE = {
    "a megabyte of digits": "9" * 10**6 + " g",
    "a megabyte of units": "5 " + "g" * 10**6,
    "a megabyte of slashes": "1 g" + "/" * 10**6,
    "a megabyte of spaces": "5" + " " * 10**6 + "g",
    "a megabyte of glyphs": "\u00bd" * 10**6,
    "100,000 digits below": "1/" + "9" * 10**5 + " g",
    "100,000 digits of exponent": "1e" + "9" * 10**5 + " g",
    "100,000 groups": "1" + ",000" * 10**5 + " g",
    "100,000 per": "1 g" + " per m2" * 10**5,
    "a deep nest": "(" * 10**5 + "5 g" + ")" * 10**5,
    "200 digits": "1" * 198 + " g",
    "200 fractions": "1/" * 99 + "1g",
    "200 mixed numbers": "1 " * 99 + "1g",
    "200 dashes": "1" + "-" * 199,
    "200 colons": "1" + ":" * 199,
    "200 crosses": "1" + " x" * 99,
    "200 commas": "1," * 99 + "g",
    "200 points": "1." * 99 + "g",
    "200 letters": "5 " + "ab" * 99,
    "200 teaspoon letters": "5 " + ("teaspoonful" * 18)[:198],
    "200 glyphs": "\u00bd" * 200,
    "an exponent": "1e9999999 g",
    "an exponent below": "1/1e9999999 g",
    "a minus and digits": "-" + "9" * 199,
    "zero width": "5\u200b g",
    "right to left": "\u202e5 g",
    "a null": "5\x00 g",
    "a lone surrogate": "\ud800 g",
    "lines": "5 g\n" * 40,
}

READERS = {
    "quantity": lambda text, system: read.quantity(text, system),
    "choice": lambda text, system: read.choice(text, system),
    "number": lambda text, system: read.number(text, system),
    "positive": lambda text, system: read.positive(text, MASS, system, want="x", example="5 g"),
    "leading": lambda text, system: read.leading(text, system, example="5 g"),
    "unit": lambda text, system: read.unit(text, system),
    "temperature": lambda text, system: read.temperature(text),
    "dimensions": lambda text, system: read.dimensions(text, system),
    "ratio": lambda text, system: read.ratio(text),
    "labelled": lambda text, system: read.labelled(text, LABELS, system),
    "fluid": lambda text, system: read.choice(text, system, oz_is="fluid"),
    "doubt": lambda text, system: read.choice(text, system, oz_is="doubt"),
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_text_is_refused_at_once(text):
    read.quantity("1 US gal per acre")  # the units are loaded once, not on this clock
    for name, reader in READERS.items():
        if name == "leading" and text.startswith("5 g\n"):
            continue  # what follows an amount is the caller's, whatever it is
        start = time.perf_counter()
        with pytest.raises(DoseError) as caught:
            reader(text, None)
        message = str(caught.value)
        assert time.perf_counter() - start < 0.1, name
        assert len(message) < 1000


# ---------------------------------------------------------------- any text at all

PIECES = [
    *"0123456789", "1", "2", "10", "100", "1/2", "1 1/2", "1,5", "1,500", "0.5", "000", "1e3",
    " ", " ", " ", "/", "/", " per ", "per", "-", " - ", " to ", "to", "\u2013", ",", ".", ":",
    " x ", "x", "\u00d7", "%", "% w/v", "% v/v", "w/w", "ppm", "\u00bd",
    "\u00be", "\u00b2", "\u00b3", "\u0663", "_", "'",
    '"', "(", ")", "+", "\u2212", "\u00b0", "C", "F", "deg", "nan", "inf", "oz", "oz by weight",
    "fl oz", "dry qt", "US", "imp", "metric", "AU", "sq", "cu", "square", "sq ft", "m2", "ft3",
    "B", "N", "P2O5", "borax", "10-10-10", "\n", "\t", "\u00a0", *words.FIXED, *words.VARYING,
]  # fmt: skip

grammar_like = st.lists(st.sampled_from(PIECES), max_size=14).map("".join)
spaced_grammar = st.lists(st.sampled_from(PIECES), max_size=8).map(" ".join)
a_number = st.sampled_from(["1", "2.5", "1 1/2", "\u00bc", "1,5", "3-4", "1 to 2", "0", "1,000"])
a_unit = st.sampled_from([*words.FIXED, *words.VARYING, "sq ft", "m2", "oz", "US gal", "imp pt"])
a_rate = st.builds(
    lambda number, unit, joint, below: f"{number} {unit}{joint}{below}",
    a_number,
    a_unit,
    st.sampled_from(["/", " per ", " / ", " per 100 ", "/1000 ", " ", " x ", ":"]),
    a_unit,
)
any_text = st.one_of(st.text(max_size=220), grammar_like, spaced_grammar, a_rate)
systems = st.sampled_from([None, *words.SYSTEMS])


def _is_sound(found: object) -> bool:
    """Whether all that a reader gave back is exact and not negative."""
    if isinstance(found, Measure):
        return type(found.value) is Fraction and found.value >= 0
    if isinstance(found, tuple):
        return all(_is_sound(part) for part in found)
    return found is None or type(found) in (Fraction, str, int)


@pytest.mark.parametrize("name", READERS)
@given(text=any_text, system=systems)
@settings(deadline=None, max_examples=200)
def test_any_text_is_read_or_refused_and_nothing_else(name, text, system):
    refusal = None
    try:
        found = READERS[name](text, system)
    except DoseError as caught:
        refusal = caught
    if refusal is None:
        assert _is_sound(found)
    else:
        assert str(refusal).endswith(".")
        assert refusal.exit_code == EXIT_REFUSED


@given(number=a_number, unit=a_unit, system=st.sampled_from(words.SYSTEMS))
@settings(deadline=None)
def test_a_number_before_a_unit_scales_that_unit(number, unit, system):
    try:
        one = read.quantity(f"1 {unit}", system, oz_is="weight")
        low, high = read.choice(f"{number} {unit}", system, oz_is="weight")
    except DoseError:
        return  # a measure that this country has not, a comma in doubt
    parts = re.split(r"-| to ", number)
    values = [read.number(part, system) for part in parts]
    assert [low] + ([] if high is None else [high]) == [one * value for value in values]

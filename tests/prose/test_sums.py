"""A sum that a page states is worked out again: the right ones pass in silence, wrong ones not."""

from __future__ import annotations

import time
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dosecalc.catalog.prose.senses import as_printed, difference
from dosecalc.catalog.prose.sums import wrong_sums
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.show import rounded
from dosecalc.units.words import SYSTEMS, System


def said(text: str, system: System | None = None) -> tuple[Say, ...]:
    return wrong_sums(tidy(text), system)


# What comes out and how far the page is off; the page stands above its sums.
WRONG = [
    # Measures for organic fertilizers (web page)
    # http://www.basic-info-4-organic-fertilizers.com/measures.html
    ("1 gallon = 769 teaspoons", None, "sum-is", "768 US tsp", "0.13 % too much"),
    ("769 teaspoons = 1 gallon", "us", "sum-is", "768 US tsp", "0.13 % too much"),
    ("1 gallon = 16 pints", "us", "sum-is", "8 US pt", "too much by a factor of 2"),
    ("1 gallon = 32 cups", None, "sum-is", "16 US cup", "too much by a factor of 2"),
    # Ready reckoner of US and imperial units (mailing-list post)
    # https://groups.yahoo.com/neo/groups/Distillers/conversations/topics/36?l=1
    ("it gives 1 US pint = 0.833 imperial pint and lists 1 US quart = 0.883 imperial quart", None,
     "sum-is", "0.83267 imp qt", "6 % too much"),
    # How to calculate liquid fertilizer (how-to)
    # http://www.gardenguides.com/125745-calculate-liquid-fertilizer.html
    ("the page says one acre is 4,840 square feet", None, "sum-is", "43560 sq ft",
     "too little by a factor of 9"),
    # Calibrating a backpack sprayer; the 1/128th rule (UF/IFAS county blog, 2022)
    # https://blogs.ifas.ufl.edu/alachuaco/2022/02/04/calibrating-a-backpack-sprayer-the-1-128th-rule/
    ("stake out 1/128th of an acre (example: 8.5 ft. by 18.5 ft)", None, "sum-comes",
     "0.00361 acre", "too much by a factor of 2.16"),
    ("8.5 ft. by 18.5 ft is 1/128th of an acre", None, "sum-comes", "0.00361 acre",
     "too much by a factor of 2.16"),
    ("18.5 ft x 8.5 ft = 1/128 acre", None, "sum-comes", "0.00361 acre",
     "too much by a factor of 2.16"),
    # synthetic: a third of a cup, rounded too far
    ("1/3 cup equals 6 tablespoons", "us", "sum-is", "5.3333 US tbsp", "12 % too much"),
    # Table of measurements (garden page)
    # http://www.nsei.net/measure.html
    ("1 gal per 100 gal shown as 12.8 fl oz per 10 gal, 6.4 per 5, 2.6 per 2, but 0.8 fl oz per"
     " 1 gal", None, "sum-row", "1.28 US fl oz", "38 % too little"),
    # Conversions (nursery page)
    # https://louisianasnursery.com/conversions
    ("a 3 cubic ft bag covers 12 sq. ft. @ 3\" depth and 24 sq. ft. @ 1\" depth", None,
     "sum-covers", "36 sq ft", "33 % too little"),
    # How much material do I need? (mulch yard guide)
    # http://debismulch.com/guide.html
    ("one cubic yard covers approximately: 160 square feet 2\" deep; 106 square feet 3\" deep;"
     " 30 square feet 12\" deep", None, "sum-covers", "27 sq ft", "11 % too much"),
    # How much compost do you really need? (garden page): half an inch, and 30 gal per 100 sq ft
    ("12.7 mm = 12.2 L/m2", None, "sum-is", "12.7 L/m2", "3.9 % too little"),
    # synthetic: slips of a digit, of feet and inches, of a rate's place
    ("340 ft / 6 ft = 75 ft", None, "sum-comes", "56.667", "32 % too much"),
    ("256 fluid ounces x 0.005 = 12.8 fluid ounces", "us", "sum-comes", "1.28 US fl oz",
     "too much by a factor of 10"),
    ("((75 lbs) x 100) / 80 = 104 lb/1000 square feet", None, "sum-comes", "93.75",
     "11 % too much"),
    ("(1 / 0.10) x 1,000 = 1,000", None, "sum-comes", "10000", "too little by a factor of 10"),
    ("4 ft x 8 ft x 3 in = 96 cubic feet", None, "sum-comes", "8 cu ft",
     "too much by a factor of 12"),
    ("4 x 8 ft x 3 in = 96 cubic feet", None, "sum-comes", "8 cu ft",
     "too much by a factor of 12"),
    ("4 x 8 ft (320 sq ft)", None, "sum-comes", "32 sq ft", "too much by a factor of 10"),
    ("20 x 2 % = 4", None, "sum-comes", "0.4", "too much by a factor of 10"),
    ("6 / 417 x 100 = 1.6 %", None, "sum-comes", "1.4388 %", "11 % too much"),
    ("1 lb per 100 sq ft = 4.88 g/m2", None, "sum-is", "48.824 g/m2",
     "too little by a factor of 10"),
    ("2-3 tbsp = 15-45 ml", "metric", "sum-is", "30 mL", "too little by a factor of 2"),
    ("2 lb 4 oz = 2.4 lb", None, "sum-is", "2.25 lb", "6.7 % too much"),
    ("3 teaspoons make 2 tablespoons", "us", "sum-is", "1 US tbsp", "too much by a factor of 2"),
    ("1 inch = 2.54 cm and 1 foot = 32 cm", None, "sum-is", "30.48 cm", "5 % too much"),
    ("12 in = 1 ft = 0.35 m", None, "sum-is", "0.3048 m", "15 % too much"),
    # synthetic: a feed and what it holds
    ("a 50-pound bag of 10-10-10 has 50 pounds of N", None, "sum-holds", "5 lb",
     "too much by a factor of 10"),
    ("10.86 pounds per gallon at 30% N is 32.6 pounds N per gallon", None, "sum-holds", "3.258 lb",
     "too much by a factor of 10"),
    ("5 lb of 10-10-10 per 100 sq ft gives 0.5 lb N per 1,000 sq ft", None, "sum-holds", "5 lb",
     "too little by a factor of 10"),
    ("100 lb of 5-10-10 contain 20 lb of P2O5", None, "sum-holds", "10 lb",
     "too much by a factor of 2"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system", "key", "right", "off"), WRONG)
def test_a_wrong_sum_is_said_with_what_comes_out(
    text: str, system: System | None, key: str, right: str, off: str
) -> None:
    says = said(text, system)
    assert [one.key for one in says] == [key]
    args = dict(says[0].args)
    assert args["right"] == right
    assert args["off"] == off
    sentence = says[0].english()
    assert right in sentence
    assert f"{off}." in sentence


RIGHT = [
    # Measures for organic fertilizers (web page)
    # http://www.basic-info-4-organic-fertilizers.com/measures.html
    ("1 teaspoon = 60 drops\n1 ounce = 360 drops\na pinch = 1/16 teaspoon", None),
    ("1 cup = 16 tablespoons (8 ounces liquid)\n1 quart = 2 pints\n4 quarts = 1 gallon", "us"),
    ("1 rod = 16 1/2 feet = 5 1/2 yards; 1 peck = 8 quarts; 1 sq. yd. = 9 sq. ft.", "us"),
    # Fertilizer conversion table for small area (LSU AgCenter)
    # https://www.lsuagcenter.com/portals/our_offices/departments/spess/servicelabs/soil_testing_lab/faq/fertilizer-conversion-table-for-small-area
    ("1 acre is equal to 43,560 square feet; 1 pint equals 2 cups", "us"),
    # Useful tables and calculations (county weeds page)
    # http://www.mycowlitz.com/noxiousweeds/Tables_Calculations.htm
    ("2 tablespoons = 1 oz and 1 oz = 28.4 grams", "us"),
    # Calculating the appropriate amount of fertilizer (web article): right as bare numbers
    # https://www.zdwords.com/how-can-i-calculate-the-appropriate-amount-of-fertilizer-to-use-139743.htm
    ("(1 / 0.10) x 1,000 = 10,000", None),
    # How much product to add in handheld sprayers? (Illinois bulletin, 2006)
    # http://bulletin.ipm.illinois.edu/article.php?id=539
    ("0.5% in a 2-gallon sprayer: 256 fluid ounces x 0.005 = 1.28 fluid ounces", "us"),
    # Home lawn: limestone guidelines (Penn State soil report notes)
    # http://agsci.psu.edu/aasl/online-report/home-lawn-maintain
    ("CCE 80%: ((75 lbs) x 100) / 80 = 94 lb/1000 square feet", None),
    # Backpack sprayer calibration worksheet (NC State Extension)
    # https://christmastrees.ces.ncsu.edu/backpack-sprayer-calibration-worksheet/
    ("340 ft / 6 ft = 57 ft; 7.5 oz caught = 7.5 gal/acre; 8 oz per acre / 7.5 = 1.06 oz per"
     " gallon; x 30 = 96 mL", "us"),
    # Calibrating your sprayer (county weed and pest page)
    # http://albanycountyweedandpest.com/calibrating-your-sprayer.html
    ("GPA = 5940 x GPM / (mph x inches): 480 ounces in a minute, 5 mph, 222 inches = 20 GPA", None),
    # How to calculate liquid fertilizer (how-to)
    # http://www.gardenguides.com/125745-calculate-liquid-fertilizer.html
    ("10.86 pounds per gallon at 30% N is 3.26 pounds N per gallon", "us"),
    # Farm measurement equivalents for the home gardener, and another page's bag
    # https://cropideas.net/gardenmeasure.html
    ("a 50-pound bag of 10-10-10 has 5 pounds of N", None),
    # What area does a bag of mulch cover? (reference answer)
    # https://www.reference.com/science/much-area-bag-mulch-cover-d4b89d47998f28ca
    ("a 2-cubic-foot bag covers 6 square feet at 4 inches, 8 at 3 inches and 12 at 2 inches", None),
    # Mark out a plot (hand-sprayer method of several extension services)
    ("18.5 ft x 18.5 ft = 1/128 acre; 1/128 acre (for example 18.5 ft x 18.5 ft)", None),
    # Insecticidal soap spray (garden page)
    # http://knot2worry.us/Insecticidal_Soap_Spray.html
    ("1 tablespoon is 14.8 ml, a quart is 946 ml", "us"),
    # Fertilizer calculations (garden pages): bare numbers with a unit behind
    ("1/.47 = 2.1 lbs of 47-0-0; 1.6 x 7 = 11.2 oz; 2 divided by 0.20 equals 10", None),
    # synthetic: as people round
    ("1 gal = 3.78 L, 1 lb = 453 g, 1 quart = 950 ml, 1 cup = 240 ml, 1 acre = 4,000 m2", "us"),
    ("1.94 oz = 55.1 g; 43,560 sq ft = 0.405 ha; 100 ml = 3.4 fl oz; 2.5 cm = 1 inch", "us"),
    ("1 inch or about 60 gallons per 100 sq ft", "us"),
    ("1.5 x 0.10 / 3.785 = 39.6 mg/L", None),
    ("1 gal per 100 gal = 12.8 fl oz per 10 gal, 6.4 per 5, 2.6 per 2 and 1.3 fl oz per gal", "us"),
    ("40 ft x 25 ft = 1,000 sq ft; 12 x 15 ft = 180 sq ft; 3 x 4 x 8 ft = 96 sq ft", None),
    ("2 tbsp/gal x 3 gal = 6 tbsp; 2 lb x 16 = 32 oz; 5 gal x 128 = 640 fl oz", "us"),
    ("6 / 417 x 100 = 1.44 %; 10 / 100 = 10 %", None),
    # synthetic: whose measure it is
    ("1 gallon = 768 teaspoons", None),
    ("1 tablespoon = 4 teaspoons", None),
    ("the imperial fluid ounce is 1/20 pint", "us"),
    ("in Australia the tablespoon is 20 ml", "us"),
    # synthetic: no sums
    ("1 quart makes 4 gallons of spray", "us"),
    ("a 2 gallon can of 1 quart is 3 pints short", "us"),
    ("plots of 4 x 8 ft = 96 sq ft; 3 beds 4 x 8 ft = 96 sq ft", None),
    ("1 gallon = 4 gallons; 1 pint = 12 oz of urea; 1 US gal is 5 gal too much", "us"),
    ("GPA = 5940; 1 = ; = 1; 1 + = 2; 1 / 0 = 5; 0 gal = 3 qt; 3 qt = 0 gal", "us"),
    ("2 tbsp per gallon, 1 cup per 10 gal, 3 tbsp per 5 gal, 1 pint per 8 gal", "us"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "system"), RIGHT)
def test_a_right_sum_or_no_sum_at_all_passes_in_silence(text: str, system: System | None) -> None:
    assert [one.english() for one in said(text, system)] == []


@pytest.mark.parametrize(
    ("text", "right", "wrong"),
    [
        ("1 gallon = 768 teaspoons", "us", "imperial"),
        ("1 tablespoon = 4 teaspoons", "australian", "us"),
        ("1 cup is 250 ml", "metric", "us"),
        ("1 gallon is 4.55 litres", "imperial", "us"),
    ],
)
def test_a_country_word_is_taken_as_told(text: str, right: System, wrong: System) -> None:
    assert said(text, right) == ()
    assert len(said(text, wrong)) == 1


@pytest.mark.parametrize(
    ("printed", "value", "right"),
    [
        ("94", "93.75", True), ("94", "93.3", False), ("1.28", "1.2849", True),
        ("1.28", "1.29", False), ("28.4", "28.349523125", True), ("3.78", "3.785411784", True),
        ("3.77", "3.785411784", False), ("14", "14.787", False), ("43,600", "43560", True),
        ("43,000", "43560", False), ("240", "236.588", True), ("250", "236.588", False),
        ("1/3", "0.327", True), ("1/3", "0.32", False), ("769", "768", False),
        ("2,5", "2.54", True), ("2,5", "2.6", False),
    ],
)  # fmt: skip
def test_a_figure_is_right_as_people_round_it(printed: str, value: str, right: bool) -> None:
    assert as_printed(printed, Fraction(value)) == right


def test_about_allows_two_percent_and_a_round_figure_five() -> None:
    assert as_printed("76.4", Fraction(75), about=True)
    assert not as_printed("76.6", Fraction(75), about=True)
    assert as_printed("60", Fraction("62.3"), about=True)
    assert not as_printed("60", Fraction("62.3"))
    assert not as_printed("60", Fraction(64), about=True)


def test_a_difference_is_told_in_percent_below_twofold_and_as_a_factor_from_there() -> None:
    assert str(difference(Fraction(199), Fraction(100))) == "99 % too much"
    assert str(difference(Fraction(2), Fraction(1))) == "too much by a factor of 2"
    assert str(difference(Fraction(51), Fraction(100))) == "49 % too little"
    assert str(difference(Fraction(1), Fraction(9))) == "too little by a factor of 9"


KINDS = (
    ("g", "kg", "lb", "oz by weight", "mg"),
    ("ml", "L", "fl oz", "pint", "quart", "gallon", "cup", "tbsp", "tsp", "cubic feet"),
    ("sq ft", "sq yd", "m2", "acre", "ha"),
    ("in", "ft", "yd", "cm", "m"),
)


@given(kind=st.sampled_from(KINDS), data=st.data(), system=st.sampled_from(SYSTEMS))
def test_every_identity_of_the_closed_list_holds_and_its_tenth_too_much_does_not(
    kind: tuple[str, ...], data: st.DataObject, system: System
) -> None:
    one, other = data.draw(st.permutations(kind))[:2]
    known = [unit for unit in (one, other) if (system, unit) not in MISSING]
    assume(len(known) == 2)
    unit = read.quantity(f"1 {other}", system).unit
    value = read.quantity(f"1 {one}", system).amount_in(unit)
    right, step = rounded(value, 5)
    wrong, _ = rounded(value * Fraction(11, 10), 5)
    assume(step < value / 1000 and Fraction(wrong) != Fraction(right))
    assume(Fraction(right) >= Fraction(1, 10**6))
    assert said(f"1 {one} = {right} {other}", system) == ()
    (say,) = said(f"1 {one} = {wrong} {other}", system)
    assert dict(say.args)["right"].split()[0] == right
    assert dict(say.args)["off"] == "10 % too much"


MISSING = {("metric", unit) for unit in ("fl oz", "pint", "quart", "gallon")}

PIECES = [
    "1", "0", "1/0", "0/1", "1,000", "999999999999999999999", "12.5", "1 1/2", "-", "(", ")", "=",
    "x", "/", "+", "%", ":", ",", ";", ".", "\n", " ", "per", "is", "or about", "makes", "gal",
    "tsp", "lb", "oz", "acre", "sq ft", "ft", "by", "of", "a", "10-10-10", "99-99-99", "N",
    "nitrogen", "borax", "water", "solution", "covers", "at", "has", "for", "weighs", "cup", "1:1",
    "\u20ac", "\u00b0", "[", "]", "*", "@", "->", "about", "to", "gr", "2 lb 4 oz", "heaped",
]  # fmt: skip


@settings(deadline=None)
@given(parts=st.lists(st.sampled_from(PIECES), max_size=60), system=st.sampled_from([None, "us"]))
def test_no_text_is_refused_and_every_line_can_be_read(
    parts: list[str], system: System | None
) -> None:
    for text in (" ".join(parts), "".join(parts)):
        for one in wrong_sums(text, system):
            assert one.english()


@settings(deadline=None)
@given(text=st.text(max_size=200))
def test_no_signs_at_all_are_refused(text: str) -> None:
    assert isinstance(wrong_sums(text, None), tuple)


@pytest.mark.parametrize(
    "piece",
    [
        "(", "1 = ", "1 x ", "999999999999999 x ", "1/0 = ", "1 gal = ", "1 gal per 1 gal, ",
        "1/7 + ", "a gallon is ", "1 cup covers 1 sq ft at 1 in, ", "1 lb of 10-10-10 has 1 lb N ",
        "zzz qqq 1 foo ", "((((1))))", "1 lb 1 oz ",
    ],
)  # fmt: skip
def test_a_hostile_text_of_full_length_takes_no_time(piece: str) -> None:
    text = (piece * 2000)[:2000]
    start = time.perf_counter()
    wrong_sums(text, None)
    assert time.perf_counter() - start < 3

"""Texts one sign apart never mean the same, and no word of an accepted text can be lost unseen."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from dosecalc.errors import DoseError
from dosecalc.units import engine, read, words
from dosecalc.units.measure import NONE, Measure
from tests.units.test_read import ACCEPTED, CHOICES

LABELS = frozenset({"B", "N", "P", "P2O5", "K", "K2O"})

BASE = {
    "[length]": "meter", "[mass]": "gram", "[time]": "second", "[temperature]": "kelvin",
    "[plant]": "plant", "[pot]": "pot",
}  # fmt: skip


def in_si(amount: Measure) -> tuple[object, Fraction]:
    """The amount as its dimension and its number of SI units: equal when it is one amount."""
    dim = engine.dimension(amount.unit)
    if not {name for name, _ in dim} <= set(BASE):  # a share of one kind: no unit is left in it
        return dim, amount.amount_in(NONE)
    si = tuple(sorted((BASE[name], power) for name, power in dim))
    return dim, amount.amount_in(si)


def meaning(text: str, system: words.System | None) -> object:
    """What a text means, whichever reader it is for; None when it is refused."""
    try:
        low, high = read.choice(text, system)
    except DoseError:
        return None
    return in_si(low), None if high is None else in_si(high)


def labelled_meaning(text: str, system: words.System | None) -> object:
    try:
        amount, label = read.labelled(text, LABELS, system)
    except DoseError:
        return None
    return in_si(amount), label


def sizes_meaning(text: str, system: words.System | None) -> object:
    try:
        sizes = read.dimensions(text, system)
    except DoseError:
        return None
    return tuple(in_si(size) for size in sizes)


def ratio_meaning(text: str, _system: words.System | None) -> object:
    try:
        return read.ratio(text)
    except DoseError:
        return None


def temperature_meaning(text: str, _system: words.System | None) -> object:
    try:
        return read.temperature(text)
    except DoseError:
        return None


# (one text, whose measures, another text, whose measures)
PAIRS = [
    # T is a tablespoon, t a tonne
    ("1 T", "us", "1 t", "us"),
    ("1 T", "metric", "1 t", "metric"),
    ("1 T", "us", "1 tsp", "us"),
    ("1 tbsp", "us", "1 tsp", "us"),
    ("1 Tbs", "us", "1 tsp", "us"),
    # weight and fluid ounces
    ("2 oz", "us", "2 fl oz", "us"),
    ("2 oz by weight", "us", "2 fl oz", "us"),
    ("2 oz by weight", "imperial", "2 fl oz", "imperial"),
    ("1 oz by weight/gal", "us", "1 fl oz/gal", "us"),
    ("1 oz/acre", "us", "1 fl oz/acre", "us"),
    # fractions
    ("1 1/2 tsp", None, "11/2 tsp", None),
    ("1 1/2 tsp", None, "1/2 tsp", None),
    ("1 1/2 tsp", None, "1 1/3 tsp", None),
    ("2 1/4 lb", None, "21/4 lb", None),
    ("1\u00bd tsp", None, "\u00bd tsp", None),
    ("1/2 tsp", None, "1-2 tsp", None),
    ("1/2 tsp", None, "1 2 tsp", None),
    ("1-2 tsp", None, "12 tsp", None),
    ("1-1/2 tsp", None, "1-2 tsp", None),
    ("1-1/2 tsp", None, "1 - 1/2 tsp", None),
    # commas and points
    ("1,5 L", None, "1,500 L", "us"),
    ("1,5 L", None, "15 L", None),
    ("1,500 g", "us", "1.500 g", "us"),
    ("1,500 g", None, "1.500 g", None),
    ("1,500 g", None, "1500 g", None),
    ("1,500 g", "metric", "1500 g", "metric"),
    ("0,500 g", "us", "500 g", "us"),
    ("01,500 g", "us", "1.5 g", "us"),
    ("1.5 g", None, "15 g", None),
    ("0.05 g", None, "0.5 g", None),
    ("1.500 g", None, "1500 g", None),
    # a thousandfold
    ("5 mg", None, "5 g", None),
    ("5 g", None, "5 kg", None),
    ("5 ug", None, "5 mg", None),
    ("5 mL", None, "5 L", None),
    ("5 uL", None, "5 mL", None),
    ("5 mm", None, "5 m", None),
    ("5 mg/L", None, "5 g/L", None),
    ("5 kg/ha", None, "5 g/ha", None),
    ("5 kg/ha", None, "5 t/ha", None),
    ("5 Mg", None, "5 mg", None),
    ("5 ML", None, "5 mL", None),
    # nearly one word
    ("5 m", None, "5 min", None),
    ("5 m", None, "5 mi", None),
    ("5 min", None, "5 month", None),
    ("5 are", None, "5 acre", None),
    ("5 ac", None, "5 are", None),
    ("5 h", None, "5 ha", None),
    ("5 hL", None, "5 L", None),
    ("5 pt", "us", "5 pot", "us"),
    ("5 pots", None, "5 plants", None),
    ("5 c", "us", "5 cup", "us"),
    ("5 in", None, "5 min", None),
    ("5 g", None, "5 gal", "us"),
    # per gallon, per hundred gallons
    ("1 lb per gal", "us", "1 lb per 100 gal", "us"),
    ("1 tbsp per gal", "us", "1 tbsp per 100 gal", "us"),
    ("1 tsp per gal", "us", "1 tsp per L", "us"),
    ("1 lb per gal", "us", "1 lb per acre", "us"),
    # ft, sq ft, cu ft
    ("1 lb per 100 ft", None, "1 lb per 100 sq ft", None),
    ("1 lb per 100 sq ft", None, "1 lb per 100 cu ft", None),
    ("1 lb per 100 sq ft", None, "1 lb per 1000 sq ft", None),
    ("5 ft", None, "5 sq ft", None),
    ("5 ft2", None, "5 ft3", None),
    ("5 yd", None, "5 cu yd", None),
    ("5 m", None, "5 m2", None),
    ("5 g/m", None, "5 g/m2", None),
    ("5 sq ft", None, "5 sq yd", None),
    ("5 sq in", None, "5 in", None),
    # an acre is 435.6 times 100 sq ft
    ("1 lb per acre", None, "1 lb per 100 sq ft", None),
    ("1 lb per acre", None, "1 lb per ha", None),
    ("1 lb per acre", None, "1 kg per ha", None),
    # weight in weight, volume in volume
    ("5 g/kg", None, "5 mL/L", None),
    ("1 g/g", None, "1 mL/mL", None),
    ("5 g/kg", None, "5 mg/kg", None),
    ("5 mL/L", None, "5 uL/L", None),
    ("5 g/L", None, "5 g/kg", None),
    ("2 % w/v", None, "2 % v/v", None),
    ("2 % w/v", None, "2 % w/w", None),
    ("2 % v/v", None, "2 % w/w", None),
    ("2 % w/v", None, "2 %", None),
    ("2 % w/v", None, "2 g/L", None),
    ("5 g/L", None, "5 mL/L", None),
    # whose measures
    ("1 gal", "us", "1 gal", "imperial"),
    ("1 US gal", None, "1 imp gal", None),
    ("1 gal", None, "1 US gal", None),
    ("1 gal", None, "1 imp gal", None),
    ("1 pt", "us", "1 pt", "imperial"),
    ("1 qt", "us", "1 qt", "imperial"),
    ("1 fl oz", "us", "1 fl oz", "imperial"),
    ("1 cup", "us", "1 cup", "metric"),
    ("1 cup", "us", "1 cup", "imperial"),
    ("1 tbsp", "us", "1 tbsp", "metric"),
    ("1 tbsp", "us", "1 tbsp", "australian"),
    ("1 tbsp", "metric", "1 tbsp", "australian"),
    ("1 tsp", "us", "1 tsp", "metric"),
    ("1 tsp", "us", "1 tsp", None),
    ("1 ton", "us", "1 ton", "imperial"),
    ("1 ton", "us", "1 tonne", "us"),
    ("1 ton", "imperial", "1 t", "imperial"),
    ("1 cwt", "us", "1 cwt", "imperial"),
    ("1 bushel", "us", "1 bushel", "imperial"),
    ("1 lb/gal", "us", "1 lb/gal", "imperial"),
    # dry and liquid
    ("1 dry qt", "us", "1 qt", "us"),
    ("1 dry pt", "us", "1 pt", "us"),
    # two parts
    ("15 ft 6 in", None, "15.6 ft", None),
    ("15 ft 6 in", None, "156 in", None),
    ("2 lb 4 oz", None, "2.4 lb", None),
    ("2 lb 4 oz", None, "24 oz by weight", None),
    ("1 h 30 min", None, "1.3 h", None),
]  # fmt: skip

LABELLED_PAIRS = [
    ("1 lb P/acre", "1 lb P2O5/acre"), ("1 lb K/acre", "1 lb K2O/acre"), ("1 lb P", "1 lb P2O5"),
    ("1 lb N/acre", "1 lb/acre"), ("1 lb N/acre", "1 lb N"), ("1 lb B/acre", "1 lb N/acre"),
    ("1 lb B/acre", "1 lb b/acre"), ("1 lb N per 1000 ft", "1 lb N per 1000 sq ft"),
]  # fmt: skip

OTHER_PAIRS = [
    (temperature_meaning, "20 C", "20 F"), (temperature_meaning, "2 C", "-2 C"),
    (temperature_meaning, "20 C", "2 C"), (temperature_meaning, "20 deg F", "20 deg C"),
    (ratio_meaning, "1:10", "10:1"), (ratio_meaning, "1:10", "1:100"),
    (ratio_meaning, "1:1,5", "1:1,500"), (ratio_meaning, "1 1/2:3", "11/2:3"),
    (sizes_meaning, "4 x 8 ft", "4 x 8 in"), (sizes_meaning, "4 x 8 ft", "48 ft"),
    (sizes_meaning, "4 x 8 ft", "8 x 4 ft"), (sizes_meaning, "4 m x 8 ft", "4 x 8 ft"),
    (sizes_meaning, "4 x 8 ft", "4 x 8 sq ft"), (sizes_meaning, "1,2 x 8 m", "12 x 8 m"),
]  # fmt: skip


@pytest.mark.parametrize(("one", "system", "other", "its_system"), PAIRS)
def test_a_minimal_pair_is_never_one_thing(one, system, other, its_system):
    assert (one, system) != (other, its_system)
    left, right = meaning(one, system), meaning(other, its_system)
    assert (left, right) != (None, None), "two refusals would prove nothing"
    assert left != right


@pytest.mark.parametrize(("one", "other"), LABELLED_PAIRS)
def test_a_labelled_minimal_pair_is_never_one_thing(one, other):
    left, right = labelled_meaning(one, None), labelled_meaning(other, None)
    assert (left, right) != (None, None)
    assert left != right


@pytest.mark.parametrize(("way", "one", "other"), OTHER_PAIRS)
def test_other_minimal_pairs_are_never_one_thing(way, one, other):
    left, right = way(one, None), way(other, None)
    assert (left, right) != (None, None)
    assert left != right


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("16 oz by weight", "1 lb"), ("1 US gal", "128 US fl oz"), ("1 acre", "43560 sq ft"),
        ("1 L/m2", "1 mm"), ("1,5 L", "1.5 L"), ("5 g/kg", "80 oz by weight per 1000 lb"),
        ("5 mL/L", "5 US gal per 1000 US gal"), ("2 % w/v", "20 g/L"),
        ("2 % v/v", "20 mL/L"), ("\u00bd tsp", "1/2 tsp"), ("5 cc", "5 mL"),
    ],
)  # fmt: skip
def test_one_thing_in_two_wordings_is_found_to_be_one(one, other):
    # else the tests above would pass whatever the reader did
    assert meaning(one, None) == meaning(other, None) is not None


@pytest.mark.parametrize("system", words.SYSTEMS)
def test_only_t_changes_its_meaning_with_its_capital(system):
    spelled = dict(words.FIXED)
    spelled |= {word: sizes[system] for word, sizes in words.VARYING.items() if system in sizes}
    clashes = {
        (one, other)
        for one, name in spelled.items()
        for other, its_name in spelled.items()
        if one < other and one.lower() == other.lower() and name != its_name
    }
    assert clashes == {("T", "t")}


# ---------------------------------------------------------------- deletions

_TOKEN = re.compile(r"\d+(?:[.,]\d+)*|\.\d+|[A-Za-z.]+|\S")


def shortened(text: str) -> list[str]:
    """The text without each of its words, numbers and signs in turn."""
    return [text[: token.start()] + text[token.end() :] for token in _TOKEN.finditer(text)]


def test_shortened_drops_one_word_at_a_time():
    assert shortened("2 lb/1,000 sq ft") == [
        " lb/1,000 sq ft", "2 /1,000 sq ft", "2 lb1,000 sq ft", "2 lb/ sq ft",
        "2 lb/1,000  ft", "2 lb/1,000 sq ",
    ]  # fmt: skip


TEXTS = [row[:2] for row in (*ACCEPTED, *CHOICES)]


@pytest.mark.parametrize(("text", "system"), TEXTS)
def test_no_word_of_an_accepted_text_can_be_dropped_unseen(text, system):
    whole = meaning(text, system)
    assert whole is not None
    same = [short for short in shortened(text) if meaning(short, system) == whole]
    assert same == []


@pytest.mark.parametrize(
    "text",
    [
        "1.5 lb B/acre", "2 lb N per 1000 sq ft", "3 kg P2O5/ha", "3 kg K2O/ha", "1 oz B",
        "1 1/2 oz B per 100 ft", "1 oz B/US gal",
    ],
)  # fmt: skip
def test_no_word_of_a_labelled_text_can_be_dropped_unseen(text):
    whole = labelled_meaning(text, None)
    assert whole is not None
    assert [short for short in shortened(text) if labelled_meaning(short, None) == whole] == []


@pytest.mark.parametrize(
    ("way", "text"),
    [
        (sizes_meaning, "4 x 8 ft"), (sizes_meaning, "1.2 m x 8 ft"), (sizes_meaning, "4x8 ft"),
        (sizes_meaning, "15 ft 6 in x 8 ft"), (sizes_meaning, "75 cm x 30 m"),
        (ratio_meaning, "1:100"), (ratio_meaning, "1 to 100"), (ratio_meaning, "1 1/2 : 100"),
        (temperature_meaning, "20 C"), (temperature_meaning, "-2 C"), (temperature_meaning, "68 F"),
    ],
)  # fmt: skip
def test_no_word_of_another_accepted_text_can_be_dropped_unseen(way, text):
    whole = way(text, None)
    assert whole is not None
    assert [short for short in shortened(text) if way(short, None) == whole] == []

"""What growers write is read as a careful person reads it, or refused with every reading."""

from __future__ import annotations

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog.lookup import find_recipe, recipe_ids
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.catalog.recipe import Recipe, Statement
from dosecalc.errors import DoseError
from dosecalc.faces.prose import in_words
from dosecalc.units.measure import exact_text
from dosecalc.units.words import System


def shape(statement: Statement) -> tuple[object, ...]:
    """A statement as what it asks for: everything but its print."""
    return (
        statement.basis,
        statement.per,
        [(i.material, i.amount, i.to, i.nutrient) for i in statement.ingredients],
        None if statement.water is None else statement.water.amount,
    )


def brief(reading: Reading) -> str:
    """A reading in one line."""
    one = reading.recipe.statements[0]
    parts = [
        f"{exact_text(i.amount)}{'' if i.to is None else ' to ' + exact_text(i.to)}"
        f"{'' if i.nutrient is None else ' ' + i.nutrient} {i.material}"
        for i in one.ingredients
    ]
    water = "" if one.water is None else f" in {exact_text(one.water.amount)}"
    return f"{' + '.join(parts)}{water} per {exact_text(one.per)} {one.basis}"


@pytest.mark.parametrize(
    ("text", "system", "read"),
    [
        ("2.5 tbsp of borax per 100 ft of row", "us", "5/2 US tbsp borax per 100 ft row length"),
        ("borax: 2½ Tbsp/100 ft row", "us", "5/2 US tbsp borax per 100 ft row length"),
        ("Borax\n2 1/2 tbsp\nper 100' of row", "us", "5/2 US tbsp borax per 100 ft row length"),
        ("two and a half level tablespoons of borax for every 100 feet of row", "us",
         "5/2 US tbsp borax per 100 ft row length"),
        ("2,5 g borax per m²", None, "5/2 g borax per 1 m2 area"),
        ("half a teaspoon of borax over 3 m of row", None,
         "1/2 metric tsp borax per 3 m row length"),
        ("1-2 tbsp Epsom salt / gallon", "us",
         "1 US tbsp to 2 US tbsp epsom-salt per 1 US gal spray volume"),
        ("1 to 2 tbsp Epsom salt per gallon of water", "us",
         "1 US tbsp to 2 US tbsp epsom-salt per 1 US gal spray volume"),
        ("a heaped teaspoon of borax per 10 m of row", None,
         "1 metric tsp to 2 metric tsp borax per 10 m row length"),
        ("1 lb 4 oz of bone meal per 100 sq ft", "us", "5/4 lb bone-meal per 100 ft2 area"),
        ("30 g urea plus 20 g borax per 10 m2", None,
         "30 g urea + 20 g borax per 10 m2 area"),
        ("For 10 sq m use 100 g of borax", None, "100 g borax per 10 m2 area"),
        ("Dissolve 5 g of borax in 1 L of water and pour on 10 m2", None,
         "5 g borax in 1 L per 10 m2 area"),
        ("fish emulsion, 2 tablespoons to the gallon", "us",
         "2 US tbsp fish-emulsion per 1 US gal spray volume"),
        ("3 pounds of 10-10-10 per 100 square feet and work into the top 6 inches of soil.", "us",
         "3 lb feed-10-10-10 per 100 ft2 area"),
        ("2 to 3 tablespoons of 10-10-10 around each plant", "us",
         "2 US tbsp to 3 US tbsp feed-10-10-10 per 1 plant plant"),
        ("0.2% w/v borax solution", None, "2 g borax per 1 L spray volume"),
        ("1 lb/100 gal wettable sulfur", "us", "1 lb wettable-sulfur per 100 US gal spray volume"),
        ("2 t/ha ground limestone", None, "2 t ground-limestone per 1 ha area"),
        ("3 inches of straw", None, "3 in straw per 1 m2 layer"),
        ("compost 3 inches deep over 4x8 ft", None, "3 in garden-compost per 32 ft2 layer"),
        ("10 g of urea per plant", None, "10 g urea per 1 plant plant"),
        ("1 tsp of 10-10-10 per gallon of potting mix", "us",
         "1 US tsp feed-10-10-10 per 1 US gal medium volume"),
        ("4 lb dolomitic lime per cubic yard", "us",
         "4 lb dolomitic-limestone per 1 yd3 medium volume"),
        ("50 kg N/ha from urea", None, "50 kg N urea per 1 ha area"),
        ("1.5 lb B per acre as borax", "us", "3/2 lb B borax per 1 acre area"),
        ("150 mg/L N from urea", None, "150 mg N urea per 1 L spray volume"),
        ("20-20-20 at 200 ppm N", None, "200 mg N feed-20-20-20 per 1 L spray volume"),
        ("2 % w/v soft soap", None, "20 g soft-soap per 1 L spray volume"),
        ("0.5 % v/v dormant oil in water", None, "5 mL horticultural-oil per 1 L spray volume"),
        ("1 part milk to 9 parts water", None, "100 mL milk per 1 L spray volume"),
        ("copper sulfate and hydrated lime 4-4-50", "imperial",
         "4 lb copper-sulfate-pentahydrate + 4 lb hydrated-lime per 50 imp gal spray volume"),
        ("2 tbsp of 5-10-10 per gallon; 1 cup per plant", "us",
         "1/8 US tbsp feed-5-10-10 in 1 US cup per 1 plant plant"),
        ("a teaspoon of borax in a pint and a half of water, poured along 5 m of row", "us",
         "1 US tsp borax in 3/2 US pt per 5 m row length"),
        ("1 tsp of borax in 12 ounces of water, enough for 15 feet of row", "us",
         "1 US tsp borax in 12 US fl oz per 15 ft row length"),
        ("1/2 oz borax per 24 row feet", "us", "1/2 oz borax per 24 ft row length"),
        ("1 tbsp of borax in 1 gallon of water and water 100 feet of row with it", "us",
         "1 US tbsp borax in 1 US gal per 100 ft row length"),
        ("40 % milk and 60 % water", None, "400 mL milk per 1 L spray volume"),
        ("1 tbsp each of bone meal, blood meal and gypsum per gallon of potting mix", "us",
         "1 US tbsp bone-meal + 1 US tbsp blood-meal + 1 US tbsp gypsum per 1 US gal medium"
         " volume"),
        ("0.6 oz blood meal (17 g) 0.4 oz bone meal (11.3 g) per gallon of mix", "us",
         "17 g blood-meal + 113/10 g bone-meal per 1 US gal medium volume"),
        ("one tablespoon of bone meal is needed for every two square feet", "us",
         "1 US tbsp bone-meal per 2 ft2 area"),
        ("borax (11 % boron): 1 tbsp per 100 ft of row", "us",
         "1 US tbsp borax per 100 ft row length"),
    ],
)  # fmt: skip
def test_each_notation_is_read(text: str, system: System | None, read: str) -> None:
    assert brief(read_text(text, system)) == read


@pytest.mark.parametrize(
    ("text", "system", "shown"),
    [
        ("1 tbsp borax per gallon of water", None, ["3.785 L", "4.546 L"]),
        ("1 tbsp borax per 100 ft of row", None, ["14.79 mL", "20 mL"]),
        ("2 oz neem oil per gallon", "us", ["28.35 g", "fl oz"]),
        ("2% soft soap", None, ["2 % v/v", "20 mL", "2 % w/v", "20 g"]),
        ("1:100 neem oil", None, ["9.9 mL", "10 mL", "990 mL"]),
        ("a handful of bone meal per m2", None, ["30 g", "115 g", "weigh"]),
        ("2 capfuls of fish emulsion per gallon", "us", ["fill yours with water"]),
        ("a pinch of borax per plant", None, ["part of a teaspoon"]),
        ("1 bag of compost over 10 m2", None, ["its volume or weight"]),
        ("1 kg of urea per tree", None, ["per plant", "crown"]),
        ("2 tbsp GroMax per gallon", "us", ["GroMax", "brand"]),
        ("20-20-20 at 200 ppm", None, ["200 ppm N"]),
        ("2 lb bone meal per 40-foot square", "us", ["3.72 m2", "149 m2"]),
        ("5 g boron per 10 m2", None, ["567 mg", "874 mg", "5 g B"]),
        ("1 lb P per 1000 sq ft from bone meal", "us", ["actual P", "P2O5", "2.29"]),
        ("50 kg N/ha", None, ["from urea"]),
        ("2 lb of 12-4-8 per 100 m2", "metric", ["4 % P2O5 (1.75 % P)", "--region"]),
        ("copper sulfate and lime 4-4-50", "us", ["hydrated lime", "quicklime"]),
        ("copper sulfate and hydrated lime 4-4-50", None, ["3.785 L", "4.546 L"]),
        ("10-10-100 per gallon", "us", ["more than 100"]),
        ("1 gallon of milk to 9 gallons of water", "us", ["34.1 L", "37.9 L"]),
        ("5 kg urea per mu", None, ["667 m2", "4047 m2"]),
        ("30 drops of neem oil per litre", None, ["make 1 mL"]),
        ("biweekly 1 g borax per m2", None, ["14 days", "3 days"]),
        ("5 gr borax per m2", None, ["0.065 g"]),
        ("1,500 g borax per m2", None, ["1.5", "1500"]),
        ("2 spoons of borax per m2", None, ["teaspoon", "tablespoon"]),
        ("1 tbsp borax or boric acid per 100 ft of row", "us", ["choice"]),
        ("up to 5 lb of gypsum per 100 sq ft", "us", ["any amount below"]),
        ("do not use 1 tbsp borax per 100 ft of row", "us", ["turn a recipe round"]),
        ("1 tbsp borax", "us", ["per gallon of water", "per plant"]),
        ("1 tbsp borax per gallon GroMax", "us", ["not understood"]),
        ("1 oz in 2 gallons of urea", "us", ["not understood"]),
        ("1 tbsp borax per 100 ft, then 2 tbsp per 100 ft", "us", ["second rate"]),
        ("5 g borax per m2 and 1 g urea per plant", None, ["second rate"]),
        ("5 g borax and 5 g borax per m2", None, ["twice"]),
        ("1 tbsp borax per can", "us", ["its volume"]),
        ("-5 g borax per m2", None, ["minus"]),
        ("2 pounds N per square feet from 10-10-10", "us", ["how many square feet"]),
        ("1 tbsp borax per gallons", "us", ["how many gallons"]),
        ("100 g borax to 10 m2 for deficiency sq ft", None, ["not understood"]),
        ("1 tbsp borax in tablespoon of water over 100 ft of row", "us", ["not understood"]),
        ("3 times 1 tbsp borax per 100 ft of row", "us", ["how often, or how much"]),
        ("1 t borax per gallon", "us", ["teaspoon or a tonne"]),
        ("1 tbsp per foot of plant height", "us", ["plant height"]),
    ],
)  # fmt: skip
def test_a_doubt_shows_its_readings(text: str, system: System | None, shown: list[str]) -> None:
    with pytest.raises(DoseError) as caught:
        read_text(text, system)
    said = str(caught.value)
    assert [part for part in shown if part not in said] == [], said


def test_two_wordings_become_two_whole_statements() -> None:
    text = "5 ml (1 teaspoon) of borax in 350 ml (12 fl oz) of water over 5 m (15 ft) of row"
    found = read_text(text, "us")
    assert [shape(s) for s in found.recipe.statements] == [
        shape(s) for s in find_recipe("boron-drench").statements
    ]
    assert any("7.8 % more" in say.english() for say in found.says)


def test_how_often_is_read() -> None:
    found = read_text("1 g borax per m2; repeat every 14 days, at most 3 times a year")
    assert found.recipe.repeat is not None
    assert found.recipe.repeat.interval is not None
    assert exact_text(found.recipe.repeat.interval) == "14 day"
    assert (found.recipe.repeat.most, found.recipe.repeat.window) == (3, "year")


def test_each_number_is_printed_back_with_its_unit_and_what_was_left_aside() -> None:
    found = read_text("1 tbsp borax per 100 ft of row for beets and broccoli", "us")
    said = [say.english() for say in found.says]
    assert said[0] == "That is 14.8 mL of Borax for each 30.5 m of row."
    assert said[-1] == "Left aside: for beets and broccoli."


@pytest.mark.parametrize("id", recipe_ids())
def test_a_recipe_of_the_book_written_in_words_is_read_back(id: str) -> None:
    recipe = find_recipe(id)
    for index, statement in enumerate(recipe.statements):
        found = read_text(in_words(recipe, index), statement.measures)
        assert [shape(s) for s in found.recipe.statements] == [shape(statement)]
        assert often(found.recipe) == often(recipe)


def often(recipe: Recipe) -> tuple[object, ...]:
    repeat = recipe.repeat
    return () if repeat is None else (repeat.interval, repeat.most)


@pytest.mark.parametrize("length", [2_001, 1_000_000])
def test_a_text_longer_than_a_recipe_is_refused(length: int) -> None:
    with pytest.raises(DoseError, match="at most 2000"):
        read_text("borax " * (length // 6 + 1))


@pytest.mark.parametrize("text", ["5 g\x00 borax per m2", "5 g\u202e borax per m2", "5 g borax|m2"])
def test_a_sign_without_a_place_is_refused(text: str) -> None:
    with pytest.raises(DoseError, match="no sign"):
        read_text(text)


WORDS = (
    "1 2 1/2 1-2 5-10-10 1:100 % ppm tbsp tsp oz lb g mL L gal gallon m m2 ft sq row plant pot"
    " borax urea water oil soap compost lime N P B per / in to over of a and or then , . ; ( ) :"
    " weekly every days at most times about heaped spray drench deep inches x - part parts not"
    " GroMax handful tree bed mix from half without 10"
)


def outcome(text: str, system: System | None) -> Reading | str:
    """What comes of a text: a reading, or the sentence of its refusal; nothing else."""
    try:
        return read_text(text, system)
    except DoseError as refused:
        return str(refused)


@settings(max_examples=200, deadline=None)
@given(
    st.lists(st.sampled_from(WORDS.split(" ")), max_size=14),
    st.sampled_from([None, "us", "metric"]),
)
def test_any_words_are_read_or_refused(words: list[str], system: System | None) -> None:
    found = outcome(" ".join(words), system)
    assert found
    if isinstance(found, Reading):
        for statement in found.recipe.statements:
            assert statement.per.value > 0
            assert all(item.amount.value > 0 for item in statement.ingredients)


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60), st.text(string.printable, max_size=40))
def test_any_text_is_read_or_refused(one: str, other: str) -> None:
    for text in (one, other, f"5 g borax {other} per m2"):
        assert outcome(text, "us")


SILENT = {"of", "and", ";", "row", "water", "repeat", "in", "from", "made", "up", "every"}
"""Words without which a person reads the same: nothing else may go unseen."""
FULL = [
    "1 tbsp of borax in 1 quart of water over 100 ft of row",
    "30 g urea and 20 g borax per 10 m2",
    "1.5 lb B per acre from borax",
    "2 inches of compost over 4 x 8 ft",
    "20 g soft soap made up to 1 L ; repeat every 7 days ; at most 3 times a year",
]


@pytest.mark.parametrize("text", FULL)
def test_a_word_that_is_dropped_is_missed(text: str) -> None:
    """Without one of its words a recipe reads otherwise, or not at all: none goes unseen."""
    whole = read_text(text, "us")
    tokens = text.split(" ")
    for at, token in enumerate(tokens):
        less = outcome(" ".join(tokens[:at] + tokens[at + 1 :]), "us")
        if token in SILENT or isinstance(less, str):
            continue
        changed = (
            [shape(s) for s in less.recipe.statements]
            != [shape(s) for s in whole.recipe.statements]
            or less.recipe.repeat != whole.recipe.repeat
            or less.says != whole.says
        )
        assert changed, token

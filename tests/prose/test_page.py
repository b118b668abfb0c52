"""Pages with several rates: each is shown, none is chosen, and what turns a rate round is kept."""

from __future__ import annotations

import contextlib
import time

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

import dosecalc.faces.cli as cli
from dosecalc.catalog.prose.page import Page, apart, read_page
from dosecalc.catalog.prose.reading import read_text
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.errors import DoseError
from dosecalc.faces.page import SeveralRatesError

ASH = "wood ash: 5 lb per 100 sq ft; on sandy soil 2 lb per 100 sq ft. Keep it dry"


def page(text: str) -> Page:
    return read_page(text, "us", "US")


def plainly(text: str) -> list[str]:
    return [part.reading.says[0].english() for part in page(text).parts]


def mix(text: str, *more: str) -> str:
    words = ["mix", "--text", text, "--recipe-measures", "us", *more]
    done = CliRunner().invoke(cli.group, words, standalone_mode=False)
    if done.exception is not None:
        assert isinstance(done.exception, DoseError), done.exception
        return str(done.exception)
    return done.output


def test_each_rate_is_read_with_the_material_that_was_named_first() -> None:
    found = page(ASH)
    assert [part.quote for part in found.parts] == [
        "wood ash: 5 lb per 100 sq ft", "2 lb per 100 sq ft",
    ]  # fmt: skip
    assert [part.given for part in found.parts] == ["", "Wood ash"]
    assert [(one, other, ratio * 5) for one, other, ratio in apart(found.parts)] == [(0, 1, 2)]
    assert found.aside == ("on sandy soil", "Keep it dry")


def test_the_place_said_before_holds_for_a_bare_amount() -> None:
    text = "urea before planting 1 lb per 100 sq ft; side dressing 1/2 lb; later 1/4 lb"
    assert plainly(text) == [
        "That is 454 g of Urea for each 9.29 m2 of ground.",
        "That is 227 g of Urea for each 9.29 m2 of ground.",
        "That is 113 g of Urea for each 9.29 m2 of ground.",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "wood ash: no more than 5 lb per 100 sq ft",
        "borax: never over 1 tbsp per 100 ft of row",
        "urea, less than 2 lb per 1000 sq ft",
        "gypsum: up to 40 lb per 1000 sq ft",
        "Epsom salt 2 tbsp per gallon of vinegar",
        "neem oil 1 tbsp in 1 quart over 30 crates",
    ],
)
def test_words_that_turn_a_rate_round_are_never_cut_off(text: str) -> None:
    assert page(text).parts == ()


def test_a_list_is_not_cut_at_a_material_that_is_not_known() -> None:
    text = "1 tbsp baking soda, 2 tbsp of magic dust, 1 tsp neem oil per gallon. Stir."
    assert page(text).parts == ()


def test_brackets_that_say_something_else_are_left_out_and_shown() -> None:
    found = page("1 tbsp Epsom salt (the 20 lb bag) per gallon; rinse 2 times")
    assert plainly("1 tbsp Epsom salt (the 20 lb bag) per gallon; rinse 2 times") == [
        "That is 14.8 mL of Epsom salt for each 3.79 L of mixed liquid."
    ]
    assert found.unread == ("the 20 lb bag",)
    assert found.aside == ("rinse 2 times",)
    assert not found.plain


def test_one_of_two_materials_is_offered_as_two_rates() -> None:
    text = "4 lb of calcium nitrate or potassium nitrate per 100 gallons"
    assert plainly(text) == [
        "That is 1.81 kg of Calcium nitrate, fertiliser grade for each 379 L of mixed liquid.",
        "That is 1.81 kg of Potassium nitrate for each 379 L of mixed liquid.",
    ]


def test_an_ambiguous_choice_does_not_borrow_the_other_material() -> None:
    text = "calcium nitrate or calcium chloride at 4 lb per 100 gallons"
    assert len(page(text).parts) == 1


def test_how_it_is_given_is_carried_over_with_the_material() -> None:
    found = page("aluminum sulfate drench: 1/4 cup per gallon; 1 lb per 5 gallons")
    assert [part.reading.recipe.how for part in found.parts] == ["drench", "drench"]


def test_so_much_of_the_liquid_a_plant_is_no_amount_of_the_material() -> None:
    text = "starter: 2 tbsp of 5-10-10 per gallon, it settles fast; about 1 cup per plant"
    assert plainly(text)[1].endswith("in 237 mL of water for each 1 plant.")


def test_what_a_nutrient_rate_leaves_open_is_not_guessed() -> None:
    text = "3 oz of N per 100 sq ft from 15-0-0: 20 ounces; heavy feeders 5 ounces"
    assert len(page(text).parts) == 1


def test_a_place_may_stand_first() -> None:
    assert plainly("5 gallons of potting mix: 3 tbsp of 16-16-8. Water 2 times") == [
        "That is 18.9 L of Growing medium and 44.4 mL of Granular feed 16-16-8 for each 18.9 L of"
        " growing medium."
    ]


def test_the_refusal_shows_what_each_would_give_and_how_it_is_judged() -> None:
    said = mix(ASH, "--area", "200 sq ft")
    assert said.startswith("the text holds 2 rates. Add --rate 1")
    assert "4.54 kg (10 lb) Wood ash" in said
    assert "1.81 kg (4 lb) Wood ash" in said
    assert "That is 0.4 times rate 1." in said
    assert "OVER (wood-ash" in said


def test_the_rate_that_is_named_is_used_and_the_others_are_told() -> None:
    out = " ".join(mix(ASH, "--area", "200 sq ft", "--rate", "2").split())
    assert "Rate 2 of 2 in the text: '2 lb per 100 sq ft'." in out
    assert "rate 1, 'wood ash: 5 lb per 100 sq ft': 2.5 times the one used here" in out
    assert "Wood ash 1.81 kg" in out


@pytest.mark.parametrize("rate", ["0", "3", "-1", "x", "", "1.5", "\u0662", "9999999"])
def test_a_rate_that_is_not_there_is_refused(rate: str) -> None:
    assert mix(ASH, "--area", "1 m2", "--rate", rate).endswith("holds 2, counted from 1.")


def test_a_recipe_of_the_book_takes_no_rate() -> None:
    words = ["mix", "boron-drench", "--row", "1 m", "--rate", "1"]
    done = CliRunner().invoke(cli.group, words, standalone_mode=False)
    assert "--rate chooses among the rates of a --text" in str(done.exception)


def test_one_whole_rate_and_figureless_sentences_need_no_choice() -> None:
    out = mix("2 lb of gypsum per 100 sq ft. Keep it dry in the shed.", "--area", "100 sq ft")
    assert "Left aside: Keep it dry in the shed" in " ".join(out.split())


def test_a_doubt_inside_a_page_is_what_is_told() -> None:
    said = mix("A lab note says 1 tablespoon of boron per 100 feet of row, or so", "--row", "8 ft")
    assert "Boric acid" in said
    assert "Borax" in said


def test_a_recipe_file_takes_one_rate_of_a_page(tmp_path: object) -> None:
    from pathlib import Path

    file = Path(str(tmp_path)) / "ash.toml"
    words = ["recipes", "new", str(file), "--from-text", ASH, "--recipe-measures", "us"]
    done = CliRunner().invoke(cli.group, words, standalone_mode=False)
    assert isinstance(done.exception, SeveralRatesError)
    assert not file.exists()
    done = CliRunner().invoke(cli.group, [*words, "--rate", "2"], standalone_mode=False)
    assert done.exception is None
    assert 'amount = "2 lb"' in file.read_text("utf-8")


WORDS = st.sampled_from(
    [
        "1", "2", "1/2", "one", "half", "tbsp", "lb", "g", "gallon", "borax", "urea", "wood", "ash",
        "per", "over", "in", "and", "or", "not", "up", "to", "no", "more", "than", "(", ")", ",",
        ";", ":", ".", "=", "5-10-10", "1:100", "2%", "sq", "ft", "row", "of", "water", "then",
        "each", "plant", "a",
    ]
)  # fmt: skip


@given(st.lists(WORDS, max_size=30))
def test_every_rate_of_a_page_stands_on_the_page(some: list[str]) -> None:
    text = " ".join(some)
    try:
        found = page(text)
    except DoseError:
        return
    plain = tidy(text)
    for part in found.parts:
        single = "or" not in some  # a choice is written out once for each
        assert not single or part.quote in plain
        assert read_text(part.text, "us", "US").recipe == part.reading.recipe


@pytest.mark.parametrize(
    "text", ["1 " * 999, "borax " * 330, "(" * 1999, "1 tbsp borax, " * 140, "1 lb urea or " * 150]
)
def test_a_hostile_page_is_answered_at_once(text: str) -> None:
    started = time.perf_counter()
    with contextlib.suppress(DoseError):
        page(text)
    assert time.perf_counter() - started < 5


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        (
            "Dissolve 1 tsp of borax in 3 gallons of water. Use this solution to treat a 1,000-foot"
            " row",
            "That is 4.93 mL of Borax in 11.4 L of water for each 305 m of row.",
        ),
        (
            "Stir 5 g of borax into 1 L of water. Pour it evenly over 10 m2",
            "That is 5 g of Borax in 1 L of water for each 10 m2 of ground.",
        ),
        ("Gypsum should be given at a rate of 20 lb per 1000 sq ft",
         "That is 9.07 kg of Gypsum for each 92.9 m2 of ground."),
        ("Manganese sulphate is a salt (31 % manganese), used as a spray at 1 oz to 4 gallons of"
         " water",
         "That is 28.3 g of Manganese sulfate monohydrate for each 15.1 L of mixed liquid."),
        ("Urea, maintenance . . . . . . . .1 lb . / 100 gals .",
         "That is 454 g of Urea for each 379 L of mixed liquid."),
        ("A 25 kg bag of gypsum covers 100 m2",
         "That is 25 kg of Gypsum for each 100 m2 of ground."),
    ],
)  # fmt: skip
def test_prose_around_one_rate_needs_no_choice(text: str, plain: str) -> None:
    out = " ".join(mix(text, "--area", "100 m2", "--row", "10 m", "--sprayer", "1 L").split())
    try:
        said = [say.english() for say in read_text(text, "us", "US").says]
    except DoseError:
        found = page(text)
        assert found.plain, (found, out)
        said = [say.english() for say in found.parts[0].reading.says]
    assert plain in said


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("wettable sulfur 3 oz per sq yd. 5 lb total", 1),
        ("Compost: 4 cubic yards per 1000 sq ft, tilled in to a depth of 6-8 inches", 1),
        ("Start with a gallon of potting mix on the bench", 0),
        ("A salt is used at 1 oz to 4 gallons of water", 0),
        ("urea 0.1 lb per inch of trunk diameter", 0),
    ],
)
def test_what_is_no_rate_of_its_own_is_not_offered(text: str, count: int) -> None:
    assert len(page(text).parts) == count


def test_two_wordings_far_apart_are_a_warning_and_not_only_a_line() -> None:
    out = mix("2 tbsp (10 ml) of fish emulsion per gallon", "--sprayer", "1 US gal")
    assert out.startswith("CAUTION: Its two wordings differ")
    assert "200 % more" in out or "196 % more" in out


def test_a_rate_by_the_size_of_the_plant_says_so() -> None:
    assert "goes by the size or the age" in mix("urea 0.1 lb per inch of trunk", "--plants", "1")

"""lime, acidify and gypsum at the command line: judged like any dose, and split where limits do."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from dosecalc import english_liming
from dosecalc.catalog.liming import methods
from dosecalc.english import every
from dosecalc.faces.cli import group

OREGON = ("lime", "--method", "oregon-sikora", "--ph", "5.4", "--buffer", "Sikora 6.0",
          "--target-ph", "6.4")  # fmt: skip
MICHIGAN = ("acidify", "--method", "michigan-sulfur", "--ph", "6.0", "--target-ph", "5.0",
            "--texture", "loam")  # fmt: skip
SODIUM = ("gypsum", "--sodium", "35 %", "--target-sodium", "15 %", "--cec", "22 meq/100 g",
          "--depth", "40 cm")  # fmt: skip


@pytest.fixture(autouse=True)
def nowhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No garden file is picked up by chance."""
    monkeypatch.chdir(tmp_path)


def run(*words: str, exit_code: int = 0) -> Result:
    done = CliRunner().invoke(group, list(words))
    code = getattr(done.exception, "exit_code", done.return_value or done.exit_code)
    assert code == exit_code, (words, done.output, done.exception)
    return done


def said(*words: str) -> str:
    """The refusal of a command, without a traceback."""
    return str(run(*words, exit_code=2).exception)


def data(*words: str, exit_code: int = 0) -> dict[str, dict[str, object]]:
    found = json.loads(run(*words, "--json", exit_code=exit_code).output)
    assert isinstance(found, dict)
    return found


def grams(found: dict[str, dict[str, object]]) -> Fraction:
    (mix,) = found["mixes"]
    return Fraction(str(mix["amounts"][0]["mass"]["likely"]))


@pytest.mark.parametrize("words", [OREGON, MICHIGAN, SODIUM], ids=lambda w: w[0])
def test_twice_the_ground_takes_twice_as_much(words: tuple[str, ...]) -> None:
    once, twice = (grams(data(*words, "--area", area)) for area in ("20 m2", "40 m2"))
    assert abs(once * 2 - twice) <= twice / 10**11  # JSON keeps twelve digits


def test_lime_says_its_method_its_source_its_sums_and_then_the_mix() -> None:
    text = " ".join(run(*OREGON, "--area", "22.5 m2").output.split())
    places = [
        "Method: Oregon: Sikora buffer", "Source: Oregon State University", "Holds for: soils",
        "column pH 6.4: 3.5 US ton/acre = 785 g/m2", "In 2 dressings of 392 g/m2", "6 months apart",
        "You need", "Held against",
    ]  # fmt: skip
    at = [text.index(place) for place in places]
    assert at == sorted(at)


def test_the_dressings_are_the_whole_and_each_is_held_inside_the_limit_that_made_them() -> None:
    found = data(*OREGON, "--area", "22.5 m2")
    lime = found["lime"]
    assert lime["dressings"] == 2
    whole, each = lime["whole"], lime["each"]
    assert isinstance(whole, dict)
    assert isinstance(each, dict)
    assert Fraction(str(whole["value"])) == 2 * Fraction(str(each["value"]))
    (mix,) = found["mixes"]
    levels = {one["id"]: one["level"] for one in mix["findings"]}
    assert levels["lime-garden-application"] == "within"
    assert not {"over", "stop", "caution"} & set(levels.values())


@pytest.mark.parametrize(
    ("advice", "dressings"),
    [("10 lb/100 sq ft", 1), ("10.1 lb/100 sq ft", 2), ("20 lb/100 sq ft", 2),
     ("21 lb/100 sq ft", 3)],
)  # fmt: skip
def test_a_report_is_split_as_penn_state_prints(advice: str, dressings: int) -> None:
    words = ("--advice", f"{advice} of 100 % CaCO3", "--setting", "garden", "--area", "10 m2")
    found = data("lime", *words)
    assert found["lime"]["dressings"] == dressings


def test_a_stronger_lime_reaches_the_limit_of_limestone_sooner() -> None:
    """10 lb of pure dolomite do the work of 10.9 lb of limestone."""
    words = ("lime", "--setting", "garden", "--area", "10 m2", "--advice")
    pure = data(*words, "10.5 lb/100 sq ft of 100 % CaCO3", "--product", "dolomitic limestone")
    assert pure["lime"]["dressings"] == 2
    less = data(*words, "10 lb/100 sq ft of 100 % CaCO3", "--product", "dolomitic limestone")
    assert less["lime"]["dressings"] == 1
    for pounds, dressings in (("9.99", 1), ("10.01", 2)):
        advice = f"{pounds} lb/100 sq ft of 100 % CaCO3"
        hydrated = data(*words, advice, "--product", "hydrated lime")
        assert hydrated["lime"]["dressings"] == dressings


def test_lime_left_on_a_field_is_split_as_missouri_prints() -> None:
    words = ("lime", "--advice", "1200 lb ENM/acre", "--liming-value", "400 lb ENM/ton",
             "--setting", "field", "--area", "1 acre")  # fmt: skip
    assert data(*words)["lime"]["dressings"] == 1
    on_top = data(*words, "--surface")["lime"]
    assert on_top["dressings"] == 2
    assert on_top["wait"] == {"value": 3.0, "unit": "year"}


def test_poland_has_its_own_most_at_one_time() -> None:
    words = ("lime", "--method", "poland-arable", "--ph", "4.3 in KCl", "--texture", "light",
             "--area", "1 ha")  # fmt: skip
    found = data(*words, "--liming-value", "90 % CaCO3")["lime"]
    assert found["dressings"] == 2
    assert found["wait"] == {"value": 1.0, "unit": "year"}


def test_blueberries_get_their_sulfur_in_parts_three_months_apart() -> None:
    found = data(*MICHIGAN, "--area", "10 m2", "--crop", "blueberry")
    assert found["acidify"]["dressings"] == 2
    assert found["acidify"]["wait"] == {"value": 3.0, "unit": "month"}


def test_a_weak_source_is_said_on_the_page_and_on_the_card() -> None:
    words = ("lime", "--method", "garden-limestone", "--ph", "5.5", "--texture", "loam",
             "--area", "10 m2")  # fmt: skip
    text = " ".join(run(*words).output.split())
    assert "published garden tables differ by a factor of two" in text
    assert "190 g/m2 (garden-limestone-uk)" in text
    card = " ".join(run(*words, "-o", "-").output.split())
    assert "factor of two" in card
    assert "factor of two" not in " ".join(run(*OREGON, "--area", "10 m2").output.split())


def test_magnesium_names_the_stone_only_where_it_is_low() -> None:
    low = " ".join(run(*OREGON, "--area", "10 m2", "--magnesium", "49 ppm").output.split())
    assert "ask for dolomitic limestone (Ohio farm press" in low
    assert "--product" in low
    high = " ".join(run(*OREGON, "--area", "10 m2", "--magnesium", "50 ppm").output.split())
    assert "is not under 50 ppm" in high


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (("lime", "--ph", "5.4"), "no method was named"),
        (("lime", "--method", "ohio", "--ph", "5.4"), "no method here"),
        (("lime", "--method", "michigan-sulfur", "--ph", "5.4"), "no method here"),
        (("acidify", "--method", "oregon-sikora", "--ph", "5.4"), "no method here"),
        ((*OREGON, "--advice", "5 lb/100 sq ft of 100 % CaCO3"), "report's own answer"),
        (("lime", "--advice", "5 lb/100 sq ft"), "does not say of which lime"),
        (("lime", "--advice", "5 lb of 100 % CaCO3"), "a weight per area"),
        (("lime", "--advice", "5 lb/100 sq ft of 100 % CaCO3", "--ph", "5"), "report's own answer"),
        ((*OREGON, "--surface"), "only --advice may lie on top"),
        ((*OREGON, "--region", "UK"), "the region told is UK"),
        ((*OREGON, "--setting", "turf"), "not for turf"),
        ((*OREGON, "--liming-value", "54"), "does not say by which count"),
        ((*OREGON, "--product", "urea"), "is no lime"),
        ((*OREGON, "--product", "wood ash"), "no liming value of its own"),
        ((*OREGON, "--product", "lime"), "several"),
        ((*OREGON, "--moisture", "70 %"), "less than 60 %"),
        ((*OREGON, "--depth", "12 in"), "does not turn that into"),
        ((*MICHIGAN, "--fizzes", "yes"), "cannot be lowered"),
        ((*MICHIGAN, "--product", "gypsum"), "does not stand in for sulfur"),
        ((*MICHIGAN, "--purity", "90 % gypsum"), "gypsum is no count that is known here"),
        ((*MICHIGAN, "--purity", ""), "Nothing was written"),
        ((*OREGON, "--liming-value", ""), "Nothing was written"),
        ((*OREGON, "--liming-value", "90 % S"), "S is no count that is known here"),
        (("lime", "--advice", "5 lb/acre of 90 % S"), "S is no count that is known here"),
        ((*SODIUM, "--product", "ground limestone"), "is no gypsum"),
        ((*MICHIGAN, "--purity", "90"), "does not say by which count"),
        (("acidify", "--method", "britain-ferrous-sulfate", "--ph", "7.2", "--fizzes", "no",
          "--texture", "sand", "--product", "elemental sulfur"), "counts ferrous sulfate itself"),
        ((*SODIUM, "--setting", "turf"), "not for turf"),
        ((*SODIUM, "--depth", "40 m"), "deeper than soil is worked"),
        (("lime", "--advice", "99999 lb/acre of 100 % CaCO3", "--setting", "garden"),
         "would take 23 dressings"),
    ],
)  # fmt: skip
def test_a_refusal_is_one_sentence_and_exit_2(words: tuple[str, ...], answer: str) -> None:
    text = said(*words, "--area", "10 m2")
    assert answer in text
    assert "\n" not in text


def test_without_ground_there_is_no_amount() -> None:
    assert "area" in said(*OREGON)


def test_the_list_names_every_method_once_and_where_it_holds() -> None:
    raising, lowering = (run(name, "--list").output for name in ("lime", "acidify"))
    for method in methods():
        if method.shape == "sodium":
            continue
        mine, other = (lowering, raising) if method.lowers else (raising, lowering)
        assert mine.count(f"{method.id}: ") == 1
        assert f"{method.id}: " not in other
        assert method.where.split(";")[0] in " ".join(mine.split())


def test_a_saved_recipe_is_a_recipe_like_any_other(tmp_path: Path) -> None:
    run(*OREGON, "--area", "22.5 m2", "--save", "first-lime.toml")
    made = data(*OREGON, "--area", "22.5 m2")
    again = json.loads(run("mix", "first-lime.toml", "--area", "22.5 m2", "--json").output)
    assert Fraction(str(again["amounts"][0]["mass"]["likely"])) == grams(made)
    assert (tmp_path / "first-lime.toml").is_file()


def test_a_logged_dressing_makes_the_next_one_wait() -> None:
    run(*OREGON, "--area", "22.5 m2", "--save", "first-lime.toml")
    ground = ("--area", "22.5 m2", "--place", "north", "--season", "season.sqlite")
    run("log", "add", "first-lime.toml", *ground, "--on", "2021-03-01")
    soon = data(*OREGON, *ground, "--on", "2021-06-01")
    (mix,) = soon["mixes"]
    assert "again-ground-limestone" in {one["id"] for one in mix["findings"]}
    late = data(*OREGON, *ground, "--on", "2021-10-01")
    (mix,) = late["mixes"]
    assert "again-ground-limestone" not in {one["id"] for one in mix["findings"]}


def test_the_garden_says_the_region_and_the_bag(tmp_path: Path) -> None:
    (tmp_path / "garden.toml").write_text(
        'region = "UK"\n[product.yard]\nname = "Lime from the yard"\nlike = "ground-limestone"\n',
        "utf-8",
    )
    assert "the region told is UK" in said(*OREGON, "--area", "10 m2")
    words = ("lime", "--advice", "100 g/m2 of 100 % CaCO3", "--area", "10 m2", "--product", "yard")
    found = run(*words, "--liming-value", "50 % CaCO3").output
    assert "Lime from the yard" in found
    assert grams(data(*words, "--liming-value", "50 % CaCO3")) == 2000


def test_every_sentence_of_liming_stands_under_its_own_name() -> None:
    """A key of another part that is written twice would change that part's words."""
    assert len(english_liming.SENTENCES) > 80
    for key, text in english_liming.SENTENCES.items():
        assert key.startswith("liming-")
        assert every()[key] == text

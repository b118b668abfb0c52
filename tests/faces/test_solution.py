"""``dosecalc solution`` as a grower types it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from dosecalc.errors import DoseError
from dosecalc.faces.cli import group

CALCIUM = "calcium-nitrate-fertiliser"
FOUR = (
    "500 g calcium nitrate", "400 g Epsom salt", "100 g monopotassium phosphate",
    "1 kg potassium nitrate", "--in", "10 L", "--injector", "1:100",
)  # fmt: skip


@pytest.fixture(autouse=True)
def _alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def run(*words: str) -> Result:
    found = CliRunner().invoke(group, ["solution", *words])
    if isinstance(found.exception, DoseError):
        raise found.exception
    assert found.exception is None or isinstance(found.exception, SystemExit), found.exception
    return found


def text(*words: str) -> str:
    return " ".join(run(*words).output.split())


def whole(*words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run(*words, "--json").output)
    return found


def refused(*words: str) -> str:
    with pytest.raises(DoseError) as caught:
        run(*words)
    assert caught.value.exit_code == 2
    return str(caught.value)


def test_a_strength_becomes_a_weight_for_a_tank() -> None:
    """UMass Extension: 13.5 oz of a 20 % feed to 100 US gal for 200 ppm; exactly 13.35."""
    found = whole("--want", "200 ppm N", "--from", "20-20-20", "--in", "100 US gal")
    (mix,) = found["mixes"]
    (feed,) = [a for a in mix["amounts"] if a["material"] == "feed-20-20-20"]
    assert feed["mass"]["likely"] == pytest.approx(13.3526471232 * 28.349523125, abs=1e-6)
    assert "judged" not in found


def test_a_stock_is_as_many_times_as_strong_and_made_up_to_its_volume() -> None:
    found = whole(
        "--want", "200 ppm N", "--from", "20-20-20", "--in", "20 L", "--injector", "1:100"
    )
    assert found["solution"]["stock_times"] == 100
    assert found["solution"]["feed"] == {"value": 2000, "unit": "L"}
    (mix,) = found["mixes"]
    (feed,) = [a for a in mix["amounts"] if a["material"] == "feed-20-20-20"]
    assert feed["mass"]["likely"] == 2000
    assert any("Make the stock up to 20 L" in line for line in mix["cautions"])


@pytest.mark.parametrize("setting", ["1:100", "1 to 100", "1 %"])
def test_every_spelling_of_a_setting_gives_the_same_stock(setting: str) -> None:
    words = ("--want", "200 ppm N", "--from", "urea", "--in", "20 L", "--injector")
    assert whole(*words, setting)["mixes"] == whole(*words, "1:100")["mixes"]


def test_the_reading_of_a_setting_is_said_with_the_other_one() -> None:
    words = ("--want", "200 ppm N", "--from", "urea", "--in", "20 L", "--injector", "1:15")
    said = text(*words)
    # 15/16 of the strength is 6.25 % less, shown with two digits.
    assert "1 part of stock in 15 parts of the finished feed" in said
    assert "a feed 6.2 % weaker" in said
    other = text(*words, "--to-water")
    assert "1 part of stock to 15 parts of water, as told" in other
    assert whole(*words, "--to-water")["solution"]["feed"]["value"] == 320


def test_the_stocks_are_named_by_content_and_never_by_a_letter() -> None:
    found = whole(*FOUR)
    names = [mix["recipe"]["name"] for mix in found["mixes"]]
    assert len(names) == 2
    assert any("Calcium nitrate" in name and "Epsom" not in name for name in names)
    assert all(name.startswith("Stock with ") for name in names)
    said = run(*FOUR).output
    assert not re.search(r"\b(stock|tank) [AB]\b", said, re.IGNORECASE)
    assert "must not meet in a stock" in " ".join(said.split())


def test_the_tanks_together_hold_all_that_was_put_in() -> None:
    found = whole(*FOUR)
    grams = {a["material"]: a["mass"]["likely"] for m in found["mixes"] for a in m["amounts"]}
    assert grams[CALCIUM] == 500
    assert grams["epsom-salt"] == 400
    assert grams["potassium-nitrate"] == 1000
    (feed,) = found["judged"]
    each = {s["nutrient"]: s["mass"]["likely"] for s in feed["supplies"]}
    for word in ("N", "P", "K", "Ca", "Mg", "S"):
        parts = [s for m in found["mixes"] for s in m["supplies"] if s["nutrient"] == word]
        assert each[word] == pytest.approx(sum(s["mass"]["likely"] for s in parts))


def test_in_one_stock_the_two_would_be_stopped() -> None:
    """What the split keeps apart is what the judge of a stock tank stops."""
    done = CliRunner().invoke(
        group, ["check", "500 g calcium nitrate", "400 g Epsom salt", "--water", "10 L",
                "--stock-tank"],
    )  # fmt: skip
    assert "STOP" in done.output
    assert not any(f["level"] == "stop" for m in whole(*FOUR)["mixes"] for f in m["findings"])


def test_a_stock_that_does_not_dissolve_is_stopped() -> None:
    found = CliRunner().invoke(
        group, ["solution", "3 kg potassium nitrate", "--in", "10 L", "--injector", "1:100"],
        standalone_mode=False,
    )  # fmt: skip
    assert "will not dissolve" in found.output
    assert found.return_value == 3


def test_a_stock_is_not_held_against_what_plants_get_and_the_feed_is() -> None:
    words = ("--want", "2000 ppm N", "--from", "urea", "--in", "20 L", "--injector", "1:100")
    found = whole(*words)
    assert [f["id"] for f in found["mixes"][0]["findings"] if f["why"] == "far-above"] == []
    whys = {f["why"]: f["level"] for f in found["judged"][0]["findings"]}
    assert whys["far-above"] == "caution"


def test_what_stands_on_the_ground_comes_out_as_a_strength_and_back() -> None:
    """Western Australia: 20 mg/L in 70 mm is 14 kg/ha."""
    words = ("--from", "urea", "--irrigation", "70 mm", "--area", "100 m2")
    found = whole("--want", "14 kg N/ha", *words)
    (line,) = found["solution"]["supplies"]
    assert line["mg_per_litre"] == 20
    assert found["solution"]["feed"] == {"value": 7000, "unit": "L"}
    (supply,) = found["mixes"][0]["supplies"]
    assert supply["per_area"]["likely"] == pytest.approx(14, rel=1e-2)
    back = text("--want", "20 ppm N", *words)
    assert re.search(r"N 20 14 Urea 20", back)


@pytest.mark.parametrize(
    "irrigation",
    [("--irrigation", "5000 L"), ("--feed", "5000 L"), ("--irrigation", "100000 L/ha")],
)
def test_a_depth_a_volume_and_litres_on_a_hectare_agree(irrigation: tuple[str, str]) -> None:
    words = ("--want", "20 kg N/ha", "--from", "urea", "--area", "500 m2")
    assert whole(*words, *irrigation) == whole(*words, "--irrigation", "10 mm")


def test_the_water_is_counted_in_and_judged_with_the_feed() -> None:
    words = ("--want", "100 ppm N", "--from", "urea", "--in", "100 L")
    found = whole(*words, "--holds", "40 mg/L NO3-N")
    (feed,) = [a for a in found["mixes"][0]["amounts"] if a["material"] == "urea"]
    bare = whole(*words)["mixes"][0]["amounts"][0]["mass"]["likely"]
    assert feed["mass"]["likely"] == pytest.approx(0.6 * bare)
    (supply,) = found["judged"][0]["supplies"]
    assert supply["mass"]["likely"] == pytest.approx(10)


def test_carbonate_in_the_water_is_said_and_acid_is_out_of_reach() -> None:
    words = ("--want", "100 ppm N", "--from", "urea", "--in", "100 L", "--holds")
    assert "carbonate may drop out" in text(*words, "200 mg/L HCO3")
    low = text(*words, "150 mg/L HCO3")
    assert "carbonate may drop out" not in low
    assert "Alkalinity is not corrected here" in low


def test_ec_is_said_to_be_out_of_reach_and_the_weight_is_given() -> None:
    said = text("--want", "200 ppm N", "--from", "20-20-20", "--in", "100 L")
    assert "Product in the feed: 1 g in a litre. Its EC is out of reach" in said


def test_a_liquid_feed_is_asked_how_its_label_counts() -> None:
    words = ("--want", "200 ppm N", "--in", "10 L", "--from")
    said = refused(*words, "5-1-1")
    assert "57.5 mg in a millilitre by weight" in said
    assert "50 mg by volume" in said
    volume, weight = whole(*words, "5-1-1 w/v"), whole(*words, "5-1-1 w/w")
    assert volume["mixes"][0]["amounts"][0]["volume"]["likely"] == pytest.approx(40)
    assert weight["mixes"][0]["amounts"][0]["mass"]["likely"] == pytest.approx(40)


def test_a_bottle_of_the_garden_file_is_taken_as_it_says() -> None:
    Path("garden.toml").write_text(
        '[product.bottle]\nname = "Fish feed"\nlike = "liquid-feed-5-1-1"\nanalysis = "5-1-1"\n'
        'basis = "w/v"\ncounts = "oxide"\ndensity = "1.2 g/mL"\n',
        "utf-8",
    )
    found = whole("--want", "200 ppm N", "--from", "bottle", "--in", "10 L")
    (feed,) = [a for a in found["mixes"][0]["amounts"] if a["role"] == "feed"]
    assert feed["volume"]["likely"] == pytest.approx(40)
    assert found["solution"]["grams_per_litre"] == pytest.approx(4.8)


def test_a_stock_is_kept_but_one_that_can_carry_germs_is_not() -> None:
    words = ("--want", "200 ppm N", "--in", "10 L", "--injector", "1:20", "--from")
    assert "before each use stir" in whole(*words, "urea")["mixes"][0]["steps"][-1]
    assert "Use it today" in whole(*words, "fish emulsion w/w")["mixes"][0]["steps"][-1]


def test_a_typed_analysis_needs_to_be_told_what_it_counts() -> None:
    words = ("--want", "200 ppm N", "--from", "15-5-15", "--in", "5 US gal", "--injector", "1:100")
    assert "oxides" in refused(*words)
    found = whole(*words, "--region", "US")
    (feed,) = [a for a in found["mixes"][0]["amounts"] if a["role"] == "feed"]
    # Exactly 89.02 oz, where the chart of the bag says 90.
    assert feed["mass"]["likely"] == pytest.approx(89.0176474880 * 28.349523125)


def test_a_typed_feed_with_phosphorus_is_kept_from_calcium() -> None:
    words = ("100 g 15-5-15", "100 g calcium nitrate", "--in", "5 L", "--injector", "1:100")
    assert len(whole(*words, "--region", "US")["mixes"]) == 2


def test_what_cannot_be_met_is_refused_with_the_miss() -> None:
    said = refused(
        "--want", "200 ppm N", "--want", "50 ppm P2O5", "--from", "20-20-20", "--in", "100 L"
    )
    assert "P2O5 comes to 200 mg/L, 150 mg/L more than the 50 wanted" in said


def test_a_stock_for_more_than_its_tank_is_made_in_fillings() -> None:
    found = whole(
        "--want", "200 ppm N", "--from", "urea", "--feed", "5000 L", "--injector", "1:100", "--in",
        "20 L",
    )  # fmt: skip
    volumes = [tankful["volume"]["value"] for tankful in found["mixes"][0]["tankfuls"]]
    assert volumes == [20, 20, 10]


def test_a_sprayer_of_the_garden_file_does_not_part_a_stock() -> None:
    found = whole(
        "--want", "200 ppm N", "--from", "urea", "--in", "20 L", "--injector", "1:100",
        "--sprayer", "15 L",
    )  # fmt: skip
    assert len(found["mixes"][0]["tankfuls"]) == 1


def test_it_is_carded_and_saved_like_any_other() -> None:
    run(*FOUR, "--save", "feed.toml", "-o", "card.txt")
    assert Path("feed.toml").is_file()
    assert Path("feed-2.toml").is_file()
    assert "Calcium nitrate" in Path("card.txt").read_text("utf-8")
    words = ["mix", "feed-2.toml", "--spray-volume", "10 L", "--json"]
    tank = CliRunner().invoke(group, [*words, "--stock-tank"], standalone_mode=False)
    again, first = json.loads(tank.output), whole(*FOUR)["mixes"][1]
    assert again["findings"] == first["findings"]
    assert [a["mass"] for a in again["amounts"]] == [a["mass"] for a in first["amounts"]]
    plain = json.loads(CliRunner().invoke(group, words, standalone_mode=False).output)
    assert "far-above" in {f["why"] for f in plain["findings"]}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "nothing to dissolve"),
        (("100 g urea",), "add --in"),
        (("100 g urea", "--want", "5 ppm N", "--in", "1 L"), "do not go together"),
        (("--want", "5 ppm N", "--in", "1 L"), "needs --from"),
        (("--from", "urea", "--in", "1 L"), "needs --want"),
        (("--want", "5 ppm N", "--from", "urea"), "how much is made up"),
        (("--want", "5 kg N/ha", "--from", "urea", "--in", "1 L"), "amount on the ground"),
        (("--want", "5 ppm N", "--from", "urea", "--in", "10 gal"), "differs by country"),
        (("--want", "5 ppm N", "--from", "urea", "--in", "10 kg"), "is a weight"),
        (("--want", "5 ppm N", "--from", "urea", "--in", "0 L"), "more than zero"),
        (("--want", "5 ppm N", "--from", "urea", "--in", "5 L", "--to-water"), "--injector"),
        (("--want", "5 ppm N", "--from", "garden compost", "--in", "5 L"), "heap"),
        (("--want", "5 ppm N", "--from", "urea w/v", "--in", "5 L"), "for liquid feeds"),
        (("--want", "5 ppm N", "--from", "zzz", "--in", "5 L"), "zzz"),
        (("urea", "--in", "5 L"), "urea"),
        (("100 g", "--in", "5 L"), "and then the product"),
        (("100 m urea", "--in", "5 L"), "and then the product"),
        (("-5 g urea", "--in", "5 L"), "-5 g urea"),
        (("5 g urea", "6 g urea", "--in", "5 L"), "given twice"),
        (("5 g urea", "--in", "5 L", "--spray-volume", "5 L"), "does not belong here"),
        (("5 g urea", "--feed", "5 L", "--irrigation", "5 L"), "write one of them"),
        (("5 g urea", "--in", "5 L", "--holds", "5 mg/L nitrate"), "4.43 times"),
        (("5 g urea", "--in", "5 L", "--holds", "5 N", "--holds", "5 mg/L N"), "5 N"),
        (
            ("5 g urea", "--in", "5 L", "--holds", "5 mg/L NO3", "--holds", "5 mg/L N"),
            "given twice",
        ),
        (
            ("--want", "5 ppm N", "--from", "urea", "--in", "5 L", "--holds", "5 mg/L N"),
            "nothing is to be added",
        ),
    ],
)
def test_ugly_input_gets_one_sentence(words: tuple[str, ...], said: str) -> None:
    args = ["--", *words] if words and words[0].startswith("-5") else list(words)
    if args[:1] == ["--"]:
        args = [*words[1:], "--", words[0]]
    sentence = refused(*args)
    assert said in sentence
    assert "\n" not in sentence
    assert list(Path().iterdir()) == []

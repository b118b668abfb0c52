"""``dosecalc layer`` and ``dosecalc fill`` as they are typed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from dosecalc.english_layer import SENTENCES
from tests.typed import run

GARDEN = """
name = "Three Hedges"
region = "US"
[bed.north]
bed = "75 cm x 10 m"
[product.heap]
name = "Yard heap"
like = "garden-compost"
holds = ["2 % N", "0.4 % P"]
state = "dry"
moisture = "50 %"
first_year = "20 %"
pack = "40 L"
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def refused(words: str, tmp_path: Path) -> str:
    before = sorted(tmp_path.iterdir())
    done = run(words)
    assert done.exception is not None
    assert getattr(done.exception, "exit_code", None) == 2, done.exception
    assert done.output == ""
    assert sorted(tmp_path.iterdir()) == before
    return str(done.exception)


def found(words: str) -> dict[str, Any]:
    done = run(f"{words} --json")
    assert done.exception is None
    data = json.loads(done.stdout)
    assert isinstance(data, dict)
    return data


def flat(text: str) -> str:
    return " ".join(text.split())


def test_a_depth_over_a_bed_is_a_volume_in_bags_and_barrows() -> None:
    data = found('layer compost --bed "75 cm x 10 m" --layer "2 cm" --bag "50 L" --barrow "80 L"')
    assert data["layer"]["volume"] == {"value": 150, "unit": "L"}
    assert data["layer"]["fillings"] == {"bag": 3, "barrow": 2}
    (mix,) = data["mixes"]
    assert mix["amounts"][0]["volume"]["likely"] == 150_000
    assert mix["bags"] == 3
    assert {f["id"] for f in mix["findings"] if f["level"] == "within"} == {"compost-garden-year"}


def test_settling_is_counted_only_where_it_is_typed() -> None:
    bare = found('layer compost --area "10 m2" --layer "2 cm"')
    assert any("Settling is not counted" in line for line in bare["layer"]["says"])
    settled = found('layer compost --area "10 m2" --layer "2 cm" --settling "20 %"')
    assert settled["layer"]["volume"]["value"] == 250
    assert not any("Settling is not counted" in line for line in settled["layer"]["says"])


def test_one_rate_written_three_ways_is_one_layer() -> None:
    volumes = {
        found(f'layer compost --area "10 m2" {words}')["layer"]["volume"]["value"]
        for words in ('--layer "2 cm"', '--rate "20 L/m2"', '--have "200 L"', '--rate "13 kg/m2"')
    }
    assert volumes == {200}  # 13 kg through the likely density of 0.65 g/mL


def test_compost_alone_for_its_nitrogen_says_what_the_limit_gives() -> None:
    done = run('layer compost --area "100 m2" --nitrogen "200 kg/ha" --phase yearly')
    text = flat(done.output)
    # 200 kg N/ha from compost of 0.8 % N, a tenth of it in the first year, at 0.65 kg/L:
    # 25 kg/m2 is 3.85 cm; an inch gives 200 x 2.54 / 3.846 = 132 kg/ha, 66 % of the goal.
    assert "That takes 25 kg/m2 (512 lb/100 sq ft), 3.85 cm" in text
    assert "first crop 132 kg/ha (30.1 to 381)" in text
    assert "The goal is not reached within that limit: this gives 66 % of it." in text
    assert "25 ppm phosphorus" in text
    assert "1320 kg/ha N, 578 kg/ha P, 1320 kg/ha P2O5" in text
    assert done.output.index("Nitrogen for crops") < done.output.index("OVER: Garden compost")
    assert done.return_value == 3


def test_a_goal_within_the_limit_says_so_and_stops_nothing() -> None:
    done = run('layer compost --area "100 m2" --nitrogen "100 kg/ha" --phase yearly')
    assert "The goal takes 75.7 % of that limit" in flat(done.output)
    assert done.return_value == 0


def test_thin_manure_is_weighed_and_its_waits_come_out() -> None:
    done = run('layer "poultry manure" --area "15 m2" --nitrogen "80 kg/ha" --crop lettuce')
    text = flat(done.output)
    assert "Poultry manure, fresh, 912 g per m2" in text
    assert "120 days before harvest where the edible part touches the soil" in text
    assert "90 days before harvest" in text
    assert "20 lb poultry manure without bedding per 100 sq ft" in text


def test_dry_and_as_it_lies_are_told_apart(tmp_path: Path) -> None:
    layer = 'layer compost --area "10 m2" --layer "1 cm" --holds "2 % N"'
    assert "was not told: add --state dry" in refused(layer, tmp_path)
    assert "needs the moisture" in refused(f"{layer} --state dry", tmp_path)

    def nitrogen(words: str) -> float:
        (mix,) = found(f"{layer} {words}")["mixes"]
        return float(next(s for s in mix["supplies"] if s["nutrient"] == "N")["mass"]["likely"])

    wet = nitrogen('--state dry --moisture "60 %"')
    assert nitrogen("--state as-is") == nitrogen('--state dry --moisture "0 %"')
    assert wet == pytest.approx(0.4 * nitrogen("--state as-is"), rel=1e-9)


def test_what_else_comes_along_is_told_where_it_is_known() -> None:
    done = run('layer compost --area "10 m2" --layer "1 cm" --holds "0.3 % Na" --holds "0.4 % Cl"'
               ' --state dry --moisture "50 %" --organic-matter "60 %"')  # fmt: skip
    text = flat(done.output)
    # 6.5 kg on a square metre, half of it dry, of which 60 %.
    assert "Organic matter on a square metre: 1.95 kg (1.42 to 3)." in text
    assert "Na" in text
    assert "Cl" in text


def test_salt_is_held_against_what_is_published() -> None:
    layer = 'layer compost --area "10 m2" --layer "1 cm" --salts'
    about, care = run(f'{layer} "12 mS/cm"').output.split("Take care")
    assert "at 12 mS/cm is salty (above 8 mmho/cm" in flat(about)
    assert "It is salty by its own test" in flat(care)
    about, care = run(f'{layer} "4 dS/m"').output.split("Take care")
    assert "at 4 dS/m was held against: above 8 mmho/cm" in flat(about)
    assert "salty" not in flat(care)


def test_a_product_on_hand_brings_its_own_analysis_share_and_bag(tmp_path: Path) -> None:
    (tmp_path / "garden.toml").write_text(GARDEN)
    data = found('layer heap --at north --nitrogen "100 kg/ha"')
    # 1 % N as it lies, a fifth of it soon: 5 kg/m2, by 0.65 g/mL 7.69 L on each of 7.5 m2.
    assert data["layer"]["volume"]["value"] == pytest.approx(57.6923076923)
    assert data["layer"]["fillings"] == {"bag": 2}
    assert data["layer"]["first_year"]["nitrogen"]["likely"] == pytest.approx(100)
    assert data["mixes"][0]["amounts"][0]["name"] == "Yard heap"


def test_a_layer_saved_is_the_same_dose_again(tmp_path: Path) -> None:
    (tmp_path / "garden.toml").write_text(GARDEN)
    saved = found('layer heap --at north --nitrogen "100 kg/ha" --save heap.toml')["mixes"][0]
    again = json.loads(run("mix heap.toml --at north --json").output)
    assert again["amounts"] == saved["amounts"]
    assert again["supplies"] == saved["supplies"]
    assert again["findings"] == saved["findings"]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ('compost --area "10 m2"', "give exactly one"),
        ('compost --area "10 m2" --layer "5 cm" --rate "3 kg/m2"', "2 of --layer"),
        ('compost --layer "5 cm"', "goes by area"),
        ('manure --area "10 m2" --layer "5 cm"', "several materials"),
        ('compost --area "10 m2" --rate "5 kg"', "no rate for an area"),
        ('compost --area "10 m2" --rate "40 ton/acre"', "differs by country"),
        ('compost --area "10 m2" --have "2 m"', "neither a volume nor a weight"),
        ('compost --area "10 m2" --nitrogen "100 kg"', "no nitrogen for an area"),
        ('"wood chips" --area "10 m2" --nitrogen "100 kg/ha"', "not known to hold nitrogen"),
        ('urea --area "10 m2" --nitrogen "100 kg/ha"', "not on file"),
        ('"blood meal" --area "10 m2" --layer "1 cm"', "does not come as a heap"),
        ('compost --area "10 m2" --layer "5 cm" --settling "60 %"', "from 0 to 50 %"),
        ('compost --area "10 m2" --layer "5 cm" --settling 15', "write a percent"),
        ('compost --area "10 m2" --rate "3 kg/m2" --settling "15 %"', "depth that shall remain"),
        ('compost --area "10 m2" --layer "5 cm" --placed under', "not one of worked-in"),
        ('compost --area "10 m2" --layer "5 cm" --salts 12', "no conductivity"),
        ('compost --area "10 m2" --layer "5 cm" --first-year "0 %"', "no share"),
        ('compost --area "10 m2" --layer "5 cm" --state dry', "add --holds"),
        ('compost --area "10 m2" --layer "5 cm" --holds "1 % N" --state wet', "not one of dry"),
        ('compost --area "10 m2" --layer "5 cm" --load "0 m3"', "more than zero"),
    ],
)
def test_what_cannot_be_understood_is_refused(words: str, sentence: str, tmp_path: Path) -> None:
    assert sentence in refused(f"layer {words} --save x.toml", tmp_path)


def test_pots_are_filled_by_parts() -> None:
    data = found('fill "2 parts compost, 1 part peat and 1 part vermiculite" --pots 12'
                 ' --pot-size "10 L" --bag "25 L"')["fill"]  # fmt: skip
    assert [part["volume"]["value"] for part in data["parts"]] == [60, 30, 30]
    assert [part["fillings"]["bag"] for part in data["parts"]] == [3, 2, 2]
    assert any("lost" in line or "lose" in line for line in data["says"])


def test_allowances_are_those_that_were_typed() -> None:
    data = found('fill "50 % compost, 50 % peat" --medium-volume "72 L" --settling "10 %"'
                 ' --shrinkage "20 %"')  # fmt: skip
    assert data["fill"]["loose"]["value"] == 100
    assert [part["volume"]["value"] for part in data["fill"]["parts"]] == [50, 50]
    amounts = data["mixes"][0]["amounts"]
    assert [item["volume"]["likely"] for item in amounts] == [50_000, 50_000]


def test_a_filled_bed_is_a_new_bed_and_is_held_beside_the_figure_for_one() -> None:
    words = 'fill "60 % screened topsoil, 40 % compost" --bed "1.2 m x 2.5 m" --layer "30 cm"'
    done = run(words)
    text = flat(done.output)
    assert done.exception is None
    assert "Screened topsoil: 60 % by volume, 540 L" in text
    assert "Garden compost alone comes to 12 cm" in text
    assert "new beds: a 3- to 4-inch layer" in text
    assert "judged as a new one" in text
    yearly = run(f"{words} --phase yearly")
    assert yearly.return_value == 3
    assert "OVER: Garden compost, 12 cm" in flat(yearly.output)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ('compost --medium-volume "60 L"', "no parts that can be read"),
        ('"2 parts compost, 50 % peat" --medium-volume "60 L"', "all of them one way"),
        ('"60 % compost, 50 % peat" --medium-volume "60 L"', "comes to 110 %"),
        ('"1 part compost, 1 part garden compost" --medium-volume "60 L"', "stands twice"),
        ('"1 part compost, 1 part urea" --medium-volume "60 L"', "does not come as a heap"),
        ('"1 part compost, 1 part topsoil" --medium-volume "60 L"', "did you mean"),
        ('"0 parts compost, 1 part peat" --medium-volume "60 L"', "no parts that can be read"),
        ('"1 part compost, 1 part peat"', "what shall be filled was not told"),
        ('"1 part compost, 1 part peat" --pots 12', "what shall be filled was not told"),
        ('"1 part compost, 1 part peat" --bed "1 m x 2 m"', "not how deep"),
        ('"1 part peat" --area "2 m2" --layer "2 cm" --medium-volume "3 L"', "both told"),
        ('"" --medium-volume "3 L"', "Nothing was written"),
        (f'"{", ".join(["1 part peat"] * 13)}" --medium-volume "3 L"', "at most 12"),
    ],
)
def test_a_filling_that_cannot_be_understood_is_refused(
    words: str, sentence: str, tmp_path: Path
) -> None:
    assert sentence in refused(f"fill {words} --save x.toml", tmp_path)


def test_a_decimal_comma_is_no_end_of_a_part() -> None:
    data = found('fill "1,5 parts compost, 1 part peat" --medium-volume "10 L"')["fill"]
    assert [part["volume"]["value"] for part in data["parts"]] == [6, 4]


def test_every_sentence_is_used() -> None:
    code = "".join(
        path.read_text("utf-8")
        for folder in ("dose", "faces")
        for path in (Path(__file__).parents[2] / "dosecalc" / folder).rglob("*.py")
    )
    made = ("layer-bags", "layer-barrows", "layer-loads", "layer-placed-", "fill-vessel-")
    assert len(SENTENCES) > 40
    assert [key for key in SENTENCES if f'"{key}"' not in code and not key.startswith(made)] == []


@pytest.mark.parametrize("typed", ["2 % N", "2%N", "20 g/kg N"])
def test_what_an_own_analysis_does_not_name_is_said(typed: str) -> None:
    words = f'layer compost --area "10 m2" --layer "1 cm" --state as-is --holds "{typed}"'
    assert "counted as on file for the material: P and K." in flat(run(words).output)
    whole = run(f'{words} --holds "1 % P2O5" --holds "1 % K"')
    assert "counted as on file" not in flat(whole.output)


def test_an_analysis_on_file_is_not_taken_for_the_heap_in_hand(tmp_path: Path) -> None:
    (tmp_path / "garden.toml").write_text(GARDEN)
    words = '--area "10 m2" --layer "1 cm"'
    assert "not of your heap" in flat(run(f"layer compost {words}").output)
    assert "not of your heap" not in flat(run(f"layer heap {words}").output)
    own = run(f'layer compost {words} --holds "1 % N" --state as-is')
    assert "not of your heap" not in flat(own.output)


def test_a_setting_that_was_not_told_is_said(tmp_path: Path) -> None:
    words = 'layer "garden compost" --layer "2 cm" --area "10 m2"'
    line = "the figures above are those of a garden"
    assert line in " ".join(run(words).output.split())
    assert line not in " ".join(run(f"{words} --setting field").output.split())

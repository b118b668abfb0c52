"""``dosecalc inoculate`` as it is typed, and seed rates that count seeds."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.tools import ToolsText
from dosecalc.faces.inoculate import cells_on_seed
from dosecalc.faces.inoculate_read import InoculateText, read_inoculant
from dosecalc.faces.job import Job
from dosecalc.units.measure import GRAM
from tests.typed import found, run

SEED = '--seed "2 kg" --thousand "200 g" --living "1 billion CFU/g" --row "40 m"'


@pytest.fixture(autouse=True, scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Any:
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("garden"))
        yield


def flat(words: str) -> str:
    done = run(words)
    assert done.exception is None, done.exception
    return " ".join(done.output.split())


def test_cells_and_weight_say_the_same() -> None:
    """5 g of 10^9 CFU/g on a kilogram of seeds of 0.2 g: 5 x 10^9 on 5000 are a million each."""
    by_weight = found(f'inoculate rhizobium --rate "5 g/kg" {SEED}')
    by_cells = found(f'inoculate rhizobium --rate "1 million CFU/seed" {SEED}')
    for data in (by_weight, by_cells):
        assert data["inoculant"]["amount"] == {"value": 10, "unit": "g"}
        assert data["inoculant"]["cells_on_seed"] == 10**6
        assert data["mixes"][0]["amounts"][0]["mass"]["likely"] == 10


@given(st.integers(1, 10**9), st.integers(1, 10**6), st.integers(1, 10**10))
def test_the_cells_asked_for_are_the_cells_that_come(each: int, seeds: int, label: int) -> None:
    text = InoculateText("rhizobium", f"{each} CFU/seed", f"{label} CFU/g", f"{seeds} seeds")
    asked = read_inoculant(text, Job("", SiteText(), ToolsText()))
    assert cells_on_seed(asked) == each
    assert asked.amount.amount_in(GRAM) * label == each * seeds


@given(st.integers(1, 10**4), st.integers(1, 500), st.integers(1, 10**6))
def test_twice_the_plants_take_twice_and_twice_the_strength_half(
    rate: int, plants: int, label: int
) -> None:
    def grams(count: int, strength: int) -> Any:
        text = InoculateText("mycorrhiza", f"{rate} propagules/plant", f"{strength} propagules/g")
        job = Job("", SiteText(plants=str(count)), ToolsText())
        return read_inoculant(text, job).amount.amount_in(GRAM)

    one = grams(plants, label)
    assert grams(2 * plants, label) == 2 * one
    assert grams(plants, 2 * label) == one / 2


@pytest.mark.parametrize(
    ("words", "amount", "unit"),
    [
        ('rhizobium --rate "250 g per 50 kg" --seed "10 kg"', 50, "g"),
        ('rhizobium --rate "2 oz per 25 lb" --seed "25 lb"', 56.69904625, "g"),
        ('rhizobium --rate "5 g/kg" --seed "2000 seeds" --thousand "200 g"', 2, "g"),
        ('rhizobium --rate "5 g/kg" --seed "2000 seeds" --seed-count "5/g"', 2, "g"),
        ('rhizobium --rate "1 US fl oz/1000 ft" --row "1000 ft" --rows 2', 59.147059125, "mL"),
        ('rhizobium --rate "10^9 CFU/m" --row "40 m" --living "2 billion CFU/mL"', 20, "mL"),
        ('rhizobium --rate "5 kg/ha" --area "20 m2"', 10, "g"),
        ('mycorrhiza --rate "60 propagules/plant" --plants 20 --living "120 propagules/g"',
         10, "g"),
        ('mycorrhiza --rate "2 g/L" --pots 10 --pot-size "3 L"', 60, "g"),
        ('mycorrhiza --rate "240 propagules/L" --medium-volume "60 L"'
         ' --living "120 propagules/g"', 120, "g"),
    ],
)  # fmt: skip
def test_a_rate_on_anything_it_goes_on(words: str, amount: float, unit: str) -> None:
    data = found(f"inoculate {words}")["inoculant"]["amount"]
    assert data["unit"] == unit
    assert data["value"] == pytest.approx(amount, rel=1e-10)


@pytest.mark.parametrize(
    ("metric", "foreign"),
    [('--row "30.48 m"', '--row "100 ft"'), ('--row "9.144 m" --rows 2', '--row "60 ft"')],
)
def test_feet_and_metres_of_the_same_row_take_the_same(metric: str, foreign: str) -> None:
    one, other = (found(f'inoculate rhizobium --rate "1 g/m" {row}') for row in (metric, foreign))
    assert one["inoculant"]["amount"] == other["inoculant"]["amount"]
    mass, same = (data["mixes"][0]["amounts"][0]["mass"] for data in (one, other))
    assert mass == same
    assert mass["likely"] == pytest.approx(one["inoculant"]["amount"]["value"])


def test_seed_without_a_ground_is_measured_but_makes_no_job() -> None:
    words = 'inoculate rhizobium --rate "250 g per 50 kg" --seed "10 kg" --scale "1 g"'
    assert found(words)["mixes"] == []
    assert "Measure it: weigh 50 g" in flat(words)


def test_packs_are_rounded_up_and_published_figures_stand_beside() -> None:
    text = flat(f'inoculate rhizobium --rate "5 g/kg" {SEED} --packet "4 g"')
    assert "Packs of 4 g (0.141 oz): 3." in text
    assert "10^4 to 10^6 CFU on a soybean" in text
    assert "250 g of peat inoculant for 10 to 50 kg" in text
    text = flat('inoculate mycorrhiza --rate "1 g/plant" --plants 9')
    assert "growth did not follow" in text
    assert "CFU" not in text


def test_a_recipe_file_and_a_card_come_of_it(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert run(f'inoculate rhizobium --rate "5 g/kg" {SEED} --save {file}').exception is None
    assert found(f'mix {file} --row "20 m"')["amounts"][0]["mass"]["likely"] == 5
    words = 'inoculate mycorrhiza --rate "1 g/plant" --plants 9 -o -'
    assert "Put it where the roots will touch it" in flat(words)
    assert "Póngalo donde lo toquen las raíces" in flat(f"{words} --language es")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ('yeast --rate "5 g/kg"', "rhizobium or mycorrhiza"),
        ('rhizobium --row "40 m"', "--rate"),
        ('rhizobium --rate "5 g" --seed "2 kg"', "no rate"),
        ('rhizobium --rate "5 m/kg" --seed "2 kg"', "no rate"),
        ('rhizobium --rate "0 g/kg" --seed "2 kg"', "no rate"),
        ('rhizobium --rate "5 g/min" --seed "2 kg"', "no rate"),
        ('rhizobium --rate "5 g/kg" --row "40 m"', "--seed"),
        ('rhizobium --rate "5 g/kg" --seed "2000 seeds"', "--thousand"),
        ('rhizobium --rate "5 g/m" --row "40 m" --seed "2 kg"', "--seed"),
        ('rhizobium --rate "5 g/m" --area "40 m2"', "row"),
        ('rhizobium --rate "5 g/plant" --area "40 m2"', "plants"),
        ('rhizobium --rate "100000 CFU/seed" --seed "2000 seeds"', "--living"),
        ('rhizobium --rate "100000 CFU/seed" --seed "2 kg" --living "1e9 CFU/g"', "--thousand"),
        ('rhizobium --rate "9 CFU/seed" --seed "9 seeds" --living "9 propagules/g"',
         "different things"),
        ('rhizobium --rate "5 g/kg" --seed "2 kg" --living "1e9 CFU/mL"', "as it is measured"),
        ('rhizobium --rate "5 g/kg" --seed "2 kg" --living "1e9 CFU/m2"', "as it is measured"),
        ('rhizobium --rate "5 g/kg" --seed "2 kg" --thousand "1 g" --seed-count "9/g"',
         "--seed-count"),
        ('mycorrhiza --rate "5 mL/plant" --plants 9', "by weight"),
        ('mycorrhiza --rate "5 g/L"', "medium"),
        ('rhizobium --rate "5 g/kg" --seed "2 kg" -o card.pdf', "--row"),
        ('rhizobium --rate "5 g/kg" --seed "2 kg" --packet "3 mL"', "250 g"),
    ],
)  # fmt: skip
def test_what_is_in_doubt_is_refused_with_the_way_out(words: str, says: str) -> None:
    done = run(f"inoculate {words}")
    assert getattr(done.exception, "exit_code", None) == 2, done.exception
    assert says in str(done.exception)
    assert done.output == ""
    assert not Path("card.pdf").exists()


def test_an_inoculant_is_not_let_out_like_an_animal() -> None:
    done = run('sow mycorrhiza --plants 20 --release "50/plant"')
    assert "dosecalc inoculate" in str(done.exception)


@pytest.mark.parametrize(
    ("words", "seeds"),
    [
        ('wheat --area "10 sq ft" --rate "35 seeds/sq ft" --thousand "40 g"', 350),
        ('pea --row "100 ft" --rate "6 seeds/ft"', 600),
        ('pea --row "30.48 m" --rate "6 seeds/ft"', 600),
        ('pea --plants 20 --rate "3 seeds/plant"', 60),
        ('pea --row "4 m" --plant-spacing "20 cm" --rate "2 seeds per plant"', 40),
    ],
)
def test_a_seed_rate_may_count_seeds(words: str, seeds: int) -> None:
    data = found(f"sow {words}")["sow"]
    assert data["seeds"] == pytest.approx(seeds, rel=1e-10)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ('--row "4 m" --rate "6 seeds/ft" --rate-is live', "--rate-is"),
        ('--row "4 m" --rate "6 seeds/g"', "no weight of seed"),
        ('--row "4 m" --rate "6 seeds/plant"', "--plants"),
        ('--plants 4 --rate "6 seeds/ft"', "exactly one"),
    ],
)
def test_a_rate_in_seeds_is_refused_where_it_could_mislead(words: str, says: str) -> None:
    done = run(f"sow pea {words}")
    assert getattr(done.exception, "exit_code", None) == 2, done.exception
    assert says in str(done.exception)

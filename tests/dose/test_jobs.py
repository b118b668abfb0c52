"""The jobs of Saltmarsh Lane garden from text to figures: what must come out, and what must not.

The expected figures are worked from the definitions beside them (SI Brochure; NIST Handbook 44,
Appendix C; UK Weights and Measures Act 1985), never taken from a run of the program.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.dump import dump
from dosecalc.errors import DoseError
from dosecalc.faces.job import Job, run

US_GAL = 3.785411784  # L: 231 cubic inches (NIST Handbook 44)
IMP_GAL = 4.54609  # L (Weights and Measures Act 1985)
US_TBSP = US_GAL * 1000 / 256  # mL: two to the fluid ounce, 128 fluid ounces to the gallon
US_TSP = US_TBSP / 3
LB, OZ = 453.59237, 28.349523125  # g
SQ_FT = 0.09290304  # m2

ROW = SiteText(row="40 m")
SPACED = SiteText(row="40 m", row_spacing="45 cm")


def made(
    recipe: str,
    site: SiteText | None = None,
    tools: ToolsText | None = None,
    measures: str | None = None,
    water: str | None = None,
    equal: bool = False,
) -> dict[str, Any]:
    """The JSON of one job."""
    return dump(
        run(
            Job(
                recipe, site or SiteText(), tools or ToolsText(), measures=measures, water=water,
                equal=equal,
            )
        )
    )  # fmt: skip


def of(out: dict[str, Any], material: str) -> dict[str, Any]:
    return next(item for item in out["amounts"] if item["material"] == material)


def volume(out: dict[str, Any], material: str) -> float:
    """Likely millilitres that the job asks for."""
    span = of(out, material)["volume"]
    assert span["unit"] == "mL"
    return float(span["likely"])


def mass(out: dict[str, Any], material: str) -> float:
    """Likely grams that the job asks for."""
    span = of(out, material)["mass"]
    assert span["unit"] == "g"
    return float(span["likely"])


def supply(out: dict[str, Any], nutrient: str) -> dict[str, Any]:
    return next(item for item in out["supplies"] if item["nutrient"] == nutrient)


def near(expected: float) -> Any:
    """Twelve digits of JSON leave nothing to doubt at a billionth."""
    return pytest.approx(expected, rel=1e-9)


def ends(span: dict[str, Any], unit: str, digits: int) -> tuple[float, float, float]:
    """Low, likely and high as they would be printed with so many decimals."""
    assert span["unit"] == unit
    return (round(span["low"], digits), round(span["likely"], digits), round(span["high"], digits))


# The boron drench: 5 mL of borax in 350 mL of water over 5 m of row.
def test_boron_drench_on_one_row_of_forty_metres() -> None:
    out = made("boron-drench", ROW)
    assert volume(out, "borax") == near(40)
    assert volume(out, "water") == near(2800)
    assert out["site"]["row_length"] == {"value": 40, "unit": "m"}
    # Borax lies at 0.700 / 0.85 / 0.961 g/mL, so 40 mL may mean 28.0 / 34.0 / 38.4 g ...
    assert ends(of(out, "borax")["mass"], "g", 1) == (28.0, 34.0, 38.4)
    # ... and what 5 % of a spoon either way brings on top of it is 26.6 / 34.0 / 40.4 g.
    assert ends(out["tankfuls"][0]["measures"][0]["amount"], "g", 1) == (26.6, 34.0, 40.4)


def test_boron_drench_supplies_boron_per_metre() -> None:
    out = made("boron-drench", ROW)
    boron = supply(out, "B")
    assert ends(boron["mass"], "g", 2)[1] == 3.86  # 34.0 g of 11.34 %
    assert ends(boron["per_length"], "g/m", 3)[1] == 0.096
    assert boron["per_length"]["low"] < boron["per_length"]["likely"] < boron["per_length"]["high"]


def test_boron_per_area_is_null_and_said_to_be_not_told() -> None:
    out = made("boron-drench", ROW)
    for item in out["supplies"]:
        assert item["per_area"] is None
        assert item["in_band"] is None
    told = [line for line in out["not_told"] if "per area" in line]
    assert len(told) == 1
    assert "--row-spacing" in told[0]
    assert "area" not in out["site"]


def test_boron_per_area_comes_with_the_row_spacing() -> None:
    out = made("boron-drench", SPACED)
    assert out["site"]["area"] == {"value": 18, "unit": "m2"}
    # 26.6 / 34.0 / 40.4 g of borax with 11.338 % of boron on 18 m2
    assert ends(supply(out, "B")["per_area"], "kg/ha", 2) == (1.68, 2.14, 2.54)
    assert supply(out, "B")["in_band"] is None
    assert [line for line in out["not_told"] if "per area" in line] == []
    # The row spacing changes what is said of the ground, and nothing of what is measured out.
    alone = made("boron-drench", ROW)
    assert out["amounts"] == alone["amounts"]
    assert out["tankfuls"] == alone["tankfuls"]


def test_boron_in_the_band_comes_with_the_band() -> None:
    out = made("boron-drench", SiteText(row="40 m", band="30 cm"))
    assert out["site"]["band_area"] == {"value": 12, "unit": "m2"}
    boron = supply(out, "B")
    assert boron["per_area"] is None
    assert ends(boron["in_band"], "kg/ha", 2)[1] == 3.21  # 3.855 g on 12 m2


def test_weighing_takes_density_and_spoon_out_of_it() -> None:
    out = made("boron-drench", ROW, ToolsText(scale="0.1 g"))
    action = out["tankfuls"][0]["measures"][0]
    assert action["nominal"] == {"value": 34, "unit": "g"}
    # A scale that reads to 0.1 g: 0.1 % of 34 g and one step, either way.
    assert ends(action["amount"], "g", 3) == (33.866, 34.0, 34.134)


def test_the_water_of_the_drench_only_carries() -> None:
    out = made("boron-drench", ROW, water="5 L")
    assert volume(out, "water") == near(5000)
    assert volume(out, "borax") == near(40)
    with pytest.raises(DoseError, match="strength must be kept"):
        made("starter-drench", SiteText(plants="16"), water="5 L")
    with pytest.raises(DoseError, match="no water of its own"):
        made("feed-5-10-10-broadcast", SiteText(area="18 m2"), water="5 L")


# The same drench printed in US units: 1 tsp in 12 fl oz over 15 ft.
def wording(out: dict[str, Any]) -> list[dict[str, Any]]:
    return [item for item in out["findings"] if item["why"] == "two-wordings"]


def test_the_two_wordings_differ_and_the_size_is_said() -> None:
    """4.929 mL over 4.572 m against 5 mL over 5 m: 7.8 % more borax, 11 % more water."""
    out = made("boron-drench", ROW)
    (found,) = wording(out)
    assert found["level"] == "note"
    assert "7.8 % more Borax" in found["say"]
    assert "11 % more water" in found["say"]
    assert "US wording" in found["say"]


def test_the_us_wording_on_request() -> None:
    out = made("boron-drench", ROW, measures="us")
    assert volume(out, "borax") == near(US_TSP / 4.572 * 40)
    assert volume(out, "water") == near(12 * US_GAL * 1000 / 128 / 4.572 * 40)
    (found,) = wording(out)
    assert "7.2 % less Borax" in found["say"]  # 1/1.078
    # With another person's spoons the metric one would be taken: it gives less to the ground.
    assert volume(made("boron-drench", ROW), "borax") < volume(out, "borax")


def test_wordings_that_agree_are_not_reported(tmp_path: Path) -> None:
    """1 oz to the square yard is 33.9 g/m2: 35 g are 3.2 % more, and 34 g 0.3 % more."""
    (found,) = wording(made("ammonium-sulfate-bed", SiteText(area="18 m2")))
    assert "3.2 % more" in found["say"]
    assert "The imperial wording was used whole" in found["say"]
    text = TWICE.replace("35 g", "34 g")
    path = tmp_path / "mine.toml"
    path.write_text(text, "utf-8")
    assert wording(made(str(path), SiteText(area="18 m2"))) == []
    path.write_text(TWICE, "utf-8")
    assert len(wording(made(str(path), SiteText(area="18 m2")))) == 1


# Leaf spray: 1 tbsp baking soda, 2.5 tbsp vegetable oil, 1 tsp liquid soap to 1 US gallon.
HAND = ToolsText(sprayer="2 L")
KNAPSACK = ToolsText(sprayer="15 L")


def test_leaf_spray_in_the_hand_sprayer() -> None:
    out = made("leaf-spray-oil", tools=HAND)
    assert volume(out, "sodium-bicarbonate") == near(2000 / 256)
    assert volume(out, "vegetable-oil") == near(2.5 * 2000 / 256)
    assert volume(out, "liquid-soap") == near(2000 / 768)
    assert volume(out, "water") == near(2000)
    assert len(out["tankfuls"]) == 1
    assert any("US" in item["value"] for item in out["assumed"])


def test_leaf_spray_by_the_imperial_gallon_is_another_stated_dose() -> None:
    us = made("leaf-spray-oil", tools=HAND)
    imperial = made("leaf-spray-oil", tools=HAND, measures="imperial")
    # A British tablespoon of 15 mL in 4.546 L against one of 14.79 mL in 3.785 L.
    assert volume(imperial, "sodium-bicarbonate") == near(15 * 2 / IMP_GAL)
    assert volume(imperial, "vegetable-oil") == near(2.5 * 15 * 2 / IMP_GAL)
    assert volume(imperial, "liquid-soap") == near(5 * 2 / IMP_GAL)
    assert volume(imperial, "sodium-bicarbonate") < 0.85 * volume(us, "sodium-bicarbonate")
    (said,) = [item for item in imperial["assumed"] if item["value"] == "imperial"]
    assert "as you asked" in said["what"]
    assert "imperial measures" in imperial["read_as"][0]


RECIPE = """\
name = "A page read at Saltmarsh Lane"
purpose = "To be read without doubt"
how = "drench"
placement = "soil-drench"
practice = "common practice, no source"

[[statement]]
{measures}basis = "{basis}"
per = "{per}"

[[statement.ingredient]]
material = "{material}"
amount = "{amount}"
{nutrient}role = "active"
"""
TWICE = """\
name = "Two wordings of one dressing"
purpose = "To see whether their difference is reported"
how = "side-dress"
placement = "broadcast"
practice = "common practice, no source"

[[statement]]
measures = "metric"
basis = "area"
per = "1 m2"

[[statement.ingredient]]
material = "ammonium-sulfate"
amount = "35 g"
role = "feed"

[[statement]]
measures = "imperial"
basis = "area"
per = "1 sq yd"

[[statement.ingredient]]
material = "ammonium-sulfate"
amount = "1 oz"
role = "feed"
"""


def page(
    folder: Path,
    amount: str,
    per: str,
    *,
    basis: str = "spray volume",
    material: str = "sodium-bicarbonate",
    measures: str | None = "us",
    nutrient: str | None = None,
) -> str:
    """A recipe file of one ingredient."""
    path = folder / "page.toml"
    path.write_text(
        RECIPE.format(
            measures="" if measures is None else f'measures = "{measures}"\n',
            basis=basis,
            per=per,
            material=material,
            amount=amount,
            nutrient="" if nutrient is None else f'nutrient = "{nutrient}"\n',
        ),
        "utf-8",
    )
    return str(path)


def test_a_gallon_of_no_country_is_refused_with_both(tmp_path: Path) -> None:
    path = page(tmp_path, "1 tbsp", "1 gal", measures=None)
    with pytest.raises(DoseError) as caught:
        made(path, tools=HAND)
    text = str(caught.value)
    for piece in ("'US gal' (3.785 L)", "'imperial gal'", "(4.546 L)"):
        assert piece in text
    assert "--recipe-measures" in text
    assert volume(made(path, tools=HAND, measures="us"), "sodium-bicarbonate") == near(2000 / 256)
    assert volume(made(path, tools=HAND, measures="imperial"), "sodium-bicarbonate") == near(
        30 / IMP_GAL
    )


@pytest.mark.parametrize(("tools", "litres"), [(HAND, 2), (KNAPSACK, 15)])
def test_a_teaspoon_to_the_us_quart(tools: ToolsText, litres: int) -> None:
    out = made("leaf-spray-quart", tools=tools)
    assert volume(out, "sodium-bicarbonate") == near(litres * 1000 / 192)
    assert volume(out, "water") == near(litres * 1000)


# A US page, a 9 L can, Australian spoons.
def test_a_us_page_a_nine_litre_can_and_australian_spoons(tmp_path: Path) -> None:
    """35.2 mL: not the 39.6 of an imperial gallon, not the 47.6 of an Australian tablespoon."""
    tools = ToolsText(sprayer="9 L", my_spoons="australian")
    for recipe in (page(tmp_path, "1 tbsp", "1 gal"), "leaf-spray-oil"):
        out = made(recipe, tools=tools)
        asked = volume(out, "sodium-bicarbonate")
        assert asked == near(9000 / 256)
        assert round(asked, 1) == 35.2
        assert asked not in (near(20 * 9 / IMP_GAL), near(20 * 9 / US_GAL))
        action = out["tankfuls"][0]["measures"][0]
        # The nearest quarter of a 5 mL teaspoon, four of them to a tablespoon of 20 mL.
        assert action["nominal"] == {"value": 35, "unit": "mL"}
        assert "one level tablespoon and three level teaspoons" in action["say"]
        assert "Australian spoons" in action["say"]
        assert action["error_percent"] == pytest.approx((35 / (9000 / 256) - 1) * 100, rel=1e-9)


# 2 lb of a 5-10-10 per 100 sq ft on a bed of 1.2 m x 8 m.
def test_a_feed_over_a_bed_and_its_nutrients() -> None:
    out = made("feed-5-10-10-broadcast", SiteText(bed="1.2 m x 8 m"))
    asked = 2 * LB / (100 * SQ_FT) * 9.6
    assert mass(out, "feed-5-10-10") == near(asked)
    assert round(asked) == 937
    (action,) = out["tankfuls"][0]["measures"]
    assert action["nominal"] == {"value": 937, "unit": "g"}
    per_m2 = 937 / 9.6
    # Atomic weights: IUPAC abridged (CIAAW 2021).
    p = 2 * 30.974 / (2 * 30.974 + 5 * 15.999)
    k = 2 * 39.098 / (2 * 39.098 + 15.999)
    for word, share in {"N": 0.05, "P2O5": 0.1, "P": 0.1 * p, "K2O": 0.1, "K": 0.1 * k}.items():
        span = supply(out, word)["per_area"]
        assert span["unit"] == "kg/ha"
        assert span["likely"] / 10 == near(per_m2 * share), word
    assert round(per_m2, 1) == 97.6
    assert out["site"]["area"] == {"value": 9.6, "unit": "m2"}


# A 30 m bed with a 75 cm top, a 45 cm path and 3 rows, dosed by the row.
def test_a_bed_of_three_rows_dosed_by_the_row() -> None:
    site = SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3")
    out = made("boron-drench", site)
    assert out["site"]["row_length"] == {"value": 90, "unit": "m"}
    assert out["site"]["gross_area"] == {"value": 36, "unit": "m2"}
    assert out["site"]["area"] == {"value": 22.5, "unit": "m2"}
    assert volume(out, "borax") == near(90)
    assert volume(out, "water") == near(6300)
    assert "3 rows x 30 m = 90 m of row" in out["said"]
    assert ends(supply(out, "B")["per_length"], "g/m", 3)[1] == 0.096
    # Over the ground with its paths: 8.674 g of boron on 36 m2.
    assert ends(supply(out, "B")["per_area"], "kg/ha", 2)[1] == 2.41


def test_three_rows_of_forty_metres_are_said() -> None:
    out = made("boron-drench", SiteText(row="40 m", rows="3"))
    assert volume(out, "borax") == near(120)
    assert "3 rows x 40 m = 120 m of row" in out["said"]


def test_only_the_bed_top_is_spread_over_and_that_is_said() -> None:
    """What is spread stays on the bed, so the paths may not thin the figures either."""
    site = SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3")
    out = made("feed-5-10-10-broadcast", site)
    assert mass(out, "feed-5-10-10") == near(2 * LB / (100 * SQ_FT) * 22.5)
    assert any("bed top" in item["what"] for item in out["assumed"])
    (action,) = out["tankfuls"][0]["measures"]
    expected = action["nominal"]["value"] * 0.05 / 22.5 * 10
    assert supply(out, "N")["per_area"]["likely"] == near(expected)


# 5 cm of compost over a bed of 1.2 m x 8 m.
COMPOST_BED = SiteText(bed="1.2 m x 8 m")


def test_a_layer_of_compost_in_litres_and_cubic_yards() -> None:
    out = made("compost-layer", COMPOST_BED)
    assert volume(out, "garden-compost") == near(480_000)
    shown = of(out, "garden-compost")["shown"]
    assert "480 L" in shown
    assert "0.628 cu yd" in shown  # 0.48 m3 of 0.764554857984 m3 each
    assert out["bags"] is None


@pytest.mark.parametrize(
    ("bag", "bags"),
    # 480 L; two cubic feet are 56.6 L, so 8.48 of them
    [("50 L", 10), ("48 L", 10), ("40 L", 12), ("2 cu ft", 9), ("480 L", 1), ("479 L", 2)],
)
def test_bags_are_rounded_up(bag: str, bags: int) -> None:
    assert made("compost-layer", COMPOST_BED, ToolsText(bag=bag))["bags"] == bags


def test_a_layer_of_ones_own_depth() -> None:
    out = made("compost-layer", SiteText(bed="1.2 m x 8 m", layer="1 in"))
    assert volume(out, "garden-compost") == near(0.0254 * 9.6 * 1e6)


# Too little told: the refusal names the option.
@pytest.mark.parametrize(
    ("recipe", "site", "option"),
    [
        ("feed-5-10-10-broadcast", ROW, "--row-spacing"),
        ("compost-layer", ROW, "--row-spacing"),
        ("feed-5-10-10-broadcast", SiteText(), "--area"),
        ("boron-drench", SiteText(), "--row"),
        ("boron-drench", SiteText(bed="75 cm x 30 m"), "--rows-per-bed"),
        ("boron-drench", SiteText(area="18 m2"), "--rows-per-bed"),
        ("leaf-spray-oil", SiteText(), "--sprayer"),
        ("leaf-spray-oil", SiteText(area="18 m2"), "--spray-volume"),
        ("leaf-spray-oil", SiteText(spray_volume="400 L/ha"), "--area"),
        ("starter-drench", SiteText(area="18 m2"), "--plants"),
        ("slow-feed-pot", SiteText(), "--pots"),
        ("peat-mix-base", SiteText(), "--medium-volume"),
    ],
)
def test_what_was_not_told_is_asked_for(recipe: str, site: SiteText, option: str) -> None:
    with pytest.raises(DoseError) as caught:
        made(recipe, site)
    assert option in str(caught.value)


# Minimal pairs: two texts that look alike and are not the same dose.
GALLON = SiteText(spray_volume="1 US gal")
PLOT = SiteText(row="40 m", row_spacing="45 cm")


@pytest.mark.parametrize(
    ("one", "other", "first", "second"),
    [
        ("1 T", "1 t", ("volume", US_TBSP), ("mass", 1e6)),
        ("1 T", "1 tsp", ("volume", US_TBSP), ("volume", US_TSP)),
        ("1 Tbsp", "1 tsp", ("volume", US_TBSP), ("volume", US_TSP)),
        ("1 oz", "1 fl oz", ("mass", OZ), ("volume", 2 * US_TBSP)),
        ("1 1/2 tsp", "11/2 tsp", ("volume", 1.5 * US_TSP), ("volume", 5.5 * US_TSP)),
        ("1 1/2 oz", "1.1/2 oz", ("mass", 1.5 * OZ), None),
        ("1,5 g", "1,500 g", ("mass", 1.5), ("mass", 1500)),
        ("1.5 g", "1.500,0 g", ("mass", 1.5), None),
        ("1 mg", "1 g", ("mass", 0.001), ("mass", 1)),
        ("1 g", "1 kg", ("mass", 1), ("mass", 1000)),
        ("1 mL", "1 L", ("volume", 1), ("volume", 1000)),
        ("1 ton", "1 tonne", ("mass", 2000 * LB), ("mass", 1e6)),
        ("1 pt", "1 qt", ("volume", 128 / 4 * US_TBSP), ("volume", 128 / 2 * US_TBSP)),
        ("1 US gal", "1 imp gal", ("volume", US_GAL * 1000), ("volume", IMP_GAL * 1000)),
        ("1 AU tbsp", "1 US tbsp", ("volume", 20), ("volume", US_TBSP)),
        ("1 lb", "1 L", ("mass", LB), ("volume", 1000)),
        ("1 G", "1 g", None, ("mass", 1)),
        ("1 ml", "1 Ml", ("volume", 1), None),
        ("1 mg", "1 Mg", ("mass", 0.001), None),
    ],
)
def test_amounts_that_look_alike_are_not_alike(
    one: str, other: str, first: Any, second: Any, tmp_path: Path
) -> None:
    results = []
    for text, expected in ((one, first), (other, second)):
        path = page(tmp_path, text, "1 gal")
        if expected is None:
            with pytest.raises(DoseError):
                made(path, GALLON)
            results.append(None)
            continue
        kind, figure = expected
        out = made(path, GALLON)
        assert of(out, "sodium-bicarbonate")[kind]["likely"] == near(figure)
        results.append(out["amounts"])
    assert results[0] != results[1]
    assert results != [None, None]


def test_a_comma_where_commas_mark_decimals_is_refused(tmp_path: Path) -> None:
    """1,500 g is a gram and a half in one country and three pounds in another."""
    path = page(tmp_path, "1,500 g", "1 L", measures="metric")
    with pytest.raises(DoseError, match=r"can mean 1\.500 or 1500"):
        made(path, GALLON)
    path = page(tmp_path, "1,5 g", "1 L", measures="metric")
    assert mass(made(path, GALLON), "sodium-bicarbonate") == near(1.5 * US_GAL)


def test_an_ounce_of_a_liquid_is_refused_with_both(tmp_path: Path) -> None:
    path = page(tmp_path, "1 oz", "1 gal", material="vegetable-oil")
    with pytest.raises(DoseError) as caught:
        made(path, GALLON)
    assert "oz by weight" in str(caught.value)
    assert "fl oz" in str(caught.value)
    weighed = made(page(tmp_path, "1 oz by weight", "1 gal", material="vegetable-oil"), GALLON)
    assert mass(weighed, "vegetable-oil") == near(OZ)
    poured = made(page(tmp_path, "1 fl oz", "1 gal", material="vegetable-oil"), GALLON)
    assert volume(poured, "vegetable-oil") == near(2 * US_TBSP)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        # 2 x 30.974 + 5 x 15.999 over 2 x 30.974; 2 x 39.098 + 15.999 over 2 x 39.098 (CIAAW 2021)
        ("P", "P2O5", 141.943 / 61.948),
        ("K", "K2O", 94.195 / 78.196),
    ],
)
def test_an_oxide_is_not_its_element(one: str, other: str, ratio: float, tmp_path: Path) -> None:
    """A pound of P takes 2.29 times the feed that a pound of P2O5 takes."""
    found = [
        mass(
            made(
                page(tmp_path, "1 lb", "1000 sq ft", basis="area", material="feed-5-10-10",
                     nutrient=word),
                PLOT,
            ),
            "feed-5-10-10",
        )
        for word in (one, other)
    ]  # fmt: skip
    assert found[0] / found[1] == near(ratio)
    assert found[1] == near(10 * LB * 18 / (1000 * SQ_FT))


def test_a_nutrient_is_not_its_material(tmp_path: Path) -> None:
    as_boron = page(tmp_path, "1 lb", "1 acre", basis="area", material="borax", nutrient="B")
    boron = mass(made(as_boron, PLOT), "borax")
    as_borax = page(tmp_path, "1 lb", "1 acre", basis="area", material="borax")
    borax = mass(made(as_borax, PLOT), "borax")
    # 4 x 10.81 of 381.363 (CIAAW 2021)
    assert boron / borax == near(381.363 / 43.24)


def test_per_row_is_not_per_square(tmp_path: Path) -> None:
    by_row = page(tmp_path, "1 lb", "100 ft", basis="row length", material="feed-5-10-10")
    row = mass(made(by_row, PLOT), "feed-5-10-10")
    by_area = page(tmp_path, "1 lb", "100 sq ft", basis="area", material="feed-5-10-10")
    area = mass(made(by_area, PLOT), "feed-5-10-10")
    assert row == near(LB * 40 / 30.48)
    assert area == near(LB * 18 / 9.290304)
    for basis, per in (("row length", "100 sq ft"), ("area", "100 ft"), ("plant", "1 pot")):
        with pytest.raises(DoseError):
            made(page(tmp_path, "1 lb", per, basis=basis, material="feed-5-10-10"), PLOT)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("1 gal", "100 gal", 100.0),
        ("1 gal", "1 qt", 0.25),
        ("1 gal", "1 imp gal", IMP_GAL / US_GAL),
        ("1 gal", "1 L", 1 / US_GAL),
        ("1 gal", "4 cup", 0.25),
    ],
)
def test_per_what_counts(one: str, other: str, ratio: float, tmp_path: Path) -> None:
    found = [
        volume(made(page(tmp_path, "1 tbsp", per), GALLON), "sodium-bicarbonate")
        for per in (one, other)
    ]
    assert found[0] == near(US_TBSP)
    assert found[0] / found[1] == near(ratio)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("1 acre", "1 are", 4046.8564224 / 100),
        ("1 acre", "1 ha", 4046.8564224 / 10000),
        ("1 sq yd", "1 m2", 0.83612736),
        ("100 sq ft", "100 m2", SQ_FT),
    ],
)
def test_per_which_area_counts(one: str, other: str, ratio: float, tmp_path: Path) -> None:
    found = [
        mass(made(page(tmp_path, "1 lb", per, basis="area", material="urea"), PLOT), "urea")
        for per in (one, other)
    ]
    assert found[1] / found[0] == near(ratio)


def test_a_range_is_the_growers_choice_and_not_a_spread(tmp_path: Path) -> None:
    out = made("fish-emulsion-drench", GALLON)
    assert volume(out, "fish-emulsion") == near(US_TBSP)
    upper = of(out, "fish-emulsion")["up_to"]
    assert upper["unit"] == "US tbsp"
    assert upper["value"] == near(2)
    written = made(page(tmp_path, "1-2 tbsp", "1 gal", material="fish-emulsion"), GALLON)
    assert of(written, "fish-emulsion")["volume"] == of(out, "fish-emulsion")["volume"]
    assert of(written, "fish-emulsion")["up_to"] == upper


def test_how_much_liquid_comes_before_what_goes_into_it() -> None:
    """A rate per area times the ground: 400 L/ha on 18 m2 are 0.72 L."""
    out = made("leaf-spray-oil", SiteText(area="18 m2", spray_volume="400 L/ha"))
    assert volume(out, "water") == near(720)
    assert volume(out, "sodium-bicarbonate") == near(720 / 256)


def test_more_than_the_sprayer_holds_makes_a_last_part() -> None:
    site = SiteText(spray_volume="5.3 L")
    out = made("leaf-spray-oil", site, HAND)
    assert [item["volume"] for item in out["tankfuls"]] == [
        {"value": 2, "unit": "L"},
        {"value": 2, "unit": "L"},
        {"value": 1.3, "unit": "L"},
    ]
    equal = made("leaf-spray-oil", site, HAND, equal=True)
    assert [item["volume"]["value"] for item in equal["tankfuls"]] == [near(5.3 / 3)] * 3
    assert out["amounts"] == equal["amounts"]


def test_the_same_job_twice_is_the_same_value() -> None:
    job = Job("boron-drench", SPACED, ToolsText(sprayer="9 L"))
    assert run(job) == run(job)
    assert Fraction(40) == Fraction(str(volume(dump(run(job)), "borax")))


def test_a_heap_is_not_weighed_to_the_gram() -> None:
    """Where no scale was told: what reads to a gram carries a few kilograms."""
    found = run(Job("cattle-manure-bed", SiteText(area="10 m2"), ToolsText()))
    [measured] = found.tankfuls[0].measures
    assert measured.say.english() == "weigh 36.6 kg"
    assert "50 g" in [one.value for one in found.assumed]

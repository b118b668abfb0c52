"""What the judge must say, and must never say, of whole jobs typed as a grower types them.

The figures are worked out here from weights and measures: IUPAC abridged atomic weights (CIAAW
2021), NIST Handbook 44 Appendix C for the US measures.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog import lookup
from dosecalc.catalog.limit import read_limits
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.english import every
from dosecalc.faces import done, job
from dosecalc.faces.cli.output import show_mix
from dosecalc.faces.text import render
from dosecalc.units.measure import Measure

FOOT = Fraction("0.3048")  # m
POUND = Fraction("0.45359237")  # kg
ACRE = 43560 * FOOT**2 / 10000  # ha
US_GALLON = 231 * (FOOT / 12) ** 3 * 1000  # L
US_TABLESPOON = US_GALLON / 256 * 1000  # mL
B_IN_BORAX = 4 * Fraction("10.81") / Fraction("381.363")  # Na2B4O7.10H2O
CU_IN_COPPER_SULFATE = Fraction("63.546") / Fraction("249.677")  # CuSO4.5H2O
POUNDS_PER_ACRE = POUND / ACRE  # kg/ha


def mix(
    recipe: str, told: ToldText | None = None, tools: ToolsText | None = None, **site: str
) -> Mix:
    return job.run(job.Job(recipe, SiteText(**site), tools or ToolsText(), told or ToldText()))


def check(
    *amounts: str, told: ToldText | None = None, scale: str | None = None, **rest: Any
) -> Mix:
    """Judge what was done; site words and options of `Done` may be mixed."""
    options = {key: rest.pop(key) for key in ("water", "holds", "depth", "placement", "stock")
               if key in rest}  # fmt: skip
    return done.run(
        done.Done(
            amounts, SiteText(**rest), ToolsText(scale=scale), told=told or ToldText(), **options
        )
    )


def finding(found: Mix, id: str) -> Finding:
    mine = [f for f in found.findings if f.id == id]
    assert len(mine) == 1, [f.id for f in found.findings]
    return mine[0]


def levels(found: Mix) -> list[str]:
    return [f.level for f in found.findings]


def of_level(found: Mix, *wanted: str) -> list[str]:
    return [f.id for f in found.findings if f.level in wanted]


def value(measure: Measure | None) -> Fraction:
    assert measure is not None
    return measure.value


# The drench of Saltmarsh Lane: one 40 m row, 5 mL of borax for every 5 m.

ROW_ID, AREA_ID = "borax-along-the-row", "boron-high-need-vegetables"
BEET = ToldText(crop="beetroot")


def drench(told: ToldText = BEET, **site: str) -> Mix:
    return mix("boron-drench", told, row="40 m", **site)


def test_the_drench_is_judged_along_the_row_first_and_per_area_second() -> None:
    found = drench(row_spacing="45 cm")
    row, area = finding(found, ROW_ID), finding(found, AREA_ID)
    # 1 mL/m against one US tablespoon in 100 ft.
    assert row.ratio == 1 / (US_TABLESPOON / (100 * FOOT))
    assert round(float(row.ratio), 2) == 2.06
    assert row.level == "over"
    assert found.findings[0] is row
    assert found.findings.index(area) > 0
    # 40 mL of borax at 0.85 g/mL, likely, over 18 m2.
    kg_per_ha = Fraction(40) * Fraction("0.85") * B_IN_BORAX / 18 * 10
    assert value(area.likely) * POUNDS_PER_ACRE == kg_per_ha
    assert round(float(kg_per_ha), 2) == 2.14
    assert area.ratio == kg_per_ha / (3 * POUNDS_PER_ACRE)


@pytest.mark.parametrize("spacing", ["20 cm", "45 cm", "75 cm", "1 m", "3 m", "10 m"])
def test_a_wider_row_spacing_never_makes_the_drench_pass(spacing: str) -> None:
    found = drench(row_spacing=spacing)
    assert found.worst == "over"
    assert found.findings[0].level == "over"
    assert finding(found, ROW_ID).ratio == finding(drench(), ROW_ID).ratio


def test_a_lone_row_is_judged_as_if_the_next_were_a_metre_away() -> None:
    at = {s: finding(drench(row_spacing=s), AREA_ID).likely for s in ("75 cm", "1 m", "3 m")}
    assert at["3 m"] == at["1 m"]
    assert value(at["75 cm"]) > value(at["1 m"])


def test_without_row_spacing_the_area_figure_is_said_to_be_untold() -> None:
    found = drench()
    untold = [f for f in found.findings if f.why == "not-told" and f.about == "B"]
    assert [f.level for f in untold] == ["caution"]
    assert "--row-spacing" in untold[0].say.english()
    assert "density" not in untold[0].say.english()
    assert found.worst == "over"


@pytest.mark.parametrize(
    "crop", ["bean", "beans", "french beans", "green bean", "runner bean", "haricot bean", "peas"]
)
@pytest.mark.parametrize("spacing", [None, "45 cm", "3 m"])
def test_the_drench_is_a_stop_for_beans_and_peas(crop: str, spacing: str | None) -> None:
    site = {} if spacing is None else {"row_spacing": spacing}
    found = drench(ToldText(crop=crop), **site)
    assert found.worst == "stop"
    assert found.findings[0].level == "stop"
    # The recipe says so, and so does a limit of none at all: neither leans on the other.
    assert {f.why for f in found.findings if f.level == "stop"} >= {"excluded", "not-on-crop"}


def test_without_a_crop_general_vegetables_are_judged_and_the_sensitive_ones_named() -> None:
    found = check("20 g borax", area="10 m2")
    said = [a for a in found.assumed if a.what.key == "assume-crop"]
    assert len(said) == 1
    assert "vegetable" in said[0].value
    assert "ean" in said[0].instead.english()  # beans, whatever else


# 100 g of borax on 10 m2, a figure that a retail page really prints.


def test_a_hundred_grams_of_borax_on_ten_square_metres_is_over() -> None:
    found = check("100 g borax", area="10 m2")
    over = finding(found, "boron-vegetables-in-general")
    assert found.worst == "over"
    assert over.level == "over"
    kg_per_ha = 100 * B_IN_BORAX / 10 * 10
    assert round(float(kg_per_ha), 1) == 11.3
    assert value(over.likely) * POUNDS_PER_ACRE == kg_per_ha
    assert over.ratio == kg_per_ha / (3 * POUNDS_PER_ACRE)
    assert round(float(over.ratio), 2) == 3.37
    assert "11.3" in over.say.english()
    assert over.source
    assert over.scope


@pytest.mark.parametrize(
    ("crop", "id", "pounds"),
    [
        ("beet", "boron-high-need-vegetables", 3),
        ("tomatoes", "boron-medium-need-vegetables", 2),
        ("bell pepper", "boron-low-need-vegetables", 1),
        ("chard", "boron-vegetables-in-general", 3),
        ("lucerne", "boron-alfalfa-most", 4),
    ],
)
def test_the_ratio_to_each_strong_limit_in_scope_is_told(crop: str, id: str, pounds: int) -> None:
    found = check("100 g borax", area="10 m2", told=ToldText(crop=crop))
    over = finding(found, id)
    assert over.level == "over"
    assert over.ratio == 100 * B_IN_BORAX / (pounds * POUNDS_PER_ACRE)
    strong = [f for f in found.findings if f.about == "B" and f.level == "over"]
    assert all(f.ratio is not None and f.limit is not None for f in strong)


def test_over_says_at_what_amount_the_limit_is_reached_and_that_it_is_no_dose() -> None:
    sentence = finding(check("100 g borax", area="10 m2"), "boron-vegetables-in-general").say
    edge = dict(sentence.args)["edge"]
    grams = 100 / (100 * B_IN_BORAX / (3 * POUNDS_PER_ACRE))
    numbers = [Fraction(n) for n in re.findall(r"([\d.]+) g ", edge)]
    assert numbers
    # Rounded down, so that the figure named is never itself above the limit.
    assert grams * Fraction(99, 100) < numbers[0] <= grams
    assert re.search(r"\bnot? (a )?(dose|instruction|rate)", edge)


# Baking soda: a tablespoon in four US cups, and in a gallon.

SODA = "sodium-bicarbonate"


def in_solution(found: Mix) -> tuple[Fraction, Fraction]:
    span = next(a for a in found.amounts if a.material == SODA).in_solution
    assert span is not None
    assert dict(span.unit) == {"gram": 1, "liter": -1}
    return span.low, span.high


def test_a_spoon_of_soda_in_four_cups_is_too_strong_at_every_density() -> None:
    found = mix("leaf-spray-cups", spray_volume="4 US cups")
    low, _ = in_solution(found)
    assert low > 10
    strength = finding(found, "sodium-bicarbonate-strength")
    # Only weak sources give the figure, so it cautions and says why it does no more.
    assert strength.level == "caution"
    assert "strong source" in strength.say.english()
    assert strength.grade not in ("regulator", "standard", "journal", "extension")
    assert found.worst == "caution"


def test_the_gallon_recipe_is_inside() -> None:
    found = mix("leaf-spray-oil", spray_volume="1 US gal")
    _, high = in_solution(found)
    assert high < 10
    assert finding(found, "sodium-bicarbonate-strength").level == "within"


# Sulfur on day 20 after oil, at 34 C.

RULES = read_rules(None, lookup.source)


def sulfur(days: int, temperature: str | None, oil: str = "horticultural oil") -> Mix:
    told = ToldText(crop="apple", after=(f"{oil} {days} days",), temperature=temperature)
    return mix("wettable-sulfur-apple", told, area="100 m2")


@pytest.mark.parametrize("oil", ["horticultural oil", "neem oil", "vegetable oil"])
def test_sulfur_soon_after_oil_in_heat_is_two_stops(oil: str) -> None:
    found = sulfur(20, "34 C", oil)
    stops = [f for f in found.findings if f.level == "stop"]
    assert sorted(f.why for f in stops) == ["too-soon", "weather"]
    assert levels(found)[:2] == ["stop", "stop"]


def test_each_source_of_the_wait_is_named_with_its_own_days() -> None:
    stop = next(f for f in sulfur(20, "34 C").findings if f.why == "too-soon")
    text = stop.say.english()
    pairs = [
        pair
        for pair in RULES.pairs
        if pair.where == "days apart" and {pair.a, pair.b} == {"trait:sulfur", "trait:oil"}
    ]
    assert {pair.days for pair in pairs} >= {7, 14, 28, 30}
    for pair in pairs:
        assert f"{pair.days} days by {pair.source.cite()}" in text
    assert max(pair.days for pair in pairs if pair.source.strong) == 30
    assert stop.grade == "extension"


def test_each_figure_for_heat_is_named_with_its_source() -> None:
    stop = next(f for f in sulfur(20, "34 C").findings if f.why == "weather")
    text = stop.say.english()
    heat = [
        rule
        for rule in RULES.weather
        if rule.of == "trait:sulfur"
        and rule.quantity == "temperature"
        and rule.edge in ("above", "at least")
        and rule.value is not None
        and rule.value < 34
    ]
    assert len({rule.value for rule in heat}) >= 3
    for rule in heat:
        assert rule.value is not None
        assert f"{float(rule.value):.3g} C" in text
        assert rule.source.cite() in text


def test_after_the_longest_wait_and_in_the_cool_nothing_stops_the_sulfur() -> None:
    assert of_level(sulfur(29, "20 C"), "stop") != []
    assert of_level(sulfur(30, "20 C"), "stop", "over", "caution") == []


# What must not meet.

BLUE = "10 g copper sulfate pentahydrate"


@pytest.mark.parametrize("soda", ["baking soda", "potassium bicarbonate"])
@pytest.mark.parametrize("first", [True, False])
def test_copper_sulfate_with_a_bicarbonate_in_one_tank_is_a_stop(soda: str, first: bool) -> None:
    both = (BLUE, f"4 g {soda}") if first else (f"4 g {soda}", BLUE)
    found = check(*both, water="2 L")
    stops = [f for f in found.findings if f.level == "stop"]
    assert [f.why for f in stops] == ["meeting"]
    text = stops[0].say.english()
    assert "opper" in text
    assert "arbonate" in text
    assert check(both[0], water="2 L").worst != "stop"


def test_calcium_nitrate_with_epsom_salt_is_a_stop_in_a_stock_tank_only() -> None:
    amounts = ("100 g calcium nitrate fertiliser", "50 g Epsom salt")
    stock = check(*amounts, water="1 L", plants="10", stock=True)
    met = [f for f in stock.findings if f.why == "meeting"]
    assert [f.level for f in met] == ["stop"]
    assert stock.worst == "stop"
    weak = check("10 g calcium nitrate fertiliser", "5 g Epsom salt", water="10 L", plants="10")
    assert [f.level for f in weak.findings if f.why == "meeting"] == ["caution"]
    assert of_level(weak, "stop", "over") == []


# 60 g of borax in half a litre.


def test_sixty_grams_of_borax_do_not_dissolve_in_half_a_litre() -> None:
    found = check("60 g borax", water="500 mL", row="40 m")
    stop = finding(found, "dissolve-borax")
    assert stop.level == "stop"
    assert found.findings[0] is stop
    assert value(stop.likely) == 120
    text = stop.say.english()
    per_unit = {"L": 1.0, "mL": 0.001}
    litres = [float(n) * per_unit[u] for n, u in re.findall(r"([\d.]+) (m?L)\b", text)]
    points = lookup.material("borax").solubility
    assert len({p.source for p in points if p.used}) >= 2
    for point in points:
        assert point.source in text or lookup.source(point.source).cite() in text
        need = float(60 / point.grams_per_litre)
        # Rounded up: the water named must be enough.
        assert any(need <= n <= need * 1.02 for n in litres), (need, litres)


# No limit at all, and the words that nobody may take for a clearance.

CLEARING = re.compile(r"\b(safe|safely|fine|clear|clearly|cleared|ok|okay|harmless)\b", re.I)
NEGATIONS: dict[str, str] = {}
"""Sentence keys that use such a word only to deny it, with the denial. None does so far."""


def test_no_sentence_can_be_read_as_a_clearance() -> None:
    for key, sentence in every().items():
        text = sentence.replace(NEGATIONS[key], "") if key in NEGATIONS else sentence
        assert CLEARING.search(text) is None, key
    assert NEGATIONS.keys() <= every().keys()
    assert all(NEGATIONS[key] in every()[key] for key in NEGATIONS)


@pytest.mark.parametrize("material", ["kelp meal", "kaolin", "diatomaceous earth"])
def test_a_material_without_a_limit_is_a_note_that_clears_nothing(
    material: str, capsys: pytest.CaptureFixture[str]
) -> None:
    found = check(f"100 g {material}", area="10 m2")
    assert levels(found) == ["note"]
    assert found.findings[0].why == "no-limit"
    assert "no published limit" in found.findings[0].say.english()
    assert show_mix(found, as_json=False, strict=False) == 0
    assert show_mix(found, as_json=False, strict=True) == 0
    assert CLEARING.search(capsys.readouterr().out) is None


@pytest.mark.parametrize(
    ("amounts", "site", "code", "strict"),
    [
        (("100 g borax",), {"area": "10 m2"}, 3, 3),  # over
        ((BLUE, "4 g baking soda"), {"water": "2 L"}, 3, 3),  # stop
        (("15 g baking soda",), {"water": "1 L"}, 0, 3),  # caution
        (("5 g baking soda",), {"water": "1 L"}, 0, 0),  # within
    ],
)
def test_the_exit_code_follows_the_worst_finding(
    amounts: tuple[str, ...], site: dict[str, str], code: int, strict: int
) -> None:
    found = check(*amounts, **site)
    assert show_mix(found, as_json=True, strict=False) == code
    assert show_mix(found, as_json=True, strict=True) == strict


@pytest.mark.parametrize(
    "made",
    [
        lambda: drench(row_spacing="45 cm"),
        lambda: drench(ToldText(crop="bean"), row_spacing="45 cm"),
        lambda: mix("leaf-spray-cups", spray_volume="4 US cups"),
        lambda: check("100 g borax", "1 kg kelp meal", area="10 m2", water="500 mL"),
        lambda: check(BLUE, "4 g baking soda", water="2 L"),
    ],
    ids=["drench", "beans", "soda", "borax", "copper and soda"],
)
def test_the_gravest_come_first_and_what_clears_nothing_reads_so(made: Callable[[], Mix]) -> None:
    found = made()
    grave = [level for level in levels(found) if level in ("stop", "over")]
    assert levels(found)[: len(grave)] == sorted(grave, key=LEVELS.index)
    assert len(found.findings) >= 2
    for one in found.findings:
        assert CLEARING.search(one.say.english()) is None
    text = " ".join(render(found).split())
    first = found.findings[0].say.english().split(":")[0]
    assert first in text


# Compost: a new bed, every year, not told.


@pytest.mark.parametrize("layer", [None, "5 cm", "2 in"])
def test_compost_five_centimetres_deep(layer: str | None) -> None:
    site = {"area": "10 m2"} if layer is None else {"area": "10 m2", "layer": layer}

    def of(phase: str | None) -> Mix:
        return mix("compost-layer", ToldText(phase=phase), **site)

    assert of_level(of("establishing"), "stop", "over", "caution") == []
    assert of("yearly").worst == "over"
    assert of(None).worst == "caution"
    assert "--phase" in of(None).findings[0].say.english()


def test_over_in_either_phase_is_over_although_the_phase_was_not_told() -> None:
    """Above the 30 lb/1000 sq ft of a new bed and the 0.7 lb/100 sq ft of a year, blueberries."""
    sulfur = check("3 kg elemental sulfur", area="10 m2", told=ToldText(crop="blueberry"))
    over = [f for f in sulfur.findings if f.level == "over" and f.about == "elemental-sulfur"]
    assert {f.why for f in over} == {"limit-over"}
    assert len(over) == 2
    new_bed = check("700 g elemental sulfur", area="10 m2", told=ToldText(crop="blueberry"))
    assert new_bed.worst == "caution"
    assert "--phase" in new_bed.findings[0].say.english()


def test_the_same_compost_typed_by_volume_is_judged_alike() -> None:
    half_cubic_metre = check("500 L garden compost", area="10 m2", told=ToldText(phase="yearly"))
    over = finding(half_cubic_metre, "compost-garden-year")
    assert over.level == "over"
    assert over.ratio == 5 / Fraction("2.54")


# A garden feed is no lawn feed.

TURF_ONLY = {
    limit.id for limit in read_limits(None, lookup.source) if limit.setting == frozenset({"turf"})
}


def test_the_garden_dose_of_5_10_10_is_not_judged_by_a_lawn_limit() -> None:
    assert {"n-turf-application", "n-turf-year"} <= TURF_ONLY
    typed = ("2 lb granular feed 5-10-10",)
    for found in (
        mix("feed-5-10-10-broadcast", area="100 sq ft"),
        check(*typed, area="100 sq ft"),
        check(*typed, area="100 sq ft", told=ToldText(setting="garden")),
        check(*typed, area="100 sq ft", told=ToldText(crop="tomato")),
    ):
        assert {f.id for f in found.findings} & TURF_ONLY == set()
        assert of_level(found, "stop", "over") == []
    lawn = ToldText(crop="lawn")
    for on_grass in (
        check(*typed, area="100 sq ft", told=lawn),
        # The recipe is for gardens; what was told of the crop comes before that.
        mix("feed-5-10-10-broadcast", lawn, area="100 sq ft"),
    ):
        assert {f.id for f in on_grass.findings} & TURF_ONLY


# Edges: exactly 28, exactly 0.5, and none.

SPRAYED = ToldText(region="EU")


def copper_share() -> Fraction:
    """Copper in copper sulfate as sold, which is a little less than in the pure salt."""
    content = lookup.material("copper-sulfate-pentahydrate").content("Cu")
    assert content is not None
    assert Fraction(98, 100) <= content.factor.likely / CU_IN_COPPER_SULFATE <= 1
    return content.factor.likely


COPPER = 28 / copper_share()  # kg of copper sulfate for 28 kg/ha of copper


def copper(kilograms: Fraction, area: str, already: str | None = None) -> Finding:
    found = check(
        f"{kilograms.numerator}/{kilograms.denominator} kg copper sulfate pentahydrate",
        area=area,
        placement="foliar",
        told=replace(SPRAYED, already=already),
    )
    return finding(found, "copper-eu-seven-years")


def test_at_most_28_passes_at_exactly_28() -> None:
    at = copper(COPPER, "1 ha")
    assert at.ratio == 1
    assert at.level != "over"
    # One square centimetre in a square metre less ground: one part in a million above.
    above = copper(COPPER, "9999.99 m2")
    assert above.ratio is not None
    assert 1 < above.ratio < 1 + Fraction(2, 10**6)
    assert above.level == "over"


def test_at_most_28_in_seven_years_counts_the_years_before() -> None:
    assert copper(COPPER / 7, "1 ha", already="6").ratio == 1
    assert copper(COPPER / 7, "1 ha", already="6").level != "over"
    assert copper(COPPER / 7, "1 ha", already="7").level == "over"


def starter(area: str) -> Finding:
    pounds = Fraction(1, 2) / B_IN_BORAX  # of borax for 0.5 lb B
    found = check(
        f"{pounds.numerator}/{pounds.denominator} lb borax",
        area=area,
        placement="band",
        told=ToldText(crop="sugar beet"),
    )
    return finding(found, "boron-sugar-beet-starter-band")


def test_below_a_half_fails_at_exactly_a_half() -> None:
    assert starter("43560 sq ft").ratio == 1
    assert starter("43560 sq ft").level == "over"
    assert starter("43560.1 sq ft").level != "over"
    assert starter("60000 sq ft").level == "within"


@pytest.mark.parametrize("amount", ["1 mg", "1 g", "1 kg"])
def test_a_limit_of_none_is_a_limit(amount: str) -> None:
    found = check(f"{amount} borax", area="1 ha", told=ToldText(crop="bean"))
    none = finding(found, "boron-none-on-beans")
    assert none.level == "stop"
    assert value(none.limit) == 0


# Spooned or weighed at nine tenths of a narrow limit.


def test_spooned_at_nine_tenths_of_a_narrow_limit_is_a_caution_weighed_it_is_within() -> None:
    area = Fraction(20)  # m2
    grams = Fraction(9, 10) * 3 * POUNDS_PER_ACRE * area / 10 / B_IN_BORAX
    mls = grams / Fraction("0.85")
    id = "boron-high-need-vegetables"
    spooned = finding(check(f"{float(mls):.4f} mL borax", area="20 m2", told=BEET), id)
    assert spooned.ratio is not None
    assert abs(spooned.ratio - Fraction(9, 10)) < Fraction(1, 10000)
    assert spooned.level == "caution"
    assert "weigh" in spooned.say.english()
    weighed = check(f"{float(grams):.4f} g borax", area="20 m2", told=BEET, scale="0.1 g")
    assert finding(weighed, id).level == "within"


def test_close_to_a_narrow_limit_is_a_caution_even_when_weighed() -> None:
    grams = Fraction(97, 100) * 3 * POUNDS_PER_ACRE * 2 / B_IN_BORAX
    found = check(f"{float(grams):.4f} g borax", area="20 m2", told=BEET, scale="0.01 g")
    close = finding(found, "boron-high-need-vegetables")
    assert close.level == "caution"
    assert value(close.high) < value(close.limit)


# Wrong silence: what cannot be counted must be said, never left out of the sum.


def test_a_spoon_of_unknown_density_is_not_left_out_of_the_sum() -> None:
    octaborate = lookup.material("disodium-octaborate")
    assert octaborate.density is None
    assert octaborate.content("B") is not None
    # Whatever two heaped or light tablespoons weigh, it is not nothing: 10 m2 may get 3.4 g of B.
    found = check("1 g borax", "2 US tbsp disodium octaborate", area="10 m2", told=BEET)
    boron = [f for f in found.findings if f.about == "B"]
    assert [f for f in boron if f.level == "within"] == []
    assert [f for f in boron if f.why == "below-useful"] == []
    assert [f for f in boron if f.why == "not-told"] != []


def test_one_spoon_of_unknown_density_alone_is_said_to_be_untold() -> None:
    found = check("2 US tbsp disodium octaborate", area="10 m2", told=BEET)
    untold = [f for f in found.findings if f.about == "B"]
    assert [(f.level, f.why) for f in untold] == [("caution", "not-told")]
    # The ground was told: what is missing is the density, and that is what is asked for.
    assert "density" in untold[0].say.english()
    assert "--area" not in untold[0].say.english()


def test_a_weighed_soap_is_not_taken_for_a_volume_of_it() -> None:
    """A strength in % of liquid soap is no grams of soap, as long as nobody told its density."""
    assert lookup.material("liquid-soap").density is None
    found = check("30 g liquid soap", water="1 L")
    assert [f for f in found.findings if f.id == "liquid-soap-strength"] == []
    (untold,) = (f for f in found.findings if f.about == "liquid-soap")
    assert untold.why == "not-told"
    assert "density" in untold.say.english()
    poured = finding(check("30 mL liquid soap", water="1 L"), "liquid-soap-strength")
    assert poured.ratio == Fraction(30, 25)


def test_nitrogen_in_irrigation_water_is_judged_by_the_limits_of_the_ground() -> None:
    # 400 mm of water with 50 mg/L of nitrogen is 200 kg/ha, four times a lawn's single dose.
    found = check(holds=("50 mg/L N",), depth="400 mm", area="100 m2", told=ToldText(crop="lawn"))
    assert finding(found, "n-turf-application").level == "over"


# What was done: what may help, only where a source says so.


def test_too_much_boron_brings_what_a_source_says_may_help() -> None:
    found = check("100 g borax", area="10 m2")
    text = " ".join(line.english() for line in found.rescue)
    for rule in RULES.rescue:
        assert (rule.say in text) == (rule.of == "B")
        if rule.of == "B":
            assert rule.only_if in text
            assert rule.never in text
            assert rule.source.cite() in text
    assert found.rescue[-1].key == "ask-adviser"


def test_copper_is_never_said_to_wash_out() -> None:
    found = check("3000 kg copper sulfate pentahydrate", area="1 ha")
    assert found.worst == "over"
    text = " ".join(line.english() for line in found.rescue)
    assert "does not wash out" in text
    assert "deeply and slowly" not in text


def test_what_was_forbidden_altogether_is_too_much_as_well() -> None:
    found = check("5 g borax", area="10 m2", told=ToldText(crop="beans"))
    assert found.worst == "stop"
    assert any(line.key == "rescue" for line in found.rescue)


def test_a_stop_for_another_reason_offers_no_rescue_for_too_much() -> None:
    undissolved = check("6 g borax", water="50 mL", area="10 m2", told=BEET)
    assert [f.why for f in undissolved.findings if f.level == "stop"] == ["dissolving"]
    assert undissolved.rescue == ()


def test_where_nothing_was_too_much_no_rescue_is_offered() -> None:
    assert check("1 g borax", area="10 m2", told=BEET).rescue == ()
    assert drench(row_spacing="45 cm").rescue == ()


def test_the_upper_end_of_a_range_is_judged_too(tmp_path: Path) -> None:
    """The lower end is planned; what the upper end would run into is said all the same."""
    recipe = """
name = "Saltmarsh Lane leaf soda"
purpose = "a range whose upper end passes a strength limit"
how = "foliar spray"
placement = "foliar"
practice = "common practice, no source"
[[statement]]
measures = "metric"
basis = "spray volume"
per = "1 L"
[[statement.ingredient]]
material = "sodium-bicarbonate"
amount = "8 g"
to = "15 g"
role = "active"
"""
    path = tmp_path / "range.toml"
    path.write_text(recipe)
    found = job.run(job.Job(str(path), SiteText(), ToolsText(sprayer="15 L", scale="0.1 g")))
    upper = [f for f in found.findings if f.why == "upper-end"]
    assert [f.level for f in upper] == ["caution"]
    # 15 g/L against 10 g/L, the strength that an Austrian page prints for this salt.
    assert upper[0].ratio == Fraction(15, 10)
    path.write_text(recipe.replace('to = "15 g"', 'to = "9 g"'))
    found = job.run(job.Job(str(path), SiteText(), ToolsText(sprayer="15 L", scale="0.1 g")))
    assert [f for f in found.findings if f.why == "upper-end"] == []


def test_a_stock_without_its_feed_says_what_was_not_held() -> None:
    """The spray's own limits are per litre: a stock of it is far stronger, its feed not known."""
    tools = ToolsText(sprayer="2 L")
    found = job.run(job.Job("leaf-spray-oil", SiteText(), tools, stock=True))
    held = {
        one.about: one.why for one in found.findings if one.id.startswith(("untold", "no-limit"))
    }
    assert held["sodium-bicarbonate"] == "not-told"
    assert "how strong the feed is" in next(
        one.say.english() for one in found.findings if one.about == "sodium-bicarbonate"
    )

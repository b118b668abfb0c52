"""``dosecalc plan`` as a grower types it: amounts, limits, credits, passes, dressings, faults."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.lookup import material
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.feed.bounds import bounds
from dosecalc.dose.feed.plan import Line
from dosecalc.dose.result import Mix
from dosecalc.errors import DoseError
from dosecalc.faces.job import Job, run
from dosecalc.faces.plan import Planned, make_plan
from dosecalc.faces.plan_read import PlanText
from dosecalc.faces.plan_text import bar
from dosecalc.units.measure import Measure

F = Fraction
KG = (("kg", 1),)
BED = SiteText(area="100 m2")
GARDEN = """
region = "UK"
[product.heap]
like = "garden-compost"
holds = ["1.3 % N", "0.4 % P", "0.9 % K"]
state = "{state}"
{moisture}
first_year = "10 %"
[product.bag]
like = "feed-5-10-10"
analysis = "6-10-12"
counts = "{counts}"
[bed.north]
bed = "1.2 m x 8 m"
crop = "beetroot"
"""


def planned(
    *need: str, have: tuple[str, ...] = ("urea",), site: SiteText = BED, crop: str | None = None,
    setting: str | None = None, garden: str | None = None, **more: Any,
) -> Planned:  # fmt: skip
    job = Job("", site, ToolsText(), ToldText(crop=crop, setting=setting), garden=garden)
    more.setdefault("counts", "oxide")
    return make_plan(PlanText(need=need, have=have, **more), job)


def amounts(found: Planned, at: int = 0) -> dict[str, Fraction]:
    plan = found.dressings[at].plan
    return {hand.offer.id: amount.amount_in(KG) for hand, amount in plan.amounts}


def mixes(found: Planned) -> list[Mix]:
    return [run(job) for job in found.jobs]


def key_of(*need: str, **more: Any) -> str:
    with pytest.raises(DoseError) as caught:
        planned(*need, **more)
    return caught.value.say.key


def cli(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "dosecalc", "plan", *words],
        capture_output=True, text=True, cwd=cwd, check=False,
    )  # fmt: skip


def test_a_plan_ends_as_a_mix_that_supplies_what_was_needed() -> None:
    found = planned("90 kg/ha N", "40 kg/ha P2O5", have=("urea", "triple superphosphate"))
    (mix,) = mixes(found)
    supplies = {one.nutrient: one.per_area for one in mix.supplies}
    for word, need in (("N", 90), ("P2O5", 40)):
        span = supplies[word]
        assert span is not None
        per_ha = Measure(span.likely, span.unit).amount_in((("hectare", -1), ("kg", 1)))
        assert abs(per_ha / need - 1) < F(1, 100)  # weighed to the step of a scale
    assert {item.material for item in mix.amounts} == {"urea", "triple-superphosphate"}
    asked = {item.material: item.mass.likely for item in mix.amounts if item.mass is not None}
    assert asked == {id: kg * 1000 for id, kg in amounts(found).items()}


def test_p_and_k_as_oxides_and_as_elements_are_different_plans() -> None:
    for oxide, element, product, least in (("P2O5", "P", "0-46-0", 2), ("K2O", "K", "0-0-60", 1)):
        one = amounts(planned(f"60 kg/ha {oxide}", have=(product,)))[product]
        other = amounts(planned(f"60 kg/ha {element}", have=(product,)))[product]
        assert other > least * one
        as_elements = planned(f"60 kg/ha {element}", have=(product,), counts="element")
        assert amounts(as_elements)[product] == one


def test_an_analysis_dry_and_as_it_lies_are_different_plans(tmp_path: Path) -> None:
    found = {}
    for state, moisture in (("dry", 'moisture = "45 %"'), ("as-is", "")):
        garden = tmp_path / f"{state}.toml"
        garden.write_text(GARDEN.format(state=state, moisture=moisture, counts="oxide"))
        found[state] = amounts(planned("20 kg/ha N", have=("heap",), garden=str(garden)))["heap"]
    assert found["dry"] * F(55, 100) == found["as-is"]


def test_a_bag_of_the_garden_counts_what_its_file_says(tmp_path: Path) -> None:
    found = {}
    for counts in ("oxide", "element"):
        garden = tmp_path / f"{counts}.toml"
        garden.write_text(GARDEN.format(state="as-is", moisture="", counts=counts))
        plan = planned("40 kg/ha K2O", have=("bag",), garden=str(garden), counts=None)
        found[counts] = amounts(plan)["bag"]
    assert found["oxide"] > found["element"]


def test_only_what_rots_in_the_first_year_counts_and_the_limits_see_all() -> None:
    found = planned("20 kg/ha N", have=("garden-compost",), first_year=("garden-compost: 10 %",))
    (dressing,) = found.dressings
    n = next(line for line in dressing.plan.lines if line.word == "N")
    assert n.supply.amount_in(KG) == F(20, 100)
    assert n.later.amount_in(KG) == F(180, 100)
    assert {say.key for say in dressing.much} == {"feed-much"}
    assert key_of("20 kg/ha N", have=("alfalfa-meal",)) == "feed-first-year"


def test_a_published_first_year_share_counts_where_none_was_typed() -> None:
    """66 % of the nitrogen of blood meal in eight weeks (University of California)."""
    found = planned("20 kg/ha N", have=("blood-meal",))
    content = material("blood-meal").content("N")
    assert content is not None
    assert amounts(found)["blood-meal"] == F(20, 100) / content.factor.likely / F(66, 100)
    assert any(say.key == "feed-assume-share" for say in found.assumed)
    assert "uc-organic-n-incubation" in {one.id for one in found.sources}
    typed = planned("20 kg/ha N", have=("blood-meal",), first_year=("blood-meal: 33 %",))
    assert amounts(typed)["blood-meal"] == 2 * amounts(found)["blood-meal"]
    assert not any(say.key == "feed-assume-share" for say in typed.assumed)


def test_credits_are_taken_off_before_anything_is_spread() -> None:
    plain = amounts(planned("90 kg/ha N"))["urea"]
    less = planned("90 kg/ha N", credit=("30 kg/ha N from clover",))
    assert amounts(less)["urea"] == plain * F(60, 90)
    water = planned("90 kg/ha N", watered="100 mm", water_holds="10 mg/L NO3-N")
    assert amounts(water)["urea"] == plain * F(80, 90)
    none = planned("90 kg/ha N", credit=("100 kg/ha N from manure",))
    assert none.jobs == ()
    assert none.dressings[0].plan.clash == ()


def test_a_limit_is_kept_and_named_where_it_clashes() -> None:
    found = planned("73.2 kg/ha N", setting="turf")
    (dressing,) = found.dressings
    assert [(m.kind, m.id) for m in dressing.plan.answer.clash] == [
        ("need", "N"), ("limit", "n-turf-application")
    ]  # fmt: skip
    assert "--split" in " ".join(say.english() for say in dressing.plan.clash)
    (mix,) = mixes(found)
    assert "n-turf-application" in {finding.id for finding in mix.findings}
    assert not [finding for finding in mix.findings if finding.level in ("over", "stop")]
    free = planned("48 kg/ha N", setting="turf")
    assert free.dressings[0].plan.clash == ()


def test_what_a_crop_may_not_have_is_not_planned() -> None:
    found = planned("2 kg/ha B", "60 kg/ha N", have=("borax", "urea"), crop="snap beans")
    assert set(amounts(found)) == {"urea"}
    assert ("need", "B") in {(m.kind, m.id) for m in found.dressings[0].plan.answer.clash}
    beet = planned("2 kg/ha B", "60 kg/ha N", have=("borax", "urea"), crop="beetroot")
    assert set(amounts(beet)) == {"borax", "urea"}


@pytest.mark.parametrize(
    ("need", "have", "crop", "setting"),
    [
        ("3 kg/ha B", "borax", "beetroot", None),
        ("9 kg/ha Cu", "copper-sulfate-pentahydrate", None, None),
        ("200 kg/ha N", "urea", None, "turf"),
        ("9 kg/ha Zn", "zinc-sulfate-monohydrate", "corn", None),
        ("400 kg/ha N", "urea", "carrot", "field"), ("90 kg/ha Mg", "epsom-salt", None, None),
    ],
)  # fmt: skip
def test_the_bounds_are_the_judges_own_limits(
    need: str, have: str, crop: str | None, setting: str | None
) -> None:
    """What takes a bound to its end is just within the same limit as the judge holds it."""
    (dressing,) = planned(need, have=(have,), crop=crop, setting=setting).dressings
    for bound, limit in bounds(dressing.order.request, [h.offer for h in dressing.order.hand]):
        used = sum(
            (dressing.plan.answer.units(id) * part for id, part in bound.parts), F(0)
        )  # fmt: skip
        assert used <= bound.room
        assert bound.most == limit.limit.value or bound.most == 0
    (mix,) = [run(job) for job in dressing.jobs] or [None]
    held = {} if mix is None else {f.id: f for f in mix.findings}
    for member in dressing.plan.answer.clash:
        if member.kind == "limit" and mix is not None:
            assert held[member.id].ratio is not None
            assert F(95, 100) < held[member.id].ratio <= 1
            assert held[member.id].level not in ("over", "stop")


def test_products_that_must_not_meet_go_in_passes_with_the_shorter_wait() -> None:
    found = planned("90 kg/ha N", "500 kg/ha Ca", have=("urea", "hydrated lime"))
    (dressing,) = found.dressings
    assert [[o.id for o in one.offers] for one in dressing.plan.passes] == [
        ["urea"], ["hydrated-lime"]
    ]  # fmt: skip
    assert [one.days for one in dressing.plan.passes] == [0, 10]
    first, second = mixes(found)
    assert first.recipe_name == "Plan for N, Ca, pass 1 of 2"
    assert not [f for mix in (first, second) for f in mix.findings if f.why == "too-soon"]


def test_two_names_of_one_material_are_never_both_used() -> None:
    found = planned("90 kg/ha N", have=("urea", "46-0-0"), prefer="least")
    assert len(amounts(found)) == 1


def test_a_split_shares_the_nitrogen_and_judges_the_second_with_the_first() -> None:
    whole = amounts(planned("96 kg/ha N", "20 kg/ha P2O5", have=("urea", "0-46-0")))
    found = planned(
        "96 kg/ha N", "20 kg/ha P2O5", have=("urea", "0-46-0"), split="40 %, 60 % after 28 days",
        setting="turf",
    )  # fmt: skip
    first, second = (amounts(found, at) for at in range(2))
    assert first["0-46-0"] == whole["0-46-0"]
    assert first["urea"] == whole["urea"] * F(2, 5)
    assert set(second) == {"urea"}
    held = [next(m for m in one.plan.answer.clash) for one in found.dressings[1:]]
    assert held[0].id == "N"  # 57.6 kg/ha at once is above the 48.8 of one application
    ratios = []
    for mix in mixes(found):
        year = next(f for f in mix.findings if f.id == "n-turf-year")
        ratios.append(year.ratio)
    assert ratios[1] is not None
    assert ratios[0] is not None
    assert ratios[1] > ratios[0] * F(3, 2)  # the first dressing counts with the second


def test_stock_of_the_first_dressing_is_gone_in_the_second() -> None:
    found = planned("100 kg/ha N", have=("urea: 1.5 kg",), split="50 %, 50 % after 30 days")
    first, second = (amounts(found, at)["urea"] for at in range(2))
    assert first + second == F(3, 2)
    assert {(m.kind, m.id) for m in found.dressings[1].plan.answer.clash} == {
        ("need", "N"), ("stock", "urea")
    }  # fmt: skip


def test_the_record_of_the_bed_counts_against_the_plan(tmp_path: Path) -> None:
    words = ("--need", "48 kg/ha N", "--have", "urea", "--area", "100 m2", "--setting", "turf")
    season = tmp_path / "season.sqlite"
    made = subprocess.run(
        [sys.executable, "-m", "dosecalc", "log", "add", "nitrogen.toml", "--area", "100 m2",
         "--place", "lawn", "--on", f"{date.today().year}-01-01",
         "--season", str(season), "--setting", "turf"],
        capture_output=True, text=True, cwd=_recipe(tmp_path), check=False,
    )  # fmt: skip
    assert season.exists(), made.stderr
    past = ("--season", str(season), "--place", "lawn")
    assert "Needs and limits clash" not in cli(*words).stdout
    with_past = cli(*words, *past)
    assert "n-turf-year" in json.dumps(json.loads(cli(*words, *past, "--json").stdout)["plan"])
    assert with_past.returncode == 3


def _recipe(folder: Path) -> Path:
    """A recipe file that brings 120 kg/ha of nitrogen, saved by a plan."""
    done = cli(
        "--need", "120 kg/ha N", "--have", "urea", "--area", "100 m2", "--save", "nitrogen.toml",
        cwd=folder,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return folder


def test_json_is_clean_and_holds_plan_and_mixes() -> None:
    done = cli("--need", "90 kg/ha N", "--have", "urea", "--area", "100 m2", "--json")
    assert done.returncode == 0
    found = json.loads(done.stdout)
    assert set(found) == {"plan", "mixes"}
    (dressing,) = found["plan"]["dressings"]
    assert dressing["products"][0]["amount"] == {"value": 1.95652173913, "unit": "kg"}
    assert dressing["proven"] is True
    assert found["mixes"][0]["amounts"][0]["material"] == "urea"
    assert "HiGHS" not in done.stdout + done.stderr


def test_a_missing_solver_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "highspy", None)
    assert key_of("90 kg/ha N") == "feed-no-solver"


def test_bars_read_without_colour() -> None:
    def line(need: int, credit: int, supply: int) -> Line:
        zero = Measure(F(0), KG)
        return Line(
            "N", Measure(F(need), KG), Measure(F(credit), KG), Measure(F(supply), KG),
            zero, zero, zero,
        )  # fmt: skip

    assert bar(line(90, 0, 90)) == "#" * 30 + "|"
    assert bar(line(90, 30, 60)) == "o" * 10 + "#" * 20 + "|"
    assert bar(line(90, 0, 45)) == "#" * 15 + "." * 15 + "|"
    assert bar(line(90, 0, 99)) == "#" * 30 + "|" + "+" * 3
    assert bar(line(90, 0, 900)) == "#" * 30 + "|" + "+" * 14 + ">"
    assert bar(line(90, 0, 0)) == "." * 30 + "|"
    assert bar(line(90, 200, 0)) == "o" * 30 + "|" + "+" * 14 + ">"
    assert bar(line(0, 0, 5)) == ""


@pytest.mark.parametrize(
    ("need", "more", "key"),
    [
        ((), {}, "feed-no-need"),
        (("9 kg/ha N", "2 kg/ha N"), {}, "feed-need-twice"),
        (("9 kg/ha P", "2 kg/ha P2O5"), {}, "feed-need-twice"),
        (("9 kg/ha N",), {"have": ()}, "feed-no-have"),
        (("9 kg/ha N",), {"have": ("urea", "urea")}, "feed-have-twice"),
        (("9 kg/ha N",), {"have": ("urea", "Urea")}, "feed-have-twice"),
        (("9 kg/ha N",), {"have": ("5-10-10",), "counts": None}, "feed-counts"),
        (("9 kg/ha N",), {"have": ("fish emulsion",)}, "feed-liquid"),
        (("9 kg/ha N",), {"have": ("sand",)}, "feed-holds-nothing"),
        (("9 kg/ha N",), {"price": ("kcl: 3 for 5 kg",)}, "feed-not-on-hand"),
        (("9 kg/ha N",), {"price": ("urea: 3",)}, "feed-pair"),
        (("9 kg/ha N",), {"prefer": "cost"}, "feed-no-price"),
        (("9 kg/ha N",), {"prefer": "cheap"}, "one-of"),
        (("9 kg/ha N",), {"near": "5"}, "feed-percent"),
        (("9 kg/ha N",), {"watered": "20 mm"}, "feed-water-both"),
        (("9 kg/ha P",), {"have": ("0-46-0",), "split": "50 %, 50 %"}, "feed-split-no-n"),
        (("9 kg/ha N",), {"how": "by air"}, "one-of"),
        (("9 kg N",), {"site": SiteText()}, "feed-no-site"),
        (("9 kg/ha N",), {"site": SiteText()}, "need-area"),
    ],
)
def test_what_cannot_be_planned_is_refused(
    need: tuple[str, ...], more: dict[str, Any], key: str
) -> None:
    assert key_of(*need, **more) == key


def test_the_cheapest_of_two_is_taken_and_its_price_shown() -> None:
    found = planned(
        "90 kg/ha N", have=("urea", "21-0-0"),
        price=("urea: 30 for 25 kg", "21-0-0: 8 for 25 kg"),
    )  # fmt: skip
    assert set(amounts(found)) == {"21-0-0"}
    dear = planned(
        "90 kg/ha N", have=("urea", "21-0-0"),
        price=("urea: 10 for 25 kg", "21-0-0: 8 for 25 kg"),
    )  # fmt: skip
    assert set(amounts(dear)) == {"urea"}


def test_a_report_beside_the_need_is_said_and_never_turned_into_a_need(tmp_path: Path) -> None:
    soil = tmp_path / "soil.toml"
    soil.write_text(
        'depth = "15 cm"\n[[figure]]\nnutrient = "P"\nvalue = "150 lb/acre"\n'
        'extractant = "Mehlich-3"\n[[figure]]\nnutrient = "K"\nvalue = "2 index"\n'
        'extractant = "ammonium nitrate"\n'
    )
    need = ("90 kg/ha N", "20 kg/ha P2O5")
    have = ("urea", "0-46-0")
    found = planned(*need, have=have, soil=str(soil))
    assert amounts(found) == amounts(planned(*need, have=have))
    keys = {say.key for say in found.assumed}
    assert {"feed-soil-much", "feed-soil-silent"} <= keys
    assert "feed-assume-needs" not in keys


def test_a_heap_is_given_by_volume_and_keeps_its_layer() -> None:
    found = planned("200 kg/ha N", have=("garden-compost",), setting="garden")
    (dressing,) = found.dressings
    clashing = [(m.kind, m.id) for m in dressing.plan.answer.clash]
    assert clashing[0] == ("need", "N")
    (mix,) = mixes(found)
    (compost,) = mix.amounts
    assert compost.volume is not None
    assert compost.volume.low == compost.volume.high  # asked by volume, so its weight has a spread
    held = next(f for f in mix.findings if f.id == clashing[1][1])
    assert (held.level, held.ratio) == ("within", 1)

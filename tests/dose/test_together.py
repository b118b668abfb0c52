"""What must not meet: in a tank, in a stock tank, on the ground, or within so many days."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from dosecalc.catalog import lookup
from dosecalc.catalog.crops import find_crop
from dosecalc.catalog.limit import ANY
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.rules import Pair, read_rules
from dosecalc.catalog.site import Site, SiteText
from dosecalc.catalog.source import Source
from dosecalc.catalog.told import Told, ToldText
from dosecalc.catalog.tools import Tools, ToolsText
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.result import Finding, Mix
from dosecalc.dose.scene import Scene, scene
from dosecalc.dose.together import meeting
from dosecalc.faces import done, job
from dosecalc.units.measure import GRAM, LITER, Measure
from dosecalc.units.spread import Est

STRONG = ("regulator", "standard", "journal", "extension")
WEAK = ("reference", "trade", "seller", "hobby", "memory", "practice")


def source(name: str, grade: str = "extension") -> Source:
    return Source(f"page-{name}", f"Page {name}", f"Office {name}", grade, 2001, None)


def pair(
    name: str = "one",
    a: str = "alpha",
    b: str = "beta",
    where: str = "tank",
    grade: str = "extension",
    **rest: Any,
) -> Pair:
    values: dict[str, Any] = {
        "days": 0, "first": "either", "level": "stop", "unless": "", "region": "any",
        "crops": ANY, "printed": "", "why": f"Reason {name}.",
    } | rest  # fmt: skip
    return Pair(id=f"pair-{name}", a=a, b=b, where=where, source=source(name, grade), **values)


def material(id: str, *traits: str) -> Material:
    return Material(
        id=id, name=id.title(), also=(), form="powder", traits=traits, contents=(), uncounted=(),
        by_weight=False, density=None, density_how="", solubility=(), insoluble="", hazards=(),
        caveat="", formula="", sources=(),
    )  # fmt: skip


ALPHA = material("alpha", "oil")
BETA = material("beta", "sulfur", "calcium")
GAMMA = material("gamma")


def view(
    *materials: Material,
    placement: str = "foliar",
    wet: bool = True,
    stock: bool = False,
    crop: str | None = None,
    region: str | None = None,
) -> Scene:
    recipe = Recipe(
        id="saltmarsh-lane", name="Trial of Saltmarsh Lane", purpose="", how=placement,
        placement=placement, setting=(), crops=(), not_on=(), when="", statements=(), repeat=None,
        order=(), cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip
    told = Told(crop=None if crop is None else find_crop(crop), region=region)
    mass = Est.of(Measure(Fraction(10), GRAM))
    return scene(
        recipe, (), Site(), Tools(), told, Measure(Fraction(2), LITER) if wet else None,
        tuple(Delivered(m, mass, None, "weighed") for m in materials), stock,
    )  # fmt: skip


def levels(found: tuple[Finding, ...]) -> list[str]:
    return [f.level for f in found]


def text(finding: Finding) -> str:
    return finding.say.english()


# In one tank.


@pytest.mark.parametrize("materials", [(ALPHA, BETA), (BETA, ALPHA), (GAMMA, BETA, ALPHA)])
@pytest.mark.parametrize(
    ("a", "b"),
    [("alpha", "beta"), ("beta", "alpha"), ("trait:oil", "beta"), ("trait:calcium", "trait:oil")],
)
def test_two_that_must_not_meet_are_a_stop_in_either_order(
    materials: tuple[Material, ...], a: str, b: str
) -> None:
    found = meeting((pair(a=a, b=b),), view(*materials), ())
    assert levels(found) == ["stop"]
    assert "Reason one." in text(found[0])
    assert "Office one" in text(found[0])
    assert "Alpha" in text(found[0])
    assert "Beta" in text(found[0])


def test_one_of_the_two_alone_is_no_finding() -> None:
    pairs = (pair(), pair("traits", "trait:oil", "trait:sulfur"))
    for materials in ((ALPHA,), (BETA,), (ALPHA, GAMMA), (GAMMA,)):
        assert meeting(pairs, view(*materials), ()) == ()


def test_one_material_with_both_traits_does_not_meet_itself() -> None:
    both = material("both", "oil", "sulfur")
    assert meeting((pair(a="trait:oil", b="trait:sulfur"),), view(both), ()) == ()


def test_without_a_liquid_nothing_meets_in_a_tank() -> None:
    assert meeting((pair(),), view(ALPHA, BETA, wet=False), ()) == ()


def test_a_stock_tank_is_a_tank_and_more() -> None:
    stock_only = pair(where="stock tank")
    assert levels(meeting((stock_only,), view(ALPHA, BETA, stock=True), ())) == ["stop"]
    assert meeting((stock_only,), view(ALPHA, BETA), ()) == ()
    assert levels(meeting((pair(),), view(ALPHA, BETA, stock=True), ())) == ["stop"]


def test_the_graver_rule_judges_and_every_source_is_named() -> None:
    pairs = (
        pair("mild", level="caution"),
        pair("grave", where="stock tank"),
        pair("also", where="stock tank", level="caution"),
    )
    found = meeting(pairs, view(ALPHA, BETA, stock=True), ())
    assert levels(found) == ["stop"]
    assert "Reason grave." in text(found[0])
    for name in ("mild", "grave", "also"):
        assert f"Office {name}" in text(found[0])
    assert "must not" in text(found[0])
    weaker = meeting(pairs, view(ALPHA, BETA), ())
    assert levels(weaker) == ["caution"]
    assert "must not" not in text(weaker[0])
    assert "Office grave" not in text(weaker[0])


def test_unless_is_shown() -> None:
    found = meeting((pair(unless="the moon is full"),), view(ALPHA, BETA), ())
    assert "the moon is full" in text(found[0])


@pytest.mark.parametrize("grade", WEAK)
@pytest.mark.parametrize("where", ["tank", "stock tank", "same ground"])
def test_a_weak_source_alone_stops_nobody(grade: str, where: str) -> None:
    scene_of = view(ALPHA, BETA, stock=True, placement="soil-drench")
    found = meeting((pair(where=where, grade=grade),), scene_of, ())
    assert levels(found) == ["caution"]
    assert found[0].grade == grade


@pytest.mark.parametrize("grade", STRONG)
def test_a_strong_source_stops(grade: str) -> None:
    assert levels(meeting((pair(grade=grade),), view(ALPHA, BETA), ())) == ["stop"]


def test_a_weak_stop_beside_a_strong_caution_is_a_caution() -> None:
    pairs = (pair("weak", grade="hobby"), pair("strong", level="caution"))
    assert levels(meeting(pairs, view(ALPHA, BETA), ())) == ["caution"]


def test_a_rule_holds_for_its_crops_and_region_only() -> None:
    citrus = (pair(crops=frozenset({"tree-fruit"})),)
    assert levels(meeting(citrus, view(ALPHA, BETA, crop="apple"), ())) == ["stop"]
    assert meeting(citrus, view(ALPHA, BETA, crop="tomato"), ()) == ()
    assert meeting(citrus, view(ALPHA, BETA), ()) == ()
    european = (pair(region="EU"),)
    assert levels(meeting(european, view(ALPHA, BETA, region="EU"), ())) == ["stop"]
    assert meeting(european, view(ALPHA, BETA, region="US"), ()) == ()
    assert meeting(european, view(ALPHA, BETA), ()) == ()


# On the same ground.


@pytest.mark.parametrize("wet", [True, False])
@pytest.mark.parametrize("placement", ["broadcast", "mixed-in", "band", "soil-drench"])
def test_on_the_same_ground_they_meet_wet_or_dry(placement: str, wet: bool) -> None:
    rule = (pair(where="same ground"),)
    found = meeting(rule, view(ALPHA, BETA, placement=placement, wet=wet), ())
    assert levels(found) == ["stop"]


@pytest.mark.parametrize("placement", ["foliar", "dormant-spray"])
def test_what_is_sprayed_on_leaves_does_not_meet_on_the_ground(placement: str) -> None:
    rule = (pair(where="same ground"),)
    assert meeting(rule, view(ALPHA, BETA, placement=placement), ()) == ()


# Days apart.


def wait(name: str = "one", days: int = 14, **rest: Any) -> Pair:
    return pair(name, **({"where": "days apart", "days": days} | rest))


def after(days: int, *pairs: Pair, now: Material = BETA, before: Material = ALPHA, **rest: Any) -> (
    tuple[Finding, ...]
):  # fmt: skip
    return meeting(pairs, view(now, **rest), ((before, days),))


@pytest.mark.parametrize(
    ("days", "wanted"),
    [(0, ["stop"]), (1, ["stop"]), (13, ["stop"]), (14, []), (15, []), (400, [])],
)
def test_the_wait_is_over_on_the_day_itself(days: int, wanted: list[str]) -> None:
    assert levels(after(days, wait())) == wanted


@pytest.mark.parametrize(
    ("first", "a_first", "b_first"),
    [("either", True, True), ("a", True, False), ("b", False, True)],
)
def test_which_came_first_matters_where_the_source_says_so(
    first: str, a_first: bool, b_first: bool
) -> None:
    rule = wait(first=first)  # a is alpha, b is beta
    assert bool(after(3, rule, before=ALPHA, now=BETA)) == a_first
    assert bool(after(3, rule, before=BETA, now=ALPHA)) == b_first
    for before, now in ((ALPHA, GAMMA), (BETA, GAMMA), (GAMMA, ALPHA), (GAMMA, BETA)):
        assert after(3, rule, before=before, now=now) == ()


def test_the_longest_strong_wait_governs_and_each_source_keeps_its_own() -> None:
    rules = (
        wait("short", 7, level="caution"),
        wait("long", 30),
        wait("middle", 14),
        wait("web", 60, grade="hobby"),
        wait("over", 5),
    )
    (found,) = after(10, *rules, pair("tank"))
    assert found.level == "stop"
    assert found.source == "page-long"
    said = text(found)
    for rule in rules:
        # What is over already is named too, and marked.
        over = " (over)" if rule.days <= 10 else ""
        assert f"{rule.days} days by {rule.source.cite()}{over}" in said
    assert said.count("(over)") == 2
    # A rule for the tank has no days and no word here.
    assert "Office tank" not in said
    # Weak sources alone are left from day 30 on.
    (rest,) = after(40, *rules)
    assert (rest.level, rest.source) == ("caution", "page-web")
    assert after(60, *rules) == ()


def test_a_mild_strong_wait_and_a_weak_stop_are_cautions() -> None:
    (found,) = after(3, wait("mild", 7, level="caution"), wait("web", 30, grade="seller"))
    assert found.level == "caution"


def test_unless_is_shown_with_a_wait() -> None:
    (found,) = after(3, wait(unless="the plant sleeps"))
    assert "the plant sleeps" in text(found)


def test_a_wait_holds_for_its_crops_and_region_only() -> None:
    rule = wait(crops=frozenset({"tree-fruit"}), region="US")
    assert levels(after(3, rule, crop="pear", region="US")) == ["stop"]
    assert after(3, rule, crop="pear") == ()
    assert after(3, rule, crop="leek", region="US") == ()


def test_each_earlier_application_is_judged_for_itself() -> None:
    past = ((ALPHA, 20), (ALPHA, 2), (GAMMA, 1))
    found = meeting((wait(),), view(BETA), past)
    assert levels(found) == ["stop"]
    assert "2 days" in text(found[0])


@pytest.mark.parametrize(
    ("a", "b"),
    [("trait:sulfur", "trait:oil"), ("trait:oil", "trait:sulfur"), ("lime-sulfur", "trait:oil")],
)
def test_sulfur_worked_into_the_soil_does_not_meet_oil_on_leaves(a: str, b: str) -> None:
    rule = wait(a=a, b=b)
    lime_sulfur = material("lime-sulfur", "sulfur")
    for placement in ("broadcast", "mixed-in", "soil-drench"):
        assert after(3, rule, now=lime_sulfur, placement=placement) == ()
    for placement in ("foliar", "dormant-spray"):
        assert levels(after(3, rule, now=lime_sulfur, placement=placement)) == ["stop"]


# The data, as typed.

RULES = read_rules(None, lookup.source)


def check(*amounts: str, told: ToldText | None = None, **options: Any) -> Mix:
    site = SiteText(**options.pop("site", {"plants": "10"}))
    return done.run(done.Done(amounts, site, ToolsText(), told=told or ToldText(), **options))


def met(found: Mix, *why: str) -> list[str]:
    return [f.level for f in found.findings if f.why in why]


@pytest.mark.parametrize(
    ("amounts", "options", "wanted"),
    [
        (("50 g wettable sulfur", "50 mL horticultural oil"), {"water": "5 L"}, ["stop"]),
        (("50 mL lime sulfur", "50 g citric acid"), {"water": "5 L"}, ["stop"]),
        (("20 g baking soda", "100 mL vinegar"), {"water": "5 L"}, ["stop"]),
        (("20 g potassium bicarbonate", "50 g wettable sulfur"), {"water": "5 L"}, []),
        (("1 kg hydrated lime", "1 kg ammonium sulfate"), {"site": {"area": "50 m2"}},
         ["caution"]),
        (("1 kg wood ash", "1 kg ammonium sulfate"), {"site": {"area": "50 m2"}}, ["stop"]),
        (("10 g calcium nitrate fertiliser", "5 g monoammonium phosphate"),
         {"water": "1 L", "stock": True}, ["stop"]),
        (("1 kg gypsum", "1 kg urea"), {"site": {"area": "50 m2"}}, []),
    ],
)  # fmt: skip
def test_common_pairs_are_judged_from_the_data(
    amounts: tuple[str, ...], options: dict[str, Any], wanted: list[str]
) -> None:
    placement = {} if "site" in options or "stock" in options else {"placement": "foliar"}
    assert met(check(*amounts, **options, **placement), "meeting") == wanted


@pytest.mark.parametrize(
    ("before", "now", "days", "wanted"),
    [
        ("ground limestone", "500 g urea", 30, ["caution"]),
        ("ground limestone", "500 g urea", 90, []),
        ("urea", "5 kg ground limestone", 9, ["caution"]),
        ("urea", "5 kg ground limestone", 10, []),
        ("ground limestone", "20 kg cattle manure", 89, ["caution"]),
        ("ground limestone", "20 kg cattle manure", 90, []),
    ],
)
def test_lime_and_urea_wait_longer_one_way_than_the_other(
    before: str, now: str, days: int, wanted: list[str]
) -> None:
    told = ToldText(after=(f"{before} {days} days",))
    assert met(check(now, told=told, site={"area": "50 m2"}), "too-soon") == wanted


def test_sulfur_for_the_soil_is_not_held_against_an_oil_spray() -> None:
    told = ToldText(after=("horticultural oil 3 days",))
    found = check("1 kg elemental sulfur", told=told, site={"area": "50 m2"})
    assert met(found, "too-soon", "meeting") == []


def test_every_pair_of_the_data_is_found_by_a_job_that_holds_its_first_thing() -> None:
    ids = lookup.material_ids()
    materials = {id: lookup.material(id) for id in ids}

    def holding(word: str) -> str:
        if not word.startswith("trait:"):
            return materials[word].id
        trait = word.removeprefix("trait:")
        return next(id for id, m in materials.items() if trait in m.traits)

    recipe = lookup.find_recipe("potassium-bicarbonate-leaf")
    for rule in RULES.pairs:
        for word in (rule.a, rule.b):
            id = holding(word)
            known = job.knowledge_of(recipe, {id: materials[id]}, Told())
            assert rule.id in {one.id for one in known.rules.pairs}


# What the sprayer last held.


@pytest.mark.parametrize("recipe", ["leaf-spray-quart", "soluble-feed-gallon"])
def test_a_sprayer_that_held_weedkiller_is_a_stop_until_it_is_rinsed(recipe: str) -> None:
    def made(held: str | None) -> Mix:
        return job.run(
            job.Job(
                recipe,
                SiteText(spray_volume="2 L"),
                ToolsText(sprayer="2 L"),
                ToldText(sprayer_held=held),
            )
        )

    spread = job.run(
        job.Job(
            "wood-ash-yearly",
            SiteText(area="22 m2"),
            ToolsText(),
            ToldText(sprayer_held="herbicide residue"),
        )
    )
    assert [f for f in spread.findings if f.why == "sprayer"] == []
    stop = [f for f in made("herbicide residue").findings if f.why == "sprayer"]
    assert [f.level for f in stop] == ["stop"]
    assert "rinse" in text(stop[0])
    assert [f for f in made(None).findings if f.why == "sprayer"] == []
    assert [f for f in made("Epsom salt").findings if f.why == "sprayer"] == []

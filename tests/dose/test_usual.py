"""A dose far above every published rate is said where no limit forbids it, and nothing else is.

Figures are worked out here from NIST Handbook 44, Appendix C: 1 lb = 453.59237 g, 1 ft = 0.3048 m.
"""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog import lookup
from dosecalc.catalog.material import Content, Material, exact_factor
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.site import Site, SiteText
from dosecalc.catalog.told import Told, ToldText
from dosecalc.catalog.tools import Tools, ToolsText
from dosecalc.catalog.usual import Usual, read_usual
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.dump import dump
from dosecalc.dose.result import Finding, Mix
from dosecalc.dose.scene import Scene, scene
from dosecalc.dose.usual import FAR, far_above
from dosecalc.english import every
from dosecalc.faces import done, job
from dosecalc.faces.prose import job_and_mix
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, LITER, MASS, METER, ML, PLANT, SQUARE_METER, Measure
from dosecalc.units.spread import Est

RATES = {rate.id: rate for rate in read_usual(None, lookup.source)}
PPM = Fraction(1, 10**6)
POUND = Fraction("453.59237")
SQUARE_FOOT = Fraction("0.3048") ** 2


# Each rate by itself: just at twice, just above it.

AREA = Measure(Fraction(250), SQUARE_METER)
ROW = Measure(Fraction(40), METER)
WATER = Measure(Fraction(100), LITER)
ON: dict[str, tuple[str, Site, Measure]] = {
    "field area": ("area", Site(area=AREA), AREA),
    "depth": ("layer", Site(area=AREA), AREA),
    "row length": ("row length", Site(row_length=ROW), ROW),
    "plant": ("plant", Site(plants=12), Measure(Fraction(12), PLANT)),
    "medium volume": ("medium volume", Site(medium_volume=WATER), WATER),
    "solution": ("spray volume", Site(), WATER),
}


def stuff(rate: Usual) -> Material:
    """A material that the rate speaks of; of a nutrient it is exactly a half."""
    if not rate.carriers:
        trait = rate.of.removeprefix("trait:")
        if trait == rate.of:
            return lookup.material(rate.of)
        known = (lookup.material(id) for id in lookup.material_ids())
        return next(m for m in known if trait in m.traits and not (rate.dry and m.liquid))
    half = Content(rate.of, exact_factor("content:half", Fraction(1, 2)), "w/w", "formula", "")
    trait = sorted(rate.carriers)[0]
    return replace(lookup.material("urea"), id="half", contents=(half,), traits=(trait,))


def recipe(placement: str) -> Recipe:
    return Recipe(
        id="saltmarsh-lane", name="Trial of Saltmarsh Lane", purpose="", how=placement,
        placement=placement, setting=(), crops=(), not_on=(), when="", statements=(), repeat=None,
        order=(), cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip


def view(rate: Usual, times: Fraction, **changes: Any) -> Scene:
    """So many times a rate, given where the rate was published for."""
    basis, site, over = ON[rate.per]
    amount = Measure(rate.rate.value * times, rate.rate.unit) * over
    if amount.is_a(MASS):
        share = Fraction(1, 2) if rate.carriers else Fraction(1)
        given = Delivered(stuff(rate), Est.of((amount / share).to(GRAM)), None, "weighed")
    else:
        given = Delivered(stuff(rate), None, Est.of(amount.to(ML)), "poured")
    setting = next(iter(sorted(rate.setting - {"any"})), None)
    placement = next(iter(sorted(rate.placement - {"any"})), "broadcast")
    made = scene(
        recipe(placement), (), site, Tools(), Told(setting=setting),
        WATER if rate.per == "solution" else None, (given,), basis=basis, liquid_is="strength",
    )  # fmt: skip
    return replace(made, **changes)


@pytest.mark.parametrize("rate", RATES.values(), ids=RATES)
@pytest.mark.parametrize("times", [Fraction(1, 1000), Fraction(1), FAR - PPM, Fraction(FAR)])
def test_up_to_twice_a_rate_there_is_no_caution(rate: Usual, times: Fraction) -> None:
    found = far_above([rate], view(rate, times), ())
    whole_season = rate.window != "application" and times > 1
    assert [(f.level, f.why) for f in found] == (
        [("note", "season-at-once")] if whole_season else []
    )


@pytest.mark.parametrize("rate", RATES.values(), ids=RATES)
@pytest.mark.parametrize("times", [FAR + PPM, Fraction(25)])
def test_above_twice_a_rate_there_is_a_caution_with_its_source(
    rate: Usual, times: Fraction
) -> None:
    (found,) = far_above([rate], view(rate, times), ())
    assert (found.level, found.why, found.about) == ("caution", "far-above", rate.of)
    assert found.ratio == times
    assert (found.source, found.grade) == (rate.source.id, rate.source.grade)
    # A rate is no limit, and must not be read as one.
    assert found.limit is None
    said = found.say.english()
    for piece in (rate.printed, rate.source.cite(), rate.why, "times the highest rate on file"):
        assert piece in said


@pytest.mark.parametrize("rate", RATES.values(), ids=RATES)
def test_a_rate_says_nothing_of_another_place_or_way(rate: Usual) -> None:
    far = view(rate, Fraction(25))
    assert far_above([rate], replace(far, delivered=()), ()) == ()
    if "any" not in rate.setting:
        other = next(s for s in ("container", "turf", "field") if s not in rate.setting)
        assert far_above([rate], replace(far, told=Told(setting=other)), ()) == ()
    if "any" not in rate.placement:
        assert far_above([rate], replace(far, recipe=recipe("dip")), ()) == ()
    if rate.carriers:
        (given,) = far.delivered
        meal = replace(given, material=replace(given.material, traits=("organic-meal",)))
        assert far_above([rate], replace(far, delivered=(meal,)), ()) == ()


def test_the_highest_rate_of_a_place_is_the_one_that_counts() -> None:
    low, high = RATES["epsom-salt-in-water"], RATES["epsom-salt-concentrate-tree"]
    # 120 lb in 100 US gal is 143.8 g/L, 2 kg in 100 L is 20 g/L: on a tree 144 g/L may be.
    tree = view(high, Fraction(1))
    assert far_above([low, high], tree, ()) == ()
    (found,) = far_above([low, high], replace(tree, told=Told(setting="garden")), ())
    assert found.id == f"usual-{low.id}"
    assert round(found.ratio or 0, 2) == Fraction("7.19")


def test_what_cannot_be_compared_with_all_of_its_rates_is_left_alone() -> None:
    """A rate by the spoon and one by weight: without a density the lower one must not judge."""
    light, spoon = RATES["soft-soap-in-water"], RATES["liquid-soap-in-water"]
    other = replace(spoon, of="soft-soap")
    weighed = view(light, Fraction(25))
    assert weighed.delivered[0].material.density is None
    assert len(far_above([light], weighed, ())) == 1
    assert far_above([light, other], weighed, ()) == ()


def test_the_likely_density_decides() -> None:
    rate = RATES["bone-meal-bed"]
    density = lookup.material("bone-meal").density
    assert density is not None
    assert density.likely < density.high
    for times, wanted in ((Fraction(FAR), []), (FAR + PPM, ["caution"])):
        made = view(rate, times)
        (given,) = made.delivered
        assert given.mass is not None
        mL = given.mass.span().likely / density.likely
        volume = Est.of(Measure(mL, ML))
        spooned = Delivered(given.material, given.material.mass_of(volume, True), volume, "spooned")
        found = far_above([rate], replace(made, delivered=(spooned,)), ())
        assert [f.level for f in found] == wanted
        for one in found:
            assert one.high is not None
            assert one.high.value > rate.rate.value * FAR


# Whole jobs, as growers write them.


def written(text: str, measures: str = "us", told: ToldText | None = None, **site: str) -> Mix:
    tools = ToolsText(sprayer=site.pop("sprayer", None), scale="0.1 g")
    typed = job.Job("", SiteText(**site), tools, told or ToldText(), measures=measures)
    return job_and_mix(text, typed)[1]


def usual(found: Mix, level: str = "caution") -> list[Finding]:
    return [f for f in found.findings if f.id.startswith("usual-") and f.level == level]


def only(found: Mix) -> Finding:
    (one,) = usual(found)
    return one


def test_a_pound_of_gypsum_to_the_square_foot() -> None:
    """From an iris growers' list (1998); 20 lb per 100 sq ft is the highest rate on file."""
    found = written("about 1 pound of gypsum per square foot", area="40 sq ft")
    one = only(found)
    assert one.id == "usual-gypsum-against-sodium"
    assert one.ratio == pytest.approx(5, rel=1e-4)
    assert one.likely is not None
    grams = float(one.likely.amount_in((("gram", 1), ("meter", -2))))
    assert grams == pytest.approx(float(POUND / SQUARE_FOOT), rel=1e-4)
    assert usual(written("20 lb of gypsum over 680 sq ft", area="680 sq ft")) == []


def test_forty_pounds_of_a_feed_where_one_was_meant() -> None:
    """A garden columnist's reader: 40 lb of 10-10-10 on 100 square feet, where 1 lb was meant."""
    found = done.run(done.Done(("40 lb 10-10-10",), SiteText(area="100 sq ft"), ToolsText()))
    one = only(found)
    assert one.about == "N"
    # 4 lb of nitrogen over 100 sq ft, and 0.21 lb is the most that one dressing brings.
    assert one.ratio == pytest.approx(4 / 0.21, rel=1e-3)


def test_the_upper_end_of_a_range_is_held_as_well() -> None:
    found = written("10 to 60 pounds of gypsum per 100 square feet", area="100 sq ft")
    (one,) = (f for f in found.findings if f.id.startswith("upper-usual-"))
    assert (one.level, one.why) == ("caution", "upper-end")
    assert "3 times the highest rate on file" in one.say.english()
    assert "At the upper end" in one.say.english()
    assert usual(found) == []


def test_doses_before_this_one_count_towards_a_seasons_rate() -> None:
    """A tablespoon of 10-10-10 to the square foot: 161 kg N/ha, and 146 is a whole season's."""
    text = "one tablespoon of 10-10-10 per square foot mixed in before planting"
    first = written(text, bed="4 ft x 4 ft")
    assert usual(first) == []
    (note,) = usual(first, "note")
    assert (note.why, note.about) == ("season-at-once", "N")
    assert "Give no more of it this season" in note.say.english()
    third = only(written(text, bed="4 ft x 4 ft", told=ToldText(already="2")))
    assert third.id == "usual-nitrogen-season-garden"
    assert note.ratio is not None
    assert third.ratio == note.ratio * 3
    assert "(season)" in third.say.english()


def test_the_note_speaks_of_one_dose_only() -> None:
    """Half a tablespoon three times: 1.7 times a season's rate, and no one dose is above it."""
    text = "1/2 tablespoon of 10-10-10 per square foot"
    third = written(text, bed="4 ft x 4 ft", told=ToldText(already="2"))
    assert usual(third, "note") == usual(third) == []


def test_two_feeds_are_counted_together() -> None:
    """0.3 lb of nitrogen from each to 100 sq ft: 1.4 times one dressing, and 2.9 times together."""
    half = ("3 lb 10-10-10",), ("1.43 lb ammonium sulfate",)
    site = SiteText(area="100 sq ft")
    for amounts in half:
        assert usual(done.run(done.Done(amounts, site, ToolsText()))) == []
    both = only(done.run(done.Done((*half[0], *half[1]), site, ToolsText())))
    assert both.about == "N"
    assert both.ratio == pytest.approx(0.6 / 0.21, rel=1e-2)


@pytest.mark.parametrize(
    ("text", "site", "speaks"),
    [
        # A limit of a strong source forbids it.
        ("10 lb of wood ash per 10 square feet", {"area": "100 sq ft"}, "over"),
        ("10 lb of ground limestone per 10 square feet", {"area": "100 sq ft"}, "over"),
        ("spray 94 g of soft soap per litre", {"spray_volume": "5 L"}, "over"),
        # A figure of a weak source says it with its own number.
        ("spray 94 mL of liquid soap per litre", {"spray_volume": "5 L"}, "caution"),
        ("spray 94 mL of washing-up liquid per litre", {"spray_volume": "5 L"}, "caution"),
    ],
)
def test_what_a_limit_calls_too_much_is_not_said_again(
    text: str, site: dict[str, str], speaks: str
) -> None:
    found = written(text, **site)
    assert usual(found) == []
    assert any(f.level == speaks and f.why.startswith("limit-over") for f in found.findings)


@pytest.mark.parametrize(
    ("level", "why", "alike", "said"),
    [
        ("over", "limit-over", False, False),
        ("stop", "excluded", False, False),
        # A weak source that allows none at all, and a weak figure over the same basis.
        ("caution", "excluded", False, False),
        ("caution", "limit-over-weak", True, False),
        ("caution", "limit-over-phase", True, False),
        # A figure over another basis, and one that is only neared, say nothing of this dose.
        ("caution", "limit-over-weak", False, True),
        ("caution", "limit-maybe", True, True),
        ("within", "limit-within", True, True),
        ("note", "no-limit", False, True),
    ],
)
def test_only_what_says_too_much_takes_its_place(
    level: str, why: str, alike: bool, said: bool
) -> None:
    rate = RATES["gypsum-against-sodium"]
    figure = rate.rate if alike else RATES["oil-in-water"].rate
    limit = Finding("trial", level, why, "gypsum", Say.of("no-limit", name=""), limit=figure)
    assert bool(far_above([rate], view(rate, Fraction(25)), (limit,))) is said
    other = replace(limit, about="wood-ash")
    assert far_above([rate], view(rate, Fraction(25)), (other,)) != ()


@pytest.mark.parametrize("stuff", ["washing-up liquid", "liquid soap"])
def test_the_same_soap_poured_on_the_soil_has_no_limit_and_is_said(stuff: str) -> None:
    found = written(f"drench with 94 mL of {stuff} per litre", spray_volume="10 L")
    assert only(found).ratio > FAR


def test_the_label_in_hand_goes_first(tmp_path: Path) -> None:
    label = tmp_path / "soap.toml"
    label.write_text('product = "Invented soap"\nmaterial = "liquid-soap"\nhighest = "100 mL/L"\n')
    amounts, water = ("470 mL liquid soap",), "5 L"
    site = SiteText()
    told = {"water": water, "placement": "soil-drench"}
    assert usual(done.run(done.Done(amounts, site, ToolsText(), **told))) != []
    held = done.Done(amounts, site, ToolsText(), labels=(str(label),), **told)
    assert usual(done.run(held)) == []


@pytest.mark.parametrize(
    ("text", "site"),
    [
        # A row has a rate of its own: close rows are no slip. Kansas: 4 oz of urea to 30 ft.
        ("4 oz of urea per 30 ft of row", {"row": "30 ft", "row_spacing": "8 in"}),
        # A layer is compared with layers: 2 in of rotted manure weighs six times 95 lb/100 sq ft.
        ("2 inches of cow manure over 100 sq ft", {"area": "100 sq ft"}),
        # A shrub's own hole is compared with holes, however close the shrubs stand.
        ("4 oz of bone meal per plant", {"plants": "20", "area": "4 m2"}),
        # Water that only carries has no strength to compare: it is watered in.
        ("2 lb of urea in 1 gallon of water over 1000 sq ft", {"area": "1000 sq ft"}),
    ],
)
def test_a_dose_is_compared_in_the_measure_of_its_own_recipe(
    text: str, site: dict[str, str]
) -> None:
    assert usual(written(text, **site)) == []


@pytest.mark.parametrize(
    ("text", "site", "id"),
    [
        ("8 oz of urea per 10 ft of row", {"row": "30 ft"}, "nitrogen-row-dressing"),
        ("6 inches of cow manure over 100 sq ft", {"area": "100 sq ft"}, "manure-layer"),
        ("400 lb of cow manure per 100 sq ft", {"area": "100 sq ft"}, "cattle-manure-season"),
        ("2 lb of bone meal per plant", {"plants": "5"}, "bone-meal-shrub"),
        ("4 cups of Epsom salt per plant", {"plants": "5"}, "epsom-salt-rose"),
        ("2 cups of 16-16-8 per 5 gal bucket of potting mix", {"medium_volume": "5 US gal"},
         "nitrogen-potting-mix"),
        ("drench with 4 tbsp of 20-20-20 per gallon", {"spray_volume": "2 US gal"},
         "nitrogen-in-a-can"),
        ("drench with 2 cups of Epsom salt per gallon", {"spray_volume": "2 US gal"},
         "epsom-salt-in-water"),
        ("spray 10 tbsp of calcium chloride flake per gallon", {"spray_volume": "2 US gal"},
         "calcium-on-leaves"),
        ("20 lb of elemental sulfur per 100 sq ft", {"area": "100 sq ft"},
         "sulfur-clay-before-planting"),
        ("1 lb of aluminum sulfate per square foot", {"area": "50 sq ft"},
         "aluminum-sulfate-clay"),
        ("15 lb of blood meal per 100 sq ft", {"area": "50 sq ft"}, "blood-meal-bed"),
    ],
)  # fmt: skip
def test_what_growers_overdo_is_found(text: str, site: dict[str, str], id: str) -> None:
    assert only(written(text, **site)).id == f"usual-{id}"


def test_compost_by_the_yard_is_compared_as_a_layer() -> None:
    """4 cubic yards over 100 square feet lie 13 in deep; a new bed is given 4 in at most."""
    new = ToldText(phase="establishing")
    one = only(written("4 cubic yards of compost per 100 sq ft", area="100 sq ft", told=new))
    assert one.id == "usual-compost-new-bed-layer"
    assert one.ratio == pytest.approx(4 * 27 * 12 / 100 / 4, rel=1e-2)


def test_a_weak_feed_in_a_flood_is_counted_over_the_ground() -> None:
    text = "drench with 1 tbsp of 20-20-20 per gallon"
    few = written(text, spray_volume="40 L", area="10 m2")
    assert usual(few) == []
    one = only(written(text, spray_volume="400 L", area="10 m2"))
    assert one.id == "usual-nitrogen-one-dressing-garden"


def test_a_liquid_feed_is_not_weighed_as_a_dry_one() -> None:
    """20 mL/L of a liquid tomato feed weigh 24 g, and most of that is water."""
    assert usual(written("spray 20 mL of liquid tomato feed per litre", spray_volume="5 L")) == []
    dry = only(written("spray 24 g of 20-20-20 per litre", spray_volume="5 L"))
    assert dry.id == "usual-complete-feed-on-leaves"


def test_a_stock_for_an_injector_is_no_drench() -> None:
    stock = done.Done(("600 g 20-20-20",), SiteText(), ToolsText(), water="3 L", stock=True)
    assert usual(done.run(stock)) == []
    feed = replace(stock, stock=False, placement="fertigation")
    assert only(done.run(feed)).id == "usual-nitrogen-at-every-watering"


# What must stay silent.

GARDEN = {
    "row": "40 m", "row_spacing": "45 cm", "plants": "40", "pots": "12", "pot_size": "5 US gal",
    "spray_volume": "5.3 L",
}  # fmt: skip
"""Saltmarsh Lane; the pots are those that slow-feed-pot is written for."""


@pytest.mark.parametrize("measures", [None, "us", "metric", "imperial"])
@pytest.mark.parametrize("id", lookup.recipe_ids())
def test_no_recipe_of_the_book_is_above_the_highest_rate_on_file(
    id: str, measures: str | None
) -> None:
    """Each of them is a published rate itself: none is called far above, no season is used up."""
    recipe = lookup.find_recipe(id)
    if measures not in (None, *(s.declared for s in recipe.statements)):
        return
    found = job.run(job.Job(id, SiteText(**GARDEN), ToolsText(scale="0.1 g"), measures=measures))
    assert [f.id for f in found.findings if "usual-" in f.id] == []


def test_a_recipe_for_a_bigger_pot_is_found_out() -> None:
    """2.5 tbsp of 10-10-10 are for 5 US gal of mix: in 2 L it is nine times as strong."""
    small = {**GARDEN, "pot_size": "2 L"}
    found = job.run(job.Job("slow-feed-pot", SiteText(**small), ToolsText()))
    assert only(found).id == "usual-nitrogen-potting-mix"


PUBLISHED = {
    case["id"]: case
    for path in sorted((Path(__file__).parents[1] / "published").glob("*.toml"))
    for case in tomllib.loads(path.read_text("utf-8"))["case"]
    if case["kind"] == "product-for"
    and "/" in case["nutrient_amount"]
    # These count lime, boron, phosphate and potash; hydroponic-calcium counts calcium.
    and not re.search(r"lime|borax|boron|phosph|potash|map-|calcium$", case["id"])
}
EXTREME = {"container-nine-months"}
"""A coated feed for nine months in a nursery pot: 1.76 g N/L, 2.7 times a cup of plain 10-10-10 to
the bushel. Three numbers do not tell that it is coated; the finding says that a coated one may."""


@pytest.mark.parametrize("id", PUBLISHED)
def test_published_nitrogen_examples_are_not_far_above(id: str) -> None:
    amount, _, per = PUBLISHED[id]["nutrient_amount"].partition("/")
    feed = f"{PUBLISHED[id]['percent']}-0-0"
    if per == "L":
        text, site = f"drench with {feed} at {amount}/L N", {"spray_volume": "10 L"}
    elif "yd" in per:
        text = f"{amount} N per {per} of potting mix from {feed}"
        site = {"medium_volume": "1 cu yd"}
    else:
        text, site = f"{amount} N per {per} from {feed}", {"area": "1000 sq ft"}
    found = usual(written(text, **site))
    assert bool(found) is (id in EXTREME)
    for one in found:
        assert "coated feed that lasts nine months" in one.say.english()


def test_there_are_published_nitrogen_examples_of_every_kind() -> None:
    assert len(PUBLISHED) >= 20
    assert {c["nutrient_amount"].partition("/")[2] for c in PUBLISHED.values()} >= {
        "1000 sq ft", "100 sq ft", "cu yd", "L",
    }  # fmt: skip
    assert set(PUBLISHED) >= EXTREME


def test_no_sentence_calls_a_rate_usual_or_safe() -> None:
    """A rate on file must never read as an approval."""
    for key in ("far-above", "season-at-once"):
        assert not re.search(r"usual|normal|safe|fine|allowed|recommended", every()[key])


def test_the_finding_stands_in_the_json_without_a_limit() -> None:
    found = written("about 1 pound of gypsum per square foot", area="40 sq ft")
    (one,) = (f for f in dump(found)["findings"] if f["id"] == "usual-gypsum-against-sodium")
    assert one["limit"] is None
    assert one["ratio"] == pytest.approx(5, rel=1e-4)
    assert one["source"] in {source["id"] for source in dump(found)["sources"]}
    json.dumps(one)

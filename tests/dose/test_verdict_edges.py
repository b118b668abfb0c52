"""Small slips of the judge that no whole job shows: each test here fails for one of them.

Every limit, material and rule is invented for Saltmarsh Lane garden, so that a figure lies on the
edge that is meant and nothing else speaks.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from dosecalc.catalog.crops import GENERAL, Crop
from dosecalc.catalog.limit import ANY, Limit
from dosecalc.catalog.material import Content, Material, Solubility, exact_factor
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.rules import Pair
from dosecalc.catalog.site import Site
from dosecalc.catalog.source import Source
from dosecalc.catalog.told import Told
from dosecalc.catalog.tools import Tools
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.dissolve import dissolving
from dosecalc.dose.judge import judge
from dosecalc.dose.result import Finding
from dosecalc.dose.scene import Scene, scene
from dosecalc.dose.together import meeting, sprayer
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, LITER, METER, ML, SQUARE_METER, Measure
from dosecalc.units.spread import Est, Factor

PPM = Fraction(1, 1_000_000)
PER_LITRE: Unit = (("gram", 1), ("liter", -1))
PER_SQUARE_METRE: Unit = (("gram", 1), ("meter", -2))
STRONG = Source("office", "Rates", "Office", "extension", 2001, None)
WEAK = Source("hobby", "Rates", "Club", "hobby", 2001, None)


def measure(value: Fraction | int | str, unit: Unit) -> Measure:
    return Measure(Fraction(value), unit)


def powder(id: str = "saltmarsh-powder", *traits: str, **rest: Any) -> Material:
    values: dict[str, Any] = {
        "name": id, "also": (), "form": "powder", "contents": (), "uncounted": (),
        "by_weight": False, "density": None, "density_how": "", "solubility": (),
        "insoluble": "", "hazards": (), "caveat": "", "formula": "", "sources": (),
    } | rest  # fmt: skip
    return Material(id=id, traits=traits, **values)


def limit(figure: Measure, per: str = "field area", **rest: Any) -> Limit:
    values: dict[str, Any] = {
        "id": f"own-{per}", "of": "saltmarsh-powder", "inclusive": True, "window": "application",
        "years": 0, "crops": ANY, "not_crops": frozenset(), "setting": ANY, "placement": ANY,
        "phase": "any", "region": "any", "law": False, "lower": False, "judges": True,
        "not_judging": "", "printed": "", "source": STRONG, "why": "", "caveat": "",
    } | rest  # fmt: skip
    return Limit(per=per, limit=figure, **values)


GROUND = Site(
    row_length=measure(40, METER), row_spacing=measure(1, METER), spacing_told=True,
    area=measure(40, SQUARE_METER), band_width=measure("1/2", METER), plants=10,
    medium_volume=measure(100, LITER),
)  # fmt: skip
WATER = measure(100, LITER)


def grams(value: Fraction | int, material: Material | None = None, **rest: Any) -> Delivered:
    mass = Est.of(measure(value, GRAM))
    given = Delivered(powder() if material is None else material, mass, None, "weighed")
    return replace(given, **rest)


def view(*given: Delivered, told: Told | None = None, **rest: Any) -> Scene:
    recipe = Recipe(
        id="saltmarsh-lane", name="Trial", purpose="", how="drench", placement="soil-drench",
        setting=(), crops=(), not_on=(), when="", statements=(), repeat=None, order=(),
        cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip
    made = scene(recipe, (), GROUND, Tools(), told or Told(), WATER, given)
    return replace(made, **rest)


def ids(found: tuple[Finding, ...]) -> list[str]:
    return [f.id for f in found]


# Which limits are held, and in what order they are said.

BASES: list[tuple[str, Measure]] = [
    ("row length", measure(10, (("gram", 1), ("meter", -1)))),
    ("band area", measure(20, PER_SQUARE_METRE)),
    ("field area", measure(10, PER_SQUARE_METRE)),
    ("plant", measure(40, (("gram", 1), ("plant", -1)))),
    ("medium volume", measure(4, PER_LITRE)),
    ("depth", measure(1, (("mm", 1),))),
    ("solution", measure(4, PER_LITRE)),
    ("irrigation water", measure(4, PER_LITRE)),
    ("count", measure(2, ())),
]


@pytest.mark.parametrize("order", [1, -1])
def test_each_basis_is_judged_and_the_nearest_to_the_row_is_said_first(order: int) -> None:
    # 400 g and 40 L are over each basis exactly the figure; those said last are furthest over.
    times = [Fraction(n + 5, 4) for n, _ in enumerate(BASES)]
    limits = [limit(figure / n, per) for n, (per, figure) in zip(times, BASES, strict=True)]
    given = grams(400, volume=Est.of(measure(40_000, ML)))
    found = judge(limits[::order], view(given, told=Told(already=1)))
    assert ids(found) == [f"own-{per}" for per, _ in BASES]
    assert [f.ratio for f in found] == times
    assert {f.level for f in found} == {"over"}


@pytest.mark.parametrize(("share", "level"), [(-PPM, "within"), (PPM, "caution")])
def test_a_narrow_window_is_close_from_ninety_five_hundredths(share: Fraction, level: str) -> None:
    given = grams(400 * (Fraction(95, 100) + share), powder(by_weight=True))
    found = judge([limit(measure(10, PER_SQUARE_METRE))], view(given))
    assert [f.level for f in found] == [level]


def test_close_is_said_of_the_likely_figure_and_not_of_the_high_one() -> None:
    # 372 g in 100 L: likely 93 % of the limit, with a mark 5 % off just under 98 %.
    most = limit(measure(4, PER_LITRE), "solution")
    narrow = powder(by_weight=True)
    assert [f.why for f in judge([most], view(grams(372, narrow)))] == ["limit-within"]
    (close,) = judge([limit(measure(10, PER_SQUARE_METRE))], view(grams(392, narrow)))
    assert (close.why, close.level) == ("limit-close", "caution")
    assert close.say.english()


def test_what_is_excluded_says_where_it_holds_and_by_whom() -> None:
    none = limit(measure(0, PER_SQUARE_METRE), region="NZ", setting=frozenset({"turf"}))
    told = Told(region="NZ", setting="turf")
    (found,) = judge([none], view(grams(1), told=told))
    assert (found.level, found.source, found.grade) == ("stop", "office", "extension")
    assert "turf" in found.scope
    assert "NZ" in found.scope


def test_only_the_least_useful_rate_of_a_helper_is_passed_over() -> None:
    least = limit(measure(20, PER_SQUARE_METRE), id="least", lower=True)
    most = limit(measure(5, PER_SQUARE_METRE), id="most")
    helped = view(grams(400), helpers=frozenset({"saltmarsh-powder"}))
    assert ids(judge([least, most], helped)) == ["most"]
    assert ids(judge([least, most], view(grams(400)))) == ["most", "least"]


def test_of_two_that_share_a_trait_a_helper_does_not_hide_the_other() -> None:
    least = limit(measure(90, PER_SQUARE_METRE), id="least", of="trait:soap", lower=True)
    soaps = (grams(400, powder("soft", "soap")), grams(400, powder("hard", "soap")))
    assert "least" in ids(judge([least], view(*soaps, helpers=frozenset({"soft"}))))
    assert "least" not in ids(judge([least], view(*soaps, helpers=frozenset({"soft", "hard"}))))


def test_the_first_time_is_no_finding_of_a_number_of_times() -> None:
    twice = limit(measure(2, ()), "count")
    assert "own-count" not in ids(judge([twice], view(grams(400))))
    assert "own-count" in ids(judge([twice], view(grams(400), told=Told(already=1))))


def test_no_limit_cuts_off_those_after_it() -> None:
    last = limit(measure(5, PER_SQUARE_METRE), id="last")
    before = [
        limit(measure(0, PER_SQUARE_METRE), id="none-at-all"),
        limit(measure(5, PER_SQUARE_METRE), id="another-thing", of="saltmarsh-salt"),
        limit(measure(5, PER_SQUARE_METRE), id="elsewhere", crops=frozenset({"bean"})),
        limit(measure(5, PER_SQUARE_METRE), id="shown-only", judges=False),
        limit(measure(5, PER_SQUARE_METRE), id="reached", lower=True),
        limit(measure(2, ()), "count"),
        limit(measure(5, PER_LITRE), "solution", id="not-told"),
    ]
    for first in before:
        found = ids(judge([first, last], view(grams(400), liquid=None)))
        assert "last" in found, first.id


@pytest.mark.parametrize("per", ["solution", "irrigation water"])
def test_a_least_useful_rate_over_something_untold_is_not_asked_for(per: str) -> None:
    least = limit(measure(5, PER_LITRE), per, lower=True)
    most = limit(measure(5, PER_LITRE), per)
    dry = view(grams(400, powder(by_weight=True)), liquid=None)
    assert ids(judge([least], dry)) == ["no-limit-saltmarsh-powder"]
    assert [(f.id, f.level) for f in judge([most], dry)] == [(f"untold-own-{per}", "caution")]


def test_the_most_serious_is_said_first_and_of_like_ones_the_furthest_over() -> None:
    limits = [
        limit(measure(50, PER_SQUARE_METRE), id="kept"),
        limit(measure(8, PER_SQUARE_METRE), id="hobby", source=WEAK),
        limit(measure(0, PER_SQUARE_METRE), id="hobby-none", source=WEAK),
        limit(measure(8, PER_SQUARE_METRE), id="little-over"),
        limit(measure(2, PER_SQUARE_METRE), id="far-over"),
        limit(measure(5, PER_LITRE), "solution", id="not-told"),
    ]
    narrow = grams(400, powder(by_weight=True))
    for order in (limits, limits[::-1]):
        found = judge(order, view(narrow, liquid=None))
        assert [(f.id, f.level) for f in found] == [
            ("far-over", "over"),
            ("little-over", "over"),
            ("hobby-none", "caution"),
            ("hobby", "caution"),
            ("untold-not-told", "caution"),
            ("kept", "within"),
        ]


# What may be above, where the likely figure is not.


@pytest.mark.parametrize(
    ("source", "phase", "way", "level", "why"),
    [
        (STRONG, "any", "weighed", "caution", "limit-maybe"),
        (STRONG, "any", "spooned", "caution", "limit-maybe-spooned"),
        (STRONG, "yearly", "weighed", "note", "limit-maybe-weak"),
        (WEAK, "any", "spooned", "note", "limit-maybe-weak"),
        (WEAK, "yearly", "weighed", "note", "limit-maybe-weak"),
    ],
)
def test_what_may_be_above_is_a_caution_only_where_the_limit_surely_holds(
    source: Source, phase: str, way: str, level: str, why: str
) -> None:
    # Just what is allowed, in a tank whose mark may be 5 % off: only the high figure is above.
    most = limit(measure(4, PER_LITRE), "solution", source=source, phase=phase)
    (found,) = judge([most], view(grams(400, way=way)))
    assert (found.level, found.why) == (level, why)
    assert found.say.english()


# What is asked for where a limit could not be held.


@pytest.mark.parametrize(
    ("per", "weighed", "site", "liquid", "key"),
    [
        ("field area", True, Site(), WATER, "untold-field"),
        ("field area", False, GROUND, WATER, "untold-density"),
        ("field area", False, Site(), WATER, "untold-field"),
        ("solution", True, GROUND, None, "untold-solution"),
        ("solution", False, GROUND, WATER, "untold-density"),
        ("irrigation water", True, GROUND, None, "untold-solution"),
    ],
)
def test_what_is_missing_is_asked_for_and_nothing_else(
    per: str, weighed: bool, site: Site, liquid: Measure | None, key: str
) -> None:
    figure = measure(4, PER_SQUARE_METRE if per == "field area" else PER_LITRE)
    given = grams(400) if weighed else grams(400, mass=None, volume=Est.of(measure(400, ML)))
    (found,) = judge([limit(figure, per)], view(given, site=site, liquid=liquid))
    assert (found.say.key, found.level, found.why) == (key, "note", "not-told")
    assert (found.limit, found.source, found.grade) == (figure, "office", "extension")
    assert found.scope == "any crop; per application"


def test_of_several_that_could_not_be_held_the_nearest_to_the_row_is_named() -> None:
    limits = [limit(figure, per) for per, figure in BASES if per != "count"]
    for order in (limits, limits[::-1]):
        assert ids(judge(order, view(grams(400), site=Site(), liquid=None))) == [
            "untold-own-row length"
        ]


def test_a_material_is_without_a_limit_unless_a_highest_one_speaks_of_it() -> None:
    least = limit(measure(5, PER_SQUARE_METRE), id="least", lower=True)
    missed = limit(measure(50, PER_SQUARE_METRE), id="missed", lower=True)
    untold = limit(measure(5, PER_LITRE), "solution")
    most = limit(measure(50, PER_SQUARE_METRE), id="most")
    other = grams(400, powder("saltmarsh-salt"))
    dry = view(grams(400), other, liquid=None)

    def without(*limits: Limit) -> list[str]:
        return [f.about for f in judge(limits, dry) if f.why == "no-limit"]

    assert without() == without(least) == without(missed) == ["saltmarsh-powder", "saltmarsh-salt"]
    assert without(untold) == without(most) == without(missed, most) == ["saltmarsh-salt"]


@pytest.mark.parametrize(("way", "level"), [("weighed", "within"), ("spooned", "caution")])
def test_weighing_takes_the_powders_spread_out_of_a_published_spoonful(
    way: str, level: str
) -> None:
    loose = Factor(
        "density:loose", Fraction(1, 2), Fraction(1), Fraction(2), (("gram", 1), ("mL", -1))
    )
    material = powder(density=loose)
    mass = Est.of(measure(400, GRAM))
    given = grams(400, material, way=way, volume=material.volume_of(mass, is_volume=False))
    spoonful = limit(measure(10, (("mL", 1), ("meter", -2))))
    assert [f.level for f in judge([spoonful], view(given))] == [level]


def test_one_spooned_among_weighed_ones_is_enough_to_speak_of_spoons() -> None:
    soaps = (
        grams(200, powder("soft", "soap")),
        grams(200, powder("hard", "soap"), way="spooned"),
    )
    most = limit(measure(4, PER_LITRE), "solution", of="trait:soap")
    assert [f.why for f in judge([most], view(*soaps))] == ["limit-maybe-spooned"]


# Where it is, when nobody said so.

LAWN = Crop("lawn", "lawn", frozenset({"turf-class"}), frozenset({"turf-class"}))


@pytest.mark.parametrize(
    ("site", "crops", "setting"),
    [
        (Site(pots=12), (), {"container"}),
        (Site(medium_volume=WATER), (), {"container"}),
        (Site(pots=12), (LAWN,), {"container"}),
        (Site(), (LAWN,), {"turf"}),
        (Site(), (GENERAL,), {"field", "garden"}),
    ],
)
def test_pots_or_else_the_crop_of_the_recipe_tell_where_it_is(
    site: Site, crops: tuple[Crop, ...], setting: set[str]
) -> None:
    assert view(grams(400), site=site, crops=crops).settings == setting
    here = limit(measure(4, PER_LITRE), "solution", setting=frozenset(setting))
    there = replace(here, id="there", setting=frozenset({"greenhouse"}))
    found = judge([here, there], view(grams(500), site=site, crops=crops))
    assert [(f.id, f.level) for f in found] == [("own-solution", "over")]


@pytest.mark.parametrize("element", ["N", "K"])
def test_salts_counted_together_are_judged_where_only_one_of_them_is_there(element: str) -> None:
    share = exact_factor(f"content:{element}", Fraction(1, 2))
    feed = powder(contents=(Content(element, share, "w/w", "formula", ""),))
    together = limit(measure(1, PER_SQUARE_METRE), of="salt:N+K2O")
    (found,) = judge([together], view(grams(400, feed)))
    assert (found.id, found.level) == ("own-field area", "over")


def test_a_limit_on_nutrients_speaks_of_nothing_that_has_none_of_them() -> None:
    assert view(grams(1)).holds("salt:N+K2O") == ()


def test_one_narrow_material_makes_the_nutrient_narrow() -> None:
    share = exact_factor("content:N", Fraction(1, 10))
    feed = powder(contents=(Content("N", share, "w/w", "formula", ""),))
    narrow = replace(feed, id="narrow", by_weight=True)
    assert view(grams(1, feed), grams(1, narrow)).narrow("N")
    assert not view(grams(1, feed)).narrow("N")


@pytest.mark.parametrize("phase", ["any", "establishing"])
def test_a_told_phase_leaves_the_limits_of_any_phase_in_force(phase: str) -> None:
    most = limit(measure(10, PER_SQUARE_METRE), phase=phase)
    (found,) = judge([most], view(grams(500), told=Told(phase="establishing")))
    assert (found.id, found.level) == (most.id, "over")


# Whether it dissolves.


def salt(id: str, **rest: Any) -> Material:
    curve = (Solubility(Fraction(20), Fraction(100), "100 g/L", "page", True, ""),)
    return powder(id, **({"solubility": curve, "form": "crystals"} | rest))


def test_a_material_with_nothing_to_hold_does_not_hide_the_next() -> None:
    given = (grams(1), grams(11_000, salt("saltmarsh-salt")))
    found = dissolving(view(*given, told=Told(water=Fraction(20))))
    assert [f.level for f in found] == ["note", "stop"]


def test_what_has_no_mass_is_said_to_be_held_against_nothing() -> None:
    spooned = replace(grams(1, salt("saltmarsh-salt")), mass=None)
    (found,) = dissolving(view(spooned, told=Told(water=Fraction(20))))
    assert (found.level, found.say.key) == ("note", "untold-dissolving")
    assert found.say.english().startswith("saltmarsh-salt could not be held")


def test_a_mass_in_kilograms_dissolves_like_the_same_in_grams() -> None:
    told = Told(water=Fraction(20))
    many = replace(grams(1, salt("salt")), mass=Est.of(Measure(Fraction(11), (("kg", 1),))))
    same = dissolving(view(many, told=told))
    assert same == dissolving(view(grams(11_000, salt("salt")), told=told))
    assert [(f.level, f.ratio) for f in same] == [("stop", Fraction(11, 10))]
    assert "20 C" in (same[0].scope or "")


def test_a_salt_that_dissolves_does_not_hide_one_that_will_not() -> None:
    given = (grams(1_000, salt("weak")), grams(11_000, salt("strong")))
    found = dissolving(view(*given, told=Told(water=Fraction(20))))
    assert [(f.about, f.level, f.source) for f in found] == [("strong", "stop", "page")]


@pytest.mark.parametrize(("mass", "levels"), [(2_500, []), (2_501, ["caution"])])
def test_below_the_coldest_figure_a_quarter_of_it_is_the_likely_share(
    mass: int, levels: list[str]
) -> None:
    # 25 g/L is a quarter of 100; the tank's mark lets the strength be higher than the likely one.
    found = dissolving(view(grams(mass, salt("saltmarsh-salt")), told=Told(water=Fraction(10))))
    assert [f.level for f in found] == levels
    assert all(f.say.key == "cold-not-measured" for f in found)
    assert all(f.high is not None and f.likely is not None and f.high > f.likely for f in found)


def test_what_only_may_not_dissolve_is_said_with_both_figures() -> None:
    (found,) = dissolving(view(grams(9_990, salt("salt")), told=Told(water=Fraction(20))))
    assert (found.level, found.say.key) == ("caution", "may-not-dissolve")
    assert found.likely is not None
    assert found.high is not None
    assert found.limit is not None
    assert found.likely < found.limit < found.high


# What must not meet.


def pair(a: str, b: str, where: str, **rest: Any) -> Pair:
    values: dict[str, Any] = {
        "days": 0, "first": "", "level": "stop", "unless": "", "region": "any", "crops": ANY,
        "printed": "", "source": STRONG, "why": "",
    } | rest  # fmt: skip
    return Pair(id=f"{a}-{b}", a=a, b=b, where=where, **values)


@pytest.mark.parametrize("spray", ["trait:oil", "trait:sulfur", "trait:copper", "lime-sulfur"])
@pytest.mark.parametrize("turned", [False, True])
def test_a_wait_between_sprays_says_nothing_of_the_ground_and_hides_no_other(
    spray: str, turned: bool
) -> None:
    id = "lime-sulfur" if spray == "lime-sulfur" else "saltmarsh-spray"
    before = powder(id, spray.removeprefix("trait:"), "salty")
    ends = (spray, "saltmarsh-powder")
    leaf = pair(*(ends[::-1] if turned else ends), "days apart", days=14, level="over")
    ground = pair("trait:salty", "saltmarsh-powder", "days apart", days=7, level="caution")
    drench = view(grams(1))
    assert meeting((leaf,), drench, ((before, 1),)) == ()
    both = meeting((leaf, ground), drench, ((before, 1),))
    assert [(f.level, f.scope) for f in both] == [("caution", "days apart")]
    on_leaves = replace(drench, recipe=replace(drench.recipe, placement="foliar"))
    assert [f.level for f in meeting((leaf, ground), on_leaves, ((before, 1),))] == ["over"]


def test_the_longest_of_equal_waits_governs() -> None:
    short = pair("saltmarsh-salt", "saltmarsh-powder", "days apart", days=7, why="Sevenfold.")
    long = replace(short, days=9, why="Ninefold.")
    (found,) = meeting((short, long), view(grams(1)), ((salt("saltmarsh-salt"), 1),))
    assert "Ninefold." in found.say.english()
    assert "9 days" in found.say.english()


@pytest.mark.parametrize("level", ["stop", "over"])
def test_a_weak_source_alone_cautions_that_two_must_not_meet(level: str) -> None:
    given = (grams(1), grams(1, salt("saltmarsh-salt")))
    rule = pair("saltmarsh-powder", "saltmarsh-salt", "tank", level=level)
    for source, wanted in ((STRONG, level), (WEAK, "caution")):
        found = meeting((replace(rule, source=source),), view(*given), ())
        assert [(f.level, f.scope, f.source) for f in found] == [(wanted, "tank", source.id)]


def test_a_sprayer_that_held_weedkiller_says_that_no_source_is_behind_it() -> None:
    (found,) = sprayer(powder("saltmarsh-weedkiller", "herbicide"), view(grams(1)))
    assert (found.level, found.grade, found.source) == ("stop", "practice", "common-practice")

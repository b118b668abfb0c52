"""Weather, waits and law: what was told is judged, what was not told is said as a line."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any, get_args

import pytest

from dosecalc.catalog import lookup, schema
from dosecalc.catalog.crops import Crop, crops, find_crop
from dosecalc.catalog.limit import ANY
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe, Repeat
from dosecalc.catalog.rules import Law, Rules, Wait, Weather, read_rules
from dosecalc.catalog.site import Site, SiteText
from dosecalc.catalog.source import Source
from dosecalc.catalog.told import Told, ToldText
from dosecalc.catalog.tools import Tools, ToolsText
from dosecalc.dose.conditions import Conditions, conditions
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.result import Finding, Mix
from dosecalc.dose.scene import scene
from dosecalc.faces import done, job
from dosecalc.units.measure import GRAM, LITER, Measure
from dosecalc.units.spread import Est

RULES = read_rules(None, lookup.source)
PLACEMENTS = get_args(schema.Placement)
WEAK = ("reference", "trade", "seller", "hobby", "memory", "practice")


def source(name: str, grade: str = "extension") -> Source:
    return Source(f"page-{name}", f"Page {name}", f"Office {name}", grade, 2001, None)


def weather(name: str = "one", grade: str = "extension", **rest: Any) -> Weather:
    values: dict[str, Any] = {
        "of": "trait:oil", "placement": ANY, "quantity": "temperature", "edge": "above",
        "value": Fraction(30), "level": "stop", "printed": "", "why": f"Reason {name}.",
    } | rest  # fmt: skip
    return Weather(id=name, source=source(name, grade), **values)


def wait(name: str = "one", days: int = 7, grade: str = "extension", **rest: Any) -> Wait:
    values: dict[str, Any] = {
        "of": "trait:oil", "what": "harvest", "region": "any", "crops": ANY, "placement": ANY,
        "condition": "", "printed": "", "why": "",
    } | rest  # fmt: skip
    return Wait(
        id=name,
        wait=Measure(Fraction(days), (("day", 1),)),
        source=source(name, grade),
        **values,
    )


def law(name: str = "one", grade: str = "regulator", **rest: Any) -> Law:
    values: dict[str, Any] = {
        "of": "trait:oil", "region": "EU", "use": "plant protection", "level": "stop",
        "as_of": "2024-02-29", "printed": "", "why": f"Reason {name}.",
    } | rest  # fmt: skip
    return Law(id=name, source=source(name, grade), **values)


def made(id: str, *traits: str) -> Material:
    return Material(
        id=id, name=id.title(), also=(), form="liquid", traits=traits, contents=(), uncounted=(),
        by_weight=False, density=None, density_how="", solubility=(), insoluble="", hazards=(),
        caveat="", formula="", sources=(),
    )  # fmt: skip


OIL, SULFUR = made("alpha", "oil"), made("beta", "sulfur")


def judged(
    rules: Rules,
    *materials: Material,
    placement: str = "foliar",
    crop: str | None = None,
    recipe_crops: tuple[Crop, ...] = (),
    region: str | None = None,
    repeat: Repeat | None = None,
    not_on: tuple[str, ...] = (),
    organic: bool = False,
    **told: Fraction | int | None,
) -> Conditions:
    """Conditions of one spray; keywords tell the weather, "hours_to_rain" for "hours to rain"."""
    recipe = Recipe(
        id="saltmarsh-lane", name="Trial of Saltmarsh Lane", purpose="", how="foliar spray",
        placement=placement, setting=(), crops=(), not_on=not_on, when="", statements=(),
        repeat=repeat, order=(), cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip
    known = Told(
        crop=None if crop is None else find_crop(crop),
        region=region,
        organic=organic,
        weather=tuple(
            (name.replace("_", " "), None if value is None else Fraction(value))
            for name, value in told.items()
        ),
    )
    mass = Est.of(Measure(Fraction(10), GRAM))
    view = scene(
        recipe, recipe_crops, Site(), Tools(), known, Measure(Fraction(2), LITER),
        tuple(Delivered(m, mass, None, "weighed") for m in materials or (OIL,)),
    )  # fmt: skip
    return conditions(rules, view)


def levels(found: tuple[Finding, ...]) -> list[str]:
    return [f.level for f in found]


def text(finding: Finding) -> str:
    return finding.say.english()


def lines(found: tuple[Any, ...]) -> str:
    return "\n".join(say.english() for say in found)


# Edges: exactly at the figure.

HAIR = Fraction(1, 1000)


@pytest.mark.parametrize(
    ("edge", "below", "at", "above"),
    [
        ("at least", False, True, True),
        ("above", False, False, True),
        ("at most", True, True, False),
        ("below", True, False, False),
    ],
)
@pytest.mark.parametrize("quantity", ["temperature", "humidity", "wind", "hours to rain"])
@pytest.mark.parametrize("figure", [Fraction(30), Fraction(0), Fraction(-5)])
def test_each_edge_of_a_figure(
    edge: str, below: bool, at: bool, above: bool, quantity: str, figure: Fraction
) -> None:
    rules = Rules(weather=(weather(quantity=quantity, edge=edge, value=figure),))
    name = quantity.replace(" ", "_")
    for step, broken in ((-HAIR, below), (Fraction(0), at), (HAIR, above)):
        found = judged(rules, **{name: figure + step}).findings
        assert levels(found) == (["stop"] if broken else []), step


@pytest.mark.parametrize("quantity", ["in bloom", "frost", "sun", "drought"])
def test_what_is_yes_or_no_is_broken_when_told(quantity: str) -> None:
    rules = Rules(weather=(weather(quantity=quantity, edge="is", value=None),))
    assert levels(judged(rules, **{quantity.replace(" ", "_"): None}).findings) == ["stop"]
    assert judged(rules).findings == ()
    assert judged(rules, temperature=99).findings == ()


def test_another_material_or_placement_is_not_judged() -> None:
    rules = Rules(weather=(weather(placement=frozenset({"foliar"})),))
    assert levels(judged(rules, temperature=40).findings) == ["stop"]
    assert judged(rules, SULFUR, temperature=40).findings == ()
    assert judged(rules, placement="soil-drench", temperature=40).findings == ()


def test_all_broken_figures_of_one_thing_are_one_finding_with_every_source() -> None:
    rules = Rules(
        weather=(
            weather("mild", value=Fraction(20), level="caution"),
            weather("grave", value=Fraction(30)),
            weather("kept", value=Fraction(50)),
            weather("web", value=Fraction(25), grade="hobby"),
        )
    )
    (found,) = judged(rules, temperature=35).findings
    assert found.level == "stop"
    assert "Reason grave." in text(found)
    for name, figure in (("mild", "20 C"), ("grave", "30 C"), ("web", "25 C")):
        assert f"Office {name}" in text(found)
        assert figure in text(found)
    assert "Office kept" not in text(found)
    (milder,) = judged(rules, temperature=28).findings
    assert milder.level == "caution"


def test_each_quantity_and_each_material_is_judged_for_itself() -> None:
    rules = Rules(
        weather=(
            weather("hot"),
            weather("damp", quantity="humidity", value=Fraction(80), level="caution"),
            weather("brimstone", of="trait:sulfur", value=Fraction(28)),
        )
    )
    found = judged(rules, OIL, SULFUR, temperature=35, humidity=90).findings
    assert sorted((f.about, f.level) for f in found) == [
        ("trait:oil", "caution"), ("trait:oil", "stop"), ("trait:sulfur", "stop"),
    ]  # fmt: skip


@pytest.mark.parametrize("grade", WEAK)
def test_a_weak_source_cautions_at_most(grade: str) -> None:
    assert levels(judged(Rules(weather=(weather(grade=grade),)), temperature=35).findings) == [
        "caution"
    ]
    assert levels(judged(Rules(law=(law(grade=grade),)), region="EU").findings) == ["caution"]


# What was not told is a line, the strictest of the strong figures.


def test_the_strictest_strong_figure_is_said_when_nothing_was_told() -> None:
    rules = Rules(
        weather=(
            weather("loose", value=Fraction(35)),
            weather("strict", value=Fraction(30)),
            weather("web", value=Fraction(20), grade="hobby"),
            weather("cool", edge="below", value=Fraction(4)),
            weather("cooler", edge="below", value=Fraction(1)),
            weather("bloom", quantity="in bloom", edge="is", value=None),
        )
    )
    said = lines(judged(rules).when_not)
    assert "30 C" in said
    assert "4 C" in said
    assert "flowers" in said
    for absent in ("35 C", "20 C", "1 C"):
        assert f" {absent}" not in said
    assert judged(rules).findings == ()


def test_a_weak_figure_is_said_where_no_strong_one_is() -> None:
    rules = Rules(weather=(weather("web", value=Fraction(20), grade="hobby"),))
    assert "20 C" in lines(judged(rules).when_not)


def test_what_was_told_is_judged_and_not_said_again() -> None:
    rules = Rules(weather=(weather(), weather("damp", quantity="humidity", value=Fraction(80))))
    assert "30 C" in lines(judged(rules).when_not)
    for degrees in (20, 35):
        said = lines(judged(rules, temperature=degrees).when_not)
        assert "30 C" not in said
        assert "80" in said


@pytest.mark.parametrize("rule", RULES.weather, ids=lambda rule: rule.id)
def test_every_weather_rule_of_the_data_bites_and_is_said(rule: Weather) -> None:
    material = a_material(rule.of)
    placement = min(rule.placement) if "any" not in rule.placement else "foliar"
    told = {
        "at least": rule.value, "above": (rule.value or 0) + HAIR, "at most": rule.value,
        "below": (rule.value or 0) - HAIR, "is": None,
    }[rule.edge]  # fmt: skip
    # Edge "is" goes with the yes-or-no quantities and with no figure, all others with one.
    assert (rule.edge == "is") == (rule.value is None)
    name = rule.quantity.replace(" ", "_")
    rules = Rules(weather=(rule,))
    (found,) = judged(rules, material, placement=placement, **{name: told}).findings
    assert found.level == (rule.level if rule.source.strong else "caution")
    assert rule.source.cite() in text(found)
    assert rule.why in text(found)
    assert lines(judged(rules, material, placement=placement).when_not)


# Waits.


def test_the_longest_wait_of_each_kind_and_condition_is_said() -> None:
    rules = Rules(
        waits=(
            wait("short", 3),
            wait("long", 21),
            wait("middle", 14),
            wait("touching", 5, condition="fruit touches the soil"),
            wait("again", 10, what="repeat"),
            wait("people", 2, what="re-entry"),
        )
    )
    said = judged(rules).waits
    assert len(said) == 4
    text_of = lines(said)
    assert "21 day" in text_of
    assert "5 day" in text_of
    assert "touches the soil" in text_of
    assert "10 day" in text_of
    assert "3 day" not in text_of
    assert "14 day" not in text_of
    assert "Office long" in text_of


def test_a_wait_holds_for_its_region_crops_placement_and_material_only() -> None:
    rule = wait(
        region="US", crops=frozenset({"tree-fruit"}), placement=frozenset({"dormant-spray"})
    )
    rules = Rules(waits=(rule,))
    fits: dict[str, Any] = {"region": "US", "crop": "apple", "placement": "dormant-spray"}
    assert len(judged(rules, **fits).waits) == 1
    for change in (
        {"region": None}, {"region": "EU"}, {"crop": "leek"}, {"crop": None},
        {"placement": "foliar"},
    ):  # fmt: skip
        assert judged(rules, **(fits | change)).waits == ()
    assert judged(rules, SULFUR, **fits).waits == ()
    of_recipe = judged(rules, **(fits | {"crop": None}), recipe_crops=(find_crop("apple"),))
    assert len(of_recipe.waits) == 1


def test_the_recipes_own_interval_and_number_are_said() -> None:
    repeat = Repeat(Measure(Fraction(9), (("day", 1),)), 3, "season", None)
    said = lines(judged(Rules(), repeat=repeat).waits)
    assert "9 day" in said
    assert "3" in said
    assert "season" in said
    assert judged(Rules()).waits == ()


@pytest.mark.parametrize("rule", RULES.waits, ids=lambda rule: rule.id)
def test_every_wait_of_the_data_is_said_somewhere(rule: Wait) -> None:
    region = None if rule.region == "any" else rule.region
    grown = () if "any" in rule.crops else (a_crop(rule.crops),)
    placement = "foliar" if "any" in rule.placement else min(rule.placement)
    found = judged(
        Rules(waits=(rule,)),
        a_material(rule.of),
        region=region,
        recipe_crops=grown,
        placement=placement,
    )
    assert rule.source.cite() in lines(found.waits)


@cache
def a_material(word: str) -> Material:
    """A shipped material that a rule's word speaks of."""
    if not word.startswith("trait:"):
        return lookup.material(word)
    trait = word.removeprefix("trait:")
    return next(m for m in map(lookup.material, lookup.material_ids()) if trait in m.traits)


def a_crop(words: frozenset[str]) -> Crop:
    found = [crop for crop in crops().values() if crop.words & words]
    assert found, f"no crop has any of the words {sorted(words)}"
    return found[0]


# Law.


def test_the_law_is_judged_with_its_region_and_date() -> None:
    (found,) = judged(Rules(law=(law(),)), region="EU").findings
    assert found.level == "stop"
    for piece in ("EU", "2024-02-29", "Office one", "authority"):
        assert piece in text(found)


def test_the_gravest_word_of_the_law_on_each_material_is_said() -> None:
    rules = Rules(
        law=(
            law("note", level="note"),
            law("stop"),
            law("caution", level="caution"),
            law("other", of="trait:sulfur", level="note"),
        )
    )
    found = judged(rules, OIL, SULFUR, region="EU").findings
    assert sorted((f.about, f.level) for f in found) == [
        ("trait:oil", "stop"), ("trait:sulfur", "note"),
    ]  # fmt: skip


@pytest.mark.parametrize("region", ["EU", "US", "UK", "CA", "AU", "NZ"])
def test_the_law_is_only_looked_up_for_the_region_that_was_told(region: str) -> None:
    def found(told: str | None) -> Mix:
        return done.run(
            done.Done(
                ("5 g baking soda",),
                SiteText(),
                ToolsText(),
                water="1 L",
                told=ToldText(region=told),
            )
        )

    mine = [f for f in found(region).findings if f.why == "law"]
    assert {f.scope for f in mine} <= {f"{region} law"}
    assert [f for f in found(None).findings if f.why == "law"] == []
    assert any("--region" in say.english() for say in found(None).not_told)
    assert all("--region" not in say.english() for say in found(region).not_told)


def everywhere(rule: Law, organic: bool) -> list[Finding]:
    """What one law says of one of its materials, whatever way it is given."""
    return [
        finding
        for placement in PLACEMENTS
        for finding in judged(
            Rules(law=(rule,)),
            a_material(rule.of),
            placement=placement,
            region=rule.region,
            organic=organic,
        ).findings
    ]


@pytest.mark.parametrize("rule", RULES.law, ids=lambda rule: rule.id)
def test_every_law_of_the_data_is_said_for_some_use(rule: Law) -> None:
    """A spray of vinegar or milk is plant protection as much as one of soap."""
    organic = rule.use == "organic production"
    found = everywhere(rule, organic)
    assert found
    # What only binds whoever grows to organic rules is not held against anybody else.
    assert bool(everywhere(rule, organic=False)) == (not organic)
    # Only strong sources stop; a weak one's stop is a caution, and its note stays a note.
    weaker = rule.level == "stop" and not rule.source.strong
    assert {f.level for f in found} == {"caution" if weaker else rule.level}
    for one in found:
        assert rule.as_of in text(one)
        assert rule.region in text(one)
        assert rule.source.cite() in text(one)


def test_home_made_copper_is_not_passed_over_in_the_eu() -> None:
    found = done.run(
        done.Done(
            ("50 g copper sulfate pentahydrate",),
            SiteText(area="100 m2"),
            ToolsText(),
            water="10 L",
            placement="foliar",
            told=ToldText(region="EU"),
        )
    )
    laws = [f for f in found.findings if f.why == "law"]
    assert len(laws) == 1
    assert laws[0].level in ("stop", "caution")


# What the recipe itself excludes.


def test_a_crop_that_the_recipe_excludes_is_a_stop() -> None:
    rules = Rules()
    assert levels(judged(rules, crop="snap bean", not_on=("legume",)).findings) == ["stop"]
    assert levels(judged(rules, crop="green beans", not_on=("snap-bean",)).findings) == ["stop"]
    assert judged(rules, crop="leek", not_on=("legume",)).findings == ()
    assert judged(rules, not_on=("legume",)).findings == ()


# As typed: units of other systems, and a wait that is not over.


def sulfur_at(**told: Any) -> Mix:
    return job.run(
        job.Job(
            "wettable-sulfur-apple",
            SiteText(area="100 m2"),
            ToolsText(),
            ToldText(crop="apple", **told),
        )
    )


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("90 F", "stop"),  # a rule of at least 90 F
        ("32.2 C", "stop"),  # above 85 F
        ("85 F", "caution"),  # exactly at "above 85 F"; two milder rules at 80 F
        ("85.1 F", "stop"),
        ("80 F", "caution"),  # at least 80 F on berries
        ("79.9 F", None),
        ("15 C", None),  # below 15 C it does little
        ("14.9 C", "caution"),
        ("0 C", "caution"),
        ("-2 C", "caution"),
    ],
)
def test_a_temperature_in_either_scale_is_held_exactly(typed: str, wanted: str | None) -> None:
    found = [f for f in sulfur_at(temperature=typed).findings if f.why == "weather"]
    assert [f.level for f in found] == ([] if wanted is None else [wanted])


@pytest.mark.parametrize(
    ("told", "quantity"),
    [
        ({"humidity": "95 %"}, "humidity"),
        ({"rain_in": "2 h"}, "hours to rain"),
        ({"rain_in": "90 min"}, "hours to rain"),
        ({"weather": "frost"}, "frost"),
        ({"weather": "drought, in bloom"}, "drought"),
        ({"weather": "drought, in bloom"}, "in bloom"),
    ],
)
def test_each_word_of_the_weather_can_be_typed(told: dict[str, str], quantity: str) -> None:
    found = job.run(
        job.Job("oil-dormant", SiteText(spray_volume="2 L"), ToolsText(), ToldText(**told))
    )
    scopes = [f.scope for f in found.findings if f.why == "weather"]
    assert any(scope.startswith(quantity) for scope in scopes)


@pytest.mark.parametrize(("days", "stopped"), [(3, True), (9, True), (10, False), (30, False)])
def test_a_repeat_wait_of_the_data_is_judged_when_the_last_time_was_told(
    days: int, stopped: bool
) -> None:
    """The EU use table is remembered to give ten days between sprays of baking soda."""
    rule = next(w for w in RULES.waits if w.id == "sodium-bicarbonate-repeat-eu")
    assert rule.wait.amount_in((("day", 1),)) == 10
    found = job.run(
        job.Job(
            "leaf-spray-quart",
            SiteText(spray_volume="2 L"),
            ToolsText(),
            ToldText(crop="cucumber", region="EU", after=(f"baking soda {days} days",)),
        )
    )
    soon = [f for f in found.findings if f.why == "too-soon"]
    assert bool(soon) == stopped
    # Remembered only, so that it cautions.
    assert {f.level for f in soon} <= {"caution"}
    assert all("10" in text(f) for f in soon)


def again(recipe: str, site: SiteText, *after: str, **told: Any) -> list[Finding]:
    found = job.run(job.Job(recipe, site, ToolsText(), ToldText(after=after, **told)))
    return [f for f in found.findings if f.why == "too-soon"]


TWO_LITRES = SiteText(spray_volume="2 L")


@pytest.mark.parametrize(("days", "soon"), [(6, True), (7, False), (9, False)])
def test_elsewhere_only_the_recipes_own_interval_runs(days: int, soon: bool) -> None:
    """The quart recipe asks for seven days; the ten of the EU bind nobody else."""
    for region in (None, "US"):
        found = again("leaf-spray-quart", TWO_LITRES, f"baking soda {days} days", region=region)
        assert levels(tuple(found)) == (["caution"] if soon else [])
    assert again("leaf-spray-quart", TWO_LITRES, "borax 1 day") == []


@pytest.mark.parametrize(
    ("days", "crop", "wanted"),
    [
        (10, "apple", ["stop"]),
        (27, "apple", ["stop"]),
        (28, "apple", []),
        (10, "tomato", ["caution"]),
        (14, "tomato", []),
    ],
)
def test_a_strong_repeat_wait_for_the_crop_stops_and_the_recipe_cautions(
    days: int, crop: str, wanted: list[str]
) -> None:
    """28 days on tree fruit by an extension; the recipe itself asks for 14."""
    found = again("epsom-leaf-fruit-tree", TWO_LITRES, f"Epsom salt {days} days", crop=crop)
    assert levels(tuple(found)) == wanted
    if wanted == ["stop"]:
        assert "28" in text(found[0])


def test_a_recipe_without_an_interval_of_its_own_runs_none() -> None:
    assert again("boron-drench", SiteText(row="40 m"), "borax 3 days", crop="beet") == []


def test_one_of_two_materials_given_too_soon_is_enough() -> None:
    found = again("leaf-spray-oil", TWO_LITRES, "baking soda 2 days")
    assert [f.about for f in found] == ["sodium-bicarbonate"]


@pytest.mark.parametrize(("already", "wanted"), [(None, []), ("1", ["caution"])])
def test_one_more_than_the_recipe_allows_is_a_caution(
    already: str | None, wanted: list[str]
) -> None:
    """The boron drench is for once in a crop."""
    found = job.run(
        job.Job(
            "boron-drench",
            SiteText(row="40 m"),
            ToolsText(),
            ToldText(crop="beet", already=already),
        )
    )
    assert [f.level for f in found.findings if f.why == "too-often"] == wanted
    assert any("crop" in say.english() for say in found.waits)

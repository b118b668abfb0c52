"""Every limit bites: none of the data is out of reach by a slip in its scope, unit or name.

Each limit gets a mix of its own, inside its own scope, with an amount that is exactly known. The
amounts are worked out here from the limit's figure and the basis; nothing of the judge is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Any, get_args

import pytest

from dosecalc.catalog import files, lookup, schema
from dosecalc.catalog.crops import GENERAL, Crop, crops, find_crop
from dosecalc.catalog.limit import Limit, read_limits
from dosecalc.catalog.material import Content, Material, exact_factor
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.site import Site, SiteText
from dosecalc.catalog.told import Told, ToldText
from dosecalc.catalog.tools import Tools, ToolsText
from dosecalc.dose.deliver import Delivered
from dosecalc.dose.judge import judge
from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.dose.scene import Scene, scene
from dosecalc.faces import done
from dosecalc.faces.job import knowledge_of
from dosecalc.units.measure import GRAM, LITER, MASS, METER, ML, SQUARE_METER, Measure
from dosecalc.units.spread import Est

LIMITS = read_limits(None, lookup.source)
UPPER = [limit for limit in LIMITS if limit.judges and not limit.lower]
SHOWN_ONLY = [limit for limit in LIMITS if not limit.judges and not limit.lower]
PLACEMENTS = get_args(schema.Placement)
SETTINGS = get_args(schema.Setting)
NUTRIENTS = (*get_args(schema.Nutrient), "P2O5", "K2O")

# A customary household jug or spoon may be off by 5 % of its mark (from memory).
JUG = Fraction(95, 100)
CLOSE = Fraction(95, 100)  # from this share of a limit a narrow window is said to be close
# IUPAC abridged atomic weights (CIAAW 2021): what is left of an oxide without its oxygen.
P_IN_P2O5 = Fraction("30.974") * 2 / (Fraction("30.974") * 2 + Fraction("15.999") * 5)
K_IN_K2O = Fraction("39.098") * 2 / (Fraction("39.098") * 2 + Fraction("15.999"))
PPM = Fraction(1, 1_000_000)


def by_id(limits: Iterable[Limit]) -> Any:
    return pytest.mark.parametrize("limit", limits, ids=lambda limit: limit.id)


# The crops, settings and materials of a limit's own scope.


@cache
def every_crop() -> tuple[Crop, ...]:
    return tuple({crop.id: crop for crop in crops().values()}.values())


def speaks_of(limit: Limit, words: frozenset[str]) -> bool:
    named = "any" in limit.crops or bool(limit.crops & words)
    return named and not limit.not_crops & words


@cache
def crops_by_limits() -> list[Crop]:
    """Every crop, those that fewest limits are written for first."""

    def limits(crop: Crop) -> int:
        return sum(bool(limit.crops & crop.words) for limit in UPPER)

    return sorted(every_crop(), key=lambda crop: (limits(crop), crop.id))


def own_crops(limit: Limit) -> list[Crop]:
    """Crops that the limit speaks of."""
    return [crop for crop in crops_by_limits() if speaks_of(limit, crop.words)]


def own_crop(limit: Limit) -> Crop:
    found = own_crops(limit)
    assert found, f"no crop has any of the words {sorted(limit.crops)}"
    return found[0]


# A limit whose crops nobody can type is caught once, below, and not in every test.
JUDGING = [limit for limit in UPPER if own_crops(limit)]
LOWER = [limit for limit in LIMITS if limit.lower and own_crops(limit)]
FIGURED = [limit for limit in JUDGING if not limit.excludes]
EXCLUDING = [limit for limit in JUDGING if limit.excludes]
MEASURED = [limit for limit in FIGURED if limit.per != "count"]


def own_placements(limit: Limit) -> list[str]:
    return [word for word in PLACEMENTS if "any" in limit.placement or word in limit.placement]


def told_for(limit: Limit, crop: Crop | None, already: int = 0) -> Told:
    return Told(
        crop=crop,
        region=None if limit.region == "any" else limit.region,
        setting=None if "any" in limit.setting else min(limit.setting),
        phase=None if limit.phase == "any" else limit.phase,
        already=already,
    )


def powder(*contents: tuple[str, Fraction]) -> Material:
    """A material of which nothing is known but its contents: no other limit speaks of it."""
    return Material(
        id="saltmarsh-powder", name="Trial powder", also=(), form="powder", traits=(),
        contents=tuple(
            Content(e, exact_factor(f"content:saltmarsh-powder:{e}", share), "w/w", "formula", "")
            for e, share in contents
        ),
        uncounted=(), by_weight=False, density=None, density_how="", solubility=(), insoluble="",
        hazards=(), caveat="", formula="", sources=(),
    )  # fmt: skip


QUARTER = Fraction(1, 4)


@cache
def with_trait(trait: str) -> Material:
    found = [m for m in map(lookup.material, lookup.material_ids()) if trait in m.traits]
    assert found, f"no material has the trait {trait}"
    return found[0]


def stuff(word: str) -> tuple[Material, Fraction]:
    """A material that a limit's word speaks of, and what share of it the word counts."""
    if word.startswith("salt:"):
        words = word.removeprefix("salt:").split("+")
        share = {"N": QUARTER, "K2O": QUARTER / K_IN_K2O, "S": QUARTER}
        element = {"N": "N", "K2O": "K", "S": "S"}
        return powder(*((element[w], QUARTER) for w in words)), sum(
            (share[w] for w in words), Fraction(0)
        )
    if word == "P2O5":
        return powder(("P", QUARTER)), QUARTER / P_IN_P2O5
    if word == "K2O":
        return powder(("K", QUARTER)), QUARTER / K_IN_K2O
    if word in NUTRIENTS:
        return powder((word, QUARTER)), QUARTER
    if word.startswith("trait:"):
        return with_trait(word.removeprefix("trait:")), Fraction(1)
    return lookup.material(word), Fraction(1)


# The basis of each kind, told exactly.

AREA = Measure(Fraction(250), SQUARE_METER)
ROW = Measure(Fraction(40), METER)
BAND = Measure(Fraction(30, 100), METER)
WATER = Measure(Fraction(100), LITER)
PLANTS = 12
ON: dict[str, tuple[Site, Measure]] = {
    "field area": (Site(area=AREA), AREA),
    "depth": (Site(area=AREA), AREA),
    "row length": (Site(row_length=ROW), ROW),
    "band area": (Site(row_length=ROW, band_width=BAND), ROW * BAND),
    "plant": (Site(plants=PLANTS), Measure(Fraction(PLANTS), (("plant", 1),))),
    "medium volume": (Site(medium_volume=WATER), WATER),
    "solution": (Site(), WATER),
    "irrigation water": (Site(), WATER),
    "count": (Site(), WATER),
}


def delivered(limit: Limit, figure: Fraction) -> Delivered:
    """As much of the limit's material as comes to `figure` of the limit's own unit."""
    material, share = stuff(limit.of)
    amount = Measure(figure, limit.limit.unit) * ON[limit.per][1]
    if limit.per == "count":
        amount = Measure(Fraction(500), GRAM)
    if amount.is_a(MASS):
        return Delivered(material, Est.of((amount / share).to(GRAM)), None, "weighed")
    return Delivered(material, None, Est.of(amount.to(ML)), "poured")


def recipe(placement: str) -> Recipe:
    return Recipe(
        id="saltmarsh-lane", name="Trial of Saltmarsh Lane", purpose="", how=placement,
        placement=placement, setting=(), crops=(), not_on=(), when="", statements=(), repeat=None,
        order=(), cautions=(), sources=(), practice=True, caveat="",
    )  # fmt: skip


@dataclass(frozen=True)
class Trial:
    """One mix for one limit; every piece can be changed."""

    limit: Limit
    figure: Fraction
    told: Told
    placement: str
    site: Site | None = None
    liquid: bool = True
    recipe_crops: tuple[Crop, ...] = ()

    def view(self) -> Scene:
        wet = self.limit.per in ("solution", "irrigation water") and self.liquid
        return scene(
            recipe(self.placement),
            self.recipe_crops,
            ON[self.limit.per][0] if self.site is None else self.site,
            Tools(),
            self.told,
            WATER if wet else None,
            (delivered(self.limit, self.figure),),
        )

    def found(self, limits: Iterable[Limit] = LIMITS) -> tuple[Finding, ...]:
        """What is said of the limit's own thing, when the others are held too."""
        mine = [limit for limit in limits if limit.of == self.limit.of]
        return tuple(f for f in judge(mine, self.view()) if f.about == self.limit.of)

    def of_limit(self) -> Finding | None:
        """What the limit itself says; the others add findings and take none away."""
        return next((f for f in judge([self.limit], self.view()) if f.id == self.limit.id), None)


def trial(limit: Limit, times: Fraction | int = 1, **changes: Any) -> Trial:
    """The limit's own figure times `times`, in its own scope."""
    crop = None if "any" in limit.crops and not limit.not_crops else own_crop(limit)
    if "already" in changes:
        told = told_for(limit, crop, changes.pop("already"))
    else:
        told = told_for(limit, crop)
    made = Trial(limit, limit.limit.value * times, told, own_placements(limit)[0])
    return replace(made, **changes)


def level(finding: Finding | None) -> str:
    return "nothing" if finding is None else finding.level


def deserved(limit: Limit, times: Fraction) -> str:
    """The level that so many times the limit's figure deserves, worked out apart from the judge."""
    strong = limit.source.grade in ("regulator", "standard", "journal", "extension")
    narrow = stuff(limit.of)[0].by_weight
    # Only the volume of the liquid is not exact here; all else was given exactly.
    high = times / JUG if limit.per == "solution" else times

    def exceeds(value: Fraction) -> bool:
        return value > 1 if limit.inclusive else value >= 1

    if exceeds(times):
        return "over" if strong else "caution"
    if exceeds(high):
        return "caution" if strong else "note"
    return "caution" if narrow and times > CLOSE else "within"


@pytest.fixture(autouse=True, scope="module")
def _data_read_once() -> Iterator[None]:
    """The data does not change under the tests: a thousand mixes need not parse it each time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(files, "shipped", cache(files.shipped))
        yield


# Just below, at, just above, far below, far above.

STEPS = {
    "far below": Fraction(1, 1000), "not close": CLOSE, "close": CLOSE + PPM, "below": 1 - PPM,
    "at": Fraction(1), "above": 1 + PPM, "far above": Fraction(3),
}  # fmt: skip


@by_id(MEASURED)
@pytest.mark.parametrize("times", STEPS.values(), ids=STEPS)
def test_a_limit_judges_each_side_of_its_figure(limit: Limit, times: Fraction) -> None:
    finding = trial(limit, times).of_limit()
    assert level(finding) == deserved(limit, times)
    assert finding is not None
    assert finding.likely is not None
    assert finding.ratio == times
    assert finding.likely.value == limit.limit.value * times
    assert (finding.source, finding.grade) == (limit.source.id, limit.source.grade)
    assert finding.scope


@by_id([limit for limit in FIGURED if limit.per == "count"])
def test_a_number_of_times_counts_what_was_given_before(limit: Limit) -> None:
    most = int(limit.limit.value)
    assert most == limit.limit.value
    exceeded = "over" if limit.source.strong else "caution"
    # The first time is told as a rule, not judged; "already" counts the times before this one.
    assert trial(limit, already=most).of_limit() is not None
    assert level(trial(limit, already=most).of_limit()) == exceeded
    assert level(trial(limit, already=most + 3).of_limit()) == exceeded
    assert level(trial(limit, already=most - 1).of_limit()) in ("within", "caution", "nothing")
    assert level(trial(limit, already=most - 1).of_limit()) != "over"
    assert level(trial(limit, already=0).of_limit()) in ("within", "nothing")


@by_id(EXCLUDING)
@pytest.mark.parametrize("grams", [PPM, Fraction(1), Fraction(10**6)])
def test_none_at_all_means_none_at_all(limit: Limit, grams: Fraction) -> None:
    view = trial(limit).view()
    some = replace(view.delivered[0], mass=Est.of(Measure(grams, GRAM)))
    # Neither the ground nor the water needs to be known for it.
    bare = replace(view, delivered=(some,), site=Site(), liquid=None)
    finding = next(f for f in judge(LIMITS, bare) if f.id == limit.id)
    assert finding.level == ("stop" if limit.source.strong else "caution")
    assert judge(LIMITS, bare)[0].level == finding.level


@by_id(LIMITS)
def test_a_limit_speaks_of_a_crop_that_can_be_typed(limit: Limit) -> None:
    assert own_crops(limit), f"no crop has any of the words {sorted(limit.crops)}"


def test_there_are_limits_of_every_kind() -> None:
    assert len(JUDGING) >= 100
    assert len(LOWER) >= 20
    assert len(SHOWN_ONLY) >= 50
    assert {limit.per for limit in JUDGING} >= {
        "field area", "row length", "solution", "plant", "irrigation water", "depth", "count",
    }  # fmt: skip
    assert {limit.window for limit in JUDGING} >= {
        "application", "crop", "season", "calendar year", "rolling years", "lifetime",
    }  # fmt: skip
    assert EXCLUDING
    assert any(not limit.inclusive for limit in FIGURED)
    assert any(not limit.source.strong for limit in JUDGING)


# Deciding: without this limit the mix would have been judged more mildly.


def settings_of(limit: Limit) -> Iterator[Trial]:
    """The limit just exceeded, in each of its placements, crops and numbers of times."""
    always = limit.window == "application" and limit.per != "count"
    givens = [0] if always else [0, 1, 3, 9]
    if limit.per == "count":
        givens = [int(limit.limit.value)]
    crop_choice: list[Crop | None] = list(own_crops(limit)[:4])
    if "any" in limit.crops:
        crop_choice = [None, *crop_choice]
    for placement in own_placements(limit):
        for crop in crop_choice:
            for already in givens:
                yield replace(
                    trial(limit, (1 + PPM) / (1 if always else already + 1)),
                    placement=placement,
                    told=told_for(limit, crop, already),
                )


def worst(found: Iterable[Finding]) -> int:
    return min((LEVELS.index(f.level) for f in found), default=len(LEVELS))


def decides(made: Trial) -> bool:
    """Whether the judgement of the limit's own thing would be milder without the limit."""
    # Another limit with the very same figure would hide that this one bites.
    twins = {
        other.id
        for other in LIMITS
        if (other.of, other.per, other.limit) == (made.limit.of, made.limit.per, made.limit.limit)
    }
    rest = [other for other in LIMITS if other.id not in twins]
    finding = made.of_limit()
    if finding is None:
        return False
    with_it = LEVELS.index(finding.level)
    return with_it < LEVELS.index("note") and with_it < worst(made.found(rest))


@by_id(UPPER)
def test_every_limit_was_the_deciding_one_somewhere(limit: Limit) -> None:
    assert any(decides(made) for made in settings_of(limit))


# Windows: what was given before counts in a season, a year or a lifetime, not in one application.


@by_id(MEASURED)
def test_earlier_doses_count_within_the_window_only(limit: Limit) -> None:
    third = trial(limit, Fraction(1, 3) + PPM, already=2)
    finding = third.of_limit()
    assert finding is not None
    if limit.window == "application":
        assert finding.ratio == Fraction(1, 3) + PPM
        assert finding.level == "within"
    else:
        assert finding.ratio == 1 + 3 * PPM
        assert finding.level == deserved(limit, 1 + 3 * PPM)
    assert level(trial(limit, Fraction(1, 3) + PPM).of_limit()) == "within"


# The crop: told, of the recipe, another, none.


@by_id(JUDGING)
def test_every_crop_of_its_own_is_judged(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    names = own_crops(limit)
    if "any" in limit.crops:
        names = names[:3] + names[-3:]  # any is one word, not a hundred
    assert names
    for crop in names:
        made = trial(limit, 2, told=told_for(limit, crop, already))
        assert level(made.of_limit()) in ("stop", "over", "caution"), crop.id


@by_id(JUDGING)
def test_the_crops_of_the_recipe_are_judged_when_none_was_told(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    told = told_for(limit, None, already)
    made = trial(limit, 2, told=told, recipe_crops=(own_crop(limit),))
    assert level(made.of_limit()) in ("stop", "over", "caution")


@by_id(JUDGING)
def test_an_unrelated_crop_is_not_judged_by_it(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    others = [crop for crop in every_crop() if not speaks_of(limit, crop.words)]
    assert bool(others) == ("any" not in limit.crops or bool(limit.not_crops))
    made = trial(limit, 2, already=already)
    assert made.of_limit() is not None
    view = made.view()
    for crop in others:
        told = told_for(limit, crop, already)
        other = replace(view, crops=(crop,), told=told)
        assert all(f.id != limit.id for f in judge([limit], other)), crop.id


@by_id(JUDGING)
def test_without_a_crop_general_field_vegetables_are_judged(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    made = trial(limit, 2, told=told_for(limit, None, already))
    expected = speaks_of(limit, GENERAL.words)
    assert (made.of_limit() is not None) == expected


# The other words of the scope.


@by_id(JUDGING)
def test_it_judges_nothing_outside_its_setting_placement_region_and_phase(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    made = trial(limit, 2, already=already)
    assert made.of_limit() is not None
    outside = [
        replace(made, placement=word) for word in PLACEMENTS if word not in own_placements(limit)
    ]
    outside += [
        replace(made, told=replace(made.told, setting=word))
        for word in SETTINGS
        if "any" not in limit.setting and word not in limit.setting
    ]
    if limit.region != "any":
        outside += [
            replace(made, told=replace(made.told, region=word))
            for word in (None, "EU", "US", "UK", "CA", "AU", "NZ")
            if word != limit.region
        ]
    if limit.phase != "any":
        other = {"establishing": "yearly", "yearly": "establishing"}[limit.phase]
        outside.append(replace(made, told=replace(made.told, phase=other)))
    for one in outside:
        assert one.of_limit() is None, (one.placement, one.told)


@by_id(JUDGING)
def test_it_judges_in_every_setting_and_placement_of_its_scope(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    made = trial(limit, 2, already=already)
    for placement in own_placements(limit):
        for setting in SETTINGS:
            if "any" in limit.setting or setting in limit.setting:
                one = replace(made, placement=placement, told=replace(made.told, setting=setting))
                assert level(one.of_limit()) in ("stop", "over", "caution"), (placement, setting)


@by_id([limit for limit in MEASURED if limit.phase != "any"])
def test_where_the_phase_was_not_told_it_is_a_caution_at_most(limit: Limit) -> None:
    made = trial(limit, 2)
    assert level(replace(made, told=replace(made.told, phase=None)).of_limit()) == "caution"


@by_id(FIGURED)
def test_only_strong_sources_call_it_over(limit: Limit) -> None:
    already = int(limit.limit.value) if limit.per == "count" else 0
    finding = trial(limit, 50, already=already).of_limit()
    strong = limit.source.grade in ("regulator", "standard", "journal", "extension")
    assert level(finding) == ("over" if strong else "caution")


# The basis: what was not told is said.


@by_id(MEASURED)
def test_without_its_basis_it_is_said_to_be_untold(limit: Limit) -> None:
    made = trial(limit, 3, site=Site(), liquid=False)
    assert made.of_limit() is None
    untold = [f for f in made.found() if f.why == "not-told"]
    assert untold
    narrow = stuff(limit.of)[0].by_weight
    assert {f.level for f in untold} == {"caution" if narrow else "note"}
    # Nor may the missing basis be taken for a limit that does not exist.
    assert all(f.why != "no-limit" for f in judge(LIMITS, made.view()))


@by_id([limit for limit in MEASURED if limit.per == "row length"])
def test_a_row_figure_needs_no_row_spacing(limit: Limit) -> None:
    made = trial(limit, 3)
    assert made.view().site.row_spacing is None
    assert level(made.of_limit()) == deserved(limit, Fraction(3))


@by_id([limit for limit in MEASURED if limit.per == "field area"])
def test_a_row_gives_the_area_only_with_its_spacing(limit: Limit) -> None:
    spacing = AREA / ROW
    narrow = Site(row_length=ROW * 10, row_spacing=(spacing / 10).to(METER))
    assert level(trial(limit, 3, site=narrow).of_limit()) == deserved(limit, Fraction(3))
    alone = trial(limit, 3, site=Site(row_length=ROW))
    assert alone.of_limit() is None
    assert any(f.why == "not-told" for f in alone.found())


# Bases that no shipped limit judges over yet, and more than one material of a kind.

FEED = next(limit for limit in MEASURED if limit.id == "n-turf-application")
"""A limit on nitrogen in any placement, whose basis is changed below."""


@pytest.mark.parametrize(
    ("per", "site", "basis", "unit"),
    [
        ("band area", *ON["band area"], (("gram", 1), ("meter", -2))),
        ("medium volume", *ON["medium volume"], (("gram", 1), ("liter", -1))),
        ("plant", *ON["plant"], (("gram", 1), ("plant", -1))),
        ("plant", Site(pots=8), Measure(Fraction(8), (("pot", 1),)), (("gram", 1), ("pot", -1))),
        # A figure per plant holds for each pot where no plants were told.
        (
            "plant",
            Site(pots=8),
            Measure(Fraction(8), (("plant", 1),)),
            (("gram", 1), ("plant", -1)),
        ),
    ],
    ids=["band", "medium", "plants", "pots", "a plant in each pot"],
)
def test_other_bases_are_held_alike(
    per: str, site: Site, basis: Measure, unit: tuple[tuple[str, int], ...]
) -> None:
    figure = Measure(Fraction(7), tuple(sorted(unit)))
    limit = replace(FEED, id=f"trial-{per}", per=per, limit=figure)
    for times, wanted in ((1 - PPM, "within"), (Fraction(1), "within"), (1 + PPM, "over")):
        mass = Est.of((figure * times * basis / QUARTER).to(GRAM))
        made = trial(FEED, site=site).view()
        some = (replace(made.delivered[0], mass=mass),)
        view = scene(made.recipe, (), site, Tools(), made.told, None, some)
        (finding,) = (f for f in judge([limit], view) if f.id == limit.id)
        assert finding.level == wanted
    for bare in (Site(), Site(area=AREA), Site(row_length=ROW)):
        view = scene(made.recipe, (), bare, Tools(), made.told, None, some)
        assert [f.why for f in judge([limit], view)] == ["not-told"]


def test_two_of_a_kind_are_counted_together_or_not_at_all() -> None:
    limit = next(one for one in MEASURED if one.id == "lime-garden-application")
    view = trial(limit, Fraction(6, 10)).view()
    (first,) = view.delivered
    second = replace(first, material=replace(first.material, id="saltmarsh-lime"))
    both = replace(view, delivered=(first, second))
    (finding,) = (f for f in judge([limit], both) if f.id == limit.id)
    assert (finding.ratio, finding.level) == (Fraction(12, 10), "over")
    for delivered in ((first, replace(second, mass=None)), (replace(first, mass=None), second)):
        untold = judge([limit], replace(view, delivered=delivered))
        assert [f.why for f in untold if f.about == limit.of] == ["not-told"]


@pytest.mark.parametrize(
    ("setting", "site", "told", "crops_of_recipe", "of_recipe", "wanted"),
    [
        (None, Site(), None, (), (), {"field", "garden"}),
        (None, Site(), None, (), ("greenhouse",), {"greenhouse"}),
        (None, Site(), None, ("lawn",), (), {"turf"}),
        (None, Site(), None, ("lawn",), ("garden",), {"garden"}),
        (None, Site(), "lawn", (), ("garden",), {"turf"}),
        (None, Site(), "leek", (), ("garden",), {"garden"}),
        (None, Site(), "leek", (), (), {"field", "garden"}),
        (None, Site(pots=3), None, (), ("garden",), {"container"}),
        (None, Site(medium_volume=WATER), "leek", (), (), {"container"}),
        ("tree", Site(pots=3), "lawn", (), ("garden",), {"tree"}),
    ],
)
def test_where_it_is_follows_from_what_was_told(
    setting: str | None,
    site: Site,
    told: str | None,
    crops_of_recipe: tuple[str, ...],
    of_recipe: tuple[str, ...],
    wanted: set[str],
) -> None:
    crop = None if told is None else find_crop(told)
    view = scene(
        replace(recipe("broadcast"), setting=of_recipe),
        tuple(find_crop(name) for name in crops_of_recipe),
        site,
        Tools(),
        Told(crop=crop, setting=setting),
        None,
        (),
    )
    assert view.settings == wanted


# Lowest useful rates and figures that only compare.


@by_id(LOWER)
def test_a_lowest_useful_rate_is_a_note_and_never_more(limit: Limit) -> None:
    for times in (Fraction(1, 1000), 1 - PPM):
        finding = trial(limit, times).of_limit()
        assert level(finding) == "note", times
        assert finding is not None
        assert finding.ratio == times
    for times in (Fraction(1), 1 + PPM, Fraction(1000)):
        assert trial(limit, times).of_limit() is None, times


@by_id(SHOWN_ONLY)
def test_a_figure_that_does_not_judge_stays_silent(limit: Limit) -> None:
    assert limit.not_judging
    amount = trial(limit, 100)
    if limit.excludes:
        amount = replace(amount, figure=Fraction(1))
    for site in (None, Site()):
        found = judge(
            LIMITS, replace(amount, site=site, told=replace(amount.told, already=50)).view()
        )
        assert [f for f in found if limit.id in (f.id, f.id.removeprefix("untold-"))] == []


# From what is typed: another unit system, a synonym, and the limit is really looked up.

REAL = {
    "N": "urea", "P2O5": "monoammonium-phosphate", "Ca": "calcium-chloride-dihydrate",
    "B": "borax", "Cu": "copper-sulfate-pentahydrate", "salt:N+K2O": "potassium-nitrate",
    "salt:N+K2O+S": "ammonium-sulfate",
}  # fmt: skip
"""Materials of one formula each, so that a figure can be met without a spread of contents."""


def real(limit: Limit) -> tuple[Material, Fraction]:
    """A shipped material that the limit speaks of, and what share of it the limit counts."""
    if limit.of not in REAL:
        return stuff(limit.of)
    material = lookup.material(REAL[limit.of])
    share = {c.element: c.factor.likely for c in material.contents}
    share["K2O"] = share.get("K", Fraction(0)) / K_IN_K2O
    share["P2O5"] = share.get("P", Fraction(0)) / P_IN_P2O5
    words = limit.of.removeprefix("salt:").split("+")
    return material, sum((share.get(word, Fraction(0)) for word in words), Fraction(0))


def text(value: Fraction) -> str:
    """A number as a person types it: six digits are more than any limit is printed with."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


# The same bases in US measures, by number and unit: square feet, feet, US gallons.
US_SITE: dict[str, tuple[SiteText, str | None, Measure]] = {
    "field area": (SiteText(area="30000 sq ft"), None, Measure(Fraction(30000), (("foot", 2),))),
    "depth": (SiteText(area="400 sq ft"), None, Measure(Fraction(400), (("foot", 2),))),
    "row length": (SiteText(row="3000 ft"), None, Measure(Fraction(3000), (("foot", 1),))),
    "plant": (SiteText(plants="12"), None, Measure(Fraction(12), (("plant", 1),))),
    "solution": (SiteText(), "100 US gal", Measure(Fraction(100), (("gal_us", 1),))),
    "irrigation water": (SiteText(), None, Measure(Fraction(1), (("gal_us", 1),))),
    "count": (SiteText(), "100 US gal", Measure(Fraction(100), (("gal_us", 1),))),
}


def typed_crop(limit: Limit) -> str | None:
    """A crop of the limit by another name than its own, as a person would type it."""
    if "any" in limit.crops and not limit.not_crops:
        return None
    names = crops()
    for crop in own_crops(limit):
        for name, other in names.items():
            if other.id == crop.id and name != crop.id.replace("-", " "):
                return name.upper()
    return own_crop(limit).id.upper()


def typed(limit: Limit, times: Fraction) -> Mix:
    """What a person types in US measures for `times` the limit, from scratch."""
    material, share = real(limit)
    site, water, basis = US_SITE[limit.per]
    amounts: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    if limit.excludes or limit.per == "count":
        amounts = (f"1 lb {material.id}",)
    elif limit.per == "irrigation water":
        strength = (Measure(limit.limit.value * times, limit.limit.unit)).amount_in(
            (("gal_us", -1), ("mg", 1))
        )
        holds = (f"{text(strength)} mg/US gal {limit.of}",)
    else:
        whole = Measure(limit.limit.value * times, limit.limit.unit) * basis
        if whole.is_a(MASS):
            pounds = (whole / share).amount_in((("lb", 1),))
            amounts = (f"{text(pounds)} lb {material.id}",)
        else:
            amounts = (f"{text(whole.amount_in((('floz_us', 1),)))} US fl oz {material.id}",)
    told = told_for(limit, None)
    return done.run(
        done.Done(
            amounts=amounts,
            site=site,
            tools=ToolsText(scale="0.01 g"),
            water=water,
            holds=holds,
            placement=own_placements(limit)[0],
            told=ToldText(
                crop=typed_crop(limit),
                region=told.region,
                setting=told.setting,
                phase=told.phase,
                already=str(int(limit.limit.value * times)) if limit.per == "count" else None,
            ),
        )
    )


@by_id(JUDGING)
def test_it_bites_in_us_measures_with_a_synonym_of_the_crop(limit: Limit) -> None:
    found = typed(limit, Fraction(102, 100)).findings
    strong = limit.source.strong
    expected = "stop" if limit.excludes else "over"
    assert [f.level for f in found if f.id == limit.id] == [expected if strong else "caution"]


@by_id(MEASURED)
def test_it_is_held_to_and_kept_in_us_measures(limit: Limit) -> None:
    # 5 % of the jug and 5 % of the spoon above 85 % stay below the figure.
    found = typed(limit, Fraction(85, 100)).findings
    assert [f.level for f in found if f.id == limit.id] == ["within"]


@cache
def known(ids: tuple[str, ...], placement: str, region: str | None) -> frozenset[str]:
    """Ids of the limits that a job with these materials looks up."""
    materials = {id: lookup.material(id) for id in ids}
    told = Told(region=region)
    return frozenset(limit.id for limit in knowledge_of(recipe(placement), materials, told).limits)


@by_id(JUDGING)
def test_it_is_looked_up_in_every_placement_of_its_scope(limit: Limit) -> None:
    ids = (REAL.get(limit.of) or with_word(limit.of),)
    region = None if limit.region == "any" else limit.region
    missing = [
        placement
        for placement in own_placements(limit)
        if limit.id not in known(ids, placement, region)
    ]
    assert missing == []


@cache
def with_word(word: str) -> str:
    """Id of a shipped material that holds a nutrient, has a trait or is the thing itself."""
    if word in lookup.material_ids():
        return word
    if word.startswith("trait:"):
        return with_trait(word.removeprefix("trait:")).id
    return next(
        id
        for id in lookup.material_ids()
        if any(c.element == word for c in lookup.material(id).contents)
    )

"""A simulated grower carries the plan out by hand; the judge is never milder than what happens.

Density, spoon, scale, jug and analysis are drawn inside their own facts. Then plain arithmetic
follows the plan of the mix, tankful by tankful: what reaches the ground must lie inside the span
that the mix states, the ends of the span must be reachable, and no draw may go beyond a limit
that the mix called kept.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.limit import Limit, read_limits
from dosecalc.catalog.material import Material
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.result import LEVELS, Finding, Measured, Mix
from dosecalc.faces import job
from dosecalc.units.measure import Measure
from dosecalc.units.spread import Span

# Customary household measures may be 5 % off their mark, a syringe as much (ISO 7886-1), and
# consumer scales state 0.1 % of the load and one display step: all from memory.
MARK = (Fraction(95, 100), Fraction(105, 100))
SCALE_SHARE = Fraction(1, 1000)
HALF_BY_EYE = (Fraction(85, 100), Fraction(115, 100))  # common practice, no source
US_TEASPOON = Fraction(231) * Fraction("2.54") ** 3 / 768  # mL, NIST Handbook 44
SPOON_OF = {
    "US": {"teaspoon": US_TEASPOON, "tablespoon": US_TEASPOON * 3},
    "metric": {"teaspoon": Fraction(5), "tablespoon": Fraction(15)},
    "Australian": {"teaspoon": Fraction(5), "tablespoon": Fraction(20)},
}
HALF = re.compile(r"one half level (teaspoon|tablespoon)")
K_IN_K2O = Fraction("39.098") * 2 / (Fraction("39.098") * 2 + Fraction("15.999"))  # CIAAW 2021
P_IN_P2O5 = Fraction("30.974") * 2 / (Fraction("30.974") * 2 + Fraction("15.999") * 5)
OXIDES = {"K2O": ("K", K_IN_K2O), "P2O5": ("P", P_IN_P2O5)}
STRONG = {"regulator", "standard", "journal", "extension"}
LIMITS = {limit.id: limit for limit in read_limits(None, lookup.source)}


@dataclass(frozen=True)
class Case:
    """One job at Saltmarsh Lane, and its ground in plain numbers."""

    name: str
    recipe: str
    site: dict[str, str]
    told: dict[str, str] = field(default_factory=dict)
    tools: dict[str, str] = field(default_factory=dict)
    area: Fraction | None = None  # m2 that the dose is counted over
    row: Fraction | None = None  # m
    measures: str | None = None

    def run(self) -> Mix:
        return job.run(
            job.Job(
                self.recipe,
                SiteText(**self.site),
                ToolsText(**self.tools),
                ToldText(**self.told),
                measures=self.measures,
            )
        )


BEET = {"crop": "beetroot"}
ROW = {"row": "40 m", "row_spacing": "45 cm"}
CASES = [
    Case("drench, spooned", "boron-drench", ROW, BEET, {}, Fraction(18), Fraction(40)),
    Case("drench, US spoons", "boron-drench", ROW, BEET, {"my_spoons": "us"}, Fraction(18),
         Fraction(40)),
    Case("drench, weighed", "boron-drench", ROW, BEET, {"scale": "0.1 g"}, Fraction(18),
         Fraction(40)),
    Case("drench, kitchen scale", "boron-drench", ROW, BEET, {"scale": "1 g"}, Fraction(18),
         Fraction(40)),
    Case("drench, close rows", "boron-drench", {"row": "40 m", "row_spacing": "30 cm"}, BEET, {},
         Fraction(12), Fraction(40)),
    Case("drench by the can", "boron-drench", {"row": "300 m", "row_spacing": "45 cm"}, BEET,
         {"sprayer": "9 L"}, Fraction(135), Fraction(300)),
    Case("drench on a bed", "boron-drench",
         {"bed": "75 cm x 30 m", "path": "45 cm", "rows_per_bed": "3"}, BEET, {}, Fraction(36),
         Fraction(90)),
    Case("soda by the cup", "leaf-spray-cups", {"spray_volume": "2 L"}, {}, {"sprayer": "2 L"}),
    Case("soda by the quart", "leaf-spray-quart", {"spray_volume": "40 L"}, {},
         {"sprayer": "15 L", "my_spoons": "australian"}),
    Case("soda and oil", "leaf-spray-oil", {"spray_volume": "40 L"}, {}, {"sprayer": "15 L"}),
    Case("soda, weighed", "leaf-spray-cups", {"spray_volume": "5 L"}, {},
         {"scale": "1 g", "sprayer": "2 L"}),
    Case("potassium bicarbonate", "potassium-bicarbonate-leaf",
         {"spray_volume": "4 L", "area": "40 m2"}, {}, {"sprayer": "2 L"}, Fraction(40)),
    Case("blue and lime", "copper-lime-home", {"spray_volume": "40 L", "area": "400 m2"},
         {"region": "EU"}, {"sprayer": "15 L"}, Fraction(400)),
    Case("zinc on leaves", "zinc-leaf-pecan", {"spray_volume": "30 L"}, {}, {"sprayer": "15 L"}),
    Case("fish", "fish-emulsion-drench", {"spray_volume": "9 L"}, {}, {"sprayer": "9 L"}),
    Case("urea row", "urea-row", {"row": "30 m", "rows": "3", "row_spacing": "60 cm"}, {}, {},
         Fraction(54), Fraction(90)),
    Case("dung", "cattle-manure-bed", {"area": "22 m2"}, {}, {}, Fraction(22)),
    Case("bones", "bone-meal-bed", {"area": "5 m2"}, {}, {}, Fraction(5), measures="metric"),
    Case("ash", "wood-ash-yearly", {"area": "22 m2"}, {}, {}, Fraction(22)),
    Case("ash, weighed", "wood-ash-yearly", {"area": "22 m2"}, {}, {"scale": "1 g"}, Fraction(22)),
    Case("lawn", "feed-5-10-10-broadcast", {"area": "100 m2"}, {"crop": "lawn"}, {},
         Fraction(100)),
    Case("lawn, coarse scale", "feed-5-10-10-broadcast", {"area": "100 m2"}, {"crop": "lawn"},
         {"scale": "10 g"}, Fraction(100)),
    Case("compost yearly", "compost-layer", {"area": "22 m2", "layer": "2.5 cm"},
         {"phase": "yearly"}, {}, Fraction(22)),
    Case("oil by the jug", "oil-dormant", {"spray_volume": "15 L"}, {"crop": "apple"}),
    Case("oil by the syringe", "leaf-spray-oil", {"spray_volume": "2 L"}, {},
         {"sprayer": "2 L", "syringe": "20 mL"}),
    Case("Epsom", "epsom-leaf-garden", {"spray_volume": "15 L"}, {}, {"sprayer": "15 L"}),
]  # fmt: skip
BY_NAME = {case.name: case for case in CASES}


@cache
def planned(name: str) -> Mix:
    return BY_NAME[name].run()


# The facts that a draw is made from.


@dataclass(frozen=True)
class Draw:
    """Where each fact lies between its low (0) and its high (1) end; None is the likely value."""

    at: dict[str, Fraction] = field(default_factory=dict)
    rest: Fraction | None = None

    def pick(self, key: str, low: Fraction, likely: Fraction, high: Fraction) -> Fraction:
        share = self.at.get(key, self.rest)
        return likely if share is None else low + share * (high - low)

    def mark(self, key: str, ends: tuple[Fraction, Fraction] = MARK) -> Fraction:
        return self.pick(key, ends[0], Fraction(1), ends[1])


def keys(found: Mix) -> list[str]:
    """Every fact that may differ from what the plan takes for likely."""
    names = ["spoon", "half", "jug", "syringe", "part", "tank"]
    for tank in found.tankfuls:
        for number, item in enumerate(tank.measures):
            # The same scale, but another load: its error may be another one.
            names.append(f"scale:{tank.number}:{number}")
            names.append(f"density:{item.material}")
            names += [
                f"content:{item.material}:{c.element}"
                for c in lookup.material(item.material).contents
            ]
    return list(dict.fromkeys(names))


STEP = re.compile(r"([\d.]+) (m?g)")


def scale_step(item: Measured) -> Fraction:
    """The step of the scale, as the plan itself says it to the grower."""
    match = STEP.fullmatch(dict(item.say.args)["step"].replace("\u00a0", " "))
    assert match is not None, item.say
    return Fraction(match[1]) / (1000 if match[2] == "mg" else 1)


def one_measure(
    item: Measured, draw: Draw, key: str, material: Material
) -> tuple[Fraction | None, Fraction | None]:
    """Grams and millilitres that one action really brings; None where no density tells it."""
    density = None
    if (known := material.density) is not None:
        assert dict(known.unit) == {"gram": 1, "mL": -1}
        density = draw.pick(f"density:{material.id}", known.low, known.likely, known.high)
    what = item.say.key
    if what.startswith("do-weigh"):
        grams = item.nominal.amount_in((("gram", 1),))
        lots = int(dict(item.say.args).get("lots", "1"))
        share = SCALE_SHARE + scale_step(item) / (grams / lots)
        grams *= draw.pick(key, 1 - share, Fraction(1), 1 + share)
        return grams, None if density is None else grams / density
    mls = item.nominal.amount_in((("mL", 1),))
    if what == "do-spoon":
        # A spoon filled half by eye errs with the eye as well as with the spoon.
        words = dict(item.say.args)
        half = sum(
            (SPOON_OF[words["whose"]][name] / 2 for name in HALF.findall(words["spoons"])),
            Fraction(0),
        )
        mls = ((mls - half) + half * draw.mark("half", HALF_BY_EYE)) * draw.mark("spoon")
    elif what in ("do-jug", "do-syringe"):
        mls *= draw.mark(what.removeprefix("do-"))
    else:
        assert what == "do-spread", what
    return None if density is None else mls * density, mls


@dataclass
class Carried:
    """What reached the ground: grams and millilitres of each material, grams of each nutrient.

    `spoonfuls` are the millilitres that a figure printed by the spoon counts. What was weighed
    is turned into them by the likely density: the powder in that spoon was the author's, and
    how this bag differs from it is no part of what was weighed.
    """

    grams: dict[str, Fraction | None]
    mls: dict[str, Fraction | None]
    spoonfuls: dict[str, Fraction | None]
    nutrients: dict[str, Fraction]
    litres: Fraction | None
    each: list[tuple[Fraction | None, Fraction | None]]


def add(total: dict[str, Fraction | None], key: str, more: Fraction | None) -> None:
    before = total.get(key, Fraction(0))
    total[key] = None if before is None or more is None else before + more


def carry_out(found: Mix, draw: Draw) -> Carried:
    """Do what the plan says, with these hands and this bag."""
    grams: dict[str, Fraction | None] = {}
    mls: dict[str, Fraction | None] = {}
    spoonfuls: dict[str, Fraction | None] = {}
    each = []
    for tank in found.tankfuls:
        for number, item in enumerate(tank.measures):
            material = lookup.material(item.material)
            got = one_measure(item, draw, f"scale:{tank.number}:{number}", material)
            if tank.batch is not None:
                # More is made than this filling takes, and the part taken errs by its measure.
                part = tank.batch.use / tank.batch.make
                share = part.amount_in(()) * draw.mark("part")
                got = (
                    None if got[0] is None else got[0] * share,
                    None if got[1] is None else got[1] * share,
                )
            each.append(got)
            add(grams, item.material, got[0])
            add(mls, item.material, got[1])
            counted = got[1]
            if item.say.key.startswith("do-weigh") and material.density is not None:
                assert got[0] is not None
                counted = got[0] / material.density.likely
            add(spoonfuls, item.material, counted)
    nutrients: dict[str, Fraction] = {}
    for id in grams:
        for c in lookup.material(id).contents:
            base = grams[id] if c.basis == "w/w" else mls[id]
            assert base is not None
            share = draw.pick(
                f"content:{id}:{c.element}", c.factor.low, c.factor.likely, c.factor.high
            )
            nutrients[c.element] = nutrients.get(c.element, Fraction(0)) + base * share
    litres = None
    if found.liquid is not None:
        # The mark of a tank or can is another vessel than the jug in the hand, and no better.
        litres = found.liquid.amount_in((("liter", 1),)) * draw.mark("tank")
    return Carried(grams, mls, spoonfuls, nutrients, litres, each)


def nutrient(carried: Carried, word: str) -> Fraction:
    element, share = OXIDES.get(word, (word, Fraction(1)))
    return carried.nutrients[element] / share


# Inside the span.


def figures(case: Case, found: Mix, carried: Carried) -> Iterator[tuple[str, Span, Fraction]]:
    """Every span of the mix beside what was really carried out, in the span's own unit."""
    number = 0
    for tank in found.tankfuls:
        for item in tank.measures:
            grams, mls = carried.each[number]
            number += 1
            unit = dict(item.amount.unit)
            assert unit in ({"gram": 1}, {"mL": 1})
            real = grams if unit == {"gram": 1} else mls
            assert real is not None
            yield f"measure {number} of {item.material}", item.amount, real
    for supply in found.supplies:
        real = nutrient(carried, supply.nutrient)
        per_gram = dict(supply.mass.unit)
        assert per_gram == {"gram": 1}
        yield supply.nutrient, supply.mass, real
        assert (supply.per_area is None) == (case.area is None), case.name
        if supply.per_area is not None and case.area is not None:
            assert dict(supply.per_area.unit) == {"kg": 1, "hectare": -1}
            yield f"{supply.nutrient} per area", supply.per_area, real / case.area * 10
        assert (supply.per_length is None) == (case.row is None), case.name
        if supply.per_length is not None and case.row is not None:
            assert dict(supply.per_length.unit) == {"gram": 1, "meter": -1}
            yield f"{supply.nutrient} per length", supply.per_length, real / case.row
        if supply.in_solution is not None:
            assert carried.litres is not None
            assert dict(supply.in_solution.unit) == {"gram": 1, "liter": -1}
            yield f"{supply.nutrient} in solution", supply.in_solution, real / carried.litres


def limit_figure(case: Case, carried: Carried, limit: Limit, found: Mix) -> Fraction | None:
    """What one carrying-out comes to over a limit's basis, as a number of the limit's unit."""
    if limit.of in carried.grams:
        ids = [limit.of]
    elif limit.of.startswith("trait:"):
        trait = limit.of.removeprefix("trait:")
        ids = [id for id in carried.grams if trait in lookup.material(id).traits]
    else:
        ids = []
    masses = [carried.grams[id] for id in ids] if ids else [nutrient(carried, limit.of)]
    volumes = [carried.spoonfuls[id] for id in ids]
    bases = {
        "field area": None if case.area is None else Measure(case.area, (("meter", 2),)),
        "depth": None if case.area is None else Measure(case.area, (("meter", 2),)),
        "row length": None if case.row is None else Measure(case.row, (("meter", 1),)),
        "solution": None if carried.litres is None else Measure(carried.litres, (("liter", 1),)),
    }
    basis = bases.get(limit.per)
    if basis is None:
        return None
    for parts, unit in ((masses, "gram"), (volumes, "mL")):
        known = [part for part in parts if part is not None]
        if len(known) != len(parts) or not parts:
            continue
        figure = Measure(sum(known, Fraction(0)), ((unit, 1),)) / basis
        try:
            return figure.amount_in(limit.limit.unit)
        except ValueError:  # a limit by volume asks for the other of the two
            continue
    raise AssertionError(f"{limit.id} could not be worked out by hand")


def held(case: Case, found: Mix) -> list[tuple[Limit, Finding]]:
    """Findings that hold a figure of this mix against an upper limit of the data."""
    return [
        (LIMITS[f.id], f)
        for f in found.findings
        if f.id in LIMITS and not LIMITS[f.id].lower and f.likely is not None
    ]


def exceeds(figure: Fraction, limit: Limit) -> bool:
    return figure > limit.limit.value if limit.inclusive else figure >= limit.limit.value


def at_least(level: str, wanted: str) -> bool:
    return LEVELS.index(level) <= LEVELS.index(wanted)


def check_draw(case: Case, draw: Draw) -> None:
    found = planned(case.name)
    carried = carry_out(found, draw)
    for what, span, real in figures(case, found, carried):
        assert span.low <= real <= span.high, what
    for limit, finding in held(case, found):
        figure = limit_figure(case, carried, limit, found)
        if figure is None:
            continue
        assert finding.high is not None
        assert figure <= finding.high.value, limit.id
        if exceeds(figure, limit):
            # One unlucky draw is what "may be over" is for; a likely one is "over" itself.
            wanted = "caution" if limit.source.grade in STRONG else "note"
            assert at_least(finding.level, wanted), limit.id
            assert at_least(found.worst, wanted)


def everything_at(share: Fraction | None) -> Draw:
    return Draw({}, share)


@pytest.mark.parametrize("name", BY_NAME)
def test_random_hands_stay_inside_the_span_and_the_judgement(name: str) -> None:
    rng = random.Random(f"Saltmarsh Lane, {name}")
    names = keys(planned(name))
    for _ in range(60):
        # Half of the facts at one of their ends: the corners are where a span is unsound.
        at = {
            key: Fraction(rng.choice((rng.randint(0, 1) * 1000, rng.randint(0, 1000))), 1000)
            for key in names
        }
        check_draw(BY_NAME[name], Draw(at))


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_any_hands_stay_inside_the_span_and_the_judgement(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(BY_NAME)))
    share = st.integers(0, 100).map(lambda n: Fraction(n, 100))
    found = planned(name)
    check_draw(BY_NAME[name], Draw({key: data.draw(share) for key in keys(found)}))


@pytest.mark.parametrize("name", BY_NAME)
def test_the_likely_hands_get_the_likely_figures_and_the_level(name: str) -> None:
    case, found = BY_NAME[name], planned(name)
    carried = carry_out(found, everything_at(None))
    for what, span, real in figures(case, found, carried):
        assert real == span.likely, what
    for limit, finding in held(case, found):
        figure = limit_figure(case, carried, limit, found)
        if figure is None:
            continue
        assert finding.likely is not None
        assert figure == finding.likely.value
        strong = limit.source.grade in STRONG
        phase_known = limit.phase == "any" or "phase" in case.told
        if exceeds(figure, limit):
            assert finding.level == ("over" if strong and phase_known else "caution"), limit.id
        else:
            assert finding.level != "over", limit.id


def corners(found: Mix) -> Iterator[Draw]:
    """Each kind of fact at its low or its high end, all materials alike."""
    kinds = sorted({key.partition(":")[0] for key in keys(found)})
    for ends in product((Fraction(0), Fraction(1)), repeat=len(kinds)):
        end = dict(zip(kinds, ends, strict=True))
        yield Draw({key: end[key.partition(":")[0]] for key in keys(found)})


@pytest.mark.parametrize("name", BY_NAME)
def test_the_ends_of_every_span_are_reached(name: str) -> None:
    """A span wider than any hand could make it cries wolf, and the tenth warning is not read."""
    case, found = BY_NAME[name], planned(name)
    reached: dict[str, list[Fraction]] = {}
    spans: dict[str, Span] = {}
    exceeded: set[str] = set()
    for draw in corners(found):
        carried = carry_out(found, draw)
        for what, span, real in figures(case, found, carried):
            spans[what] = span
            reached.setdefault(what, []).append(real)
        for limit, _ in held(case, found):
            figure = limit_figure(case, carried, limit, found)
            if figure is not None and exceeds(figure, limit):
                exceeded.add(limit.id)
    assert spans
    for what, span in spans.items():
        assert (min(reached[what]), max(reached[what])) == (span.low, span.high), what
    for limit, finding in held(case, found):
        if finding.why.startswith("limit-maybe"):
            assert limit.id in exceeded


def test_the_cases_cover_every_way_of_measuring_and_every_level() -> None:
    mixes = [planned(name) for name in BY_NAME]
    says = {item.say.key for found in mixes for t in found.tankfuls for item in t.measures}
    assert says >= {"do-weigh", "do-spoon", "do-jug", "do-spread"}
    levels = {f.level for found in mixes for f in found.findings if f.id in LIMITS}
    assert levels >= {"over", "caution", "note", "within"}
    pers = {LIMITS[f.id].per for found in mixes for f in found.findings if f.id in LIMITS}
    assert pers >= {"field area", "row length", "solution", "depth"}
    assert any(len(found.tankfuls) > 1 for found in mixes)


def test_a_drench_spans_what_was_worked_out_by_hand() -> None:
    """40 mL of borax at 0.7 to 0.961 g/mL and 5 % of the spoon, or weighed to 0.1 % and 0.1 g."""
    for name, wanted in (
        ("drench, spooned", (26.6, 34.0, 40.4)),
        ("drench, weighed", (33.8, 34.0, 34.2)),
    ):
        span = planned(name).tankfuls[0].measures[0].amount
        # Rounded outward, as spans are shown.
        tenths = (math.floor(span.low * 10), round(span.likely * 10), math.ceil(span.high * 10))
        assert tuple(n / 10 for n in tenths) == wanted


# The mark of a tank and the jug in the hand are two vessels.


def test_a_tank_and_a_jug_do_not_err_alike() -> None:
    """Oil poured by a short jug into a tank whose mark is long is not at its nominal strength."""
    found = job.run(
        job.Job(
            "oil-dormant",
            SiteText(spray_volume="15 L"),
            ToolsText(sprayer="15 L"),
            ToldText(crop="apple"),
        )
    )
    item = found.tankfuls[0].measures[0]
    assert item.say.key == "do-jug"
    finding = next(f for f in found.findings if f.id == "horticultural-oil-dormant")
    mls = item.nominal.amount_in((("mL", 1),))
    most = mls * MARK[1] / (15 * MARK[0])
    assert finding.high is not None
    assert most <= finding.high.amount_in((("mL", 1), ("liter", -1)))

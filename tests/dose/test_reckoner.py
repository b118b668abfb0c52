"""Every figure of a mix, worked out a second time by ``reckoner``; and twins that must agree."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from dosecalc.catalog.files import data_root, shipped_recipes
from dosecalc.catalog.lookup import find_recipe
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.tools import ToolsText, read_tools
from dosecalc.dose.dump import dump
from dosecalc.dose.mix import mix
from dosecalc.dose.request import Request
from dosecalc.errors import DoseError
from dosecalc.faces.job import Job, gather, read_system, run
from tests.dose import reckoner
from tests.dose.reckoner import FT, Stuff

BOOK = Path(str(shipped_recipes()))
RECIPES = dict(sorted((path.stem, path) for path in BOOK.glob("*.toml")))
STUFF = {
    path.stem: Stuff(path) for path in Path(str(data_root().joinpath("materials"))).glob("*.toml")
}
CLOSE = 1e-9  # of JSON's twelve digits
# JSON spells a unit of the trade with its owner before it.
UNITS = reckoner.UNITS | {
    f"{owner} {word}": size
    for owner, system in zip(("US", "imp", "metric", "AU"), reckoner.MEASURES, strict=True)
    for word, size in reckoner.MEASURES[system].items()
}
NO_TOOLS = ToolsText()
SYSTEMS = ("us", "imperial", "metric", "australian")


@dataclass(frozen=True)
class Ground:
    """One site as it is typed, and the same site worked out by hand in metres and litres."""

    text: SiteText
    bases: dict[str, Fraction]
    judged: Fraction | None = None  # what row work is counted over, paths included
    top: Fraction | None = None  # what is spread stays here: paths thin nothing
    band: Fraction | None = None
    tools: ToolsText = NO_TOOLS


def ground(
    text: SiteText,
    judged: Fraction | int | None = None,
    top: Fraction | None = None,
    band: int | None = None,
    tools: ToolsText = NO_TOOLS,
    **bases: Fraction | int,
) -> Ground:
    named = {name.replace("_", " "): Fraction(value) for name, value in bases.items()}
    if "area" in named:
        named["layer"] = named["area"]
    return Ground(
        text,
        named,
        None if judged is None else Fraction(judged),
        None if judged is None else Fraction(judged if top is None else top),
        None if band is None else Fraction(band),
        tools,
    )


SCALE = ToolsText(scale="0.1 g", my_spoons="us")
SITES = {
    "beetroot row": ground(
        SiteText(row="40 m", row_spacing="45 cm", band="30 cm"),
        judged=18, band=12, row_length=40, area=18,
    ),
    "beetroot row, no spacing told": ground(SiteText(row="40 m"), row_length=40),
    "bed of three rows": ground(
        SiteText(bed="75 cm x 30 m", path="45 cm", rows_per_bed="3"),
        judged=36, top=Fraction("22.5"), row_length=90, area=Fraction("22.5"), tools=SCALE,
    ),
    "four wide rows in feet": ground(
        SiteText(row="100 ft", rows="4", row_spacing="6 ft"),
        # 6 ft is more than a metre, so a metre of each row's share is judged
        judged=400 * FT, row_length=400 * FT, area=2400 * FT**2,
    ),
    "plot in square feet": ground(
        SiteText(area="400 sq ft"), judged=400 * FT**2, area=400 * FT**2,
        tools=ToolsText(my_spoons="australian", scale="5 g"),
    ),
    "row of plants": ground(
        SiteText(row="40 m", plant_spacing="30 cm"), row_length=40, plant=133,
    ),
    "pots": ground(SiteText(pots="12", pot_size="2 L"), pot=12, medium_volume=24),
    "heap of growing medium": ground(
        SiteText(medium_volume="60 L"), medium_volume=60, tools=ToolsText(scale="1 g")
    ),
    "spray in the hand sprayer": ground(
        SiteText(spray_volume="5.3 L"), spray_volume=Fraction("5.3"), tools=ToolsText(sprayer="2 L")
    ),
    "spray by the area": ground(
        SiteText(area="18 m2", spray_volume="400 L/ha"),
        judged=18, area=18, spray_volume=Fraction("0.72"), tools=SCALE,
    ),
    "one knapsack": ground(
        SiteText(), spray_volume=15, tools=ToolsText(sprayer="15 L", my_spoons="imperial")
    ),
}  # fmt: skip


def close(found: float, expected: Fraction) -> bool:
    return abs(found - float(expected)) <= CLOSE * abs(float(expected))


def base(quantity: dict[str, Any]) -> tuple[Fraction, bool]:
    """A quantity of the JSON in the reckoner's base units, and whether it is a mass."""
    unit = quantity["unit"]
    value = Fraction(str(quantity["value"])) * UNITS[unit]
    return value, unit in reckoner.MASSES


def likely(span: dict[str, Any]) -> dict[str, Any]:
    return {"value": span["likely"], "unit": span["unit"]}


def check_span(span: dict[str, Any] | None, expected: Fraction | None) -> None:
    """A span of the JSON against grams or litres, None where it cannot be known."""
    if expected is None:
        assert span is None
        return
    assert span is not None
    value, _ = base(likely(span))
    assert close(float(value), expected)
    assert span["low"] <= span["likely"] <= span["high"]


def check_figure(span: dict[str, Any] | None, unit: str, expected: Fraction | None) -> None:
    """A span that has its own unit ("kg/ha")."""
    if expected is None:
        assert span is None
        return
    assert span is not None
    assert span["unit"] == unit
    assert close(span["likely"], expected)


def per(mass: Fraction, basis: Fraction | None, factor: int = 1) -> Fraction | None:
    return None if basis is None else mass / basis * factor


def check_amounts(out: dict[str, Any], want: list[Any], liquid: Fraction | None) -> None:
    """What the recipe asks for, in the whole and split over the tankfuls."""
    amounts = {item["material"]: item for item in out["amounts"]}
    assert set(amounts) == {material for material, *_ in want} | ({"water"} if liquid else set())
    for material, value, upper, mass in want:
        item = amounts[material]
        grams, litres = STUFF[material].turn(value, mass)
        check_span(item["mass"], grams)
        check_span(item["volume"], litres)
        check_figure(item["in_solution"], "g/L", None if grams is None else per(grams, liquid))
        if item["by_volume"] is not None:
            assert litres is not None
            check_figure(item["by_volume"], "mL/L", per(litres, liquid, 1000))
        if upper is None:
            assert item["up_to"] is None
        else:
            assert close(float(base(item["up_to"])[0]), upper)
        parts = [
            next(a for a in tankful["amounts"] if a["material"] == material)
            for tankful in out["tankfuls"]
        ]
        stated = "mass" if mass else "volume"
        assert close(float(sum(base(likely(part[stated]))[0] for part in parts)), value)
    if liquid is None:
        assert out["liquid"] is None
        assert [tankful["volume"] for tankful in out["tankfuls"]] == [None]
    else:
        assert close(float(base(out["liquid"])[0]), liquid)
        assert close(float(sum(base(t["volume"])[0] for t in out["tankfuls"])), liquid)
        assert close(float(base(likely(amounts["water"]["volume"]))[0]), liquid)


def check_supplies(
    out: dict[str, Any], want: list[Any], liquid: Fraction | None, site: Ground, basis: str
) -> None:
    """What the stated measuring plan delivers, over every basis that the site tells."""
    measured: list[tuple[Stuff, Fraction, bool]] = []
    for tankful in out["tankfuls"]:
        asked = {item["material"]: item for item in tankful["amounts"]}
        assert {m["material"] for m in tankful["measures"]} == {material for material, *_ in want}
        for action in tankful["measures"]:
            stuff = STUFF[action["material"]]
            value, mass = base(action["nominal"])
            if tankful["batch"] is not None:
                # The measures are those of the whole batch, of which this filling takes a part.
                use, make = (base(tankful["batch"][key])[0] for key in ("use", "make"))
                value = value * use / make
            measured.append((stuff, value, mass))
            # The miss that is stated is the miss that is there.
            target, _ = base(likely(asked[action["material"]]["mass" if mass else "volume"]))
            assert abs(action["error_percent"] - float((value / target - 1) * 100)) < 1e-7
            grams, litres = stuff.turn(value, mass)
            check_span(action["amount"], litres if grams is None else grams)
    supplies = {item["nutrient"]: item for item in out["supplies"]}
    expected = reckoner.delivered(measured)
    assert set(supplies) == set(expected)
    plants = site.bases.get("plant", site.bases.get("pot"))
    area = site.judged if basis == "row length" else site.top
    for word, grams in expected.items():
        item = supplies[word]
        check_span(item["mass"], grams)
        check_figure(item["per_area"], "kg/ha", per(grams, area, 10))
        check_figure(item["in_band"], "kg/ha", per(grams, site.band, 10))
        check_figure(item["per_length"], "g/m", per(grams, site.bases.get("row length")))
        unit = "g/plant" if "plant" in site.bases else "g/pot"
        check_figure(item["per_plant"], unit, per(grams, plants))
        check_figure(item["in_solution"], "g/L", per(grams, liquid))


def fits(statement: dict[str, Any], site: Ground) -> bool:
    return statement["basis"] in site.bases


def readings(recipe: dict[str, Any], system: str | None) -> Iterator[tuple[dict[str, Any], str]]:
    """The statement that a measure system picks, and whose words it is read in."""
    statements = recipe["statement"]
    own = [s for s in statements if s.get("measures") == system]
    if system is None and len(statements) == 1:
        yield statements[0], statements[0]["measures"]
    elif own:
        yield own[0], str(system)
    elif system is not None and len(statements) == 1:
        yield statements[0], system


def job(recipe: str, site: Ground, system: str | None = None) -> Job:
    return Job(recipe, site.text, site.tools, measures=system)


@cache
def gathered(id: str) -> Request:
    return gather(Job(id, SiteText(), NO_TOOLS))


def out_of(id: str, site: Ground, system: str | None) -> dict[str, Any]:
    """The JSON of a job; what is known of its materials is looked up once for all sites."""
    words = read_system(system)
    request = replace(
        gathered(id),
        recipe=find_recipe(id, words),
        measures=words,
        site=read_site(site.text, words),
        tools=read_tools(site.tools, words),
    )
    return dump(mix(request))


def reckon(statement: dict[str, Any], words: str, site: Ground, placement: str) -> Any:
    """What the reckoner makes of a statement, None where a word is not that system's."""
    sprayed = placement in ("foliar", "dormant-spray")
    try:
        return reckoner.asked(statement, words, site.bases, STUFF, sprayed)
    except KeyError:
        return None


@pytest.mark.parametrize("id", RECIPES)
def test_every_figure_of_every_reading_on_every_site(id: str) -> None:
    recipe = tomllib.loads(RECIPES[id].read_text("utf-8"))
    refused: set[str | None] = set()
    done = 0
    for site in SITES.values():
        here: list[Any] = []
        for system in (*SYSTEMS, None):
            for statement, words in readings(recipe, system):
                if not fits(statement, site) or system in refused:
                    continue
                found = reckon(statement, words, site, recipe["placement"])
                if found is None:
                    # A word that this system does not have: a refusal, not another system's word.
                    with pytest.raises(DoseError, match="there is no"):
                        run(job(id, site, system))
                    refused.add(system)
                    continue
                # Words that mean the same in every country need not be run four times a site.
                if found in here and done > len(SYSTEMS):
                    continue
                here.append(found)
                out = out_of(id, site, system)
                if done == 0:
                    assert out == dump(run(job(id, site, system)))
                check_amounts(out, *found)
                check_supplies(out, *found, site, statement["basis"])
                done += 1
    assert done >= 2


TWICE = [id for id, path in RECIPES.items() if path.read_text("utf-8").count("[[statement]]") > 1]


@pytest.mark.parametrize("id", TWICE)
def test_of_two_wordings_the_one_with_less_is_used_whole(id: str) -> None:
    recipe = tomllib.loads(RECIPES[id].read_text("utf-8"))
    done = 0
    for site in SITES.values():
        both = [
            reckoner.asked(s, s["measures"], site.bases, STUFF)
            for s in recipe["statement"]
            if fits(s, site)
        ]
        if len(both) != len(recipe["statement"]):
            continue
        want, liquid = min(both, key=lambda found: found[0][0][1])
        out = dump(run(job(id, site)))
        check_amounts(out, want, liquid)
        check_supplies(out, want, liquid, site, recipe["statement"][0]["basis"])
        done += 1
    assert done >= 1


def test_every_basis_and_system_was_reckoned() -> None:
    met = {
        (statement["basis"], words)
        for path in RECIPES.values()
        for system in (None, *SYSTEMS)
        for statement, words in readings(tomllib.loads(path.read_text("utf-8")), system)
        if any(fits(statement, site) for site in SITES.values())
    }
    assert {basis for basis, _ in met} == {
        "row length", "area", "layer", "spray volume", "medium volume", "plant", "pot",
    }  # fmt: skip
    assert {words for _, words in met} == set(SYSTEMS)
    assert len(RECIPES) >= 15


def test_the_reckoner_imports_nothing_of_ours() -> None:
    assert reckoner.__file__ is not None
    assert "import dosecalc" not in Path(reckoner.__file__).read_text("utf-8")
    assert "from dosecalc" not in Path(reckoner.__file__).read_text("utf-8")


# Twins: the same dose told in other words, or on other ground, comes out the same.
RECIPE = """\
name = "A twin of Saltmarsh Lane"
purpose = "To be the same dose in other words"
how = "drench"
placement = "soil-drench"
practice = "common practice, no source"

[[statement]]
measures = "{measures}"
basis = "{basis}"
per = "{per}"

[[statement.ingredient]]
material = "{material}"
amount = "{amount}"
role = "active"
"""


def write(folder: Path, name: str, **words: str) -> str:
    path = folder / f"{name}.toml"
    path.write_text(RECIPE.format(**words), "utf-8")
    return str(path)


# One dose in three systems' words each. Worked by hand from the definitions named in reckoner:
# 128 US fl oz are a US gallon, 160 imperial fl oz an imperial one; an ounce is 28.349523125 g, a
# foot 0.3048 m, a pound 453.59237 g, a US bushel 35.23907016688 L.
TWINS: dict[str, tuple[str, str, dict[str, tuple[str, str]]]] = {
    "one part in 128 of spray": (
        "spray volume",
        "sodium-bicarbonate",
        {
            "us": ("1 fl oz", "1 gal"),
            "imperial": ("1 fl oz", "0.8 gal"),
            "metric": ("1 mL", "128 mL"),
            "australian": ("1 cup", "32 L"),
        },
    ),
    "one tablespoon's worth in a gallon": (
        "spray volume",
        "vegetable-oil",
        {
            "us": ("1 tbsp", "1 gal"),
            "imperial": ("1 pt", "32 gal"),
            "metric": ("1 tbsp", "3.84 L"),
        },
    ),
    "two pounds over 100 square feet": (
        "area",
        "feed-5-10-10",
        {
            "us": ("2 lb", "100 sq ft"),
            "imperial": ("32 oz", "1600/144 sq yd"),
            "metric": ("907.18474 g", "9.290304 m2"),
        },
    ),
    "an ounce along ten feet": (
        "row length",
        "borax",
        {
            "us": ("1 oz", "10 ft"),
            "imperial": ("1 lb", "160 ft"),
            "metric": ("28.349523125 g", "3.048 m"),
        },
    ),
    "a pound in a cubic yard": (
        "medium volume",
        "ground-limestone",
        {
            "us": ("1 lb", "1 cu yd"),
            "imperial": ("16 oz", "27 cu ft"),
            "metric": ("0.45359237 kg", "764.554857984 L"),
        },
    ),
    "a teaspoon's worth for a plant": (
        "plant",
        "bone-meal",
        {
            "metric": ("1 tsp", "1 plant"),
            "australian": ("1 tbsp", "4 plants"),
            "imperial": ("1 tbsp", "3 plants"),
        },
    ),
}
TWIN_SITES = {
    "spray volume": Ground(SiteText(spray_volume="5.3 L"), {}),
    "area": Ground(SiteText(bed="1.2 m x 8 m"), {}),
    "row length": Ground(SiteText(row="40 m", row_spacing="45 cm"), {}),
    "medium volume": Ground(SiteText(medium_volume="60 L"), {}),
    "plant": Ground(SiteText(plants="133"), {}),
}


def dose(out: dict[str, Any]) -> list[Any]:
    """What a dose comes to, without the words that it was told in."""
    return [
        [
            {key: item[key] for key in ("material", "volume", "mass", "in_solution")}
            for item in out["amounts"]
        ],
        out["liquid"],
        out["supplies"],
        [tankful["measures"] for tankful in out["tankfuls"]],
    ]


@pytest.mark.parametrize("name", TWINS)
def test_one_dose_in_the_words_of_each_system(name: str, tmp_path: Path) -> None:
    basis, material, wordings = TWINS[name]
    found = []
    for system, (amount, over) in wordings.items():
        path = write(
            tmp_path, f"in-{system}", measures=system, basis=basis, per=over, amount=amount,
            material=material,
        )  # fmt: skip
        out = dump(run(job(path, TWIN_SITES[basis])))
        assert out["amounts"][0]["mass"]["likely"] > 0
        found.append(dose(out))
    assert len(found) >= 3
    assert all(other == found[0] for other in found)


SCALED: dict[str, Callable[[Fraction | int], SiteText]] = {
    "boron-drench": lambda k: SiteText(row=f"{40 * k} m"),
    "feed-5-10-10-broadcast": lambda k: SiteText(area=f"{18 * k} m2"),
    "leaf-spray-oil": lambda k: SiteText(spray_volume=f"{2 * k} L"),
    "starter-drench": lambda k: SiteText(plants=str(8 * k)),
    "slow-feed-pot": lambda k: SiteText(pots=str(2 * k)),
    "peat-mix-base": lambda k: SiteText(medium_volume=f"{60 * k} L"),
    "compost-layer": lambda k: SiteText(bed="1.2 m x 8 m", beds=str(2 * k)),
    "boron-target": lambda k: SiteText(row="10 m", rows=str(2 * k), row_spacing="50 cm"),
}


@cache
def once(id: str, k: Fraction) -> dict[str, Any]:
    return dump(run(Job(id, SCALED[id](k), NO_TOOLS)))


@pytest.mark.parametrize("id", SCALED)
@pytest.mark.parametrize("k", [2, 3, 100, Fraction(1, 2)])
def test_k_times_the_site_takes_k_times_the_dose(id: str, k: Fraction) -> None:
    one, many = (once(id, size) for size in (Fraction(1), Fraction(k)))
    assert len(one["amounts"]) == len(many["amounts"]) >= 1
    for item, other in zip(one["amounts"], many["amounts"], strict=True):
        for key in ("mass", "volume"):
            if item[key] is None:
                assert other[key] is None
                continue
            for end in ("low", "likely", "high"):
                assert close(other[key][end], Fraction(str(item[key][end])) * Fraction(k))
        # A strength is no amount: it stays.
        assert item["in_solution"] == other["in_solution"]


def test_a_row_with_its_spacing_is_an_area() -> None:
    for id in ("feed-5-10-10-broadcast", "boron-target", "compost-layer", "boron-leaf-cole"):
        by_row = dump(run(Job(id, SiteText(row="40 m", row_spacing="45 cm"), NO_TOOLS)))
        by_area = dump(run(Job(id, SiteText(area="18 m2"), NO_TOOLS)))
        by_bed = dump(run(Job(id, SiteText(bed="45 cm x 40 m"), NO_TOOLS)))
        by_shape = dump(run(Job(id, SiteText(shape="triangle: base 12 m, height 3 m"), NO_TOOLS)))
        for other in (by_area, by_bed, by_shape):
            assert other["amounts"] == by_row["amounts"]
            assert other["tankfuls"] == by_row["tankfuls"]
            for left, right in zip(by_row["supplies"], other["supplies"], strict=True):
                assert left["per_area"] == right["per_area"]
                assert left["mass"] == right["mass"]


def test_three_rows_are_one_row_three_times_as_long() -> None:
    three = dump(run(Job("boron-drench", SiteText(row="40 m", rows="3"), NO_TOOLS)))
    one = dump(run(Job("boron-drench", SiteText(row="120 m"), NO_TOOLS)))
    assert dose(three) == dose(one)


@pytest.mark.parametrize("id", ["boron-drench", "leaf-spray-oil", "boron-leaf-cole"])
@pytest.mark.parametrize("equal", [False, True])
def test_one_load_or_many_is_one_dose(id: str, equal: bool) -> None:
    """What is asked, and the strength of it, do not depend on the size of the sprayer."""
    site = SiteText(row="100 m", row_spacing="45 cm", spray_volume="19 L")
    whole = dump(run(Job(id, site, NO_TOOLS)))
    assert len(whole["tankfuls"]) == 1
    for sprayer in ("2 L", "9 L", "15 L", "100 L"):
        tools = replace(NO_TOOLS, sprayer=sprayer)
        split = dump(run(Job(id, site, tools, equal=equal)))
        assert split["amounts"] == whole["amounts"]
        assert split["liquid"] == whole["liquid"]
        volumes = [Fraction(str(t["volume"]["value"])) for t in split["tankfuls"]]
        assert all(volume <= Fraction(sprayer.split()[0]) for volume in volumes)
        for item in whole["amounts"]:
            parts = [
                next(a for a in t["amounts"] if a["material"] == item["material"])
                for t in split["tankfuls"]
            ]
            if item["material"] == "water":
                continue
            for part, volume in zip(parts, volumes, strict=True):
                # The same strength in every filling, the last part one included.
                share = volume / sum(volumes)
                stated = "mass" if item["volume"] is None else "volume"
                total = Fraction(str(item[stated]["likely"]))
                assert close(part[stated]["likely"], total * share)
                assert part["in_solution"] == item["in_solution"]

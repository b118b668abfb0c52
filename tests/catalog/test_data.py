"""The shipped data is whole: it loads, adds up, cites what exists and names each thing once."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, get_args

import pytest

from dosecalc.catalog import build, files, lookup, schema
from dosecalc.catalog.checking import MODELS, validate
from dosecalc.catalog.formula import element_of
from dosecalc.errors import DoseError

ROOT = Path(__file__).parents[2]
DATA = Path(str(files.data_root()))
BOOK = Path(str(files.shipped_recipes()))
ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
NARROW = {"B": "borate", "Cu": "copper", "Zn": "zinc", "Mo": "molybdate"}


def folder(kind: str) -> dict[str, Path]:
    return by_stem(DATA / kind)


def by_stem(where: Path) -> dict[str, Path]:
    return dict(sorted((path.stem, path) for path in where.glob("*.toml")))


MATERIALS = folder("materials")
SOURCES = folder("sources")
RECIPES = by_stem(BOOK)
OTHERS = [
    *(
        (path, kind)
        for kind in ("limits", "rules", "usual", "availability", "liming", "sowing")
        for path in folder(kind).values()
    ),
    *((path, path.stem) for path in sorted(DATA.glob("*.toml"))),
]


def table(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def percent(entry: dict[str, Any], key: str) -> Fraction | None:
    return Fraction(entry[key]) / 100 if key in entry else None


def likely(entry: dict[str, Any]) -> Fraction:
    """The likely share of an analysis entry: as printed, else the middle of its span."""
    printed = percent(entry, "percent")
    if printed is not None:
        return printed
    return Fraction(entry["low"]) / 200 + Fraction(entry["high"]) / 200


def cited(value: Any, key: str = "") -> Iterator[str]:
    """Every source id in a table, wherever it stands."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from cited(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from cited(inner, key)
    elif key == "source":
        assert isinstance(value, str)
        yield value


def test_there_is_enough_of_everything() -> None:
    assert len(MATERIALS) >= 40
    assert len(RECIPES) >= 15
    assert len(SOURCES) >= 40
    assert len(OTHERS) >= 3


def test_every_basis_is_in_the_book() -> None:
    used = Counter(
        statement["basis"] for path in RECIPES.values() for statement in table(path)["statement"]
    )
    assert set(used) == set(get_args(schema.Basis))


def test_nutrient_targets_and_both_kinds_of_water_are_in_the_book() -> None:
    statements = [s for path in RECIPES.values() for s in table(path)["statement"]]
    assert any("nutrient" in item for s in statements for item in s["ingredient"])
    assert {s["water"]["need"] for s in statements if "water" in s} == {"strength", "vehicle"}


@pytest.mark.parametrize("id", MATERIALS)
def test_a_material_file_loads_without_problems(id: str) -> None:
    data, problems = files.parse_toml(MATERIALS[id].read_bytes(), f"{id}.toml")
    assert problems == []
    assert validate("material", data, f"{id}.toml") == []
    faults = build.Faults(f"{id}.toml")
    made = build.material(id, data, faults)
    assert faults.problems == []
    assert made.id == id
    assert lookup.material(id) == made


@pytest.mark.parametrize("id", RECIPES)
def test_a_recipe_file_loads_without_problems(id: str) -> None:
    made, problems = lookup.load_recipe(id, RECIPES[id].read_bytes(), f"{id}.toml")
    assert problems == []
    assert made is not None
    assert made.id == id
    assert lookup.find_recipe(id) == made


def test_every_source_file_loads_and_says_when_and_where() -> None:
    for id, path in SOURCES.items():
        data, problems = files.parse_toml(path.read_bytes(), path.name)
        assert problems == [], id
        assert validate("source", data, path.name) == []
        # One of each pair: a year that is there beside "undated" would contradict itself.
        assert ("year" in data) != data.get("undated", False), id
        assert ("url" in data) != ("url_withheld" in data), id
        assert lookup.source(id).id == id


@pytest.mark.parametrize(("path", "kind"), OTHERS, ids=lambda value: getattr(value, "stem", value))
def test_every_other_data_file_fits_its_schema(path: Path, kind: str) -> None:
    data, problems = files.parse_toml(path.read_bytes(), path.name)
    assert problems == []
    assert validate(kind, data, path.name) == []


def test_every_data_file_was_looked_at() -> None:
    known = {*MATERIALS.values(), *SOURCES.values(), *(path for path, _ in OTHERS)}
    assert {path for path in DATA.rglob("*") if path.is_file()} == known
    assert {path for path in BOOK.iterdir() if path.suffix == ".toml"} == set(RECIPES.values())
    assert {"material", "recipe", "source", "limits", "rules", "usual", "crops"} <= set(MODELS)


def test_ids_are_the_file_names() -> None:
    for ids, known in ((MATERIALS, lookup.material_ids()), (RECIPES, lookup.recipe_ids())):
        assert tuple(ids) == known
    for id in (*MATERIALS, *SOURCES, *RECIPES):
        assert ID.fullmatch(id), id
        assert len(id) <= 60, id


def test_no_source_is_missing_and_none_is_unused() -> None:
    places = [*DATA.rglob("*.toml"), *RECIPES.values(), *ROOT.glob("tests/published*/*.toml")]
    used = {id for path in places if path.parent.name != "sources" for id in cited(table(path))}
    if any("practice" in table(path) for path in RECIPES.values()):
        used.add("common-practice")  # what the mark of a recipe without a source stands for
    assert sorted(used - set(SOURCES)) == []
    assert sorted(set(SOURCES) - used) == []


def test_no_two_sources_are_the_same_page() -> None:
    pages = Counter(
        (data["url"], data["title"]) for data in map(table, SOURCES.values()) if "url" in data
    )
    assert [page for page, count in pages.items() if count > 1] == []


@pytest.mark.parametrize("id", MATERIALS)
def test_the_analyses_of_a_material_sum_to_no_more_than_all_of_it(id: str) -> None:
    data = table(MATERIALS[id])
    counts = Counter(element_of(entry["nutrient"])[0] for entry in data.get("analysis", ()))
    assert [word for word, count in counts.items() if count > 1] == []
    material = lookup.material(id)
    # Element by element: a potash feed prints K2O, and the oxygen of that word is not in it.
    by_weight = [c.factor.likely for c in material.contents if c.basis == "w/w"]
    assert sum(by_weight) <= 1
    elements = Counter(c.element for c in material.contents)
    assert [word for word, count in elements.items() if count > 1] == []
    by_volume = sum(c.factor.likely for c in material.contents if c.basis == "w/v")
    if by_volume and material.density is not None:
        assert by_volume <= material.density.likely


@pytest.mark.parametrize("id", MATERIALS)
def test_an_analysis_span_is_kept_as_printed(id: str) -> None:
    """Zero is a figure: a low end of 0 % is not the same as no low end."""
    data = table(MATERIALS[id])
    contents = {c.element: c.factor for c in lookup.material(id).contents}
    for entry in data.get("analysis", ()):
        middle = likely(entry)
        low, high = (percent(entry, key) for key in ("low", "high"))
        low, high = middle if low is None else low, middle if high is None else high
        assert 0 <= low <= middle <= high <= 1
        element, share = element_of(entry["nutrient"])
        if entry.get("state") == "dry" and "moisture" not in data:
            assert element not in contents
            continue
        if entry.get("state") == "dry":
            share *= 1 - Fraction(data["moisture"]) / 100
        factor = contents[element]
        assert (factor.low, factor.likely, factor.high) == (
            low * share,
            middle * share,
            high * share,
        )


WITH_DENSITY = [id for id, path in MATERIALS.items() if "density" in table(path)]


def test_most_materials_have_a_density() -> None:
    assert len(WITH_DENSITY) >= 40


@pytest.mark.parametrize("id", WITH_DENSITY)
def test_a_density_span_holds_every_figure_that_is_used(id: str) -> None:
    entry = table(MATERIALS[id])["density"]

    def figure(text: str) -> Fraction:
        # All densities are written in one unit, so that a file can be compared by eye.
        number, unit = text.split()
        assert unit == "g/mL"
        return Fraction(number)

    low, middle, high = (figure(entry[key]) for key in ("low", "likely", "high"))
    assert 0 < low <= middle <= high
    used = [figure(seen["value"]) for seen in entry["seen"] if seen.get("used", True)]
    assert used
    assert low <= min(used)
    assert max(used) <= high
    # A figure that is set aside without a reason would be a silent choice.
    assert all(seen.get("used", True) or seen.get("caveat") for seen in entry["seen"])
    factor = lookup.material(id).density
    assert factor is not None
    assert (factor.low, factor.likely, factor.high) == (low, middle, high)


@pytest.mark.parametrize("id", MATERIALS)
def test_a_solubility_set_aside_has_a_reason(id: str) -> None:
    for point in table(MATERIALS[id]).get("solubility", ()):
        assert point.get("used", True) or point.get("caveat")


def narrow(id: str) -> bool:
    """Whether a little too much of it harms: a boron, copper, zinc or molybdenum material."""
    material = lookup.material(id)
    if set(material.traits) & set(NARROW.values()):
        return True
    # One percent: wood ash and composts hold traces, which nobody applies them for.
    return any(
        c.element in NARROW and (c.kind == "formula" or c.factor.likely >= Fraction(1, 100))
        for c in material.contents
    )


def test_every_material_with_a_narrow_window_goes_by_weight() -> None:
    found = [id for id in MATERIALS if narrow(id)]
    assert {"borax", "sodium-molybdate", "copper-sulfate-pentahydrate"} <= set(found)
    assert [id for id in found if not lookup.material(id).by_weight] == []


def fold(name: str) -> str:
    """As a person takes two spellings for one name."""
    return " ".join(name.casefold().replace("-", " ").replace("sulph", "sulf").split())


def test_a_name_stands_for_one_material() -> None:
    owners: dict[str, set[str]] = {}
    for id, path in MATERIALS.items():
        data = table(path)
        for name in (id, data["name"], *data.get("also", ())):
            owners.setdefault(fold(name), set()).add(id)
    assert {name: sorted(ids) for name, ids in owners.items() if len(ids) > 1} == {}
    assert len(owners) > len(MATERIALS)


@pytest.mark.parametrize("word", lookup.AMBIGUOUS)
def test_a_word_for_several_materials_is_refused_with_names_that_are_known(word: str) -> None:
    with pytest.raises(DoseError, match="can mean several materials"):
        lookup.find_material(word)
    offered = re.split(r", | or ", re.sub(r" \([^)]*\)", "", lookup.AMBIGUOUS[word]))
    assert len(offered) >= 2
    ids = [lookup.find_material(name).id for name in offered]
    assert len(set(ids)) == len(ids)


def test_recipes_name_known_materials_and_speak_whose_measures() -> None:
    for id, path in RECIPES.items():
        for statement in table(path)["statement"]:
            assert statement.get("measures") in get_args(schema.System), id
            for item in statement["ingredient"]:
                assert item["material"] in MATERIALS, id


CROPS = table(DATA / "crops.toml")["crop"]


def test_recipes_name_known_crops() -> None:
    classes = {word for crop in CROPS.values() for word in crop.get("classes", ())}
    known = {*CROPS, *classes}
    for id, path in RECIPES.items():
        data = table(path)
        assert [c for key in ("crops", "not_on") for c in data.get(key, ()) if c not in known] == []
        assert set(data.get("crops", ())).isdisjoint(data.get("not_on", ())), id

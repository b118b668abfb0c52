"""Worked examples that others printed (``published/*.toml``), each by way of the program itself.

A case is held twice: against what was printed, within half of its last digit and the rounding of
its source, and against an answer worked out apart from this project to twelve digits, so that a
coarse print cannot let a wrong figure pass. Where the print is wrong the case stays, and says why.
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from dosecalc.catalog import build, lookup
from dosecalc.catalog.checking import validate
from dosecalc.catalog.formula import contents
from dosecalc.catalog.material import Material
from dosecalc.catalog.site import Site, SiteText, read_shape, read_site
from dosecalc.catalog.tools import Tools
from dosecalc.dose.convert import convert
from dosecalc.dose.need import need, product_for
from dosecalc.errors import DoseError
from dosecalc.units import read
from dosecalc.units.measure import AREA, VOLUME, Measure, exact_text
from tests.printed import held, names, stated_miss, within_print

FOLDER = Path(__file__).parent / "published"
Case = dict[str, str]

# What every case has, what only some have, and what each kind has besides.
ALWAYS = {"id", "source", "about", "kind", "printed", "unit", "rounding", "exact"}
SOMETIMES = {"constants", "tolerance", "disagree"}
KINDS: dict[str, tuple[set[str], set[str]]] = {
    "convert": ({"amount", "to"}, {"density"}),
    "rate-times": ({"rate", "times"}, set()),
    "row-length": ({"area", "row_spacing"}, set()),
    "plants": ({"area", "row_spacing", "plant_spacing"}, set()),
    "layer": ({"depth", "area"}, {"bag"}),
    "area": (
        {"shape"},
        {"length", "width", "radius", "diameter", "base", "height", "a", "b", "outer", "inner"},
    ),
    "product-for": ({"nutrient_amount", "percent"}, set()),
    "nutrient-in": ({"amount", "nutrient"}, {"percent", "analysis"}),
    "oxide": ({"amount", "from", "to"}, set()),
    "content": ({"formula", "nutrient"}, set()),
    "strength": ({"percent", "mass", "water"}, set()),
    "ratio": ({"volume", "ratio", "convention"}, set()),
}


def load() -> list[Case]:
    return [
        case
        for path in sorted(FOLDER.glob("*.toml"))
        for case in tomllib.loads(path.read_text("utf-8"))["case"]
    ]


CASES = load()


def quantity(text: str) -> Measure:
    return read.quantity(text, oz_is="weight")


def in_unit(amount: Measure, unit: str) -> Fraction:
    """How many of `unit` ("lb/100 sq ft") an amount is."""
    step = quantity(f"1 {unit}")
    return amount.amount_in(step.unit) / step.value


def material(text: str) -> Material:
    """A material from the text of its file, checked as a person's file is."""
    data = tomllib.loads(f'name = "Stuff of a worked example"\nform = "granules"\n{text}')
    assert validate("material", data, "stuff.toml") == []
    faults = build.Faults("stuff.toml")
    made = build.material("stuff", data, faults)
    assert faults.problems == []
    return made


def holding(**percents: str) -> Material:
    """A material of a stated analysis; a nutrient of none of it is left out."""
    return material(
        "".join(
            f'[[analysis]]\nnutrient = "{word}"\npercent = "{percent}"\nkind = "minimum"\n'
            'source = "cornell-fertilizer-terms"\n'
            for word, percent in percents.items()
            if Fraction(percent)
        )
    )


def through(amount: Measure, unit: str, stuff: Material | None, nutrient: str | None) -> Fraction:
    """`dose.convert`, whose answer must be exact, counted in `unit`."""
    step = quantity(f"1 {unit}")
    found = convert(amount, step.unit, stuff, nutrient)
    assert found.exact is not None
    return found.exact.value / step.value


def by_convert(case: Case) -> Fraction:
    assert case["to"] == case["unit"]
    stuff = None
    if "density" in case:
        one = case["density"]
        stuff = material(
            f'[density]\nlow = "{one}"\nlikely = "{one}"\nhigh = "{one}"\nhow = "as printed"\n'
        )
    return through(quantity(case["amount"]), case["unit"], stuff, None)


RECIPE = """\
name = "A printed rate"
purpose = "To be multiplied"
how = "work in"
placement = "broadcast"
practice = "common practice, no source"
[[statement]]
basis = "{basis}"
per = "{per}"
[[statement.ingredient]]
material = "{material}"
amount = "{amount}"
role = "active"
"""


def asked(basis: str, per: str, amount: str, site: Site, material: str = "urea") -> Measure:
    """What a recipe of one ingredient asks for on a site: the first half of the pipeline."""
    text = RECIPE.format(basis=basis, per=per, amount=amount, material=material)
    recipe, problems = lookup.load_recipe("printed", text.encode(), "printed.toml")
    assert problems == []
    assert recipe is not None
    known = {material: lookup.material(material)}
    (found,) = need(recipe, recipe.statements[0], site, Tools(), known).amounts
    return found.asked


def by_rate(case: Case) -> Fraction:
    amount, _, per = case["rate"].partition("/")
    times = quantity(case["times"])
    if not per[0].isdigit():
        per = f"1 {per}"
    if times.is_a(AREA):
        found = asked("area", per, amount, Site(area=times))
    elif times.is_a(VOLUME):
        found = asked("spray volume", per, amount, Site(spray=times))
    else:
        found = asked("plant", per, amount, Site(plants=int(times.value)))
    return in_unit(found, case["unit"])


def by_row_length(case: Case) -> Fraction:
    """The row length whose ground is the area printed: checked by the site, which multiplies."""
    area, spacing = quantity(case["area"]), quantity(case["row_spacing"])
    length = area / spacing
    text = f"{exact_text(length.to(quantity('1 ft').unit))}"
    site = read_site(SiteText(row=text, row_spacing=case["row_spacing"]))
    assert site.ground == area.to(quantity("1 m2").unit)
    assert site.row_length is not None
    return in_unit(site.row_length, case["unit"])


def by_plants(case: Case) -> Fraction:
    """Unrounded, and the site's own count, which is always of whole plants."""
    area, row, plant = (quantity(case[key]) for key in ("area", "row_spacing", "plant_spacing"))
    exact = (area / row / plant).amount_in(())
    site = read_site(
        SiteText(
            area=case["area"], row_spacing=case["row_spacing"], plant_spacing=case["plant_spacing"]
        )
    )
    assert site.plants == exact // 1
    return exact


def by_layer(case: Case) -> Fraction:
    site = read_site(SiteText(area=case["area"]))
    volume = asked("layer", "1 m2", case["depth"], site, "garden-compost")
    if "bag" not in case:
        return in_unit(volume, case["unit"])
    assert case["unit"] == "bags"
    bag = quantity(case["bag"])
    exact = volume.amount_in(bag.unit) / bag.value
    assert build.whole_bags(volume, bag).bags == -(-exact // 1)
    return exact


def by_area(case: Case) -> Fraction:
    kind = case["shape"]
    if kind == "rectangle":
        area = read_site(SiteText(bed=f"{case['length']} x {case['width']}")).area
        assert area is not None
        return in_unit(area, case["unit"])
    if kind == "circle":
        size = "radius" if "radius" in case else "diameter"
        text = f"circle: {size} {case[size]}"
    elif kind == "ring":
        # These sources give radii; ours are measured across.
        outer, inner = (exact_text(quantity(case[key]) * 2) for key in ("outer", "inner"))
        text = f"ring: outer {outer}, inner {inner}"
    elif kind == "triangle":
        text = f"triangle: base {case['base']}, height {case['height']}"
    else:
        assert kind == "trapezoid"
        text = f"trapezoid: sides {case['a']} and {case['b']}, height {case['height']}"
    return in_unit(read_shape(text), case["unit"])


def by_product(case: Case) -> Fraction:
    mass, _, per = case["nutrient_amount"].partition("/")
    product = product_for(quantity(mass), "N", holding(N=case["percent"]))
    if per:
        product = product / quantity(per if per[0].isdigit() else f"1 {per}")
    return in_unit(product, case["unit"])


def by_nutrient(case: Case) -> Fraction:
    if "analysis" in case:
        percents = dict(zip(("N", "P2O5", "K2O"), case["analysis"].split("-"), strict=True))
    else:
        percents = {case["nutrient"]: case["percent"]}
    stuff = holding(**percents)
    amount = quantity(case["amount"])
    if not Fraction(percents[case["nutrient"]]):
        # A zero on a label is not a content: the program says so rather than print a zero.
        with pytest.raises(DoseError, match=f"not known to hold {case['nutrient']}"):
            through(amount, case["unit"], stuff, case["nutrient"])
        return Fraction(0)
    return through(amount, case["unit"], stuff, case["nutrient"])


def by_oxide(case: Case) -> Fraction:
    have, want = contents(case["from"]), contents(case["to"])
    # The one element that both words count; oxygen and hydrogen only come along.
    (element,) = (have.keys() & want.keys()) - {"O", "H"}
    number, unit = case["amount"].split()
    assert unit == case["unit"]
    return Fraction(number) * have[element] / want[element]


def by_content(case: Case) -> Fraction:
    assert case["unit"] == "%"
    return contents(case["formula"])[case["nutrient"]] * 100


def by_strength(case: Case) -> Fraction:
    dissolved = quantity(case["mass"]) / quantity(case["water"])
    return through(dissolved, case["unit"], holding(N=case["percent"]), "N")


def by_ratio(case: Case) -> Fraction:
    part, other = read.ratio(case["ratio"])
    whole = {"part to water": part + other, "part in total": other}[case["convention"]]
    return in_unit(quantity(case["volume"]) * (part / whole), case["unit"])


ANSWERS: dict[str, Callable[[Case], Fraction]] = {
    "convert": by_convert,
    "rate-times": by_rate,
    "row-length": by_row_length,
    "plants": by_plants,
    "layer": by_layer,
    "area": by_area,
    "product-for": by_product,
    "nutrient-in": by_nutrient,
    "oxide": by_oxide,
    "content": by_content,
    "strength": by_strength,
    "ratio": by_ratio,
}


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_published_example(case: Case) -> None:
    held(case, ANSWERS[case["kind"]](case))


def test_there_are_enough_cases_of_every_kind() -> None:
    assert len(CASES) >= 40
    assert len(list(FOLDER.iterdir())) == len(list(FOLDER.glob("*.toml"))) >= 3
    assert {case["kind"] for case in CASES} == set(ANSWERS) == set(KINDS)
    assert {case["rounding"] for case in CASES} == {"nearest", "down", "up"}
    assert sum("disagree" in case for case in CASES) >= 3
    assert [id for id, count in Counter(map(names, CASES)).items() if count > 1] == []


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_case_has_the_keys_of_its_kind_and_no_other(case: Case) -> None:
    needed, allowed = KINDS[case["kind"]]
    assert set(case) >= ALWAYS | needed
    assert set(case) <= ALWAYS | SOMETIMES | needed | allowed
    assert all(isinstance(value, str) and value for value in case.values())
    assert ("tolerance" in case) <= ("constants" in case)
    assert not {"tolerance", "disagree"} <= set(case)
    assert re.fullmatch(r"\d+(\.\d+)?", case["printed"])
    assert lookup.source(case["source"]).id == case["source"]
    if "tolerance" in case:
        # Written in one or two digits, so a little wider than the miss, but never idle.
        miss = abs(Fraction(case["exact"]) / Fraction(case["printed"]) - 1)
        assert stated_miss(case) <= 4 * miss


@pytest.mark.parametrize(
    ("printed", "rounding", "answer", "held"),
    [
        ("7.39", "nearest", "7.394", True),
        ("7.39", "nearest", "7.396", False),
        ("7.39", "nearest", "7.384", False),
        ("7.39", "down", "7.3999", True),
        ("7.39", "down", "7.4", False),
        ("7.39", "down", "7.389", False),
        ("7", "up", "6.01", True),
        ("7", "up", "7.01", False),
        ("7", "up", "6", False),
        ("1500", "nearest", "1500.5", True),
        ("1500", "nearest", "1501", False),
    ],
)
def test_a_print_is_held_to_half_of_its_last_digit(
    printed: str, rounding: str, answer: str, held: bool
) -> None:
    case = {"printed": printed, "rounding": rounding}
    assert within_print(case, Fraction(answer)) is held

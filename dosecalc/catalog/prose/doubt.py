"""What can be read in two ways: each refusal shows the readings and how to say which is meant."""

from __future__ import annotations

from dosecalc.catalog import lookup
from dosecalc.catalog.material import Material
from dosecalc.catalog.prose import words
from dosecalc.errors import DoseError, refuse
from dosecalc.units import read
from dosecalc.units.measure import GRAM, MASS, ML, Measure
from dosecalc.units.show import rounded, show
from dosecalc.units.words import System

CANDIDATES: dict[str, tuple[str, tuple[str, ...]]] = {
    "boron": ("B", ("borax", "boric-acid", "disodium-octaborate")),
    "copper": ("Cu", ("copper-sulfate-pentahydrate", "copper-hydroxide", "copper-oxychloride")),
    "iron": ("Fe", ("ferrous-sulfate-heptahydrate", "iron-chelate-edta", "iron-chelate-eddha")),
    "zinc": ("Zn", ("zinc-sulfate-monohydrate", "zinc-sulfate-heptahydrate")),
    "zinc sulfate": ("Zn", ("zinc-sulfate-monohydrate", "zinc-sulfate-heptahydrate")),
    "magnesium": ("Mg", ("epsom-salt", "kieserite")),
    "magnesium sulfate": ("Mg", ("epsom-salt", "kieserite", "magnesium-sulfate-anhydrous")),
    "calcium chloride": ("Ca", ("calcium-chloride-dihydrate", "calcium-chloride-flake")),
    "potash": ("K", ("potassium-chloride", "potassium-sulfate")),
}
"""Words that several materials answer to: the element they are chosen by, and their ids."""


def size_word(phrase: str, said: str, behind: str) -> None:
    """Refuse a size that nobody knows: a handful, a capful, a pinch, a bag."""
    kind = words.DOUBTFUL_SIZES.get(phrase)
    if kind is None:
        return
    raise refuse(f"prose-size-{kind}", text=f"{said} {behind}".strip(), word=phrase)


def place_word(phrase: str, said: str) -> None:
    """Refuse a place of no stated size: per tree, per bed, per can."""
    kind = words.DOUBTFUL_PLACES.get(phrase)
    if kind is not None:
        raise refuse(f"prose-place-{kind}", text=said, word=phrase)


_GROWTH = frozenset({"trunk", "stem", "age", "height", "diameter", "caliper", "girth", "growth"})


def growth(unit: str, behind: list[str]) -> None:
    """Refuse a rate by the size or the age of a plant: "per inch of trunk", "per year of age"."""
    if behind[:1] == ["of"] and _GROWTH & set(behind):
        raise refuse("prose-place-growth", text=f"per {unit} {' '.join(behind)}")


def foot_square(number: str, unit: str) -> DoseError:
    """A "40-foot square": an area of 40 sq ft, or a square of 40 ft each way."""
    side = read.quantity(f"{number} {unit}")
    area = Measure(side.value, ((side.unit[0][0], 2),))
    return refuse(
        "prose-foot-square", text=f"{number} {unit} square", number=number, unit=unit,
        area=show(area).metric, square=show(side * side).metric,
        times=rounded(side.value)[0],
    )  # fmt: skip


def percent(number: str, material: Material | None) -> DoseError:
    """A % without its kind: by volume or by weight, with what each gives in a litre."""
    low, _, _ = number.removesuffix(" %").partition("-")
    ten = read.number(low, "us") * 10
    by_volume, by_weight = Measure(ten, ML), Measure(ten, GRAM)
    name = "it" if material is None else material.name
    return refuse(
        "prose-percent", text=number, number=low, name=name, volume=show(by_volume).metric,
        mass=show(by_weight).metric,
    )  # fmt: skip


def ratio(text: str) -> DoseError:
    """A ratio without its parts named: in the other, in the whole, or turned round."""
    one, _, other = text.partition(":")
    left, right = read.number(one, "us"), read.number(other, "us")
    if not left or not right:
        return refuse("read-ratio", text=text)
    whole = max(left, right)
    return refuse(
        "prose-ratio", text=text, one=one, other=other,
        added=show(Measure(1000 * left / (left + right), ML)).metric,
        whole=show(Measure(1000 * min(left, right) / whole, ML)).metric,
        turned=show(Measure(1000 * right / (left + right), ML)).metric,
    )  # fmt: skip


def several(text: str, amount: str | None, system: System | None) -> DoseError:
    """A word for several materials: what the amount would bring as each of them."""
    key = " ".join(text.lower().replace("sulph", "sulf").split())
    if key not in CANDIDATES or amount is None:
        return lookup.unknown_material(text)
    element, ids = CANDIDATES[key]
    try:
        measure = read.quantity(amount, system, oz_is="weight")
    except DoseError as err:
        return err
    shown = []
    for id in ids:
        found = lookup.material(id)
        content = found.content(element)
        grams = _grams(found, measure)
        if content is None or grams is None or content.basis != "w/w":
            shown.append(f"'{found.name}'")
            continue
        gives = show(grams * content.factor.likely).metric
        shown.append(f"'{found.name}' ({gives} of {element})")
    itself = ""
    if measure.is_a(MASS):
        itself = f" or '{amount} {element}' (that weight of the element itself)"
    return refuse("prose-several", text=f"{amount} {text}", which=" or ".join(shown), itself=itself)


def _grams(material: Material, amount: Measure) -> Measure | None:
    if amount.is_a(MASS):
        return amount.to(GRAM)
    if material.density is None:
        return None
    try:
        return Measure(amount.amount_in(ML) * material.density.likely, GRAM)
    except DoseError:
        return None


def oxide(amount: str, nutrient: str, system: System | None) -> DoseError:
    """P or P2O5, K or K2O: each reading as the other's weight."""
    word, share = {"P": ("P2O5", "2.29"), "K": ("K2O", "1.20")}[nutrient]
    measure = read.quantity(amount, system, oz_is="weight")
    return refuse(
        "prose-oxide", text=f"{amount} {nutrient}", element=nutrient, oxide=word, times=share,
        mass=show(measure).metric,
    )  # fmt: skip


def nutrient_source(amount: str, nutrient: str) -> DoseError:
    """A nutrient and no material that brings it."""
    examples = {
        "N": "urea", "P": "triple superphosphate", "P2O5": "triple superphosphate",
        "K": "potassium sulfate", "K2O": "potassium sulfate", "B": "borax", "Mg": "Epsom salt",
    }  # fmt: skip
    symbol = words.NUTRIENT_WORDS.get(nutrient.lower(), nutrient)
    return refuse(
        "prose-nutrient", text=f"{amount} {nutrient}", nutrient=nutrient,
        example=examples.get(symbol, "a material of the catalog"),
    )  # fmt: skip

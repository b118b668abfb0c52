"""What can be read in two ways: each refusal shows the readings and how to say which is meant."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from dosecalc.catalog import lookup
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.material import Material
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.scan import Mark, Spot
from dosecalc.errors import Answer, DoseError, Doubt, refuse
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import GRAM, MASS, ML, Measure
from dosecalc.units.show import rounded, show
from dosecalc.units.words import SYSTEM_WORD, System

_Reading = tuple[str, Spot | None, Say]
"""What is to be written, where, and what it means."""

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
    "soap": ("", ("soft-soap", "liquid-soap", "washing-up-detergent")),
    "oil": ("", ("vegetable-oil", "horticultural-oil", "neem-oil")),
    "lime": ("", ("ground-limestone", "dolomitic-limestone", "hydrated-lime", "quicklime")),
    "limestone": ("", ("ground-limestone", "dolomitic-limestone")),
    "garden lime": ("", ("ground-limestone", "dolomitic-limestone", "hydrated-lime")),
    "pelletized lime": ("", ("ground-limestone", "dolomitic-limestone")),
    "iron chelate": ("", ("iron-chelate-edta", "iron-chelate-eddha")),
    "chelated iron": ("", ("iron-chelate-edta", "iron-chelate-eddha")),
    "seaweed": ("", ("kelp-meal", "kelp-extract")),
    "manure": ("", ("cattle-manure", "horse-manure", "poultry-manure", "manure-compost")),
    "sulfur": ("", ("wettable-sulfur", "elemental-sulfur")),
}
"""Words that several materials answer to: the element they are chosen by, "" where none is, and
their ids."""
_LIMING = (
    ("cce",), ("calcium", "carbonate", "equivalent"), ("calcium", "carbonate", "equivalence"),
    ("neutralising", "value"), ("neutralizing", "value"),
)  # fmt: skip
_MOST_LIMING = 250
"""No lime is worth more than 248 % of calcium carbonate (pure magnesia, from the formulas)."""
ITSELF = {
    "boron": "B", "copper": "Cu", "iron": "Fe", "zinc": "Zn", "magnesium": "Mg", "potash": "K2O",
}  # fmt: skip
"""Of these, the words that may as well name the nutrient that the amount counts."""


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


def foot_square(number: str, unit: str, spot: Spot | None) -> DoseError:
    """A "40-foot square": an area of 40 sq ft, or a square of 40 ft each way."""
    side = read.quantity(f"{number} {unit}")
    area = show(Measure(side.value, ((side.unit[0][0], 2),))).metric
    square = show(side * side).metric
    asked = _asked(
        f"{number} {unit} square",
        (f"{number} sq {unit}", spot, Say.of("answer-area", area=area)),
        (f"{number} x {number} {unit}", spot,
         Say.of("answer-square", number=number, unit=unit, area=square)),
    )  # fmt: skip
    return refuse(
        "prose-foot-square", text=f"{number} {unit} square", number=number, unit=unit,
        area=area, square=square, times=rounded(side.value)[0],
    ).asking(asked)  # fmt: skip


def percent(number: str, material: Material | None, spot: Spot | None) -> DoseError:
    """A % without its kind: by volume or by weight, with what each gives in a litre."""
    low, _, _ = number.removesuffix(" %").partition("-")
    ten = read.number(low, "us") * 10
    volume, mass = show(Measure(ten, ML)).metric, show(Measure(ten, GRAM)).metric
    name = "it" if material is None else material.name
    behind = None if spot is None else Spot(spot.end, spot.end)
    asked = _asked(
        f"{number} of {name}",
        (" v/v", behind, Say.of("answer-percent-volume", volume=volume)),
        (" w/v", behind, Say.of("answer-percent-mass", mass=mass)),
    )
    return refuse(
        "prose-percent", text=number, number=low, name=name, volume=volume, mass=mass
    ).asking(None if material is None else asked)


def ratio(text: str, spot: Spot | None, name: str = "") -> DoseError:
    """A ratio without its parts named: in the other, in the whole, or turned round.

    Parameters
    ----------
    text : str
        "1:100".
    spot : Spot or None
        Where it stands, with the name if there is one.
    name : str
        The material beside it.
    """
    one, _, other = text.partition(":")
    left, right = read.number(one, "us"), read.number(other, "us")
    if not left or not right:
        return refuse("read-ratio", text=text)
    least, whole = min(left, right), max(left, right)
    added = show(Measure(1000 * left / (left + right), ML)).metric
    part = show(Measure(1000 * least / whole, ML)).metric
    turned = show(Measure(1000 * right / (left + right), ML)).metric
    parts = [(left, right, "added", (one, other, added))]
    if least < whole:
        parts.append((least, whole - least, "whole", (_number(least), _number(whole), part)))
        parts.append((right, left, "turned", (other, one, turned)))
    readings = [
        (_parts(a, b, name), spot, Say.of(f"answer-ratio-{how}", one=n, other=m, volume=volume))
        for a, b, how, (n, m, volume) in parts
    ]
    return refuse(
        "prose-ratio", text=text, one=one, other=other, added=added, whole=part, turned=turned
    ).asking(_asked(f"{text} {name}".strip(), *readings))


def _parts(one: Fraction, water: Fraction, name: str) -> str:
    word, waters = ("part" if many == 1 else "parts" for many in (one, water))
    of = f" {name}" if name else ""
    return f"{_number(one)} {word}{of} to {_number(water)} {waters} water"


def _number(value: Fraction) -> str:
    """A number of a text again: a decimal where it is one, exactly."""
    decimal = Decimal(value.numerator) / Decimal(value.denominator)
    return f"{decimal:f}" if Fraction(decimal) == value else str(value)


def several(
    text: str,
    amount: str | None,
    system: System | None,
    spot: Spot | None,
    *,
    tail: str = "",
    whole: Spot | None = None,
) -> DoseError:
    """A word for several materials: what the amount would bring as each of them.

    Parameters
    ----------
    text : str
    amount : str or None
        None where it is a strength, or counts a nutrient.
    system : System or None
    spot : Spot or None
        Where the word stands.
    tail : str
        What is written of its purity, kept behind each of the names.
    whole : Spot or None
        Where it and the amount stand, None where other words stand between.
    """
    key = " ".join(text.lower().replace("sulph", "sulf").split())
    if key not in CANDIDATES:
        return lookup.unknown_material(text)
    element, ids = CANDIDATES[key]
    if not element or amount is None:
        plain = [_as_one(id, amount, "", "", spot, tail) for id in ids]
        asked = None if key in ITSELF else _asked(text, *plain)
        return lookup.unknown_material(text).asking(asked)
    try:
        measure = read.quantity(amount, system, oz_is="weight")
    except DoseError as err:
        return err
    shown, readings = [], []
    for id in ids:
        found = lookup.material(id)
        content = found.content(element)
        grams = _grams(found, measure)
        gives = ""
        if content is not None and grams is not None and content.basis == "w/w":
            gives = show(grams * content.factor.likely).metric
        readings.append(_as_one(id, amount, gives, element, spot, tail))
        shown.append(f"'{found.name}' ({gives} of {element})" if gives else f"'{found.name}'")
    itself = ""
    if measure.is_a(MASS):
        itself = f" or '{amount} {element}' (that weight of the element itself)"
        if key in ITSELF:  # every reading is offered, or none
            readings += _itself(ITSELF[key], ids, amount, measure, whole)
    return refuse(
        "prose-several", text=f"{amount} {text}", which=" or ".join(shown), itself=itself
    ).asking(_asked(f"{amount} {text}", *readings))


def _as_one(
    id: str, amount: str | None, gives: str, element: str, spot: Spot | None, tail: str
) -> _Reading:
    name = lookup.material(id).name
    if amount is None:
        label = Say.of("answer-material", name=name)
    elif gives:
        label = Say.of("answer-gives", amount=amount, name=name, gives=gives, element=element)
    else:
        label = Say.of("answer-amount", amount=amount, name=name)
    return lookup.plain_name(id) + tail, spot, label


def _itself(
    nutrient: str, ids: tuple[str, ...], amount: str, measure: Measure, whole: Spot | None
) -> list[_Reading]:
    """The amount as the nutrient's own weight, from each of the materials."""
    element, share = element_of(nutrient)
    readings = []
    for id in ids:
        found = lookup.material(id)
        content = found.content(element)
        if content is None or content.basis != "w/w":
            continue
        mass = show(measure.to(GRAM) * (share / content.factor.likely)).metric
        label = Say.of(
            "answer-itself", amount=amount, nutrient=nutrient, name=found.name, mass=mass
        )
        readings.append((f"{amount} {nutrient} from {lookup.plain_name(id)}", whole, label))
    return readings


def _grams(material: Material, amount: Measure) -> Measure | None:
    if amount.is_a(MASS):
        return amount.to(GRAM)
    if material.density is None:
        return None
    try:
        return Measure(amount.amount_in(ML) * material.density.likely, GRAM)
    except DoseError:
        return None


def oxide(amount: str, nutrient: str, system: System | None, spot: Spot | None) -> DoseError:
    """P or P2O5, K or K2O: each reading as the other's weight."""
    word, times = {"P": ("P2O5", "2.29"), "K": ("K2O", "1.20")}[nutrient]
    measure = read.quantity(amount, system, oz_is="weight")
    _, share = element_of(word)
    mass, more, less = (show(m).metric for m in (measure, measure * (1 / share), measure * share))
    before = None if spot is None else Spot(spot.start, spot.start)
    asked = _asked(
        f"{amount} {nutrient}",
        ("actual ", before,
         Say.of("answer-nutrient", mass=mass, nutrient=nutrient, as_mass=more, as_nutrient=word)),
        (word, spot,
         Say.of("answer-nutrient", mass=mass, nutrient=word, as_mass=less, as_nutrient=nutrient)),
    )  # fmt: skip
    return refuse(
        "prose-oxide", text=f"{amount} {nutrient}", element=nutrient, oxide=word, times=times,
        mass=mass,
    ).asking(asked)  # fmt: skip


def ounces(
    low: str, high: str | None, system: System | None, spot: Spot | None
) -> DoseError | None:
    """A bare ounce of a liquid: by weight, or a fluid ounce; None where it is no such.

    Parameters
    ----------
    low, high : str or None
        The amount as written, and the upper end of a range.
    system : System or None
        Whose fluid ounce it would be; both of them where that is not known.
    spot : Spot or None
        Where it stands.
    """
    try:
        read.quantity(low, system, oz_is="doubt")
    except DoseError as err:
        if err.say.key != "read-oz":
            return None
        numbers = [end.rpartition(" ")[0] for end in (low, high) if end is not None]
        whose: tuple[System, ...] = ("us", "imperial") if system in (None, "metric") else (system,)
        units = [("oz by weight", Say.of("answer-weight", amount=_weight(low)))]
        for one in whose:
            unit = f"{SYSTEM_WORD[one]} fl oz"
            volume = show(read.quantity(f"{numbers[0]} {unit}")).metric
            units.append((unit, Say.of("answer-fluid", whose=SYSTEM_WORD[one], amount=volume)))
        readings = (
            (" to ".join(f"{number} {unit}" for number in numbers), spot, label)
            for unit, label in units
        )
        return err.asking(_asked(low if high is None else f"{low} to {high}", *readings))
    return None


def _weight(text: str) -> str:
    return show(read.quantity(text, oz_is="weight")).metric


def lime(text: str, spot: Spot | None) -> DoseError:
    """The old notation with a lime of no kind.

    Parameters
    ----------
    text : str
        "4-4-50".
    spot : Spot or None
        Where the word lime stands, None where no such word does.
    """
    kinds = ("hydrated-lime", "quicklime")
    asked = _asked(f"lime {text}", *(_as_one(id, None, "", "", spot, "") for id in kinds))
    return refuse("prose-copper-lime", text=text).asking(asked)


def copper_gallons(text: str, gallons: str) -> DoseError:
    """The old notation in gallons of no country."""
    answers = []
    systems: tuple[System, ...] = ("us", "imperial")
    for system in systems:
        whose = SYSTEM_WORD[system]
        amount = show(read.quantity(f"{gallons} {whose} gal")).metric
        label = Say.of("answer-measures", whose=whose, amount=amount)
        answers.append(Answer(label, measures=system))
    asked = Doubt(text, tuple(answers))
    return refuse("prose-copper-gallon", text=text, gallons=gallons).asking(asked)


def neutralising(found: list[Mark]) -> None:
    """Refuse a liming value: which of the two limes the amount counts was not said."""
    low = [mark.low for mark in found]
    for at, phrase in ((at, p) for at in range(len(low)) for p in _LIMING):
        end = at + len(phrase)
        if tuple(low[at:end]) != phrase:
            continue
        for start in (*range(end, end + 3), at - 2):  # "CCE of 80 %", "80 % CCE"
            if start < 0 or low[start + 1 : start + 2] != ["%"] or found[start].kind != "num":
                continue
            text = " ".join(mark.text for mark in found[min(at, start) : max(end, start + 2)])
            value = read.number(found[start].text, "us")
            if 0 < value <= _MOST_LIMING:
                raise refuse("prose-cce", text=text, number=found[start].text,
                             times=rounded(100 / value)[0])  # fmt: skip
        raise refuse("prose-cce-what", text=" ".join(mark.text for mark in found[at : end + 3]))


def _asked(text: str, *readings: _Reading) -> Doubt | None:
    """The readings as answers; None where their place in the text is not known."""
    answers = []
    for new, spot, label in readings:
        if spot is None:
            return None
        answers.append(Answer(label, new, spot.start, spot.end))
    return Doubt(text, tuple(answers))


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

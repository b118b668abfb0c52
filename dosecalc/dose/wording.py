"""Figures, limits and scopes as the words that findings are filled with."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from dosecalc.catalog.limit import Limit
from dosecalc.dose.deliver import Delivered
from dosecalc.say import Say
from dosecalc.units.engine import Unit, dimension
from dosecalc.units.measure import Measure
from dosecalc.units.show import Direction, number_text, rounded

ELEMENT_NAMES = {
    "N": "nitrogen", "P": "phosphorus", "K": "potassium", "Ca": "calcium", "Mg": "magnesium",
    "S": "sulfur", "B": "boron", "Cu": "copper", "Fe": "iron", "Mn": "manganese",
    "Mo": "molybdenum", "Zn": "zinc", "Na": "sodium", "Cl": "chloride", "P2O5": "phosphate (P2O5)",
    "K2O": "potash (K2O)",
}  # fmt: skip

_MASS_UNITS: dict[str, Unit] = {
    "field area": (("hectare", -1), ("kg", 1)),
    "band area": (("hectare", -1), ("kg", 1)),
    "row length": (("gram", 1), ("meter", -1)),
    "solution": (("gram", 1), ("liter", -1)),
    "irrigation water": (("liter", -1), ("mg", 1)),
    "plant": (("gram", 1), ("plant", -1)),
    "medium volume": (("gram", 1), ("liter", -1)),
}
_VOLUME_UNITS: dict[str, Unit] = {
    "field area": (("hectare", -1), ("liter", 1)),
    "band area": (("hectare", -1), ("liter", 1)),
    "row length": (("mL", 1), ("meter", -1)),
    "solution": (("liter", -1), ("mL", 1)),
    "plant": (("mL", 1), ("plant", -1)),
    "medium volume": (("liter", -1), ("mL", 1)),
    "depth": (("cm", 1),),
}
_HEAVY = Measure(Fraction(1000), (("hectare", -1), ("kg", 1)))


def about_text(of: str, holders: tuple[Delivered, ...]) -> str:
    """What a finding is about: "boron", "Wood ash"."""
    if of in ELEMENT_NAMES:
        return ELEMENT_NAMES[of]
    if of.startswith("salt:"):
        return f"{of.removeprefix('salt:')} together"
    return " and ".join(d.material.name for d in holders) or of


def _unit(per: str, figure: Measure) -> Unit:
    for table in (_MASS_UNITS, _VOLUME_UNITS):
        unit = table.get(per)
        if unit is not None and dimension(unit) == dimension(figure.unit):
            return unit
    return figure.unit


def figure_text(figure: Measure, per: str, direction: Direction = "nearest") -> str:
    """A figure in the metric unit of its basis; heavy dressings per square metre as well."""
    if per == "count":
        return how_often(int(figure.value))
    text = number_text(figure, _unit(per, figure), direction=direction)
    if dimension(figure.unit) == dimension(_HEAVY.unit) and figure >= _HEAVY:
        return f"{text} ({number_text(figure, (('gram', 1), ('meter', -2)), direction=direction)})"
    return text


def limit_text(limit: Limit) -> str:
    """The limit in metric and as printed: "at most 3.36 kg/ha (printed: 3 lb/acre)"."""
    edge = "at most" if limit.inclusive else "below"
    if limit.lower:
        edge = "at least"
    if limit.excludes:
        return "none at all"
    return f"{edge} {figure_text(limit.limit, limit.per)} (printed: {limit.printed})"


def basis_text(per: str) -> str:
    """What the figure is over, in words."""
    return {
        "field area": "over the whole ground",
        "band area": "over the treated band",
        "row length": "along the row",
        "solution": "in the mixed liquid",
        "irrigation water": "in the water",
        "plant": "for each plant",
        "medium volume": "in the growing medium",
        "depth": "as a layer",
        "count": "in number",
    }[per]


def scope_text(limit: Limit) -> str:
    """Where a limit holds: crops, setting, window, region."""
    return scope_say(limit).english()


def scope_say(limit: Limit) -> Say:
    """The same as the sentence that it is."""
    crops = "any crop" if "any" in limit.crops else ", ".join(sorted(limit.crops))
    parts = [Say.of("scope-crops", crops=crops.replace("-", " "))]
    if "any" not in limit.setting:
        parts.append(settings_say(sorted(limit.setting)))
    if limit.phase != "any":
        parts.append(Say.of(f"scope-{limit.phase}"))
    parts.append(Say.of("scope-window", window=window_text(limit)))
    if limit.region != "any":
        parts.append(Say.of("scope-law" if limit.law else "scope-region", region=limit.region))
    return Say.around("scope", "parts", parts, "; ")


def settings_say(settings: Iterable[str]) -> Say:
    """Such as "field/garden"."""
    each = (Say.of("scope-setting", setting=setting) for setting in settings)
    return Say.around("scope-settings", "settings", each, "/")


def window_text(limit: Limit) -> str:
    """Over which time a limit counts: "season", "7 rolling years"."""
    return f"{limit.years} rolling years" if limit.years else limit.window


def times_text(ratio: Fraction) -> str:
    """A ratio to two digits: "2.1 times"; never rounded down to the limit itself."""
    text, _ = rounded(ratio, 2)
    if ratio > 1 and text == "1":
        return "just above"
    return f"{text} times"


def how_often(count: int) -> str:
    """A number of times: "once", "twice", "3 times"."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")

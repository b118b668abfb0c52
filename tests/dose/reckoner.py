"""A second reckoner, to hold dosecalc against: it shares no line, no table and no library with it.

Factors: SI Brochure, 9th edition; NIST Handbook 44, Appendix C (inch, pound, US measures); UK
Weights and Measures Act 1985, Schedule 1 (imperial gallon and bushel); NIST SP 430 (metric
spoons); New South Wales health chart (Australian spoons and cup); imperial spoons and cup as the
present British ones of 15 and 5 mL and half a pint. Weights: IUPAC abridged (CIAAW 2021).
"""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction as F
from pathlib import Path
from typing import Any

FT, LB = F("0.3048"), F("453.59237")  # m, g
US, IMP = 231 * (FT / 12) ** 3 * 1000, F("4.54609")  # litres of a gallon

UNITS = {  # everything in g, L, m, m2 or a count
    "g": 1, "mg": F("0.001"), "kg": 1000, "t": 1000000, "oz": LB / 16, "lb": LB,
    "mL": F("0.001"), "L": 1, "m3": 1000, "cu ft": FT**3 * 1000, "cu yd": 27 * FT**3 * 1000,
    "mm": F("0.001"), "cm": F("0.01"), "m": 1, "in": FT / 12, "ft": FT, "yd": 3 * FT,
    "m2": 1, "ha": 10000, "sq ft": FT**2, "sq yd": 9 * FT**2, "acre": 43560 * FT**2,
    "plant": 1, "plants": 1, "pot": 1, "pots": 1,
}  # fmt: skip
GALLONS = {"gal": 1, "qt": F(1, 4), "pt": F(1, 8)}
MEASURES = {
    "us": {k: US * v for k, v in GALLONS.items()}
    | {"cup": US / 16, "fl oz": US / 128, "tbsp": US / 256, "tsp": US / 768,
       "bushel": F("2150.42") * (FT / 12) ** 3 * 1000},
    "imperial": {k: IMP * v for k, v in GALLONS.items()}
    | {"cup": IMP / 16, "fl oz": IMP / 160, "tbsp": F("0.015"), "tsp": F("0.005"),
       "bushel": 8 * IMP},
    "metric": {"cup": F("0.25"), "tbsp": F("0.015"), "tsp": F("0.005")},
    "australian": {k: IMP * v for k, v in GALLONS.items()}
    | {"cup": F("0.25"), "fl oz": IMP / 160, "tbsp": F("0.02"), "tsp": F("0.005")},
}  # fmt: skip
MASSES = frozenset({"g", "mg", "kg", "t", "oz", "lb"})
WEIGHTS = {k: F(v) for k, v in (pair.split() for pair in (
    "H 1.008", "B 10.81", "C 12.011", "N 14.007", "O 15.999", "Na 22.990", "Mg 24.305",
    "Al 26.982", "P 30.974", "S 32.06", "Cl 35.45", "K 39.098", "Ca 40.078", "Mn 54.938",
    "Fe 55.845", "Cu 63.546", "Zn 65.38", "Mo 95.95"))}  # fmt: skip
COUNTED = WEIGHTS.keys() - {"H", "C", "O", "Al"}
OXIDES = {"P2O5": "P", "K2O": "K", "CaO": "Ca", "MgO": "Mg", "SO3": "S"}


def number(text: str) -> F:
    return sum((F(part) for part in text.split()), F(0))


def amount(text: str, system: str) -> tuple[F, bool]:
    """A quantity in base units, and whether it is a mass. A word of no unit is a KeyError."""
    match = re.fullmatch(r"([\d./ ]*\d) *([a-zA-Z][a-zA-Z0-9 ]*)", text)
    assert match is not None, text
    return number(match[1]) * (UNITS | MEASURES[system])[match[2]], match[2] in MASSES


def shares(formula: str) -> dict[str, F]:
    """Mass fraction of each element of a formula, by unfolding it into a row of atoms."""
    parts = [re.fullmatch(r"(\d*)(.*)", part) for part in formula.split(".")]
    text = "".join(f"({part[2]}){part[1]}" for part in parts if part)
    while match := re.search(r"\(([^()]*)\)(\d*)", text):
        text = text.replace(match[0], match[1] * int(match[2] or 1), 1)
    masses: dict[str, F] = {}
    for symbol, count in re.findall(r"([A-Z][a-z]?)(\d*)", text):
        masses[symbol] = masses.get(symbol, F(0)) + WEIGHTS[symbol] * int(count or 1)
    return {symbol: mass / sum(masses.values()) for symbol, mass in masses.items()}


class Stuff:
    """A material from its own file: density in g/L, contents per gram or (by volume) per litre."""

    def __init__(self, file: Path) -> None:
        data = tomllib.loads(file.read_text("utf-8"))
        likely = data.get("density", {}).get("likely")
        self.density = None if likely is None else F(likely.removesuffix(" g/mL")) * 1000
        pure = F(data.get("purity", "100")) / 100
        found = shares(data["formula"]) if "formula" in data else {}
        self.by_mass = {word: share * pure for word, share in found.items() if word in COUNTED}
        self.by_volume: dict[str, F] = {}
        for entry in data.get("analysis", ()):
            dry = entry.get("state") == "dry"
            if dry and "moisture" not in data:
                continue
            word, share = entry["nutrient"], F(1)
            if word in OXIDES:
                word, share = OXIDES[word], shares(word)[OXIDES[word]]
            ends = (entry["low"], entry["high"]) if "percent" not in entry else (entry["percent"],)
            likely = sum(map(F, ends)) / len(ends) / 100 * share
            likely *= 1 - F(data["moisture"]) / 100 if dry else 1
            volume = entry.get("basis") == "w/v"
            (self.by_volume if volume else self.by_mass)[word] = likely * (1000 if volume else 1)

    def turn(self, value: F, mass: bool) -> tuple[F | None, F | None]:
        """An amount as (grams, litres), None for the one that only a density would tell."""
        other = (
            None if self.density is None else value / self.density if mass else value * self.density
        )
        return (value, other) if mass else (other, value)


def asked(
    statement: dict[str, Any],
    system: str,
    site: dict[str, F],
    stuff: dict[str, Stuff],
    sprayed: bool = False,
) -> Any:
    """(material, amount, upper end or None, whether a mass) of each ingredient, and the liquid."""
    basis = statement["basis"]
    times = site[basis] / amount(statement["per"], system)[0]
    found = []
    for item in statement["ingredient"]:
        ends = [amount(item[key], system) for key in ("amount", "to") if key in item]
        values, mass = [value for value, _ in ends], ends[0][1]
        if basis == "layer":
            values = [value * site[basis] * 1000 for value in values]
        elif "nutrient" in item:
            word = item["nutrient"]
            holds = stuff[item["material"]].by_mass[OXIDES.get(word, word)]
            part = shares(word)[OXIDES[word]] if word in OXIDES else 1
            values = [value * part / holds * times for value in values]
        else:
            values = [value * times for value in values]
        found.append((item["material"], values[0], values[1] if values[1:] else None, mass))
    if "water" in statement:
        return found, amount(statement["water"]["amount"], system)[0] * times
    # What is sprayed at a rate per area goes out in the spray that the site takes.
    return found, site.get("spray volume") if sprayed or basis == "spray volume" else None


def delivered(measured: list[tuple[Stuff, F, bool]]) -> dict[str, F]:
    """Grams of each nutrient word in what was measured out (material, amount, whether a mass)."""
    total: dict[str, F] = {}
    for stuff, value, mass in measured:
        grams, litres = stuff.turn(value, mass)
        for base, contents in ((grams, stuff.by_mass), (litres, stuff.by_volume)):
            for word, share in contents.items() if base is not None else ():
                total[word] = total.get(word, F(0)) + base * share
    oxides = {word: total[OXIDES[word]] / shares(word)[OXIDES[word]] for word in ("P2O5", "K2O")
              if OXIDES[word] in total}  # fmt: skip
    return total | oxides

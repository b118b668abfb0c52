"""Contents of a chemical formula: mass fractions, and the oxide words of the trade."""

from __future__ import annotations

import re
from fractions import Fraction

from dosecalc.errors import refuse

ATOMIC_WEIGHT: dict[str, Fraction] = {
    symbol: Fraction(value)
    for symbol, value in {
        "H": "1.008", "B": "10.81", "C": "12.011", "N": "14.007", "O": "15.999", "F": "18.998",
        "Na": "22.990", "Mg": "24.305", "Al": "26.982", "Si": "28.085", "P": "30.974",
        "S": "32.06", "Cl": "35.45", "K": "39.098", "Ca": "40.078", "Cr": "51.996",
        "Mn": "54.938", "Fe": "55.845", "Co": "58.933", "Ni": "58.693", "Cu": "63.546",
        "Zn": "65.38", "Se": "78.971", "Mo": "95.95", "I": "126.90",
    }.items()
}  # fmt: skip
"""Abridged standard atomic weights (IUPAC, CIAAW 2021), in grams per mole."""

OXIDES: dict[str, tuple[str, str]] = {
    "P2O5": ("P", "P2O5"), "K2O": ("K", "K2O"), "CaO": ("Ca", "CaO"), "MgO": ("Mg", "MgO"),
    "SO3": ("S", "SO3"),
}  # fmt: skip
"""Oxide words: the element they count, and the formula that fixes the factor."""

NUTRIENTS = ("N", "P", "K", "Ca", "Mg", "S", "B", "Cu", "Fe", "Mn", "Mo", "Zn", "Na", "Cl",
             "Co", "Se", "Si")  # fmt: skip

WORDS = frozenset({*NUTRIENTS, *OXIDES})
"""Every word that a content or a need may count: an element, or an oxide of the trade."""

ANALYSIS = re.compile(r"\d+(\.\d+)?(-\d+(\.\d+)?){2}", re.ASCII)
"""The three figures of a bag: N, then P or P2O5, then K or K2O."""

OXIDE_REGIONS = ("US", "EU", "UK", "CA")
"""Where the three figures of a bag count P2O5 and K2O; in AU and NZ they count P and K."""

_TOKEN = re.compile(r"([A-Z][a-z]?)([1-9]\d*)?(?!\d)|(\()|(\))([1-9]\d*)?(?!\d)", re.ASCII)
_LEADING = re.compile(r"([1-9]\d*)?(?!\d)", re.ASCII)
MAX_FORMULA = 80


def atoms(formula: str) -> dict[str, int]:
    """Count the atoms of a formula with parentheses and a hydrate: "CuSO4.5H2O".

    Raises
    ------
    DoseError
        For anything that is not wholly a formula of known elements.
    """
    if len(formula) > MAX_FORMULA:
        raise refuse("formula", text=formula[:MAX_FORMULA])
    total: dict[str, int] = {}
    for index, part in enumerate(formula.split(".")):
        times = _LEADING.match(part) if index else None
        count = int(times.group() or 1) if times else 1
        body = part[times.end() :] if times else part
        for symbol, number in _part(body, formula).items():
            total[symbol] = total.get(symbol, 0) + number * count
    return total


def _part(body: str, formula: str) -> dict[str, int]:
    stack: list[dict[str, int]] = [{}]
    at = 0
    while at < len(body):
        match = _TOKEN.match(body, at)
        if match is None:
            raise refuse("formula", text=formula)
        symbol, number, opening, _, times = match.groups()
        if symbol:
            if symbol not in ATOMIC_WEIGHT:
                raise refuse("formula", text=formula)
            stack[-1][symbol] = stack[-1].get(symbol, 0) + int(number or 1)
        elif opening:
            stack.append({})
        else:
            if len(stack) == 1:
                raise refuse("formula", text=formula)
            group = stack.pop()
            if not group:
                raise refuse("formula", text=formula)
            for name, many in group.items():
                stack[-1][name] = stack[-1].get(name, 0) + many * int(times or 1)
        at = match.end()
    if len(stack) != 1 or not stack[0]:
        raise refuse("formula", text=formula)
    return stack[0]


def molar_mass(formula: str) -> Fraction:
    """Grams per mole, exact on the abridged weights."""
    return sum((ATOMIC_WEIGHT[s] * n for s, n in atoms(formula).items()), Fraction(0))


def contents(formula: str) -> dict[str, Fraction]:
    """Mass fraction of every element of `formula`, by symbol."""
    whole = molar_mass(formula)
    return {s: ATOMIC_WEIGHT[s] * n / whole for s, n in atoms(formula).items()}


def element_of(word: str) -> tuple[str, Fraction]:
    """The element that a nutrient word counts and its mass fraction: "P2O5" -> ("P", 0.4364)."""
    if word in OXIDES:
        element, oxide = OXIDES[word]
        return element, contents(oxide)[element]
    return word, Fraction(1)


def oxide_words(element: str) -> tuple[str, ...]:
    """The oxide words that count `element`: ("P2O5",) for "P"."""
    return tuple(word for word, (counted, _) in OXIDES.items() if counted == element)

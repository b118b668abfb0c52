"""Two wordings of one recipe held against each other: each difference with its size."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import ONE_RATE, Recipe, Statement
from dosecalc.dose.need import system_word
from dosecalc.dose.result import Finding
from dosecalc.say import Say
from dosecalc.units.show import rounded


def statement_findings(
    recipe: Recipe, used: Statement, materials: Mapping[str, Material]
) -> tuple[Finding, ...]:
    """A note for every other wording of the same basis that differs from the one used."""
    found: list[Finding] = []
    for other in recipe.statements:
        if other.basis != used.basis or other.measures == used.measures:
            continue
        parts = [
            f"{_signed(ratio)} {name}"
            for name, ratio in _ratios(used, other, materials)
            if abs(ratio - 1) > ONE_RATE
        ]
        if parts:
            found.append(
                Finding(
                    id=f"wording-{other.measures}",
                    level="note",
                    why="two-wordings",
                    about="recipe",
                    say=Say.of(
                        "two-wordings",
                        other=system_word(other.measures),
                        used=system_word(used.measures),
                        differences=", ".join(parts),
                        basis=used.basis,
                    ),
                )
            )
    return tuple(found)


def _ratios(
    used: Statement, other: Statement, materials: Mapping[str, Material]
) -> list[tuple[str, Fraction]]:
    """Each ingredient and the water: the other wording's amount per basis over the used one's."""
    found: list[tuple[str, Fraction]] = []
    for item in used.ingredients:
        match = next((i for i in other.ingredients if i.material == item.material), None)
        if match is None:
            continue
        mine, theirs = item.amount / used.per, match.amount / other.per
        try:
            ratio = theirs.amount_in(mine.unit) / mine.value
        except ValueError:
            continue
        found.append((materials[item.material].name, ratio))
    if used.water is not None and other.water is not None:
        mine, theirs = used.water.amount / used.per, other.water.amount / other.per
        found.append(("water", theirs.amount_in(mine.unit) / mine.value))
    return found


def _signed(ratio: Fraction) -> str:
    text, _ = rounded(abs(ratio - 1) * 100, 2)
    return f"{text} % {'more' if ratio > 1 else 'less'}"

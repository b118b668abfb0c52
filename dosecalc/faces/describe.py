"""Recipes and materials as text."""

from __future__ import annotations

from dosecalc.catalog.library import Book
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe, Statement
from dosecalc.dose.wording import how_often
from dosecalc.faces.wrap import wrap
from dosecalc.say import Say
from dosecalc.units.show import rounded, show, show_span
from dosecalc.units.spread import Span
from dosecalc.units.words import SYSTEM_WORD


def _fill(text: str) -> str:
    return "\n".join(wrap(text))


def contents_text(material: Material) -> str:
    """Such as "B 11.3 %": every content, the likely figure."""
    return ", ".join(
        f"{c.element} {rounded(c.factor.likely * 100)[0]} %{' w/v' if c.basis == 'w/v' else ''}"
        for c in material.contents
    )


def material_text(material: Material) -> str:
    """Everything that is known of one material."""
    lines = [f"{material.name} ({material.id})"]
    if material.also:
        lines.append(_fill(f"also: {', '.join(material.also)}"))
    lines.append(f"  form: {material.form}")
    if material.formula:
        lines.append(f"  formula: {material.formula}")
    for c in material.contents:
        span = Span(c.factor.low * 100, c.factor.likely * 100, c.factor.high * 100, ())
        basis = "% by weight" if c.basis == "w/w" else "g in 100 mL"
        lines.append(_fill(f"{c.element}: {show_span(span)} {basis} ({c.kind})"))
    for word in material.uncounted:
        lines.append(_fill(f"{word}: printed on dry matter, moisture not known: not counted"))
    if material.density is None:
        lines.append(_fill("bulk density: not known; weigh ten level spoons"))
    else:
        d = material.density
        span = Span(d.low, d.likely, d.high, d.unit)
        lines.append(_fill(f"density: {show_span(span, unit=d.unit)}: {material.density_how}"))
    for point in material.solubility:
        grams, _ = rounded(point.grams_per_litre)
        at, _ = rounded(point.celsius)
        used = "" if point.used else ", not used"
        lines.append(_fill(f"dissolves: {grams} g/L at {at} C{used}"))
    if material.insoluble:
        lines.append(_fill(material.insoluble))
    for key in material.hazards:
        lines.append(_fill(Say.of(f"hazard-{key}", name=material.name).english()))
    if material.caveat:
        lines.append(_fill(f"note: {material.caveat}"))
    for id in material.sources:
        found = source(id)
        lines.append(_fill(f"source: {found.cite()}"))
    return "\n".join(lines)


def recipe_text(recipe: Recipe, book: Book) -> str:
    """One recipe in words."""
    lines = [f"{recipe.name} ({recipe.id})", _fill(recipe.purpose)]
    lines += [_fill(_statement_text(s, book)) for s in recipe.statements]
    if recipe.crops:
        lines.append(_fill(f"on: {', '.join(recipe.crops)}"))
    if recipe.not_on:
        lines.append(_fill(f"not on: {', '.join(recipe.not_on)}"))
    if recipe.when:
        lines.append(_fill(f"when: {recipe.when}"))
    if recipe.repeat is not None:
        lines.append(_fill(_repeat_text(recipe)))
    lines += [_fill(f"take care: {text}") for text in recipe.cautions]
    if recipe.caveat:
        lines.append(_fill(f"note: {recipe.caveat}"))
    cited = [book.sources[id] for id in recipe.sources]
    lines += [_fill(f"source: {s.cite()}" + (f" <{s.url}>" if s.url else "")) for s in cited]
    if recipe.practice:
        lines.append("  common practice, no source")
    return "\n".join(lines)


def _statement_text(statement: Statement, book: Book) -> str:
    parts = [
        f"{i.printed}{f' of {i.nutrient} as' if i.nutrient else ''}"
        f" {book.materials[i.material].name}"
        for i in statement.ingredients
    ]
    water = ""
    if statement.water is not None:
        water = f" in {show(statement.water.amount).both()} of water"
    whose = f" ({SYSTEM_WORD[statement.measures]} measures)" if statement.measures else ""
    return f"{' + '.join(parts)}{water} per {statement.per_text}, by {statement.basis}{whose}"


def _repeat_text(recipe: Recipe) -> str:
    repeat = recipe.repeat
    assert repeat is not None
    parts = []
    if repeat.interval is not None:
        parts.append(f"not again within {show(repeat.interval).metric}")
    if repeat.most is not None:
        parts.append(f"at most {how_often(repeat.most)} in a {repeat.window or 'season'}")
    return "repeat: " + ", ".join(parts)

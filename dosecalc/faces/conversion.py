"""``convert`` as text: what was read, the answer, and what it rests on."""

from __future__ import annotations

from dosecalc.catalog.formula import WORDS
from dosecalc.catalog.lookup import find_material
from dosecalc.dose import convert as convert_module
from dosecalc.units import read
from dosecalc.units.show import number_text, show_span
from dosecalc.units.spread import Span
from dosecalc.units.words import System

ANSWER_DIGITS = 6


def convert(amount: str, to: str, system: System | None) -> str:
    """The answer to ``dosecalc convert``.

    Raises
    ------
    DoseError
        For anything that cannot be read or turned into `to`.
    """
    measure, name = read.leading(amount, system, example="15 mL borax", oz_is="weight")
    material = None
    if name:
        material = find_material(name.removeprefix("of "))
        if material.liquid:
            measure, _ = read.leading(amount, system, example="8 fl oz", oz_is="doubt")
    unit, nutrient = _target(to, system)
    found = convert_module.convert(measure, unit, material, nutrient)
    label = f" {nutrient}" if nutrient else ""
    if found.exact is not None:
        return f"{number_text(found.exact, unit, ANSWER_DIGITS)}{label}"
    lines = [f"{show_span(found.span, unit=unit)}{label}"]
    for factor in found.through:
        kind, _, _ = factor.key.partition(":")
        span = Span(factor.low, factor.likely, factor.high, factor.unit)
        shown = show_span(span, unit=factor.unit) if factor.unit else show_span(_percent(span))
        lines.append(f"  through the {kind}: {shown} {'' if factor.unit else '%'}".rstrip())
    return "\n".join(lines)


def _percent(span: Span) -> Span:
    return Span(span.low * 100, span.likely * 100, span.high * 100, ())


def _target(text: str, system: System | None) -> tuple[tuple[tuple[str, int], ...], str | None]:
    words = read.tidy(text, "a unit", "g").split(" ")
    for index, word in enumerate(words):
        head, slash, tail = word.partition("/")
        if index and head in WORDS:
            plain = " ".join(
                [*words[:index], *([slash + tail] if slash else []), *words[index + 1 :]]
            )
            return read.unit(plain.replace(" /", "/"), system), head
    return read.unit(text, system), None

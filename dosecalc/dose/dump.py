"""The `Mix` as JSON-ready plain values: 12 significant digits, ends rounded outward."""

from __future__ import annotations

from typing import Any

from dosecalc.catalog.source import Source
from dosecalc.dose.result import Amount, Finding, Measured, Mix, Supply, Tankful
from dosecalc.units.measure import Measure, unit_text
from dosecalc.units.show import twelve_digits
from dosecalc.units.spread import Span


def quantity(measure: Measure | None) -> dict[str, Any] | None:
    """{"value", "unit"}; None stays None."""
    if measure is None:
        return None
    return {"value": twelve_digits(measure.value), "unit": unit_text(measure.unit)}


def span(found: Span | None) -> dict[str, Any] | None:
    """{"low", "likely", "high", "unit"}; None stays None."""
    if found is None:
        return None
    return {
        "low": twelve_digits(found.low, "down"),
        "likely": twelve_digits(found.likely),
        "high": twelve_digits(found.high, "up"),
        "unit": unit_text(found.unit),
    }


def source(item: Source) -> dict[str, Any]:
    """What identifies a source, and its grade."""
    return {
        "id": item.id, "title": item.title, "publisher": item.publisher, "year": item.year,
        "url": item.url, "grade": item.grade,
    }  # fmt: skip


def dump(mix: Mix) -> dict[str, Any]:
    """The whole `Mix` under the published schema (docs/mix.schema.json)."""
    return {
        "recipe": {
            "id": mix.recipe_id,
            "name": mix.recipe_name,
            "how": mix.how,
            "basis": mix.basis,
        },
        "read_as": [line.english() for line in mix.read_as],
        "site": {
            name: value if isinstance(value, int) else quantity(value) for name, value in mix.site
        },
        "said": [line.english() for line in mix.said],
        "amounts": [_amount(item) for item in mix.amounts],
        "liquid": quantity(mix.liquid),
        "bags": mix.bags,
        "supplies": [_supply(item) for item in mix.supplies],
        "tankfuls": [_tankful(item) for item in mix.tankfuls],
        "findings": [_finding(item) for item in mix.findings],
        "assumed": [
            {"what": a.what.english(), "value": a.value, "instead": a.instead.english()}
            for a in mix.assumed
        ],
        "not_told": [line.english() for line in mix.not_told],
        "when_not": [line.english() for line in mix.when_not],
        "waits": [line.english() for line in mix.waits],
        "rescue": [line.english() for line in mix.rescue],
        "steps": [line.english() for line in mix.steps],
        "cautions": [line.english() for line in mix.cautions],
        "sources": [source(item) for item in mix.sources],
    }


def _amount(item: Amount) -> dict[str, Any]:
    return {
        "material": item.material,
        "name": item.name,
        "role": item.role,
        "volume": span(item.volume),
        "mass": span(item.mass),
        "in_solution": span(item.in_solution),
        "by_volume": span(item.by_volume),
        "up_to": quantity(item.up_to),
        "shown": item.shown,
    }


def _supply(item: Supply) -> dict[str, Any]:
    return {
        "nutrient": item.nutrient,
        "mass": span(item.mass),
        "per_area": span(item.per_area),
        "per_length": span(item.per_length),
        "in_band": span(item.in_band),
        "per_plant": span(item.per_plant),
        "in_solution": span(item.in_solution),
    }


def _tankful(item: Tankful) -> dict[str, Any]:
    return {
        "number": item.number,
        "of": item.of,
        "volume": quantity(item.volume),
        "amounts": [_amount(found) for found in item.amounts],
        "measures": [_measured(found) for found in item.measures],
        "batch": None
        if item.batch is None
        else {
            "make": quantity(item.batch.make),
            "use": quantity(item.batch.use),
            "rest": quantity(item.batch.rest),
            "say": item.batch.say.english(),
        },
    }


def _measured(item: Measured) -> dict[str, Any]:
    return {
        "material": item.material,
        "say": item.say.english(),
        "nominal": quantity(item.nominal),
        "amount": span(item.amount),
        "error_percent": twelve_digits(item.error_percent),
    }


def _finding(item: Finding) -> dict[str, Any]:
    return {
        "id": item.id,
        "level": item.level,
        "why": item.why,
        "about": item.about,
        "say": item.say.english(),
        "likely": quantity(item.likely),
        "high": quantity(item.high),
        "limit": quantity(item.limit),
        "ratio": None if item.ratio is None else twelve_digits(item.ratio),
        "scope": item.scope,
        "grade": item.grade,
        "source": item.source,
    }

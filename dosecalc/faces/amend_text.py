"""How a need of lime, sulfur or gypsum came about, in words and as JSON."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from dosecalc.catalog.acidity import Soil
from dosecalc.catalog.liming import Instead, Method, methods
from dosecalc.dose.amend import Requirement, depth_text, per_area, plain, reading, wait_text
from dosecalc.dose.amend_recipe import Dressing
from dosecalc.dose.dump import quantity
from dosecalc.dose.dump import source as dump_source
from dosecalc.dose.lime_product import LimeProduct
from dosecalc.faces.wrap import wrap
from dosecalc.say import Say
from dosecalc.units.measure import Measure

KEYS = {"raise": "lime", "lower": "acidify", "sodium": "gypsum"}
"""Under which key of the JSON each purpose stands."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a need became: for the product, in dressings."""

    purpose: str
    method: Method | None
    need: Requirement
    product: LimeProduct
    depth: Measure | None
    on_top: bool
    extra: tuple[Say, ...]
    salt: Instead | None = None


def methods_for(purpose: str) -> list[Method]:
    """The methods that raise, lower, or displace sodium."""
    sodium = purpose == "sodium"
    return [
        m
        for m in methods()
        if (m.shape == "sodium") is sodium and (sodium or m.lowers is (purpose == "lower"))
    ]


def listing(purpose: str) -> str:
    """Every method that serves a purpose, a paragraph each."""
    rows: list[str] = []
    for method in methods_for(purpose):
        known = ", ".join(reading(target) for target in method.targets)
        targets = Say.of("liming-amend-list-targets", targets=known) if known else ""
        needs = ", ".join(method.needs)
        say = Say.of(
            "liming-amend-list", id=method.id, name=method.name, needs=needs, targets=targets,
            where=method.where,
        )  # fmt: skip
        rows += wrap(say.english(), "", "  ")
    return "\n".join(rows)


def head(plan: Plan) -> list[str]:
    """Which method, its source, where it holds."""
    if plan.method is None:
        return []
    where = plan.method.where
    cite = plan.method.source.cite()
    url = f" <{plan.method.source.url}>" if plan.method.source.url else ""
    return [
        Say.of("liming-amend-head", name=plan.method.name, id=plan.method.id).english(),
        Say.of("liming-amend-source", source=f"{cite}{url}").english(),
        Say.of("liming-amend-where", where=where).english(),
    ]


def sums(plan: Plan, each: Dressing, why: Callable[[Measure], tuple[str, str]]) -> list[Say]:
    """The sums, and in how many dressings and why."""
    lines = list(plan.need.lines)
    if each.count == 1:
        return [*lines, Say.of("liming-need-whole")]
    wait = (
        Say.of("liming-need-wait-untold")
        if each.wait is None
        else Say.of("liming-need-wait", wait=wait_text(each.wait))
    )
    limit, cite = why(plan.need.amount)
    return [
        *lines,
        Say.of(
            "liming-need-parts", count=each.count, amount=per_area(each.amount), wait=wait,
            limit=limit, source=cite,
        ),
    ]  # fmt: skip


def doubts(plan: Plan) -> list[Say]:
    """What rests on a weak source."""
    found: list[Say] = []
    if plan.method is not None and not plan.method.source.strong:
        key = "liming-weak-sodium" if plan.purpose == "sodium" else "liming-weak-method"
        found.append(Say.of(key, source=plan.method.source.cite()))
    if plan.salt is not None and not plan.salt.source.strong:
        factor = plain(plan.salt.factor)
        found.append(Say.of("liming-weak-salt", factor=factor, source=plan.salt.source.cite()))
    return found


def taken(plan: Plan, soil: Soil) -> list[Say]:
    """What was taken of the pH and of the depth."""
    found: list[Say] = []
    if soil.ph is not None and not soil.ph_in_told:
        found.append(Say.of("liming-taken-water"))
    if plan.on_top or plan.purpose == "sodium":
        return found
    if plan.depth is not None:
        found.append(Say.of("liming-taken-depth", depth=depth_text(plan.depth)))
    elif plan.method is not None:
        found.append(Say.of("liming-taken-depth-none"))
    return found


def about(plan: Plan, each: Dressing) -> dict[str, Any]:
    """The same for JSON."""
    method = plan.method
    return {
        "method": None if method is None else method.id,
        "source": None if method is None else dump_source(method.source),
        "where": None if method is None else method.where,
        "counts": plan.need.counts.text(),
        "sums": [say.english() for say in plan.need.lines],
        "taken": [say.english() for say in plan.need.taken],
        "depth": quantity(plan.depth),
        "product": plan.product.material.id,
        "whole": quantity(plan.need.amount),
        "dressings": each.count,
        "each": quantity(each.amount),
        "wait": quantity(each.wait),
        "doubts": [say.english() for say in doubts(plan)],
        "notes": [say.english() for say in plan.extra],
    }

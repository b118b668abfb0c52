"""Liming, acidifying and gypsum: from what was typed to a job, and how it came about in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from dosecalc.catalog.acidity import Soil, SoilText, percent, read_soil
from dosecalc.catalog.garden import Garden
from dosecalc.catalog.liming import (
    Method,
    fineness,
    free_lime,
    insteads,
    limit_waits,
    magnesium,
    methods,
)
from dosecalc.catalog.limit import read_limits
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.strength import (
    ADVICE,
    GYPSUM,
    LIME,
    LIMES,
    SULFUR,
    LimingValue,
    read_advice,
    read_fineness,
    read_liming_value,
)
from dosecalc.dose.acidify import acid_need, check_free_lime
from dosecalc.dose.amend import Requirement, check_place, per_area, plain
from dosecalc.dose.amend_recipe import Dressing, amend_recipe
from dosecalc.dose.lime import lime_need
from dosecalc.dose.lime_product import (
    LimeProduct,
    in_product,
    instead_of_sulfur,
    own_product,
    parts,
    pure_product,
)
from dosecalc.dose.result import Mix
from dosecalc.dose.sodium import sodium_need
from dosecalc.errors import DoseError, refuse
from dosecalc.faces.amend_text import KEYS, Plan, about, doubts, head, methods_for, sums, taken
from dosecalc.faces.job import Job, Ready, garden_of, run, told_of, with_garden
from dosecalc.faces.wrap import wrap
from dosecalc.say import Say
from dosecalc.units import read
from dosecalc.units.measure import MASS_PER_AREA, Measure
from dosecalc.units.show import show

_LENGTH = (("[length]", 1),)
_METER = (("meter", 1),)
_DEEPEST = 2
_MOST_DRESSINGS = 12
"""More than this many dressings, or soil deeper than this (m), is a slip of the pen: ours."""
_WETTEST = Fraction(60, 100)
"""Water as a share of a lime's weight from which the figure is taken for a slip: ours."""
_LIMES = ("lime", "wood-ash")
_SALT = "ferrous sulfate"


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed beside the site: the report, the method, the bag."""

    soil: SoilText
    method: str | None = None
    advice: str | None = None
    depth: str | None = None
    credit: str | None = None
    product: str | None = None
    liming_value: str | None = None
    fineness: str | None = None
    moisture: str | None = None
    purity: str | None = None
    on_top: bool = False


@dataclass(frozen=True, slots=True)
class Made:
    """A job that is ready to run, and how it came about."""

    job: Job
    lines: tuple[str, ...]
    about: dict[str, Any]


def _named(purpose: str, name: str | None) -> Method:
    """The method of that name; none is ever chosen for a person."""
    known = methods_for(purpose)
    ids = ", ".join(method.id for method in known)
    if name is None:
        more = Say.of("liming-method-none-advice", example=ADVICE) if purpose == "raise" else ""
        raise refuse("liming-method-none", known=ids, more=more)
    found = next((method for method in known if method.id == name), None)
    if found is None:
        raise refuse("liming-method-unknown", text=name, known=ids)
    return found


def lime(asked: Asked, job: Job) -> Made:
    """A job of lime.

    Raises
    ------
    DoseError
        For what cannot be read, and outside the method's range.
    """
    garden, job = _at_home(job)
    soil = read_soil(asked.soil)
    method, need, depth = _lime_need(asked, soil, job)
    bag = _lime_bag(asked, garden)
    found = in_product(need, bag, fineness())
    on_top = asked.on_top or (method is not None and method.placement == "broadcast")
    extra = [*_magnesium(soil), *_others(method, soil)]
    plan = Plan("raise", method, found, bag, depth, on_top, tuple(extra))
    return _made(plan, soil, job)


def _lime_need(
    asked: Asked, soil: Soil, job: Job
) -> tuple[Method | None, Requirement, Measure | None]:
    depth = _depth(asked.depth)
    if asked.advice is not None:
        figures = (soil.ph, soil.target_ph, soil.buffer, soil.acidity, soil.texture, asked.credit)
        if asked.method is not None or any(figure is not None for figure in figures):
            raise refuse("liming-method-and-advice")
        amount, counts = read_advice(asked.advice)
        line = Say.of("liming-need-advice", amount=per_area(amount), counts=counts.text())
        return None, Requirement(amount, counts, (line,)), depth
    method = _named("raise", asked.method)
    if asked.on_top and method.placement != "broadcast":
        raise refuse("liming-method-surface", method=method.id, way="lime that is worked in")
    _check_place(method, job)
    credit = None
    if asked.credit is not None:
        credit = read.positive(
            asked.credit, MASS_PER_AREA, want="a credit", example="0.2 US ton/acre",
            oz_is="weight",
        )  # fmt: skip
    return method, lime_need(method, soil, depth, credit), depth or method.depth


def acidify(asked: Asked, job: Job) -> Made:
    """A job of sulfur, or of a salt in its place.

    Raises
    ------
    DoseError
        For what cannot be read, outside the method's range, and for a soil that holds free lime.
    """
    garden, job = _at_home(job)
    soil = read_soil(asked.soil)
    check_free_lime(soil, free_lime())
    method = _named("lower", asked.method)
    _check_place(method, job)
    depth = _depth(asked.depth)
    need = acid_need(method, soil, depth)
    if method.counts.kind == _SALT:
        if asked.product is not None or asked.purity is not None:
            raise refuse("liming-acid-method-salt", method=method.id, need=_SALT)
        bag = LimeProduct(
            garden.material("ferrous-sulfate-heptahydrate"), method.counts, told=False
        )
        return _made(Plan("lower", method, need, bag, depth or method.depth, False, ()), soil, job)
    material = garden.material(asked.product or "elemental-sulfur")
    extra: tuple[Say, ...] = ()
    salt = None
    if "sulfur" in material.traits:
        bag = LimeProduct(material, *_strength(asked.purity, SULFUR, "S"))
        found = in_product(need, bag)
    else:
        salt = next((one for one in insteads() if one.material == material.id), None)
        if salt is None:
            raise refuse("liming-acid-no-acid", name=material.name)
        if asked.purity is not None:
            raise refuse("liming-acid-purity", name=material.name)
        found = instead_of_sulfur(need, salt)
        bag = LimeProduct(material, method.counts, told=False)
        extra = (Say.of("liming-amend-instead", why=salt.caveat),)
    deep = depth or method.depth
    return _made(Plan("lower", method, found, bag, deep, False, extra, salt), soil, job)


def gypsum(asked: Asked, job: Job) -> Made:
    """A job of gypsum against sodium.

    Raises
    ------
    DoseError
        For what cannot be read, and where something that the method needs was not told.
    """
    garden, job = _at_home(job)
    soil = read_soil(asked.soil)
    (method,) = methods_for("sodium")
    _check_place(method, job)
    depth = _depth(asked.depth)
    need = sodium_need(method, soil, depth)
    material = garden.material(asked.product or "gypsum")
    if "gypsum" not in material.traits:
        raise refuse("liming-no-gypsum", name=material.name)
    bag = LimeProduct(material, *_strength(asked.purity, GYPSUM, "gypsum"))
    found = in_product(need, bag)
    return _made(Plan("sodium", method, found, bag, depth or method.depth, False, ()), soil, job)


def _at_home(job: Job) -> tuple[Garden, Job]:
    """The garden, and the job with what is told of its place filled in from it."""
    garden = garden_of(job.garden)
    return garden, replace(job, told=with_garden(job, garden).told)


def _check_place(method: Method, job: Job) -> None:
    told = told_of(job.told)
    check_place(method, told.region, told.setting)


def _depth(text: str | None) -> Measure | None:
    if text is None:
        return None
    found = read.positive(text, _LENGTH, want="a depth", example="15 cm")
    if found.amount_in(_METER) > _DEEPEST:
        raise refuse("liming-amend-depth", text=text)
    return found


def _strength(text: str | None, example: str, kind: str) -> tuple[LimingValue, bool]:
    """The purity of the label and that it was told, else of the pure thing."""
    if text is None:
        return LimingValue(kind, Fraction(100)), False
    return read_liming_value(text, example, frozenset({kind})), True


def _lime_bag(asked: Asked, garden: Garden) -> LimeProduct:
    material = garden.material(asked.product or "ground-limestone")
    if not any(trait in material.traits for trait in _LIMES):
        raise refuse("liming-no-lime", name=material.name)
    told = asked.liming_value
    value = pure_product(material) if told is None else read_liming_value(told, LIME, LIMES)
    moisture = None
    if asked.moisture is not None:
        moisture = percent(asked.moisture) / 100
        if moisture >= _WETTEST:
            raise refuse("liming-moisture-what", text=asked.moisture)
    sieves = () if asked.fineness is None else read_fineness(asked.fineness)
    return LimeProduct(material, value, told is not None, moisture, sieves)


def _magnesium(soil: Soil) -> list[Say]:
    """Whether a source asks for dolomitic stone at this magnesium; silent where it was not told."""
    if soil.magnesium is None:
        return []
    return [
        Say.of(
            "liming-magnesium-low" if soil.magnesium < rule.below else "liming-magnesium-enough",
            text=plain(soil.magnesium), below=plain(rule.below), where=rule.where,
            source=rule.source.cite(),
        )
        for rule in magnesium()
    ]  # fmt: skip


def _others(method: Method | None, soil: Soil) -> list[Say]:
    """What other texture tables give for the same soil: published ones disagree."""
    if method is None or method.shape != "table" or method.columns != "texture":
        return []
    found: list[str] = []
    for other in methods():
        if other is method or (other.lowers, other.shape, other.target) != (
            method.lowers, method.shape, method.target,
        ):  # fmt: skip
            continue
        try:
            need = lime_need(other, soil)
        except DoseError:
            continue
        found.append(f"{show(need.amount).metric} ({other.id})")
    return [Say.of("liming-other-tables", others=", ".join(found))] if found else []


def _made(plan: Plan, soil: Soil, job: Job) -> Made:
    """The first dressing as a job: in as many as the limits in scope make of the whole."""
    material = own_product(plan.product)
    weak = [say.english() for say in doubts(plan)]
    manure = [Say.of("liming-amend-manure").english()] if plan.purpose == "raise" else []
    cautions = [*weak, *manure]

    def ready(dressing: Dressing) -> Job:
        recipe = amend_recipe(
            plan.purpose, material, dressing, plan.method, plan.depth, cautions, plan.on_top
        )
        return replace(job, recipe=recipe.id, ready=Ready(recipe, {material.id: material}))

    whole = Dressing(plan.need.amount)
    trial = run(ready(whole))
    held, why = _held(trial, plan, material)
    count = parts(plan.need.amount, [limit for limit, _ in held])
    if count > _MOST_DRESSINGS:
        raise refuse("liming-amend-many", count=count, limit=why(plan.need.amount)[0])
    waits = [wait for limit, wait in held if parts(plan.need.amount, [limit]) > 1]
    longest = _longest(waits)
    each = Dressing(plan.need.amount / count, count, longest)
    lines = [*head(plan), *(s.english() for s in sums(plan, each, why)), *weak]
    lines += [s.english() for s in (*plan.need.taken, *taken(plan, soil), *plan.extra)]
    lines.append(Say.of("liming-amend-local").english())
    rows = [row for line in lines for row in wrap(line, "", "  ")]
    return Made(ready(each), tuple(rows), {KEYS[plan.purpose]: about(plan, each)})


def _held(
    trial: Mix, plan: Plan, material: Material
) -> tuple[list[tuple[Measure, Measure | None]], Callable[[Measure], tuple[str, str]]]:
    """Every figure over an area that a single dose is held against, and its published wait.

    A limit of lime is one of limestone of value 100, so that a stronger lime reaches it sooner; a
    weaker one is counted as it lies in the bag, as the judge counts it.
    """
    ids = {finding.id for finding in trial.findings}
    terms = frozenset({material.id, *(f"trait:{trait}" for trait in material.traits)})
    known = [limit for limit in read_limits(terms, source) if limit.id in ids]
    waits = limit_waits()
    held: list[tuple[Measure, Measure | None]] = []
    names: list[tuple[Measure, str, str]] = []
    value = plan.need.counts
    strong = value.share if value.family == "CaCO3" else Fraction(1)
    for limit in known:
        if limit.lower or limit.per != "field area":
            continue
        if limit.window not in ("application", "calendar year"):
            continue
        figure = limit.limit / max(Fraction(1), strong) if limit.of == "trait:lime" else limit.limit
        wait = waits.get(limit.id)
        held.append((figure, None if wait is None else wait.wait))
        names.append((figure, per_area(limit.limit), limit.source.cite()))
    if plan.need.once is not None:
        assert plan.method is not None
        held.append((plan.need.once, plan.method.again))
        names.append((plan.need.once, per_area(plan.need.once), plan.method.source.cite()))

    def why(amount: Measure) -> tuple[str, str]:
        """The figure that makes the most parts of it, in words, and its source."""
        _, text, cite = max(names, key=lambda name: parts(amount, [name[0]]))
        return f"at most {text}", cite

    return held, why


def _longest(waits: Sequence[Measure | None]) -> Measure | None:
    found = [wait for wait in waits if wait is not None]
    return max(found, key=lambda wait: wait.amount_in((("day", 1),))) if found else None

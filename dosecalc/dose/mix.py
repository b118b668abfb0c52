"""The pipeline: need, plan, deliver, judge, `Mix`."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from dosecalc.catalog.build import whole_bags
from dosecalc.catalog.material import IRRIGATION_WATER, is_volume
from dosecalc.catalog.site import Site
from dosecalc.catalog.source import Source
from dosecalc.catalog.tools import Tools
from dosecalc.dose import tankfuls
from dosecalc.dose.compare import statement_findings
from dosecalc.dose.deliver import asked_span, strength, supplies
from dosecalc.dose.need import (
    SPRAYED,
    Need,
    NeedAmount,
    choose_statement,
    need,
    system_word,
)
from dosecalc.dose.plan import Action
from dosecalc.dose.request import Request
from dosecalc.dose.result import (
    LEVELS,
    Amount,
    Assumed,
    Finding,
    MadeBatch,
    Measured,
    Mix,
    Tankful,
)
from dosecalc.dose.settle import (
    Filling,
    counted_site,
    measuring_findings,
    settle,
    upper_end_findings,
)
from dosecalc.dose.small import Batch
from dosecalc.dose.steps import cautions, steps
from dosecalc.say import Say
from dosecalc.units.measure import GRAM, LITER, ML, Measure
from dosecalc.units.show import listed, number_text, rounded, show, show_span
from dosecalc.units.spread import Est, Span


def mix(request: Request) -> Mix:
    """Compute one `Mix`. Same request, same value.

    Raises
    ------
    DoseError
        When the site or the tools do not tell what the recipe needs.
    """
    recipe, site, tools = request.recipe, request.site, request.tools
    statement, chosen = choose_statement(recipe, request.measures, request.materials)
    asked = need(recipe, statement, site, tools, request.materials, request.water)
    fillings = (
        () if asked.liquid is None else tankfuls.split(asked.liquid, tools.sprayer, request.equal)
    )
    parts = tankfuls.shares(fillings) or (Fraction(1),)
    settled = settle(request, asked, statement, parts)
    planned, verdict = settled.planned, settled.verdict
    actions = [action for part in parts for action in planned[part].actions]
    assumed = _assumed(request, asked, chosen, actions)
    counted = counted_site(site, statement)
    amounts = _amounts(asked, tools, liquid=asked.liquid)
    return Mix(
        recipe_id=recipe.id,
        recipe_name=recipe.name,
        how=recipe.how,
        basis=statement.basis,
        read_as=(_read_as(asked),),
        site=_site_figures(site, counted),
        said=site.said,
        amounts=amounts,
        liquid=asked.liquid,
        tankfuls=_tankfuls(asked, tools, fillings, parts, planned, amounts),
        supplies=supplies(settled.view.nutrients, counted, asked.liquid, tools),
        findings=_by_level(
            *verdict.findings,
            *measuring_findings(planned),
            *upper_end_findings(request, asked, statement, parts, settled),
            *statement_findings(recipe, statement, request.materials),
        ),
        assumed=(*assumed, *verdict.assumed),
        not_told=(*_not_told(request, asked), *verdict.not_told),
        when_not=verdict.when_not,
        waits=verdict.waits,
        waiting=verdict.waiting,
        rescue=verdict.rescue if request.done else (),
        steps=()
        if request.done
        else steps(
            recipe, planned[parts[0]].actions, asked.liquid is not None, stock=request.stock
        ),
        cautions=cautions(
            recipe,
            [item.material for item in asked.amounts],
            asked.liquid if request.stock and not request.done else None,
        ),
        sources=_sources(request, asked, verdict.cited),
        bags=_bags(asked, tools),
    )


def _by_level(*findings: Finding) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda found: LEVELS.index(found.level)))


def _read_as(asked: Need) -> Say:
    statement = asked.statement
    parts = [f"{item.printed} {item.material.name}" for item in asked.amounts]
    what = listed(parts)
    if statement.water is not None:
        what += f" in {show(statement.water.amount).metric} of water"
    return Say.of(
        "read-as", what=what, per=statement.per_text, basis=statement.basis,
        measures=system_word(statement.measures),
    )  # fmt: skip


def _site_figures(site: Site, counted: Site) -> tuple[tuple[str, Measure | int], ...]:
    figures = {
        "row_length": site.row_length, "row_spacing": site.row_spacing, "area": site.ground,
        "gross_area": site.gross_area, "judged_area": counted.judged_area,
        "band_area": site.band_area, "plants": site.plants, "pots": site.pots,
        "volume": site.medium_volume,
    }  # fmt: skip
    return tuple((name, value) for name, value in figures.items() if value is not None)


def _amounts(
    asked: Need, tools: Tools, part: Fraction = Fraction(1), liquid: Measure | None = None
) -> tuple[Amount, ...]:
    """Every material and the water, for the whole job or for one tankful's part of it."""
    found = [_amount(item, part, liquid, tools) for item in asked.amounts]
    itself = any(item.material.id == IRRIGATION_WATER for item in asked.amounts)
    if liquid is not None and not itself:
        litres = liquid.to(LITER)
        sprayed = asked.statement.water is None
        key = "water-up-to" if sprayed else "water"
        grams = Measure(litres.value * 1000, GRAM)
        found.append(
            Amount(
                "water", "water", "water", "", Span.exact(litres.to(ML)), Span.exact(grams),
                None, None, None, Say.of(key, amount=show(litres).both()).english(), "", "",
            )
        )  # fmt: skip
    return tuple(found)


def _amount(item: NeedAmount, part: Fraction, liquid: Measure | None, tools: Tools) -> Amount:
    material = item.material
    asked = item.asked * part
    upper = None if item.up_to is None else item.up_to * part
    volume = asked_span(asked, material, True)
    mass = asked_span(asked, material, False)
    in_solution = by_volume = None
    if liquid is not None:
        est, as_volume = Est.of(asked), is_volume(asked)
        grams, mls = material.mass_of(est, as_volume), material.volume_of(est, as_volume)
        in_solution = None if grams is None else strength(grams, liquid, tools).span()
        if mls is not None and material.liquid:
            by_volume = strength(mls.to(ML), liquid, tools).span()
    other = mass if is_volume(asked) else None
    return Amount(
        material=material.id,
        name=material.name,
        role=item.role,
        printed=item.printed,
        volume=volume,
        mass=mass,
        in_solution=in_solution,
        by_volume=by_volume,
        up_to=upper,
        shown=show(asked, loose=material.loose).both(),
        shown_other="" if other is None else show_span(other),
        shown_up_to="" if upper is None else show(upper, loose=material.loose).both(),
    )


def _tankfuls(
    asked: Need,
    tools: Tools,
    fillings: tuple[Measure, ...],
    parts: tuple[Fraction, ...],
    planned: Mapping[Fraction, Filling],
    whole: tuple[Amount, ...],
) -> tuple[Tankful, ...]:
    found: list[Tankful] = []
    made: dict[Fraction, tuple[tuple[Amount, ...], tuple[Measured, ...]]] = {}
    for number, part in enumerate(parts, start=1):
        volume = fillings[number - 1] if fillings else None
        if part not in made:
            measures = tuple(_measured(action) for action in planned[part].actions)
            mine = whole if part == 1 else _amounts(asked, tools, part, volume)
            made[part] = (mine, measures)
        shown = "" if volume is None else show(volume).both()
        batch = _made_batch(planned[part].batch)
        found.append(Tankful(number, len(parts), volume, shown, *made[part], batch))
    return tuple(found)


def _made_batch(batch: Batch | None) -> MadeBatch | None:
    if batch is None:
        return None
    make, use = show(batch.make).metric, show(batch.use).metric
    rest = show(batch.rest).metric
    return MadeBatch(
        batch.make, batch.use, batch.rest, Say.of("batch", make=make, use=use),
        Say.of("batch-rest", rest=rest),
    )  # fmt: skip


def _measured(action: Action) -> Measured:
    mass = action.mass
    amount = (mass or action.volume or action.delivered).span()
    return Measured(
        action.material.id, action.material.name, action.say, action.nominal, amount,
        action.shift * 100, _off(action.shift),
        show(action.nominal, loose=action.material.loose).us,
    )  # fmt: skip


_NO_SHIFT = Fraction(1, 2000)


def _off(shift: Fraction) -> Say | None:
    if abs(shift) < _NO_SHIFT:
        return None
    percent = rounded(abs(shift) * 100, 2)[0]
    return Say.of("off-more" if shift > 0 else "off-less", percent=percent)


def _assumed(
    request: Request, asked: Need, chosen: Assumed | None, actions: list[Action]
) -> tuple[Assumed, ...]:
    found: list[Assumed] = [] if chosen is None else [chosen]
    found += asked.assumed
    statement = asked.statement
    if statement.measures is not None:
        declared = statement.measures == statement.declared
        key = "assume-measures" if declared else "assume-measures-asked"
        found.append(
            Assumed(Say.of(key), system_word(statement.measures), Say.of("instead-measures"))
        )
    if not request.placement_told:
        found.append(
            Assumed(
                Say.of("assume-placement"), request.recipe.placement, Say.of("instead-placement")
            )
        )
    ways = {action.way for action in actions}
    if not request.tools.spoons_told and ways & {"spooned", "poured"}:
        sizes = ", ".join(number_text(s.size, ML) for s in request.tools.spoons)
        found.append(Assumed(Say.of("assume-spoons"), sizes, Say.of("instead-spoons")))
    for step in dict.fromkeys(a.step for a in actions if a.step is not None):
        found.append(Assumed(Say.of("assume-scale"), show(step).metric, Say.of("instead-scale")))
    for item in asked.amounts:
        own = request.tools.own_spoon(item.material.id)
        if own is None and item.material.density is not None and _density_used(item, actions):
            factor = item.material.density
            span = Span(factor.low, factor.likely, factor.high, factor.unit)
            found.append(
                Assumed(
                    Say.of("assume-density", name=item.material.name),
                    show_span(span, unit=factor.unit),
                    Say.of("instead-density"),
                )
            )
    site = request.site
    if site.row_length is not None and site.row_spacing is not None:
        if not site.spacing_told:
            found.append(
                Assumed(
                    Say.of("assume-bed-spacing"), show(site.row_spacing).metric,
                    Say.of("instead-row-spacing"),
                )
            )  # fmt: skip
        if site.row_spacing.amount_in((("meter", 1),)) > 1 and site.gross_area is None:
            found.append(Assumed(Say.of("assume-wide-row"), "1 m", Say.of("instead-wide-row")))
    return tuple(found)


def _density_used(item: NeedAmount, actions: list[Action]) -> bool:
    volume = is_volume(item.asked)
    return volume or any(
        a.material.id == item.material.id and a.way in ("spooned", "poured") for a in actions
    )


def _not_told(request: Request, asked: Need) -> tuple[Say, ...]:
    site = request.site
    lines = []
    if site.row_length is not None and site.judged_area is None:
        lines.append(Say.of("not-told-spacing"))
    if asked.liquid is None and request.recipe.placement in SPRAYED and not request.done:
        lines.append(Say.of("not-told-water"))
    return tuple(lines)


def _sources(request: Request, asked: Need, cited: tuple[Source, ...]) -> tuple[Source, ...]:
    """The recipe's sources, those of the findings, and those of every density and content."""
    ids = list(request.recipe.sources)
    if request.recipe.practice:
        ids.append("common-practice")
    known = request.sources
    found = {id: known[id] for id in ids}
    found.update({source.id: source for source in cited})
    for item in asked.amounts:
        found.update({id: known[id] for id in item.material.sources})
    return tuple(found.values())


def _bags(asked: Need, tools: Tools) -> int | None:
    loose = [item.asked for item in asked.amounts if item.material.loose and is_volume(item.asked)]
    if tools.bag is None or not loose:
        return None
    return whole_bags(loose[0], tools.bag).bags

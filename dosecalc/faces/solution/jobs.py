"""The jobs of a solution: one for every tank that is filled, one of the feed as it goes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.material import IRRIGATION_WATER, Content, Material
from dosecalc.catalog.recipe import Ingredient, Recipe, Statement
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.solution import Portion
from dosecalc.faces.job import Job, Ready
from dosecalc.faces.solution.read import Solution
from dosecalc.say import Say
from dosecalc.units.measure import GRAM_PER_ML, LITER, Measure, exact_text
from dosecalc.units.show import show
from dosecalc.units.spread import Factor


def jobs_of(found: Solution, job: Job) -> tuple[tuple[Job, ...], tuple[Job, ...]]:
    """A job for every tank that is filled, and one of the whole feed to be judged as given.

    The second is empty where the one tank is the whole feed.

    Parameters
    ----------
    found : Solution
    job : Job
        What was typed about site, tools and the rest.
    """
    litres = found.feed.amount_in(LITER)
    stock = found.injector is not None
    made = []
    for tank in found.tanks:
        recipe = _recipe(found, tank.portions, found.made, litres, stock=stock)
        ready = replace(
            job,
            recipe=recipe.id,
            site=replace(job.site, spray_volume=exact_text(found.made)),
            stock=stock,
            feed_held=stock,
            ready=Ready(recipe, dict(found.own)),
        )
        made.append(replace(ready, tools=_filled(found, ready, stock=stock)))
    if not stock and not found.water:
        return tuple(made), ()
    recipe = _recipe(found, found.portions, found.feed, litres, stock=False)
    own = dict(found.own)
    if found.water:
        own[IRRIGATION_WATER] = _water(found)
        recipe = _with_water(recipe, found.feed)
    whole = replace(
        job,
        recipe=recipe.id,
        site=replace(job.site, spray_volume=exact_text(found.feed)),
        done=True,
        ready=Ready(recipe, own),
    )
    return tuple(made), (whole,)


def _filled(found: Solution, job: Job, *, stock: bool) -> ToolsText:
    """The tools with the tank that is filled in place of a sprayer."""
    if found.fill is not None:
        return replace(job.tools, sprayer=exact_text(found.fill))
    return replace(job.tools, sprayer=exact_text(found.made)) if stock else job.tools


def _recipe(
    found: Solution, portions: Sequence[Portion], volume: Measure, litres: Fraction, *, stock: bool
) -> Recipe:
    names = " + ".join(p.salt.material.name for p in portions)
    key = "solution-tank-name" if stock else "solution-feed-name"
    ingredients = []
    for portion in portions:
        amount = portion.in_volume(litres)
        printed = show(amount).metric
        ingredients.append(Ingredient(portion.salt.key, amount, None, None, "feed", printed))
    sources: list[str] = []
    if stock:
        sources += ["umass-injector-chart", "hydroponic-solubility-page"]
        if len(portions) > 1:
            sources.append("fertilizer-solubility-blog")
    statement = Statement(
        None, None, "spray volume", volume, show(volume).metric, tuple(ingredients), None
    )
    return Recipe(
        id="solution", name=Say.of(key, names=names).english(),
        purpose=Say.of("solution-purpose", feed=show(found.feed).metric).english(),
        how="fertigation", placement="fertigation", setting=(), crops=(), not_on=(), when="",
        statements=(statement,), repeat=None, order=(),
        cautions=(), sources=tuple(sources), practice=not sources, caveat="",
    )  # fmt: skip


def _water(found: Solution) -> Material:
    """The water of the feed as a material of the analysis that was typed."""
    contents = []
    for element, mg in found.water.items():
        if mg:
            share = mg / 1_000_000
            key = f"content:{IRRIGATION_WATER}:{element}"
            factor = Factor(key, share, share, share, GRAM_PER_ML, "typed")
            contents.append(Content(element, factor, "w/v", "typical", ""))
    return Material(
        id=IRRIGATION_WATER, name="the water itself", also=(), form="bulk", traits=(),
        contents=tuple(contents), uncounted=(), by_weight=False, density=None, density_how="",
        solubility=(), insoluble="", hazards=(), caveat="", formula="", sources=(),
    )  # fmt: skip


def _with_water(recipe: Recipe, feed: Measure) -> Recipe:
    """The recipe with its water as a material; the room the products take is not counted off."""
    (statement,) = recipe.statements
    water = Ingredient(IRRIGATION_WATER, feed, None, None, "water", show(feed).metric)
    whole = replace(statement, ingredients=(*statement.ingredients, water))
    return replace(recipe, statements=(whole,))

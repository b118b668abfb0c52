"""From what was typed to a `Mix`: the one call that every face of a dose makes."""

from __future__ import annotations

from dataclasses import dataclass

from dosecalc.catalog.library import open_book
from dosecalc.catalog.lookup import find_recipe
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.tools import ToolsText, read_tools
from dosecalc.dose.mix import Request, mix
from dosecalc.dose.result import Mix
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.measure import VOLUME
from dosecalc.units.words import SYSTEMS, System


@dataclass(frozen=True, slots=True)
class Job:
    """One job as typed: text throughout, None where nothing was said."""

    recipe: str
    site: SiteText
    tools: ToolsText
    measures: str | None = None
    water: str | None = None
    equal: bool = False


def read_system(text: str | None) -> System | None:
    """The measure system a person named; refuses any other word."""
    if text is None:
        return None
    for name in SYSTEMS:
        if text == name:
            return name
    raise refuse("measures", text=text, known=", ".join(SYSTEMS))


def run(job: Job) -> Mix:
    """Read, look up and compute one `Mix`.

    Raises
    ------
    DoseError
        For anything that cannot be read, found or scaled.
    """
    measures = read_system(job.measures)
    recipe = find_recipe(job.recipe, measures)
    book = open_book(recipe)
    water = None
    if job.water is not None:
        water = read.positive(
            job.water, VOLUME, measures, want="a volume of water", example="5 L", oz_is="doubt"
        )
    return mix(
        Request(
            recipe=recipe,
            site=read_site(job.site, measures),
            tools=read_tools(job.tools, measures),
            materials=book.materials,
            sources=book.sources,
            measures=measures,
            water=water,
            equal=job.equal,
        )
    )

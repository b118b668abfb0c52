"""``dosecalc mix``: scale a recipe to a site."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.options import (
    SITE,
    TOLD,
    TOOLS,
    measures_option,
    pick,
    site_options,
    told_options,
    tool_options,
)
from dosecalc.faces.cli.output import show_mix


@click.command(
    epilog='Example: dosecalc mix boron-drench --row "40 m" --row-spacing "45 cm"',
)
@click.argument("recipe")
@site_options
@tool_options
@told_options
@measures_option
@click.option(
    "--water", metavar="TEXT", help="water in place of the recipe's, where it only carries"
)
@click.option("--equal", is_flag=True, help="equal tankfuls instead of full ones and a last part")
@click.option("--strict", is_flag=True, help="exit 3 for a caution too")
@click.option("--json", "as_json", is_flag=True, help="print the result as JSON")
def command(
    recipe: str, water: str | None, equal: bool, strict: bool, as_json: bool, **typed: Any
) -> int:
    """Scale RECIPE (an id of the book or a .toml file) to your site and tools."""
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.told import ToldText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.job import Job, run

    job = Job(
        recipe=recipe,
        site=SiteText(**pick(typed, SITE)),
        tools=ToolsText(**pick(typed, TOOLS), weighed=typed["weighed"]),
        told=ToldText(**pick(typed, TOLD), after=typed["after"], organic=typed["organic"]),
        labels=typed["label"],
        garden=typed["garden"],
        at=typed["at"],
        measures=typed["recipe_measures"],
        water=water,
        equal=equal,
    )
    return show_mix(run(job), as_json=as_json, strict=strict)

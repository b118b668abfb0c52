"""``dosecalc mix``: scale a recipe to a site."""

from __future__ import annotations

import json
from typing import Any

import click

from dosecalc.faces.cli.options import (
    SITE,
    TOOLS,
    measures_option,
    pick,
    site_options,
    tool_options,
)


@click.command(
    epilog='Example: dosecalc mix boron-drench --row "40 m" --row-spacing "45 cm"',
)
@click.argument("recipe")
@site_options
@tool_options
@measures_option
@click.option(
    "--water", metavar="TEXT", help="water in place of the recipe's, where it only carries"
)
@click.option("--equal", is_flag=True, help="equal tankfuls instead of full ones and a last part")
@click.option("--json", "as_json", is_flag=True, help="print the result as JSON")
def command(recipe: str, water: str | None, equal: bool, as_json: bool, **typed: Any) -> int:
    """Scale RECIPE (an id of the book or a .toml file) to your site and tools."""
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.job import Job, run

    job = Job(
        recipe=recipe,
        site=SiteText(**pick(typed, SITE)),
        tools=ToolsText(**pick(typed, TOOLS)),
        measures=typed["recipe_measures"],
        water=water,
        equal=equal,
    )
    found = run(job)
    if as_json:
        from dosecalc.dose.dump import dump

        click.echo(json.dumps(dump(found), indent=1, ensure_ascii=False))
    else:
        from dosecalc.faces.text import render

        click.echo(render(found))
    return 3 if found.worst in ("stop", "over") else 0

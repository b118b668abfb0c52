"""``dosecalc check``: judge what was already done, and say what may be done now."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.jobs import season_options, told_and_record
from dosecalc.faces.cli.options import (
    SITE,
    TOOLS,
    measures_option,
    pick,
    site_options,
    told_options,
    tool_options,
)
from dosecalc.faces.cli.output import show_mix


@click.command(
    epilog='Example: dosecalc check "100 g borax" --area "10 m2" --crop beetroot',
)
@click.argument("amounts", nargs=-1)
@click.option("--water", metavar="TEXT", help='in how much water: "500 mL"')
@click.option("--placement", metavar="TEXT", help="how it was given: broadcast, foliar ...")
@click.option("--stock-tank", "stock", is_flag=True, help="the water is a stock tank")
@click.option(
    "--holds", metavar="TEXT", multiple=True, help='irrigation water and its analysis: "0.8 mg/L B"'
)
@click.option("--depth", metavar="TEXT", help='depth of irrigation water given: "400 mm"')
@click.option("--poisoned", is_flag=True, help="somebody swallowed it or got it in the eyes")
@site_options
@tool_options
@told_options
@measures_option
@season_options
@click.option("--strict", is_flag=True, help="exit 3 for a caution too")
@click.option("--json", "as_json", is_flag=True, help="print the result as JSON")
def command(
    amounts: tuple[str, ...], water: str | None, poisoned: bool, strict: bool, as_json: bool,
    **typed: Any,
) -> int:  # fmt: skip
    """Judge AMOUNTS ("100 g borax") that were given to a site or put into water."""
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.done import Done, run
    from dosecalc.faces.poison import poison_lines

    if poisoned:
        for line in poison_lines(typed["region"]):
            click.echo(line)
        if not amounts:
            return 0
    told, past = told_and_record(typed)
    found = run(
        Done(
            amounts=amounts,
            site=SiteText(**pick(typed, SITE)),
            tools=ToolsText(**pick(typed, TOOLS), weighed=typed["weighed"]),
            water=water,
            holds=typed["holds"],
            depth=typed["depth"],
            placement=typed["placement"],
            stock=typed["stock"],
            told=told,
            labels=typed["label"],
            garden=typed["garden"],
            at=typed["at"],
            measures=typed["recipe_measures"],
            record=past,
        )
    )
    return show_mix(found, as_json=as_json, strict=strict)

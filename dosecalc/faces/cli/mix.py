"""``dosecalc mix``: scale a recipe to a site."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.ask import Wording, ask_option, settled
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
@click.argument("recipe", required=False)
@click.option(
    "--text",
    metavar="TEXT",
    help='a recipe in words: "1 tbsp borax per 100 ft of row" (see docs/writing.md)',
)
@click.option("--text-file", metavar="FILE", help="a file with such words; - for standard input")
@click.option("--rate", metavar="N", help="which rate of a --text that holds several: 1, 2, ...")
@ask_option
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
    recipe: str | None, text: str | None, text_file: str | None, rate: str | None,
    ask: bool | None,
    water: str | None, equal: bool, strict: bool, as_json: bool, **typed: Any,
) -> int:  # fmt: skip
    """Scale RECIPE (an id of the book or a .toml file), or a --text, to your site and tools."""
    from dataclasses import replace

    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.told import ToldText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.errors import refuse
    from dosecalc.faces.job import Job, run

    if recipe is not None and (text is not None or text_file is not None):
        raise refuse("prose-both")
    if recipe is not None and rate is not None:
        raise refuse("page-no-text")
    if recipe is None and text is None and text_file is None:
        raise click.UsageError(str(refuse("prose-none")))
    job = Job(
        recipe=recipe or "",
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
    if recipe is None:
        from dosecalc.faces.prose import mix_text, read_job, text_of

        said = settled(
            Wording(text_of(text, text_file), job.measures, rate),
            lambda words: read_job(words.text, replace(job, measures=words.measures), words.rate),
            ask,
            as_json=as_json,
        )
        found = mix_text(said.text, replace(job, measures=said.measures), said.rate)
        return show_mix(found, as_json=as_json, strict=strict)
    return show_mix(run(job), as_json=as_json, strict=strict)

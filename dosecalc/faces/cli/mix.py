"""``dosecalc mix``: scale a recipe to a site."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.jobs import job_options, mix_of
from dosecalc.faces.cli.output import show_mix


@click.command(
    epilog='Example: dosecalc mix boron-drench --row "40 m" --row-spacing "45 cm"',
)
@job_options
@click.option("--strict", is_flag=True, help="exit 3 for a caution too")
@click.option("--json", "as_json", is_flag=True, help="print the result as JSON")
def command(strict: bool, as_json: bool, **typed: Any) -> int:
    """Scale RECIPE (an id of the book or a .toml file), or a --text, to your site and tools."""
    _, found = mix_of(typed, as_json=as_json)
    return show_mix(found, as_json=as_json, strict=strict)

"""``dosecalc fill``: beds and pots filled with a medium by parts."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import measures_option


@click.command(
    epilog='Example: dosecalc fill "2 parts garden compost, 1 part peat, 1 part vermiculite"'
    ' --pots 12 --pot-size "10 L" --bag "40 L"',
)
@click.argument("parts")
@click.option("--settling", metavar="TEXT", help='how much it sinks, your own figure: "15 %"')
@click.option(
    "--shrinkage",
    metavar="TEXT",
    help='volume that the parts lose when they are mixed, your own figure: "10 %"',
)
@click.option("--barrow", metavar="TEXT", help='what one wheelbarrow holds: "80 L"')
@click.option("--load", metavar="TEXT", help='what one trailer or truck holds: "3 m3"')
@measures_option
@made_options
def command(
    parts: str, settling: str | None, shrinkage: str | None, barrow: str | None, load: str | None,
    **typed: Any,
) -> int:  # fmt: skip
    """Fill pots, a bed or a heap with PARTS by volume: "2 parts compost, 1 part peat".

    Say what shall be full: --medium-volume, --pots with --pot-size, or a bed with --layer as its
    depth.
    """
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.fill import FillText, made

    found = made(FillText(parts, settling, shrinkage, barrow, load), job_typed(typed))
    return show_made([found.job], found.lines, found.about, typed)

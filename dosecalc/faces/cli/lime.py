"""``dosecalc lime``: from a soil report to lime, by one published method that was named."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options
from dosecalc.faces.cli.soil_options import (
    LIME_BAG,
    REPORT,
    asked_of_soil,
    list_methods,
    text_options,
)

_SOIL = ("ph", "target-ph", "buffer", "acidity", "texture", "magnesium")


@click.command(
    epilog='Example: dosecalc lime --method oregon-sikora --ph 5.4 --buffer "Sikora 6.0"'
    ' --target-ph 6.4 --bed "75 cm x 30 m"',
)
@text_options(LIME_BAG)
@click.option("--surface", "on_top", is_flag=True, help="it stays on top (with --advice only)")
@text_options({name: REPORT[name] for name in _SOIL})
@click.option(
    "--advice", metavar="TEXT", help='what the report asks for: "5 lb/100 sq ft of 100 % CaCO3"'
)
@click.option("--method", metavar="ID", help="one of --list: how the report is read")
@list_methods("raise")
@made_options
def command(**typed: Any) -> int:
    """Raise the pH of a soil: lime by soil report, method and bag, in doses that limits allow."""
    from dosecalc.faces.amend import lime
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.cli.made import show_made

    made = lime(asked_of_soil(typed), job_typed(typed))
    return show_made([made.job], made.lines, made.about, typed)

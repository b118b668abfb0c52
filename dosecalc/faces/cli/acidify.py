"""``dosecalc acidify``: from a soil report to sulfur, by one published method that was named."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options
from dosecalc.faces.cli.soil_options import (
    ACID_BAG,
    REPORT,
    asked_of_soil,
    list_methods,
    text_options,
)

_SOIL = ("ph", "target-ph", "texture", "fizzes")


@click.command(
    epilog="Example: dosecalc acidify --method michigan-sulfur --ph 6.0 --target-ph 5.0"
    ' --texture loam --bed "75 cm x 30 m"',
)
@text_options(ACID_BAG)
@text_options({name: REPORT[name] for name in _SOIL})
@click.option("--method", metavar="ID", help="one of --list: how the report is read")
@list_methods("lower")
@made_options
def command(**typed: Any) -> int:
    """Lower the pH of a soil: sulfur by soil report and method, unless it holds free lime."""
    from dosecalc.faces.amend import acidify
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.cli.made import show_made

    made = acidify(asked_of_soil(typed), job_typed(typed))
    return show_made([made.job], made.lines, made.about, typed)

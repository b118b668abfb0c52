"""``dosecalc gypsum``: gypsum against the sodium of a sodic soil."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options
from dosecalc.faces.cli.soil_options import GYPSUM_BAG, REPORT, asked_of_soil, text_options

_SOIL = ("sodium", "target-sodium", "cec")


@click.command(
    epilog='Example: dosecalc gypsum --sodium "35 %" --target-sodium "15 %"'
    ' --cec "22 meq/100 g" --depth "40 cm" --area "18 m2"',
)
@text_options(GYPSUM_BAG)
@text_options({name: REPORT[name] for name in _SOIL})
@made_options
def command(**typed: Any) -> int:
    """Displace exchangeable sodium with gypsum; for calcium alone see `mix gypsum-garden`."""
    from dosecalc.faces.amend import gypsum
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.cli.made import show_made

    made = gypsum(asked_of_soil(typed), job_typed(typed))
    return show_made([made.job], made.lines, made.about, typed)

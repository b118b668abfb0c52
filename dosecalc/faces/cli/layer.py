"""``dosecalc layer``: compost, manure or mulch over ground."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import Command, measures_option

OPTIONS = {
    "rate": 'for an area: "40 t/ha", "75 lb/100 sq ft", "10 L/m2"',
    "have": 'all of what there is, spread over this ground: "2 m3"',
    "nitrogen": 'nitrogen for the first crop from this alone: "100 kg/ha"',
    "settling": 'how much the depth of --layer settles, your own figure: "15 %"',
    "first-year": 'how much of its nitrogen feeds the first crop: "10 %"',
    "placed": "worked-in, on-top or mulch",
    "barrow": 'what one wheelbarrow holds: "80 L"',
    "load": 'what one trailer or truck holds: "3 m3"',
    "state": "what the analysis of --holds is of: dry or as-is",
    "moisture": 'how much of the heap is water, for a dry analysis: "45 %"',
    "density": 'its weight by volume, weighed by you: "0.6 g/mL"',
    "organic-matter": 'in the same state as --holds: "37 %"',
    "salts": 'electrical conductivity of its test: "4 mS/cm"',
}


def _options(function: Command) -> Command:
    for name, text in reversed(OPTIONS.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return click.option(
        "--holds", metavar="TEXT", multiple=True, help='own analysis: "1.2 % N", "0.3 % Na"'
    )(function)


@click.command(
    epilog='Example: dosecalc layer "garden compost" --bed "75 cm x 10 m" --layer "2 cm"'
    ' --bag "50 L"; dosecalc layer "cattle manure" --area "50 m2" --nitrogen "100 kg/ha"',
)
@click.argument("material")
@_options
@measures_option
@made_options
def command(material: str, **typed: Any) -> int:
    """Spread MATERIAL over ground: so deep, at a rate, all there is, or for its nitrogen.

    Give one of --layer, --rate, --have and --nitrogen. docs/layers.md says how it is reckoned.
    """
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.layer import made
    from dosecalc.faces.layer_read import LayerText

    names = [name.replace("-", "_") for name in OPTIONS]
    text = LayerText(material, **{name: typed[name] for name in names}, holds=typed["holds"])
    found = made(text, job_typed(typed))
    return show_made([found.job], found.lines, found.about, typed)

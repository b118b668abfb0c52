"""``dosecalc inoculate``: rhizobia and mycorrhiza, by weight or by what lives in them."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import Command, measures_option

OPTIONS = {
    "rate": '"5 g/kg" of seed, "1 US fl oz/1000 ft", "100000 CFU/seed", "50 propagules/plant"',
    "living": 'what it holds by its label: "1 billion CFU/g", "120 propagules/g"',
    "seed": 'the seed it goes on: "2 kg", "2000 seeds"',
    "thousand": 'weight of a thousand of those seeds: "200 g"',
    "seed-count": 'those seeds for a weight: "5/g", "1900/lb"',
    "packet": 'what one pack holds: "250 g"',
}


def _options(function: Command) -> Command:
    for name, text in reversed(OPTIONS.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return function


@click.command(
    epilog='Example: dosecalc inoculate rhizobium --rate "100000 CFU/seed" --seed "2 kg"'
    ' --thousand "200 g" --living "1 billion CFU/g" --row "40 m"; dosecalc inoculate mycorrhiza'
    ' --rate "50 propagules/plant" --living "120 propagules/g" --plants 24',
)
@click.argument("what")
@_options
@measures_option
@made_options
def command(what: str, **typed: Any) -> int:
    """Live inoculants: WHAT (rhizobium, mycorrhiza) on seed, in rows, at plants, in medium.

    A rate by weight, or by live cells through the label. docs/sowing.md says how it is reckoned.
    """
    from dosecalc.errors import refuse
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.inoculate import made
    from dosecalc.faces.inoculate_read import InoculateText

    names = [name.replace("-", "_") for name in OPTIONS]
    text = InoculateText(what, **{name: typed[name] for name in names})
    found = made(text, job_typed(typed))
    if not found.jobs and (typed["output"] is not None or typed["save"] is not None):
        raise refuse("inoculate-nothing")
    return show_made(found.jobs, found.lines, found.about, typed)

"""``dosecalc plan``: what the ground needs, from the products on hand."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.jobs import job_typed
from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import Command, measures_option

_MANY = {
    "need": 'what is needed: "120 kg/ha N", "60 kg/ha P2O5", "5 g/plant N"',
    "have": 'a product on hand, with how much of it: urea, 0-46-0, "kitchen-compost: 300 kg"',
    "credit": 'what is there already: "30 kg/ha N from clover", or an id of docs/feeding.md',
    "first-year": 'how much of its nitrogen feeds this crop: "kitchen-compost: 15 %"',
    "price": 'what a pack costs: "urea: 24.50 for 25 kg"',
    "whole": 'given in whole measures only: "urea: 25 kg"',
}
_ONE = {
    "watered": 'how deep irrigation water goes on: "200 mm"',
    "water-holds": 'nitrate in that water: "9 mg/L NO3-N", "40 mg/L as NO3"',
    "soil": "file with a soil report (see docs/feeding.md)",
    "prefer": "among plans that are as good: cost, fewest (products), least (weight)",
    "near": 'how far off a need still counts as met: "5 %"; 0 if not told',
    "how": "broadcast, work in, band, side-dress, planting hole, mix in",
    "split": 'shares of the nitrogen: "40 %, 60 % after 28 days"',
    "counts": "what P and K of a typed analysis count: oxide, element",
}


def _plan_options(function: Command) -> Command:
    for name, text in reversed(_ONE.items()):
        metavar = "FILE" if name == "soil" else "TEXT"
        function = click.option(f"--{name}", metavar=metavar, help=text)(function)
    for name, text in reversed(_MANY.items()):
        function = click.option(f"--{name}", metavar="TEXT", multiple=True, help=text)(function)
    return function


@click.command(
    epilog='Example: dosecalc plan --need "90 kg/ha N" --need "40 kg/ha P2O5" --have urea'
    ' --have "triple superphosphate" --bed "1.2 m x 8 m"',
)
@_plan_options
@measures_option
@made_options
def command(**typed: Any) -> int:
    """Find how much of each product on hand meets the needs within every limit that is held."""
    from dosecalc.errors import EXIT_STOPPED, refuse
    from dosecalc.faces.plan import make_plan
    from dosecalc.faces.plan_read import PlanText
    from dosecalc.faces.plan_text import about_of, lines_of

    names = [name.replace("-", "_") for name in (*_MANY, *_ONE)]
    found = make_plan(PlanText(**{name: typed[name] for name in names}), job_typed(typed))
    if not found.jobs and (typed["output"] is not None or typed["save"] is not None):
        raise refuse("feed-nothing")
    code = show_made(found.jobs, lines_of(found), about_of(found), typed)
    return EXIT_STOPPED if any(one.plan.clash for one in found.dressings) else code

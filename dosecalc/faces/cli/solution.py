"""``dosecalc solution``: feeding solutions, stocks for an injector, and fertigation."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.jobs import job_typed
from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import measures_option


@click.command(
    epilog='Example: dosecalc solution --want "200 ppm N" --from "20-20-20" --in "20 L"'
    ' --injector "1:100"',
)
@click.argument("amounts", nargs=-1)
@click.option(
    "--want", "wants", metavar="TEXT", multiple=True,
    help='a wanted strength: "200 ppm N", "60 mg/L P2O5"; "20 kg N/ha" with --irrigation',
)  # fmt: skip
@click.option(
    "--from", "products", metavar="TEXT", multiple=True,
    help='a product that is to bring it: "20-20-20", "calcium nitrate"',
)  # fmt: skip
@click.option(
    "--in", "vessel", metavar="TEXT",
    help='the tank that is made up: of feed, or with --injector of stock: "20 L"',
)  # fmt: skip
@click.option("--feed", metavar="TEXT", help='how much finished feed is wanted: "2000 L"')
@click.option(
    "--irrigation", metavar="TEXT",
    help='water that carries it: "10 mm", "20000 L/ha", "5000 L"',
)  # fmt: skip
@click.option("--injector", metavar="TEXT", help='its setting: "1:100", "1 to 128", "1 %"')
@click.option("--to-water", is_flag=True, help="1:100 means 1 part of stock to 100 of water")
@click.option(
    "--holds", metavar="TEXT", multiple=True,
    help='what the water itself holds: "50 mg/L NO3", "80 mg/L Ca"',
)  # fmt: skip
@measures_option
@made_options
def command(
    amounts: tuple[str, ...], wants: tuple[str, ...], products: tuple[str, ...],
    vessel: str | None, feed: str | None, irrigation: str | None, injector: str | None,
    to_water: bool, holds: tuple[str, ...], **typed: Any,
) -> int:  # fmt: skip
    """What AMOUNTS ("100 g 20-20-20") come to in the feed, or what a --want takes --from what."""
    from dosecalc.faces.solution.jobs import jobs_of
    from dosecalc.faces.solution.read import Typed, solution_of
    from dosecalc.faces.solution.text import about, lines

    job = job_typed(typed)
    asked = Typed(
        amounts, wants, products, vessel, feed, irrigation, injector, to_water, holds
    )  # fmt: skip
    found = solution_of(asked, job)
    made, judged = jobs_of(found, job)
    return show_made(made, lines(found), about(found), typed, judged=judged)

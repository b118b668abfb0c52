"""Options that several commands share: the site, the tools, whose measures."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from dosecalc.units.words import SYSTEMS

Command = TypeVar("Command", bound=Callable[..., Any])

SITE: dict[str, str] = {
    "row": 'length of one row: "40 m"',
    "rows": "how many such rows",
    "row-spacing": 'middle of row to middle of row: "45 cm"',
    "plant-spacing": 'along the row: "30 cm"',
    "bed": 'width and length of a bed top: "75 cm x 30 m"',
    "path": 'width of the path beside each bed: "45 cm"',
    "rows-per-bed": "rows on each bed",
    "beds": "how many such beds",
    "area": 'the ground: "18 m2", "100 sq ft"',
    "shape": 'a shape in words: "circle: diameter 4 m" (see docs/sites.md)',
    "band": 'width of the treated strip along a row: "30 cm"',
    "plants": "how many plants",
    "pots": "how many pots",
    "pot-size": 'volume of one pot: "2 L"',
    "medium-volume": 'volume of growing medium: "60 L"',
    "layer": 'depth in place of the recipe\'s: "3 cm"',
    "spray-volume": 'spray for the whole site or per area: "2 L", "400 L/ha"',
}
TOOLS: dict[str, str] = {
    "my-spoons": f"whose spoons you hold: {', '.join(SYSTEMS)}",
    "spoons": 'your set of spoons: "15 mL, 5 mL, 2.5 mL"; none',
    "scale": 'what your scale reads to, and carries: "0.1 g", "1 g to 5 kg"',
    "syringe": 'size of a syringe: "10 mL"',
    "jug": 'size of a measuring jug: "1 L"; none',
    "sprayer": 'usable volume, or a name of the garden file: "15 L", "knapsack"',
    "bag": 'volume of one bag of a loose material: "50 L"',
}
TOLD: dict[str, str] = {
    "crop": 'what grows there: "beetroot"',
    "region": "whose law applies: EU, US, UK, CA, AU, NZ",
    "setting": "field, garden, turf, container, tree, greenhouse, ornamental",
    "phase": "establishing (a new bed) or yearly (given every year)",
    "already": "how often this was already given this season",
    "sprayer-held": 'what the sprayer last held: "weedkiller"',
    "water-temperature": 'of the mixing water: "10 C"',
    "temperature": 'of the air: "34 C"',
    "humidity": 'of the air: "85 %"',
    "wind": 'wind speed: "4 m/s"',
    "rain-in": 'how soon rain comes: "6 h"',
    "dry-in": 'how long the leaves stay wet: "3 h"',
    "weather": "any of: in bloom, frost, sun, drought (comma between)",
}


def site_options(function: Command) -> Command:
    """Add every option about the site."""
    function = click.option(
        "--garden", metavar="FILE", help="garden file; garden.toml of this folder if there is one"
    )(function)
    function = click.option("--at", metavar="NAME", help="a bed of the garden file")(function)
    for name, text in reversed(SITE.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return function


def tool_options(function: Command) -> Command:
    """Add every option about the tools."""
    function = click.option(
        "--weighed", metavar="TEXT", multiple=True,
        help='your own weighed spoons: "borax: ten level 5 mL spoons weigh 41 g"',
    )(function)  # fmt: skip
    for name, text in reversed(TOOLS.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return function


def told_options(function: Command) -> Command:
    """Add every option about crop, region, weather and the past, and the labels."""
    function = click.option(
        "--label", metavar="FILE", multiple=True, help="label file of a product (dosecalc label)"
    )(function)
    function = click.option("--organic", is_flag=True, help="grown to organic rules")(function)
    function = click.option(
        "--after", metavar="TEXT", multiple=True,
        help='what was applied here before: "horticultural oil 20 days"',
    )(function)  # fmt: skip
    for name, text in reversed(TOLD.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return function


def measures_option(function: Command) -> Command:
    """Add --recipe-measures."""
    return click.option(
        "--recipe-measures",
        metavar="TEXT",
        help=f"whose measures the recipe speaks: {', '.join(SYSTEMS)}",
    )(function)


def pick(values: dict[str, Any], names: dict[str, str]) -> dict[str, Any]:
    """The values of the options in `names`, under their Python names."""
    keys = [name.replace("-", "_") for name in names]
    return {key: values[key] for key in keys}

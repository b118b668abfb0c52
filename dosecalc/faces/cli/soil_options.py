"""The options of a soil report and of the bag, shared by lime, acidify and gypsum."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.options import Command

if TYPE_CHECKING:
    from dosecalc.faces.amend import Asked

REPORT: dict[str, str] = {
    "ph": 'pH of the soil: "5.6"; the liquid with it if not water: "5.2 in KCl"',
    "target-ph": "the pH that is wanted",
    "buffer": 'the buffer test and its reading: "Sikora 6.0"',
    "acidity": 'acidity of the report with its unit: "6.0 meq/100 g"',
    "texture": 'as the method names it: "sandy loam"',
    "magnesium": 'of the soil: "60 ppm"',
    "fizzes": "whether dry soil fizzes with vinegar: yes, no",
    "sodium": 'exchangeable sodium percentage now: "35 %"',
    "target-sodium": 'exchangeable sodium aimed at: "15 %"',
    "cec": 'cation exchange capacity with its unit: "22 meq/100 g"',
}
_DEPTH = {"depth": 'how deep it is worked in: "15 cm"; the method\'s own if not told'}
_PRODUCT = {"product": "what is in the bag: a material, or a product of the garden file"}
LIME_BAG: dict[str, str] = {
    **_PRODUCT,
    "liming-value": 'of the label, with its count: "90 % CaCO3", "52 % CaO", "lime score 95"',
    "fineness": 'of the label: "95 % through 20 mesh, 70 % through 60 mesh, ..."',
    "moisture": 'water in the lime, where its value is of the dry: "5 %"',
    "credit": 'left of an earlier liming, as the report prints it: "0.2 US ton/acre"',
    **_DEPTH,
}
ACID_BAG: dict[str, str] = {**_PRODUCT, "purity": 'of the sulfur: "90 % S"', **_DEPTH}
GYPSUM_BAG: dict[str, str] = {**_PRODUCT, "purity": 'of the gypsum: "85 % gypsum"', **_DEPTH}


def text_options(names: Mapping[str, str]) -> Callable[[Command], Command]:
    """Add one text option for each name."""

    def add(function: Command) -> Command:
        for name, text in reversed(list(names.items())):
            function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
        return function

    return add


def list_methods(purpose: str) -> Callable[[Command], Command]:
    """Add --list: every method of a purpose, and nothing else is done."""

    def show(context: click.Context, parameter: click.Parameter, value: bool) -> None:
        if not value or context.resilient_parsing:
            return
        from dosecalc.faces.amend_text import listing

        click.echo(listing(purpose))
        context.exit()

    return click.option(
        "--list", is_flag=True, is_eager=True, expose_value=False, callback=show,
        help="list the methods, what each needs and where it holds",
    )  # fmt: skip


def asked_of_soil(typed: Mapping[str, Any]) -> Asked:
    """What was typed about the report, the method and the bag."""
    from dataclasses import fields

    from dosecalc.catalog.acidity import SoilText
    from dosecalc.faces.amend import Asked

    soil = SoilText(**{f.name: typed.get(f.name) for f in fields(SoilText)})
    rest = {f.name: typed[f.name] for f in fields(Asked) if f.name in typed}
    return Asked(soil=soil, **rest)

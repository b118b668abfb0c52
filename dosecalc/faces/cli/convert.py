"""``dosecalc convert``: one amount in another unit, as a weight, a volume or a nutrient."""

from __future__ import annotations

import click

from dosecalc.faces.cli.options import measures_option


@click.command(
    epilog='Examples: dosecalc convert "1 tbsp borax" g --recipe-measures us;'
    ' dosecalc convert "1 tbsp borax" "g B" --recipe-measures us',
)
@click.argument("amount")
@click.argument("to")
@measures_option
def command(amount: str, to: str, recipe_measures: str | None) -> None:
    """Turn AMOUNT ("1 tbsp borax", "2 lb/acre") into the unit TO ("g", "g B", "kg/ha")."""
    from dosecalc.faces.conversion import convert
    from dosecalc.faces.job import read_system

    click.echo(convert(amount, to, read_system(recipe_measures)))

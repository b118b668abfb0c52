"""``dosecalc label``: type in what a product's label says, asked for line by line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

QUESTIONS: dict[str, str] = {
    "product": "What the product calls itself",
    "material": "Which material it is (an id of `dosecalc materials list`)",
    "highest": 'Highest rate ("5 g/L", "2 kg/ha")',
    "lowest": "Lowest rate",
    "least_water": 'Least water ("200 L/ha")',
    "most_season": "Most in one season",
    "times": "How often at most in one season",
    "interval": 'Least time between two ("7 days")',
    "harvest_wait": "Last use before harvest",
    "entry_wait": "How long people stay out",
    "crops": "Crops it may go on, comma between",
    "not_on": "Crops it must not go on, comma between",
}


def _options(function: Any) -> Any:
    for name, text in reversed(QUESTIONS.items()):
        function = click.option(f"--{name.replace('_', '-')}", metavar="TEXT", help=text)(function)
    return function


@click.command(
    epilog="Example: dosecalc label my-sulfur.toml --product 'Sulfur 80'"
    " --material wettable-sulfur --highest '5 g/L'",
)
@click.argument("file", type=click.Path(path_type=Path))
@_options
@click.option("--ask", is_flag=True, help="ask for everything that was not given")
@click.option("--replace", is_flag=True, help="replace the file if it is there")
def command(file: Path, ask: bool, replace: bool, **typed: str | None) -> None:
    """Write FILE with what the label of a product says; `mix` and `check` take it as --label."""
    from dosecalc.faces.label_file import write_label

    if ask:
        for name, text in QUESTIONS.items():
            if typed[name] is None:
                typed[name] = click.prompt(text, default="", show_default=False) or None
    write_label(file, typed, replace=replace)
    click.echo(f"wrote {file}")

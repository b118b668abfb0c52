"""``dosecalc recipes``: list, show and check recipes."""

from __future__ import annotations

from pathlib import Path

import click


@click.group(epilog="Example: dosecalc recipes list")
def command() -> None:
    """List the recipe book, show one recipe, or check files of your own."""


@command.command("list", epilog="Example: dosecalc recipes list")
def list_recipes() -> None:
    """List every recipe of the book with what its rate is per."""
    from tabulate import tabulate

    from dosecalc.catalog.lookup import find_recipe, recipe_ids

    rows = []
    for id in recipe_ids():
        recipe = find_recipe(id)
        rows.append((id, recipe.how, recipe.statements[0].basis, recipe.name))
    click.echo(
        tabulate(
            rows, headers=("id", "how", "per", "name"), tablefmt="plain",
            maxcolwidths=[None, None, None, 34],
        )
    )  # fmt: skip


@command.command("show", epilog="Example: dosecalc recipes show boron-drench")
@click.argument("recipe")
def show_recipe(recipe: str) -> None:
    """Show one RECIPE: its wordings, where it holds, its sources."""
    from dosecalc.catalog.library import open_book
    from dosecalc.catalog.lookup import find_recipe
    from dosecalc.faces.describe import recipe_text

    found = find_recipe(recipe)
    click.echo(recipe_text(found, open_book(found)))


@command.command("check", epilog="Example: dosecalc recipes check my-recipes/")
@click.argument("path", type=click.Path(path_type=Path))
def check_recipes(path: Path) -> int:
    """Check a recipe file, or every .toml file of a folder, and name every problem."""
    from dosecalc.catalog.lookup import recipe_from_path

    files = sorted(path.glob("*.toml")) if path.is_dir() else [path]
    if not files:
        from dosecalc.errors import refuse

        raise refuse("check-empty", path=path)
    problems = [problem for file in files for problem in recipe_from_path(file)[1]]
    for problem in problems:
        click.echo(str(problem), err=True)
    click.echo(f"{len(files)} checked, {len(problems)} problems")
    return 2 if problems else 0

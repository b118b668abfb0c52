"""``dosecalc recipes``: list, show and check recipes."""

from __future__ import annotations

from pathlib import Path

import click

from dosecalc.faces.cli.options import measures_option


@click.group(epilog="Example: dosecalc recipes list")
def command() -> None:
    """List the recipe book, show one recipe, check files of your own, or write one from words."""


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


@command.command(
    "new",
    epilog="Example: dosecalc recipes new mine.toml --from-text '1 tbsp borax per 100 ft of row'"
    " --recipe-measures us",
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--from-text", metavar="TEXT", help="the recipe in words (see docs/writing.md)")
@click.option("--text-file", metavar="FILE", help="a file with such words; - for standard input")
@click.option("--rate", metavar="N", help="which rate of a text that holds several: 1, 2, ...")
@measures_option
@click.option("--replace", "over", is_flag=True, help="write over a file that is there")
def new_recipe(
    file: Path, from_text: str | None, text_file: str | None, recipe_measures: str | None,
    rate: str | None,     over: bool,
) -> None:  # fmt: skip
    """Write FILE, a recipe file, from the words of a recipe."""
    from dosecalc.errors import refuse
    from dosecalc.faces.prose import text_of, write_recipe

    if from_text is None and text_file is None:
        raise refuse("prose-none")
    found = write_recipe(file, text_of(from_text, text_file), recipe_measures, rate=rate, over=over)
    for line in (*found.warns, *found.says):
        click.echo(line.english())
    click.echo(f"wrote {file}")

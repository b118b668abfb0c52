"""``dosecalc materials``: list and show materials."""

from __future__ import annotations

import click


@click.group(epilog="Example: dosecalc materials list")
def command() -> None:
    """List the known materials, or show what is known of one."""


@command.command("list", epilog="Example: dosecalc materials list")
def list_materials() -> None:
    """List every material with its form and what it holds."""
    from tabulate import tabulate

    from dosecalc.catalog.lookup import material, material_ids
    from dosecalc.faces.describe import contents_text

    rows = []
    for id in material_ids():
        found = material(id)
        rows.append((id, found.form, contents_text(found)))
    click.echo(
        tabulate(
            rows, headers=("id", "form", "holds"), tablefmt="plain",
            maxcolwidths=[None, None, 46],
        )
    )  # fmt: skip


@command.command("show", epilog='Example: dosecalc materials show "baking soda"')
@click.argument("name")
def show_material(name: str) -> None:
    """Show one material by its id, name or alias: contents, density, solubility, sources."""
    from dosecalc.catalog.lookup import find_material
    from dosecalc.faces.describe import material_text

    click.echo(material_text(find_material(name)))


@command.command("sources", epilog="Example: dosecalc materials sources")
def list_sources() -> None:
    """List every source that a recipe or a fact may cite, by its id."""
    from dosecalc.catalog.lookup import source, source_ids

    for id in source_ids():
        found = source(id)
        click.echo(f"{id} [{found.grade}]")
        click.echo(f"  {found.cite()}")

"""``dosecalc tank``: top up a tank that is not empty, or thin what is too strong."""

from __future__ import annotations

import click


@click.group(epilog='Example: dosecalc tank top-up --left "6 L" --holds "5 g/L" --want "15 L"'
             ' --strength "4 g/L"')  # fmt: skip
def command() -> None:
    """Top up a tank that still holds some, or thin a mix that is too strong."""


@command.command(
    "top-up",
    epilog='Example: dosecalc tank top-up --left "6 L" --holds "5 g/L" --want "15 L"'
    ' --strength "4 g/L"',
)
@click.option("--left", required=True, metavar="TEXT", help='what the tank holds: "6 L"')
@click.option("--holds", required=True, metavar="TEXT", help='its strength: "5 g/L"')
@click.option("--want", required=True, metavar="TEXT", help='what it shall hold: "15 L"')
@click.option("--strength", required=True, metavar="TEXT", help='at this strength: "4 g/L"')
def top_up(left: str, holds: str, want: str, strength: str) -> None:
    """Say what to add to a rest, so that volume and strength are as wanted."""
    from dosecalc.faces.tank import top_up_text

    click.echo(top_up_text(left, holds, want, strength))


@command.command(
    "thin",
    epilog='Example: dosecalc tank thin --have "15 L" --holds "8 g/L" --to "4 g/L" --tank "20 L"',
)
@click.option("--have", required=True, metavar="TEXT", help='how much there is: "15 L"')
@click.option("--holds", required=True, metavar="TEXT", help='its strength: "8 g/L"')
@click.option("--to", "wanted", required=True, metavar="TEXT", help='as it should be: "4 g/L"')
@click.option("--tank", metavar="TEXT", help='usable volume of the tank: "20 L"')
def thin(have: str, holds: str, wanted: str, tank: str | None) -> None:
    """Say how far to make up a mix that is too strong."""
    from dosecalc.faces.tank import thin_text

    click.echo(thin_text(have, holds, wanted, tank))

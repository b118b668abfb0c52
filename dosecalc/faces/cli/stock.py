"""``dosecalc stock``: what stands on the shelf, drawn down by the record."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.options import Command
from dosecalc.faces.cli.season_file import file_option, say, season_file

if TYPE_CHECKING:
    from dosecalc.season.events import Event


def _on(function: Command) -> Command:
    return click.option("--on", metavar="DAY", help="the day: 2027-05-02; today if not told")(
        function
    )


@click.group(epilog='Example: dosecalc stock add borax "500 g" --pack "500 g" --cost 4.20')
def command() -> None:
    """Write down what came in; what `dosecalc log` used is taken off."""


@command.command("add", epilog='Example: dosecalc stock add borax "500 g" --cost 4.20')
@click.argument("product")
@click.argument("amount")
@click.option("--pack", default="", metavar="TEXT", help='what one pack holds: "500 g"')
@click.option("--cost", default="", metavar="N", help='of one pack, else of all: 4.20, "4.20 EUR"')
@click.option("--registration", default="", metavar="TEXT", help="registration number, if any")
@click.option("--note", default="", metavar="TEXT", help="anything else: supplier, batch")
@_on
@file_option
def add(product: str, amount: str, **typed: Any) -> None:
    """Write down a purchase of PRODUCT, a material or a product of the garden file."""
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.shelf import came_in
    from dosecalc.faces.written import past_day

    event = came_in(product, amount, garden_of(typed["garden"]), past_day(typed["on"]), typed)
    _write(event, "stock-added", typed)


@command.command("count", epilog='Example: dosecalc stock count borax "380 g"')
@click.argument("product")
@click.argument("amount")
@_on
@file_option
def count(product: str, amount: str, **typed: Any) -> None:
    """Write down what is really there: it holds, whatever the sums say."""
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.shelf import counted
    from dosecalc.faces.written import past_day

    event = counted(product, amount, garden_of(typed["garden"]), past_day(typed["on"]))
    _write(event, "stock-counted", typed)


@command.command("list", epilog="Example: dosecalc stock list")
@click.option("--all", "every", is_flag=True, help="each purchase and count too, with its id")
@file_option
def list_stock(every: bool, **typed: Any) -> None:
    """What is left of every product."""
    from dosecalc.faces.shelf import event_line, stock_lines
    from dosecalc.season.events import standing
    from dosecalc.season.stock import BOUGHT, COUNTED, stock_of
    from dosecalc.season.store import reading

    with reading(season_file(typed)) as base:
        found = stock_of(base)
        events = standing(base, (BOUGHT, COUNTED)) if every else []
    for stock in found:
        rows = [event_line(event) for event in events if event.what == stock.material]
        for line in (*stock_lines(stock), *rows):
            click.echo(line)
    if not found:
        say("stock-none")


@command.command("withdraw", epilog="Example: dosecalc stock withdraw last")
@click.argument("id")
@file_option
def withdraw(id: str, **typed: Any) -> None:
    """Take a purchase or a count back out (the `last` written one, or by its ID).

    It stays readable in an export.
    """
    from dosecalc.errors import refuse
    from dosecalc.faces.written import withdrawal
    from dosecalc.season.events import add_event, one_event, standing
    from dosecalc.season.stock import BOUGHT, COUNTED
    from dosecalc.season.store import writing

    with writing(season_file(typed), new=False) as base:
        if id == "last":
            newest = sorted(standing(base, (BOUGHT, COUNTED)), key=lambda one: one.written)
            id = newest[-1].id if newest else id
        about = one_event(base, id)
        if not about.kind.startswith("stock"):
            raise refuse("season-no-entry", text=id)
        add_event(base, withdrawal(about))
    say("stock-withdrawn", id=about.id)


def _write(event: Event, key: str, typed: dict[str, Any]) -> None:
    from dosecalc.faces.shelf import same_kind
    from dosecalc.season.events import add_event, standing
    from dosecalc.season.stock import by_mass
    from dosecalc.season.store import writing
    from dosecalc.units import read
    from dosecalc.units.show import show

    with writing(season_file(typed)) as base:
        same_kind(event, by_mass(standing(base, what=event.what), event.what))
        add_event(base, event)
    amount = show(read.quantity(event.details["amount"])).metric
    say(key, id=event.id, amount=amount, name=event.details["name"], day=event.day)

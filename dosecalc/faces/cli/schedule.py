"""``dosecalc schedule``: the same dose several times ahead, judged as a whole before it starts."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.card import asked_of, beside, listed, paper_options, print_cards
from dosecalc.faces.cli.jobs import job_options, mix_of
from dosecalc.faces.cli.options import Command
from dosecalc.faces.cli.output import worst_code

if TYPE_CHECKING:
    from dosecalc.faces.job import Job
    from dosecalc.faces.schedule import Dose, Every, Line
    from dosecalc.faces.shopping import Buy
    from dosecalc.faces.waits import Until


def _plan_options(function: Command) -> Command:
    for option in (
        click.option("--strict", is_flag=True, help="exit 3 for a caution too"),
        click.option("--json", "as_json", is_flag=True, help="print the result as JSON"),
        click.option(
            "--pack", "packs", metavar="TEXT", multiple=True,
            help='what one pack holds: "borax: 500 g"',
        ),
        click.option("--shopping", is_flag=True, help="what to buy for it, by the stock"),
        paper_options,
        click.option("--cards", metavar="FILE", help="print a card for each dose: .pdf, .png ..."),
        click.option("-o", "--output", metavar="FILE", help="calendar file to write: .ics"),
        click.option("--list", "jobs", metavar="FILE", help="several beds: one job a line, as in"
                     " `dosecalc card --list`, each with --at or --place"),
        click.option("--time", metavar="TEXT", help='time of the day it is given: "07:00"'),
        click.option("--when", default="", metavar="TEXT",
                     help='the sign to begin, where no day is known: "plants 30 cm tall"'),
        click.option("--times", metavar="N", help="how many doses; else what the recipe says"),
        click.option("--every", metavar="TEXT",
                     help='how far apart: "14 days"; else what the recipe says'),
    ):  # fmt: skip
        function = option(function)
    return function


@click.command(
    epilog='Example: dosecalc schedule oil-dormant --area "100 m2" --spray-volume "5 L"'
    " --place orchard --on 2027-03-01 --times 2 --every '30 days'"
)
@job_options
@_plan_options
def command(
    output: str | None, cards: str | None, as_json: bool, strict: bool, **typed: Any
) -> int:
    """Plan RECIPE, or a --text, several times on a place from the day --on; judge it as a whole."""
    import datetime

    from dosecalc.faces.schedule import ahead, clock_of, plan
    from dosecalc.faces.schedule_text import plan_dump, plan_lines
    from dosecalc.faces.shopping import shopping_lines
    from dosecalc.faces.waits import waits

    clock = clock_of(typed["time"])
    asked = None if cards is None else asked_of(typed, cards)
    if output is not None:
        _check_calendar(output, typed)
    if cards not in (None, "-"):
        _check_new(str(cards), typed)
    jobs = _jobs(typed)
    apart = [_apart(typed, job) for job in jobs]
    doses = plan([_line(job, every, typed) for job, every in zip(jobs, apart, strict=True)])
    until, found = waits(doses, clock), ahead(doses)
    buys = _buys(doses, typed) if typed["shopping"] or as_json else []
    if as_json:
        whole = plan_dump(doses, found, until, buys)
        click.echo(json.dumps(whole, indent=1, ensure_ascii=False))
    else:
        today = datetime.date.today()
        lines = plan_lines(doses, apart, found, until, when=typed["when"], today=today)
        click.echo("\n".join(lines))
        if typed["shopping"]:
            from dosecalc.faces.wrap import section
            from dosecalc.say import Say

            title = Say.of("schedule-shopping").english()
            click.echo("\n".join(["", *section(title, shopping_lines(buys))]))
    if output is not None:
        _write_calendar(Path(output), doses, until, typed, quiet=as_json)
    if cards is not None and asked is not None:
        days = [dose.day.isoformat() for dose in doses]
        made = [(dose.job, dose.mix) for dose in doses]
        print_cards(made, cards, *asked, over=typed["over"], pack=True, days=days)
    return worst_code([dose.mix for dose in doses], strict=strict)


def _jobs(typed: dict[str, Any]) -> list[Job]:
    """The job that was typed, on each bed of --at, or that of each line of a list."""
    from dosecalc.errors import refuse

    beds: tuple[str, ...] = typed["at"]
    if typed["jobs"] is None:
        return [mix_of({**typed, "at": bed})[0] for bed in beds or (None,)]
    if typed["recipe"] or typed["text"] or typed["text_file"] or len(beds) > 1:
        raise refuse("card-list-both")
    return [job for job, _ in listed(Path(typed["jobs"]), beside(at=beds[0] if beds else None))]


def _line(job: Job, every: Every | None, typed: dict[str, Any]) -> Line:
    """The job with its place and days."""
    from dosecalc.errors import refuse
    from dosecalc.faces.record import day_of
    from dosecalc.faces.schedule import Line, days_of, interval_of, times_of
    from dosecalc.season.places import tidy

    place = tidy(job.at or job.place)
    if not place:
        raise refuse("season-bed")
    times = interval_of(job)[1] if typed["times"] is None else times_of(typed["times"])
    return Line(job, place, days_of(day_of(job.on), every, times))


def _apart(typed: dict[str, Any], job: Job) -> Every | None:
    from dosecalc.faces.schedule import every_of, interval_of

    return interval_of(job)[0] if typed["every"] is None else every_of(typed["every"])


def _buys(doses: list[Dose], typed: dict[str, Any]) -> list[Buy]:
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.record import file_of
    from dosecalc.faces.shopping import Price, needs, packs_typed, shopping
    from dosecalc.season.stock import stock_of
    from dosecalc.season.store import reading

    garden = garden_of(typed["garden"])
    file = file_of(typed["season"], garden.path)
    stocks = {}
    if file.is_file():
        with reading(file) as base:
            stocks = {stock.material: stock for stock in stock_of(base)}
    packs, prices = {}, {}
    used = {id for dose in doses for id in _named(dose)}
    for key, product in garden.products().items() if used else ():
        if key in used:
            if product.pack is not None:
                packs[product.material.id] = product.pack
            if product.price is not None:
                prices[product.material.id] = Price(product.price)
    told = packs_typed(typed["packs"], garden)
    prices = {id: p for id, p in prices.items() if told.get(id, packs.get(id)) == packs.get(id)}
    return shopping(needs(doses), stocks, {**packs, **told}, prices)


def _named(dose: Dose) -> tuple[str, ...]:
    """The materials of a dose as its recipe names them; a product by its name."""
    from dataclasses import replace

    from dosecalc.faces.job import gather

    return gather(replace(dose.job, record=None)).recipe.material_ids()


def _check_calendar(output: str, typed: dict[str, Any]) -> None:
    from dosecalc.errors import refuse

    if Path(output).suffix.lower() != ".ics":
        raise refuse("schedule-form", path=output)
    if typed["when"] and typed["on"] is None:
        raise refuse("schedule-no-day")
    _check_new(output, typed)


def _check_new(path: str, typed: dict[str, Any]) -> None:
    """Refuse before anything is computed or written, not between two files."""
    from dosecalc.errors import refuse

    if Path(path).exists() and not typed["over"]:
        raise refuse("file-there", path=path)


def _write_calendar(
    file: Path, doses: list[Dose], until: list[Until], typed: dict[str, Any], *, quiet: bool
) -> None:
    import datetime

    from dosecalc.faces.calendar_file import calendar_bytes
    from dosecalc.faces.whole_file import write_all
    from dosecalc.say import Say

    stamp = datetime.datetime.now(datetime.UTC).replace(microsecond=0)
    write_all({file: calendar_bytes(doses, until, stamp, typed["when"])}, replace=typed["over"])
    click.echo(Say.of("card-wrote", path=file).english(), err=quiet)


_AT = click.Option(
    ["--at"], multiple=True, metavar="TEXT",
    help="a bed of the garden file by its name; several, each behind an --at of its own",
)  # fmt: skip
command.params = [_AT if param.name == "at" else param for param in command.params]

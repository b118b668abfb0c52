"""``dosecalc log crop, test, split, merge``: what is no dose and decides what a dose adds up to."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.options import Command
from dosecalc.faces.cli.season_file import file_option, say, season_file

if TYPE_CHECKING:
    from dosecalc.say import Say
    from dosecalc.season.here import Base


def _where_and_when(function: Command) -> Command:
    for option in (
        click.option("--note", default="", metavar="TEXT", help="anything else"),
        click.option("--on", metavar="DAY", help="the day: 2027-05-02; today if not told"),
        click.option(
            "--place",
            "--at",
            default="",
            metavar="TEXT",
            help="what the ground is called, or a bed of the garden file",
        ),
        file_option,
    ):
        function = option(function)
    return function


def _written(typed: dict[str, Any], write: Callable[[Base], list[Say]]) -> None:
    from dosecalc.season.store import writing

    with writing(season_file(typed)) as base:
        lines = write(base)
    for line in lines:
        click.echo(line.english())


def _place(typed: dict[str, Any]) -> str:
    from dosecalc.errors import refuse

    place = str(typed["place"]).strip()
    if not place:
        raise refuse("event-place")
    return place


@click.group("crop", epilog="Example: dosecalc log crop start beetroot --place north")
def crop_group() -> None:
    """Write down when a crop begins and ends: limits for a crop count in between."""


@crop_group.command("start", epilog="Example: dosecalc log crop start beetroot --place north")
@click.argument("crop")
@_where_and_when
def crop_start(crop: str, **typed: Any) -> None:
    """CROP stands on the ground from that day on: sown, planted, or first leaves."""
    from dosecalc.faces.happened import start_crop
    from dosecalc.faces.written import past_day

    place, day = _place(typed), past_day(typed["on"])
    _written(typed, lambda base: start_crop(base, crop, place, day, typed["note"]))


@crop_group.command("end", epilog="Example: dosecalc log crop end beetroot --place north")
@click.argument("crop", required=False)
@_where_and_when
def crop_end(crop: str | None, **typed: Any) -> None:
    """CROP, or the only one that stands, was cleared on that day."""
    from dosecalc.faces.happened import end_crop
    from dosecalc.faces.written import past_day

    place, day = _place(typed), past_day(typed["on"])
    _written(typed, lambda base: end_crop(base, crop, place, day, typed["note"]))


@click.command(
    "test", epilog='Example: dosecalc log test --place north --soil "B 0.6 mg/kg hot-water"'
)
@click.option(
    "--soil",
    metavar="TEXT",
    multiple=True,
    help='a figure of a soil test, with what it was shaken with: "B 0.6 mg/kg hot-water"',
)
@click.option("--leaf", metavar="TEXT", multiple=True, help='a figure of a leaf test: "B 35 mg/kg"')
@click.option("--method", default="", metavar="TEXT", help="extractant of figures that tell none")
@click.option("--depth", default="", metavar="TEXT", help='how deep it was taken: "0 to 15 cm"')
@click.option("--lab", default="", metavar="TEXT", help="which laboratory")
@click.option("--crop", default="", metavar="TEXT", help="of which crop and part a leaf was")
@_where_and_when
def test_logged(soil: tuple[str, ...], leaf: tuple[str, ...], **typed: Any) -> None:
    """Write down a soil or leaf test, word for word; no rate is read out of it."""
    from dosecalc.errors import refuse
    from dosecalc.faces.happened import add_test
    from dosecalc.faces.written import past_day

    if soil and leaf:
        raise refuse("test-both")
    if not (soil or leaf):
        raise refuse("test-nothing")
    place, day = _place(typed), past_day(typed["on"])
    about = {name: typed[name] for name in ("method", "depth", "lab", "crop", "note")}
    of = "soil" if soil else "leaf"
    _written(typed, lambda base: add_test(base, of, soil or leaf, place, day, about))


@click.command(
    "split", epilog='Example: dosecalc log split north --into "north-a 12 m2" "north-b 6 m2"'
)
@click.argument("place")
@click.argument("more", nargs=-1)
@click.option(
    "--into",
    "first",
    metavar="TEXT",
    required=True,
    multiple=True,
    help='the parts, each with its size: "north-a 12 m2" "north-b 6 m2"',
)
@click.option("--size", metavar="TEXT", help="how big the whole was, if no file tells it")
@click.option("--on", metavar="DAY", help="the day: 2027-05-02; today if not told")
@file_option
def split_place(place: str, first: tuple[str, ...], more: tuple[str, ...], **typed: Any) -> None:
    """PLACE is no more, its parts are: each keeps the whole's past, per area and per length."""
    from dosecalc.faces.happened import split
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.written import past_day

    garden, day = garden_of(typed["garden"]), past_day(typed["on"])
    _written(
        typed,
        lambda base: split(base, place.strip(), (*first, *more), day, garden, typed["size"]),
    )


@click.command(
    "merge", epilog='Example: dosecalc log merge "east-a 12 m2" "east-b 6 m2" --into east'
)
@click.argument("parts", nargs=-1, required=True)
@click.option("--into", metavar="TEXT", required=True, help="what they are called together")
@click.option("--on", metavar="DAY", help="the day: 2027-05-02; today if not told")
@file_option
def merge_places(parts: tuple[str, ...], into: str, **typed: Any) -> None:
    """PARTS become one place; limits are held against the part that got the most."""
    from dosecalc.faces.happened import merge
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.written import past_day

    garden, day = garden_of(typed["garden"]), past_day(typed["on"])
    name = _place({"place": into})
    _written(typed, lambda base: merge(base, parts, name, day, garden))


@click.command("withdraw", epilog="Example: dosecalc log withdraw last")
@click.argument("event")
@file_option
def withdraw_event(event: str, **typed: Any) -> None:
    """Take a crop, test, split or merge out again; EVENT stays readable."""
    from dosecalc.faces.happened import withdraw

    _written(typed, lambda base: withdraw(base, event))


@click.command("events", epilog="Example: dosecalc log events")
@file_option
def list_events(**typed: Any) -> None:
    """Crops, tests, splits, merges and stock that stand, the oldest day first."""
    from dosecalc.faces.happened import event_lines
    from dosecalc.season.events import standing
    from dosecalc.season.store import reading

    with reading(season_file(typed)) as base:
        found = standing(base)
    for line in event_lines(found):
        click.echo(line.english())
    if not found:
        say("event-none")


ground_commands = (
    crop_group, test_logged, split_place, merge_places, withdraw_event, list_events,
)  # fmt: skip

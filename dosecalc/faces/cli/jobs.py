"""The options of one job, shared by every command that computes a `Mix`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.ask import Wording, ask_option, settled
from dosecalc.faces.cli.options import (
    SITE,
    TOLD,
    TOOLS,
    Command,
    measures_option,
    pick,
    site_options,
    told_options,
    tool_options,
)

if TYPE_CHECKING:
    from dosecalc.catalog.told import ToldText
    from dosecalc.dose.result import Mix
    from dosecalc.faces.job import Job
    from dosecalc.faces.record import Record

_NAMES = ("recipe", "text", "text_file", "rate", "ask")


def season_options(function: Command) -> Command:
    """Add which record a dose is judged with, which bed, which day."""
    for option in (
        click.option(
            "--on", metavar="DAY", help="the day it is given: 2027-05-02; today if not told"
        ),
        click.option(
            "--place", default="", metavar="TEXT",
            help="what the ground is called; else the bed of --at",
        ),
        click.option(
            "--season", metavar="FILE",
            help="the season's record; season.sqlite beside the garden file if there is one",
        ),
    ):  # fmt: skip
        function = option(function)
    return function


def record(typed: dict[str, Any]) -> Record | None:
    """The record that the season options name, if there is one.

    `log` leaves out the entry that it corrects ("without"), and no other record is read in place
    of one that it is about to make ("makes").
    """
    from dataclasses import replace

    from dosecalc.faces.job import garden_of
    from dosecalc.faces.record import record_of

    if typed.get("makes"):
        return None
    garden = garden_of(typed["garden"])
    bed = typed["at"] or typed["place"]
    found = record_of(typed["season"], garden.path, bed, typed["on"])
    return found and replace(found, without=typed.get("without", ""))


def told_and_record(typed: dict[str, Any]) -> tuple[ToldText, Record | None]:
    """What was told, with the crop that the record says stands there if none was typed."""
    from dosecalc.catalog.told import ToldText

    told = ToldText(**pick(typed, TOLD), after=typed["after"], organic=typed["organic"])
    found = record(typed)
    if found is None:
        return told, None
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.past import with_standing

    return with_standing(told, found, garden_of(typed["garden"]), typed["at"])


def job_typed(typed: dict[str, Any]) -> Job:
    """The job of what was typed about site, tools, crop, weather and past; no recipe yet."""
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.job import Job

    told, found = told_and_record(typed)
    return Job(
        recipe="",
        site=SiteText(**pick(typed, SITE)),
        tools=ToolsText(**pick(typed, TOOLS), weighed=typed["weighed"]),
        told=told,
        labels=typed["label"],
        garden=typed["garden"],
        at=typed["at"],
        place=typed["place"],
        on=typed["on"],
        measures=typed.get("recipe_measures"),
        water=typed.get("water"),
        equal=typed.get("equal", False),
        stock=typed.get("stock", False),
        record=found,
    )


def job_options(function: Command) -> Command:
    """Add the recipe or its words, and everything about site, tools, crop, weather, past."""
    for option in (
        click.option(
            "--equal", is_flag=True, help="equal tankfuls instead of full ones and a last part"
        ),
        click.option(
            "--stock-tank", "stock", is_flag=True,
            help="the liquid is a stock for an injector, not what plants get",
        ),
        click.option(
            "--water", metavar="TEXT", help="water in place of the recipe's, where it only carries"
        ),
        season_options, measures_option, told_options, tool_options, site_options, ask_option,
        click.option(
            "--rate", metavar="N", help="which rate of a --text that holds several: 1, 2, ..."
        ),
        click.option(
            "--text-file", metavar="FILE", help="a file with such words; - for standard input"
        ),
        click.option(
            "--text", metavar="TEXT",
            help='a recipe in words: "1 tbsp borax per 100 ft of row" (see docs/writing.md)',
        ),
        click.argument("recipe", required=False),
    ):  # fmt: skip
        function = option(function)
    return function


def mix_of(typed: dict[str, Any], *, as_json: bool = False) -> tuple[Job, Mix]:
    """The job that was typed and its `Mix`; a text is asked back where there is someone to ask.

    Raises
    ------
    DoseError
        For anything that cannot be read, found or scaled.
    """
    from dataclasses import replace

    from dosecalc.errors import refuse
    from dosecalc.faces.job import run

    recipe, text, text_file, rate, ask = (typed[name] for name in _NAMES)
    if recipe is not None and (text is not None or text_file is not None):
        raise refuse("prose-both")
    if recipe is not None and rate is not None:
        raise refuse("page-no-text")
    if recipe is None and text is None and text_file is None:
        raise click.UsageError(str(refuse("prose-none")))
    job = replace(job_typed(typed), recipe=recipe or "")
    if recipe is not None:
        return job, run(job)
    from dosecalc.faces.prose import job_and_mix, read_job, text_of

    said = settled(
        Wording(text_of(text, text_file), job.measures, rate),
        lambda words: read_job(words.text, replace(job, measures=words.measures), words.rate),
        ask,
        as_json=as_json,
    )
    return job_and_mix(said.text, replace(job, measures=said.measures), said.rate)

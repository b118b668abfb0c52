"""Which season's file a `log` command works on, and what it says."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from dosecalc.faces.cli.options import Command


def file_option(function: Command) -> Command:
    """Add the garden file and the season's file."""
    function = click.option("--garden", metavar="FILE", help="garden file, as for mix")(function)
    return click.option("--season", metavar="FILE", help="the season's record")(function)


def season_file(typed: dict[str, Any]) -> Path:
    """The file that was named, else the one beside the garden file or in this folder."""
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.record import file_of

    return file_of(typed["season"], garden_of(typed["garden"]).path)


def say(key: str, **args: object) -> None:
    """Print one sentence."""
    from dosecalc.say import Say

    click.echo(Say.of(key, **args).english())

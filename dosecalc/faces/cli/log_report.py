"""``dosecalc log report``: the season on paper, ground by ground."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from dosecalc.faces.cli.season_file import file_option, say, season_file


@click.command("report", epilog="Example: dosecalc log report --place north -o season.pdf")
@click.option("--place", "--at", metavar="TEXT", help="one ground; all of them if not told")
@click.option("--year", metavar="YEAR", help="a calendar year: 2027; this one if not told")
@click.option("--from", "start", metavar="DAY", help="first day, in place of a year: 2026-09-01")
@click.option("--to", "end", metavar="DAY", help="last day: 2027-08-31; today if not told")
@click.option("--region", metavar="TEXT", help="whose law applies; else the garden file's")
@click.option("--paper", default="a4", metavar="TEXT", help="a4 or letter")
@click.option(
    "-o",
    "--output",
    default="-",
    metavar="FILE",
    help="file to write: .pdf, .txt; - prints the text",
)
@click.option("--replace", "over", is_flag=True, help="write over a file that is there")
@file_option
def report_season(output: str, over: bool, **typed: Any) -> None:
    """Print what was given, the totals against every limit in scope, and what is not known."""
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.report.make import Asked, check, document_of, page_bytes
    from dosecalc.faces.whole_file import write_all

    names = ("place", "year", "start", "end", "region", "paper")
    asked = Asked(**{name: typed[name] for name in names})
    check(output, asked.paper)
    document = document_of(season_file(typed), asked, garden_of(typed["garden"]))
    made = page_bytes(document, output, asked.paper)
    if output == "-":
        click.echo(made.decode("utf-8"), nl=False)
        return
    write_all({Path(output): made}, replace=over)
    say("card-wrote", path=output)

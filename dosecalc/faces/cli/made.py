"""Jobs that a command computed itself: shown, carded, saved, like a recipe of the book."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.card import asked_of, paper_options, print_cards
from dosecalc.faces.cli.jobs import season_options
from dosecalc.faces.cli.options import Command, site_options, told_options, tool_options
from dosecalc.faces.cli.output import worst_code

if TYPE_CHECKING:
    from dosecalc.dose.result import Mix
    from dosecalc.faces.job import Job


def made_options(function: Command) -> Command:
    """Add site, tools, crop, past, and where the result goes: screen, JSON, cards, recipe files."""
    for option in (
        click.option("--strict", is_flag=True, help="exit 3 for a caution too"),
        click.option("--json", "as_json", is_flag=True, help="print the result as JSON"),
        click.option(
            "--save", metavar="FILE",
            help="write it as a recipe file (.toml) that mix, card and log read",
        ),
        paper_options,
        click.option(
            "-o", "--output", metavar="FILE",
            help="print cards to this file: .pdf, .png, .svg, .txt; - prints the text",
        ),
        season_options, told_options, tool_options, site_options,
    ):  # fmt: skip
        function = option(function)
    return function


def show_made(
    jobs: Sequence[Job], lines: Sequence[str], about: dict[str, Any], typed: dict[str, Any],
    *, judged: Sequence[Job] = (),
) -> int:  # fmt: skip
    """Compute the `Mix` of each job and show it in the way that was asked for.

    Parameters
    ----------
    jobs : sequence of Job
        Each with its recipe `ready`; several are passes of one plan, in order.
    lines : sequence of str
        What stands above the first `Mix`: how the amounts came about.
    about : dict
        The same for JSON; stands beside "mixes".
    typed : dict
        The options of `made_options`.
    judged : sequence of Job
        What is only judged, never measured out: what all the jobs together come to. Its findings
        stand before the first `Mix`.

    Returns
    -------
    int
        The exit code that the worst finding asks for.

    Raises
    ------
    DoseError
        When a job cannot be computed or a file cannot be written; nothing is written then.
    """
    from dosecalc.faces.job import run

    if typed["as_json"] and typed["output"] == "-":
        raise click.UsageError("--json and -o - both print to the screen: name a file behind -o.")
    asked = None if typed["output"] is None else asked_of(typed, typed["output"])
    made = [(job, run(job)) for job in jobs]
    also = [run(job) for job in judged]
    if typed["as_json"]:
        from dosecalc.dose.dump import dump

        whole = {**about, "mixes": [dump(mix) for _, mix in made]}
        if also:
            whole["judged"] = [dump(mix) for mix in also]
        click.echo(json.dumps(whole, indent=1, ensure_ascii=False))
    elif asked is None:
        _show(made, also, lines)
    if asked is not None:
        if typed["output"] != "-" and not typed["as_json"]:
            click.echo("\n".join(lines))
        pack = len(made) > 1
        print_cards(made, typed["output"], *asked, over=typed["over"], pack=pack)
    if typed["save"] is not None:
        _save(made, Path(typed["save"]), typed)
    return worst_code([*(mix for _, mix in made), *also], strict=typed["strict"])


def _show(made: Sequence[tuple[Job, Mix]], also: Sequence[Mix], lines: Sequence[str]) -> None:
    from dosecalc.faces.text import held, render

    texts = ["\n".join(lines)] if lines else []
    texts += [text for mix in also if (text := held(mix, [one for _, one in made]))]
    click.echo("\n\n".join([*texts, *(render(mix) for _, mix in made)]))


def _save(made: Sequence[tuple[Job, Mix]], file: Path, typed: dict[str, Any]) -> None:
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.recipe_file import save
    from dosecalc.say import Say

    recipes = [job.ready.recipe for job, _ in made if job.ready is not None]
    names = [file, *(file.with_stem(f"{file.stem}-{n}") for n in range(2, len(recipes) + 1))]
    shelf = garden_of(typed["garden"]).products()
    save(dict(zip(names, recipes, strict=True)), set(shelf), over=typed["over"])
    for name in names:
        click.echo(Say.of("card-wrote", path=name).english(), err=typed["as_json"])

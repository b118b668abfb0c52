"""``dosecalc card``: print what `mix` computes as one sheet, or a season's pack of them."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.jobs import job_options, mix_of
from dosecalc.faces.cli.options import Command
from dosecalc.faces.cli.output import worst_code

if TYPE_CHECKING:
    from dosecalc.dose.result import Mix
    from dosecalc.faces.card.make import Asked, Form
    from dosecalc.faces.job import Job

_ASKED = ("paper", "sheet", "language", "decimal", "date", "who", "place")


def paper_options(function: Command) -> Command:
    """Add how a card is printed and what stands in its lines to fill in."""
    for option in (
        click.option("--replace", "over", is_flag=True, help="write over a file that is there"),
        click.option("--ascii", "ascii_only", is_flag=True, help="text in plain letters only"),
        click.option("--who", default="", metavar="TEXT", help="who mixes; else a line to fill in"),
        click.option(
            "--date", default="", metavar="TEXT", help="date to print; else a line to fill in"
        ),
        click.option(
            "--decimal", default="point", metavar="TEXT",
            help="decimal mark of the place: point, comma",
        ),
        click.option("--language", default="en", metavar="TEXT", help="words of the card: en, es"),
        click.option("--sheet", default="1", metavar="N", help="cards on one sheet: 1, 2 or 4"),
        click.option(
            "--paper", default="a5", metavar="TEXT",
            help="a4, a5, a6, letter, half-letter (the paper of one sheet)",
        ),
    ):  # fmt: skip
        function = option(function)
    return function


def asked_of(typed: dict[str, Any], output: str) -> tuple[Asked, Form]:
    """How a card is to be printed, checked before anything is computed.

    Raises
    ------
    DoseError
        For a paper, a language or the end of a file's name that is not known.
    """
    from dosecalc.faces.card.make import Asked, check, form_of

    named = {name: typed[name] for name in _ASKED} | {"paper": typed["paper"].lower()}
    asked = Asked(**named, ascii_only=typed["ascii_only"])
    check(asked)
    return asked, "txt" if output == "-" else form_of(Path(output))


def print_cards(
    made: list[tuple[Job, Mix]], output: str, asked: Asked, form: Form, *, over: bool, pack: bool,
    days: Sequence[str] = (),
) -> None:  # fmt: skip
    """Print the card of each job, as a `pack` behind a summary, to a file or to the screen.

    In a pack each card bears its own of the `days`, if there are any.
    """
    from dosecalc.faces.card.make import card_of, pack_of, pages

    cards = pack_of(made, asked, days) if pack else [card_of(job, mix, asked) for job, mix in made]
    found = pages(cards, form, asked)
    if output == "-":
        click.echo(found[0].decode("utf-8"), nl=False)
    else:
        _write(Path(output), found, over=over)


@click.command(
    epilog='Example: dosecalc card boron-drench --row "40 m" --row-spacing "45 cm" -o card.pdf',
)
@job_options
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    required=True,
    help="file to write: .pdf, .png, .svg, .txt; - prints the text",
)
@click.option(
    "--list", "jobs", metavar="FILE", help="a pack: one job a line, typed as behind `dosecalc card`"
)
@paper_options
@click.option("--strict", is_flag=True, help="exit 3 for a caution too")
def command(output: str, jobs: str | None, strict: bool, **typed: Any) -> int:
    """Print RECIPE, or a --text, scaled to your site and tools, as a card for who mixes it."""
    from dosecalc.errors import refuse

    asked, form = asked_of(typed, output)
    if jobs is not None and (typed["recipe"] or typed["text"] or typed["text_file"]):
        raise refuse("card-list-both")
    made = [mix_of(typed)] if jobs is None else listed(Path(jobs), beside())
    print_cards(made, output, asked, form, over=typed["over"], pack=jobs is not None)
    return worst_code([mix for _, mix in made], strict=strict)


def _write(file: Path, found: list[bytes], *, over: bool) -> None:
    from dosecalc.faces.whole_file import write_all
    from dosecalc.say import Say

    names = [file, *(file.with_stem(f"{file.stem}-{n}") for n in range(2, len(found) + 1))]
    write_all(dict(zip(names, found, strict=True)), replace=over)
    for name in names:
        click.echo(Say.of("card-wrote", path=name).english())


@click.command()
@job_options
def _line(**typed: Any) -> tuple[Job, Mix]:
    """One job of a list."""
    return mix_of(typed)


def beside(**settled: Any) -> dict[str, Any]:
    """What was typed about the job beside --list: it holds for each line that says nothing else.

    Parameters
    ----------
    settled : Any
        In place of what was typed, where that is of another form.
    """
    ctx = click.get_current_context()
    typed = click.core.ParameterSource.COMMANDLINE
    names = [param.name for param in _line.params if param.name in ctx.params]
    return {
        name: settled.get(name, ctx.params[name])
        for name in names
        if ctx.get_parameter_source(name) == typed
    }


def listed(file: Path, others: Mapping[str, Any]) -> list[tuple[Job, Mix]]:
    """The jobs of a list, one a line; empty lines and those behind # are passed over.

    Parameters
    ----------
    others : mapping of str to Any
        What holds for each line that does not say it itself; see `beside`.

    Raises
    ------
    DoseError
        With the number of the line that cannot be read or computed.
    """
    from dosecalc.errors import DoseError, refuse

    try:
        rows = file.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as err:
        why = getattr(err, "strerror", None) or "it is not UTF-8 text"
        raise refuse("prose-file", path=file, why=str(why).lower()) from None
    made: list[tuple[Job, Mix]] = []
    for number, row in enumerate(rows, start=1):
        if not row.strip() or row.lstrip().startswith("#"):
            continue
        try:
            made.append(_line.main(shlex.split(row), standalone_mode=False, default_map=others))
        except (DoseError, click.UsageError, ValueError) as err:
            why = err.format_message() if isinstance(err, click.UsageError) else str(err)
            raise refuse("card-list-line", path=file, number=number, why=why) from None
    if not made:
        raise refuse("card-list-empty", path=file)
    return made

"""``dosecalc log``: the record of what was given; an entry is corrected, never overwritten."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dosecalc.faces.cli.jobs import job_options, mix_of, told_and_record
from dosecalc.faces.cli.log_ground import ground_commands
from dosecalc.faces.cli.log_report import report_season
from dosecalc.faces.cli.options import SITE, TOOLS, Command, pick
from dosecalc.faces.cli.season_file import file_option, say, season_file

if TYPE_CHECKING:
    from dosecalc.dose.request import Request
    from dosecalc.dose.result import Mix
    from dosecalc.faces.record import Record
    from dosecalc.season.entries import Entry

_FIELDS = ("who", "stage", "registration")
_SHOWN = 50


class _Log(click.Group):
    """A group whose first command may be left out: `dosecalc log boron-drench ...` adds."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put "add" in front of what is no command's name."""
        if args and args[0] not in (*self.commands, "-h", "--help"):
            args = ["add", *args]
        return super().parse_args(ctx, args)


def _entry_options(function: Command) -> Command:
    for name, text in (
        ("note", "anything else"),
        ("registration", "the product's registration number"),
        ("stage", 'growth stage of the crop: "first flowers"'),
        ("conditions", 'weather as it was: "calm, 14 C, dry"'),
        ("who", "who gave it"),
    ):
        function = click.option(f"--{name}", default="", metavar="TEXT", help=text)(function)
    for option in (
        click.option("--also", metavar="WORD=TEXT", multiple=True,
                     help='for a rule on records: "start=06:30" (docs/season.md)'),
        click.option("--depth", metavar="TEXT", help='depth of irrigation water: "400 mm"'),
        click.option("--holds", metavar="TEXT", multiple=True,
                     help='irrigation water and its analysis: "0.8 mg/L B"'),
        click.option("--placement", metavar="TEXT",
                     help="how --used was given: broadcast, foliar ..."),
        click.option("--used", metavar="TEXT", multiple=True,
                     help='what was really used, by hand: "38 g borax"'),
    ):  # fmt: skip
        function = option(function)
    return job_options(function)


@click.group(
    cls=_Log,
    epilog='Example: dosecalc log boron-drench --row "40 m" --place "north" --who Ro',
)
def command() -> None:
    """Write down a dose as it was given (RECIPE, --text or --used), on a bed, on a day."""


@command.command("add", epilog='Example: dosecalc log add boron-drench --row "40 m" --place north')
@_entry_options
def add_entry(**typed: Any) -> int:
    """Write down a dose: a recipe as for mix, or --used by hand. "add" may be left out."""
    return _write(typed, "")


@command.command(
    "correct", epilog='Example: dosecalc log correct last boron-drench --row "40 m" --place north'
)
@click.argument("entry")
@_entry_options
def correct(entry: str, **typed: Any) -> int:
    """Write a counter-entry that counts in place of ENTRY; the old one stays readable."""
    return _write(typed, entry)


@command.command("undo", epilog="Example: dosecalc log undo last")
@click.argument("entry")
@file_option
def undo(entry: str, **typed: Any) -> None:
    """Take ENTRY out of every total; it stays readable."""
    from dosecalc.faces.record import undo_of
    from dosecalc.season.entries import add, one
    from dosecalc.season.store import writing

    with writing(season_file(typed), new=False) as base:
        about = one(base, entry)
        add(base, undo_of(about))
    say("season-undone", id=about.id)


@command.command("list", epilog="Example: dosecalc log list")
@click.option("--all", "every", is_flag=True, help="all, not the newest 50")
@file_option
def list_entries(every: bool, **typed: Any) -> None:
    """The entries that count, the newest day first."""
    from dosecalc.errors import printable
    from dosecalc.season.entries import newest
    from dosecalc.season.store import reading

    with reading(season_file(typed)) as base:
        found = newest(base, None if every else _SHOWN + 1)
        shown = [(e, printable(_what(e))) for e in (found if every else found[:_SHOWN])]
    for entry, what in shown:
        say("season-listed", id=entry.id, day=entry.day, bed=printable(entry.bed), what=what)
    if not found:
        say("season-none")
    if not every and len(found) > _SHOWN:
        say("season-more")


@command.command("show", epilog="Example: dosecalc log show last")
@click.argument("entry")
@file_option
def show(entry: str, **typed: Any) -> None:
    """Everything that one ENTRY holds, amounts exact."""
    from dosecalc.errors import printable
    from dosecalc.season.checks import MOST_TEXT
    from dosecalc.season.entries import one
    from dosecalc.season.exchange import lines
    from dosecalc.season.store import reading

    with reading(season_file(typed)) as base:
        found = one(base, entry)
    for line in lines(found):
        click.echo("\n  ".join(printable(part, MOST_TEXT) for part in line.split("\n")))


@command.command("export", epilog="Example: dosecalc log export season.csv")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", "over", is_flag=True, help="write over a file that is there")
@click.option(
    "--rule",
    metavar="ID",
    multiple=True,
    help="name what this rule asks for and the entries lack; else the region's",
)
@file_option
def export(file: Path, over: bool, rule: tuple[str, ...], **typed: Any) -> None:
    """Write every entry to FILE, .json or .csv; either is read back as it was.

    What the rules of the garden file's region ask to be written down and the entries lack is
    named on standard error.
    """  # fmt: skip
    from dosecalc.errors import refuse
    from dosecalc.faces.gaps import gap_lines
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.whole_file import write_whole
    from dosecalc.season.entries import counting
    from dosecalc.season.exchange import to_csv, to_json
    from dosecalc.season.store import reading

    make = {".json": to_json, ".csv": to_csv}.get(file.suffix.lower())
    if make is None:
        raise refuse("season-form", path=file)
    with reading(season_file(typed)) as base:
        text = make(base)
        lines = gap_lines(counting(base), garden_of(typed["garden"]), rule)
    write_whole(file, text, replace=over)
    say("card-wrote", path=file)
    for line in lines:
        click.echo(line, err=True)


@command.command("import", epilog="Example: dosecalc log import old-season.json")
@click.argument("file", type=click.Path(path_type=Path))
@file_option
def take_in_file(file: Path, **typed: Any) -> None:
    """Take in what an export holds; entries that are there already are left as they are."""
    from dosecalc.errors import refuse
    from dosecalc.season.exchange import from_text, take_in
    from dosecalc.season.store import writing

    try:
        text = file.read_bytes().decode("utf-8-sig")  # line ends within a cell stay as they are
    except (OSError, UnicodeDecodeError) as err:
        why = getattr(err, "strerror", None) or "it is not UTF-8 text"
        raise refuse("prose-file", path=file, why=str(why).lower()) from None
    entries = from_text(text, str(file))
    with writing(season_file(typed)) as base:
        count = take_in(base, entries)
    say("season-taken", count=count, known=len(entries) - count)


@command.command("backup", epilog="Example: dosecalc log backup copy.sqlite")
@click.argument("file", type=click.Path(path_type=Path))
@file_option
def backup_file(file: Path, **typed: Any) -> None:
    """Copy the whole season to FILE, while others may go on writing."""
    from dosecalc.errors import refuse
    from dosecalc.season.store import backup, reading, whole

    if file.exists():
        raise refuse("file-there", path=file)
    with reading(season_file(typed)) as base:
        if not whole(base):
            raise refuse("season-damaged", path=season_file(typed))
        backup(base, file)
    say("season-copied", path=file)


@command.command("verify", epilog="Example: dosecalc log verify")
@file_option
def verify(**typed: Any) -> None:
    """Read the whole file and say whether it is whole."""
    from dosecalc.errors import refuse
    from dosecalc.season.checks import sound, sound_event
    from dosecalc.season.entries import counting, everything
    from dosecalc.season.events import every_event
    from dosecalc.season.store import reading, whole

    file = season_file(typed)
    with reading(file) as base:
        if not whole(base):
            raise refuse("season-damaged", path=file)
        bad = [entry.id for entry in everything(base) if not sound(entry)]
        bad += [event.id for event in every_event(base) if not sound_event(event)]
        if bad:
            ids = ", ".join(bad[:8]) + (", ..." if len(bad) > 8 else "")
            raise refuse("season-unsound", path=file, count=len(bad), ids=ids)
        count = sum(1 for _ in counting(base))
    say("season-whole", path=file, count=count)


def _write(typed: dict[str, Any], about: str) -> int:
    """Compute what was given, judge it with the past, and write it down.

    `about` is the entry that this one corrects, "" for a new one.
    """
    from dataclasses import replace

    from dosecalc.errors import printable, refuse
    from dosecalc.faces.cli.output import show_mix
    from dosecalc.faces.gaps import note_of
    from dosecalc.faces.job import garden_of
    from dosecalc.faces.record import entry_of, file_of
    from dosecalc.faces.shelf import short_line
    from dosecalc.faces.written import past_day
    from dosecalc.season.entries import add, one
    from dosecalc.season.places import as_written, tidy
    from dosecalc.season.stock import stock_of
    from dosecalc.season.store import writing

    bed = tidy(typed["at"] or typed["place"])
    if not bed:
        raise refuse("season-bed")
    day = past_day(typed["on"], dose=True)
    note = note_of(typed["note"], typed["also"])
    file = file_of(typed["season"], garden_of(typed["garden"]).path)
    typed |= {"makes": not file.exists(), "without": about}
    found, placement, crop = _given(typed)
    entry = replace(
        entry_of(found, placement, crop, day=day.isoformat(), bed=bed),
        weather=typed["conditions"], note=note, **{name: typed[name] for name in _FIELDS},
    )  # fmt: skip
    with writing(file, new=not about) as base:
        entry = replace(entry, bed=as_written(base, bed))
        if about:
            entry = replace(entry, kind="correct", about=one(base, about).id)
        add(base, entry)
        stocks = stock_of(base, {what for _, what in entry.amounts})
    code = show_mix(found, as_json=False, strict=False)
    click.echo("")
    say("season-logged", id=entry.id, what=_what(entry), bed=printable(entry.bed), day=entry.day)
    for line in filter(None, map(short_line, stocks)):
        click.echo(line)
    return code


def _given(typed: dict[str, Any]) -> tuple[Mix, str, str]:
    """The `Mix` of what was given, how it was placed and on which crop ("" if not told)."""
    from dosecalc.dose.mix import mix
    from dosecalc.errors import refuse
    from dosecalc.faces.job import crop_and_placement
    from dosecalc.faces.record import with_past_said

    if typed["used"] or typed["holds"]:
        if typed["recipe"] or typed["text"] or typed["text_file"]:
            raise refuse("season-both")
        request, past = _by_hand(typed)
        found = with_past_said(mix(request), past, request.told.past)
        crop = request.told.crop
        return found, request.recipe.placement, "" if crop is None else crop.id
    job, found = mix_of(typed)
    crop_id, placement = crop_and_placement(job)
    return found, placement, crop_id


def _by_hand(typed: dict[str, Any]) -> tuple[Request, Record | None]:
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.done import Done, gather

    told, past = told_and_record(typed)
    request = gather(
        Done(
            amounts=typed["used"],
            site=SiteText(**pick(typed, SITE)),
            tools=ToolsText(**pick(typed, TOOLS), weighed=typed["weighed"]),
            water=typed["water"],
            holds=typed["holds"],
            depth=typed["depth"],
            placement=typed["placement"],
            told=told,
            labels=typed["label"],
            garden=typed["garden"],
            at=typed["at"],
            measures=typed["recipe_measures"],
            record=past,
        )
    )
    return request, past


def _what(entry: Entry) -> str:
    from dosecalc.season.exchange import in_short

    return in_short(entry)


for _more in (*ground_commands, report_season):
    command.add_command(_more)

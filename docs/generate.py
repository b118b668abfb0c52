"""Write the generated pages: ``python docs/generate.py`` (``--check`` only compares).

Every page is made from the data or from the commands themselves, so that nothing is typed
twice. A test runs the check.
"""

from __future__ import annotations

import io
import re
import shlex
import sys
from pathlib import Path

import click
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from click.testing import CliRunner

from dosecalc.catalog.availability import read_shares
from dosecalc.catalog.liming import Method, methods
from dosecalc.catalog.limit import Limit, read_limits
from dosecalc.catalog.lookup import source
from dosecalc.catalog.records import RecordField, RecordRule, record_rules
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.usual import read_usual
from dosecalc.dose import usual
from dosecalc.dose.amend import depth_text, reading
from dosecalc.dose.wording import scope_text
from dosecalc.faces.cli import group
from dosecalc.faces.layer_text import share_text

HERE = Path(__file__).parent
WORDS = HERE.parent / "dosecalc" / "faces" / "card" / "languages"
MADE = "<!-- made by docs/generate.py: do not edit -->"


def limits_page() -> str:
    """Every limit with scope, source and grade; then every published rate, and every rule."""
    lines = [
        MADE, "", "# Every limit and rule that dosecalc holds a dose against", "",
        "Read [judging.md](judging.md) for what the words mean. `judges` is *no* where a figure"
        " is shown as a comparison only; the reason stands beside it. A grade of regulator,"
        " standard, journal or extension is strong; any other gives a caution at most.", "",
        "## Limits", "",
        "| of | figure as printed | over | scope | placement | judges | grade | source | id |",
        "|---|---|---|---|---|---|---|---|---|",
    ]  # fmt: skip
    for limit in sorted(read_limits(None, source), key=lambda x: (x.of, x.per, x.id)):
        lines.append("| " + " | ".join(_cells(limit)) + " |")
    lines += _table(
        "Highest published rates (no limits)",
        "of | printed | over | where | for | grade | source | id",
    )
    for rate in sorted(read_usual(None, source), key=lambda x: (x.of, x.per, x.id)):
        where = f"{usual.scope_text(rate)}; {', '.join(sorted(rate.placement))}"
        lines.append(
            f"| {rate.of} | {_cell(rate.printed)} | {rate.per} | {where} | {_cell(rate.why)} |"
            f" {rate.source.grade} | {_cell(rate.source.cite())} | {rate.id} |"
        )
    rules = read_rules(None, source)
    lines += _table("What must not meet", "one | other | where | level | grade | source | id")
    for pair in sorted(rules.pairs, key=lambda x: x.id):
        where = f"{pair.days} {pair.where}" if pair.days else pair.where
        lines.append(
            f"| {pair.a} | {pair.b} | {where} | {pair.level} | {pair.source.grade} |"
            f" {_cell(pair.source.cite())} | {pair.id} |"
        )
    lines += _table("Weather", "of | not when | level | grade | source | id")
    for rule in sorted(rules.weather, key=lambda x: x.id):
        lines.append(
            f"| {rule.of} | {_cell(rule.quantity)} {rule.edge} {_cell(rule.printed)} |"
            f" {rule.level} | {rule.source.grade} | {_cell(rule.source.cite())} | {rule.id} |"
        )
    lines += _table("Waits", "of | wait | where | grade | source | id")
    for wait in sorted(rules.waits, key=lambda x: x.id):
        lines.append(
            f"| {wait.of} | {wait.what}: {_cell(wait.printed)} | {wait.region}"
            f" {_cell(wait.condition)} | {wait.source.grade} | {_cell(wait.source.cite())} |"
            f" {wait.id} |"
        )
    lines += _table("Law, by region and use", "of | region | use | level | as of | source | id")
    for law in sorted(rules.law, key=lambda x: x.id):
        lines.append(
            f"| {law.of} | {law.region} | {law.use} | {law.level} | {_cell(law.as_of)} |"
            f" {_cell(law.source.cite())} | {law.id} |"
        )
    return "\n".join(lines) + "\n"


def _table(title: str, columns: str) -> list[str]:
    rule = "|".join("---" for _ in columns.split("|"))
    return ["", f"## {title}", "", f"| {columns} |", f"|{rule}|"]


def _cells(limit: Limit) -> list[str]:
    edge = "at least" if limit.lower else ("at most" if limit.inclusive else "below")
    figure = "none at all" if limit.excludes else f"{edge}: {limit.printed}"
    judges = "yes" if limit.judges else ("lower bound" if limit.lower else "no")
    reason = f" ({limit.not_judging})" if not limit.judges and not limit.lower else ""
    return [
        limit.of, _cell(figure), limit.per, _cell(scope_text(limit)),
        ", ".join(sorted(limit.placement)), _cell(judges + reason), limit.source.grade,
        _cell(limit.source.cite()), limit.id,
    ]  # fmt: skip


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "/")


def commands_page() -> str:
    """The help of every command, as printed."""
    lines = [MADE, "", "# Commands", ""]
    top = click.Context(group, info_name="dosecalc")
    for name in group.list_commands(top):
        lines += _command(name, group.get_command(top, name), top)
    return "\n".join(lines) + "\n"


def _command(name: str, command: click.Command | None, parent: click.Context) -> list[str]:
    assert command is not None
    context = click.Context(command, info_name=name, parent=parent, terminal_width=92)
    lines = [f"## {context.command_path}", "", "```text", command.get_help(context), "```", ""]
    if isinstance(command, click.Group):
        for inner in command.list_commands(context):
            lines += _command(inner, command.get_command(context, inner), context)
    return lines


SEASON = HERE / "season.md"
_BETWEEN = re.compile(
    r"(<!-- records: made by docs/generate.py -->\n)(.*)(<!-- end -->)", re.DOTALL
)
_ANSWERS = {
    "day": "`--on`", "place": "`--place`, `--at`", "crop": "`--crop`", "who": "`--who`",
    "registration": "`--registration`", "materials": "the materials given",
    "amounts": "the amounts given", "ground": "the site", "dose": "amounts and site",
    "stage number": "`--stage`, if it holds two digits",
    "re-entry wait": "a wait on file from a strong source",
}  # fmt: skip


def season_page() -> str:
    """The page of the record with its tables of what each rule asks to be written down."""
    lines: list[str] = []
    for rule in record_rules():
        when = "named with `--rule`"
        if rule.asked == "by region":
            when = f"region {rule.region}" + (", organic" if rule.organic else "")
        lines += [
            "", f"**{rule.name}** (`{rule.id}`), for {rule.who}; held against: {when};"
            f" about: {rule.about}.", "", "| field | the rule asks | answered by | source |",
            "|---|---|---|---|",
        ]  # fmt: skip
        for field in (*rule.fields, *rule.duties):
            cells = (field.name, field.asks, _answered(rule, field), field.source.cite())
            lines.append("| " + " | ".join(map(_cell, cells)) + " |")
    made = "\n".join(lines) + "\n\n"
    return _BETWEEN.sub(lambda match: match[1] + made + match[3], SEASON.read_text("utf-8"))


def _answered(rule: RecordRule, field: RecordField) -> str:
    """What of an entry answers a field, or that nothing does."""
    if field in rule.duties:
        return "no field: a time to keep to"
    ways = [_ANSWERS[answer] for answer in field.answers]
    ways += [f'`--also "{field.also}=..."`'] if field.also else []
    when = f" (asked {field.when})" if field.when else ""
    return (", or ".join(ways) or f"**nothing**: {field.instead}") + when


README = HERE.parent / "README.md"
_RUN = re.compile(r"(```console\n\$ dosecalc ([^\n]+)\n)(.*?)(\n```)", re.DOTALL)


def readme_page() -> str:
    """The README with the output of its worked dose as it is printed today."""

    def again(match: re.Match[str]) -> str:
        found = CliRunner().invoke(group, shlex.split(match[2]))
        return match[1] + found.output.rstrip("\n") + match[4]

    return _RUN.sub(again, README.read_text("utf-8"))


LAYERS = HERE / "layers.md"
_SHARES = re.compile(
    r"(<!-- shares: made by docs/generate.py -->\n).*?(<!-- end of shares -->)", re.S
)
_YEARS = {(1, 1): "the first", (2, 2): "the second", (3, 3): "the third"}


def layers_page() -> str:
    """The page on layers with the table of what feeds a crop as the data have it today."""
    lines = [
        "| material | of | year | printed | reckoned with | grade | source |",
        "|---|---|---|---|---|---|---|",
    ]
    for share in sorted(read_shares(source), key=lambda one: (one.nutrient != "N", one.of)):
        years = _YEARS.get((share.from_year, share.to_year), f"1 to {share.to_year} together")
        of = f"{share.share_of} {share.nutrient}"
        if share.share_of == "rest":
            years, of = "each later one", f"{share.nutrient} that is left"
        used = share_text(share) if share.used else ""
        assert share.source is not None
        lines.append(
            f"| {share.of} | {of} | {years} | {_cell(share.printed)} | {used} |"
            f" {share.source.grade} | {_cell(share.source.cite())} |"
        )
    table = "\n".join(lines) + "\n"
    return _SHARES.sub(lambda m: m[1] + "\n" + table + "\n" + m[2], LAYERS.read_text("utf-8"))


LIMING = HERE / "liming.md"
_FROM = "<!-- made by docs/generate.py from here: do not edit -->"
_TO = "<!-- to here -->"


def liming_page() -> str:
    """The page of liming with every method of the data in its table."""
    page = LIMING.read_text("utf-8")
    head, _, rest = page.partition(_FROM)
    _, _, tail = rest.partition(_TO)
    return "\n".join((head + _FROM, *_methods(), _TO + tail))


_COLUMNS = "method | holds for | needs | to pH | depth | counts | grade | source"


def _methods() -> list[str]:
    rows: list[str] = []
    for title, wanted in (("Raising", False), ("Lowering", True)):
        rows += _table(f"{title} the pH", _COLUMNS)
        rows += [_method(m) for m in methods() if m.lowers is wanted and m.shape != "sodium"]
    rows += _table("Sodium", _COLUMNS)
    rows += [_method(m) for m in methods() if m.shape == "sodium"]
    return rows


def _method(method: Method) -> str:
    targets = ", ".join(reading(target) for target in method.targets)
    most = f"up to {reading(method.target_most)}" if method.target_most is not None else ""
    depth = "not printed" if method.depth is None else depth_text(method.depth)
    cells = (
        method.id,
        method.where,
        ", ".join(method.needs),
        targets or method.brings_to or most or "-",
        depth,
        method.counts.text(),
        method.source.grade,
        method.source.cite(),
    )
    return "| " + " | ".join(_cell(cell) for cell in cells) + " |"


PAGES = {
    HERE / "limits.md": limits_page,
    LIMING: liming_page,
    HERE / "commands.md": commands_page,
    README: readme_page,
    LAYERS: layers_page,
    SEASON: season_page,
}


def words_compiled() -> bytes:
    """The Spanish words as gettext reads them; people edit ``es.po`` beside them."""
    made = io.BytesIO()
    with (WORDS / "es.po").open("rb") as stream:
        write_mo(made, read_po(stream, locale="es"))
    return made.getvalue()


def main() -> int:
    """Write the pages, or say which are out of date."""
    stale = []
    compiled = words_compiled()
    if (WORDS / "es.mo").read_bytes() != compiled:
        stale.append("es.mo")
        if "--check" not in sys.argv:
            (WORDS / "es.mo").write_bytes(compiled)
    for path, make in PAGES.items():
        text = make()
        if not path.is_file() or path.read_text("utf-8") != text:
            stale.append(path.name)
            if "--check" not in sys.argv:
                path.write_text(text, "utf-8")
    if "--check" in sys.argv and stale:
        print(f"out of date: {', '.join(stale)}; run python docs/generate.py")
        return 1
    print(f"{len(PAGES) + 1} pages, {len(stale)} changed")
    return 0


if __name__ == "__main__":
    sys.exit(main())

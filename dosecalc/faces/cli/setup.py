"""``dosecalc setup``: ask the way to a garden file."""

from __future__ import annotations

from pathlib import Path

import click

QUESTIONS = {
    "region": "Whose law applies (EU, US, UK, CA, AU, NZ)",
    "my_spoons": "Whose spoons you hold (us, imperial, metric, australian)",
    "spoons": 'Your set of spoons ("15 mL, 5 mL, 2.5 mL"), or nothing for table and tea',
    "scale": 'What your scale reads to and carries ("0.1 g to 500 g"), or nothing',
    "syringe": 'Size of a syringe ("10 mL"), or nothing',
    "jug": 'Size of a measuring jug ("1 L"), or nothing',
}
LISTS = {
    "sprayer": 'A sprayer, can or tank ("hand: 2 L"), or nothing',
    "row": 'A row ("beetroot-row: 40 m, spacing 45 cm, crop beetroot"), or nothing',
    "bed": 'A bed ("long-bed: 75 cm x 30 m, path 45 cm, rows 3"), or nothing',
}


@click.command(
    epilog="Example: dosecalc setup --region UK --scale '0.1 g to 500 g' --sprayer 'hand: 2 L'"
    " --row 'beetroot-row: 40 m, spacing 45 cm'",
)
@click.argument("file", type=click.Path(path_type=Path), default=Path("garden.toml"))
@click.option("--name", metavar="TEXT", help="what the garden is called")
@click.option("--region", metavar="TEXT", help=QUESTIONS["region"])
@click.option("--my-spoons", metavar="TEXT", help=QUESTIONS["my_spoons"])
@click.option("--spoons", metavar="TEXT", help=QUESTIONS["spoons"])
@click.option("--scale", metavar="TEXT", help=QUESTIONS["scale"])
@click.option("--syringe", metavar="TEXT", help=QUESTIONS["syringe"])
@click.option("--jug", metavar="TEXT", help=QUESTIONS["jug"])
@click.option("--sprayer", metavar="TEXT", multiple=True, help=LISTS["sprayer"])
@click.option("--row", metavar="TEXT", multiple=True, help=LISTS["row"])
@click.option("--bed", metavar="TEXT", multiple=True, help=LISTS["bed"])
@click.option("--ask", is_flag=True, help="ask for everything that was not given")
@click.option("--replace", is_flag=True, help="replace the file if it is there")
def command(
    file: Path, name: str | None, sprayer: tuple[str, ...], row: tuple[str, ...],
    bed: tuple[str, ...], ask: bool, replace: bool, **typed: str | None,
) -> None:  # fmt: skip
    """Write FILE (garden.toml) with your region, tools, sprayers and beds."""
    from dosecalc.faces.garden_file import Answers, write_garden

    lists = {"sprayer": list(sprayer), "row": list(row), "bed": list(bed)}
    if ask:
        for key, text in QUESTIONS.items():
            if typed[key] is None:
                typed[key] = click.prompt(text, default="", show_default=False) or None
        for key, text in LISTS.items():
            while answer := click.prompt(text, default="", show_default=False):
                lists[key].append(answer)
    region = typed.pop("region")
    answers = Answers(name, region, typed, lists["sprayer"], lists["row"], lists["bed"])
    write_garden(file, answers, replace=replace)
    click.echo(f"wrote {file}")

"""``dosecalc sow``: seed, inoculants and living controls, dosed for the ground."""

from __future__ import annotations

from typing import Any

import click

from dosecalc.faces.cli.made import made_options, show_made
from dosecalc.faces.cli.options import Command, measures_option

SEED = {
    "stand": 'plants that are wanted: "25 plants/m2", "8 per m of row"',
    "rate": 'seed: "20 lb/acre", "1 oz/100 ft" with --rate-is; "6 seeds/ft", "2 seeds/plant"',
    "rate-is": "what that rate is of: bag (as it lies) or live (pure live seed)",
    "have": 'all of what there is, sown on this ground: "50 g", "500 seeds"',
    "thousand": 'weight of a thousand seeds: "1.2 g"',
    "seed-count": 'seeds for a weight: "850/g", "25000/oz"',
    "counted": "seeds with a coat, weighed or counted: bare or coated",
    "germination": 'of the tag: "90 %"',
    "emergence": 'how many of the living seeds come up: "80 %"',
    "establishment": 'in place of both: how many seeds become plants: "85 %"',
    "purity": 'pure seed by weight: "98 %"',
    "purity-of": "with --coating: of the whole bag, or of the seed without its coat (seed)",
    "coating": 'how much of the weight is coat: "34 %"',
    "inoculant": 'onto seed or furrow: "4 g/kg", "2 oz/25 lb", "1 US fl oz/1000 ft"',
    "living": 'what the inoculant holds: "2 billion CFU/g"',
}
RELEASE = {
    "release": 'living controls let out: "50/m2", "2 per plant", "1 billion/acre"',
    "releases": "how many such releases",
    "every": 'the time between them: "2 weeks"',
}
PACKET = 'what one packet or pack holds: "500 seeds", "2 g"; "5 million"'


def _options(function: Command) -> Command:
    function = click.option("--untreated", is_flag=True, help="the seed has no pesticide on it")(
        function
    )
    function = click.option("--treated", is_flag=True, help="the seed has a pesticide on it")(
        function
    )
    for name, text in reversed({**SEED, **RELEASE, "packet": PACKET}.items()):
        function = click.option(f"--{name}", metavar="TEXT", help=text)(function)
    return function


def _refuse_other(typed: dict[str, Any], names: dict[str, str], about: str) -> None:
    """Refuse options of seed beside a release, and the other way round."""
    from dosecalc.errors import refuse

    found = [f"--{name}" for name in names if typed[name.replace("-", "_")]]
    if found:
        raise refuse("sow-mixed", options=", ".join(found), other=about)


@click.command(
    epilog='Example: dosecalc sow carrot --row "20 m" --stand "30 plants per m" --germination'
    ' "80 %" --emergence "70 %" --packet "500 seeds"; dosecalc sow nematodes --area "18 m2"'
    ' --release "500000/m2" --packet "5 million" --spray-volume "1 L/m2"',
)
@click.argument("what")
@_options
@measures_option
@made_options
def command(what: str, **typed: Any) -> int:
    """Seed, with an inoculant or without, or living controls: WHAT goes on this ground.

    Seed: plants that are wanted to seeds, weight and packets, or back. Living controls: packs,
    water, releases. docs/sowing.md says how it is reckoned.
    """
    from dosecalc.errors import refuse
    from dosecalc.faces.cli.jobs import job_typed
    from dosecalc.faces.release import ReleaseText, is_living, made_release
    from dosecalc.faces.sow import made
    from dosecalc.faces.sow_read import SowText

    job = job_typed(typed)
    if typed["release"] is None and not is_living(what):
        releasing = {name: text for name, text in RELEASE.items() if name != "release"}
        _refuse_other(typed, releasing, f"'{what}' without --release")
        names = [name.replace("-", "_") for name in (*SEED, "packet", "treated", "untreated")]
        found = made(SowText(what, **{name: typed[name] for name in names}), job)
        return show_made(found.jobs, found.lines, found.about, typed)
    _refuse_other(typed, {**SEED, "treated": "", "untreated": ""}, f"'{what}'")
    text = ReleaseText(what, typed["release"], typed["packet"], typed["releases"], typed["every"])
    found = made_release(text, job)
    for option in ("output", "save"):
        if typed[option] is not None and not found.jobs:
            raise refuse("sow-no-mix", option=f"--{option}")
    return show_made(found.jobs, found.lines, found.about, typed)

"""A `Mix` as text for people: warnings first, then amounts, tankfuls, supplies, the rest."""

from __future__ import annotations

from collections.abc import Iterable

from dosecalc.dose.result import URGENT, Finding, Mix
from dosecalc.faces.fillings import alike
from dosecalc.faces.wrap import section, wrap
from dosecalc.say import Say

NAME_WIDTH = 34


def render(mix: Mix) -> str:
    """The whole result, at most 92 columns wide."""
    blocks = [
        _urgent(mix),
        [mix.recipe_name, *_wrap(mix.read_as), *_wrap(mix.said)],
        ["You need", *_amounts(mix)],
        _tankfuls(mix),
        _supplies(mix),
        section("Held against", (_finding(f) for f in mix.findings if f.level not in URGENT)),
        section("What now", (line.english() for line in mix.rescue)),
        section("When not to", (line.english() for line in mix.when_not)),
        section("Wait", (line.english() for line in mix.waits)),
        section("Steps", (f"{n}. {s.english()}" for n, s in enumerate(mix.steps, start=1))),
        section("Not told", (line.english() for line in mix.not_told)),
        section(
            "Assumed",
            (f"{a.what.english()}: {a.value}. {a.instead.english()}" for a in mix.assumed),
        ),
        section("Take care", (line.english() for line in mix.cautions)),
        section("Sources", (_source(s.cite(), s.url) for s in mix.sources)),
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block)


def held(mix: Mix, said: Iterable[Mix]) -> str:
    """What a mix was held against and `said` do not say yet, under its name; "" for nothing."""
    known = {finding.say for other in said for finding in other.findings}
    rows = [
        row for found in mix.findings if found.say not in known for row in wrap(_finding(found))
    ]
    return "\n".join([mix.recipe_name, *rows]) if rows else ""


def _wrap(lines: Iterable[Say]) -> list[str]:
    return [row for line in lines for row in wrap(line.english())]


def _urgent(mix: Mix) -> list[str]:
    """Stop, over and caution; a second figure about the same thing is one short line."""
    rows: list[str] = []
    seen: set[tuple[str, str]] = set()
    for found in mix.findings:
        if found.level not in URGENT:
            continue
        key = (found.level, found.about)
        if key in seen and found.brief is not None:
            rows += wrap(found.brief.english())
        else:
            rows += wrap(_finding(found), "", "  ")
        seen.add(key)
    return rows


def _finding(found: Finding) -> str:
    mark = found.level.upper() if found.level in URGENT else found.level
    return f"{mark}: {found.say.english()}"


def _amounts(mix: Mix) -> list[str]:
    width = min(max(len(item.name) for item in mix.amounts), NAME_WIDTH)
    rows: list[str] = []
    for item in mix.amounts:
        text = item.shown
        if item.shown_other:
            text += f", weighs {item.shown_other}"
        if item.shown_up_to:
            text += f"; the recipe goes up to {item.shown_up_to}"
        rows += wrap(f"{item.name:<{width}}  {text}")
    if mix.bags is not None:
        rows.append(f"  {'':<{width}}  {mix.bags} whole bags")
    return rows


def _tankfuls(mix: Mix) -> list[str]:
    """Equal fillings are said once, with their numbers."""
    rows: list[str] = []
    for group in alike(mix.tankfuls):
        first, last = group[0], group[-1]
        if first.volume is None:
            title = "Measure out"
        elif first.of == 1:
            title = f"One filling of {first.shown_volume}"
        elif len(group) == 1:
            title = f"Filling {first.number} of {first.of}, {first.shown_volume}"
        else:
            title = (
                f"Fillings {first.number} to {last.number} of {first.of}, each {first.shown_volume}"
            )
        rows.append(title)
        if first.batch is not None:
            rows += wrap(first.batch.say.english())
        for found in first.measures:
            off = f" ({found.off.english()})" if found.off is not None else ""
            rows += wrap(f"{found.name}: {found.say.english()}{off}")
        if first.batch is not None:
            rows += wrap(first.batch.say_rest.english())
    return rows


def _supplies(mix: Mix) -> list[str]:
    if not mix.supplies:
        return []
    width = max(len(s.nutrient) for s in mix.supplies)
    rows = ["This supplies (likely, and from lowest to highest)"]
    for found in mix.supplies:
        rows += wrap(f"{found.nutrient:<{width}}  " + ", ".join(found.shown))
    return rows


def _source(cite: str, url: str | None) -> str:
    return f"{cite} <{url}>" if url else cite

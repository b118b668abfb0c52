"""A recipe as people write it: from a text to a `Mix`, to a recipe file, and back to words."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from dosecalc.catalog.lookup import plain_name
from dosecalc.catalog.prose.reading import Reading
from dosecalc.catalog.prose.tidy import MOST
from dosecalc.catalog.recipe import Ingredient, Recipe
from dosecalc.catalog.told import REGIONS
from dosecalc.dose.result import LEVELS, Finding, Mix
from dosecalc.errors import refuse
from dosecalc.faces.job import Job, Ready, garden_of, read_system, run, with_garden
from dosecalc.faces.page import read_one
from dosecalc.faces.whole_file import write_whole
from dosecalc.units.measure import exact_text
from dosecalc.units.show import listed

_NOUN = {
    "row length": " of row",
    "medium volume": " of growing medium",
    "spray volume": " of water",
}


def text_of(text: str | None, file: str | None) -> str:
    """The words of a recipe: as typed, from a file, or from standard input ("-")."""
    if text is not None and file is not None:
        raise refuse("prose-both")
    if file is None:
        return text or ""
    try:
        if file == "-":
            return sys.stdin.read(MOST + 1)
        with Path(file).open(encoding="utf-8") as stream:
            return stream.read(MOST + 1)
    except (OSError, UnicodeDecodeError) as err:
        why = getattr(err, "strerror", None) or "it is not UTF-8 text"
        raise refuse("prose-file", path=file, why=str(why).lower()) from None


def read_job(text: str, job: Job, rate: str | None = None) -> tuple[Job, Reading]:
    """The job with the text read into it.

    Parameters
    ----------
    text : str
    job : Job
    rate : str or None
        Which rate of a page with several, counted from 1.

    Raises
    ------
    SeveralRatesError
        For a page with several rates, where none was named.
    DoseError
        For a text that can be read in two ways, or not at all.
    """
    job = with_garden(job, garden_of(job.garden))
    region = job.told.region.upper() if job.told.region else None
    known = region if region in REGIONS else None

    def ready(found: Reading) -> Job:
        own = {id: found.materials[id] for id in found.own}
        return replace(job, recipe=found.recipe.id, ready=Ready(found.recipe, own))

    found = read_one(text, read_system(job.measures), known, rate, lambda one: run(ready(one)))
    return ready(found), found


def job_and_mix(text: str, job: Job, rate: str | None = None) -> tuple[Job, Mix]:
    """Read the text and compute; the job that it was read into, and what came of it.

    How the text was read stands above the result.
    """
    ready, found = read_job(text, job, rate)
    made = run(ready)
    clash = tuple(
        Finding(f"text-{at}", "caution", "text", "recipe", say)
        for at, say in enumerate(found.warns)
    )
    findings = sorted((*made.findings, *clash), key=lambda one: LEVELS.index(one.level))
    return ready, replace(made, read_as=(*made.read_as, *found.says), findings=tuple(findings))


def read_words(text: str, measures: str | None, rate: str | None = None) -> Reading:
    """Read the text in the measures that a person named."""
    return read_one(text, read_system(measures), None, rate, None)


def write_recipe(
    file: Path, text: str, measures: str | None, *, rate: str | None = None, over: bool
) -> Reading:
    """Read the text and write it as a recipe file.

    Raises
    ------
    DoseError
        For a text that cannot be read, an analysis that is no material of the catalog, or a file
        that is there already.
    """
    found = read_words(text, measures, rate)
    for id in sorted(found.own):
        raise refuse("prose-own-analysis", name=found.materials[id].name)
    write_whole(file, toml(found.table), replace=over)
    return found


def toml(table: Mapping[str, Any]) -> str:
    """A recipe table as the text of its file."""
    lines = [
        _line(key, value) for key, value in table.items() if key not in ("statement", "repeat")
    ]
    for statement in table["statement"]:
        lines += ["", "[[statement]]"]
        lines += [
            _line(key, value)
            for key, value in statement.items()
            if key not in ("ingredient", "water")
        ]
        for item in statement["ingredient"]:
            lines += ["", "[[statement.ingredient]]", *(_line(k, v) for k, v in item.items())]
        if "water" in statement:
            lines += [
                "",
                "[statement.water]",
                *(_line(k, v) for k, v in statement["water"].items()),
            ]
    if "repeat" in table:
        lines += ["", "[repeat]", *(_line(k, v) for k, v in table["repeat"].items())]
    return "\n".join(lines) + "\n"


def _line(key: str, value: object) -> str:
    return f"{key} = {json.dumps(value, ensure_ascii=False)}"


def in_words(recipe: Recipe, index: int = 0) -> str:
    """One statement of a recipe in words that ``read_text`` reads back as the same.

    Parameters
    ----------
    recipe : Recipe
    index : int
        Which of its statements.
    """
    statement = recipe.statements[index]
    text = listed([_item(item) for item in statement.ingredients])
    if statement.water is not None:
        text += f" in {exact_text(statement.water.amount)} of water"
    link = "made up to" if statement.basis == "spray volume" else "per"
    text += f" {link} {exact_text(statement.per)}{_NOUN.get(statement.basis, '')}"
    if recipe.repeat is not None:
        if recipe.repeat.interval is not None:
            text += f"; repeat every {exact_text(recipe.repeat.interval)}"
        if recipe.repeat.most is not None:
            window = recipe.repeat.window or "season"
            text += f"; at most {recipe.repeat.most} times a {window}"
    return text


def _item(item: Ingredient) -> str:
    amount = exact_text(item.amount)
    if item.to is not None:
        amount += f" to {exact_text(item.to)}"
    name = plain_name(item.material)
    if item.nutrient:
        sure = "actual " if item.nutrient in ("P", "K") else ""
        return f"{amount} {sure}{item.nutrient} from {name}"
    return f"{amount} of {name}"

"""A written recipe read: the same `Recipe` that a file gives, and how each word was taken."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from dosecalc.catalog import build
from dosecalc.catalog.material import Material
from dosecalc.catalog.prose import words
from dosecalc.catalog.prose.compare import order_wordings
from dosecalc.catalog.prose.defined import Defined, with_own_sizes
from dosecalc.catalog.prose.draft import Draft, draft
from dosecalc.catalog.prose.entries import Made
from dosecalc.catalog.prose.grammar import Piece, parse
from dosecalc.catalog.prose.grown import grown
from dosecalc.catalog.prose.lex import lex
from dosecalc.catalog.prose.sizes import Word
from dosecalc.catalog.prose.statements import Builder
from dosecalc.catalog.prose.tidy import tidy
from dosecalc.catalog.recipe import Recipe, Statement
from dosecalc.errors import DoseError, Problem, printable, refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure
from dosecalc.units.show import listed, show
from dosecalc.units.words import System

ID = "as-written"
_FIRST = (
    "dormant spray", "planting hole", "mulch", "fertigation", "dust", "side-dress", "band",
    "drench", "work in", "broadcast", "foliar spray",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """A text read.

    Parameters
    ----------
    recipe : Recipe
    materials : dict of str to Material
        Every material of it; those of a written analysis are not the catalog's.
    own : frozenset of str
        Ids of those.
    says : tuple of Say
        How it was read, in plain words, each number with its unit.
    warns : tuple of Say
        Where the text contradicts itself.
    table : dict
        The recipe as the table of a recipe file.
    """

    recipe: Recipe
    materials: dict[str, Material]
    own: frozenset[str]
    says: tuple[Say, ...]
    warns: tuple[Say, ...]
    table: dict[str, Any]


def read_text(text: str, system: System | None = None, region: str | None = None) -> Reading:
    """Read a recipe as people write it.

    Parameters
    ----------
    text : str
        "1 tbsp baking soda and 1 tsp liquid soap per gallon of water".
    system : {"us", "imperial", "metric", "australian"} or None
        Whose gallon, cup and spoon the text speaks.
    region : str or None
        Settles whether a written analysis counts oxides.

    Raises
    ------
    DoseError
        For anything that can be read in two ways, or not at all.
    """
    plain = tidy(text)
    defined = with_own_sizes(plain, system)
    try:
        return _read(text, defined, system, region)
    except DoseError as err:
        raise err.placed(0 if defined.text == plain else None) from None


def _read(text: str, defined: Defined, system: System | None, region: str | None) -> Reading:
    found = lex(defined.text, system)
    ways = [word.text for word in found if word.type == "WAY"]
    taken = draft(parse(_trimmed([word for word in found if word.type not in ("WAY", "FORM")])))
    taken.aside += [Piece("form", (word,)) for word in found if word.type == "FORM"]
    made = Builder(system, region).build(taken)
    table = _table(text, taken, made, ways)
    named = grown(taken.aside)
    if named.crops:
        table["crops"] = [crop.id for crop in named.crops]
    faults = build.Faults("the text")
    recipe = build.recipe(ID, table, made.materials.get, faults)
    if faults.problems or len(recipe.statements) != len(made.tables):
        first = faults.problems[0] if faults.problems else Problem("", "", "")
        raise refuse("prose-cannot", why=first.message).asking(first.doubt)
    recipe, compared, warns = order_wordings(recipe, made.materials)
    says = [
        *defined.says,
        *(_plainly(statement, made.materials) for statement in recipe.statements),
        *made.says,
        *compared,
    ]
    if named.crops:
        key = "prose-crop" if len(named.crops) == 1 else "prose-crops"
        says.append(Say.of(key, names=listed([crop.name for crop in named.crops])))
    if named.aside:
        says.append(Say.of("prose-aside", words="; ".join(named.aside)))
    return Reading(recipe, made.materials, frozenset(made.own), tuple(says), warns, table)


def _trimmed(found: list[Word]) -> list[Word]:
    """Without the marks that only end a sentence at the ends, or stand twice."""
    kept: list[Word] = []
    for word in found:
        if word.type == "SEP" and (not kept or kept[-1].type == "SEP"):
            continue
        kept.append(word)
    while kept and kept[-1].type in ("SEP", "COMMA", "AND", "COLON"):
        kept.pop()
    return kept


def _table(text: str, taken: Draft, made: Made, ways: list[str]) -> dict[str, Any]:
    basis = made.tables[0]["basis"]
    wet = "water" in made.tables[0] or taken.in_water
    way = _way(ways, basis, wet, made)
    table: dict[str, Any] = {
        "name": "As written",
        "purpose": printable(" ".join(text.split()), 300),
        "how": way.how,
        "placement": way.placement,
        "practice": "common practice, no source",
        "statement": made.tables,
    }
    repeat: dict[str, Any] = {}
    if taken.every:
        repeat["interval"] = (
            taken.every.replace("-", " ").split(" ")[0] + " " + (taken.every.split(" ")[-1])
        )
    if taken.most:
        count, _, window = taken.most.partition(" ")
        repeat["most"] = int(count)
        repeat["window"] = window or "season"
        if not window:
            made.says.append(Say.of("prose-window", count=count))
    if repeat:
        table["repeat"] = repeat
        made.says.append(
            Say.of("prose-repeat", interval=repeat.get("interval", "not said"),
                   most=repeat.get("most", "not said"))
        )  # fmt: skip
    return table


def _way(ways: list[str], basis: str, wet: bool, made: Made) -> words.Way:
    """How it is carried out: as the text says, else what the basis allows, and that is said."""
    hows = {words.WAYS[way] for way in ways}
    named = {way.how for way in hows}
    if {"foliar spray", "drench"} <= named:
        raise refuse("prose-two-ways", text=" and ".join(ways))
    first = made.tables[0]["ingredient"][0]["material"]
    told = next((how for how in _FIRST if how in named), None)
    way = next((way for way in hows if way.how == told), None) or _default(
        basis, wet, made.materials[first]
    )
    if way.placement == "drench":
        way = words.Way("drench", "row-drench" if basis == "row length" else "soil-drench")
    if way.how == "work in" and basis in ("medium volume", "pot"):
        way = words.Way("mix in", "mixed-in")
    if way.how == "broadcast" and basis in ("row length", "medium volume", "pot", "layer"):
        way = _default(basis, wet, made.materials[first])
    key = "prose-way" if told is None else "prose-way-told"
    made.says.append(Say.of(key, way=way.how, placement=way.placement))
    return way


def _default(basis: str, wet: bool, first: Material) -> words.Way:
    if basis == "spray volume":
        return words.Way("foliar spray", "foliar")
    if basis == "layer":
        mulch = "mulch" in first.traits
        return words.Way("mulch", "mulch") if mulch else words.Way("work in", "mixed-in")
    if basis in ("medium volume", "pot"):
        return words.Way("mix in", "mixed-in")
    if wet:
        return words.Way("drench", "drench")
    if basis == "row length":
        return words.Way("side-dress", "band")
    return (
        words.Way("broadcast", "broadcast") if basis == "area" else words.Way("side-dress", "band")
    )


_FOR = {
    "row length": "{} of row", "area": "{} of ground", "spray volume": "{} of mixed liquid",
    "medium volume": "{} of growing medium", "plant": "{}", "pot": "{}", "layer": "{} of ground",
}  # fmt: skip


def _plainly(statement: Statement, materials: dict[str, Material]) -> Say:
    """One statement in plain words, each number as written and in metric units."""
    parts = []
    for item in statement.ingredients:
        name = materials[item.material].name
        to = "" if item.to is None else f" to {_metric(item.to)}"
        of = f" of {item.nutrient} from" if item.nutrient else " of"
        parts.append(f"{_metric(item.amount)}{to}{of} {name}")
    what = listed(parts)
    if statement.water is not None:
        what += f" in {_metric(statement.water.amount)} of water"
    per = _FOR[statement.basis].format(_metric(statement.per))
    return Say.of("prose-plainly", what=what, per=per)


def _metric(measure: Measure) -> str:
    return show(measure).metric

"""From what was typed to a `Mix`: the one call that every face of a dose makes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from dosecalc.catalog.crops import Crop, crop_key, crops
from dosecalc.catalog.formula import oxide_words
from dosecalc.catalog.garden import Garden, read_garden
from dosecalc.catalog.label import read_label
from dosecalc.catalog.library import open_book
from dosecalc.catalog.limit import read_limits, terms_of
from dosecalc.catalog.lookup import (
    find_material,
    find_recipe,
    material,
    material_ids,
    source,
)
from dosecalc.catalog.material import Material
from dosecalc.catalog.recipe import Recipe
from dosecalc.catalog.rules import read_rules
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.told import Before, Told, ToldText, read_told, split_after
from dosecalc.catalog.tools import (
    WEIGHED_EXAMPLE,
    Tools,
    ToolsText,
    read_own_spoon,
    read_tools,
    spoon_system,
)
from dosecalc.catalog.usual import read_usual
from dosecalc.dose.mix import mix
from dosecalc.dose.request import Request
from dosecalc.dose.result import Mix
from dosecalc.dose.verdict import Knowledge
from dosecalc.errors import refuse
from dosecalc.faces.record import Record, past_of, with_past_said
from dosecalc.units import read
from dosecalc.units.measure import VOLUME, Measure
from dosecalc.units.words import SYSTEMS, System


@dataclass(frozen=True, slots=True)
class Ready:
    """A recipe that was read already, and the materials of it that the catalog does not hold."""

    recipe: Recipe
    own: Mapping[str, Material]


@dataclass(frozen=True, slots=True)
class Job:
    """One job as typed: text throughout, None where nothing was said."""

    recipe: str
    site: SiteText
    tools: ToolsText
    told: ToldText = field(default_factory=ToldText)
    labels: tuple[str, ...] = ()
    measures: str | None = None
    water: str | None = None
    equal: bool = False
    stock: bool = False
    feed_held: bool = False
    done: bool = False
    garden: str | None = None
    at: str | None = None
    place: str = ""
    on: str | None = None
    ready: Ready | None = None
    record: Record | None = None


def garden_of(name: str | None) -> Garden:
    """The garden file of that name, else the one in the current folder, else none.

    Raises
    ------
    DoseError
        When the file cannot be used.
    """
    return read_garden(None if name is None else Path(name))


def with_garden(job: Job, garden: Garden) -> Job:
    """The job with its empty fields taken from the garden, if there is one.

    Raises
    ------
    DoseError
        When the garden has no bed of the name that --at gives.
    """
    if garden.path is None and job.at is None:
        return job
    return replace(
        job,
        site=garden.site(job.site, job.at),
        tools=garden.tools(job.tools),
        told=garden.told(_held(job.told, job.tools, garden), job.at),
        labels=job.labels or garden.labels(),
    )


def _held(told: ToldText, tools: ToolsText, garden: Garden) -> ToldText:
    """What the named sprayer last held, where nothing was typed."""
    known = garden.sprayer(tools.sprayer or "")
    if known is None or told.sprayer_held is not None or "held" not in known:
        return told
    return replace(told, sprayer_held=str(known["held"]))


def read_system(text: str | None) -> System | None:
    """The measure system a person named; refuses any other word."""
    if text is None:
        return None
    for name in SYSTEMS:
        if text == name:
            return name
    raise refuse("measures", text=text, known=", ".join(SYSTEMS))


def tools_of(text: ToolsText, measures: System | None, garden: Garden) -> Tools:
    """Read the tools, looking up the materials of weighed spoons and a sprayer by its name."""
    known = garden.sprayer(text.sprayer or "")
    output = along = None
    if known is None and text.sprayer is not None and not any(map(str.isdigit, text.sprayer)):
        names = ", ".join(sorted(garden.data.get("sprayer", {}))) or "none"
        raise refuse(
            "garden-no-such", kind="sprayer", text=text.sprayer, option="--sprayer", known=names
        )
    if known is not None:
        text = replace(text, sprayer=str(known["size"]))
        output = _calibrated(known, "output", "430 L/ha")
        along = _calibrated(known, "along_row", "70 mL/m")
    own = []
    for item in text.weighed:
        name, colon, weighed = item.partition(":")
        if not colon:
            raise refuse("tools-weighed-name", text=item, example=WEIGHED_EXAMPLE)
        mine = spoon_system(text.my_spoons)
        own.append(read_own_spoon(weighed, garden.material(name.strip()).id, mine))
    return read_tools(text, measures, tuple(own), output, along)


def _calibrated(known: Mapping[str, Any], key: str, example: str) -> Measure | None:
    if key not in known:
        return None
    found = read.quantity(str(known[key]), want=f"the sprayer's {key}", example=example)
    if found.value <= 0:
        raise refuse("read-positive", text=known[key], want=f"the sprayer's {key}", example=example)
    return found


def told_of(text: ToldText) -> Told:
    """Read what was told, looking up the materials it names."""
    names = [split_after(item)[0] for item in text.after]
    if text.sprayer_held is not None:
        names.append(text.sprayer_held)
    return read_told(text, {name: find_material(name).id for name in names})


def knowledge_of(
    recipe: Recipe, materials: Mapping[str, Material], told: Told, labels: tuple[str, ...] = ()
) -> Knowledge:
    """Limits, rules and labels (by the path of their file) that may speak of these materials."""
    elements = {c.element for m in materials.values() for c in m.contents}
    nutrients = elements | {word for e in elements for word in oxide_words(e)}
    terms = terms_of(nutrients, materials.values())
    mine = {found.id: found for found in materials.values()}
    past = tuple(
        (mine.get(b.material) or material(b.material), int(b.days))
        for b in told.after
        if b.material in mine or b.material in material_ids()  # else of a garden that is gone
    )
    return Knowledge(
        limits=read_limits(terms, source, water=recipe.placement == "irrigation"),
        rules=read_rules(terms, source, region=told.region),
        labels=tuple(read_label(Path(path)) for path in labels),
        recipe_crops=_crops(recipe),
        past=past,
        held=material(told.sprayer_held) if told.sprayer_held else None,
        usual=read_usual(terms, source),
    )


def _crops(recipe: Recipe) -> tuple[Crop, ...]:
    """The recipe's crops that are known; its other words describe and do not judge."""
    known = crops()
    return tuple(known[key] for name in recipe.crops if (key := crop_key(name)) in known)


def run(job: Job) -> Mix:
    """Read, look up and compute one `Mix`; see `gather`."""
    request = gather(job)
    return with_past_said(mix(request), job.record, request.told.past)


def gather(job: Job) -> Request:
    """Read what was typed and look up what it names.

    Raises
    ------
    DoseError
        For anything that cannot be read, found or scaled.
    """
    garden = garden_of(job.garden)
    job = with_garden(job, garden)
    measures = read_system(job.measures)
    ready = job.ready
    shelf = garden.products()
    recipe = find_recipe(job.recipe, measures, shelf.material) if ready is None else ready.recipe
    own = shelf.materials(recipe.material_ids())
    book = open_book(recipe, own if ready is None else {**own, **ready.own})
    water = None
    if job.water is not None:
        water = read.positive(
            job.water, VOLUME, measures, want="a volume of water", example="5 L", oz_is="doubt"
        )
    told = told_of(job.told)
    request = Request(
        told=told,
        knowledge=knowledge_of(recipe, book.materials, told, job.labels),
        stock=job.stock,
        feed_held=job.feed_held,
        done=job.done,
        recipe=recipe,
        site=read_site(job.site, measures),
        tools=tools_of(job.tools, measures, garden),
        materials=book.materials,
        sources=book.sources,
        measures=measures,
        water=water,
        equal=job.equal,
    )
    return with_record(request, job.record, job.labels)


def crop_and_placement(job: Job) -> tuple[str, str]:
    """The id of the crop that was told ("" if none was), and how the dose is placed."""
    request = gather(replace(job, record=None))
    crop = request.told.crop
    return "" if crop is None else crop.id, request.recipe.placement


def _soonest(befores: Iterable[Before]) -> tuple[Before, ...]:
    """Each material once, with the fewest days: neither memory nor record makes the other later."""
    found: dict[str, Before] = {}
    for before in befores:
        have = found.get(before.material)
        if have is None or before.days < have.days:
            found[before.material] = before
    return tuple(found.values())


def with_record(request: Request, record: Record | None, labels: tuple[str, ...]) -> Request:
    """The request with the past of its bed; what was typed of the past counts as well."""
    if record is None or not record.bed:
        return request
    crop = request.told.crop.id if request.told.crop is not None else ""
    known = request.knowledge
    limits = (*(limit for label in known.labels for limit in label.limits), *known.limits)
    found = past_of(record, limits, crop, request.recipe)
    after = _soonest((*request.told.after, *found.since))
    told = replace(request.told, after=after, past=found)
    knowledge = knowledge_of(request.recipe, request.materials, told, labels)
    return replace(request, told=told, knowledge=knowledge)

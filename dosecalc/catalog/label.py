"""`Label`: what a grower typed from the label of the product in hand. It judges first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.crops import find_crop
from dosecalc.catalog.limit import ANY, Limit
from dosecalc.catalog.lookup import material_ids
from dosecalc.catalog.source import Source
from dosecalc.errors import DoseError, problems_text, refuse
from dosecalc.units import engine, read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import AREA, LENGTH, TIME, VOLUME, Measure

GRADE = "label"
_PLANT = (("[plant]", 1),)
_PER_OF_DENOMINATOR: dict[Unit, str] = {
    AREA: "field area",
    LENGTH: "row length",
    VOLUME: "solution",
    _PLANT: "plant",
}


@dataclass(frozen=True, slots=True)
class Label:
    """One label.

    Parameters
    ----------
    product, material : str
        The product as typed, and the id of the material it counts as.
    limits : tuple of Limit
        Highest and lowest rate, most per season, number of applications.
    least_water : Measure or None
        Volume per area.
    interval, harvest_wait, entry_wait : Measure or None
    crops, not_on : frozenset of str
        Crop words; empty where the label was not asked.
    """

    product: str
    material: str
    limits: tuple[Limit, ...]
    least_water: Measure | None
    interval: Measure | None
    harvest_wait: Measure | None
    entry_wait: Measure | None
    crops: frozenset[str]
    not_on: frozenset[str]


def per_of(measure: Measure) -> str | None:
    """What a rate is per, from the unit below the line; None for a bare amount."""
    below: Unit = tuple((name, -power) for name, power in measure.unit if power < 0)
    return _PER_OF_DENOMINATOR.get(engine.dimension(below)) if below else None


def _rate(data: Mapping[str, Any], key: str) -> Measure | None:
    text = data.get(key)
    if text is None:
        return None
    measure = read.quantity(
        text, want="a rate", example="2 g/L", option="the country before the unit", oz_is=None
    )
    if per_of(measure) is None:
        raise refuse("label-rate", text=text, what=key)
    return measure


def _time(data: Mapping[str, Any], key: str) -> Measure | None:
    text = data.get(key)
    return None if text is None else read.positive(text, TIME, want="a time", example="7 days")


def build_label(data: Mapping[str, Any]) -> Label:
    """A label from its checked table.

    Raises
    ------
    DoseError
        When a figure or a crop cannot be read.
    """
    if data["material"] not in material_ids():
        raise refuse("material-id", text=data["material"])
    source = Source(f"label-{data['material']}", f"label of {data['product']}, as typed",
                    "the product", GRADE, None, None)  # fmt: skip
    limits: list[Limit] = []
    for key, window, lower in (
        ("highest", "application", False), ("lowest", "application", True),
        ("most_season", "season", False),
    ):  # fmt: skip
        rate = _rate(data, key)
        if rate is not None:
            limits.append(_limit(data, key, rate, str(per_of(rate)), window, lower, source))
    if "times" in data:
        times = Measure(Fraction(data["times"]), (("count", 1),))
        limits.append(_limit(data, "times", times, "count", "season", False, source))
    least = data.get("least_water")
    water = None
    if least is not None:
        water = read.quantity(least, want="a water volume per area", example="200 L/ha")
        if per_of(water) != "field area" or water.value <= 0:
            raise refuse("label-rate", text=least, what="least_water")
    return Label(
        product=data["product"],
        material=data["material"],
        limits=tuple(limits),
        least_water=water,
        interval=_time(data, "interval"),
        harvest_wait=_time(data, "harvest_wait"),
        entry_wait=_time(data, "entry_wait"),
        crops=_crop_ids(data.get("crops", ())),
        not_on=_crop_ids(data.get("not_on", ())),
    )


def _crop_ids(names: tuple[str, ...]) -> frozenset[str]:
    return frozenset(find_crop(name).id for name in names)


def _limit(
    data: Mapping[str, Any], key: str, figure: Measure, per: str, window: str, lower: bool,
    source: Source,
) -> Limit:  # fmt: skip
    return Limit(
        id=f"label-{data['material']}-{key.replace('_', '-')}",
        of=data["material"],
        per=per,
        limit=figure,
        inclusive=True,
        window=window,
        years=0,
        crops=ANY,
        not_crops=frozenset(),
        setting=ANY,
        placement=ANY,
        phase="any",
        region="any",
        law=False,
        lower=lower,
        judges=True,
        not_judging="",
        printed=str(data[key]),
        source=source,
        why="The label of the product in hand comes before every other figure.",
        caveat="",
    )


def read_label(path: Path) -> Label:
    """A label file of a person's own.

    Raises
    ------
    DoseError
        With every problem of the file.
    """
    data, problems = files.read_checked(path, "label")
    if problems:
        raise refuse("label-problems", problems=problems_text(problems))
    try:
        return build_label(data)
    except DoseError as err:
        raise refuse("label-problems", problems=f"{path}: {err}") from None

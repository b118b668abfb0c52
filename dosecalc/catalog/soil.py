"""A soil report as it was printed, and the published scales that put its figures into words."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.source import Source
from dosecalc.errors import problems_text, refuse
from dosecalc.units import read
from dosecalc.units.measure import CM, LENGTH, Measure

_UNITS = ("mg/kg", "mg/L", "lb/acre", "kg/ha", "index")
_SAME = {"ppm": "mg/kg", "mg/l": "mg/L", "lbs/acre": "lb/acre", "lb/A": "lb/acre"}
"""A laboratory's ppm of soil is mg in a kilogram of it."""
_FIGURE = re.compile(r"(?P<number>\d[\d.,]*[+-]?) ?(?P<unit>.*)")
_PLOUGHED = (Fraction(15), Fraction(18))
"""Depth in cm, about 6 to 7 inches, of which an acre weighs two million pounds."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a report.

    Parameters
    ----------
    nutrient : str
        The word it is reported as: "P", "K2O".
    value : Fraction
    unit : str
        "mg/kg", "mg/L", "lb/acre", "kg/ha" or "index".
    extractant : str
        What drew it from the soil.
    printed : str
    """

    nutrient: str
    value: Fraction
    unit: str
    extractant: str
    printed: str


@dataclass(frozen=True, slots=True)
class Report:
    """One soil report.

    Parameters
    ----------
    lab, day, bed : str
        "" where it was not told.
    depth : Measure or None
        How deep the sample was taken.
    ph : Fraction or None
    ph_in : str
        What the pH was measured in: "water", "CaCl2" or "KCl".
    organic_matter : Fraction or None
        A share of the dry soil.
    figures : tuple of Figure
    """

    lab: str
    day: str
    bed: str
    depth: Measure | None
    ph: Fraction | None
    ph_in: str
    organic_matter: Fraction | None
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Level:
    """What a published scale calls a figure.

    Parameters
    ----------
    figure : Figure
    word : str
        "low", "index 2" ..., as the scale has it.
    much : bool
        Whether the scale calls it more than a crop can use.
    scale : str
        Name of the scale, with where it holds.
    source : Source
    """

    figure: Figure
    word: str
    much: bool
    scale: str
    source: Source


def read_report(path: Path) -> Report:
    """A report from a person's file; see ``catalog.schema.SoilFile``.

    Raises
    ------
    DoseError
        With every problem of the file; for a figure without a unit or an extractant, which could
        mean several things; for a pH of which was not told in what it was measured.
    """
    data, problems = files.read_checked(path, "soil")
    if problems:
        raise refuse("soil-problems", problems=problems_text(problems))
    depth = None
    if "depth" in data:
        depth = read.positive(data["depth"], LENGTH, want="a sampling depth", example="15 cm")
    ph = None
    if "ph" in data:
        ph = read.number(data["ph"], "us", example="6.4")
        if not 2 <= ph <= 11:
            raise refuse("soil-ph", text=data["ph"])
        if "ph_in" not in data:
            raise refuse("soil-ph-in", text=data["ph"])
    organic = None
    if "organic_matter" in data:
        text = data["organic_matter"]
        organic = read.number(text.strip().removesuffix("%").strip(), "us", example="3.2") / 100
        if not text.strip().endswith("%") or organic > 1:
            raise refuse("soil-organic", text=text)
    if "day" in data:
        try:
            datetime.date.fromisoformat(data["day"])
        except ValueError:
            raise refuse("season-day", text=data["day"]) from None
    figures = tuple(_figure(entry) for entry in data["figure"])
    seen: set[str] = set()
    for figure in figures:
        element = element_of(figure.nutrient)[0]
        if element in seen:
            raise refuse("soil-twice", nutrient=element)
        seen.add(element)
        if figure.unit in ("lb/acre", "kg/ha") and depth is None:
            raise refuse("soil-depth", text=figure.printed, nutrient=figure.nutrient)
    return Report(
        data.get("lab", ""), data.get("day", ""), data.get("bed", ""), depth, ph,
        data.get("ph_in", ""), organic, figures,
    )  # fmt: skip


def _figure(entry: Mapping[str, Any]) -> Figure:
    nutrient, text = entry["nutrient"], entry["value"].strip()
    if "extractant" not in entry:
        raise refuse("soil-extractant", nutrient=nutrient, text=text)
    match = _FIGURE.fullmatch(text)
    unit = "" if match is None else _SAME.get(match["unit"], match["unit"])
    if match is None or unit not in _UNITS:
        raise refuse("soil-unit", nutrient=nutrient, text=text, known=", ".join(_UNITS))
    number = read.number(match["number"].rstrip("+-"), "us", example="23")
    if unit != "index" and match["number"][-1] in "+-":
        raise refuse("soil-unit", nutrient=nutrient, text=text, known=", ".join(_UNITS))
    return Figure(nutrient, number, unit, entry["extractant"], text)


def levels(report: Report) -> tuple[tuple[Level, ...], tuple[Figure, ...]]:
    """What published scales say of a report, and the figures that no scale speaks of.

    A scale speaks only of its own extractant, and in its own unit; pounds an acre and mg/kg are
    turned into each other only for a sample of about the ploughed layer.
    """
    table = files.shipped(files.data_root().joinpath("soil-levels.toml"))["scale"]
    found: list[Level] = []
    silent: list[Figure] = []
    for figure in report.figures:
        mine = [
            level
            for scale in table
            if scale["extractant"] == figure.extractant
            and scale["nutrient"] == figure.nutrient
            and (level := _level(scale, figure, report.depth)) is not None
        ]
        found += mine
        if not mine:
            silent.append(figure)
    return tuple(found), tuple(silent)


def _level(scale: Mapping[str, Any], figure: Figure, depth: Measure | None) -> Level | None:
    value = _in_unit(figure, scale["unit"], depth)
    if value is None:
        return None
    for band in scale["band"]:
        if "below" not in band or value < Fraction(band["below"]):
            return Level(
                figure, band["word"], band.get("much", False),
                scale["name"], source(scale["source"]),
            )  # fmt: skip
    return None


def _in_unit(figure: Figure, unit: str, depth: Measure | None) -> Fraction | None:
    if figure.unit == unit:
        return figure.value
    if depth is None or not _PLOUGHED[0] <= depth.amount_in(CM) <= _PLOUGHED[1]:
        return None
    if (figure.unit, unit) == ("mg/kg", "lb/acre"):
        return figure.value * 2
    if (figure.unit, unit) == ("lb/acre", "mg/kg"):
        return figure.value / 2
    return None

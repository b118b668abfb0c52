"""Soil and leaf tests as they were told: exact text, never interpreted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from dosecalc.catalog.formula import NUTRIENTS, OXIDES, element_of
from dosecalc.errors import refuse
from dosecalc.season.events import Event
from dosecalc.units import read

PLAIN = ("pH", "organic matter", "CEC", "EC", "carbonate")
"""What a report of a laboratory tells beside nutrients."""
UNITS = (
    "mg/kg", "ug/g", "g/kg", "g/100 g", "mg/100 g", "ppm", "%", "mg/L", "mmol/L", "kg/ha",
    "lb/acre", "meq/100 g", "cmol/kg", "mmol/kg", "dS/m", "mS/cm", "uS/cm",
)  # fmt: skip
_NAMES = sorted((*NUTRIENTS, *OXIDES, *PLAIN, "NO3-N", "NH4-N"), key=len, reverse=True)
_FORM = re.compile(
    rf"(?P<name>{'|'.join(map(re.escape, _NAMES))})\s+(?P<figure>[<>]?\s*\d[\d.,]*)"
    rf"(?:\s*(?P<unit>{'|'.join(re.escape(u).replace(' ', ' ?') for u in UNITS)})(?![\w/]))?"
    r"(?:[\s,]+(?P<how>\S.*))?"
)
_MOST = 60


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a test.

    Parameters
    ----------
    of : str
        "B", "P2O5", "pH".
    text : str
        The figure with its unit, as told.
    how : str
        The extractant or the method; "" where it was not told.
    """

    of: str
    text: str
    how: str

    @property
    def element(self) -> str:
        """The element that it speaks of, "" for none."""
        name = self.of.partition("-")[0]
        if name in ("NO3", "NH4"):
            return "N"
        return element_of(name)[0] if name in NUTRIENTS or name in OXIDES else ""


@dataclass(frozen=True, slots=True)
class Sampled:
    """One test of one place.

    Parameters
    ----------
    of : {"soil", "leaf"}
    day, place : str
    figures : tuple of Figure
    about : mapping of str to str
        "depth", "lab", "note", "crop", where they were told.
    """

    of: str
    day: str
    place: str
    figures: tuple[Figure, ...]
    about: Mapping[str, str]


def read_figure(text: str, method: str = "") -> Figure:
    """Read "B 0.6 mg/kg hot-water": what, figure, unit, extractant.

    Parameters
    ----------
    text, method : str
        `method` stands where the text tells none.

    Raises
    ------
    DoseError
        For anything else; pH alone needs no unit.
    """
    clean = read.tidy(text, "a figure of a test", "B 0.6 mg/kg hot-water")
    found = _FORM.fullmatch(clean)
    if found is None or (found["unit"] is None) != (found["name"] == "pH"):
        known = ", ".join(UNITS)
        raise refuse("test-form", text=text, units=known)
    read.number(found["figure"].lstrip("<> "), example="0.6")
    how = (found["how"] or method).strip("() ")
    if len(how) > _MOST:
        raise refuse("test-form", text=text, units=", ".join(UNITS))
    return Figure(found["name"], " ".join(filter(None, (found["figure"], found["unit"]))), how)


def details_of(of: str, figures: Iterable[Figure], about: Mapping[str, str]) -> dict[str, str]:
    """The figures as the details of an event.

    Raises
    ------
    DoseError
        When one thing by one method was told twice.
    """
    found: dict[str, str] = {"of": of}
    for figure in figures:
        name = f"figure {figure.of}, {figure.how}" if figure.how else f"figure {figure.of}"
        if name in found:
            raise refuse("test-twice", text=f"{figure.of} {figure.text}")
        found[name] = figure.text
    return found | {name: text for name, text in about.items() if text}


def sampled(event: Event) -> Sampled:
    """The event as a test."""
    figures, about = [], {}
    for name, text in event.details.items():
        if name.startswith("figure "):
            of, _, how = name.removeprefix("figure ").partition(", ")
            figures.append(Figure(of, text, how))
        elif name != "of":
            about[name] = text
    return Sampled(event.details.get("of", "soil"), event.day, event.what, tuple(figures), about)

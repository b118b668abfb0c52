"""From what was asked to the report's bytes."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.label import read_label
from dosecalc.catalog.limit import Limit, read_limits, terms_of
from dosecalc.catalog.lookup import source
from dosecalc.catalog.material import Material
from dosecalc.catalog.told import REGIONS
from dosecalc.errors import printable, refuse
from dosecalc.faces.record import day_of, tool
from dosecalc.faces.report.build import build
from dosecalc.faces.report.data import Document
from dosecalc.faces.report.text import render_text
from dosecalc.season.places import tidy
from dosecalc.season.report import Scope, report
from dosecalc.season.store import reading

PAPERS = ("a4", "letter")
_YEAR = re.compile(r"[12]\d{3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed; None where nothing was."""

    place: str | None = None
    year: str | None = None
    start: str | None = None
    end: str | None = None
    region: str | None = None
    paper: str = "a4"


def window_of(asked: Asked) -> tuple[str, str]:
    """First and last day: of the year, or as told; else of this year.

    Raises
    ------
    DoseError
        For a year or a day that is none, both told, and a first day after the last.
    """
    if asked.year is not None and (asked.start is not None or asked.end is not None):
        raise refuse("report-when")
    if asked.year is not None and not _YEAR.fullmatch(asked.year):
        raise refuse("report-year", text=asked.year)
    end = day_of(asked.end)
    year = asked.year or str(end.year)
    if asked.start is None and asked.end is None:
        return f"{year}-01-01", f"{year}-12-31"
    start = day_of(asked.start) if asked.start is not None else datetime.date(end.year, 1, 1)
    if start > end:
        raise refuse("report-order", start=start, end=end)
    return start.isoformat(), end.isoformat()


def document_of(file: Path, asked: Asked, garden: Garden) -> Document:
    """The report of a season's file.

    Raises
    ------
    DoseError
        For anything asked that cannot be read, a place that the record does not know, and a file
        that cannot be read.
    """
    window = window_of(asked)
    region = asked.region or garden.data.get("region")
    if region is not None and region.upper() not in REGIONS:
        raise refuse("one-of", text=region, option="--region", known=", ".join(REGIONS))
    region = region and region.upper()

    labels = [read_label(Path(path)) for path in garden.labels()]

    def scope(name: str) -> Scope:
        bed = garden.data.get("bed", {}).get(name, {})
        return Scope(region, bed.get("setting"), bed.get("phase"))

    def limits(nutrients: Iterable[str], materials: Iterable[Material]) -> tuple[Limit, ...]:
        found = read_limits(terms_of(nutrients, materials), source, water=True)
        return (*(limit for label in labels for limit in label.limits), *found)

    place = None if asked.place is None else tidy(asked.place)
    with reading(file) as base:
        found = report(base, window, place, scope, limits)
    if found is None:
        raise refuse("report-no-place", text=printable(place or ""))
    name = str(garden.data.get("name", ""))
    return build(found, name, region, datetime.date.today().isoformat(), tool())


def check(output: str, paper: str) -> None:
    """Refuse a form or a paper that is not known, before anything is read.

    Raises
    ------
    DoseError
    """
    if output != "-" and Path(output).suffix.lower() not in (".pdf", ".txt"):
        raise refuse("report-form", path=output)
    if paper not in PAPERS:
        raise refuse("report-paper", text=paper, known=" or ".join(PAPERS))


def page_bytes(document: Document, output: str, paper: str) -> bytes:
    """The bytes of the form that the end of the output's name asks for; text for "-".

    Raises
    ------
    DoseError
        For a letter that the font has no shape for, and where the typesetter is not installed.
    """
    if output == "-" or output.lower().endswith(".txt"):
        return render_text(document).encode("utf-8")
    try:
        from dosecalc.faces.report.render import render
    except ImportError:
        raise refuse("card-extra") from None
    return render(document, paper)

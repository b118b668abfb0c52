"""Splitting the nitrogen: shares as typed, and what is published of when to give it again."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog import files
from dosecalc.catalog.crops import Crop
from dosecalc.catalog.lookup import source
from dosecalc.catalog.source import Source
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.measure import DAY, TIME

_PART = re.compile(r"(?P<share>[\d.]+) ?%(?: after (?P<time>.+))?")
MOST_PARTS = 6


@dataclass(frozen=True, slots=True)
class Part:
    """One dressing.

    Parameters
    ----------
    share : Fraction
        Of the nitrogen.
    days : int or None
        How long after the dressing before it; None where that was not told.
    """

    share: Fraction
    days: int | None


@dataclass(frozen=True, slots=True)
class Advice:
    """When a publisher gives nitrogen again.

    Parameters
    ----------
    crops : str
        Whom it was published for.
    when : str
    days : int or None
        The least wait after the first dressing, where the source counts it.
    source : Source
    """

    crops: str
    when: str
    days: int | None
    source: Source


def read_split(text: str) -> tuple[Part, ...]:
    """Shares of the nitrogen: "40 %, 60 % after 28 days".

    Raises
    ------
    DoseError
        For shares that do not add up to the whole, and for a time that is none.
    """
    clean = read.tidy(text, "a split", "40 %, 60 % after 28 days")
    parts = []
    for at, piece in enumerate(clean.split(",")):
        match = _PART.fullmatch(piece.strip())
        if match is None or (at == 0 and match["time"] is not None):
            raise refuse("feed-split", text=text)
        days = None
        if match["time"] is not None:
            time = read.positive(match["time"], TIME, want="a time", example="28 days")
            exact = time.amount_in(DAY)
            if exact.denominator != 1 or exact > 365:
                raise refuse("feed-split", text=text)
            days = int(exact)
        parts.append(Part(read.number(match["share"], "us", example="40") / 100, days))
    whole = sum((part.share for part in parts), Fraction(0))
    if whole != 1 or not 2 <= len(parts) <= MOST_PARTS or any(not p.share for p in parts):
        raise refuse("feed-split", text=text)
    return tuple(parts)


def advice(crop: Crop | None) -> tuple[Advice, ...]:
    """What is published for a crop; nothing where no crop was told."""
    if crop is None:
        return ()
    table = files.shipped(files.data_root().joinpath("splits.toml"))["split"]
    return tuple(
        Advice(
            ", ".join(entry["crops"]).replace("-", " "), entry["when"], entry.get("days"),
            source(entry["source"]),
        )
        for entry in table
        if crop.id in entry["crops"]
    )  # fmt: skip

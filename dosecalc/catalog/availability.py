"""`Share`: how much of a nutrient in a compost or manure feeds a crop, and in which year."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.material import Material
from dosecalc.catalog.source import Source

FOLDER = "availability"


@dataclass(frozen=True, slots=True)
class Share:
    """One published share. See ``catalog.schema.ShareEntry``.

    Parameters
    ----------
    of : str
        A material id or "trait:compost".
    nutrient : {"N", "P", "K"}
    share_of : {"total", "organic", "rest"}
        What it is a share of; "rest" is what is left, every later year.
    from_year, to_year : int
        Counted from 1, the year in which it is given.
    low, likely, high : Fraction
        Of 1.
    used : bool
        Whether a goal is worked out with it.
    source : Source or None
        None where the grower typed it.
    """

    id: str
    of: str
    nutrient: str
    share_of: str
    from_year: int
    to_year: int
    low: Fraction
    likely: Fraction
    high: Fraction
    used: bool
    printed: str
    source: Source | None
    caveat: str = ""


@dataclass(frozen=True, slots=True)
class SaltMark:
    """From which conductivity on a material is called salty, in mS/cm."""

    id: str
    of: str
    above: Fraction
    printed: str
    source: Source
    why: str
    caveat: str


def build_share(entry: Mapping[str, Any], source: Source) -> Share:
    """One share from its checked table; a likely figure that is not given is the middle."""
    low = Fraction(entry["low"]) / 100
    high = Fraction(entry["high"]) / 100 if "high" in entry else low
    likely = Fraction(entry["likely"]) / 100 if "likely" in entry else (low + high) / 2
    first = entry.get("from_year", 1)
    return Share(
        id=entry["id"], of=entry["of"], nutrient=entry["nutrient"], share_of=entry["share_of"],
        from_year=first, to_year=entry.get("to_year", first), low=low, likely=likely, high=high,
        used=entry.get("used", False), printed=one_line(entry["printed"]), source=source,
        caveat=one_line(entry.get("caveat", "")),
    )  # fmt: skip


def typed_share(share: Fraction) -> Share:
    """The first-year share of nitrogen that a grower typed."""
    return Share("typed", "", "N", "total", 1, 1, share, share, share, True, "", None)


def read_shares(look_up: Any) -> tuple[Share, ...]:
    """Every shipped share.

    Parameters
    ----------
    look_up : callable
        Source id to `Source`.
    """
    return tuple(
        build_share(entry, look_up(entry["source"])) for entry in files.entries(FOLDER, "share")
    )


def read_salt_marks(look_up: Any) -> tuple[SaltMark, ...]:
    """Every shipped mark of saltiness.

    Parameters
    ----------
    look_up : callable
        Source id to `Source`.
    """
    return tuple(
        SaltMark(
            entry["id"], entry["of"], Fraction(entry["above"]), entry["printed"],
            look_up(entry["source"]), one_line(entry["why"]), one_line(entry.get("caveat", "")),
        )
        for entry in files.entries(FOLDER, "salt")
    )  # fmt: skip


def speaks_of(of: str, material: Material) -> bool:
    """Whether a word of the data means this material: by its id or by one of its traits."""
    if of.startswith("trait:"):
        return of.removeprefix("trait:") in material.traits
    return of == material.id


def shares_of(material: Material, nutrient: str, shares: tuple[Share, ...]) -> tuple[Share, ...]:
    """The shares of one nutrient that speak of a material, those by its id first."""
    found = [s for s in shares if s.nutrient == nutrient and speaks_of(s.of, material)]
    return tuple(sorted(found, key=lambda s: s.of != material.id))


def first_year(material: Material, shares: tuple[Share, ...]) -> Share | None:
    """The share of nitrogen a goal is worked out with, None where there is none."""
    return next((s for s in shares_of(material, "N", shares) if s.used), None)

"""`Usual`: the highest rate that was found published for something. It is no limit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.limit import ANY, relevant
from dosecalc.catalog.source import Source
from dosecalc.units import read
from dosecalc.units.measure import Measure


@dataclass(frozen=True, slots=True)
class Usual:
    """A published rate, the highest found for its place. See ``catalog.schema.UsualEntry``.

    Parameters
    ----------
    of : str
        A nutrient ("N"), a material id or "trait:oil".
    carriers : frozenset of str
        Traits of the materials from which the nutrient is counted; empty counts it from all.
    dry : bool
        Whether the figure is of dry stuff, so that a liquid is not counted.
    per : str
        The basis of the figure ("field area", "solution" ...).
    rate : Measure
    window : str
        "application" for one dose; any other counts the doses before it as well.
    """

    id: str
    of: str
    carriers: frozenset[str]
    dry: bool
    per: str
    rate: Measure
    window: str
    setting: frozenset[str]
    placement: frozenset[str]
    printed: str
    source: Source
    why: str
    caveat: str


def build_usual(entry: Mapping[str, Any], source: Source) -> Usual:
    """One rate from its checked table.

    Raises
    ------
    DoseError
        When its figure cannot be read.
    """
    return Usual(
        id=entry["id"],
        of=entry["of"],
        carriers=frozenset(entry.get("carriers", ())),
        dry=entry.get("dry", False),
        per=entry["per"],
        rate=read.quantity(entry["rate"], want="a rate", example="20 lb/100 sq ft", oz_is="weight"),
        window=entry["window"],
        setting=_words(entry["setting"]),
        placement=_words(entry["placement"]),
        printed=entry["printed"],
        source=source,
        why=one_line(entry["why"]),
        caveat=one_line(entry.get("caveat")),
    )


def _words(value: Any) -> frozenset[str]:
    return ANY if value == "any" else frozenset(value)


def read_usual(terms: frozenset[str] | None, look_up: Any) -> tuple[Usual, ...]:
    """Every shipped rate of one of `terms`, all of them when `terms` is None.

    Parameters
    ----------
    terms : frozenset of str or None
        Nutrients, material ids and "trait:..." words of the mix.
    look_up : callable
        Source id to `Source`.
    """
    found: list[Usual] = []
    folder = files.data_root().joinpath("usual")
    for entry in sorted(folder.iterdir(), key=lambda item: item.name):
        if not entry.name.endswith(".toml") or (terms is not None and not relevant(entry, terms)):
            continue
        for table in files.shipped(entry)["rate"]:
            if terms is None or table["of"] in terms:
                found.append(build_usual(table, look_up(table["source"])))
    return tuple(found)

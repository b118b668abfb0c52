"""What is on file of seeds, inoculants and live controls: counts and rates, never a limit."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.source import Source
from dosecalc.catalog.tally import TallyRate, read_tally_rate
from dosecalc.units import read
from dosecalc.units.measure import Measure

FOLDER = "sowing"


@dataclass(frozen=True, slots=True)
class SeedCount:
    """How many seeds a weight holds, as one source printed it."""

    rate: TallyRate
    printed: str
    source: Source


@dataclass(frozen=True, slots=True)
class RowRate:
    """A published weight of seed for a length of row: no limit."""

    rate: Measure
    printed: str
    source: Source


@dataclass(frozen=True, slots=True)
class SeedKind:
    """One kind of seed on file.

    Parameters
    ----------
    counts : tuple of SeedCount
        The first is reckoned with; the others are kept beside it.
    rates : tuple of RowRate
    """

    id: str
    name: str
    also: tuple[str, ...]
    counts: tuple[SeedCount, ...]
    rates: tuple[RowRate, ...]
    caveat: str


@dataclass(frozen=True, slots=True)
class PublishedRate:
    """What was found published for an inoculant or a live control: no limit.

    Parameters
    ----------
    of : str
        "inoculant", "living" (rhizobia on a seed), or a kind of live control.
    also : tuple of str
        Other names of that kind.
    """

    id: str
    of: str
    also: tuple[str, ...]
    printed: str
    source: Source
    caveat: str


def read_seeds(look_up: Any) -> tuple[SeedKind, ...]:
    """Every shipped kind of seed.

    Parameters
    ----------
    look_up : callable
        Source id to `Source`.
    """
    return tuple(
        SeedKind(
            entry["id"], entry["name"], tuple(entry.get("also", ())),
            tuple(
                SeedCount(
                    read_tally_rate(item["count"], ("seed",), "1500 seeds/oz"), item["printed"],
                    look_up(item["source"]),
                )
                for item in entry["seen"]
            ),
            tuple(
                RowRate(
                    read.quantity(item["rate"], oz_is="weight"), item["printed"],
                    look_up(item["source"]),
                )
                for item in entry.get("row", ())
            ),
            one_line(entry.get("caveat", "")),
        )
        for entry in files.entries(FOLDER, "seed")
    )  # fmt: skip


def read_published(look_up: Any) -> tuple[PublishedRate, ...]:
    """Every shipped rate of inoculants and live controls.

    Parameters
    ----------
    look_up : callable
        Source id to `Source`.
    """
    return tuple(
        PublishedRate(
            entry["id"], entry["of"], tuple(entry.get("also", ())), entry["printed"],
            look_up(entry["source"]), one_line(entry.get("caveat", "")),
        )
        for entry in files.entries(FOLDER, "rate")
    )  # fmt: skip


def find_seed(text: str, kinds: tuple[SeedKind, ...]) -> SeedKind | None:
    """The kind that a name means, exactly; None where it is not on file."""
    key = _key(text)
    return next((k for k in kinds if key in {_key(n) for n in (k.id, k.name, *k.also)}), None)


def near_seeds(text: str, kinds: tuple[SeedKind, ...]) -> str:
    """The names on file that come nearest, else all of them."""
    names = {_key(name): k.name for k in kinds for name in (k.name, *k.also)}
    near = difflib.get_close_matches(_key(text), names, n=3)
    found = dict.fromkeys(names[key] for key in near)
    return ", ".join(found) or ", ".join(k.name for k in kinds)


def speaks(rate: PublishedRate, name: str) -> bool:
    """Whether a published rate is of what a name means."""
    return _key(name) in {_key(word) for word in (rate.of, *rate.also)}


def _key(text: str) -> str:
    return " ".join(text.casefold().replace("-", " ").split())

"""Whether an entry can be what was once written: a damaged or made-up one is found before use."""

from __future__ import annotations

import datetime
import re
import sqlite3
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from dosecalc.errors import DoseError, refuse
from dosecalc.units import read
from dosecalc.units.measure import MASS, VOLUME, Measure

if TYPE_CHECKING:
    from dosecalc.season.entries import Entry
    from dosecalc.season.events import Event

MOST_TEXT = 10_000
"""Characters of one text of an entry: more is no note but a file."""
_KINDS = ("given", "correct", "undo")
_COST = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,2})?", re.ASCII)
_AMOUNTS = ("asked mass", "asked volume", "measured", "nutrient")


class DamagedError(sqlite3.DatabaseError):
    """What stands in the file was never written by this program: `store` names the file."""


def day_of(text: str) -> datetime.date:
    """The day of an entry as it stands in the file.

    Raises
    ------
    DamagedError
        When it is no day.
    """
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise DamagedError(f"malformed day {text[:20]!r}") from None


@lru_cache(maxsize=4096)
def amount_of(text: str) -> Measure:
    """An amount or a size as it stands in the file.

    Raises
    ------
    DamagedError
        When it is no number with a unit.
    """
    try:
        return read.quantity(text)
    except DoseError:
        raise DamagedError(f"malformed amount {text[:40]!r}") from None


def cost_of(text: str) -> Fraction:
    """A price of the record, zero or more.

    Raises
    ------
    DamagedError
        When it is no such number.
    """
    if not _COST.fullmatch(text):
        raise DamagedError(f"malformed cost {text[:40]!r}")
    return Fraction(text)


def sound(entry: Entry) -> bool:
    """Whether every field of an entry is of its kind and every amount can be read."""
    if entry.kind not in _KINDS or (entry.kind == "given") != (entry.about is None):
        return False
    try:
        day_of(entry.day)
        for (kind, _), span in entry.amounts.items():
            low, likely, high = (amount_of(text) for text in span)
            if kind not in _AMOUNTS or len({low.unit, likely.unit, high.unit}) != 1:
                return False
            if not low.value <= likely.value <= high.value:
                return False
        for size in entry.ground.values():
            amount_of(size)
    except DamagedError:
        return False
    return bool(entry.id and entry.id.isprintable() and entry.bed)


def sound_event(event: Event) -> bool:
    """Whether every field of an event is of its kind; of its details, what stock is summed from."""
    from dosecalc.season.events import KINDS

    if event.kind not in KINDS or (event.kind == "withdrawn") != (event.about is not None):
        return False
    try:
        day_of(event.day)
        if event.kind in ("stock in", "stock count"):
            kinds = {_by_mass(event.details.get("amount", ""))}
            kinds |= {_by_mass(event.details["pack"])} if "pack" in event.details else set()
            cost_of(event.details.get("cost", "0"))
            if len(kinds) != 1 or None in kinds:
                return False
    except DamagedError:
        return False
    return bool(event.id and event.id.isprintable())


def _by_mass(text: str) -> bool | None:
    """Whether an amount is a weight, else a volume; None where it is neither or below zero."""
    found = amount_of(text)
    fits = found.value >= 0 and (found.is_a(MASS) or found.is_a(VOLUME))
    return found.is_a(MASS) if fits else None


def writable(texts: Iterable[str | None]) -> None:
    """Refuse texts that no file can hold; None is an empty field.

    Raises
    ------
    DoseError
        For bytes that are no text, and for a text of more than `MOST_TEXT` characters.
    """
    for text in texts:
        if text is None:
            continue
        if len(text) > MOST_TEXT:
            raise refuse("season-long", text=text, most=MOST_TEXT, length=len(text))
        try:
            text.encode("utf-8")
        except UnicodeEncodeError:
            raise refuse("season-text", text=text) from None

"""Published credits: what earlier crops and manures leave for the next crop."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.asked import Asked, read_asked
from dosecalc.catalog.lookup import source
from dosecalc.catalog.source import Source
from dosecalc.errors import refuse
from dosecalc.units import read
from dosecalc.units.measure import Measure, exact_text
from dosecalc.units.words import System


@dataclass(frozen=True, slots=True)
class Credit:
    """What is there already of one nutrient.

    Parameters
    ----------
    asked : Asked
        What counts: of a published span its low end.
    name : str
        What it comes from.
    up_to : Measure or None
        The high end of a published span.
    scope : str
        Where it was published for; "" where it was typed.
    source : Source or None
    """

    asked: Asked
    name: str
    up_to: Measure | None = None
    scope: str = ""
    source: Source | None = None


def published() -> Mapping[str, Mapping[str, Any]]:
    """Every published credit by its id."""
    table = files.shipped(files.data_root().joinpath("credits.toml"))["credit"]
    return {entry["id"]: entry for entry in table}


def read_credit(text: str, system: System | None) -> Credit:
    """One credit: "30 kg/ha N from clover", an id, or an id and how much was spread.

    Raises
    ------
    DoseError
        For anything that is neither an amount of a nutrient nor a published credit.
    """
    clean = read.tidy(text, "a credit", "30 kg/ha N from clover")
    id, colon, spread = (part.strip() for part in clean.partition(":"))
    known = published()
    if id in known:
        return _published(known[id], spread if colon else None, system)
    if not any(char.isdigit() for char in id):
        near = difflib.get_close_matches(id.lower().replace(" ", "-"), known, n=3, cutoff=0.4)
        raise refuse("feed-credit", text=id, near=" or ".join(near or sorted(known)))
    amount, from_, name = clean.partition(" from ")
    return Credit(read_asked(amount, system, "--credit"), name if from_ else "as typed")


def _published(entry: Mapping[str, Any], spread: str | None, system: System | None) -> Credit:
    word = entry["nutrient"]
    low, high = (read.quantity(entry[end], "us", oz_is="weight") for end in ("low", "high"))
    if entry["per"] == "spread":
        if spread is None:
            raise refuse("feed-credit-spread", text=entry["id"])
        given = read.quantity(
            spread, system, want="how much was spread", example="20 t/ha", oz_is="weight"
        )
        low, high = (given * end.amount_in(()) for end in (low, high))
    elif spread is not None:
        raise refuse("feed-credit-plain", text=entry["id"])
    asked = Asked(word, low, f"{exact_text(low)} {word}")
    if asked.amount.value <= Fraction(0) or asked.basis != "area":
        raise refuse("feed-credit-spread", text=entry["id"])
    up_to = None if low == high else high
    return Credit(asked, entry["name"], up_to, entry["scope"], source(entry["source"]))

"""Rules that are no figure over a basis: what must not meet, weather, waits, law, rescue."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.limit import ANY, relevant
from dosecalc.catalog.source import Source
from dosecalc.units import read
from dosecalc.units.measure import Measure


@dataclass(frozen=True, slots=True)
class Pair:
    """Two things that must not meet: `where` is a tank, a stock tank, the ground, or days."""

    id: str
    a: str
    b: str
    where: str
    days: int
    first: str
    level: str
    unless: str
    region: str
    crops: frozenset[str]
    printed: str
    source: Source
    why: str


@dataclass(frozen=True, slots=True)
class Weather:
    """A condition under which `of` must not be used. `value` is in C, %, hours, or None."""

    id: str
    of: str
    placement: frozenset[str]
    quantity: str
    edge: str
    value: Fraction | None
    level: str
    printed: str
    source: Source
    why: str


@dataclass(frozen=True, slots=True)
class Wait:
    """Entry, harvest or repeat wait of `of`."""

    id: str
    of: str
    what: str
    wait: Measure
    region: str
    crops: frozenset[str]
    placement: frozenset[str]
    condition: str
    printed: str
    source: Source
    why: str


@dataclass(frozen=True, slots=True)
class Law:
    """What a region's law says of using `of` for `use`, as of a date."""

    id: str
    of: str
    region: str
    use: str
    level: str
    as_of: str
    printed: str
    source: Source
    why: str


@dataclass(frozen=True, slots=True)
class Rescue:
    """What may be done after too much of `of`, only as its source says."""

    id: str
    of: str
    say: str
    only_if: str
    never: str
    source: Source


@dataclass(frozen=True, slots=True)
class Rules:
    """Every rule that speaks of one mix."""

    pairs: tuple[Pair, ...] = ()
    weather: tuple[Weather, ...] = ()
    waits: tuple[Wait, ...] = ()
    law: tuple[Law, ...] = ()
    rescue: tuple[Rescue, ...] = ()


def _words(value: Any) -> frozenset[str]:
    return ANY if value in (None, "any") else frozenset(value)


def _pair(entry: Mapping[str, Any], source: Source) -> Pair:
    return Pair(
        entry["id"], entry["a"], entry["b"], entry["where"], entry.get("days", 0),
        entry.get("first", "either"), entry["level"], one_line(entry.get("unless")),
        entry.get("region", "any"), _words(entry.get("crops")), entry["printed"], source,
        one_line(entry["why"]),
    )  # fmt: skip


def weather_value(quantity: str, text: str) -> Fraction:
    """A weather figure in the unit its quantity is compared in: C, %, m/s or hours."""
    if quantity == "temperature":
        return read.temperature(text)
    if quantity == "humidity":
        return read.number(text.rstrip("% "), example="80 %")
    if quantity == "wind":
        return read.quantity(text, want="a wind speed", example="4 m/s").amount_in(
            (("meter", 1), ("second", -1))
        )
    return read.quantity(text, want="a time", example="6 h").amount_in((("hour", 1),))


def _weather(entry: Mapping[str, Any], source: Source) -> Weather:
    text = entry.get("value")
    return Weather(
        entry["id"], entry["of"], _words(entry["placement"]), entry["quantity"], entry["edge"],
        None if text is None else weather_value(entry["quantity"], text), entry["level"],
        entry["printed"], source, one_line(entry["why"]),
    )  # fmt: skip


def _wait(entry: Mapping[str, Any], source: Source) -> Wait:
    return Wait(
        entry["id"], entry["of"], entry["what"],
        read.quantity(entry["wait"], want="a wait", example="14 day"),
        entry.get("region", "any"), _words(entry.get("crops")), _words(entry.get("placement")),
        one_line(entry.get("condition")), entry["printed"], source, one_line(entry["why"]),
    )  # fmt: skip


def _law(entry: Mapping[str, Any], source: Source) -> Law:
    return Law(
        entry["id"], entry["of"], entry["region"], entry["use"], entry["level"], entry["as_of"],
        entry["printed"], source, one_line(entry["why"]),
    )  # fmt: skip


def _rescue(entry: Mapping[str, Any], source: Source) -> Rescue:
    return Rescue(
        entry["id"], entry["of"], one_line(entry["say"]), one_line(entry.get("only_if")),
        one_line(entry.get("never")), source,
    )  # fmt: skip


def read_rules(terms: frozenset[str] | None, look_up: Any, *, region: str | None = None) -> Rules:
    """Every shipped rule that speaks of one of `terms`, all of them when `terms` is None.

    Parameters
    ----------
    terms : frozenset of str or None
    look_up : callable
        Source id to `Source`.
    region : str or None
        The law file is read only when a region was told.
    """
    pairs: list[Pair] = []
    weather: list[Weather] = []
    waits: list[Wait] = []
    law: list[Law] = []
    rescue: list[Rescue] = []
    folder = files.data_root().joinpath("rules")
    for entry in sorted(folder.iterdir(), key=lambda item: item.name):
        if not entry.name.endswith(".toml"):
            continue
        if terms is not None and (
            (entry.name == "law.toml" and region is None) or not relevant(entry, terms)
        ):
            continue
        data = files.shipped(entry)

        def mine(kind: str, *keys: str, data: Mapping[str, Any] = data) -> list[Any]:
            tables = data.get(kind, ())
            return [t for t in tables if terms is None or any(t[k] in terms for k in keys)]

        pairs += [_pair(t, look_up(t["source"])) for t in mine("pair", "a", "b")]
        weather += [_weather(t, look_up(t["source"])) for t in mine("weather", "of")]
        waits += [_wait(t, look_up(t["source"])) for t in mine("wait", "of")]
        rescue += [_rescue(t, look_up(t["source"])) for t in mine("rescue", "of")]
        law += [
            _law(t, look_up(t["source"]))
            for t in mine("law", "of")
            if terms is None or t["region"] == region
        ]
    return Rules(tuple(pairs), tuple(weather), tuple(waits), tuple(law), tuple(rescue))

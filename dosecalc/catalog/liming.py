"""The published ways to read a need of lime, sulfur or gypsum from a soil report."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from dosecalc.catalog import files
from dosecalc.catalog.files import one_line
from dosecalc.catalog.lookup import source
from dosecalc.catalog.source import Source
from dosecalc.catalog.strength import LimingValue, read_liming_value
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import TIME, Measure

Rows = tuple[tuple[Fraction, ...], ...]
_LENGTH = (("[length]", 1),)


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of an acidity formula; see ``catalog.schema_liming.LimingRule``."""

    target: Fraction
    factor: Fraction
    above: Fraction | None
    flat: Fraction | None


@dataclass(frozen=True, slots=True)
class Band:
    """One class of soil pH of one texture; see ``catalog.schema_liming.LimingBand``."""

    texture: str
    since: Fraction | None
    up_to: Fraction
    amount: Fraction
    once: Fraction | None


@dataclass(frozen=True, slots=True)
class Method:
    """One published way; see ``catalog.schema_liming.LimingMethodEntry`` for the file.

    Parameters
    ----------
    unit, unit_word : Measure, str
        One of the unit that every figure of it counts, a mass over an area, and how it is printed.
    counts : LimingValue
        The quality of lime that its figures are of.
    column : tuple of str
        Targets or textures, as printed.
    table, step_table : tuple of tuple of Fraction
        A row begins with where it stands, a row of steps with from and to.
    """

    id: str
    name: str
    lowers: bool
    shape: str
    where: str
    region: str
    setting: tuple[str, ...]
    crops: tuple[str, ...]
    placement: str
    depth: Measure | None
    depth_scales: bool
    counts: LimingValue
    counts_taken: str
    unit: Measure
    unit_word: str
    rows: str
    columns: str
    column: tuple[str, ...]
    table: Rows
    step_table: Rows
    bands: tuple[Band, ...]
    rules: tuple[Rule, ...]
    buffer: str
    buffer_top: Fraction | None
    buffer_factor: Fraction | None
    acidity_per: str
    acidity_most: Fraction | None
    target: Fraction | None
    target_most: Fraction | None
    brings_to: str
    ph_in: str
    step: Fraction | None
    most_steps: int | None
    per_step: tuple[Fraction, ...]
    factor: Fraction | None
    field_factor: Fraction | None
    before: Measure | None
    again: Measure | None
    printed: str
    source: Source
    caveat: str

    @property
    def needs(self) -> tuple[str, ...]:
        """What of a soil report it asks for, in words."""
        if self.shape == "sodium":
            return ("exchangeable sodium", "exchange capacity")
        found = ["pH"]
        if self.buffer:
            found.append(
                f"{self.buffer} buffer reading" + (" or acidity" if self.acidity_per else "")
            )
        elif self.acidity_per:
            found.append(f"acidity in meq/{self.acidity_per}")
        if self.columns == "texture":
            found.append("texture")
        return tuple(found)

    @property
    def targets(self) -> tuple[Fraction, ...]:
        """The target pH values that it can be asked for; none where any may be."""
        if self.columns == "target":
            return tuple(Fraction(text) for text in self.column)
        if self.rules:
            return tuple(rule.target for rule in self.rules)
        return () if self.target is None else (self.target,)


@dataclass(frozen=True, slots=True)
class Instead:
    """How much of a salt does the work of one part of sulfur."""

    material: str
    factor: Fraction
    printed: str
    source: Source
    caveat: str


@dataclass(frozen=True, slots=True)
class FreeLime:
    """From which soil pH it must be told whether the soil fizzes with vinegar."""

    since: Fraction
    printed: str
    source: Source


@dataclass(frozen=True, slots=True)
class Fineness:
    """What share counts of what each sieve lets through and the next finer one holds back.

    Parameters
    ----------
    sieves : tuple of Fraction
        Mesh, coarse to fine.
    """

    id: str
    name: str
    counts: str
    sieves: tuple[Fraction, ...]
    shares: tuple[Fraction, ...]
    printed: str
    source: Source


@dataclass(frozen=True, slots=True)
class Magnesium:
    """Below which magnesium of the soil (ppm) a source asks for dolomitic stone."""

    below: Fraction
    where: str
    printed: str
    source: Source


@dataclass(frozen=True, slots=True)
class LimitWait:
    """How long a source waits between the parts that a limit makes of a dose."""

    limit: str
    wait: Measure
    printed: str
    source: Source


def _number(entry: Mapping[str, Any], key: str) -> Fraction | None:
    return None if key not in entry else read.number(entry[key])


def _line(entry: Mapping[str, Any], key: str) -> str:
    return one_line(entry.get(key))


def _rows(entry: Mapping[str, Any], key: str) -> Rows:
    return tuple(tuple(read.number(cell) for cell in row) for row in entry.get(key, ()))


def _measure(entry: Mapping[str, Any], key: str, dim: Unit) -> Measure | None:
    if key not in entry:
        return None
    return read.positive(entry[key], dim, want="a size", example="15 cm")


def _method(entry: Mapping[str, Any]) -> Method:
    return Method(
        id=entry["id"],
        name=entry["name"],
        lowers=entry["lowers"],
        shape=entry["shape"],
        where=entry["where"],
        region=entry["region"],
        setting=tuple(entry["setting"]),
        crops=tuple(entry.get("crops", ())),
        placement=entry["placement"],
        depth=_measure(entry, "depth", _LENGTH),
        depth_scales=entry.get("depth_scales", False),
        counts=read_liming_value(entry["counts"]),
        counts_taken=_line(entry, "counts_taken"),
        unit=read.quantity(f"1 {entry['unit']}", oz_is="weight"),
        unit_word=entry["unit"],
        rows=entry.get("rows", ""),
        columns=entry.get("columns", ""),
        column=tuple(entry.get("column", ())),
        table=_rows(entry, "table"),
        step_table=_rows(entry, "step_table"),
        bands=tuple(
            Band(
                band["texture"],
                _number(band, "from"),
                read.number(band["up_to"]),
                read.number(band["amount"]),
                _number(band, "once"),
            )
            for band in entry.get("band", ())
        ),
        rules=tuple(
            Rule(
                read.number(rule["target"]),
                read.number(rule["factor"]),
                _number(rule, "above"),
                _number(rule, "flat"),
            )
            for rule in entry.get("rule", ())
        ),
        buffer=entry.get("buffer", ""),
        buffer_top=_number(entry, "buffer_top"),
        buffer_factor=_number(entry, "buffer_factor"),
        acidity_per=entry.get("acidity_per", ""),
        acidity_most=_number(entry, "acidity_most"),
        target=_number(entry, "target"),
        target_most=_number(entry, "target_most"),
        brings_to=entry.get("brings_to", ""),
        ph_in=entry.get("ph_in", "water"),
        step=_number(entry, "step"),
        most_steps=entry.get("most_steps"),
        per_step=tuple(read.number(text) for text in entry.get("per_step", ())),
        factor=_number(entry, "factor"),
        field_factor=_number(entry, "field_factor"),
        before=_measure(entry, "before", TIME),
        again=_measure(entry, "again", TIME),
        printed=_line(entry, "printed"),
        source=source(entry["source"]),
        caveat=_line(entry, "caveat"),
    )  # fmt: skip


@cache
def methods() -> tuple[Method, ...]:
    """Every published way on file."""
    return tuple(_method(entry) for entry in files.entries("liming", "method"))


@cache
def insteads() -> tuple[Instead, ...]:
    """Every salt that may stand in for sulfur."""
    return tuple(
        Instead(
            entry["material"], read.number(entry["factor"]), entry["printed"],
            source(entry["source"]), _line(entry, "caveat"),
        )
        for entry in files.entries("liming", "instead")
    )  # fmt: skip


@cache
def free_lime() -> FreeLime:
    """The condition under which no acidifying is worked out."""
    (entry,) = files.entries("liming", "refuse")
    return FreeLime(read.number(entry["from"]), entry["printed"], source(entry["source"]))


@cache
def fineness() -> tuple[Fineness, ...]:
    """Every count of sieves."""
    return tuple(
        Fineness(
            entry["id"], entry["name"], entry["counts"],
            tuple(read.number(text) for text in entry["sieves"]),
            tuple(read.number(text) for text in entry["shares"]),
            _line(entry, "printed"), source(entry["source"]),
        )
        for entry in files.entries("liming", "fineness")
    )  # fmt: skip


@cache
def magnesium() -> tuple[Magnesium, ...]:
    """When dolomitic stone is asked for."""
    return tuple(
        Magnesium(
            read.number(entry["below"]), entry["where"], entry["printed"], source(entry["source"])
        )
        for entry in files.entries("liming", "magnesium")
    )


@cache
def limit_waits() -> Mapping[str, LimitWait]:
    """How long to wait where a limit splits a dose, by the id of the limit."""
    found: dict[str, LimitWait] = {}
    for entry in files.entries("liming", "wait"):
        wait = _measure(entry, "wait", TIME)
        assert wait is not None
        found[entry["limit"]] = LimitWait(
            entry["limit"], wait, entry["printed"], source(entry["source"])
        )
    return found

"""What a file of ``data/liming`` may contain: ways to read a soil report, sieves, waits."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from dosecalc.catalog.schema import Amount, FileModel, Id, Placement, Region, Setting, Text

Row = Annotated[tuple[Amount, ...], Field(min_length=2)]


class LimingRule(FileModel):
    """One line of an acidity formula: the factor for a target, and what stands below `above`."""

    target: Amount
    factor: Amount  # of the method's unit for each meq
    above: Amount | None = None  # the factor holds above this acidity only
    flat: Amount | None = None  # what is given at or under it


class LimingBand(FileModel):
    """One class of soil pH of one texture: how much it takes, and how much at one time."""

    texture: Text
    from_: Annotated[Amount | None, Field(alias="from")] = None
    up_to: Amount
    amount: Amount
    once: Amount | None = None


class LimingMethodEntry(FileModel):
    """One published way to a need of lime, sulfur or gypsum, and where it holds."""

    id: Id
    name: Text
    lowers: bool  # whether it makes the soil more acid
    shape: Literal["table", "bands", "acidity", "share", "steps", "per-step", "sodium"]
    where: Text
    region: Literal["any", Region]
    setting: tuple[Setting, ...]
    crops: tuple[Id, ...] = ()
    placement: Placement
    depth: Amount | None = None  # none where the source prints none
    depth_scales: bool = False  # whether the source scales its figure with the depth
    counts: Amount  # the quality that the figures are of: "100 % CaCO3", "lime score 100"
    counts_taken: Text | None = None  # where the source does not say the quality
    unit: Amount
    rows: Literal["buffer", "acidity", "ph"] | None = None
    columns: Literal["target", "texture"] | None = None
    column: tuple[Amount, ...] = ()
    table: tuple[Row, ...] = ()
    step_table: tuple[Row, ...] = ()
    band: tuple[LimingBand, ...] = ()
    rule: tuple[LimingRule, ...] = ()
    buffer: Text | None = None
    buffer_top: Amount | None = None
    buffer_factor: Amount | None = None
    acidity_per: Literal["100 g", "100 cm3"] | None = None
    acidity_most: Amount | None = None
    target: Amount | None = None
    target_most: Amount | None = None
    brings_to: Text | None = None  # where the table sets its own target
    ph_in: Literal["water", "KCl", "CaCl2"] = "water"
    step: Amount | None = None
    most_steps: Annotated[int, Field(gt=0)] | None = None
    per_step: tuple[Amount, ...] = ()
    factor: Amount | None = None
    field_factor: Amount | None = None
    before: Amount | None = None  # how long before planting
    again: Amount | None = None  # how long to wait where `once` is exceeded
    printed: Text
    source: Id
    caveat: Text | None = None


class InsteadEntry(FileModel):
    """A salt that does the work of sulfur, and how much of it."""

    material: Id
    factor: Amount
    printed: Text
    source: Id
    caveat: Text | None = None


class RefuseEntry(FileModel):
    """A condition under which no acidifying is worked out."""

    id: Id
    from_: Annotated[Amount, Field(alias="from")]  # the soil pH from which it must be told
    printed: Text
    source: Id


class FinenessEntry(FileModel):
    """What share of what each sieve lets through counts."""

    id: Id
    name: Text
    counts: Literal["ENV"]
    sieves: tuple[Amount, ...]  # mesh, coarse to fine
    shares: tuple[Amount, ...]  # of what stays on the next finer sieve
    printed: Text
    source: Id


class MagnesiumEntry(FileModel):
    """Below which soil magnesium a source asks for dolomitic stone."""

    below: Amount  # ppm
    where: Text
    printed: Text
    source: Id


class LimitWaitEntry(FileModel):
    """How long a source waits between the parts of a dose that a limit splits."""

    limit: Id
    wait: Amount
    printed: Text
    source: Id


class LimingFile(FileModel):
    """``data/liming/<what>.toml``."""

    method: tuple[LimingMethodEntry, ...] = ()
    instead: tuple[InsteadEntry, ...] = ()
    refuse: tuple[RefuseEntry, ...] = ()
    fineness: tuple[FinenessEntry, ...] = ()
    magnesium: tuple[MagnesiumEntry, ...] = ()
    wait: tuple[LimitWaitEntry, ...] = ()

"""From a soil report to a need of lime, sulfur or gypsum: what every published way shares."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.acidity import Soil
from dosecalc.catalog.liming import Band, Method
from dosecalc.catalog.strength import LimingValue
from dosecalc.errors import DoseError, refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure
from dosecalc.units.show import rounded, show, show_unit

_POUND_PER_SQ_FT = (("foot", -2), ("lb", 1))


@dataclass(frozen=True, slots=True)
class Requirement:
    """A need over an area, of a stated quality, and how it came about.

    Parameters
    ----------
    amount : Measure
        A mass over an area.
    counts : LimingValue
        The quality of lime, sulfur or gypsum that the amount is of.
    lines : tuple of Say
        The sums, step by step.
    taken : tuple of Say
        What was not told, or not said by the source, and was taken.
    once : Measure or None
        The most at one time where the method itself says so.
    """

    amount: Measure
    counts: LimingValue
    lines: tuple[Say, ...]
    taken: tuple[Say, ...] = ()
    once: Measure | None = None


def plain(value: Fraction) -> str:
    """A figure of a report or table as text."""
    return rounded(value, 4)[0]


def reading(value: Fraction) -> str:
    """A pH, a buffer reading or an acidity as a report prints it: with at least one decimal."""
    text = plain(value)
    return text if "." in text else f"{text}.0"


def depth_text(depth: Measure) -> str:
    """A depth of soil in centimetres and inches."""
    cm, inches = (rounded(depth.amount_in(((name, 1),)), 2)[0] for name in ("cm", "inch"))
    return f"{cm} cm ({inches} in)"


def wait_text(wait: Measure) -> str:
    """A wait as its source prints it: "6 months"."""
    text, word = plain(wait.value), show_unit(wait.unit).removesuffix("s")
    return f"{text} {word}{'' if wait.value == 1 else 's'}"


def per_area(amount: Measure, method: Method | None = None) -> str:
    """A mass over an area in the unit that the method prints, and in grams per square metre."""
    if method is None:
        small = rounded(amount.amount_in(_POUND_PER_SQ_FT) * 100, 3)[0]
        return f"{show(amount).metric} ({small} lb/100 sq ft)"
    own = f"{plain(amount.amount_in(method.unit.unit) / method.unit.value)} {method.unit_word}"
    metric = show(amount).metric
    return own if metric == own else f"{own} = {metric}"


def check_place(method: Method, region: str | None, setting: str | None) -> None:
    """Refuse a method whose region or setting is not the grower's.

    Parameters
    ----------
    method : Method
    region, setting : str or None
        As told; None where nothing was said.
    """
    if region is not None and method.region not in ("any", region):
        raise refuse("liming-method-region", method=method.id, holds=method.where, region=region)
    if setting is not None and setting not in method.setting:
        raise refuse(
            "liming-method-setting",
            method=method.id,
            settings=" or ".join(method.setting),
            text=setting,
        )


def check_ph(method: Method, soil: Soil) -> Fraction:
    """The pH of the soil, read in the liquid that the method reads it in."""
    if soil.ph is None:
        raise refuse(
            "liming-method-needs", method=method.id, what="the soil's pH", option='--ph "5.6"'
        )
    if soil.ph_in != method.ph_in:
        raise refuse(
            "liming-method-liquid", method=method.id, want=method.ph_in, text=reading(soil.ph),
            liquid=soil.ph_in,
        )  # fmt: skip
    return soil.ph


def check_target(method: Method, soil: Soil) -> Fraction | None:
    """The target pH, one that the method has; None where the method sets its own."""
    if method.brings_to:
        if soil.target_ph is not None:
            raise refuse("liming-method-own-target", method=method.id, brings_to=method.brings_to)
        return None
    known = method.targets
    target = soil.target_ph
    if target is None and len(known) == 1:
        return known[0]
    if target is None:
        named = f"one of pH {_or(known)}" if known else "the target pH"
        raise refuse(
            "liming-method-needs", method=method.id, what=named, option='--target-ph "6.4"'
        )
    if known and target not in known:
        raise refuse(
            "liming-method-target", method=method.id, known=_or(known), text=reading(target)
        )
    if method.target_most is not None and target > method.target_most:
        raise refuse(
            "liming-method-target-most", method=method.id, most=reading(method.target_most),
            text=reading(target),
        )  # fmt: skip
    return target


def check_way(method: Method, ph: Fraction, target: Fraction | None) -> None:
    """Refuse to move a pH that is there already."""
    if target is None:
        return
    if (ph <= target) if method.lowers else (ph >= target):
        key = "liming-none-to-lower" if method.lowers else "liming-none-to-raise"
        raise refuse(key, text=reading(ph), target=reading(target))


def check_depth(method: Method, depth: Measure | None) -> Measure | None:
    """The depth that it is worked in: the method's own, unless its source scales with the depth."""
    if depth is None or method.depth_scales:
        return method.depth if depth is None else depth
    if method.depth is None:
        raise refuse("liming-method-no-depth", method=method.id)
    if depth.amount_in(method.depth.unit) != method.depth.value:
        raise refuse(
            "liming-method-depth", method=method.id, depth=depth_text(method.depth),
            text=depth_text(depth),
        )  # fmt: skip
    return depth


def column_of(method: Method, soil: Soil, target: Fraction | None) -> int:
    """Which column of a table: by target, or by texture."""
    if method.columns == "target":
        return method.targets.index(target) if target is not None else 0
    known = " or ".join(method.column)
    if soil.texture is None:
        raise refuse("liming-method-needs", method=method.id, what=f"the texture ({known})",
                     option='--texture "loam"')  # fmt: skip
    if soil.texture not in method.column:
        raise refuse("liming-method-texture", method=method.id, known=known, text=soil.texture)
    return method.column.index(soil.texture)


def from_table(method: Method, at: Fraction, what: str, column: int) -> Requirement:
    """The figure of a table; between two rows the one that asks less, since none is taken back.

    Raises
    ------
    DoseError
        Outside the rows of the table, or where it asks for none.
    """
    rows = {row[0]: row[1 + column] for row in method.table}
    low, high = min(rows), max(rows)
    if not low <= at <= high:
        raise outside(method, what, at, low, high)
    key, row = "liming-need-row", at
    if at not in rows:
        beside = (max(x for x in rows if x < at), min(x for x in rows if x > at))
        row, key = min(beside, key=lambda x: rows[x]), "liming-need-row-between"
    heading = method.column[column]
    head = f"pH {heading}" if method.columns == "target" else heading
    amount = figure(method, rows[row])
    line = Say.of(
        key,
        what=what,
        at=reading(at),
        row=reading(row),
        column=head,
        amount=per_area(amount, method),
    )
    return needed(method, amount, (line,))


def figure(method: Method, value: Fraction) -> Measure:
    """So many of the method's unit."""
    return method.unit * value


def needed(
    method: Method, amount: Measure, lines: tuple[Say, ...], once: Measure | None = None
) -> Requirement:
    """A requirement of the method's quality; refuses one of nothing."""
    if amount.value <= 0:
        raise refuse("liming-none-asked", method=method.id)
    taken = (Say.of("liming-taken-counts", why=method.counts_taken),) if method.counts_taken else ()
    return Requirement(amount, method.counts, lines, taken, once)


def outside(method: Method, what: str, at: Fraction, low: Fraction, high: Fraction) -> DoseError:
    """The refusal of a figure that the method's table does not reach."""
    return refuse(
        "liming-method-outside", method=method.id, what=what, text=reading(at), low=reading(low),
        high=reading(high),
    )  # fmt: skip


def from_bands(method: Method, ph: Fraction, texture: str) -> Requirement:
    """The class of a soil pH of one texture."""
    bands = [band for band in method.bands if band.texture == texture]
    first, last = bands[0], bands[-1]
    if ph > last.up_to or (first.since is not None and ph < first.since):
        since = Fraction(3) if first.since is None else first.since
        raise outside(method, f"pH of {texture} soil", ph, since, last.up_to)
    band: Band = next(band for band in bands if ph <= band.up_to)
    amount = figure(method, band.amount)
    line = Say.of(
        "liming-need-band",
        ph=reading(ph),
        texture=texture,
        up_to=reading(band.up_to),
        amount=per_area(amount, method),
    )
    return needed(method, amount, (line,), None if band.once is None else figure(method, band.once))


def _or(values: Sequence[Fraction]) -> str:
    return ", ".join(reading(value) for value in values)

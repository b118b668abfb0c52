"""How much sulfur (or a salt in its place) lowers the pH of a soil, by one published way."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.catalog.acidity import Soil
from dosecalc.catalog.liming import FreeLime, Method
from dosecalc.dose.amend import (
    Requirement,
    check_depth,
    check_ph,
    check_target,
    check_way,
    column_of,
    figure,
    from_bands,
    from_table,
    needed,
    per_area,
    plain,
    reading,
)
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure


def check_free_lime(soil: Soil, rule: FreeLime) -> None:
    """Refuse a soil that holds free lime, and one of so high a pH that it has to be looked for.

    Raises
    ------
    DoseError
        Where the soil fizzes with vinegar, or where that must be told and was not.
    """
    if soil.fizzes:
        raise refuse("liming-acid-fizzes", source=rule.source.cite())
    if soil.fizzes is None and soil.ph is not None and soil.ph >= rule.since:
        raise refuse("liming-acid-fizz-untold", text=reading(soil.ph), source=rule.source.cite())


def acid_need(method: Method, soil: Soil, depth: Measure | None = None) -> Requirement:
    """The need of sulfur (or of the salt that the method counts), over an area.

    Parameters
    ----------
    method : Method
        One that lowers the pH.
    soil : Soil
    depth : Measure or None
        How deep it is worked in, as told.

    Raises
    ------
    DoseError
        Outside the method's range, or where something that it needs was not told.
    """
    ph = check_ph(method, soil)
    column = column_of(method, soil, None)
    if method.shape == "steps":
        check_depth(method, depth)
        return _by_steps(method, ph, soil.target_ph, column)
    target = check_target(method, soil)
    check_way(method, ph, target)
    check_depth(method, depth)
    if method.shape == "bands":
        return from_bands(method, ph, method.column[column])
    if method.shape == "table":
        return from_table(method, ph, "pH", column)
    assert method.shape == "per-step"
    assert target is not None
    return _by_each(method, ph, target, column)


def _by_steps(method: Method, ph: Fraction, target: Fraction | None, column: int) -> Requirement:
    """Whole steps of a table, one after the other; a part of a step is not in its source."""
    starts = {row[0]: row for row in method.step_table}
    known = ", ".join(f"{reading(row[0])} to {reading(row[1])}" for row in method.step_table)
    if target is None:
        raise refuse(
            "liming-method-needs",
            method=method.id,
            what="the target pH",
            option='--target-ph "6.0"',
        )
    check_way(method, ph, target)
    total, at, lines = Fraction(0), ph, []
    while at != target:
        row = starts.get(at)
        if row is None:
            raise refuse(
                "liming-method-steps",
                method=method.id,
                known=known,
                text=reading(ph),
                target=reading(target),
            )
        total += row[2 + column]
        lines.append(
            Say.of(
                "liming-need-step", since=reading(row[0]), to=reading(row[1]),
                texture=method.column[column],
                amount=per_area(figure(method, row[2 + column]), method),
            )
        )  # fmt: skip
        at = row[1]
    return needed(method, figure(method, total), tuple(lines))


def _by_each(method: Method, ph: Fraction, target: Fraction, column: int) -> Requirement:
    """So much for each step of pH; a part of a step is left off where whole steps are printed."""
    step = method.step
    assert step is not None
    exact = (ph - target) / step
    count = exact // 1
    if method.most_steps is not None and (exact != count or count > method.most_steps):
        raise refuse(
            "liming-method-one-step", method=method.id, most=plain(method.most_steps * step),
            text=reading(ph), target=reading(target),
        )  # fmt: skip
    each = figure(method, method.per_step[column])
    amount = each * count
    line = Say.of(
        "liming-need-each", count=int(count), step=plain(step), target=reading(target),
        each=per_area(each, method), amount=per_area(amount, method),
    )  # fmt: skip
    return needed(method, amount, (line,))

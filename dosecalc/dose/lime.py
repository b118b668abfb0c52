"""How much lime raises the pH of a soil, by one published way that was named."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.acidity import Soil
from dosecalc.catalog.liming import Method
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
    outside,
    per_area,
    plain,
    reading,
)
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure


def lime_need(
    method: Method, soil: Soil, depth: Measure | None = None, credit: Measure | None = None
) -> Requirement:
    """The need of lime of the method's quality, over an area.

    Parameters
    ----------
    method : Method
        One that raises the pH.
    soil : Soil
    depth : Measure or None
        How deep it is worked in, as told.
    credit : Measure or None
        What the report credits to an earlier liming, a mass over an area.

    Raises
    ------
    DoseError
        Outside the method's range, or where something that it needs was not told.

    Examples
    --------
    North Carolina prints pH 5.0 to 6.0 at an acidity of 1.2: a factor of 0.625.
    """
    ph = check_ph(method, soil)
    target = check_target(method, soil)
    check_way(method, ph, target)
    depth = check_depth(method, depth)
    if credit is not None and method.shape != "share":
        raise refuse("liming-method-no-credit", method=method.id)
    if method.shape == "bands":
        column = column_of(method, soil, target)
        return from_bands(method, ph, method.column[column])
    if method.shape == "table":
        column = column_of(method, soil, target)
        return from_table(method, *_row(method, soil, ph), column)
    assert target is not None
    acidity = _acidity(method, soil)
    if method.shape == "acidity":
        return _by_rule(method, acidity, target)
    assert method.shape == "share"
    return _by_share(method, acidity, ph, target, credit)


def _row(method: Method, soil: Soil, ph: Fraction) -> tuple[Fraction, str]:
    """Where in the rows, and what the rows are."""
    if method.rows == "ph":
        return ph, "pH"
    if method.rows == "acidity":
        return _acidity(method, soil), f"acidity (meq/{method.acidity_per})"
    return _buffer(method, soil), f"{method.buffer} buffer"


def _buffer(method: Method, soil: Soil) -> Fraction:
    if soil.buffer is None:
        raise refuse(
            "liming-method-needs", method=method.id, what=f"the {method.buffer} buffer reading",
            option=f'--buffer "{method.buffer} 6.0"',
        )  # fmt: skip
    name, value = soil.buffer
    if name != method.buffer:
        raise refuse("liming-method-buffer", method=method.id, want=method.buffer, text=name)
    return value


def _acidity(method: Method, soil: Soil) -> Fraction:
    """Acidity in the method's own meq, read or worked out of its buffer reading."""
    if soil.acidity is not None and soil.buffer is not None:
        raise refuse("liming-method-both", method=method.id)
    if soil.acidity is not None:
        if soil.acidity.per != method.acidity_per:
            raise refuse(
                "liming-method-acidity-per", method=method.id, want=method.acidity_per,
                text=soil.acidity.per,
            )  # fmt: skip
        return soil.acidity.value
    if method.buffer_top is None or method.buffer_factor is None:
        raise refuse(
            "liming-method-needs", method=method.id, what="the acidity of the report",
            option=f'--acidity "6.0 meq/{method.acidity_per}"',
        )  # fmt: skip
    value = _buffer(method, soil)
    if value >= method.buffer_top:
        raise refuse(
            "liming-method-buffer-top",
            method=method.id,
            text=reading(value),
            most=reading(method.buffer_top),
        )
    return (method.buffer_top - value) * method.buffer_factor


def _by_rule(method: Method, acidity: Fraction, target: Fraction) -> Requirement:
    """Exchangeable acidity times a factor, or a flat dressing where it is small."""
    if acidity <= 0 or (method.acidity_most is not None and acidity > method.acidity_most):
        most = method.acidity_most or acidity
        raise outside(method, "acidity (meq/100 g)", acidity, Fraction(0), most)
    rule = next(rule for rule in method.rules if rule.target == target)
    at = reading(acidity)
    if rule.above is not None and rule.flat is not None and acidity <= rule.above:
        amount = figure(method, rule.flat)
        line = Say.of(
            "liming-need-flat",
            acidity=at,
            above=reading(rule.above),
            amount=per_area(amount, method),
        )
        return needed(method, amount, (line,))
    amount = figure(method, acidity * rule.factor)
    line = Say.of(
        "liming-need-acidity",
        acidity=at,
        factor=plain(rule.factor),
        amount=per_area(amount, method),
    )
    return needed(method, amount, (line,))


def _by_share(
    method: Method, acidity: Fraction, ph: Fraction, target: Fraction, credit: Measure | None
) -> Requirement:
    """The share of the acidity that lies between the soil's pH and the target."""
    top = method.buffer_top
    assert top is not None
    share = (target - ph) / (top - ph)
    amount = figure(method, acidity * share)
    lines = [
        Say.of(
            "liming-need-share", acidity=reading(acidity), ph=reading(ph), target=reading(target),
            top=reading(top), share=plain(share), amount=per_area(amount, method),
        )
    ]  # fmt: skip
    if credit is None:
        found = needed(method, amount, tuple(lines))
        return replace(found, taken=(*found.taken, Say.of("liming-taken-no-credit")))
    amount = amount - credit
    lines.append(
        Say.of(
            "liming-need-credit", credit=per_area(credit, method), amount=per_area(amount, method)
        )
    )
    return needed(method, amount, tuple(lines))

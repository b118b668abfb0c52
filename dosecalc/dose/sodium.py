"""How much gypsum displaces the sodium of a sodic soil, by one published way."""

from __future__ import annotations

from dosecalc.catalog.acidity import Soil
from dosecalc.catalog.liming import Method
from dosecalc.dose.amend import (
    Requirement,
    check_depth,
    depth_text,
    figure,
    needed,
    per_area,
    plain,
)
from dosecalc.errors import refuse
from dosecalc.say import Say
from dosecalc.units.measure import Measure


def sodium_need(method: Method, soil: Soil, depth: Measure | None = None) -> Requirement:
    """The need of gypsum over an area.

    Parameters
    ----------
    method : Method
    soil : Soil
        Its exchangeable sodium (now and aimed at, percent) and exchange capacity per 100 g.
    depth : Measure or None
        How deep the sodium is to be displaced.

    Raises
    ------
    DoseError
        Where something was not told, or the sodium lies at or under the target.

    Examples
    --------
    A textbook prints, for 35 % down to 15 % at 22 meq/100 g and 40 cm, 22.58 t/ha, and with its
    1.25 for the field 28.23.
    """
    for told, what, option in (
        (soil.sodium, "the exchangeable sodium now", '--sodium "35 %"'),
        (soil.target_sodium, "the exchangeable sodium aimed at", '--target-sodium "15 %"'),
        (soil.cec, "the exchange capacity", '--cec "22 meq/100 g"'),
    ):
        if told is None:
            raise refuse("liming-method-needs", method=method.id, what=what, option=option)
    assert soil.sodium is not None
    assert soil.target_sodium is not None
    assert soil.cec is not None
    if soil.cec.per != "100 g":
        raise refuse("liming-method-acidity-per", method=method.id, want="100 g", text=soil.cec.per)
    if soil.sodium <= soil.target_sodium:
        raise refuse(
            "liming-none-sodium", text=plain(soil.sodium), target=plain(soil.target_sodium)
        )
    reach = check_depth(method, depth)
    assert reach is not None
    assert method.depth is not None
    assert method.factor is not None
    assert method.field_factor is not None
    charge = soil.cec.value * (soil.sodium - soil.target_sodium) / 100
    share = reach.amount_in(method.depth.unit) / method.depth.value
    pure = figure(method, method.factor * charge * share)
    amount = pure * method.field_factor
    lines = (
        Say.of(
            "liming-need-sodium", cec=plain(soil.cec.value), sodium=plain(soil.sodium),
            target=plain(soil.target_sodium), charge=plain(charge),
        ),
        Say.of(
            "liming-need-gypsum", factor=plain(method.factor), depth=depth_text(reach),
            own=depth_text(method.depth), amount=per_area(pure, method),
        ),
        Say.of(
            "liming-need-field", factor=plain(method.field_factor), amount=per_area(amount, method)
        ),
    )  # fmt: skip
    return needed(method, amount, lines)

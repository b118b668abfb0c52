"""Depths, rates and spans of a layer as text, in metric and US units."""

from __future__ import annotations

from fractions import Fraction

from dosecalc.catalog.availability import Share
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, GRAM_PER_M2, KG_PER_HA, LENGTH, Measure
from dosecalc.units.show import metric_unit, number_text, rounded, show, show_span
from dosecalc.units.spread import Span

_FOOT: Unit = (("foot", 1),)
_LB_PER_SQ_FT: Unit = (("foot", -2), ("lb", 1))
_KG_PER_M2: Unit = (("kg", 1), ("meter", -2))
_LITER_PER_M2: Unit = (("liter", 1), ("meter", -2))
_LB_PER_ACRE: Unit = (("acre", -1), ("lb", 1))


def depth_text(depth: Measure) -> str:
    """Such as "5 cm (1.97 in)"."""
    return show(depth).both()


def area_text(area: Measure) -> str:
    """Such as "7.5 m2 (80.7 sq ft)"."""
    return show(area).both()


def volume_text(volume: Measure) -> str:
    """Such as "375 L (13.2 cu ft)"."""
    return show(volume, loose=True).both()


def weight_text(weight: Measure | Span) -> str:
    """Such as "32.5 kg (23.7 to 50)", with its spread where there is one."""
    if isinstance(weight, Measure):
        return show(weight).both()
    likely = Measure(weight.likely, weight.unit).to(GRAM)
    return show_span(weight.to(GRAM), unit=metric_unit(likely))


def rate_text(rate: Measure) -> str:
    """A volume or a weight over an area, per square metre and per 100 square feet."""
    if rate.is_a(LENGTH):
        us, _ = rounded(rate.amount_in(_FOOT) * 100)
        return f"{number_text(rate, _LITER_PER_M2)} ({us} cu ft/100 sq ft)"
    us, _ = rounded(rate.amount_in(_LB_PER_SQ_FT) * 100)
    heavy = rate.amount_in(_KG_PER_M2) >= 1
    return f"{number_text(rate, _KG_PER_M2 if heavy else GRAM_PER_M2)} ({us} lb/100 sq ft)"


def plain_volume(volume: Measure) -> str:
    """Such as "50 L": for what is measured often, one system is enough."""
    return show(volume, loose=True).metric


def nutrient_text(found: Span, *, likely: bool = False) -> str:
    """A nutrient per hectare with its spread, and per acre; only "132 kg/ha" where `likely`."""
    middle = Measure(found.likely, found.unit)
    if likely:
        return number_text(middle, KG_PER_HA)
    return f"{show_span(found.to(KG_PER_HA), unit=KG_PER_HA)} ({number_text(middle, _LB_PER_ACRE)})"


def share_text(share: Share) -> str:
    """A published share, such as "10 % (5 to 15)"."""
    return percent_text(share.likely, share.low, share.high)


def percent_text(
    likely: Fraction, low: Fraction | None = None, high: Fraction | None = None
) -> str:
    """A share in percent, with its ends where they differ."""
    text, _ = rounded(likely * 100)
    if low is None or high is None or low == high:
        return f"{text} %"
    below, _ = rounded(low * 100, direction="down")
    above, _ = rounded(high * 100, direction="up")
    return f"{text} % ({below} to {above})"

"""How an answer is held against a printed one: half of its last digit, or as its source rounds."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

Case = Mapping[str, Any]


def last_digit(printed: str) -> Fraction:
    """One unit of the last digit printed: 1/100 for "7.39"."""
    return Fraction(1, 10 ** len(printed.partition(".")[2]))


def within_print(case: Case, answer: Fraction) -> bool:
    """Whether the print is this answer, rounded as its source rounds, to the step that it names."""
    printed = Fraction(case["printed"])
    unit = Fraction(case["step"]) if "step" in case else last_digit(case["printed"])
    rounding = case.get("rounding", "nearest")
    if rounding == "down":
        return printed <= answer < printed + unit
    if rounding == "up":
        return printed - unit < answer <= printed
    assert rounding == "nearest"
    return abs(answer - printed) <= unit / 2


def stated_miss(case: Case) -> Fraction:
    number, unit = case["tolerance"].split()
    assert unit == "%"
    return Fraction(number) / 100


def names(value: Any) -> str:
    return value["id"] if isinstance(value, dict) else str(value)


def held(case: Case, answer: Fraction, close: Fraction = Fraction(1, 10**9)) -> None:
    """Hold an answer against the one that was worked out apart, to `close`, and against the print.

    Where the case says that the print is wrong, it must really not be our answer. Where it states
    by how much its source misses, it does miss, and by no more.
    """
    exact = Fraction(case["exact"])
    assert abs(answer - exact) <= exact * close
    if "tolerance" in case and "disagree" not in case:
        assert not within_print(case, answer)
        assert abs(answer - Fraction(case["printed"])) <= stated_miss(case) * answer
    else:
        assert within_print(case, answer) is ("disagree" not in case)

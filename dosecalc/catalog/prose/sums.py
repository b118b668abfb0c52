"""Sums that a text states, worked out again: what comes out otherwise is said."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.prose.brings import wrong_holdings
from dosecalc.catalog.prose.figures import AMOUNTS, Figures, Item, figures
from dosecalc.catalog.prose.rows import wrong_coverages, wrong_rows
from dosecalc.catalog.prose.senses import (
    Sense,
    amount,
    as_printed,
    difference,
    distance,
    half,
    named,
    number,
    senses,
)
from dosecalc.say import Say
from dosecalc.units import engine
from dosecalc.units.measure import Measure
from dosecalc.units.show import rounded, show_unit
from dosecalc.units.words import VARYING, System

DIGITS = 5
"""So many digits tell 768 from 769 and 43,560 from 43,561."""

_DEEPEST = 8
"""Brackets within brackets; a sum in a recipe has two at most."""

_LOW, _HIGH = False, True


def wrong_sums(text: str, system: System | None) -> tuple[Say, ...]:
    """Every sum of a tidy text that does not come out as printed.

    Parameters
    ----------
    text : str
        Tidy: "1 gallon = 769 teaspoons", "one acre is 4,840 square feet".
    system : {"us", "imperial", "metric", "australian"} or None
        Whose gallon, cup and spoon the text speaks; where it is not told, a sum that is right in
        one system is right.

    Returns
    -------
    tuple of Say
        What was read, what comes out, how far the text is off. Empty where nothing is sure to be
        a sum, or each is right within its rounding (`senses.as_printed`).
    """
    found = figures(text)
    taken = tuple(dict.fromkeys((*senses(system), *named(found))))
    said = [
        *_equations(found, taken),
        *wrong_rows(found, taken),
        *wrong_coverages(found, taken),
        *wrong_holdings(found, taken),
    ]
    return tuple(dict.fromkeys(said))


# Equations: "a = b", "one a is b", "a x b = c".

_ONE = f"{AMOUNTS}n%"
_SUM = frozenset(f"{_ONE}()x/+P")
_BEFORE = frozenset("wTAuUiXYWeS")
"""What may stand before a sum in its clause; a number, or "of", may belong to it."""

_SAYS = frozenset({
    "say", "says", "said", "list", "lists", "state", "states", "note", "notes", "that", "so",
    "then", "if", "because", "since", "where", "while", "when", "thus", "hence", "remember",
    "print", "prints", "formula", "example",
})  # fmt: skip
"""Words behind which a new clause begins."""

_ENDS = frozenset(".;:,()-CR")
_ENDING = frozenset({"so", "which", "while", "when", "because", "if", "whereas", "though", "not"})
"""What follows an amount that a word like "is" ends with."""

_LITTLE = 2
"""A gallon that "makes" four is a dilution: such words state a sum only where they nearly do."""

_AS_NEAR = Fraction(5, 4)
"""Of senses that come about as near, the first is shown: a US cup before an Australian one."""

_DRY = frozenset({"bushel_us", "peck_us"})
_LIQUID = frozenset({"gal_us", "qt_us", "pt_us", "cup_us"})


class _NoSumError(Exception):
    """The items are no sum that can be worked out."""


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of an equation: its items, and where they stand."""

    start: int
    end: int
    items: tuple[Item, ...]

    @property
    def single(self) -> bool:
        """Whether it is one amount or one rate."""
        return len(self.items) == 1 or (len(self.items) == 3 and self.items[1].kind == "P")

    @property
    def ranged(self) -> bool:
        return any(item.to is not None for item in self.items)


@dataclass(frozen=True, slots=True)
class _Off:
    """An equation as it comes out in one sense; `whole` where no bare number hides a unit."""

    printed: Fraction
    right: Fraction
    left: str
    shown: str
    whole: bool = False


def _equations(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    for at, joiner in enumerate(found.items):
        if joiner.kind not in "=ihgR":
            continue
        right = _right(found, at + 1)
        left = _left(found, at)
        if left is None or right is None or not _joins(found, joiner, right):
            continue
        yield from _judged(found, joiner, left, right, taken)
    for pattern in _BOXES:
        for match in pattern.finditer(found.letters):
            box, area = _side(found, *match.span("box")), _side(found, *match.span("area"))
            yield from _judged(found, None, box, area, taken, found.said(match))


_BOXES = (
    re.compile(r"(?P<area>s)\([wfI]{0,2}[:,]?(?P<box>[ln]xl)\)"),
    re.compile(r"(?P<box>[ln]xl)\(=?(?P<area>s)\)"),
)
"""Such as "a plot of 1/128 acre (example: 18.5 ft x 18.5 ft)", "4 x 8 ft (32 sq ft)"."""


def _side(found: Figures, start: int, end: int) -> _Side:
    return _Side(start, end, found.items[start:end])


def _left(found: Figures, joiner: int) -> _Side | None:
    """The sum that ends before a joiner; None where its beginning is not sure."""
    end = joiner - (found.items[joiner].kind in "iR" and found.letters[joiner - 1 : joiner] == ",")
    letters = found.letters
    start, open_ = end, 0
    while start > 0 and (kind := letters[start - 1]) in _SUM:
        open_ += (kind == ")") - (kind == "(")
        if open_ < 0:
            break
        start -= 1
    if start == end or letters[start] not in f"{_ONE}(" or letters[end - 1] not in f"{_ONE})":
        return None
    for item in reversed(found.items[:start]):
        if item.kind in ".;:,(=CR-" or item.text in _SAYS:
            break
        if item.kind not in _BEFORE:
            return None
    return _side(found, start, end)


def _right(found: Figures, start: int) -> _Side | None:
    """One amount, rate or number; a further sum there is left alone."""
    letters = found.letters
    if letters[start : start + 1] not in tuple(_ONE):
        return None
    end = start + 1
    if letters[end : end + 1] == "P" and letters[end + 1 : end + 2] in (*AMOUNTS, "c"):
        end += 2
    if letters[end : end + 1] in ("x", "/", "+", "P"):
        return None
    return _side(found, start, end)


def _joins(found: Figures, joiner: Item, right: _Side) -> bool:
    """Whether a word between two amounts says that they are the same."""
    if joiner.kind == "=":
        return True
    if joiner.kind == "R" and not right.items[0].about:
        return False
    after = found.items[right.end] if right.end < len(found.items) else None
    return after is None or after.kind in _ENDS or after.text in _ENDING


def _judged(
    found: Figures, joiner: Item | None, left: _Side, right: _Side, taken: tuple[Sense, ...],
    said: str | None = None,
) -> Iterator[Say]:  # fmt: skip
    if left.ranged != right.ranged:
        return
    if left.single and right.single and number(right.items[0].text) == 1 and not right.ranged:
        left, right = right, left  # "768 teaspoons = 1 gallon" prints the teaspoons
    ends = (_LOW, _HIGH) if left.ranged else (_LOW,)
    offs = [_off(found, left, right, taken, upper) for upper in ends]
    wrong = [off for off in offs if off is not None]
    if not wrong:
        return
    off = max(wrong, key=lambda one: distance(one.printed, one.right))
    word = "=" if joiner is None else joiner.kind
    if word in "hgR" and (not left.single or distance(off.printed, off.right) > _LITTLE):
        return
    first, last = min(left.start, right.start), max(left.end, right.end)
    yield Say.of(
        "sum-is" if left.single else "sum-comes", text=said or found.quote(first, last),
        left=off.left, right=off.shown, off=difference(off.printed, off.right),
    )  # fmt: skip


def _off(
    found: Figures, left: _Side, right: _Side, taken: tuple[Sense, ...], upper: bool
) -> _Off | None:
    """How an equation is off, None where one sense makes it right."""
    first = right.items[0]
    printed = first.to if upper and first.to is not None else first.text
    worked_from = left.items[0].text if left.single else "1"
    if not number(printed) or not number(worked_from):
        return None
    slack = half(worked_from) / number(worked_from)
    offs = [off for sense in taken for off in _in_sense(found, left, right, sense, upper)]
    if any(_right_as(first, printed, off.right, slack) for off in offs):
        return None
    if _doubtful(found, (*left.items, *right.items)):
        return None
    if not left.single and not any(off.whole for off in offs):
        plain = _plain(found, left, right, upper)
        if plain is None or any(
            _right_as(first, printed, plain.right * times, slack) for times in _times(left, first)
        ):
            return None
        offs = offs or [plain]
    if not offs:
        return None
    nearest = min(distance(off.printed, off.right) for off in offs)
    return next(off for off in offs if distance(off.printed, off.right) <= nearest * _AS_NEAR)


def _doubtful(found: Figures, items: tuple[Item, ...]) -> bool:
    """An ounce of a stuff, which may be a weight; a quart of a bushel, which is a dry quart."""
    kinds = {item.kind for item in items}
    units = {VARYING.get(item.unit.rpartition(" ")[2], {}).get("us") for item in items}
    if {"z", "v"} <= kinds and set(found.letters) & set("XYk"):
        return True
    return bool(units & _DRY) and bool(units & _LIQUID)


def _right_as(first: Item, printed: str, right: Fraction, slack: Fraction) -> bool:
    """Whether a figure is printed as it comes out, within the rounding of what it came from."""
    low, high = right * (1 - slack), right * (1 + slack)
    if low <= number(printed) <= high:
        return True
    return any(as_printed(printed, one, about=first.about) for one in (low, right, high))


def _times(left: _Side, first: Item) -> tuple[Fraction, ...]:
    """What bare numbers leave out: a share for a percentage, a thousand for g and mg."""
    if first.kind == "%":
        return Fraction(1), Fraction(1, 100), Fraction(100)
    if first.unit and not any(item.unit for item in left.items):
        return tuple(Fraction(1000) ** power for power in (0, 1, -1, 2, -2))
    return (Fraction(1),)


def _in_sense(
    found: Figures, left: _Side, right: _Side, sense: Sense, upper: bool
) -> Iterator[_Off]:
    """The equation by its units: as it stands, and with "4 x 8 ft" as two lengths."""
    first = right.items[0]

    def leaf(item: Item) -> Measure | None:
        if item.kind in "n%":
            return Measure(_figure(item, upper), ())
        return amount(item, sense, upper=upper)

    made = _worked(right.items, leaf)
    if made is None or not made.unit or made.value <= 0:
        return
    for items in dict.fromkeys((_shared(left.items), left.items)):
        value = _worked(items, leaf)
        if value is None or value.value <= 0 or not _comparable(value, made):
            continue
        alike = value.unit == made.unit and items[0].more is None
        if alike and len(items) == len(right.items) == 1:
            continue  # "1 gallon = 4 gallons" is no sum
        printed = _figure(first, upper)
        due = printed * value.amount_in(made.unit) / made.value
        text = found.quote(left.start, left.end)
        if len(items) == 1 and items[0].more is None:
            text = f"{items[0].to if upper else items[0].text} {show_unit(value.unit)}"
        shown = f"{rounded(due, DIGITS)[0]} {_unit_words(found, right, made)}"
        whole = not {"n", "%"} & {item.kind for item in items}
        yield _Off(printed, due, text, shown, whole)


def _unit_words(found: Figures, side: _Side, made: Measure) -> str:
    """The unit of a side, with its country where it has one."""
    if len(side.items) == 1 and side.items[0].more is None:
        return show_unit(made.unit)
    words = found.text[side.items[0].start : side.items[-1].end]
    return words[words.index(side.items[0].unit) :]


def _comparable(one: Measure, other: Measure) -> bool:
    return engine.dimension(one.unit) == engine.dimension(other.unit)


def _shared(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Such as "4 x 8 ft": the length's unit is that of the number before it too."""
    made = list(items)
    for at in range(len(made) - 3, -1, -1):
        one, sign, other = made[at : at + 3]
        if one.kind == "n" and sign.kind == "x" and other.kind == "l":
            made[at] = Item("l", one.start, one.end, one.text, unit=other.unit)
        elif one.kind == "l" and sign.kind == "x" and other.kind == "n":
            made[at + 2] = Item("l", other.start, other.end, other.text, unit=one.unit)
    return tuple(made)


def _plain(found: Figures, left: _Side, right: _Side, upper: bool) -> _Off | None:
    """A sum by its numbers alone, as people work it out who leave the units to the reader."""
    items: list[Item] = []
    for item in left.items:
        if items and items[-1].kind == "P":
            items.pop()
        else:
            items.append(item)
    value = _worked(tuple(items), lambda item: Measure(_figure(item, upper), ()))
    if value is None or value.value <= 0:
        return None
    first = right.items[0]
    printed = number(first.to if upper and first.to is not None else first.text)
    dues = (value.value, value.value * 100) if first.kind == "%" else (value.value,)
    due = min(dues, key=lambda one: distance(printed, one))
    shown = rounded(due, DIGITS)[0] + (" %" if first.kind == "%" else "")
    return _Off(printed, due, found.quote(left.start, left.end), shown)


def _figure(item: Item, upper: bool) -> Fraction:
    value = number(item.to if upper and item.to is not None else item.text)
    return value / 100 if item.kind == "%" else value


def _worked(items: tuple[Item, ...], leaf: Callable[[Item], Measure | None]) -> Measure | None:
    """What a side comes to, None where it is no whole sum."""
    try:
        return _Sum(items, leaf).whole()
    except (_NoSumError, ValueError, ZeroDivisionError):
        return None


class _Sum:
    """A reader of sums: products and quotients before additions, brackets, "a per b" as one."""

    def __init__(self, items: tuple[Item, ...], leaf: Callable[[Item], Measure | None]) -> None:
        self.items = items
        self.leaf = leaf
        self.at = 0

    def kind(self) -> str:
        return self.items[self.at].kind if self.at < len(self.items) else ""

    def whole(self) -> Measure:
        value = self.added(0)
        if self.kind():
            raise _NoSumError
        return value

    def added(self, depth: int) -> Measure:
        value = self.product(depth)
        while self.kind() == "+":
            self.at += 1
            value = value + self.product(depth)
        return value

    def product(self, depth: int) -> Measure:
        value = self.factor(depth)
        while (kind := self.kind()) in ("x", "/"):
            self.at += 1
            other = self.factor(depth)
            value = value * other if kind == "x" else value / other
        return value

    def factor(self, depth: int) -> Measure:
        if self.kind() != "(":
            value = self.one()
            while self.kind() == "P":
                self.at += 1
                value = value / self.one()
            return value
        if depth == _DEEPEST:
            raise _NoSumError
        self.at += 1
        value = self.added(depth + 1)
        if self.kind() != ")":
            raise _NoSumError
        self.at += 1
        return value

    def one(self) -> Measure:
        kind = self.kind()
        if not kind or kind not in _ONE:
            raise _NoSumError
        item = self.items[self.at]
        self.at += 1
        value = self.leaf(item)
        if value is None:
            raise _NoSumError
        return value

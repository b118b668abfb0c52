"""What an amount of a feed brings, held against the amount of the nutrient that a text states."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.formula import element_of
from dosecalc.catalog.prose.figures import Figures, Item
from dosecalc.catalog.prose.senses import Sense, amount, as_printed, difference, distance, number
from dosecalc.errors import DoseError
from dosecalc.say import Say
from dosecalc.units.measure import MASS, Measure
from dosecalc.units.show import number_text

_DIGITS = 4
_PLACE = "(?:P[slvc])?"
_FEED = "(?P<feed>k|%e)w{0,2}"
_NUTRIENT = "U?(?P<nutrient>e)"
_HELD = re.compile(
    rf"(?P<a>[mz])(?P<aper>{_PLACE})w{{0,2}}[OF]?T?{_FEED}(?P<alate>{_PLACE})"
    rf"(?:,?[ihg=]|:)(?P<b>[mz])w?O?{_NUTRIENT}(?P<bper>{_PLACE})"
)
"""Such as "a 50-pound bag of 10-10-10 has 5 pounds of N": the nutrient is worked out."""
_NEEDED = (
    re.compile(
        rf"(?P<b>[mz])O?{_NUTRIENT}(?P<bper>{_PLACE})[FO=]T?{_FEED}"
        rf"(?:[:=]|,?[iuI]{{1,2}})(?P<a>[mz])(?P<aper>{_PLACE})"
    ),
    re.compile(
        rf"(?P<b>[mz])O?{_NUTRIENT}(?P<bper>{_PLACE})(?:[F=:iu]|Iu)(?P<a>[mz])(?P<aper>)O?T?{_FEED}"
        rf"(?P<alate>{_PLACE})"
    ),
    re.compile(
        rf"(?P<a>[mz])(?P<aper>{_PLACE})OT?{_FEED}f(?P<b>[mz])O?{_NUTRIENT}(?P<bper>{_PLACE})"
    ),
)
"""Such as "3.2 ounces of N from 15-0-0: 21.33 ounces": the feed is worked out."""
_SAME = re.compile(r"(?P<a>[mz])O(?P<feed>k)[=i](?P<b>[mz])O(?P<other>k)")
_ORDER = {"N": 0, "P2O5": 1, "P": 1, "K2O": 2, "K": 2}
_LABELS = (("N", "N"), ("P2O5", "P"), ("K2O", "K"))
"""What the three figures of an analysis count: where labels count oxides, and elements."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """An amount of a feed and the amount of a nutrient that is said to belong to it.

    `worked` is the one that the text works out from the other; `words` are the nutrient, the
    word that the feed's own figure counts, and the same where labels count elements.
    """

    said: str
    feed: Item
    fed: str
    nutrient: Item
    worked: Item
    share: Fraction
    words: tuple[str, str, str]
    over: tuple[Item | None, Item | None]


def wrong_holdings(found: Figures, taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Amounts of a nutrient that a feed is said to hold and does not, by either kind of label."""
    for pair in _pairs(found, (_HELD,)):
        if (due := _due(pair, taken, None)) is not None:
            yield _off("sum-holds", pair, due, None)


def wrong_needs(found: Figures, taken: tuple[Sense, ...], oxides: bool | None) -> Iterator[Say]:
    """Amounts of a feed that do not bring what they are said to, and oxides taken for elements.

    `oxides` tells whether an analysis counts P2O5 and K2O, None where that is not told.
    """
    for pair in _pairs(found, (_HELD, *_NEEDED)):
        needs = pair.worked is pair.feed
        due = _due(pair, taken, None)
        if due is None:
            due, key = _due(pair, taken, oxides), "claim-slip"
        else:
            key = "claim-needs"
        if due is not None and (needs or key == "claim-slip"):
            yield _off(key, pair, due, oxides)
    for match in _SAME.finditer(found.letters):
        yield from _same(found, match, taken)


def _off(key: str, pair: _Pair, due: Measure, oxides: bool | None) -> Say:
    word, *labels = pair.words
    other = pair.nutrient if pair.worked is pair.feed else pair.feed
    return Say.of(
        key, text=pair.said, amount=f"{other.text} {other.unit}", feed=pair.fed, nutrient=word,
        label=labels[oxides is False], right=number_text(due, due.unit, _DIGITS),
        off=difference(number(pair.worked.text), due.value),
    )  # fmt: skip


def _pairs(found: Figures, patterns: tuple[re.Pattern[str], ...]) -> Iterator[_Pair]:
    for pattern in patterns:
        for match in pattern.finditer(found.letters):
            pair = _pair(found, match, pattern is _HELD)
            if pair is not None:
                yield pair


def _pair(found: Figures, match: re.Match[str], held: bool) -> _Pair | None:
    feed, nutrient = found.of(match, "a"), found.of(match, "b")
    counted = _counted(found, match)
    start, end = match.span()
    joined = found.letters[start - 1 : start] in ("C", "+") or _goes_on(found, end)
    if counted is None or joined or feed.to is not None or nutrient.to is not None:
        return None
    share, words = counted
    places = [_place(found, match, group) for group in ("aper", "alate", "bper")]
    over = (places[0] or places[1], places[2])
    if (over[0] is None) != (over[1] is None) and _elsewhere(found, start, end):
        return None
    fed = found.quote(*match.span("feed"))
    worked = nutrient if held else feed
    if not share or not number(feed.text) or not number(nutrient.text):
        return None
    return _Pair(found.said(match), feed, fed, nutrient, worked, share, words, over)


def _counted(found: Figures, match: re.Match[str]) -> tuple[Fraction, tuple[str, str, str]] | None:
    """The feed's own figure for the nutrient, and which word it counts."""
    word, feed = found.of(match, "nutrient").text, found.of(match, "feed")
    if feed.kind == "k":
        if word not in _ORDER:
            return None
        at = _ORDER[word]
        return Fraction(feed.text.split("-")[at]) / 100, (word, *_LABELS[at])
    label = found.items[match.start("feed") + 1].text
    if feed.to is not None or element_of(label)[0] != element_of(word)[0]:
        return None
    return number(feed.text) / 100, (word, label, label)


def _place(found: Figures, match: re.Match[str], group: str) -> Item | None:
    """What an amount is per."""
    if group not in match.re.groupindex or not match[group]:
        return None
    return found.items[match.end(group) - 1]


def _goes_on(found: Figures, end: int) -> bool:
    """Whether another feed is added behind a match."""
    return re.match(r",?[C+][mvz]", found.letters[end : end + 3]) is not None


def _elsewhere(found: Figures, start: int, end: int) -> bool:
    """Whether the sentence names another place, which the amount without one may be for."""
    letters = found.letters
    first = max(letters.rfind(".", 0, start), letters.rfind(";", 0, start)) + 1
    last = re.search(r"[.;]", letters[end:])
    rest = (
        letters[first:start] + letters[end : len(letters) if last is None else end + last.start()]
    )
    return bool(set(rest) & set("slvc"))


def _due(pair: _Pair, taken: tuple[Sense, ...], oxides: bool | None) -> Measure | None:
    """What the worked amount should be, None where a reading of the label makes it right."""
    word, *labels = pair.words
    counted = labels if oxides is None else [labels[not oxides]]
    dues: list[Measure] = []
    plain: list[Measure] = []
    for sense in taken:
        for label in counted:
            times = element_of(label)[1] / element_of(word)[1]
            due = _worked(pair, sense, pair.share * times)
            if due is None:
                continue
            if as_printed(pair.worked.text, due.value, about=pair.worked.about):
                return None
            (plain if label == word else dues).append(due)
    printed = number(pair.worked.text)
    return min(plain or dues, key=lambda due: distance(printed, due.value), default=None)


def _worked(pair: _Pair, sense: Sense, share: Fraction) -> Measure | None:
    holds = pair.worked is pair.nutrient
    known = amount(pair.feed if holds else pair.nutrient, sense)
    worked = amount(pair.worked, sense)
    if known is None or worked is None or not known.is_a(MASS) or not worked.is_a(MASS):
        return None
    due = known * share if holds else known / share
    over = pair.over if holds else pair.over[::-1]
    if over[0] is not None and over[1] is not None:
        below, here = amount(over[0], sense), amount(over[1], sense)
        if below is None or here is None or not below.value or not here.value:
            return None
        try:
            due = due * (here.amount_in(below.unit) / below.value)
        except DoseError:
            return None
    return due.to(worked.unit)


def _same(found: Figures, match: re.Match[str], taken: tuple[Sense, ...]) -> Iterator[Say]:
    """Two feeds that are said to bring the same: right where any nutrient of both makes it so."""
    one, other = found.of(match, "a"), found.of(match, "b")
    shares = [
        (Fraction(mine), Fraction(theirs))
        for mine, theirs in zip(
            found.of(match, "feed").text.split("-"), found.of(match, "other").text.split("-"),
            strict=True,
        )
        if Fraction(mine) and Fraction(theirs)
    ]  # fmt: skip
    known, worked = amount(one, taken[0]), amount(other, taken[0])
    if not shares or known is None or worked is None or one.to or other.to or not worked.value:
        return
    dues = [(known * mine / theirs).to(worked.unit) for mine, theirs in shares]
    if any(as_printed(other.text, due.value, about=other.about) for due in dues):
        return
    due = min(dues, key=lambda due: distance(worked.value, due.value))
    yield Say.of(
        "claim-same", text=found.said(match), right=number_text(due, due.unit, _DIGITS),
        feed=found.of(match, "other").text, off=difference(worked.value, due.value),
    )  # fmt: skip

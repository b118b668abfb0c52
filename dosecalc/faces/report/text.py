"""The report as plain text, 80 columns wide; its bars are drawn with letters."""

from __future__ import annotations

import textwrap
from fractions import Fraction

from dosecalc.faces.report.data import LIMIT_AT, Bar, Document, Place
from dosecalc.say import Say

WIDTH = 80
_BAR = 48


def render_text(document: Document) -> str:
    """The whole report; places are parted by a rule."""
    rows = [*_wrap(document.title.upper()), "", *(r for t in document.first for r in _wrap(t))]
    for place in document.places:
        rows += ["", "=" * WIDTH, *_place(place, document.none)]
    rows += ["", "=" * WIDTH]
    for section in document.sections:
        rows += [section.title, *(r for line in section.lines for r in _item(line)), ""]
    return "\n".join(row.rstrip() for row in rows).rstrip() + "\n"


def _place(place: Place, none: str) -> list[str]:
    rows = [*_wrap(place.title), *(r for line in place.about for r in _wrap(line))]
    if place.given:
        rows += ["", place.given_title]
    for one in place.given:
        told = [text for text in (one.crop, one.who, one.weather) if text]
        rows += _wrap("; ".join([f"{one.day}  {one.what}", *told]), "  ", "      ")
        rows += _wrap("; ".join(one.more), "      ", "      ")
    if place.sums:
        rows += ["", place.sums_title]
    for total in place.sums:
        rows += _wrap(f"{total.name}: {total.amount}; {total.per_area}", "  ", "      ")
    rows += ["", place.bars_title]
    if place.bars:
        rows += _wrap(Say.of("report-key-text").english(), "  ", "  ")
    else:
        rows += _wrap(none, "  ", "  ")
    for bar in place.bars:
        rows += ["", *_bar(bar)]
    for section in place.sections:
        rows += ["", section.title, *(r for line in section.lines for r in _item(line))]
    return rows


def _bar(bar: Bar) -> list[str]:
    mark = f"{bar.mark}: " if bar.mark else ""
    rows = _wrap(f"{mark}{bar.about}, {bar.figure}: {bar.ratio}", "  ", "      ")
    if bar.likely is not None and bar.high is not None:
        rows.append(f"      [{drawn(bar.likely, bar.high)}]")
    rows += _wrap(f"limit: {bar.limit}", "      ", "      ")
    rows += _wrap("; ".join([bar.scope, *bar.more]), "      ", "      ")
    return rows + _wrap(bar.source, "      ", "      ")


def drawn(likely: Fraction, high: Fraction) -> str:
    """A bar of letters: what is given up to the limit never reaches the mark of the limit.

    Parameters
    ----------
    likely, high : Fraction
        As shares of the bar, on which the limit stands at `LIMIT_AT`.
    """
    at = int(_BAR * LIMIT_AT)
    cells = [" "] * _BAR
    for share, letter in ((high, ":"), (likely, "#")):
        # What is over crosses the mark by a cell at least, what is not ends before it.
        length = -int(-share * _BAR // 1)
        length = max(length, at + 2) if share > LIMIT_AT else min(length, at)
        cells[: min(length, _BAR)] = letter * min(length, _BAR)
    cells[at] = "|"
    if high > 1:
        cells[-1] = ">"
    return "".join(cells)


def _item(line: str) -> list[str]:
    return _wrap(f"- {line}", "  ", "    ")


def _wrap(text: str, first: str = "", then: str = "") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=then, break_on_hyphens=False
    )

"""A card as plain text, 80 columns wide, for a printer that knows letters alone."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable

from dosecalc.errors import refuse
from dosecalc.faces.card.data import Card, Filling, Line, Section

WIDTH = 80
_RULE = "-" * WIDTH
_BLANK = "_" * 40


def render_text(card: Card, *, ascii_only: bool = False) -> str:
    """The whole card, front and back.

    Parameters
    ----------
    card : Card
    ascii_only : bool
        Letters without their marks: for the oldest printers.

    Raises
    ------
    DoseError
        With `ascii_only`, for a letter that has no plain one.
    """
    rows = [*_front(card), "", "=" * WIDTH, "", *_back(card)]
    text = "\n".join(row.rstrip() for row in rows) + "\n"
    return _ascii(text) if ascii_only else text


def _front(card: Card) -> list[str]:
    rows = [*_wrap(card.first), "", *_wrap(card.title.upper()), ""]
    for line in (card.where, card.when, card.who):
        rows += _wrap(f"{line.name}: {line.text or _BLANK}")
    for band in card.bands:
        rows += ["", "#" * WIDTH]
        rows += [f"# {row}" for row in textwrap.wrap(f"{band.level}: {band.text}", WIDTH - 4)]
        rows += ["#" * WIDTH]
    if card.boxed:
        rows += ["", _RULE]
        rows += [f"| {row}" for text in card.boxed for row in textwrap.wrap(text, WIDTH - 4)]
        rows += [_RULE]
    if card.grey:
        rows += ["", *_wrap(card.grey)]
    for filling in card.fillings:
        rows += ["", *_filling(filling)]
    rows += ["", card.need_title, *(row for line in card.need for row in _line(line))]
    rows += ["", card.steps.title]
    for number, step in enumerate(card.steps.lines, start=1):
        rows += _wrap(f"[ ] {number}. {step}", "  ", "         ")
    if card.drawing is not None:
        rows += ["", *(row for text in card.drawing.captions for row in _wrap(text))]
    for section in card.care:
        rows += ["", *_section(section)]
    return rows


def _filling(filling: Filling) -> list[str]:
    boxes = "[ ]" * filling.boxes
    rows = _wrap(f"{filling.title}  {boxes}", "", "  ")
    rows += [row for text in filling.before for row in _wrap(text, "  ", "  ")]
    rows += [row for line in filling.lines for row in _line(line)]
    rows += [row for text in filling.after for row in _wrap(text, "  ", "  ")]
    return rows


def _line(line: Line) -> list[str]:
    small = f" ({line.small})" if line.small else ""
    return _wrap(f"{line.name}: {line.text}{small}", "  ", "      ")


def _back(card: Card) -> list[str]:
    rows: list[str] = []
    for section in card.back:
        rows += [*_section(section), ""]
    rows += [card.record.title]
    rows += [f"  {label}: {_BLANK}"[:WIDTH] for label in card.record.lines]
    return [*rows, "", *_wrap(card.small_print)]


def _section(section: Section) -> list[str]:
    return [section.title, *(row for text in section.lines for row in _wrap(text, "  - ", "    "))]


def _wrap(text: str, first: str = "", then: str = "") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=then, break_on_hyphens=False
    )


def _ascii(text: str) -> str:
    made = "".join(_plain(unicodedata.normalize("NFKD", char)) for char in text)
    odd = next((char for char in made if not char.isascii()), None)
    if odd is not None:
        raise refuse("card-letter", letter=odd)
    return made


def _plain(parts: Iterable[str]) -> str:
    return "".join(part for part in parts if not unicodedata.combining(part))

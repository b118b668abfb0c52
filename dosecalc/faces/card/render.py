"""A card on paper: the typesetter's only place."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from functools import cache
from importlib.resources import as_file, files
from typing import Any, Literal

import typst

from dosecalc.errors import refuse
from dosecalc.faces.card.data import Card

Form = Literal["pdf", "png", "svg"]
PAPERS: dict[str, tuple[float, float]] = {
    "a4": (210, 297), "a5": (148, 210), "a6": (105, 148), "letter": (215.9, 279.4),
    "half-letter": (139.7, 215.9),
}  # fmt: skip
"""Width and height, mm (ISO 216; ANSI/ASME Y14.1 letter and its half)."""
_SHEETS = {1: (1, 1), 2: (2, 1), 4: (2, 2)}
_SIZES = (13, 12, 11.5, 11, 10.5, 10, 9.5, 9, 8.5, 8, 7.5, 7)
"""Base sizes that are tried, pt; no text is smaller than 7 pt."""
_AMOUNT = 14.0
"""What to measure is never smaller than this, pt."""
_LONG = 24
_STAMP = 0
_PPI = 200.0


def render(cards: Sequence[Card], *, form: Form, paper: str, sheet: int = 1) -> list[bytes]:
    """The cards as one PDF, or as one picture for each page.

    Parameters
    ----------
    cards : sequence of Card
    form : {"pdf", "png", "svg"}
    paper : str
        A key of `PAPERS`: the paper of the whole sheet.
    sheet : {1, 2, 4}
        Cards on one side of a sheet; their backs are on the next page, turned for the long edge.

    Raises
    ------
    DoseError
        For a letter that the font has no shape for, and for a card that does not fit its part of
        a sheet.
    """
    for card in cards:
        check_letters(asdict(card))
    columns, rows = _SHEETS[sheet]
    width, height = PAPERS[paper]
    if sheet == 2:
        width, height = height, width
    small = min(width / columns, height / rows) < 110
    shape = {
        "width": width, "height": height, "margin": 6 if small else 10, "columns": columns,
        "rows": rows, "sizes": _SIZES, "amount": 12 if small else _AMOUNT,
        "together": sheet == 1 and paper in ("a4", "letter"),
    }  # fmt: skip
    inputs = {
        "cards": json.dumps([spaced(asdict(card)) for card in cards]),
        "shape": json.dumps(shape),
    }
    template = files("dosecalc.faces.card").joinpath("card.typ").read_bytes()
    return compile_pages(template, inputs, form)


def compile_pages(template: bytes, inputs: dict[str, str], form: Form) -> list[bytes]:
    """One template with its data as one PDF (PDF/UA-1), or as one picture for each page.

    Raises
    ------
    DoseError
        For a card that does not fit its part of a sheet.
    """
    here = files("dosecalc.faces.card")
    with as_file(here.joinpath("fonts")) as fonts:
        compiler = typst.Compiler(
            template,
            font_paths=typst.Fonts(
                include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts)]
            ),
            sys_inputs=inputs,
        )
        try:
            made, warnings = compiler.compile_with_warnings(
                format=form, ppi=_PPI, timestamp=_STAMP,
                pdf_standards=["ua-1"] if form == "pdf" else [],
            )  # fmt: skip
        except typst.TypstError as err:
            if "does-not-fit" in str(err):
                raise refuse("card-too-much") from None
            raise
    if warnings:
        raise RuntimeError("; ".join(str(warning) for warning in warnings))
    assert made is not None  # None only where an output file is named
    return made if isinstance(made, list) else [made]


def spaced(value: Any) -> Any:
    """A number kept with its unit on one line; a name without a space given places to break."""
    if isinstance(value, str):
        whole = re.sub(r"(?<=\d) (?=[A-Za-z%(])", "\u00a0", value)
        return re.sub(rf"\S{{{_LONG},}}", _breakable, whole)
    if isinstance(value, dict):
        return {key: spaced(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [spaced(item) for item in value]
    return value


def _breakable(match: re.Match[str]) -> str:
    word = re.sub(r"([/.?&_=-])", "\\1\u200b", match.group())
    return re.sub(rf"[^\u200b\u00a0]{{{_LONG}}}(?=[^\u200b\u00a0])", "\\g<0>\u200b", word)


@cache
def _letters() -> frozenset[str]:
    """Every character that each of the four fonts has; see docs/generate.py."""
    return frozenset(
        files("dosecalc.faces.card").joinpath("fonts", "letters.txt").read_text("utf-8")
    )


def check_letters(value: Any) -> None:
    """Refuse a text, at any depth of a table, with a letter that the font has no shape for."""
    known = _letters()
    for text in _texts(value):
        odd = next((char for char in text if char not in known), None)
        if odd is not None:
            raise refuse("card-no-shape", letter=odd, text=text)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from _texts(item)
    elif isinstance(value, (list, tuple)):
        for item in value:
            yield from _texts(item)

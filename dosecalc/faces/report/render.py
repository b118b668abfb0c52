"""The report on paper, by the card's own typesetting."""

from __future__ import annotations

import json
from dataclasses import asdict
from fractions import Fraction
from importlib.resources import files
from typing import Any

from dosecalc.faces.card.render import PAPERS, check_letters, compile_pages, spaced
from dosecalc.faces.report.data import LIMIT_AT, Document


def render(document: Document, paper: str) -> bytes:
    """One tagged PDF (PDF/UA-1).

    Parameters
    ----------
    document : Document
    paper : str
        A key of `PAPERS`.

    Raises
    ------
    DoseError
        For a letter that the font has no shape for.
    """
    whole = _plain(asdict(document))
    check_letters(whole)
    width, height = PAPERS[paper]
    shape = {"width": width, "height": height, "limit": float(LIMIT_AT)}
    inputs = {"report": json.dumps(spaced(whole)), "shape": json.dumps(shape)}
    template = files("dosecalc.faces.report").joinpath("report.typ").read_bytes()
    return compile_pages(template, inputs, "pdf")[0]


def _plain(value: Any) -> Any:
    """Shares of a bar as numbers that the typesetter reads; they are drawn and never computed."""
    if isinstance(value, Fraction):
        return float(min(value, Fraction(2)))
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(item) for item in value]
    return value

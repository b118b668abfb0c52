"""From jobs to the bytes of a card or a pack, in the form that a file's name asks for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal, cast, get_args

from dosecalc.catalog.told import REGIONS
from dosecalc.dose.result import Mix
from dosecalc.errors import refuse
from dosecalc.faces.card.build import Told, build
from dosecalc.faces.card.data import Card
from dosecalc.faces.card.pack import summary
from dosecalc.faces.card.site import drawing
from dosecalc.faces.card.text import render_text
from dosecalc.faces.card.words import LANGUAGES, Words
from dosecalc.faces.job import Job, garden_of, with_garden

PAPERS = ("a4", "a5", "a6", "letter", "half-letter")
Form = Literal["pdf", "png", "svg", "txt"]
_MOST_TYPED = 80


@dataclass(frozen=True, slots=True)
class Asked:
    """How a card is to be printed, as typed.

    Parameters
    ----------
    paper, sheet, language, decimal : str
    date, who, place : str
        "" leaves a line to fill in.
    ascii_only : bool
    """

    paper: str = "a5"
    sheet: str = "1"
    language: str = "en"
    decimal: str = "point"
    date: str = ""
    who: str = ""
    place: str = ""
    ascii_only: bool = False


def check(asked: Asked) -> None:
    """Refuse a paper, a language or a mark that is not known, before anything is computed.

    Raises
    ------
    DoseError
    """
    for key, text, known in (
        ("card-paper", asked.paper, PAPERS),
        ("card-sheet", asked.sheet, ("1", "2", "4")),
        ("card-language", asked.language, LANGUAGES),
        ("card-decimal", asked.decimal, ("point", "comma")),
    ):
        if text not in known:
            raise refuse(key, text=text, known=" or ".join(known))
    for text in (asked.date, asked.who, asked.place):
        if len(text) > _MOST_TYPED:
            raise refuse("card-date", text=text)


def form_of(file: Path) -> Form:
    """What the end of a file's name asks for: "pdf", "png", "svg" or "txt".

    Raises
    ------
    DoseError
        When it asks for none of these.
    """
    end = file.suffix.lower().removeprefix(".")
    for form in get_args(Form):
        if form == end:
            return cast(Form, form)
    raise refuse("card-form", path=file)


def card_of(job: Job, mix: Mix, asked: Asked) -> Card:
    """The card of one job."""
    garden = garden_of(job.garden)
    filled = with_garden(job, garden)
    region = filled.told.region.upper() if filled.told.region else None
    names = [str(garden.data.get("name", "")), job.at or job.place]
    words = Words(asked.language, asked.decimal, [item.name for item in mix.amounts])
    told = Told(
        place=asked.place or ", ".join(name for name in names if name),
        date=asked.date,
        who=asked.who,
        region=region if region in REGIONS else None,
        drawing=drawing(filled.site, mix.basis, words),
    )
    return build(mix, told, words)


def pack_of(jobs: Sequence[tuple[Job, Mix]], asked: Asked, days: Sequence[str] = ()) -> list[Card]:
    """The summary and the card of each job, with its own day where days are given."""
    dates = days or [asked.date] * len(jobs)
    cards = [
        card_of(job, mix, replace(asked, date=date))
        for (job, mix), date in zip(jobs, dates, strict=True)
    ]
    front = summary([mix for _, mix in jobs], cards, Words(asked.language, asked.decimal))
    return [front, *cards]


def pages(cards: Sequence[Card], form: Form, asked: Asked) -> list[bytes]:
    """The bytes to write: one file, or for pictures one a page.

    Raises
    ------
    DoseError
        When a letter has no shape in the font, a card does not fit its part of a sheet, or the
        typesetter is not installed.
    """
    if form == "txt":
        texts = [render_text(card, ascii_only=asked.ascii_only) for card in cards]
        return ["\f".join(texts).encode("utf-8")]
    try:
        from dosecalc.faces.card.render import render
    except ImportError:
        raise refuse("card-extra") from None
    return render(cards, form=form, paper=asked.paper, sheet=int(asked.sheet))

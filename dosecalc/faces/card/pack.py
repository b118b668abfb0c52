"""A season's pack: the card in front that says what to fetch for all the others."""

from __future__ import annotations

from collections.abc import Sequence

from dosecalc.dose.pack import totals
from dosecalc.dose.result import Mix
from dosecalc.faces.card.data import Band, Card, Line, Section
from dosecalc.faces.card.words import Words


def summary(mixes: Sequence[Mix], cards: Sequence[Card], words: Words) -> Card:
    """The first page of a pack.

    Parameters
    ----------
    mixes : sequence of Mix
    cards : sequence of Card
        Of the same jobs, in the same order.
    words : Words
    """
    first = cards[0]
    lines = []
    for card in cards:
        where = ", ".join(text for text in (card.where.text, card.when.text) if text)
        worst = ", ".join(dict.fromkeys(band.level for band in card.bands))
        lines.append(
            words(
                "card-pack-line", title=card.title,
                where=f": {where}" if where else "", worst=f" ({worst})" if worst else "",
            )
        )  # fmt: skip
    return Card(
        language=words.language,
        first=first.first,
        title=words("card-pack", count=len(cards)),
        where=Line(first.where.name, ""),
        when=Line(first.when.name, ""),
        who=Line(first.who.name, ""),
        bands=tuple(
            Band(band.level, f"{number}. {band.text}")
            for number, card in enumerate(cards, start=1)
            for band in card.bands
        ),
        boxed=(),
        grey="",
        need=tuple(_total(total.name, total.shown, words) for total in totals(mixes)),
        need_title=words("card-pack-in-all"),
        fillings=(),
        steps=Section(words("card-pack-list"), tuple(lines)),
        care=(),
        drawing=None,
        back=(),
        record=Section(first.record.title, ()),
        small_print=first.small_print,
    )


def _total(name: str, shown: str, words: Words) -> Line:
    text, _, other = shown.partition(" (")
    return Line(words.name(name), words.amount(text), words.amount(other.removesuffix(")")))

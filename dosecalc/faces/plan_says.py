"""What an adviser should look at in a plan, as sentences."""

from __future__ import annotations

from collections.abc import Iterator

from dosecalc.catalog.asked import Asked
from dosecalc.catalog.credit import Credit
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.soil import Figure, Level, Report
from dosecalc.catalog.split import Part, advice
from dosecalc.dose.feed.plan import OnHand, Order
from dosecalc.faces.on_hand import SLOW
from dosecalc.say import Say


def of_order(
    untested: bool, order: Order, credits: tuple[Credit, ...], how: str | None
) -> list[Say]:
    """What a plan took for granted.

    Parameters
    ----------
    untested : bool
        No soil report was given.
    order : Order
    credits : tuple of Credit
    how : str or None
        How it is given, where that was not told.
    """
    found = [Say.of("feed-assume-excess", order=", ".join(order.excess))]
    if untested:
        found.append(Say.of("feed-assume-needs"))
    if how is not None:
        found.append(Say.of("feed-assume-how", how=how))
    for credit in credits:
        if credit.source is not None:
            key = "feed-assume-credit" if credit.up_to is not None else "feed-assume-scope"
            found.append(Say.of(key, name=credit.name, scope=credit.scope))
    for hand in order.hand:
        if "N" in hand.counts:
            found.append(_first(hand))
        if not SLOW.isdisjoint(hand.offer.material.traits):
            found.append(Say.of("feed-assume-all", name=hand.offer.material.name))
    if any(c.kind == "minimum" for hand in order.hand for c in hand.offer.material.contents):
        found.append(Say.of("feed-assume-label"))
    if order.near:
        found.append(Say.of("feed-assume-near", percent=f"{float(order.near * 100):g}"))
    return found


def _first(hand: OnHand) -> Say:
    """How much of its nitrogen counts, and who says so."""
    name, percent = hand.offer.material.name, f"{float(hand.counts['N'] * 100):g}"
    share = hand.share
    if share is None or share.source is None:
        return Say.of("feed-assume-first", name=name, percent=percent)
    return Say.of(
        "feed-assume-share", name=name, percent=percent, printed=share.printed,
        source=share.source.cite(),
    )  # fmt: skip


def of_split(parts: tuple[Part, ...], order: Order, credits: tuple[Credit, ...]) -> Iterator[Say]:
    """When the later dressings are due, as far as anybody says so."""
    if len(parts) > 1 and any(c.asked.element == "N" for c in credits):
        yield Say.of("feed-split-credits")
    known = advice(order.request.told.crop)
    for one in known:
        yield Say.of("feed-split-advice", crops=one.crops, when=one.when, source=one.source.cite())
    if any(part.days is None for part in parts[1:]) and not known:
        yield Say.of("feed-split-untold")


def of_soil(
    needs: tuple[Asked, ...], report: Report | None, told: tuple[Level, ...],
    silent: tuple[Figure, ...],
) -> list[Say]:  # fmt: skip
    """What a soil report says, and where it stands against a need that was typed."""
    if report is None:
        return []
    found = []
    asked = {need.element for need in needs}
    for level in told:
        figure = level.figure
        much = level.much and element_of(figure.nutrient)[0] in asked
        found.append(
            Say.of(
                "feed-soil-much" if much else "feed-soil-level", nutrient=figure.nutrient,
                figure=figure.printed, by=figure.extractant, word=level.word, scale=level.scale,
                source=level.source.cite(),
            )
        )  # fmt: skip
    found += [
        Say.of("feed-soil-silent", nutrient=one.nutrient, figure=one.printed, by=one.extractant)
        for one in silent
    ]
    return found

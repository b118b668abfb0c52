"""Which products go out together and which apart: passes in order, with the days between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from dosecalc.catalog.rules import Pair
from dosecalc.dose.feed.bounds import Offer
from dosecalc.dose.scene import Scene
from dosecalc.dose.together import between, capped, matches
from dosecalc.say import Say

_TOGETHER = ("tank", "stock tank")


@dataclass(frozen=True, slots=True)
class Pass:
    """Products that go out together.

    Parameters
    ----------
    offers : tuple of Offer
    days : int
        How many days after the pass before it, at the least; 0 for none that is known.
    why : tuple of Say
        Why it is a pass of its own.
    """

    offers: tuple[Offer, ...]
    days: int = 0
    why: tuple[Say, ...] = ()


def never_both(
    pairs: Sequence[Pair], offers: Sequence[Offer], view: Scene
) -> tuple[tuple[str, str], ...]:
    """Ids of products that must not both be given to one ground.

    Two products that stand for one material count as such: its limits could not tell them apart.
    """
    found = []
    for at, one in enumerate(offers):
        for other in offers[at + 1 :]:
            met = between(
                tuple(pairs), one.material, other.material, view,
                lambda pair: pair.where == "same ground",
            )  # fmt: skip
            stops = any(capped(pair.level, pair.source.strong) == "stop" for pair in met)
            if stops or one.material.id == other.material.id:
                found.append((one.id, other.id))
    return tuple(found)


def in_passes(pairs: Sequence[Pair], offers: Sequence[Offer], view: Scene) -> tuple[Pass, ...]:
    """The products of a plan in as few passes as the rules allow, in the order of least waiting.

    Parameters
    ----------
    pairs : sequence of Pair
    offers : sequence of Offer
        Those that the plan uses.
    view : Scene
        Whose crops and region the rules are held against.
    """
    groups: list[list[Offer]] = []
    for offer in offers:
        home = next(
            (
                group
                for group in groups
                if all(
                    other.recipe.placement == offer.recipe.placement
                    and other.material.liquid == offer.material.liquid
                    and not _apart(pairs, other, offer, view)
                    for other in group
                )
            ),
            None,
        )
        if home is None:
            groups.append([offer])
        else:
            home.append(offer)
    if len(groups) > 4:  # more than anybody spreads: the order stays as typed
        best: tuple[list[Offer], ...] = tuple(groups)
    else:
        best = min(permutations(groups), key=lambda order: sum(_waits(pairs, order)))
    passes = []
    for at, (group, days) in enumerate(zip(best, _waits(pairs, best), strict=True)):
        why = [say for before in best[:at] for say in _reasons(pairs, before, group, view)]
        passes.append(Pass(tuple(group), days, tuple(dict.fromkeys(why))))
    return tuple(passes)


def _apart(pairs: Sequence[Pair], one: Offer, other: Offer, view: Scene) -> list[Pair]:
    return between(tuple(pairs), one.material, other.material, view, _parts)


def _parts(pair: Pair) -> bool:
    stops = capped(pair.level, pair.source.strong) == "stop"
    return pair.where == "days apart" or (pair.where in _TOGETHER and stops)


def _waits(pairs: Sequence[Pair], order: Sequence[Sequence[Offer]]) -> list[int]:
    """Days that each pass of an order waits for those before it."""
    found = []
    for at, group in enumerate(order):
        days = [0]
        for before in order[:at]:
            days += [_days(pairs, first, then) for first in before for then in group]
        found.append(max(days))
    return found


def _days(pairs: Sequence[Pair], first: Offer, then: Offer) -> int:
    """Days after `first` before `then` may follow."""
    days = [0]
    for pair in pairs:
        if pair.where != "days apart":
            continue
        for a, b, came in ((first, then, "a"), (then, first, "b")):
            if matches(pair.a, a.material) and matches(pair.b, b.material):
                days += [pair.days] if pair.first in (came, "either") else []
    return max(days)


def _reasons(
    pairs: Sequence[Pair], before: Sequence[Offer], group: Sequence[Offer], view: Scene
) -> list[Say]:
    found = []
    for one in before:
        for other in group:
            days = _days(pairs, one, other)
            for pair in _apart(pairs, one, other, view):
                if pair.where == "days apart" and pair.days != days:
                    continue  # speaks of the other order
                key = "feed-pass-days" if pair.where == "days apart" else "feed-pass-apart"
                found.append(
                    Say.of(
                        key, one=one.material.name, other=other.material.name, days=pair.days,
                        why=pair.why, source=pair.source.cite(),
                    )
                )  # fmt: skip
    return found

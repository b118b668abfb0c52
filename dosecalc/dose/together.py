"""What must not meet: in one tank, in one stock tank, on one ground, or within so many days."""

from __future__ import annotations

from collections.abc import Callable

from dosecalc.catalog.material import Material
from dosecalc.catalog.rules import Pair
from dosecalc.dose.need import SPRAYED
from dosecalc.dose.result import LEVELS, Finding
from dosecalc.dose.scene import Scene
from dosecalc.say import Say

_SPRAY_TRAITS = frozenset({"trait:sulfur", "trait:oil", "lime-sulfur", "trait:copper"})


def matches(word: str, material: Material) -> bool:
    """Whether a rule's word speaks of a material."""
    if word.startswith("trait:"):
        return word.removeprefix("trait:") in material.traits
    return word == material.id


def _fits(pair: Pair, view: Scene) -> bool:
    words = view.crop_words
    return pair.region in ("any", view.told.region) and (
        "any" in pair.crops or not pair.crops.isdisjoint(words)
    )


def meeting(
    pairs: tuple[Pair, ...], view: Scene, past: tuple[tuple[Material, int], ...]
) -> tuple[Finding, ...]:
    """One finding for every two materials that must not meet, with every source that says so.

    Parameters
    ----------
    pairs : tuple of Pair
    view : Scene
    past : tuple of (Material, int)
        What was applied here before, and how many whole days ago.
    """
    found: list[Finding] = []
    materials = [item.material for item in view.delivered]
    where = {"stock tank", "tank"} if view.stock else {"tank"}
    for index, one in enumerate(materials):
        for other in materials[index + 1 :]:
            if view.liquid is not None:
                met = between(pairs, one, other, view, lambda p: p.where in where)
                found += _finding(met, one, other, "tank")
            met = between(pairs, one, other, view, lambda p: p.where == "same ground")
            if view.recipe.placement not in SPRAYED:
                found += _finding(met, one, other, "ground")
    for before, days in past:
        for now in materials:
            found += _apart(pairs, before, now, days, view)
    return tuple(found)


def between(
    pairs: tuple[Pair, ...],
    one: Material,
    other: Material,
    view: Scene,
    wanted: Callable[[Pair], bool],
) -> list[Pair]:
    """The rules that keep two materials apart, of those that are wanted and hold here."""
    return [
        pair
        for pair in pairs
        if wanted(pair)
        and _fits(pair, view)
        and (
            (matches(pair.a, one) and matches(pair.b, other))
            or (matches(pair.a, other) and matches(pair.b, one))
        )
    ]


def capped(level: str, strong: bool) -> str:
    """A weak source alone never stops anyone: it cautions."""
    return "caution" if level in ("stop", "over") and not strong else level


def _finding(met: list[Pair], one: Material, other: Material, place: str) -> list[Finding]:
    if not met:
        return []
    met = sorted(met, key=lambda p: LEVELS.index(capped(p.level, p.source.strong)))
    worst = met[0]
    level = capped(worst.level, worst.source.strong)
    unless = Say.of("unless", why=worst.unless) if worst.unless else ""
    return [
        Finding(
            id=f"meeting-{one.id}-{other.id}",
            level=level,
            why="meeting",
            about=f"{one.id}, {other.id}",
            say=Say.of(
                f"meeting-{place}" if level == "stop" else f"meeting-{place}-caution",
                one=one.name,
                other=other.name,
                why=worst.why,
                unless=unless,
                sources="; ".join(dict.fromkeys(p.source.cite() for p in met)),
            ),
            scope=worst.where,
            grade=worst.source.grade,
            source=worst.source.id,
        )
    ]


def _apart(
    pairs: tuple[Pair, ...], before: Material, now: Material, days: int, view: Scene
) -> list[Finding]:
    """The waits of every source that are not over yet; the longest strong one governs."""
    sprayed = view.recipe.placement in SPRAYED
    met = []
    for pair in pairs:
        if pair.where != "days apart" or not _fits(pair, view):
            continue
        if not sprayed and ({pair.a, pair.b} & _SPRAY_TRAITS):
            continue
        forward = matches(pair.a, before) and matches(pair.b, now) and pair.first != "b"
        backward = matches(pair.b, before) and matches(pair.a, now) and pair.first != "a"
        if forward or backward:
            met.append(pair)
    running = [pair for pair in met if pair.days > days]
    if not running:
        return []
    running.sort(key=lambda p: (LEVELS.index(capped(p.level, p.source.strong)), -p.days))
    worst = running[0]
    waits = [
        Say.of(
            "wait-days" if p.days > days else "wait-days-over",
            days=p.days,
            source=p.source.cite(),
        )
        for p in sorted(met, key=lambda p: -p.days)
    ]
    unless = Say.of("unless", why=worst.unless) if worst.unless else ""
    return [
        Finding(
            id=f"wait-{before.id}-{now.id}",
            level=capped(worst.level, worst.source.strong),
            why="too-soon",
            about=f"{before.id}, {now.id}",
            say=Say.around(
                "too-soon",
                "waits",
                waits,
                "; ",
                before=before.name,
                now=now.name,
                days=days,
                longest=max(p.days for p in running),
                why=worst.why,
                unless=unless,
            ),
            scope="days apart",
            grade=worst.source.grade,
            source=worst.source.id,
        )
    ]


def sprayer(held: Material | None, view: Scene) -> tuple[Finding, ...]:
    """A sprayer that last held weedkiller is a stop."""
    if held is None or view.liquid is None:
        return ()
    if "herbicide" in held.traits:
        return (
            Finding(
                id="sprayer-held-herbicide", level="stop", why="sprayer", about=held.id,
                say=Say.of("sprayer-herbicide"), grade="practice", source="common-practice",
            ),
        )  # fmt: skip
    return ()

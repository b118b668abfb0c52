"""Weather, waits, law and what the recipe itself excludes, as findings and as plain lines."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.rules import Law, Rules, Wait, Weather
from dosecalc.catalog.source import Source
from dosecalc.dose.need import SPRAYED
from dosecalc.dose.result import LEVELS, Finding, Waiting
from dosecalc.dose.scene import Scene
from dosecalc.dose.together import capped
from dosecalc.dose.wording import how_often
from dosecalc.say import Say
from dosecalc.units.show import listed, rounded, show

_UNIT_WORD = {"temperature": " C", "humidity": " %", "wind": " m/s", "hours to rain": " h",
              "hours to dry": " h"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Conditions:
    """Findings about conditions that were told, and lines for those that were not.

    Parameters
    ----------
    findings : tuple of Finding
    when_not : tuple of Say
        Weather in which not to use it.
    waits : tuple of Say
        Entry, harvest and repeat waits, and how often at most.
    waiting : tuple of Waiting
        Those of them that have a length.
    cited : tuple of Source
        The sources of `when_not`, which has no room for them.
    """

    findings: tuple[Finding, ...]
    when_not: tuple[Say, ...]
    waits: tuple[Say, ...]
    waiting: tuple[Waiting, ...]
    cited: tuple[Source, ...]


def conditions(rules: Rules, view: Scene) -> Conditions:
    """Weather, waits and law for one scene."""
    told = dict(view.told.weather)
    mine = [w for w in rules.weather if view.holds(w.of) and _placed(w, view)]
    when_not, cited = _when_not(mine, told, view)
    waiting = _waiting(rules.waits, view)
    return Conditions(
        (
            *_weather_findings(mine, told, view),
            *_law(rules.law, view),
            *not_on(view),
            *other_crop(view),
            *_too_often(view),
        ),
        tuple(when_not),
        (*(one.say for one in waiting), *_repeat_most(view)),
        waiting,
        tuple(cited),
    )


def _placed(rule: Weather | Wait, view: Scene) -> bool:
    return "any" in rule.placement or view.recipe.placement in rule.placement


def _breaks(rule: Weather, value: Fraction | None) -> bool:
    if rule.value is None:
        return True
    if value is None:
        return False
    return {
        "at least": value >= rule.value,
        "above": value > rule.value,
        "at most": value <= rule.value,
        "below": value < rule.value,
    }.get(rule.edge, False)


def _names(of: str, view: Scene) -> str:
    return " and ".join(d.material.name for d in view.holds(of))


def _weather_findings(
    rules: list[Weather], told: dict[str, Fraction | None], view: Scene
) -> list[Finding]:
    """One finding for each quantity and material, naming every figure that is broken."""
    groups: dict[tuple[str, str], list[Weather]] = {}
    for rule in rules:
        if rule.quantity in told and _breaks(rule, told[rule.quantity]):
            groups.setdefault((_names(rule.of, view), rule.quantity), []).append(rule)
    found: list[Finding] = []
    for (names, quantity), broken in groups.items():
        broken.sort(key=lambda r: LEVELS.index(capped(r.level, r.source.strong)))
        worst = broken[0]
        value = told[quantity]
        shown = "" if value is None else f" of {_figure(quantity, value)}"
        found.append(
            Finding(
                id=f"weather-{worst.id}",
                level=capped(worst.level, worst.source.strong),
                why="weather",
                about=worst.of,
                say=Say.around(
                    "weather-broken",
                    "sources",
                    [Say.of("weather-by", rule=_rule(r), source=r.source.cite()) for r in broken],
                    "; ",
                    names=names,
                    quantity=quantity,
                    shown=shown,
                    why=worst.why,
                ),
                scope=f"{quantity} {worst.edge}",
                grade=worst.source.grade,
                source=worst.source.id,
            )
        )
    return found


def _figure(quantity: str, value: Fraction) -> str:
    return f"{rounded(value)[0]}{_UNIT_WORD.get(quantity, '')}"


def _rule(rule: Weather) -> Say:
    if rule.value is None:
        return Say.of("rule-yes", quantity=rule.quantity)
    return Say.of(f"rule-{rule.edge}", figure=_figure(rule.quantity, rule.value))


def _when_not(
    rules: list[Weather], told: dict[str, Fraction | None], view: Scene
) -> tuple[list[Say], list[Source]]:
    """One line for each material: the strictest rule of each quantity that was not told."""
    best: dict[tuple[str, str, str], Weather] = {}
    for rule in rules:
        if rule.quantity in told:
            continue
        key = (_names(rule.of, view), rule.quantity, _side(rule))
        have = best.get(key)
        if have is None or _stricter(rule, have, key[2]):
            best[key] = rule
    lines: dict[str, list[Say]] = {}
    for (names, quantity, side), rule in best.items():
        value = "" if rule.value is None else _figure(quantity, rule.value)
        lines.setdefault(names, []).append(Say.of(f"weather-{quantity}-{side}", value=value))
    return (
        [Say.around("when-not", "rules", found, names=names) for names, found in lines.items()],
        [rule.source for rule in best.values()],
    )


def _side(rule: Weather) -> str:
    if rule.value is None:
        return "yes"
    return "high" if rule.edge in ("above", "at least") else "low"


def _stricter(rule: Weather, have: Weather, side: str) -> bool:
    if rule.source.strong != have.source.strong:
        return rule.source.strong
    if rule.value is None or have.value is None:
        return False
    return rule.value < have.value if side == "high" else rule.value > have.value


def _in_scope(rule: Wait, view: Scene) -> bool:
    return (
        bool(view.holds(rule.of))
        and _placed(rule, view)
        and rule.region in ("any", view.told.region)
        and ("any" in rule.crops or not rule.crops.isdisjoint(view.crop_words))
    )


def repeat_waits(rules: tuple[Wait, ...], view: Scene) -> list[Wait]:
    """The waits before the same material may be given again."""
    return [rule for rule in rules if rule.what == "repeat" and _in_scope(rule, view)]


def _waiting(rules: tuple[Wait, ...], view: Scene) -> tuple[Waiting, ...]:
    """The longest wait of each kind and condition that the scene falls under."""
    best: dict[tuple[str, str], Wait] = {}
    for rule in (rule for rule in rules if _in_scope(rule, view)):
        key = (rule.what, rule.condition)
        have = best.get(key)
        if have is None or have.wait < rule.wait:
            best[key] = rule
    found = [
        Waiting(
            rule.what,
            rule.wait,
            Say.of(
                f"wait-{rule.what}",
                names=_names(rule.of, view),
                wait=show(rule.wait).metric,
                condition=Say.of("where", condition=rule.condition) if rule.condition else "",
                source=rule.source.cite(),
            ),
        )
        for rule in best.values()
    ]
    repeat = view.recipe.repeat
    if repeat is not None and repeat.interval is not None:
        say = Say.of("repeat-interval", interval=show(repeat.interval).metric)
        found.append(Waiting("repeat", repeat.interval, say))
    return tuple(found)


def _repeat_most(view: Scene) -> list[Say]:
    repeat = view.recipe.repeat
    if repeat is None or repeat.most is None:
        return []
    most = how_often(repeat.most)
    return [Say.of("repeat-most", most=most, window=repeat.window or "season")]


def uses_of(view: Scene) -> tuple[str, ...]:
    """What the law may call this: a spray can protect plants or feed them, the rest feeds."""
    sprayed = view.recipe.placement in SPRAYED
    uses = ("plant protection", "fertiliser") if sprayed else ("fertiliser",)
    return (*uses, "organic production", "any") if view.told.organic else (*uses, "any")


def _law(rules: tuple[Law, ...], view: Scene) -> list[Finding]:
    """The most serious word of the law on each material, with its date."""
    uses = uses_of(view)
    best: dict[str, Law] = {}
    for rule in rules:
        if not view.holds(rule.of) or rule.use not in uses:
            continue
        names = _names(rule.of, view)
        have = best.get(names)
        if have is None or _law_rank(rule) < _law_rank(have):
            best[names] = rule
    return [
        Finding(
            id=f"law-{rule.id}",
            level=capped(rule.level, rule.source.strong),
            why="law",
            about=rule.of,
            say=Say.of(
                "law", names=names, region=rule.region, use=rule.use, why=rule.why,
                as_of=rule.as_of, source=rule.source.cite(),
            ),
            scope=f"{rule.region} law",
            grade=rule.source.grade,
            source=rule.source.id,
        )
        for names, rule in best.items()
    ]  # fmt: skip


def _law_rank(rule: Law) -> int:
    return LEVELS.index(capped(rule.level, rule.source.strong))


def not_on(view: Scene) -> list[Finding]:
    """A stop where the recipe itself says "not on this crop"."""
    crop = view.told.crop
    if crop is None or crop.words.isdisjoint(view.recipe.not_on):
        return []
    return [
        Finding(
            id="not-on-crop",
            level="stop",
            why="not-on-crop",
            about=crop.id,
            say=Say.of("not-on-crop", crop=crop.name, recipe=view.recipe.name),
            scope=crop.name,
        )
    ]


def other_crop(view: Scene) -> list[Finding]:
    """A note where the recipe was written for other crops than the one that was told."""
    crop = view.told.crop
    fits = any(
        crop is not None and (crop.id in own.words or own.id in crop.words)
        for own in view.written_for
    )
    if crop is None or fits or not view.written_for:
        return []
    names = listed([own.name for own in view.written_for])
    return [
        Finding(
            id="other-crop",
            level="note",
            why="other-crop",
            about=crop.id,
            say=Say.of("other-crop", recipe=view.recipe.name, names=names, crop=crop.name),
            scope=crop.name,
        )
    ]


def _too_often(view: Scene) -> list[Finding]:
    """A caution where this would be one more than the recipe itself allows."""
    repeat = view.recipe.repeat
    before = max(view.told.already, view.told.past.alike)
    if repeat is None or repeat.most is None or before < repeat.most:
        return []
    return [
        Finding(
            id="recipe-too-often",
            level="caution",
            why="too-often",
            about="recipe",
            say=Say.of(
                "too-often",
                recipe=view.recipe.name,
                most=how_often(repeat.most),
                window=repeat.window or "season",
                now=how_often(before + 1),
            ),
        )
    ]

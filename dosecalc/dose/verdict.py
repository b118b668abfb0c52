"""All judgements on one scene together: label, limits, dissolving, meeting, weather, law."""

from __future__ import annotations

from dataclasses import dataclass, field

from dosecalc.catalog.crops import GENERAL, Crop
from dosecalc.catalog.label import GRADE, Label
from dosecalc.catalog.limit import Limit
from dosecalc.catalog.material import Material
from dosecalc.catalog.rules import Rules
from dosecalc.catalog.source import Source
from dosecalc.catalog.usual import Usual
from dosecalc.dose.conditions import conditions, repeat_waits
from dosecalc.dose.dissolve import dissolving
from dosecalc.dose.judge import judge
from dosecalc.dose.result import LEVELS, Assumed, Finding, Waiting
from dosecalc.dose.scene import Scene, in_scope
from dosecalc.dose.tested import tests_on_record
from dosecalc.dose.together import matches, meeting, sprayer
from dosecalc.dose.usual import far_above
from dosecalc.dose.wording import about_text, how_often
from dosecalc.say import Say
from dosecalc.units.measure import DAY
from dosecalc.units.show import rounded, show


@dataclass(frozen=True, slots=True)
class Knowledge:
    """What may speak of one mix, handed in by the face.

    Parameters
    ----------
    limits : tuple of Limit
    rules : Rules
    labels : tuple of Label
    recipe_crops : tuple of Crop
        The crops that the recipe names.
    past : tuple of (Material, int)
        What was applied here before and how many days ago.
    held : Material or None
        What the sprayer last held.
    usual : tuple of Usual
        The highest published rates, which forbid nothing.
    """

    limits: tuple[Limit, ...] = ()
    rules: Rules = field(default_factory=Rules)
    labels: tuple[Label, ...] = ()
    recipe_crops: tuple[Crop, ...] = ()
    past: tuple[tuple[Material, int], ...] = ()
    held: Material | None = None
    usual: tuple[Usual, ...] = ()


@dataclass(frozen=True, slots=True)
class Verdict:
    """Findings, the most serious first, and the lines that go with them."""

    findings: tuple[Finding, ...]
    assumed: tuple[Assumed, ...]
    not_told: tuple[Say, ...]
    when_not: tuple[Say, ...]
    waits: tuple[Say, ...]
    waiting: tuple[Waiting, ...]
    rescue: tuple[Say, ...]
    cited: tuple[Source, ...]


def pass_judgement(knowledge: Knowledge, view: Scene) -> Verdict:
    """Everything that is known, held against one scene."""
    of_labels = tuple(limit for label in knowledge.labels for limit in label.limits)
    weather = conditions(knowledge.rules, view)
    by_limits = judge((*of_labels, *knowledge.limits), view)
    found = [
        *_by_labels(knowledge.labels, view),
        *by_limits,
        *far_above(knowledge.usual, view, by_limits),
        *dissolving(view),
        *meeting(knowledge.rules.pairs, view, knowledge.past),
        *sprayer(knowledge.held, view),
        *_again_too_soon(knowledge, view),
        *weather.findings,
        *tests_on_record(view),
    ]
    found.sort(key=lambda f: (LEVELS.index(f.level), f.grade != GRADE))
    sources = {limit.source.id: limit.source for limit in (*of_labels, *knowledge.limits)}
    of_labels_waiting = _label_waits(knowledge.labels, view)
    rules = knowledge.rules
    cited = [r.source for r in rules.pairs] + [r.source for r in rules.weather]
    cited += [r.source for r in rules.law]
    cited += [rate.source for rate in knowledge.usual]
    sources.update({source.id: source for source in cited})
    used = dict.fromkeys(f.source for f in found if f.source in sources)
    return Verdict(
        findings=tuple(found),
        assumed=_assumed(view),
        not_told=_not_told(view),
        when_not=weather.when_not,
        waits=(
            *(one.say for one in of_labels_waiting),
            *weather.waits,
            *_counts((*of_labels, *knowledge.limits), view),
        ),
        waiting=(*of_labels_waiting, *weather.waiting),
        rescue=_rescue(knowledge.rules, found, view),
        cited=(*(sources[id] for id in used), *weather.cited),
    )


def _by_labels(labels: tuple[Label, ...], view: Scene) -> list[Finding]:
    """Crops that a label does not allow, and too little water."""
    found: list[Finding] = []
    for label in labels:
        if not view.holds(label.material):
            continue
        barred = [crop for crop in view.crops if crop is not GENERAL and _barred(label, crop)]
        if barred:
            found.append(_label_crop(label, barred, view))
        area = view.site.judged_area
        if label.least_water is None or view.liquid is None or area is None:
            continue
        water = (view.liquid / area).to(label.least_water.unit)
        if water < label.least_water:
            found.append(
                Finding(
                    id=f"label-water-{label.material}", level="stop", why="label-water",
                    about=label.material, grade=GRADE, scope="water per area",
                    say=Say.of(
                        "label-water", product=label.product,
                        water=_per_hectare(view), least=_litres(label),
                    ),
                    likely=water, limit=label.least_water,
                    source=f"label-{label.material}",
                )
            )  # fmt: skip
    return found


def _rescue(rules: Rules, found: list[Finding], view: Scene) -> tuple[Say, ...]:
    """What a source says may help, for each thing that was found to be too much."""
    much = [f.about for f in found if f.level in ("over", "stop") and f.why in _TOO_MUCH]
    concerned = {d.material.id for about in much for d in view.holds(about)}
    lines = [
        Say.of(
            "rescue",
            about=about_text(rule.of, view.holds(rule.of)),
            say=rule.say,
            only_if=Say.of("only-if", why=rule.only_if) if rule.only_if else "",
            never=Say.of("never", why=rule.never) if rule.never else "",
            source=rule.source.cite(),
        )
        for rule in rules.rescue
        if any(d.material.id in concerned for d in view.holds(rule.of))
    ]
    return (*lines, Say.of("ask-adviser")) if much else ()


_TOO_MUCH = ("limit-over", "excluded")


def _barred(label: Label, crop: Crop) -> bool:
    allowed = not label.crops or not label.crops.isdisjoint(crop.own)
    return not allowed or not label.not_on.isdisjoint(crop.words)


def _label_crop(label: Label, barred: list[Crop], view: Scene) -> Finding:
    """A stop where every crop it is meant for is barred, a caution where only some are."""
    names = ", ".join(crop.name for crop in barred)
    return Finding(
        id=f"label-crop-{label.material}",
        level="stop" if len(barred) == len(view.crops) else "caution",
        why="label-crop",
        about=label.material,
        say=Say.of("label-crop", product=label.product, crop=names),
        scope=names,
        grade=GRADE,
        source=f"label-{label.material}",
    )


def _again_too_soon(knowledge: Knowledge, view: Scene) -> list[Finding]:
    """The same material once more before its label's, its rule's or its recipe's interval."""
    found: list[Finding] = []
    for before, days in knowledge.past:
        if not any(d.material.id == before.id for d in view.delivered):
            continue
        waits = [
            (
                label.interval,
                "stop",
                Say.of("by-label", product=label.product),
                f"label-{label.material}",
            )
            for label in knowledge.labels
            if label.material == before.id and label.interval is not None
        ]
        waits += [
            (rule.wait, "stop" if rule.source.strong else "caution",
             Say.of("by-source", source=rule.source.cite()), rule.source.id)
            for rule in repeat_waits(knowledge.rules.waits, view)
            if matches(rule.of, before)
        ]  # fmt: skip
        repeat = view.recipe.repeat
        if repeat is not None and repeat.interval is not None:
            waits.append((repeat.interval, "caution", Say.of("by-recipe"), ""))
        running = [wait for wait in waits if wait[0].amount_in(DAY) > days]
        if not running:
            continue
        level = min((wait[1] for wait in running), key=LEVELS.index)
        longest = max(wait[0].amount_in(DAY) for wait in running)
        found.append(
            Finding(
                id=f"again-{before.id}",
                level=level,
                why="too-soon",
                about=before.id,
                say=Say.around(
                    "again-too-soon",
                    "waits",
                    [Say.of("wait-by", wait=show(w[0]).metric, who=w[2]) for w in running],
                    "; ",
                    name=before.name,
                    days=days,
                    longest=rounded(longest)[0],
                ),
                source=running[0][3],
            )
        )
    return found


_LITRES_PER_HA = (("hectare", -1), ("liter", 1))


def _per_hectare(view: Scene) -> str:
    area = view.site.judged_area
    assert view.liquid is not None
    assert area is not None
    return f"{rounded((view.liquid / area).amount_in(_LITRES_PER_HA))[0]} L/ha"


def _litres(label: Label) -> str:
    assert label.least_water is not None
    return f"{rounded(label.least_water.amount_in(_LITRES_PER_HA))[0]} L/ha"


def _label_waits(labels: tuple[Label, ...], view: Scene) -> list[Waiting]:
    """Those of the products that are in this mix; a garden holds labels of others too."""
    return [
        Waiting(what, wait, Say.of(key, product=label.product, wait=show(wait).metric))
        for label in labels
        for what, key, wait in (
            ("re-entry", "label-entry", label.entry_wait),
            ("harvest", "label-harvest", label.harvest_wait),
            ("repeat", "label-interval", label.interval),
        )
        if wait is not None and view.holds(label.material)
    ]


def _counts(limits: tuple[Limit, ...], view: Scene) -> list[Say]:
    """How often at most, for the first application: later ones are judged."""
    if view.told.already:
        return []
    return [
        Say.of(
            "count-most",
            names=about_text(limit.of, view.holds(limit.of)),
            most=how_often(int(limit.limit.value)),
            window=limit.window,
            source=limit.source.cite(),
        )
        for limit in limits
        if limit.per == "count" and limit.judges and view.holds(limit.of) and in_scope(limit, view)
    ]


def _assumed(view: Scene) -> tuple[Assumed, ...]:
    found: list[Assumed] = []
    if view.told.crop is None:
        names = ", ".join(dict.fromkeys(crop.name for crop in view.crops))
        found.append(Assumed(Say.of("assume-crop"), names.lower(), Say.of("instead-crop")))
    dissolves = any(d.material.solubility for d in view.delivered)
    if view.liquid is not None and dissolves and not view.told.water_told:
        found.append(
            Assumed(
                Say.of("assume-water"), f"{rounded(view.told.water)[0]} C",
                Say.of("instead-water"),
            )
        )  # fmt: skip
    return tuple(found)


def _not_told(view: Scene) -> tuple[Say, ...]:
    elements = {c.element for d in view.delivered for c in d.material.contents}
    lost = {m.id: m.name for element in sorted(elements) for m in view.uncounted(element)}
    lines = [Say.of("not-counted", name=name) for name in lost.values()]
    if view.told.region is None:
        lines.append(Say.of("not-told-region"))
    return tuple(lines)

"""Holding what is delivered against every limit in scope: five levels, and nothing is cleared.

A limit is one linear form: an amount (a nutrient, a material, a trait) over one exact basis,
within a window. The likely figure and the high one are both held against it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from dosecalc.catalog.limit import Limit
from dosecalc.dose.deliver import Delivered, strength
from dosecalc.dose.result import LEVELS, Finding
from dosecalc.dose.scene import Scene, basis_measure, by_volume, in_scope
from dosecalc.dose.wording import (
    about_text,
    basis_text,
    figure_text,
    limit_text,
    scope_say,
    scope_text,
    times_text,
    window_text,
)
from dosecalc.say import Say
from dosecalc.units.measure import Measure
from dosecalc.units.show import rounded, show
from dosecalc.units.spread import Est, Span

CLOSE = Fraction(95, 100)
"""Above this share of a limit on a narrow-window material a figure is said to be close to it.

Common practice, no source: a good scale's own error is 1 % or so, a careful spread's 5 %.
"""
_PER_ORDER = ("row length", "band area", "field area", "plant", "medium volume", "depth",
              "solution", "irrigation water", "count")  # fmt: skip


def judge(limits: Iterable[Limit], view: Scene) -> tuple[Finding, ...]:
    """Every finding about limits, the most serious first, row figures before area figures.

    Parameters
    ----------
    limits : iterable of Limit
    view : Scene
    """
    held: list[tuple[Limit, Finding]] = []
    untold: dict[str, list[Limit]] = {}
    for limit in limits:
        if not view.holds(limit.of) or not in_scope(limit, view):
            continue
        if view.stock and limit.per in _LIQUID:  # what the plants get is far weaker
            if limit.judges and not limit.lower and not view.feed_held:
                untold.setdefault(limit.of, []).append(limit)
            continue
        if not (limit.judges or limit.lower) or (limit.lower and _only_helps(limit, view)):
            continue
        if limit.per == "count" and not (view.told.already + counted(limit, view)):
            continue  # said as a wait: one application is always the first
        if limit.excludes:
            held.append((limit, _excluded(limit, view)))
            continue
        figure = _figure(limit, view)
        if figure is None:
            if limit.judges and not limit.lower:
                untold.setdefault(limit.of, []).append(limit)
            continue
        finding = _hold(limit, figure, view)
        if finding is not None:
            held.append((limit, finding))
    held = _whatever_the_phase(held)
    held.sort(key=_order)
    found = [finding for _, finding in held]
    found += [_untold(of, missing, view) for of, missing in untold.items()]
    found += _without_limit(view, held, untold)
    return tuple(sorted(found, key=lambda f: LEVELS.index(f.level)))


def _whatever_the_phase(held: list[tuple[Limit, Finding]]) -> list[tuple[Limit, Finding]]:
    """Over the figure of a new bed and over the yearly one: over, whichever it is."""
    phases: dict[str, set[str]] = {}
    for limit, finding in held:
        if finding.why == "limit-over-phase":
            phases.setdefault(limit.of, set()).add(limit.phase)
    return [
        (limit, replace(finding, level="over", why="limit-over",
                        say=replace(finding.say, key="limit-over")))
        if finding.why == "limit-over-phase" and len(phases[limit.of]) > 1
        else (limit, finding)
        for limit, finding in held
    ]  # fmt: skip


def _only_helps(limit: Limit, view: Scene) -> bool:
    """Whether the material is there to help another: its own useful rate is no matter."""
    return all(d.material.id in view.helpers for d in view.holds(limit.of))


def _order(pair: tuple[Limit, Finding]) -> tuple[int, int, Fraction]:
    limit, finding = pair
    ratio = finding.ratio if finding.ratio is not None else Fraction(10**6)
    return LEVELS.index(finding.level), _PER_ORDER.index(limit.per), -ratio


def _figure(limit: Limit, view: Scene) -> Span | None:
    """What this mix, the same given before and the record come to over the limit's basis."""
    if limit.per == "count":
        times = view.told.already + counted(limit, view) + 1
        return Span.exact(Measure(Fraction(times), limit.limit.unit))
    found = figure(limit, view)
    if found is None or limit.per in ("solution", "irrigation water"):
        return found
    return _with_past(found, limit, view)


def figure(limit: Limit, view: Scene) -> Span | None:
    """What this mix, and the same given before, comes to over the limit's basis.

    Parameters
    ----------
    limit : Limit
        Not one that counts applications.
    view : Scene

    Returns
    -------
    Span or None
        In the unit of the limit; None where the site or a density does not tell it.
    """
    given = view.told.already + 1 if limit.window != "application" else 1
    amount = view.amount(limit.of, by_volume(limit.per, limit.limit))
    if amount is None:
        return None
    if view.liquid is None and limit.per in ("solution", "irrigation water"):
        return None
    if view.liquid is not None and limit.per == "irrigation water":
        return amount.over(view.liquid).to(limit.limit.unit).span()
    if view.liquid is not None and limit.per == "solution":
        return strength(amount, view.liquid, view.tools).to(limit.limit.unit).span()
    basis = basis_measure(limit.per, limit.limit, view.site)
    if basis is None:
        return None
    return _over(amount, basis, Fraction(given), limit)


def _before(limit: Limit, figure: Span, view: Scene) -> str:
    """That the figure is a sum, where the record adds to it; of merged ground also the mean."""
    past = view.told.past
    held = dict(past.figures).get(limit.id)
    if held is None:
        return ""
    means = dict(past.means)
    if limit.id not in means:
        return Say.of("with-record").english()
    mean = means[limit.id]
    if mean is None:
        return Say.of("with-record-no-mean").english()
    over_all = Measure(figure.likely - held[1] + mean, figure.unit)
    return Say.of("with-record-part", mean=figure_text(over_all, limit.per)).english()


def counted(limit: Limit, view: Scene) -> int:
    """How many applications the record holds within a limit's window.

    Parameters
    ----------
    limit : Limit
    view : Scene
    """
    return dict(view.told.past.counts).get(limit.id, 0)


def _with_past(figure: Span, limit: Limit, view: Scene) -> Span:
    """Today's figure and what the record holds within the limit's window."""
    before = dict(view.told.past.figures).get(limit.id)
    if before is None:
        return figure
    low, likely, high = before
    return Span(figure.low + low, figure.likely + likely, figure.high + high, figure.unit)


def _over(amount: Est, basis: Measure, given: Fraction, limit: Limit) -> Span:
    return amount.over(basis).by(given).to(limit.limit.unit).span()


def _exceeds(value: Fraction, limit: Limit) -> bool:
    return value > limit.limit.value if limit.inclusive else value >= limit.limit.value


def _hold(limit: Limit, figure: Span, view: Scene) -> Finding | None:
    """One limit's finding; None for a lower bound that is reached."""
    if limit.lower:
        if figure.likely >= limit.limit.value:
            return None
        return _finding(limit, figure, view, "note", "below-useful")
    if _exceeds(figure.likely, limit):
        if limit.source.strong and not _phase_unknown(limit, view):
            return _finding(limit, figure, view, "over", "limit-over")
        why = "limit-over-weak" if not limit.source.strong else "limit-over-phase"
        return _finding(limit, figure, view, "caution", why)
    if _exceeds(figure.high, limit):
        if not limit.source.strong or _phase_unknown(limit, view):
            return _finding(limit, figure, view, "note", "limit-maybe-weak")
        why = "limit-maybe-spooned" if _spooned(limit, view) else "limit-maybe"
        return _finding(limit, figure, view, "caution", why)
    close = limit.per != "count" and figure.likely > CLOSE * limit.limit.value
    if close and view.narrow(limit.of):
        return _finding(limit, figure, view, "caution", "limit-close")
    return _finding(limit, figure, view, "within", "limit-within")


def _excluded(limit: Limit, view: Scene) -> Finding:
    """None at all may be given, so that no basis needs to be known."""
    return Finding(
        id=limit.id,
        level="stop" if limit.source.strong else "caution",
        why="excluded",
        about=limit.of,
        say=Say.of(
            "excluded",
            about=about_text(limit.of, view.holds(limit.of)),
            scope=scope_say(limit),
            source=limit.source.cite(),
            reason=limit.why,
        ),
        limit=limit.limit,
        scope=scope_text(limit),
        grade=limit.source.grade,
        source=limit.source.id,
    )


def _phase_unknown(limit: Limit, view: Scene) -> bool:
    return limit.phase != "any" and view.told.phase is None


def _spooned(limit: Limit, view: Scene) -> bool:
    return any(d.way == "spooned" for d in view.holds(limit.of))


def _finding(limit: Limit, figure: Span, view: Scene, level: str, why: str) -> Finding:
    unit = figure.unit
    ratio = None if limit.limit.value == 0 else figure.likely / limit.limit.value
    window = "" if limit.window == "application" else f" ({window_text(limit)})"
    return Finding(
        id=limit.id,
        level=level,
        why=why,
        about=limit.of,
        say=Say.of(
            why,
            about=about_text(limit.of, view.holds(limit.of)),
            figure=figure_text(Measure(figure.likely, unit), limit.per),
            high=figure_text(Measure(figure.high, unit), limit.per, "up"),
            times="" if ratio is None else times_text(ratio),
            share="" if ratio is None else f"{rounded(ratio * 100, 2)[0]} % of it",
            limit=limit_text(limit),
            basis=basis_text(limit.per)
            + window
            + _through(limit, view)
            + _before(limit, figure, view),
            scope=scope_say(limit),
            source=limit.source.cite(),
            reason=limit.why,
            edge=_edge_amount(limit, figure, view),
        ),
        brief=Say.of(
            "limit-brief",
            about=about_text(limit.of, view.holds(limit.of)),
            times="" if ratio is None else times_text(ratio),
            limit=limit_text(limit),
            scope=scope_say(limit),
            source=limit.source.cite(),
        ),
        likely=Measure(figure.likely, unit),
        high=Measure(figure.high, unit),
        limit=limit.limit,
        ratio=ratio,
        scope=scope_text(limit),
        grade=limit.source.grade,
        source=limit.source.id,
    )


def _through(limit: Limit, view: Scene) -> str:
    """A weight held against a figure in spoons goes through the likely density: say so."""
    weighed = any(d.way == "weighed" for d in view.holds(limit.of))
    return " (by its likely density)" if weighed and by_volume(limit.per, limit.limit) else ""


def _edge_amount(limit: Limit, figure: Span, view: Scene) -> Say | str:
    """How much of the main material reaches the limit on this site, "" where it is plural.

    What was given before is taken off: only the rest of the limit is left for today.
    """
    holders = view.holds(limit.of)
    if len(holders) != 1 or figure.likely == 0 or limit.per in ("count", "irrigation water"):
        return ""
    past = dict(view.told.past.figures).get(limit.id, (0, 0, 0))[1]
    times = view.told.already + 1 if limit.window != "application" else 1
    today = (figure.likely - past) / times
    before = figure.likely - today
    amount = _likely(holders[0], by_volume(limit.per, limit.limit))
    if amount is None or limit.limit.value == 0 or today == 0:
        return ""
    if before >= limit.limit.value:
        return Say.of("limit-edge-none")
    share = (limit.limit.value - before) / today
    material = holders[0].material
    shown = show(amount * share, direction="down", loose=material.loose).both()
    text = f"{shown} of {material.name}"
    return Say.of("limit-edge-left" if before else "limit-edge", amount=text)


def _likely(item: Delivered, as_volume: bool) -> Measure | None:
    first, other = (item.volume, item.mass) if as_volume else (item.mass, item.volume)
    est = first if first is not None else other
    if est is None:
        return None
    span = est.span()
    return Measure(span.likely, span.unit)


_LIQUID = ("solution", "irrigation water")
_HOW_TO_TELL = {
    "field area": "untold-field", "row length": "untold-row", "band area": "untold-band",
    "plant": "untold-plant", "medium volume": "untold-medium", "depth": "untold-field",
    "solution": "untold-solution", "irrigation water": "untold-solution",
}  # fmt: skip


def _untold(of: str, missing: list[Limit], view: Scene) -> Finding:
    """Limits that could not be held because something was not told: never silence."""
    first = min(missing, key=lambda limit: _PER_ORDER.index(limit.per))
    basis = basis_measure(first.per, first.limit, view.site)
    key = _HOW_TO_TELL[first.per]
    if first.per not in ("solution", "irrigation water") and basis is not None:
        key = "untold-density"
    if first.per == "solution" and view.liquid is not None:
        key = "untold-density"
    if first.per in _LIQUID and view.stock:
        key = "untold-feed"
    return Finding(
        id=f"untold-{first.id}",
        level="caution" if view.narrow(of) else "note",
        why="not-told",
        about=of,
        say=Say.of(
            key,
            about=about_text(of, view.holds(of)),
            limit=limit_text(first),
            scope=scope_say(first),
            source=first.source.cite(),
        ),
        limit=first.limit,
        scope=scope_text(first),
        grade=first.source.grade,
        source=first.source.id,
    )


def _without_limit(
    view: Scene, held: list[tuple[Limit, Finding]], untold: dict[str, list[Limit]]
) -> list[Finding]:
    """A note for every material that no limit in scope speaks of."""
    words = {limit.of for limit, _ in held if not limit.lower} | set(untold)
    spoken = {d.material.id for word in words for d in view.holds(word)}
    return [
        Finding(
            id=f"no-limit-{item.material.id}",
            level="note",
            why="no-limit",
            about=item.material.id,
            say=Say.of("no-limit", name=item.material.name),
        )
        for item in view.delivered
        if item.material.id not in spoken
    ]

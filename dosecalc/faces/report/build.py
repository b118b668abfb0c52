"""From the season's report to its words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from dosecalc.catalog.limit import Limit
from dosecalc.catalog.lookup import material, material_ids
from dosecalc.dose.wording import ELEMENT_NAMES, basis_text, figure_text, limit_text, scope_text
from dosecalc.errors import printable
from dosecalc.faces.happened import details_text, size_text
from dosecalc.faces.past import came_of, crop_name, test_says
from dosecalc.faces.report.data import LIMIT_AT, Bar, Document, Given, Place, Section, Sum
from dosecalc.say import Say
from dosecalc.season.entries import Entry
from dosecalc.season.events import Event
from dosecalc.season.report import Held, OfPlace, Report, Total
from dosecalc.season.totals import Spread
from dosecalc.units import read
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, GRAM_PER_M2, KG_PER_HA, Measure
from dosecalc.units.show import listed, number_text, rounded, show, show_span
from dosecalc.units.spread import Span

_ASKED = ("asked mass", "asked volume")


def _t(key: str, **args: object) -> str:
    return Say.of(key, **args).english()


def build(found: Report, garden: str, region: str | None, today: str, tool: str) -> Document:
    """Every word of the report.

    Parameters
    ----------
    garden : str
        The garden's name, "" for none.
    region : str or None
    today, tool : str
        The day of printing, and our version.
    """
    start, end = found.window
    name = f"{printable(garden)}, " if garden else ""
    first = [
        _t("report-first", start=start, end=end),
        _t("report-region", region=region) if region else _t("report-region-none"),
        _t("report-printed", tool=tool, day=today),
    ]
    if not found.places:
        first.append(_t("report-empty"))
    events = [_event(event, found.events) for event in found.events]
    return Document(
        title=_t("report-title", garden=name, start=start, end=end),
        first=tuple(first),
        places=tuple(_place(one, found.window) for one in found.places),
        sections=(
            Section(
                _t("report-changed"),
                tuple(map(_changed, found.changed)) or (_t("report-changed-none"),),
            ),
            Section(_t("report-events"), tuple(events) or (_t("report-events-none"),)),
        ),
        page=_t("report-page"),
        none=_t("report-limits-none"),
    )


def _place(one: OfPlace, window: tuple[str, str]) -> Place:
    heads = [_t(f"report-head-{name}") for name in ("day", "what", "crop", "who", "weather")]
    return Place(
        title=_title(one),
        about=tuple(_about(one, window)),
        given_title=_t("report-given"),
        heads=tuple(heads),
        given=tuple(_given(one, at, entry) for at, entry in one.given),
        sums_title=_t("report-totals"),
        sum_heads=tuple(_t(f"report-head-{name}") for name in ("of", "amount", "area")),
        sums=tuple(map(_sum, one.totals)),
        bars_title=_t("report-limits"),
        key=_t("report-key"),
        bars=tuple(map(_bar, one.held)),
        sections=(
            Section(_t("report-tests"), tuple(_tests(one, window[1]))),
            Section(_t("report-unknown"), tuple(_unknown(one))),
        ),
    )


def _title(one: OfPlace) -> str:
    piece = one.here.lineage.piece
    names = {(True, True): "both", (True, False): "from", (False, True): "until"}
    key = names.get((piece.start is not None, piece.end is not None))
    name = f"report-place-{key}" if key else "report-place"
    return _t(name, bed=printable(piece.name), start=piece.start, end=piece.end)


def _about(one: OfPlace, window: tuple[str, str]) -> list[str]:
    start, end = window
    lines = [
        _t("report-excluded", about=_of(limit), count=count, scope=scope_text(limit),
           source=limit.source.cite())
        for limit, count in one.untold
        if limit.excludes
    ]  # fmt: skip
    lines += [say.english() for say in came_of(one.here, end)]
    if one.here.lineage.piece.size:
        size = size_text(one.here.lineage.piece.size)
        lines.append(_t("report-size", size=size))
    stood = [
        g for g in one.here.crops if (g.start or "") <= end and (g.end or "~") >= start
    ]  # fmt: skip
    for g in stood:
        key = "report-crop" if g.end else "report-crop-stands"
        key = key if g.start else "report-crop-no-start"
        lines.append(_t(key, crop=crop_name(g.crop), start=g.start, end=g.end))
    return lines if stood else [*lines, _t("report-crop-none")]


def _given(one: OfPlace, at: int, entry: Entry) -> Given:
    by = "report-by-hand" if entry.recipe == "as-done" else "report-recipe"
    more = [_t(by, recipe=entry.recipe, placement=entry.placement)]
    last = len(one.here.lineage.pieces) - 1
    if at != last:
        share = one.here.lineage.masses()[at]
        bed = printable(one.here.lineage.pieces[at].name)
        if share is None:
            more.append(_t("report-given-on", bed=bed))
        elif share == 1:
            more.append(_t("report-given-before", bed=bed))
        else:
            more.append(_t("report-given-share", bed=bed, share=f"{rounded(share * 100)[0]} %"))
    for name in ("stage", "registration", "note"):
        text = getattr(entry, name)
        more += [_t(f"report-{name}", text=printable(text.replace("\n", "; ")))] if text else []
    if entry.about is not None:
        more.append(_t("report-corrects", id=entry.about))
    more.append(_t("report-id", id=entry.id))
    return Given(
        day=entry.day,
        what=printable(_what(entry)),
        crop=crop_name(entry.crop),
        who=printable(entry.who),
        weather=printable(entry.weather),
        more=tuple(more),
    )


def _name(what: str) -> str:
    if what in ELEMENT_NAMES:
        return ELEMENT_NAMES[what]
    return material(what).name if what in material_ids() else what


def _what(entry: Entry) -> str:
    """What was given, in one line: "34 g Borax"."""
    asked = [(what, span) for (kind, what), span in entry.amounts.items() if kind in _ASKED]
    likely = {what: span[1] for what, span in reversed(asked)}
    return ", ".join(
        f"{show(read.quantity(text)).metric} {_name(what)}" for what, text in likely.items()
    )


def _sum(total: Total) -> Sum:
    none = _t("report-not-known")
    amount = none if total.mass is None else show_span(_span(total.mass, GRAM))
    area = none
    if total.per_area is not None:
        area = _per_area(total.per_area)
        if total.mean is not None and total.mean != total.per_area[1]:
            mean = number_text(Measure(total.mean, GRAM_PER_M2), KG_PER_HA)
            area += _t("report-mean", mean=mean)
    if total.without_area:
        area += _t("report-without-area", count=total.without_area)
    return Sum(_name(total.what), amount, area)


def _per_area(figures: Spread) -> str:
    span = _span(figures, GRAM_PER_M2)
    shown = show_span(span, unit=GRAM_PER_M2)
    return f"{shown}, {show_span(span.to(KG_PER_HA), unit=KG_PER_HA)}"


def _span(figures: Spread, unit: Unit) -> Span:
    return Span(*figures, unit)


def _of(limit: Limit) -> str:
    if limit.of.startswith("salt:"):
        return limit.of.removeprefix("salt:")
    if limit.of.startswith("trait:"):
        return limit.of.removeprefix("trait:").replace("-", " ")
    return _name(limit.of)


def _bar(one: Held) -> Bar:
    limit = one.limit
    unit = limit.limit.unit
    figure = figure_text(Measure(one.likely, unit), limit.per)
    high = figure_text(Measure(one.high, unit), limit.per, "up")
    key = "report-figure-exact" if one.high == one.likely else "report-figure"
    more = [_t("report-together" if one.together > 1 else "report-reached", day=one.day,
               count=one.together)]  # fmt: skip
    if one.mean is None:
        more.append(_t("report-bar-no-mean"))
    elif one.mean != one.likely:
        mean = figure_text(Measure(one.mean, unit), limit.per)
        more.append(_t("report-bar-mean", mean=mean))
    if one.together > 1 and limit.window == "application":
        more.append(_t("report-bar-narrow"))
    most = limit.limit.value
    return Bar(
        about=_of(limit),
        figure=_t(key, figure=figure, high=high, basis=basis_text(limit.per)),
        limit=limit_text(limit),
        ratio=_t("report-none-at-all") if not most else _t("report-ratio", share=_share(one)),
        mark=_mark(one),
        scope=scope_text(limit),
        source=limit.source.cite(),
        more=tuple(more),
        likely=one.likely / most * LIMIT_AT if most else None,
        high=one.high / most * LIMIT_AT if most else None,
    )


def _share(one: Held) -> str:
    """Percent of the limit, to three digits; never rounded onto the limit itself."""
    share = one.likely / one.limit.limit.value * 100
    digits = 3
    while share != 100 and digits < 12 and Fraction(rounded(share, digits)[0]) == 100:
        digits += 1
    return rounded(share, digits)[0]


def _mark(one: Held) -> str:
    if not one.over:
        return ""
    if not one.limit.source.strong:
        return _t("report-over-weak")
    return _t("report-over" if one.over == "likely" else "report-maybe")


def _tests(one: OfPlace, end: str) -> list[str]:
    lines = [
        _t("report-test", day=test.day, of=test.of, place=printable(test.place), say=say)
        for test in one.here.tests
        if test.day <= end
        for _, say in test_says(test)
    ]
    soil = any(test.of == "soil" and test.day <= end for test in one.here.tests)
    return lines if soil else [*lines, _t("report-test-none")]


def _unknown(one: OfPlace) -> list[str]:
    entries = [entry for _, entry in one.given]
    lines = []
    for key, lacks in (
        ("crop", [e for e in entries if not e.crop]),
        ("who", [e for e in entries if not e.who]),
        ("weather", [e for e in entries if not e.weather]),
        ("area", [e for e in entries if "judged_area" not in e.ground]),
    ):
        if lacks:
            lines.append(_t(f"report-no-{key}", count=len(lacks), of=len(entries)))
    lines += [
        _t(
            "report-untold", about=_of(limit), limit=limit_text(limit), count=count,
            basis=basis_text(limit.per), source=limit.source.cite(),
        )
        for limit, count in one.untold
        if not limit.excludes
    ]  # fmt: skip
    if one.unlimited:
        lines.append(_t("report-unlimited", names=listed(list(one.unlimited))))
    if one.foreign:
        lines.append(_t("report-foreign", names=printable(", ".join(one.foreign))))
    return [*lines, _t("report-not-written")]


def _changed(pair: tuple[Entry, Entry]) -> str:
    old, new = pair
    args = {
        "day": old.day, "bed": printable(old.bed), "what": printable(_what(old)), "old": old.id,
        "written": new.written[:10],
    }  # fmt: skip
    if new.kind == "undo":
        return _t("report-undone", **args)
    now = printable(f"{_what(new)}, {new.day}, {new.bed}")
    return _t("report-corrected", **args, new=new.id, now=now)


def _event(event: Event, others: Sequence[Event]) -> str:
    what = printable(event.what)
    if event.kind == "withdrawn":
        kind = next((e.kind for e in others if e.id == event.about), "event")
        return _t(
            "report-withdrawn", day=event.day, kind=kind, what=what, old=event.about,
            written=event.written[:10],
        )  # fmt: skip
    details = printable(details_text(event)) or "-"
    return _t(
        "report-event", day=event.day, kind=event.kind, what=what, details=details, id=event.id
    )

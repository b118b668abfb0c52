"""Totals over the windows of limits, held against sums made by hand."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog.limit import ANY, Limit, read_limits
from dosecalc.catalog.lookup import source
from dosecalc.dose.result import Finding
from dosecalc.season.entries import add, counting, one
from dosecalc.season.store import reading, writing
from dosecalc.season.totals import past, years_before
from dosecalc.units import read
from tests.season.test_season import (
    ROW,
    copper_limit,
    entry,
    fill,
    judged,
    judged_empty,
    log,
    mixed,
    of,
)

COPPER = next(
    limit
    for limit in read_limits(None, source)
    if limit.of == "Cu" and limit.window == "rolling years"
)
WINDOWS = {
    "seven years": replace(COPPER, placement=ANY),
    "one year": replace(COPPER, placement=ANY, years=1),
    "calendar year": replace(COPPER, placement=ANY, window="calendar year"),
    "crop": replace(COPPER, placement=ANY, window="crop"),
    "application": replace(COPPER, placement=ANY, window="application"),
    "lifetime": replace(COPPER, placement=ANY, window="lifetime"),
}  # fmt: skip
DAYS = st.one_of(
    st.dates(datetime.date(2018, 1, 1), datetime.date(2028, 12, 31)),
    st.sampled_from([datetime.date(y, m, d) for y, m, d in (
        (2020, 2, 29), (2024, 2, 29), (2028, 2, 29), (2021, 2, 28), (2021, 3, 1), (2027, 2, 28),
        (2027, 3, 1), (2025, 12, 31), (2026, 1, 1),
    )]),
)  # fmt: skip
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["given", "given", "correct", "undo"]), DAYS, st.integers(1, 99_999),
        st.sampled_from(["beet", "apple", ""]), st.integers(0, 20),
    ),
    max_size=14,
)  # fmt: skip


def by_hand(limit: Limit, then: datetime.date, crop: str, today: datetime.date, mine: str) -> bool:
    """Whether an entry counts, reckoned from the day it leaves the window again."""
    if then > today:
        return False
    if limit.window == "lifetime":
        return True
    if limit.window == "calendar year":
        return then.year == today.year
    if limit.window == "rolling years":
        return (then.year + limit.years, then.month, then.day) > (
            today.year, today.month, today.day,
        )  # fmt: skip
    return crop == mine and then + datetime.timedelta(days=365) > today


@settings(max_examples=60, deadline=None)
@given(steps=STEPS, today=DAYS, mine=st.sampled_from(["beet", "apple", ""]))
def test_totals_of_every_window_are_the_sum_by_hand(
    tmp_path_factory: Any, steps: list[Any], today: datetime.date, mine: str
) -> None:
    """Entries, corrections that move day, amount and crop, and undos, over one hectare."""
    file: Path = tmp_path_factory.mktemp("season") / "s.sqlite"
    stands: dict[str, tuple[datetime.date, int, str]] = {}
    with writing(file) as base:
        for n, (what, day, milligrams, crop, which) in enumerate(steps):
            id = f"{n:02}"
            about = sorted(stands)[which % len(stands)] if stands and what != "given" else None
            kind = what if about is not None else "given"
            grams = "1/7 gram" if kind == "undo" else f"{milligrams}/1000 gram"
            new = entry(id, day.isoformat(), kind=kind, about=about, crop=crop, grams=grams)
            add(base, new)
            if about is not None:
                del stands[about]
            if kind != "undo":
                stands[id] = (day, milligrams, crop)
    with reading(file) as base:
        entries = list(counting(base, "NORTH"))
    assert sorted(e.id for e in entries) == sorted(stands)
    assert [e.day for e in entries] == sorted(e.day for e in entries)
    for name, limit in WINDOWS.items():
        found = past(entries, [limit], today, mine)
        within = [mg for day, mg, crop in stands.values() if by_hand(limit, day, crop, today, mine)]
        # One hectare: grams are the figure in g/ha, and the limit is in kg/ha.
        total = Fraction(sum(within), 1000) / 1000
        assert dict(found.figures) == ({limit.id: (total,) * 3} if within else {}), name
        assert dict(found.counts) == ({limit.id: len(within)} if within else {}), name
        assert found.entries == sum(day <= today for day, _, _ in stands.values())


@pytest.mark.parametrize(
    ("day", "today", "count"),
    [("2026-05-01", "2027-04-30", 1), ("2026-05-01", "2027-05-01", 0),
     ("2023-05-01", "2024-04-29", 1), ("2023-05-01", "2024-04-30", 0)],
)  # fmt: skip
def test_a_crop_reaches_back_364_days_and_no_further(day: str, today: str, count: int) -> None:
    found = past([entry("a", day, crop="beet")], [WINDOWS["crop"]],
                 datetime.date.fromisoformat(today), "beet")  # fmt: skip
    assert len(found.counts) == count


@given(day=DAYS, years=st.integers(1, 9))
def test_so_many_years_before_is_never_a_day_too_many(day: datetime.date, years: int) -> None:
    found = years_before(day, years)
    assert found.year == day.year - years
    later = found + datetime.timedelta(days=1)
    assert (later.year + years, later.month, later.day) > (day.year, day.month, day.day)


def copper_over_the_years(folder: Path, first: str) -> tuple[Path, str, Fraction]:
    """Entries that bring today's spray to exactly 28 kg/ha; the first one lies on `first`."""
    today = judged_empty(folder)
    mine = next(s for s in today.supplies if s.nutrient == "Cu").mass.to((("gram", 1),)).likely
    file = folder / "s.sqlite"
    later = ["2022-06-01", "2023-06-01", "2024-06-01", "2025-06-01"]
    rest = 28_000 - mine - 4 * 4000
    fill(file, entry("first", first, grams=f"{rest} gram"),
         *(entry(f"b{n}", day, grams="4000 gram") for n, day in enumerate(later)))  # fmt: skip
    return file, copper_limit(today), rest


def on(file: Path, day: str, limit: str) -> Finding:
    return of(judged(file, day, region="EU"), limit)


@pytest.mark.parametrize(
    ("first", "last_in", "first_out"),
    [
        ("2020-02-29", "2027-02-28", "2027-03-01"),  # the 29th has its birthday on 1 March
        ("2020-03-01", "2027-02-28", "2027-03-01"),
        ("2020-02-28", "2027-02-27", "2027-02-28"),
        ("2021-02-28", "2028-02-27", "2028-02-28"),
        ("2021-03-01", "2028-02-29", "2028-03-01"),
        ("2019-12-31", "2026-12-30", "2026-12-31"),
    ],
)
def test_28_kilograms_of_copper_in_seven_years_pass_and_one_gram_more_is_over(
    first: str, last_in: str, first_out: str, tmp_path: Path
) -> None:
    """Implementing Regulation (EU) 2018/1981: at most 28 kg/ha of copper over seven years."""
    file, limit, _ = copper_over_the_years(tmp_path, first)
    exact = on(file, last_in, limit)
    assert (exact.ratio, exact.level) != (None, "over")
    assert exact.ratio == 1
    with reading(file) as base:
        heavier = one(base, "first").amounts["nutrient", "Cu"][1]
    grams = read.quantity(heavier).value + 1
    fill(file, entry("more", first, kind="correct", about="first", grams=f"{grams} gram"))
    assert on(file, last_in, limit).level == "over"
    out = on(file, first_out, limit)
    assert out.level != "over"
    assert out.ratio is not None
    assert out.ratio < 1
    # A gram less, one undone entry, or an entry of another place: none is over.
    fill(file, entry("gone", "2025-06-01", kind="undo", about="b3", amounts={}))
    assert on(file, last_in, limit).level != "over"


def test_irrigation_water_alone_is_on_the_record_before_any_borax(tmp_path: Path) -> None:
    """400 mm x 0.8 mg B/L = 4000 m3/ha x 0.8 g/m3 = 3200 g/ha, exactly."""
    file = tmp_path / "s.sqlite"
    done = log(file, "--holds", "0.8 mg/L B", "--depth", "400 mm", "--area", "18 m2", "--crop",
               "beetroot", "--place", "north", "--on", "2026-05-02")  # fmt: skip
    assert done.exception is None, done.exception
    with reading(file) as base:
        (given_,) = counting(base)
    boron = read.quantity(given_.amounts["nutrient", "B"][1])
    kilograms = read.quantity("3.2 kg/ha")
    area = read.quantity(given_.ground["judged_area"])
    assert (boron / area).to(kilograms.unit) == kilograms
    per_area = [
        limit
        for limit in read_limits(None, source)
        if limit.of == "B" and limit.per == "field area" and not limit.lower
        and limit.window in ("crop", "application", "season", "calendar year")
    ]  # fmt: skip
    assert per_area
    found = past([given_], per_area, datetime.date(2026, 5, 20), "beet")
    figures = dict(found.figures)
    assert len(figures) == len(per_area)
    for limit in per_area:
        assert figures[limit.id] == (kilograms.amount_in(limit.limit.unit),) * 3
    # The first borax meets it: 2.14 kg/ha alone is within, with the water it is over.
    dry = tmp_path / "dry.sqlite"
    fill(dry)
    alone = mixed(dry, *ROW, "--on", "2026-05-20")
    both = mixed(file, *ROW, "--on", "2026-05-20")
    over = [f["id"] for f in both["findings"] if f["about"] == "B" and f["level"] == "over"]
    assert over
    assert not [f for f in alone["findings"] if f["id"] in over and f["level"] == "over"]


def test_what_is_being_corrected_is_not_counted_beside_its_correction(tmp_path: Path) -> None:
    """A drench of 34 g corrected to one of 30 g is one drench, not two."""
    file = tmp_path / "s.sqlite"
    first = log(file, *ROW, "--on", "2026-05-02")
    assert first.exception is None
    again = log(file, "correct", "last", *ROW, "--on", "2026-05-02")
    assert again.exception is None
    assert "with what the record" not in again.output
    second = log(file, *ROW, "--on", "2026-05-03")
    assert "with what the record" in second.output


def test_a_first_entry_is_not_judged_with_another_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A record that is made anew with --season never borrows the one that lies in the folder."""
    monkeypatch.chdir(tmp_path)
    assert log(tmp_path / "season.sqlite", *ROW, "--on", "2026-05-02").exception is None
    done = log(tmp_path / "other.sqlite", *ROW, "--on", "2026-05-20")
    assert done.exception is None
    assert "with what the record" not in done.output

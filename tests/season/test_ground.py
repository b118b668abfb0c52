"""Beds split and merged: what was given follows the ground, and no limit is escaped so."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import dosecalc.faces.cli as cli
from dosecalc.season.events import Event
from dosecalc.season.ground import PART, Ground, Lineage, follow

ROW = ("--row", "40 m", "--row-spacing", "45 cm", "--crop", "beetroot")

KG_PER_HA = 0.45359237 / 0.40468564224
"""Of a pound per acre, as the limit for boron is printed (NIST HB 44, international acre)."""


def split(day: int, what: str, **parts: str) -> Event:
    return _event("split", day, what, parts)


def merge(day: int, what: str, **parts: str) -> Event:
    return _event("merge", day, what, parts)


def _event(kind: str, day: int, what: str, parts: dict[str, str]) -> Event:
    details = {f"{PART}{name}": size for name, size in parts.items()}
    return Event(f"e{day}", kind, None, _day(day), f"{day:04}", what, "", details)


def _day(number: int) -> str:
    return f"20{number // 336:02}-{number // 28 % 12 + 1:02}-{number % 28 + 1:02}"


def now(ground: Ground, name: str, day: int) -> Lineage:
    found = ground.now(name, _day(day))
    assert found is not None
    return found


def per_area(ground: Ground, lineage: Lineage, doses: list[tuple[str, int, int]]) -> Any:
    """(highest, mean) of doses (name, day, grams per m2)."""
    own = [Fraction(0)] * len(lineage.pieces)
    for name, day, grams in doses:
        step = ground.step(lineage, name, _day(day))
        if step is not None:
            own[step] += grams
    return lineage.highest([[figure] for figure in own])[0], lineage.mean(own)


def test_a_part_has_what_the_whole_had_per_area_and_its_share_of_the_amount() -> None:
    ground = follow([split(10, "north", a="12 m2", b="6 m2")])
    part = now(ground, "a", 20)
    assert per_area(ground, part, [("north", 5, 7), ("b", 12, 100)]) == (7, 7)
    assert part.masses() == (Fraction(2, 3), 1)


def test_a_merged_bed_is_judged_by_its_highest_part_and_its_mean_is_by_area() -> None:
    ground = follow([merge(10, "north", a="12 m2", b="6 m2")])
    whole = now(ground, "north", 20)
    assert per_area(ground, whole, [("a", 5, 3), ("b", 6, 9), ("north", 15, 1)]) == (10, 6)


def test_split_merged_and_split_again() -> None:
    ground = follow(
        [
            split(10, "north", a="12 m2", b="6 m2"),
            merge(20, "north", a="12 m2", b="6 m2"),
            split(30, "north", c="9 m2", d="9 m2"),
        ]
    )
    doses = [("north", 5, 1), ("a", 15, 2), ("b", 15, 4), ("north", 25, 8), ("c", 35, 16)]
    assert per_area(ground, now(ground, "c", 40), doses) == (29, 25 + Fraction(2 * 12 + 4 * 6, 18))
    assert per_area(ground, now(ground, "d", 40), doses)[0] == 13
    assert per_area(ground, now(ground, "north", 25), doses[:4])[0] == 13
    assert ground.now("north", _day(40)) is None
    assert ground.now("a", _day(25)) is None


def test_the_day_itself_belongs_to_the_whole_and_entries_of_no_ground_are_not_lost() -> None:
    ground = follow([split(10, "north", a="12 m2", b="6 m2"), split(50, "a", e="1 m2", f="11 m2")])
    lineage = now(ground, "a", 20)
    assert per_area(ground, lineage, [("north", 10, 1)])[0] == 1
    # "north" written after it was split meets each part; "a" before it began is still "a".
    assert per_area(ground, lineage, [("north", 15, 1), ("a", 5, 2)])[0] == 3
    assert per_area(ground, now(ground, "e", 60), [("a", 50, 1), ("a", 55, 2)])[0] == 3


def test_a_part_may_keep_the_name_of_the_whole() -> None:
    ground = follow([split(10, "north", north="12 m2", b="6 m2")])
    doses = [("north", 5, 1), ("north", 15, 2)]
    assert per_area(ground, now(ground, "north", 20), doses)[0] == 3
    assert per_area(ground, now(ground, "b", 20), doses)[0] == 1
    assert ground.faults == ()


def test_events_that_do_not_fit_are_faults_and_lose_nothing() -> None:
    ground = follow(
        [split(10, "north", a="1 m2", b="1 m2"), split(20, "north", c="1 m2", d="1 m2")]
    )
    assert [fault.key for fault in ground.faults] == ["ground-gone"]
    assert per_area(ground, now(ground, "c", 30), [("north", 5, 3)])[0] == 3
    ground = follow([merge(5, "a", x="1 m2", y="1 m2"), split(10, "north", a="1 m2", b="1 m2")])
    assert [fault.key for fault in ground.faults] == ["ground-in-use"]
    assert per_area(ground, now(ground, "a", 30), [("x", 1, 5), ("north", 1, 2)])[0] == 5


def test_sizes_that_are_not_told_leave_no_mean_and_keep_the_highest() -> None:
    ground = follow([merge(10, "north", a="", b="6 m2")])
    assert per_area(ground, now(ground, "north", 20), [("a", 5, 3)]) == (3, None)


def test_sizes_that_do_not_add_up_are_said() -> None:
    event = split(10, "north", a="12 m2", b="5 m2")
    told = Event(*(getattr(event, n) for n in event.__slots__[:-1]),
                 details={**event.details, "size": "18 m2"})  # fmt: skip
    said = [say.english() for say in follow([told]).said]
    assert len(said) == 1
    assert "17 m2" in said[0]
    assert "18 m2" in said[0]
    assert follow([split(10, "north", a="12 m2", b="6 m2")]).said == ()


class _Field:
    """Ground as single square metres: each knows every gram that fell on it. The slow way."""

    def __init__(self, size: int) -> None:
        self.beds = {"bed0": list(range(size))}
        self.grams = [Fraction(0)] * size
        self.events: list[Event] = []
        self.doses: list[tuple[str, int, int]] = []
        self.day = 1
        self.count = 0

    def name(self) -> str:
        self.count += 1
        return f"bed{self.count}"

    def step(self, kind: str, pick: int, at: int, grams: int) -> None:
        self.day += 2
        names = sorted(self.beds)
        bed = names[pick % len(names)]
        cells = self.beds[bed]
        if kind == "dose":
            self.doses.append((bed, self.day, grams))
            for cell in cells:
                self.grams[cell] += grams
        elif kind == "split" and len(cells) > 1:
            cut = at % (len(cells) - 1) + 1
            one, other = self.name(), self.name()
            self.events.append(split(self.day, bed, **{one: f"{cut} m2",
                                     other: f"{len(cells) - cut} m2"}))  # fmt: skip
            del self.beds[bed]
            self.beds |= {one: cells[:cut], other: cells[cut:]}
        elif kind == "merge" and len(names) > 1:
            other = names[(pick + 1 + at % (len(names) - 1)) % len(names)]
            new = self.name()
            sizes = {b: f"{len(self.beds[b])} m2" for b in (bed, other)}
            self.events.append(merge(self.day, new, **sizes))
            self.beds[new] = self.beds.pop(bed) + self.beds.pop(other)


STEPS = st.lists(
    st.tuples(st.sampled_from(["dose", "split", "merge"]), st.integers(0, 9), st.integers(0, 9),
              st.integers(1, 50)),
    max_size=25,
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(steps=STEPS)
def test_any_chain_keeps_mass_and_never_hides_a_square_metre(
    steps: list[tuple[str, int, int, int]],
) -> None:
    """The field is counted cell by cell beside it: the highest is never below any cell's sum."""
    field = _Field(12)
    for step in steps:
        field.step(*step)
    ground = follow(field.events)
    assert ground.faults == ()
    total = Fraction(0)
    for bed, cells in field.beds.items():
        lineage = now(ground, bed, field.day + 1)
        highest, _ = per_area(ground, lineage, field.doses)
        assert highest >= max(field.grams[cell] for cell in cells)
        size = {name: _size_of(field, name) for name, _, _ in field.doses}
        for name, day, grams in field.doses:
            at = ground.step(lineage, name, _day(day))
            if at is not None:
                share = lineage.masses()[at]
                assert share is not None
                total += share * grams * size[name]
    assert total == sum(grams * _size_of(field, name) for name, _, grams in field.doses)


def _size_of(field: _Field, bed: str) -> int:
    for event in field.events:
        for name, size in event.details.items():
            if name == PART + bed:
                return int(size.split()[0])
        if event.kind == "merge" and event.what == bed:
            return sum(int(size.split()[0]) for size in event.details.values())
    return 12


@settings(max_examples=60, deadline=None)
@given(cuts=st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=8))
def test_splits_alone_keep_what_was_given_per_area(cuts: list[tuple[int, int]]) -> None:
    field = _Field(12)
    field.step("dose", 0, 0, 7)
    for pick, at in cuts:
        field.step("split", pick, at, 1)
    ground = follow(field.events)
    for bed in field.beds:
        assert per_area(ground, now(ground, bed, field.day + 1), field.doses) == (7, 7)


# By the command line, as a grower types it


def run(file: Path, *words: str) -> Result:
    return CliRunner().invoke(cli.group, [*words, "--season", str(file)], standalone_mode=False)


def found(file: Path, place: str, day: str, *more: str) -> dict[str, Any]:
    done = run(file, "mix", "boron-drench", *ROW, "--place", place, "--on", day, "--json", *more)
    assert done.exception is None, done.exception
    made: dict[str, Any] = json.loads(done.output)
    return made


def boron(mix: dict[str, Any]) -> dict[str, Any]:
    return next(f for f in mix["findings"] if f["about"] == "B" and "whole ground" in f["say"])


def logged(file: Path, *words: str) -> Result:
    done = run(file, "log", *words)
    assert done.exception is None, done.exception
    return done


def test_the_second_boron_dose_on_a_part_is_judged_with_the_first(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    logged(file, "boron-drench", *ROW, "--place", "north", "--on", "2026-05-02")
    before = boron(found(file, "north", "2026-05-20"))
    logged(file, "split", "north", "--into", "north-a 12 m2", "north-b 6 m2", "--on", "2026-05-10")
    part = boron(found(file, "north-a", "2026-05-20"))
    assert part["likely"] == before["likely"]
    assert part["level"] == "over"
    done = run(file, "mix", "boron-drench", *ROW, "--place", "north", "--on", "2026-05-20")
    assert "became north-a and north-b" in str(done.exception)
    logged(file, "boron-drench", *ROW, "--place", "north-a", "--on", "2026-05-20")
    logged(file, "merge", "north-a", "north-b", "--into", "north", "--on", "2026-05-25")
    merged = found(file, "north", "2026-05-26")
    one = before["likely"]["value"] / 2
    assert boron(merged)["likely"]["value"] == pytest.approx(3 * one)
    mean = one * (1 + 1 + 2 / 3)
    assert f"{mean * KG_PER_HA:.2f} kg/ha as the mean" in boron(merged)["say"]


def test_irrigation_water_follows_the_ground(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    water = ("--holds", "0.8 mg/L B", "--depth", "400 mm", "--area", "18 m2")
    logged(file, *water, "--place", "north", "--on", "2026-05-02", "--crop", "beetroot")
    whole = boron(found(file, "north", "2026-05-20"))
    logged(file, "split", "north", "--into", "a 12 m2", "b 6 m2", "--on", "2026-05-10")
    assert boron(found(file, "a", "2026-05-20"))["likely"] == whole["likely"]
    alone = boron(found(file, "elsewhere", "2026-05-20"))
    per_area = whole["likely"]["value"] - alone["likely"]["value"]
    assert per_area * KG_PER_HA == pytest.approx(3.2, rel=1e-5)  # 0.8 mg/L x 400 L/m2


def test_a_withdrawn_split_is_no_split(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    logged(file, "boron-drench", *ROW, "--place", "north", "--on", "2026-05-02")
    before = found(file, "north", "2026-05-20")
    logged(file, "split", "north", "--into", "a 12 m2", "b 6 m2", "--on", "2026-05-10")
    logged(file, "withdraw", "last")
    assert found(file, "north", "2026-05-20") == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("split", "north", "--into", "a 12 m2"), "two parts or more"),
        (("split", "north", "--into", "a 12 m2", "a 6 m2"), "stands twice"),
        (("split", "north", "--into", "a 12 m2", "b 6 m"), "all areas or all lengths"),
        (("split", "north", "--into", "a 12 m2", "b 6 kg"), "write a name and then its size"),
        (("split", "north", "--into", "a 12 m2", "b 0 m2"), "write a name and then its size"),
        (("split", "north", "--into", "a", "b", "--on", "2999-01-01"), "lies ahead"),
        (("split", "north", "--into", "a", "east"), "has entries before"),
        (("split", "old", "--into", "a", "b"), "split or merged on 2026-03-01 already"),
        (("split", "west", "--into", "old-a", "b"), "ground of its own already"),
        (("merge", "north", "--into", "all"), "two places or more"),
        (("merge", "north", "east", "--into", "all"), "how big 'north' is"),
        (("merge", "north 2 m2", "east 3 m2", "--into", "old-a"), "ground of its own already"),
        (("merge", "old 2 m2", "east 3 m2", "--into", "all"), "already"),
        (("withdraw", "ffff"), "is no event"),
        (("crop", "start", "beetroot", "--place", "old"), "became old-a and old-b"),
        (("crop", "start", "beetroot", "--place", "old-a", "--on", "2026-02-01"), "began on"),
        (("crop", "start", "betroot", "--place", "north"), "beetroot"),
        (("crop", "end", "--place", "north"), "nothing stands"),
        (("crop", "start", "beetroot"), "which ground is meant"),
        (("test", "--place", "north"), "needs figures"),
        (("test", "--place", "north", "--soil", "boron low"), "write what, the figure"),
        (("test", "--place", "north", "--soil", "B 0.6"), "write what, the figure"),
        (("test", "--place", "north", "--soil", "B 0.6 mg/kg", "--soil", "B 0.7 mg/kg"), "before"),
        (("test", "--place", "north", "--soil", "B 1 mg/kg", "--leaf", "B 9 mg/kg"), "two tests"),
    ],
)  # fmt: skip
def test_bad_words_are_one_sentence_and_nothing_is_written(
    words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    file = tmp_path / "s.sqlite"
    for place in ("north", "east"):
        logged(file, "boron-drench", *ROW, "--place", place, "--on", "2026-05-02")
    logged(file, "split", "old", "--into", "old-a 1 m2", "old-b 1 m2", "--on", "2026-03-01")
    before = logged(file, "events").output
    done = run(file, "log", *words)
    assert said in str(done.exception)
    assert str(done.exception).count("\n") == 0
    assert logged(file, "events").output == before


def test_what_rests_on_a_split_keeps_it(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    logged(file, "split", "north", "--into", "a 12 m2", "b 6 m2", "--on", "2026-05-10")
    first = logged(file, "events").output.split()[0]
    done = logged(file, "merge", "a", "b", "--into", "north", "--on", "2026-05-11")
    assert "12 m2" in done.output
    assert "rest on it" in str(run(file, "log", "withdraw", first).exception)
    logged(file, "withdraw", "last")
    assert first in logged(file, "withdraw", first).output

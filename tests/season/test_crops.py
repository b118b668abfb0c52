"""Crops that begin and end, and what they decide: which doses count together, for whom."""

from __future__ import annotations

from pathlib import Path

import pytest

from dosecalc.season.crops import Growing, growing, standing_on, window
from dosecalc.season.entries import counting
from dosecalc.season.events import Event
from dosecalc.season.ground import follow
from dosecalc.season.store import reading
from tests.season.test_ground import boron, found, logged, merge, now, run, split

ROW = ("--row", "40 m", "--row-spacing", "45 cm")


def crop(kind: str, day: str, what: str, name: str) -> Event:
    return Event(f"{kind}{day}{what}", f"crop {kind}", None, day, day, what, "", {"crop": name})


def on(place: str, *events: Event, beds: tuple[Event, ...] = (), day: int = 300) -> list[Growing]:
    ground = follow(beds)
    return list(growing(ground, now(ground, place, day), events))


def test_two_crops_in_a_year_and_one_sown_under() -> None:
    found = on(
        "north",
        crop("start", "2026-03-01", "north", "lettuce"),
        crop("end", "2026-05-10", "north", "lettuce"),
        crop("start", "2026-05-10", "north", "beet"),
        crop("start", "2026-06-01", "north", "clover"),
        crop("start", "2026-06-01", "south", "leek"),
    )
    assert [(g.crop, g.start, g.end) for g in found] == [
        ("lettuce", "2026-03-01", "2026-05-10"), ("beet", "2026-05-10", None),
        ("clover", "2026-06-01", None),
    ]  # fmt: skip
    assert {g.crop for g in standing_on(found, "2026-05-10")} == {"lettuce", "beet"}
    assert [g.crop for g in standing_on(found, "2026-05-11")] == ["beet"]
    assert standing_on(found, "2026-02-28") == ()
    assert window(found, "beet", "2026-07-01") == ("2026-05-10", None)
    assert window(found, "", "2026-07-01") == ("2026-05-10", None)
    assert window(found, "leek", "2026-07-01") == (None, None)


def test_the_same_crop_twice_counts_from_its_own_start() -> None:
    events = [
        crop("start", "2026-03-01", "n", "lettuce"), crop("start", "2026-05-10", "n", "lettuce"),
        crop("end", "2026-05-10", "n", "lettuce"),
    ]  # fmt: skip
    found = on("n", *events)
    assert [(g.start, g.end) for g in found] == [("2026-03-01", "2026-05-10"), ("2026-05-10", None)]
    assert window(found, "lettuce", "2026-06-01") == ("2026-05-10", "2026-05-10")


def test_a_crop_follows_the_ground_and_an_end_on_one_part_leaves_the_other() -> None:
    beds = (split(10, "n", a="1 m2", b="1 m2"),)
    events = [crop("start", "2000-01-02", "n", "beet"), crop("end", "2000-02-01", "a", "beet")]
    assert [g.end for g in on("a", *events, beds=beds)] == ["2000-02-01"]
    assert [g.end for g in on("b", *events, beds=beds)] == [None]
    again = (*beds, merge(100, "n", a="1 m2", b="1 m2"))
    assert [(g.start, g.end) for g in on("n", *events, beds=again)] == [("2000-01-02", None)]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "s.sqlite"


def test_an_untold_crop_is_the_one_that_stands_and_that_is_said(file: Path) -> None:
    logged(file, "crop", "start", "beetroot", "--place", "north", "--on", "2026-04-20")
    done = logged(file, "boron-drench", *ROW, "--place", "north", "--on", "2026-05-02")
    assert "Crop: beet, which by the record stands here since 2026-04-20." in done.output
    with reading(file) as base:
        assert [entry.crop for entry in counting(base)] == ["beet"]
    logged(file, "crop", "start", "clover", "--place", "north", "--on", "2026-05-20")
    done = logged(file, "--used", "1 g borax", *ROW, "--place", "north", "--on", "2026-05-21")
    assert "beet, clover stand here" in " ".join(done.output.split())
    with reading(file) as base:
        assert [entry.crop for entry in counting(base)] == ["beet", ""]


def test_a_typed_crop_goes_before_the_one_that_stands(file: Path) -> None:
    logged(file, "crop", "start", "leek", "--place", "north", "--on", "2026-04-20")
    mix = found(file, "north", "2026-05-20")
    assert any("leek stands here; it is judged for beet" in line for line in mix["read_as"])


def test_a_dose_counts_within_its_crop_and_not_for_the_next(file: Path) -> None:
    """A dose of the spring's beets is no dose of the beets sown in their place."""
    logged(file, "crop", "start", "beetroot", "--place", "north", "--on", "2026-03-01")
    logged(file, "boron-drench", *ROW, "--place", "north", "--on", "2026-04-01")
    single = boron(found(file, "elsewhere", "2026-05-01"))["likely"]["value"]
    double = pytest.approx(2 * single)
    assert boron(found(file, "north", "2026-05-01"))["likely"]["value"] == double
    logged(file, "crop", "end", "--place", "north", "--on", "2026-06-10")
    # Nothing stands: what was given for beets within a year counts.
    assert boron(found(file, "north", "2026-06-15"))["likely"]["value"] == double
    # Made ready for the next beets before they are sown: that they meet.
    logged(file, "boron-drench", *ROW, "--crop", "beetroot", "--place", "north", "--on",
           "2026-06-15")  # fmt: skip
    logged(file, "crop", "start", "beetroot", "--place", "north", "--on", "2026-06-20")
    assert boron(found(file, "north", "2026-06-21"))["likely"]["value"] == double
    # Whichever crop was named with it since, the beets stood in it.
    logged(file, "boron-drench", *ROW, "--crop", "clover", "--place", "north", "--on", "2026-06-22")
    now = boron(found(file, "north", "2026-06-23"))["likely"]["value"]
    assert now == pytest.approx(3 * single)


def test_an_end_without_a_start_is_kept_and_said(file: Path) -> None:
    done = logged(file, "crop", "end", "leek", "--place", "north", "--on", "2026-06-10")
    assert "no start of leek" in done.output


SOIL = ("--soil", "B 0.6 mg/kg hot-water", "--soil", "P 41 ppm", "--soil", "pH 6.4")


def says(file: Path, place: str, day: str) -> list[str]:
    notes = [f["say"] for f in found(file, place, day)["findings"] if "soil test" in f["say"]]
    return [note for note in notes if "on record" in note or "not interpreted" in note]


def test_a_test_is_shown_with_its_age_and_never_interpreted(file: Path) -> None:
    logged(file, "crop", "start", "beetroot", "--place", "south", "--on", "2026-04-20")
    assert says(file, "north", "2026-05-02") == ["no soil test of north is on record."]
    done = logged(file, "test", "--place", "north", "--on", "2026-02-10", *SOIL, "--depth",
                  "0 to 15 cm", "--lab", "county laboratory")  # fmt: skip
    assert (
        "P 41 ppm (the extractant was not told, so that nobody can read the figure" in done.output
    )
    assert "pH 6.4 (method not told" in done.output
    assert says(file, "north", "2026-05-02") == [
        "soil test of north, 2026-02-10 (81 days before): B 0.6 mg/kg (hot-water; 0 to 15 cm deep;"
        " county laboratory). It is shown and not interpreted."
    ]
    # A test of a later day says nothing of today, a newer one replaces the older.
    logged(file, "test", "--place", "north", "--on", "2026-04-10", "--soil", "B <0.2 mg/kg")
    assert "0.6" in says(file, "north", "2026-04-09")[0]
    assert "B <0.2 mg/kg (the extractant was not told" in says(file, "north", "2026-04-10")[0]
    assert "(today)" in says(file, "north", "2026-04-10")[0]


def test_a_test_of_something_else_is_no_test_of_this(file: Path) -> None:
    logged(file, "test", "--place", "north", "--on", "2026-02-10", "--soil", "pH 6.4")
    assert says(file, "north", "2026-05-02") == ["no soil test of north on record tells boron."]


def test_a_test_of_the_whole_speaks_of_its_parts(file: Path) -> None:
    logged(file, "test", "--place", "north", "--on", "2026-02-10", *SOIL)
    logged(file, "split", "north", "--into", "a 1 m2", "b 1 m2", "--on", "2026-03-01")
    [note] = says(file, "a", "2026-05-02")
    assert note.startswith("soil test of north, 2026-02-10")
    assert "B 0.6 mg/kg (hot-water)" in note


def test_a_leaf_test_stands_beside_and_without_a_record_nothing_is_said(file: Path) -> None:
    logged(file, "test", "--place", "north", "--on", "2026-04-10", "--leaf", "B 35 mg/kg",
           "--crop", "beet, youngest full leaf")  # fmt: skip
    notes = [f["say"] for f in found(file, "north", "2026-05-02")["findings"]]
    assert any("leaf test of north, 2026-04-10 (22 days before): B 35 mg/kg" in n for n in notes)
    done = run(file, "mix", "boron-drench", *ROW)
    assert "soil test of" not in done.output

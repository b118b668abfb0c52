"""The record: totals that follow the windows, counter-entries, and the way out and in again."""

from __future__ import annotations

import datetime
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import dosecalc.faces.cli as cli
from dosecalc.catalog.site import SiteText
from dosecalc.catalog.told import ToldText
from dosecalc.catalog.tools import ToolsText
from dosecalc.dose.result import Finding, Mix
from dosecalc.errors import DoseError
from dosecalc.faces.job import Job, run
from dosecalc.faces.record import Record
from dosecalc.season.entries import Entry, add, counting, everything, newest, one
from dosecalc.season.exchange import from_text, take_in, to_csv, to_json
from dosecalc.season.store import reading, whole, writing
from dosecalc.season.totals import years_before

AREA = {"judged_area": "10000 m2", "area": "10000 m2"}


def entry(id: str, day: str, what: str = "Cu", grams: str = "1000 gram", **more: Any) -> Entry:
    fields: dict[str, Any] = {
        "kind": "given", "about": None, "bed": "north", "crop": "", "placement": "foliar",
        "written": f"{day}T00:00:{len(id):02d}", "amounts": {("nutrient", what): (grams,) * 3},
        "ground": AREA, **more,
    }  # fmt: skip
    return Entry(id=id, day=day, **fields)


def fill(file: Path, *entries: Entry) -> None:
    with writing(file) as base:
        for item in entries:
            add(base, item)


def judged(file: Path, day: str, recipe: str = "", **told: Any) -> Mix:
    record = Record(file, "north", datetime.date.fromisoformat(day))
    site = SiteText(area="10000 m2", spray_volume="400 L")
    return run(Job(recipe or "copper-lime-dormant", site, ToolsText(), ToldText(**told),
                   record=record))  # fmt: skip


def of(mix: Mix, id: str) -> Finding:
    return next(f for f in mix.findings if f.id == id)


def log(file: Path, *words: str) -> Result:
    return CliRunner().invoke(
        cli.group, ["log", *words, "--season", str(file)], standalone_mode=False
    )


def mixed(file: Path, *words: str) -> dict[str, Any]:
    done = CliRunner().invoke(
        cli.group, ["mix", *words, "--season", str(file), "--json"], standalone_mode=False
    )
    assert done.exception is None, done.exception
    found: dict[str, Any] = json.loads(done.output)
    return found


ROW = ("boron-drench", "--row", "40 m", "--row-spacing", "45 cm", "--crop", "beetroot",
       "--place", "north")  # fmt: skip


def level(mix: dict[str, Any], about: str, per: str) -> set[str]:
    return {f["level"] for f in mix["findings"] if f["about"] == about and per in f["say"]}


def test_copper_over_seven_years_reaches_the_figure_and_one_gram_more_does_not(
    tmp_path: Path,
) -> None:
    """EU 2018/1981: at most 28 kg of copper per hectare over seven years."""
    file = tmp_path / "s.sqlite"
    today = judged_empty(tmp_path)
    mine = next(s for s in today.supplies if s.nutrient == "Cu").mass.to((("gram", 1),))
    days = ["2020-02-29", "2021-03-01", "2022-03-01", "2023-03-01", "2024-03-01", "2025-03-01"]
    rest = 28_000 - mine.likely - 5 * 4000
    fill(file, entry("a", days[0], grams=f"{rest} gram"),
         *(entry(f"b{n}", day, grams="4000 gram") for n, day in enumerate(days[1:])))  # fmt: skip
    limit = copper_limit(today)
    found = of(judged(file, "2026-03-01", region="EU"), limit)
    assert found.ratio == 1
    assert found.level != "over"
    fill(file, entry("c", "2025-04-01", grams="1 gram"))
    assert of(judged(file, "2026-03-01", region="EU"), limit).level == "over"
    # The entry of 29 February 2020 counts through 28 February 2027, and no day longer.
    assert of(judged(file, "2027-02-28", region="EU"), limit).level == "over"
    assert of(judged(file, "2027-03-01", region="EU"), limit).level != "over"


def judged_empty(folder: Path) -> Mix:
    file = folder / "empty.sqlite"
    fill(file)
    return judged(file, "2026-03-01", region="EU")


def copper_limit(mix: Mix) -> str:
    found = [f.id for f in mix.findings if f.about == "Cu" and "7 rolling years" in f.scope]
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize(
    ("day", "years", "then"),
    [
        ("2026-03-01", 7, "2019-03-01"),
        ("2028-02-29", 7, "2021-02-28"),
        ("2028-02-29", 4, "2024-02-29"),
    ],
)
def test_so_many_years_ago(day: str, years: int, then: str) -> None:
    found = years_before(datetime.date.fromisoformat(day), years)
    assert found == datetime.date.fromisoformat(then)


def test_the_second_drench_of_a_crop_is_judged_on_the_sum(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    first = log(file, *ROW, "--on", "2026-05-02")
    assert first.exception is None
    alone = mixed(file, *ROW, "--on", "2026-05-01")
    both = mixed(file, *ROW, "--on", "2026-06-20")
    assert level(alone, "B", "over the whole ground") == {"within"}
    assert level(both, "B", "over the whole ground") == {"over"}
    assert any("4.28 kg/ha over the whole ground (with what the record" in f["say"]
               for f in both["findings"])  # fmt: skip
    other = mixed(file, *(word.replace("north", "south") for word in ROW), "--on", "2026-06-20")
    assert level(other, "B", "over the whole ground") == {"within"}


def test_irrigation_water_counts_as_a_source(tmp_path: Path) -> None:
    """400 mm at 0.8 mg/L is 4000 m3/ha x 0.8 g/m3 = 3.2 kg/ha."""
    file = tmp_path / "s.sqlite"
    done = log(file, "--holds", "0.8 mg/L B", "--depth", "400 mm", "--area", "18 m2", "--crop",
               "beetroot", "--place", "north", "--on", "2026-05-02")  # fmt: skip
    assert done.exception is None, done.exception
    found = mixed(file, *ROW, "--on", "2026-05-20")
    over = [f for f in found["findings"] if f["about"] == "B" and f["level"] == "over"]
    assert any("5.34 kg/ha" in f["say"] for f in over)  # 3.2 and 2.14 of today's borax


def test_a_corrected_and_an_undone_entry_count_once_and_not_at_all(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    log(file, *ROW, "--on", "2026-05-02")
    with reading(file) as base:
        id = newest(base, 1)[0].id
    done = log(file, "correct", id, "--used", "10 g borax", *ROW[1:], "--on", "2026-05-02")
    assert done.exception is None, done.exception
    with reading(file) as base:
        found = list(counting(base))
        assert len(found) == 1
        assert found[0].amounts["asked mass", "borax"][1] == "10 g"
        assert one(base, id).kind == "given"  # still there, as it was
    again = log(file, "correct", id, "--used", "9 g borax", *ROW[1:])
    assert "was corrected or undone already" in str(again.exception)
    assert log(file, "undo", found[0].id[:6]).exception is None
    with reading(file) as base:
        assert list(counting(base)) == []
        assert len(list(everything(base))) == 3


def test_days_since_come_from_the_record(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    sulfur = entry("a", "2026-06-01", amounts={("asked mass", "wettable-sulfur"): ("90 gram",) * 3})
    fill(file, sulfur)
    found = judged(file, "2026-06-11", "oil-dormant", crop="apple")
    assert any(f.level == "stop" and "10 days after" in f.say.english() for f in found.findings)
    found = judged(file, "2026-09-11", "oil-dormant", crop="apple")
    assert not any("days after" in f.say.english() for f in found.findings)


@pytest.mark.parametrize("make", [to_json, to_csv])
def test_out_and_in_again_is_the_same_to_the_last_digit(make: Any, tmp_path: Path) -> None:
    file, copy = tmp_path / "s.sqlite", tmp_path / "t.sqlite"
    log(file, *ROW, "--on", "2026-05-02", "--who", "=cmd|' /C calc'!A0", "--note", '+1\n\'x,"y"')
    log(file, "--used", "38 g borax", *ROW[1:], "--on", "2026-06-02", "--note", "'quoted")
    with reading(file) as base:
        log(file, "undo", newest(base, 1)[0].id)
    with reading(file) as base:
        text = make(base)
        mine = list(everything(base))
    assert "\n=cmd" not in text
    assert ",=cmd" not in text
    with writing(copy) as base:
        assert take_in(base, from_text(text, "x")) == 3
        assert take_in(base, from_text(text, "x")) == 0
    with reading(copy) as base:
        assert list(everything(base)) == mine
        assert whole(base)


@pytest.mark.parametrize(
    "text", ["", "{", "{}", '{"season": 3, "entries": []}', '{"season": 1, "entries": [{}]}',
             '{"season": 1, "entries": 3}', "id,day\n1,2\n"],
)  # fmt: skip
def test_what_is_no_export_is_refused_and_nothing_taken_in(text: str, tmp_path: Path) -> None:
    file, source = tmp_path / "s.sqlite", tmp_path / "x.json"
    fill(file, entry("a", "2026-01-01"))
    source.write_text(text, "utf-8")
    done = log(file, "import", str(source))
    assert isinstance(done.exception, DoseError)
    assert "no export" in str(done.exception)
    with reading(file) as base:
        assert len(list(everything(base))) == 1


@settings(max_examples=25, deadline=None)
@given(items=st.lists(st.tuples(st.integers(1, 9999), st.sampled_from(["keep", "correct", "undo"])),
                max_size=12))  # fmt: skip
def test_totals_are_the_sum_by_hand(tmp_path_factory: Any, items: list[tuple[int, str]]) -> None:
    file = tmp_path_factory.mktemp("season") / "s.sqlite"
    total = Fraction(0)
    with writing(file) as base:
        for n, (milligrams, what) in enumerate(items):
            add(base, entry(f"{n}", "2026-05-01", grams=f"{milligrams}/1000 gram"))
            total += Fraction(milligrams, 1000)
            if what != "keep":
                total -= Fraction(milligrams, 1000)
                new = {} if what == "undo" else {("nutrient", "Cu"): ("1/3 gram",) * 3}
                add(base, entry(f"{n}x", "2026-05-01", kind=what, about=f"{n}", amounts=new))
                total += Fraction(1, 3) if what == "correct" else 0
    with reading(file) as base:
        found = [Fraction(e.amounts["nutrient", "Cu"][1].split()[0]) for e in counting(base)]
    assert sum(found) == total


def test_ten_thousand_entries_are_listed_from_an_index(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        for n in range(10_000):
            day = datetime.date(2020, 1, 1) + datetime.timedelta(days=n % 2000)
            add(base, entry(f"{n:05}", day.isoformat(), bed=f"bed {n % 100}"))
        plan = base.execute(
            "EXPLAIN QUERY PLAN SELECT id FROM entry WHERE bed = 'bed 3' ORDER BY day"
        ).fetchall()
        assert "entry_by_bed" in str(plan)
    with reading(file) as base:
        assert len(newest(base, 50)) == 50
        assert len(list(counting(base, "bed 3"))) == 100


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("boron-drench", "--row", "4 m"), "which bed"),
        (("boron-drench", "--row", "4 m", "--place", "n", "--on", "2.5.2026"), "is no day"),
        (("boron-drench", "--row", "4 m", "--place", "n", "--on", "2026-02-30"), "is no day"),
        (("boron-drench", "--row", "4 m", "--place", "n", "--on", "2999-01-01"), "lies ahead"),
        (("boron-drench", "--row", "4 m", "--place", "  "), "which bed"),
        (("correct", "ffff", "boron-drench", "--row", "4 m", "--place", "n"), "is not there"),
        (("undo", "ffff"), "is not there"),
        (("list",), "is not there"),
        (("boron-drench", "--used", "1 g borax", "--row", "4 m", "--place", "n"), "not two"),
    ],
)
def test_bad_words_are_one_sentence_and_no_file_is_made(
    words: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    file = tmp_path / "s.sqlite"
    done = log(file, *words)
    assert isinstance(done.exception, DoseError)
    assert said in str(done.exception)
    assert not file.exists()


def test_the_recipes_own_count_is_held_against_the_record(tmp_path: Path) -> None:
    """The drench says once a crop: the book's own word, so a caution beside the limits."""
    file = tmp_path / "s.sqlite"
    row = ("--row", "40 m", "--row-spacing", "45 cm", "--place", "north", "--crop", "beetroot")
    log(file, "boron-drench", *row, "--on", "2026-05-02")

    def often(*words: str) -> list[str]:
        found = mixed(file, "boron-drench", *row[:-2], *words)["findings"]
        return [one["why"] for one in found if one["why"] == "too-often"]

    assert often("--crop", "beetroot", "--on", "2026-05-20") == ["too-often"]
    assert often("--crop", "carrot", "--on", "2026-05-20") == []
    assert often("--crop", "beetroot", "--on", "2027-05-02") == []
    assert often("--crop", "beetroot", "--on", "2026-05-01") == []


def test_the_fewest_days_of_memory_and_record_count(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    tree = ("--area", "100 m2", "--spray-volume", "5 L", "--place", "orchard")
    log(file, "oil-dormant", *tree, "--on", "2026-03-01")
    sulfur = ("wettable-sulfur-apple", *tree, "--on", "2026-03-11")
    for typed in (
        (),
        ("--after", "horticultural oil 50 days"),
        ("--after", "horticultural oil 10 days"),
    ):
        found = mixed(file, *sulfur, *typed)["findings"]
        [soon] = [one for one in found if one["why"] == "too-soon"]
        assert " 10 days" in soon["say"]


def test_a_dose_in_words_is_written_down_and_counts(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    row = ("--row", "40 m", "--row-spacing", "45 cm", "--place", "north", "--crop", "beetroot")
    done = log(file, "add", "--text", "20 g borax per 10 m of row", *row, "--on", "2026-05-02")
    assert done.exception is None
    with reading(file) as base:
        [kept] = counting(base)
    assert kept.amounts["asked mass", "borax"] == ("80 g",) * 3
    assert (kept.placement, kept.crop) == ("band", "beet")
    past = [
        line for line in mixed(file, *ROW, "--on", "2026-05-20")["read_as"] if "1 entry" in line
    ]
    assert past


def test_the_amount_that_reaches_a_limit_leaves_room_for_what_was_given(tmp_path: Path) -> None:
    """28 kg Cu/ha over 7 years (Regulation (EU) 2018/1981) on 100 m2 is 280 g of copper.

    CuSO4.5H2O holds 63.546 / 249.682 of it (IUPAC abridged weights) and is sold 99 % pure, so 280 g
    is 1111.3 g of the salt.
    """
    file = tmp_path / "s.sqlite"
    place = ("--area", "100 m2", "--place", "orchard", "--region", "EU", "--placement", "foliar")

    def edge(grams: str) -> str:
        used = (f"{grams} copper sulfate pentahydrate", "--water", "10 L")
        done = CliRunner().invoke(cli.group, ["check", *used, *place, "--season", str(file),
                                              "--on", "2026-06-01", "--json"],
                                  standalone_mode=False)  # fmt: skip
        says = [one["say"] for one in json.loads(done.output)["findings"]
                if one["id"] == "copper-eu-seven-years"]  # fmt: skip
        return says[0]

    log(file, "add", "--used", "1 g borax", "--area", "100 m2", "--place", "south", "--on",
        "2026-01-01")  # fmt: skip
    assert "reached at 1.11 kg (2.44 lb) of Copper sulfate" in edge("1200 g")
    log(file, "add", "--used", "1000 g copper sulfate pentahydrate", "--water", "10 L", *place,
        "--on", "2026-05-01")  # fmt: skip
    assert "reached at 111 g (3.92 oz) of Copper sulfate pentahydrate today" in edge("200 g")
    log(file, "add", "--used", "112 g copper sulfate pentahydrate", "--water", "10 L", *place,
        "--on", "2026-05-02")  # fmt: skip
    assert "given before reaches it by itself" in edge("5 g")

"""A plan as a whole: limits by hand, jobs that meet on one place, what stands beside --list."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from icalendar import Calendar
from pypdf import PdfReader

from dosecalc.faces import cli

DORMANT = ("copper-lime-dormant", "--area", "100 m2", "--spray-volume", "21 L", "--region", "US",
           "--crop", "apple")  # fmt: skip
HOME = ("copper-lime-home", "--area", "100 m2", "--spray-volume", "10 L", "--region", "EU",
        "--crop", "apple")  # fmt: skip
SULFUR = ("wettable-sulfur-apple", "--area", "100 m2", "--spray-volume", "10 L", "--crop", "apple")
MILK = ("milk-leaf", "--area", "10 m2", "--spray-volume", "1 L")
YEARLY = "copper-us-pome-fruit-year"


@pytest.fixture(autouse=True)
def away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def did(*words: str) -> Result:
    return CliRunner().invoke(cli.group, [*words], standalone_mode=False)


def planned(*words: str) -> dict[str, Any]:
    done = did("schedule", *words, "--json")
    assert done.exception is None, done.exception
    found: dict[str, Any] = json.loads(done.output)
    return found


def listed(*rows: tuple[str, ...]) -> tuple[str, str]:
    text = "\n".join(" ".join(f'"{word}"' for word in row) for row in rows)
    Path("beds.txt").write_text(text + "\n", encoding="utf-8")
    return "--list", "beds.txt"


def levels(plan: dict[str, Any], id: str) -> list[str]:
    """The level of one limit at each dose."""
    return [
        next((f["level"] for f in dose["mix"]["findings"] if f["id"] == id), "")
        for dose in plan["doses"]
    ]


def test_the_fourth_copper_spray_passes_the_yearly_limit() -> None:
    """16 lb of copper on an acre in a year: a US label for pome fruit (source of the limit).

    8 lb of CuSO4.5H2O in 100 gal (453.59237 g, 3.785411784 L) are 9.586 g/L, so 21 L hold 201.3 g;
    of that 63.546 / 249.682 is copper (IUPAC abridged weights), and the salt on file is 99 % pure:
    50.7 g on 100 m2. Three are 152.2 g and four are 202.9 g; 16 lb on 4046.8564224 m2 are 179.3 g
    on 100 m2.
    """
    words = (*DORMANT, "--place", "orchard", "--on", "2027-01-10", "--every", "20 days")
    plan = planned(*words, "--times", "5")
    assert levels(plan, YEARLY) == ["within", "within", "within", "over", "over"]
    [said] = [f for f in plan["findings"] if f["level"] == "over" and "16 lb" in f["say"]]
    assert (said["from_dose"], said["day"], said["doses"]) == (4, "2027-03-11", 2)
    assert "1.1 times the limit" in said["say"]
    assert "US EPA label" in said["say"]
    assert did("schedule", *words, "--times", "3").return_value == 0
    assert did("schedule", *words, "--times", "4").return_value == 3


def test_a_plan_over_the_new_year_begins_a_new_sum() -> None:
    """Two before and three after: no calendar year sees a fourth."""
    plan = planned(*DORMANT, "--place", "orchard", "--on", "2027-12-01", "--every", "20 days",
                   "--times", "5")  # fmt: skip
    assert [dose["day"][:4] for dose in plan["doses"]] == ["2027"] * 2 + ["2028"] * 3
    assert levels(plan, YEARLY) == ["within"] * 5


def test_each_dose_of_a_plan_is_judged_as_if_those_before_it_had_been_written_down() -> None:
    """The plan on the one side; on the other each dose logged for real before the next is mixed."""
    days = ("2026-02-01", "2026-02-21", "2026-03-13", "2026-04-02", "2026-04-22")
    file = ("--season", "real.sqlite")
    did("log", "add", *MILK, "--place", "south", "--on", "2026-01-01", *file)
    where = (*DORMANT, "--place", "orchard", *file)
    plan = planned(*where, "--on", days[0], "--every", "20 days", "--times", "5")
    for dose, day in zip(plan["doses"], days, strict=True):
        real = json.loads(did("mix", *where, "--on", day, "--json").output)
        assert dose["day"] == day
        assert dose["mix"]["findings"] == real["findings"]
        assert did("log", "add", *where, "--on", day).exception is None


@pytest.mark.parametrize("other", ["orchard", "Orchard", " ORCHARD  "])
def test_two_jobs_on_one_place_are_added_up(other: str) -> None:
    """28 kg Cu/ha in 7 years (EU 2018/1981); each spray brings 3.0.

    Alone five are 15 and both are 30; the ninth comes to 27.0, close to it.
    """
    rows = [(*HOME, "--place", "orchard"), (*HOME, "--place", other)]
    words = ("--on", "2027-03-01", "--times", "5", "--every", "7 days")
    both = planned(*listed(*rows), *words)
    seven = "copper-eu-seven-years"
    assert levels(both, seven) == [*["within"] * 4, "caution", *["within"] * 4, "over"]
    assert did("schedule", "--list", "beds.txt", *words).return_value == 3
    apart = planned(*listed(rows[0], (*HOME, "--place", "hedge")), *words)
    assert levels(apart, seven) == ["within"] * 10


def test_jobs_that_meet_are_judged_in_the_order_of_their_days() -> None:
    """The second line stands first in time: the first line meets what it brought."""
    rows = [
        (*HOME, "--place", "orchard", "--on", "2027-06-01"),
        (*HOME, "--place", "orchard", "--on", "2027-03-01"),
    ]
    plan = planned(*listed(*rows), "--times", "5", "--every", "7 days")
    assert levels(plan, "copper-eu-seven-years") == [
        *["within"] * 3, "caution", "over", *["within"] * 5
    ]  # fmt: skip


def test_what_is_typed_beside_a_list_holds_for_each_line_that_says_nothing_else() -> None:
    bare = ("copper-lime-home", "--area", "100 m2", "--spray-volume", "10 L")
    words = listed((*bare, "--place", "a"), (*bare, "--place", "b", "--region", "US"))
    plan = planned(*words, "--region", "EU", "--crop", "apple", "--on", "2027-03-01")
    laws = [{f["id"] for f in d["mix"]["findings"] if f["why"] == "law"} for d in plan["doses"]]
    assert laws[0] != laws[1]
    assert "law-" in "".join(laws[0])
    assert [levels(plan, "copper-eu-seven-years")] == [["within", ""]]
    assert [dose["day"] for dose in plan["doses"]] == ["2027-03-01"] * 2


def test_the_record_named_beside_a_list_is_read() -> None:
    used = ("--used", "900 g copper sulfate pentahydrate", "--water", "10 L", "--area", "100 m2")
    did("log", "add", *used, "--placement", "foliar", "--place", "orchard", "--on", "2025-05-01",
        "--season", "s.sqlite")  # fmt: skip
    words = (*listed((*HOME, "--place", "orchard")), "--on", "2027-03-01", "--times", "2",
             "--every", "7 days")  # fmt: skip
    assert levels(planned(*words, "--season", "s.sqlite"), "copper-eu-seven-years")[1] == "over"
    assert levels(planned(*words), "copper-eu-seven-years")[1] == "within"


def test_a_line_keeps_the_day_that_it_names() -> None:
    words = listed((*MILK, "--place", "a", "--on", "2027-07-01"), (*MILK, "--place", "b"))
    plan = planned(*words, "--on", "2027-06-01", "--times", "2", "--every", "4 days")
    assert [dose["day"] for dose in plan["doses"]] == [
        "2027-07-01", "2027-07-05", "2027-06-01", "2027-06-05"
    ]  # fmt: skip


def test_findings_and_waits_name_their_place_where_there_are_several() -> None:
    words = listed((*SULFUR, "--place", "south"), (*SULFUR, "--place", "north", "--on",
                   "2027-05-20"))  # fmt: skip
    done = did("schedule", *words, "--on", "2027-05-01", "--times", "2", "--every", "3 days")
    text = " ".join(done.output.split())
    assert "south: by the harvest waits held, the last is over on 2027-05-05" in text
    assert "north: by the harvest waits held, the last is over on 2027-05-24" in text
    milk = listed((*MILK, "--place", "a"), (*MILK, "--place", "b"), (*MILK, "--place", "c", "--on",
                  "2027-07-01"))  # fmt: skip
    text = " ".join(did("schedule", *milk, "--on", "2027-06-01", "--times", "2", "--every",
                        "2 days").output.split())  # fmt: skip
    assert text.count("CAUTION at dose 2") == 2  # one for a and b, whose days are the same
    assert "a; b: CAUTION at dose 2 (2027-06-03)" in text
    assert "c: CAUTION at dose 2 (2027-07-03)" in text


LABEL = 'product = "Saltmarsh dust"\nmaterial = "wettable-sulfur"\n'


@pytest.mark.parametrize(
    ("label", "every", "why"),
    [
        ('interval = "10 days"', "9 days", ["too-soon"]),
        ('interval = "10 days"', "10 days", []),
        ("times = 3", "10 days", ["limit-over"]),
        ("times = 4", "10 days", []),
    ],
)
def test_a_label_stops_a_plan_that_it_does_not_allow(
    label: str, every: str, why: list[str]
) -> None:
    Path("label.toml").write_text(LABEL + label, encoding="utf-8")
    plan = planned(*SULFUR, "--label", "label.toml", "--place", "n", "--on", "2027-05-01",
                   "--every", every, "--times", "4")  # fmt: skip
    grave = [f for f in plan["findings"] if f["level"] in ("stop", "over")]
    assert [f["why"] for f in grave] == why
    assert [f["from_dose"] for f in grave] == [2 if why == ["too-soon"] else 4] * len(why)


@pytest.mark.parametrize(("every", "found"), [("27 days", ["too-soon"]), ("28 days", [])])
def test_the_interval_of_a_rule_is_held_where_it_is_longer_than_the_recipes(
    every: str, found: list[str]
) -> None:
    """Four to five weeks to the second (Washington State University); the recipe says 14 days."""
    words = (
        "epsom-leaf-fruit-tree",
        "--area",
        "100 m2",
        "--spray-volume",
        "10 L",
        "--crop",
        "apple",
    )
    plan = planned(*words, "--place", "n", "--on", "2027-05-01", "--every", every, "--times", "2")
    assert [f["why"] for f in plan["findings"] if f["why"] == "too-soon"] == found


@pytest.mark.parametrize(
    ("wait", "time", "day"),
    [
        ("36 h", None, "2027-05-04"),  # at the latest from midnight to the third at noon
        ("24 h", None, "2027-05-03"),
        ("36 h", "07:00", "2027-05-03"),  # over on the second at 19:00
        ("3 days", None, "2027-05-04"),
    ],
)
def test_a_harvest_wait_in_hours_counts_with_and_without_a_time(
    wait: str, time: str | None, day: str
) -> None:
    Path("label.toml").write_text(f'{LABEL}harvest_wait = "{wait}"', encoding="utf-8")
    words = (*SULFUR, "--label", "label.toml", "--place", "n", "--on", "2027-05-01")
    plan = planned(*words, *(() if time is None else ("--time", time)))
    assert plan["harvest_waits_over"] == [{"place": "n", "day": day}]


def test_what_was_written_down_already_is_said_to_count_twice() -> None:
    did("log", "add", *MILK, "--place", "north", "--on", "2026-06-01")
    words = (*MILK, "--place", "North", "--times", "2", "--every", "4 days")
    text = " ".join(did("schedule", *words, "--on", "2026-06-01").output.split())
    assert "holds this recipe on North on 2026-06-01 already" in text
    assert "2026-06-05 already" not in text
    assert planned(*words, "--on", "2026-06-02")["given_already"] == []


def test_two_places_with_a_slip_of_the_pen_are_said_to_look_alike() -> None:
    words = (*listed((*MILK, "--place", "north"), (*MILK, "--place", "nroth")), "--on",
             "2027-06-01")  # fmt: skip
    assert planned(*words)["places_alike"] == [["north", "nroth"]]
    assert "'north' and 'nroth' look like one place" in did("schedule", *words).output


def ids(*words: str) -> list[str]:
    done = did("schedule", *words, "-o", "p.ics", "--replace")
    assert done.exception is None, done.exception
    return [str(e["uid"]) for e in Calendar.from_ical(Path("p.ics").read_bytes()).walk("VEVENT")]


def test_a_dose_that_moves_over_the_new_year_keeps_its_event() -> None:
    words = (*SULFUR, "--place", "n", "--times", "2", "--every", "5 days")
    before = ids(*words, "--on", "2027-12-24")  # the second on the 29th
    assert ids(*words, "--on", "2027-12-28") == before  # and now on 2 January


def test_every_event_of_a_plan_has_an_id_of_its_own() -> None:
    row = (*SULFUR, "--place", "n")
    words = (*listed(row, row, (*SULFUR, "--place", "N"), (*MILK, "--place", "n")), "--on",
             "2027-05-01", "--times", "2", "--every", "9 days")  # fmt: skip
    found = ids(*words)
    assert len(found) == len(set(found)) > 8
    assert ids(*words) == found


BEDS = """
[bed.hedge]
area = "100 m2"
crop = "apple"

[bed.wall]
area = "40 m2"
crop = "apple"
"""


def test_several_beds_of_the_garden_file() -> None:
    """10 lb (453.59237 g each) on an acre of 4046.8564224 m2; 140 m2 in all, twice."""
    Path("garden.toml").write_text(BEDS, encoding="utf-8")
    words = ("wettable-sulfur-apple", "--spray-volume", "10 L", "--on", "2027-05-01", "--every",
             "9 days", "--times", "2")  # fmt: skip
    plan = planned(*words, "--at", "hedge", "--at", "wall")
    assert [(d["place"], d["number"]) for d in plan["doses"]] == [
        ("hedge", 1), ("hedge", 2), ("wall", 1), ("wall", 2)
    ]  # fmt: skip
    [buy] = plan["shopping"]
    acre = Fraction("4046.8564224")
    assert Fraction(buy["need"].split()[0]) == 10 * Fraction("453.59237") / acre * 280


def test_two_beds_beside_a_list_are_refused() -> None:
    Path("garden.toml").write_text(BEDS, encoding="utf-8")
    words = listed((*MILK, "--place", "a"))
    done = did("schedule", *words, "--at", "hedge", "--at", "wall")
    assert "not both" in str(done.exception)


def test_a_pack_of_cards_has_a_page_in_front_and_one_for_each_dose() -> None:
    words = (*SULFUR, "--place", "n", "--on", "2027-05-01", "--times", "3", "--every", "9 days")
    assert did("schedule", *words, "--cards", "p.pdf", "--paper", "a4").exception is None
    pages = [page.extract_text() for page in PdfReader("p.pdf").pages]
    assert len(pages) == 4
    for page, day in zip(pages[1:], ("2027-05-01", "2027-05-10", "2027-05-19"), strict=True):
        assert day in page
        assert day in pages[0]


def test_nothing_is_written_where_one_of_two_files_is_there() -> None:
    Path("p.txt").write_text("mine", encoding="utf-8")
    done = did("schedule", *SULFUR, "--place", "n", "--on", "2027-05-01", "-o", "p.ics", "--cards",
               "p.txt")  # fmt: skip
    assert "p.txt" in str(done.exception)
    assert not Path("p.ics").exists()
    assert Path("p.txt").read_text(encoding="utf-8") == "mine"


def test_two_texts_on_one_place_keep_their_own_events() -> None:
    def of(text: str) -> list[str]:
        return ids("--text", text, "--area", "10 m2", "--place", "n", "--on", "2027-05-01")

    assert not set(of("5 g borax per m2")) & set(of("20 g gypsum per m2"))
    assert of("5 g borax per m2") == of("4 g borax per m2")  # the same plan, put right


def test_what_was_not_told_is_said_of_a_plan_as_of_one_dose() -> None:
    words = (*SULFUR, "--place", "n", "--on", "2027-05-01", "--times", "2", "--every", "9 days")
    [untold] = planned(*words)["not_told"]
    assert "--region" in untold["say"]
    assert did("schedule", *words).output.count(untold["say"]) == 1
    assert planned(*words, "--region", "EU")["not_told"] == []

"""Places: one place however its name is spelt, and a word where a name only looks like another."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import dosecalc.faces.cli as cli
from dosecalc.season.entries import counting
from dosecalc.season.places import alike, as_written, folded, near
from dosecalc.season.store import reading
from tests.season.test_season import ROW, entry, fill, level, log, mixed

SPELT = ("north bed", "North Bed", "NORTH  BED", " north bed ", "north\tbed", "n\uff4frth bed")


@pytest.mark.parametrize("name", SPELT)
def test_capitals_spaces_and_wide_letters_make_no_other_place(name: str, tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01", bed="North Bed"), entry("b", "2026-05-01", bed="south"))
    with reading(file) as base:
        assert [e.id for e in counting(base, name)] == ["a"]
        assert as_written(base, name) == "North Bed"
        assert near(base, name) == "North Bed"


def test_composed_and_decomposed_letters_are_one_place() -> None:
    assert folded("K\u00fcche") == folded("Ku\u0308che") == folded("K\u00dcCHE")
    assert folded("Stra\u00dfe") == folded("STRASSE")


def test_the_second_dose_meets_the_first_however_the_place_is_spelt(tmp_path: Path) -> None:
    """Wrong silence is the worst fault: a second drench judged without the first."""
    file = tmp_path / "s.sqlite"
    words = [*ROW[:-1], "  North   Bed "]
    assert log(file, *words, "--on", "2026-05-02").exception is None
    for name in SPELT:
        both = mixed(file, *ROW[:-1], name, "--on", "2026-06-20")
        assert level(both, "B", "over the whole ground") == {"over"}, name
    log(file, *ROW[:-1], "NORTH BED", "--on", "2026-06-20")
    with reading(file) as base:
        assert [e.bed for e in counting(base)] == ["North Bed", "North Bed"]


def test_two_spellings_of_an_older_file_are_counted_together(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01", bed="North"), entry("b", "2026-05-02", bed="north "))
    with reading(file) as base:
        assert [e.id for e in counting(base, "NORTH")] == ["a", "b"]


ALIKE = [
    ("nroth", "north"), ("nort", "north"), ("northh", "north"), ("norht", "north"),
    ("nirth", "north"), ("north-bed", "north bed"), ("northbed", "north bed"),
    ("the north bed", "North"), ("north", "north bed"), ("north row", "north bed"),
    ("nroth 3", "north 3"), ("east tunnel", "east tunel"), ("north_bed", "north bed"),
]  # fmt: skip
APART = [
    ("bed 1", "bed 2"), ("bed 1", "bed 11"), ("bed 12", "bed 21"), ("bed a", "bed b"),
    ("north", "south"), ("east", "west"), ("north field", "south field"), ("left", "right"),
    ("upper north", "lower north"), ("north 3", "nroth 4"), ("north", "north tunnel"),
    ("row 1 bed 2", "row 2 bed 1"), ("bed", "row"), ("b1", "b2"), ("top", "tip"),
]  # fmt: skip


@pytest.mark.parametrize(("one", "other"), ALIKE)
def test_a_slip_of_the_pen_is_seen_both_ways(one: str, other: str) -> None:
    assert alike(one, other)
    assert alike(other, one)


@pytest.mark.parametrize(("one", "other"), APART)
def test_what_growers_call_two_places_is_not_taken_for_one(one: str, other: str) -> None:
    assert not alike(one, other)
    assert not alike(other, one)


NOTE = "No entry for 'nroth' yet; the record has 'North'."


def test_a_place_that_looks_like_another_is_said_once_and_is_no_error(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01", bed="North"))
    typed = [*ROW[:-1], "nroth", "--on", "2026-06-20"]
    found = mixed(file, *typed)
    notes = [f for f in found["findings"] if f["why"] == "place-near"]
    assert [(f["level"], f["say"]) for f in notes] == [("note", NOTE)]
    assert found["read_as"][-1] == "The record holds no entry of nroth up to 2026-06-20."
    # Where the place is known, nothing is said; once the new one is written, neither.
    for name in ("north", "NORTH", "tunnel"):
        found = mixed(file, *ROW[:-1], name, "--on", "2026-06-20")
        assert not [f for f in found["findings"] if f["why"] == "place-near"], name
    done = log(file, *typed)
    assert done.output.count(NOTE) == 1
    assert log(file, *typed).output.count("No entry for") == 0


@pytest.mark.parametrize("command", ["check", "card", "log by hand", "text"])
def test_every_command_that_judges_says_it(command: str, tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01", bed="North"))
    site = [*ROW[1:-1], "nroth", "--season", str(file), "--on", "2026-06-20"]
    words = {
        "check": ["check", "10 g borax", *site],
        "card": ["card", ROW[0], *site, "-o", "-"],
        "log by hand": ["log", "--used", "10 g borax", *site],
        "text": ["mix", "--text", "1 g borax per m of row", *site],
    }[command]
    done = CliRunner().invoke(cli.group, words, standalone_mode=False)
    assert done.exception is None, done.exception
    assert " ".join(done.output.split()).count(NOTE) == 1


def test_a_later_day_is_no_new_place(tmp_path: Path) -> None:
    """An entry behind the day that is judged is not counted, but the place is known."""
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01", bed="North"), entry("b", "2026-07-01", bed="nroth"))
    found = mixed(file, *ROW[:-1], "nroth", "--on", "2026-06-20")
    assert not [f for f in found["findings"] if f["why"] == "place-near"]


def test_an_undone_place_is_forgotten(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    undo: dict[str, Any] = {"kind": "undo", "about": "b", "amounts": {}}
    fill(file, entry("a", "2026-05-01", bed="North"), entry("b", "2026-05-01", bed="nroth"),
         entry("c", "2026-05-01", bed="nroth", **undo))  # fmt: skip
    found = mixed(file, *ROW[:-1], "nroth", "--on", "2026-06-20")
    assert [f["say"] for f in found["findings"] if f["why"] == "place-near"] == [NOTE]


def test_no_place_told_is_said_where_a_record_lies_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    runner = CliRunner()
    plain = runner.invoke(cli.group, ["mix", *ROW[:-2]], standalone_mode=False).output
    assert "Nothing of the record" not in plain
    fill(tmp_path / "season.sqlite", entry("a", datetime.date(2026, 5, 1).isoformat()))
    said = runner.invoke(cli.group, ["mix", *ROW[:-2]], standalone_mode=False).output
    assert "Nothing of the record season.sqlite was counted" in said
    told = runner.invoke(cli.group, ["mix", *ROW], standalone_mode=False).output
    assert "Nothing of the record" not in told


@pytest.mark.parametrize(
    ("count", "said"),
    [(0, "holds no entry of north up"), (1, ": 1 entry up to"), (2, ": 2 entries up to")],
)
def test_one_entry_is_not_entries(count: int, said: str, tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, *(entry(f"{n}", "2026-05-01") for n in range(count)))
    assert said in mixed(file, *ROW, "--on", "2026-06-20")["read_as"][-1]

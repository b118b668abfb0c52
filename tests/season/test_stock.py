"""Stock: counts, purchases and use against sums by hand; never below zero without a word."""

from __future__ import annotations

import datetime
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.faces import cli
from dosecalc.season.entries import Entry
from dosecalc.season.events import Event
from dosecalc.season.stock import BOUGHT, COUNTED, on_hand
from dosecalc.units.measure import GRAM, Measure

FIRST = datetime.date(2027, 3, 1)


def ran(file: Path, *words: str) -> Result:
    return CliRunner().invoke(cli.group, [*words, "--season", str(file)], standalone_mode=False)


def event(kind: str, day: int, at: int, grams: int) -> Event:
    then = (FIRST + datetime.timedelta(day)).isoformat()
    return Event(f"e{at}", kind, None, then, f"{at:04}", "borax", "", {"amount": f"{grams} gram"})


def entry(day: int, at: int, grams: int, kind: str = "measured") -> Entry:
    then = (FIRST + datetime.timedelta(day)).isoformat()
    spans = {(kind, "borax"): (f"{grams} gram",) * 3}
    return Entry(f"g{at}", "given", None, then, f"{at:04}", "north", amounts=spans)


MOVES = st.lists(
    st.tuples(st.sampled_from(["in", "count", "given"]), st.integers(0, 9), st.integers(0, 500)),
    min_size=1,
    max_size=25,
)


@given(MOVES)
def test_what_is_left_is_the_sum_by_hand(moves: list[tuple[str, int, int]]) -> None:
    """Walked through in order of days as a storekeeper would; the tally is one running number."""
    dated = sorted((day, at, what, grams) for at, (what, day, grams) in enumerate(moves))
    came = [day for day, _, what, _ in dated if what != "given"]
    events = [event(BOUGHT if what == "in" else COUNTED, day, at, grams)
              for day, at, what, grams in dated if what != "given"]  # fmt: skip
    entries = [entry(day, at, grams) for day, at, what, grams in dated if what == "given"]
    found = on_hand(events, entries)
    if not came:
        assert found == {}
        return
    tally = 0
    for day, _, what, grams in dated:
        if what == "count":
            tally = grams
        elif what == "in":
            tally += grams
        elif day >= min(came):
            tally -= grams
    assert found["borax"].left == Measure(Fraction(tally), GRAM)


def test_a_measured_amount_is_taken_before_an_asked_one() -> None:
    asked = {("asked mass", "borax"): ("50 gram",) * 3, ("measured", "borax"): ("47 gram",) * 3}
    one = Entry("g", "given", None, "2027-03-02", "1", "north", amounts=asked)
    found = on_hand([event(BOUGHT, 0, 0, 500)], [one])["borax"]
    assert (found.used, found.left) == (Measure(Fraction(47), GRAM), Measure(Fraction(453), GRAM))


def test_an_amount_of_the_other_kind_is_said_and_not_subtracted() -> None:
    spans = {("asked volume", "borax"): ("40 mL",) * 3}
    one = Entry("g", "given", None, "2027-03-02", "1", "north", amounts=spans)
    found = on_hand([event(BOUGHT, 0, 0, 500)], [one])["borax"]
    assert (found.left, found.unknown) == (Measure(Fraction(500), GRAM), 1)


def test_a_shelf_from_purchase_to_shortage(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    added = ran(file, "stock", "add", "borax", "50 g", "--pack", "50 g", "--cost", "4.20",
                "--on", "2026-04-01")  # fmt: skip
    assert added.output.startswith(added.output[:12] + ": 50 g Borax came in")
    words = ("log", "add", "--used", "34 g borax", "--row", "40 m", "--place", "north")
    assert "came in" not in ran(file, *words, "--on", "2026-05-02").output
    assert (
        "16 g (0.564 oz) left (bought since 2026-04-01: 50 g; used: 34 g as measured)"
        in ran(file, "stock", "list").output
    )
    again = ran(file, *words, "--on", "2026-06-02").output
    assert "the record used 18 g (0.635 oz) more than there was" in again
    ran(file, "stock", "count", "borax", "0 g", "--on", "2026-06-03")
    assert "nothing left" in ran(file, "stock", "list").output
    assert ran(file, "stock", "withdraw", added.output[:12]).exception is None
    assert "nothing counted on 2026-06-03" in ran(file, "stock", "list").output


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("add", "borax", "3 m"), "weight or a volume"),
        (("add", "borax", "0 g"), "weight or a volume"),
        (("add", "borax", "-5 g"), "-5"),
        (("add", "unobtainium", "5 g"), "unobtainium"),
        (("add", "borax", "5 g", "--cost", "cheap"), "cheap"),
        (("add", "borax", "5 g", "--cost", "-1"), "-1"),
        (("add", "borax", "5 g", "--pack", "1 L"), "of one kind"),
        (("add", "borax", "5 g", "--on", "2999-01-01"), "lies ahead"),
        (("add", "borax", "5 g", "--on", "May"), "May"),
        (("count", "borax", ""), "amount"),
        (("withdraw", "zz"), "zz"),
        (("add", "neem oil", "8 oz"), "oz"),
    ],
)  # fmt: skip
def test_bad_words_are_one_sentence_and_nothing_is_written(
    words: tuple[str, ...], says: str, tmp_path: Path
) -> None:
    file = tmp_path / "s.sqlite"
    ran(file, "stock", "add", "borax", "5 g")
    before = ran(file, "log", "export", str(tmp_path / "a.json"))
    assert before.exception is None
    done = ran(file, "stock", *words)
    assert says in str(done.exception)
    ran(file, "log", "export", str(tmp_path / "b.json"))
    assert (tmp_path / "a.json").read_bytes() == (tmp_path / "b.json").read_bytes()


def test_a_product_is_kept_by_weight_or_by_volume_and_not_both(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    ran(file, "stock", "add", "borax", "5 g")
    assert "kept by weight" in str(ran(file, "stock", "count", "borax", "5 mL").exception)

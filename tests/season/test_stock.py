"""Stock: counts, purchases and use against sums by hand; never below zero without a word."""

from __future__ import annotations

import datetime
import json
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.errors import DoseError
from dosecalc.faces import cli
from dosecalc.faces.shelf import price_typed, stock_lines
from dosecalc.season.entries import Entry
from dosecalc.season.events import Event
from dosecalc.season.exchange import from_text
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


def test_a_correction_of_what_was_taken_before_a_count_takes_nothing_again(tmp_path: Path) -> None:
    """Given, counted, and only then put right: the count had seen the powder gone."""
    file = tmp_path / "s.sqlite"
    given = ("--used", "34 g borax", "--row", "40 m", "--place", "north", "--on", "2026-05-02")
    ran(file, "log", "add", *given)
    ran(file, "stock", "count", "borax", "300 g", "--on", "2026-05-02")
    assert ran(file, "log", "correct", "last", *given, "--who", "Ro").exception is None
    assert ran(file, "log", "correct", "last", *given, "--who", "Jo").exception is None
    assert "Borax: 300 g" in ran(file, "stock", "list").output
    ran(file, "log", "add", *given)  # written behind the count, so it comes behind it
    assert "Borax: 266 g" in ran(file, "stock", "list").output


def test_the_list_says_what_was_measured_and_what_was_asked() -> None:
    both = [entry(1, 1, 30), entry(2, 2, 12, "asked mass")]
    [one] = on_hand([event(BOUGHT, 0, 0, 500)], both).values()
    assert "used: 42 g, 12 g of it as asked and the rest as measured" in stock_lines(one)[0]
    [one] = on_hand([event(BOUGHT, 0, 0, 500)], both[1:]).values()
    assert "used: 12 g as asked" in stock_lines(one)[0]


def test_what_cannot_be_subtracted_is_said_with_its_reason() -> None:
    spans = {("asked volume", "borax"): ("40 mL",) * 3}
    one = Entry("g", "given", None, "2027-03-02", "1", "north", amounts=spans)
    [stock] = on_hand([event(BOUGHT, 0, 0, 500)], [one]).values()
    assert stock_lines(stock)[1] == (
        "borax: one entry used it by volume, it is kept by weight and its density is not known:"
        " that entry is not subtracted."
    )


def test_purchases_of_two_kinds_are_never_added(tmp_path: Path) -> None:
    """Two people's shelves in one file: by weight in one, by volume in the other."""
    for name, amount, day in (("a", "500 g", "2026-04-01"), ("b", "80 mL", "2026-05-01")):
        ran(tmp_path / f"{name}.sqlite", "stock", "add", "borax", amount, "--on", day)
        ran(tmp_path / f"{name}.sqlite", "log", "export", str(tmp_path / f"{name}.json"))
    ran(tmp_path / "a.sqlite", "log", "import", str(tmp_path / "b.json"))
    said = ran(tmp_path / "a.sqlite", "stock", "list").output.splitlines()
    assert said[0].startswith("Borax: 500 g")
    assert "not counted, because they are by the other kind of amount: 1" in said[1]


@pytest.mark.parametrize(
    "details",
    [
        {},
        {"amount": "much"},
        {"amount": "3 m"},
        {"amount": "-5 g"},
        {"amount": "5 g", "pack": "1 L"},
        {"amount": "5 g", "cost": "cheap"},
        {"amount": "5 g", "cost": "1/0"},
    ],
)
def test_a_purchase_that_none_can_have_typed_is_not_taken_in(details: dict[str, str]) -> None:
    row = {"id": "a", "kind": BOUGHT, "about": None, "day": "2027-05-02", "written": "x",
           "what": "borax", "tool": "", "details": details}  # fmt: skip
    text = json.dumps({"season": 2, "entries": [], "events": [row]})
    with pytest.raises(DoseError, match="row 1"):
        from_text(text, "file.json")


@pytest.mark.parametrize(
    ("cost", "price", "currency"),
    [
        ("4.20", "4.20", ""), ("4,20 EUR", "4.20", "EUR"), ("EUR 4.20", "4.20", "EUR"),
        ("$4", "4", "$"), ("4 kr", "4", "kr"), (" 0 ", "0", ""),
    ],
)  # fmt: skip
def test_a_price_keeps_its_digits_and_the_word_for_its_money(
    cost: str, price: str, currency: str
) -> None:
    assert price_typed(cost) == (price, currency)


@pytest.mark.parametrize(
    "cost", ["", "EUR", "4.205", "1,000", "4.20 EUR each", "EUR 4 EUR", "4e3", "1/2", "nan", "-1"]
)
def test_what_is_no_price_is_refused(cost: str) -> None:
    with pytest.raises(DoseError, match=r"4\.20"):
        price_typed(cost)


def test_every_purchase_is_listed_with_its_id_so_that_it_can_be_withdrawn(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    for grams in ("500 g", "250 g"):
        ran(file, "stock", "add", "borax", grams, "--cost", "4.20 EUR", "--on", "2026-05-01")
    rows = ran(file, "stock", "list", "--all").output.splitlines()[1:]
    assert [row.split(": ")[1] for row in rows] == [
        "500 g came in on 2026-05-01, 4.20 EUR for 500 g",
        "250 g came in on 2026-05-01, 4.20 EUR for 250 g",
    ]
    ran(file, "stock", "withdraw", rows[0].split(":")[0].strip())
    assert "Borax: 250 g" in ran(file, "stock", "list").output

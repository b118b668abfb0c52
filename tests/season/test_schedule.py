"""Plans ahead: days, sums over the whole plan, waits as dates, the calendar file, the list."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from dosecalc.errors import DoseError
from dosecalc.faces import cli
from dosecalc.faces.calendar_file import calendar_bytes
from dosecalc.faces.schedule import Every, Line, days_of, every_of, plan
from dosecalc.faces.shopping import Buy, Need, money, shopping
from dosecalc.faces.waits import over, waits
from dosecalc.season.events import Event
from dosecalc.season.stock import BOUGHT, Stock, on_hand
from dosecalc.units.measure import GRAM, ML, Measure

COPPER = ("copper-lime-home", "--area", "100 m2", "--spray-volume", "10 L", "--region", "EU",
          "--crop", "apple")  # fmt: skip
SULFUR = ("wettable-sulfur-apple", "--area", "100 m2", "--spray-volume", "10 L", "--crop", "apple")
STAMP = datetime.datetime(2027, 1, 1, tzinfo=datetime.UTC)
DAY = (("day", 1),)
HOUR = (("hour", 1),)


def ran(*words: str) -> Result:
    return CliRunner().invoke(cli.group, ["schedule", *words], standalone_mode=False)


@pytest.fixture(autouse=True)
def away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def planned(*words: str) -> dict[str, Any]:
    done = ran(*words, "--json")
    assert done.exception is None, done.exception
    found: dict[str, Any] = json.loads(done.output)
    return found


def test_the_dose_that_passes_the_seven_year_limit_is_named() -> None:
    """Regulation (EU) 2018/1981: 28 kg Cu/ha in 7 years.

    The recipe's 59.9 g CuSO4.5H2O in 5 L is 119.8 g in 10 L; a tankful is weighed to 119 g here,
    and 119 x 63.546 / 249.682 = 30.29 g of copper on 100 m2 is 3.029 kg/ha: nine doses are 27.26,
    ten are 30.29.
    """
    found = planned(*COPPER, "--place", "orchard", "--on", "2027-03-01", "--times", "12",
                    "--every", "7 days")  # fmt: skip
    over_limit = [f for f in found["findings"] if f["level"] == "over" and "28 kg/ha" in f["say"]]
    assert [(f["from_dose"], f["day"], f["doses"]) for f in over_limit] == [(10, "2027-05-03", 3)]
    assert ran(*COPPER, "--place", "orchard", "--on", "2027-03-01", "--times", "9", "--every",
               "7 days").return_value == 0  # fmt: skip
    assert ran(*COPPER, "--place", "orchard", "--on", "2027-03-01", "--times", "10", "--every",
               "7 days").return_value == 3  # fmt: skip


def test_what_the_record_holds_brings_the_limit_nearer(tmp_path: Path) -> None:
    file = str(tmp_path / "s.sqlite")
    used = ("--used", "900 g copper sulfate pentahydrate", "--water", "10 L", "--area", "100 m2")
    CliRunner().invoke(cli.group, ["log", "add", *used, "--placement", "foliar", "--place",
                                   "orchard", "--on", "2025-05-01", "--season", file],
                       standalone_mode=False)  # fmt: skip
    words = (*COPPER, "--place", "orchard", "--on", "2027-03-01", "--times", "4", "--every",
             "7 days", "--season", file)  # fmt: skip
    found = planned(*words)["findings"]
    over_limit = [f for f in found if f["level"] == "over" and "28 kg/ha" in f["say"]]
    assert [f["from_dose"] for f in over_limit] == [2]  # 22.9 before; 3.03 each: 25.9, 28.96


def test_an_interval_shorter_than_the_recipes_is_found() -> None:
    milk = ("milk-leaf", "--area", "10 m2", "--spray-volume", "1 L", "--place", "north")
    close = planned(*milk, "--on", "2027-06-01", "--times", "3", "--every", "2 days")
    assert [(f["why"], f["from_dose"]) for f in close["findings"]] == [("too-soon", 2)]
    own = planned(*milk, "--on", "2027-06-01", "--times", "3")
    assert [dose["day"] for dose in own["doses"]] == ["2027-06-01", "2027-06-04", "2027-06-07"]
    assert own["findings"] == []


@pytest.mark.parametrize(
    ("first", "every", "days"),
    [
        ("2027-01-31", "1 month", ["2027-01-31", "2027-02-28", "2027-03-31"]),
        ("2028-01-31", "1 month", ["2028-01-31", "2028-02-29", "2028-03-31"]),
        ("2027-12-30", "2 days", ["2027-12-30", "2028-01-01", "2028-01-03"]),
        ("2028-02-28", "1 day", ["2028-02-28", "2028-02-29", "2028-03-01"]),
        ("2027-03-01", "2 weeks", ["2027-03-01", "2027-03-15", "2027-03-29"]),
        ("2028-02-29", "1 year", ["2028-02-29", "2029-02-28", "2030-02-28"]),
    ],
)
def test_days_by_the_calendar(first: str, every: str, days: list[str]) -> None:
    found = days_of(datetime.date.fromisoformat(first), every_of(every), 3)
    assert [day.isoformat() for day in found] == days


@given(st.dates(datetime.date(2020, 1, 1), datetime.date(2099, 1, 1)), st.integers(1, 60),
       st.integers(1, 12))  # fmt: skip
def test_days_lie_as_far_apart_as_told(first: datetime.date, days: int, times: int) -> None:
    found = days_of(first, Every(days=days), times)
    assert [(day - first).days for day in found] == [days * at for at in range(times)]


def test_a_wait_is_over_by_the_day_or_by_the_clock() -> None:
    day = datetime.date(2027, 5, 1)
    assert over(day, Measure(Fraction(14), DAY), None) == datetime.date(2027, 5, 15)
    assert over(day, Measure(Fraction(3, 2), DAY), None) == datetime.date(2027, 5, 3)
    assert over(day, Measure(Fraction(24), HOUR), None) is None
    at_seven = over(day, Measure(Fraction(24), HOUR), datetime.time(7))
    assert at_seven == datetime.datetime(2027, 5, 2, 7)


def test_the_last_harvest_wait_of_the_plan_is_named() -> None:
    """Wettable sulfur: one day before harvest (Missouri Botanical Garden, Pesticides: sulfur)."""
    found = planned(*SULFUR, "--place", "orchard", "--on", "2027-05-01", "--times", "3", "--every",
                    "7 days")  # fmt: skip
    assert found["harvest_waits_over"] == [{"place": "orchard", "day": "2027-05-16"}]
    [wait] = [one for one in found["waits"] if one["what"] == "harvest"]
    assert wait["over"] == ["2027-05-02", "2027-05-09", "2027-05-16"]


def calendar(tmp_path: Path, *words: str) -> bytes:
    file = tmp_path / "plan.ics"
    done = ran(*SULFUR, "--on", "2027-05-01", "--times", "2", "--every", "7 days", *words, "-o",
               str(file), "--replace")  # fmt: skip
    assert done.exception is None, done.exception
    return file.read_bytes()


def test_the_calendar_is_read_back_as_what_was_planned(tmp_path: Path) -> None:
    raw = calendar(tmp_path, "--place", "old; trees, north\\side")
    events = list(Calendar.from_ical(raw).walk("VEVENT"))
    doses = [e for e in events if str(e["summary"]).startswith("Dose")]
    assert [e.decoded("dtstart").isoformat() for e in doses] == ["2027-05-01", "2027-05-08"]
    assert all("old; trees, north\\side" in str(e["summary"]) for e in events)
    assert [str(a["trigger"].to_ical(), "ascii") for e in doses for a in e.walk("VALARM")] == [
        "-P1D", "-P1D"
    ]  # fmt: skip
    waits = [e for e in events if "No harvest" in str(e["summary"])]
    assert [(e.decoded("dtend") - e.decoded("dtstart")).days for e in waits] == [1, 1]


def test_the_calendar_keeps_the_rules_of_the_standard(tmp_path: Path) -> None:
    """RFC 5545, 3.1 (lines of 75 octets, CRLF), 3.3.11 (escaped text), 3.6.1 (UID, DTSTAMP)."""
    raw = calendar(tmp_path, "--place", "straße, " + "ü" * 60)
    assert raw.endswith(b"\r\n")
    lines = raw.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    text = b"".join(
        line[1:] if line[:1] == b" " else b"\n" + line for line in lines
    ).decode("utf-8")  # fmt: skip
    rows = text.strip().split("\n")
    assert rows.count("BEGIN:VEVENT") == rows.count("END:VEVENT") > 2
    uids = [row for row in rows if row.startswith("UID:")]
    assert len(set(uids)) == len(uids) == rows.count("BEGIN:VEVENT")
    assert sum(row.startswith("DTSTAMP:") for row in rows) == len(uids)
    titles = [row for row in rows if row.startswith("SUMMARY:")]
    assert all("straße\\, ü" in row for row in titles)


def test_a_plan_written_again_moves_its_events(tmp_path: Path) -> None:
    def ids(raw: bytes) -> list[str]:
        return [str(e["uid"]) for e in Calendar.from_ical(raw).walk("VEVENT")]

    before = ids(calendar(tmp_path, "--place", "north"))
    assert ids(calendar(tmp_path, "--place", "north", "--on", "2027-05-03")) == before
    assert not set(ids(calendar(tmp_path, "--place", "south"))) & set(before)
    assert not set(ids(calendar(tmp_path, "--place", "north", "--on", "2028-05-03"))) & set(before)


def test_the_same_plan_and_stamp_give_the_same_bytes() -> None:
    from dosecalc.catalog.site import SiteText
    from dosecalc.catalog.tools import ToolsText
    from dosecalc.faces.job import Job

    def made() -> bytes:
        job = Job(SULFUR[0], SiteText(area="100 m2", spray_volume="10 L"), ToolsText())
        doses = plan([Line(job, "north", days_of(STAMP.date(), Every(days=7), 3))])
        return calendar_bytes(doses, waits(doses, None), STAMP, "buds open")

    assert made() == made()


def test_the_list_takes_off_the_stock_and_rounds_packs_up(tmp_path: Path) -> None:
    file = str(tmp_path / "s.sqlite")
    for words in (
        ["stock", "add", "wettable sulfur", "200 g", "--pack", "200 g", "--cost", "3.25"],
    ):
        CliRunner().invoke(cli.group, [*words, "--season", file], standalone_mode=False)
    words = (*SULFUR, "--place", "orchard", "--on", "2027-05-01", "--times", "4", "--every",
             "7 days", "--season", file)  # fmt: skip
    [buy] = planned(*words)["shopping"]
    need = Fraction(buy["need"].split()[0])
    lack = need - 200
    assert 400 < need < 460
    assert (buy["packs"], buy["cost"]) == (2, "6.50")
    assert 200 < lack <= 400
    text = ran(*words, "--shopping").output
    assert "200 g (7.05 oz) on hand: 2 packs of 200 g (7.05 oz), 6.50 in all." in " ".join(
        text.split()
    )
    [other] = planned(*words, "--pack", "wettable sulfur: 1 kg")["shopping"]
    assert (other["packs"], other["pack"]) == (1, "1 kg")


def kept(grams: int) -> dict[str, Stock]:
    amount = {"amount": f"{grams} gram"}
    return on_hand([Event("a", BOUGHT, None, "2027-01-01", "1", "borax", "", amount)], [])


def lacking(need: Need, stocks: dict[str, Stock], **more: Any) -> list[Buy]:
    return shopping([need], stocks, more.get("packs", {}), more.get("prices", {}))


def test_what_is_on_hand_is_not_bought() -> None:
    def need(mass: int | None, volume: int | None, *, weighed: bool = True) -> Need:
        known = [None if one is None else Fraction(one) for one in (mass, volume)]
        return Need("borax", "Borax", known[0], known[1], weighed)

    [enough] = lacking(need(500, None), kept(500))
    assert (enough.buy.value, enough.packs) == (0, None)
    [lack] = lacking(need(501, None), kept(500))
    assert lack.buy == Measure(Fraction(1), GRAM)
    [other] = lacking(need(None, 5, weighed=False), kept(500))
    assert (other.other, other.buy) == (True, Measure(Fraction(5), ML))


def test_what_is_spooned_is_bought_by_weight_through_its_likely_density() -> None:
    """A grower spoons borax and buys it by the box: the shelf is in grams."""
    need = Need("borax", "Borax", Fraction(68), Fraction(80), weighed=False)
    [buy] = lacking(need, kept(20))
    assert (buy.buy, buy.through, buy.other) == (Measure(Fraction(48), GRAM), True, False)
    [loose] = lacking(need, {})
    assert (loose.buy, loose.through) == (Measure(Fraction(80), ML), False)
    [packed] = lacking(need, {}, packs={"borax": Measure(Fraction(50), GRAM)})
    assert (packed.need, packed.packs) == (Measure(Fraction(68), GRAM), 2)


def test_the_price_is_that_of_the_pack_that_is_bought() -> None:
    """200 g for 3.25, then 1 kg for 12 EUR without a word on packs: the kilogram is the pack."""
    buys = [
        ("200 gram", {"pack": "200 gram", "cost": "3.25"}),
        ("1 kg", {"pack": "1 kg", "cost": "12", "currency": "EUR"}),
    ]
    events = [
        Event(str(at), BOUGHT, None, f"2027-01-0{at}", "1", "borax", "", {"amount": size, **more})
        for at, (size, more) in enumerate(buys, start=1)
    ]
    [buy] = lacking(Need("borax", "Borax", Fraction(1300), None, weighed=True), on_hand(events, []))
    assert (buy.packs, buy.cost, buy.currency) == (1, Fraction(12), "EUR")
    small = on_hand(events[:1], [])
    [buy] = lacking(Need("borax", "Borax", Fraction(401), None, weighed=True), small)
    assert (buy.packs, buy.cost, buy.currency) == (2, Fraction("6.50"), "")
    kilo = {"borax": Measure(Fraction(1000), GRAM)}
    [buy] = lacking(Need("borax", "Borax", Fraction(401), None, weighed=True), small, packs=kilo)
    assert (buy.packs, buy.cost) == (1, None)  # nobody said what a kilogram costs
    unpriced = [events[0], replace(events[1], details={"amount": "1 kg", "pack": "1 kg"})]
    [buy] = lacking(
        Need("borax", "Borax", Fraction(1300), None, weighed=True), on_hand(unpriced, [])
    )
    assert (buy.packs, buy.cost) == (1, None)


@pytest.mark.parametrize(
    ("amount", "text"),
    [("0", "0.00"), ("1/3", "0.33"), ("1/200", "0.01"), ("1234.5", "1234.50"), ("0.995", "1.00")],
)
def test_money_is_rounded_to_the_hundredth(amount: str, text: str) -> None:
    assert money(Fraction(amount)) == text


def test_a_card_for_each_dose_bears_its_day(tmp_path: Path) -> None:
    file = tmp_path / "pack.txt"
    done = ran(*SULFUR, "--place", "orchard", "--on", "2027-05-01", "--times", "2", "--every",
               "7 days", "--cards", str(file))  # fmt: skip
    assert done.exception is None
    text = file.read_text("utf-8")
    assert text.count("\f") == 2
    assert [day for day in ("2027-05-01", "2027-05-08") if f"Date: {day}" in text]


def test_several_beds_from_a_list(tmp_path: Path) -> None:
    (tmp_path / "beds.txt").write_text(
        'milk-leaf --area "10 m2" --spray-volume "1 L" --place north\n'
        'milk-leaf --area "20 m2" --spray-volume "2 L" --place south\n',
        encoding="utf-8",
    )
    found = planned("--list", "beds.txt", "--on", "2027-06-01", "--times", "2")
    assert [(d["place"], d["number"]) for d in found["doses"]] == [
        ("north", 1), ("north", 2), ("south", 1), ("south", 2)
    ]  # fmt: skip
    [buy] = found["shopping"]
    assert buy["need"] == "600 mL"  # 100 mL a litre: 1 + 1 + 2 + 2 litres


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--every", "1.5 days"), "1.5 days"),
        (("--every", "fortnightly"), "fortnightly"),
        (("--every", "0 days"), "0 days"),
        (("--every", "13"), "13"),
        (("--times", "0"), "from 1 to"),
        (("--times", "999"), "999"),
        (("--times", "2.5"), "2.5"),
        (("--time", "7"), "07:00"),
        (("--time", "25:00"), "25:00"),
        (("--on", "2027-02-30"), "2027-02-30"),
        (("--on", "9999-12-31", "--times", "3", "--every", "1 day"), "2200"),
        (("--every", "5 months", "--times", "60", "--on", "2190-01-01"), "2200"),
        (("-o", "plan.pdf"), ".ics"),
        (("--when", "buds swell", "-o", "plan.ics"), "--on"),
        (("--pack", "500 g"), "borax: 500 g"),
        (("--list", "nothing.txt"), ""),
    ],
)
def test_bad_words_are_one_sentence_and_nothing_is_written(
    words: tuple[str, ...], says: str, tmp_path: Path
) -> None:
    base = SULFUR if "--list" not in words else ()
    done = ran(*base, "--place", "north", "--shopping", *words)
    assert isinstance(done.exception, DoseError)
    assert says in str(done.exception)
    assert "\n" not in str(done.exception)
    assert list(tmp_path.iterdir()) == []


def test_several_doses_need_an_interval_and_a_place() -> None:
    assert "--every" in str(ran(*SULFUR, "--place", "north", "--times", "2").exception)
    assert "--place" in str(ran(*SULFUR, "--times", "1").exception)


def test_a_sign_to_begin_stands_above_the_days() -> None:
    done = ran(*SULFUR, "--place", "north", "--when", "plants 30 cm tall")
    assert "It begins when: plants 30 cm tall" in done.output

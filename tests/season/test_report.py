"""The season's report: sums by hand, the judge's own figures, the print read back."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from dataclasses import asdict
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from dosecalc.catalog.garden import Garden
from dosecalc.catalog.limit import read_limits, terms_of
from dosecalc.catalog.lookup import source
from dosecalc.errors import DoseError
from dosecalc.faces.report.data import LIMIT_AT, Document
from dosecalc.faces.report.make import Asked, document_of, page_bytes, window_of
from dosecalc.faces.report.text import drawn
from dosecalc.season.events import add_event
from dosecalc.season.report import OfPlace, Report, Scope, report
from dosecalc.season.store import reading, writing
from tests.season.test_ground import ROW, logged, run
from tests.season.test_ground import split as split_event
from tests.season.test_season import entry, fill

YEAR = ("2026-01-01", "2026-12-31")


def made(
    file: Path, window: tuple[str, str] = YEAR, place: str | None = None, **scope: Any
) -> Report:
    def limits(nutrients: Any, materials: Any) -> Any:
        return read_limits(terms_of(nutrients, materials), source, water=True)

    with reading(file) as base:
        found = report(base, window, None, lambda _: Scope(**scope), limits)
    assert found is not None
    return found


def of(found: Report, name: str) -> OfPlace:
    return next(one for one in found.places if one.here.lineage.piece.name == name)


@settings(max_examples=25, deadline=None)
@given(doses=st.lists(st.tuples(st.integers(1, 28), st.integers(1, 9999)), min_size=1, max_size=8))
def test_totals_are_the_sums_by_hand(
    tmp_path_factory: pytest.TempPathFactory, doses: list[tuple[int, int]]
) -> None:
    file = tmp_path_factory.mktemp("r") / "s.sqlite"
    fill(file, *(entry(f"{n}", f"2026-05-{day:02}", grams=f"{grams} gram")
                 for n, (day, grams) in enumerate(doses)),
         entry("before", "2025-12-31", grams="7 gram"), entry("after", "2027-01-01"))  # fmt: skip
    found = of(made(file, region="EU"), "north")
    [total] = found.totals
    hand = sum(grams for _, grams in doses)
    assert total.mass == (hand,) * 3
    assert total.per_area == (Fraction(hand, 10_000),) * 3  # over one hectare
    [copper] = [h for h in found.held if h.limit.window == "rolling years"]
    assert copper.likely == Fraction(hand + 7, 1000)  # kg/ha, with what the years before hold
    assert copper.together == len(doses) + 1


def test_a_part_has_its_share_of_the_amount_and_all_of_the_figure_per_area(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2000-01-05", grams="1000 gram"))
    with writing(file) as base:
        add_event(base, split_event(10, "north", a="12 m2", b="6 m2"))
    found = made(file, ("2000-01-01", "2000-12-31"))
    names = [one.here.lineage.piece.name for one in found.places]
    assert names == ["a", "b", "north"]
    masses = {n: of(found, n).totals[0].mass for n in names}
    assert masses["a"] == (Fraction(2000, 3),) * 3
    assert masses["b"] == (Fraction(1000, 3),) * 3
    assert {of(found, n).totals[0].per_area for n in names} == {(Fraction(1, 10),) * 3}
    assert len({h.likely for n in names for h in of(found, n).held if h.limit.of == "Cu"}) == 1


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season of an invented garden: tests, crops, two doses, a split, a merge, a correction."""
    file = tmp_path_factory.mktemp("season") / "s.sqlite"
    for words in (
        ("test", "--place", "north", "--on", "2026-02-10", "--soil", "B 0.6 mg/kg hot-water"),
        ("crop", "start", "beetroot", "--place", "north", "--on", "2026-04-20"),
        ("boron-drench", *ROW[:4], "--place", "north", "--on", "2026-05-02", "--who", "Ro",
         "--conditions", "calm, 14 C, dry", "--note", "windless\nfrom 6 to 7"),
        ("split", "north", "--into", "north-a 12 m2", "north-b 6 m2", "--on", "2026-06-01"),
        ("boron-drench", "--row", "26 m", "--row-spacing", "45 cm", "--place", "north-a", "--on",
         "2026-06-20"),
        ("--used", "400 g blood meal", "--area", "6 m2", "--place", "north-b", "--on",
         "2026-06-22"),
        ("merge", "north-a", "north-b", "--into", "north", "--on", "2026-09-01"),
        ("crop", "end", "beetroot", "--place", "north", "--on", "2026-09-20"),
        ("--used", "60 g borax", *ROW[:4], "--place", "east", "--on", "2026-05-05"),
        ("correct", "last", "--used", "6 g borax", *ROW[:4], "--place", "east", "--on",
         "2026-05-05", "--crop", "bean"),
        ("--used", "1 kg wood ash", "--area", "18 m2", "--place", "west", "--on", "2026-10-01"),
        ("undo", "last"),
        ("test", "--place", "west", "--on", "2026-10-02", "--soil", "P 41 ppm"),
        ("withdraw", "last"),
    ):  # fmt: skip
        logged(file, *words)
    return file


@pytest.fixture(scope="module")
def document(file: Path) -> Document:
    garden = Garden(None, {"name": "Three Hedges", "region": "EU"})
    return document_of(file, Asked(year="2026"), garden)


def test_it_says_what_the_judge_said_on_that_day(file: Path, tmp_path: Path) -> None:
    """The same dose typed again without the record's last one gives the report's figures."""
    copy = tmp_path / "s.sqlite"
    for words in (
        ("crop", "start", "beetroot", "--place", "north", "--on", "2026-04-20"),
        ("boron-drench", *ROW[:4], "--place", "north", "--on", "2026-05-02"),
    ):
        logged(copy, *words)
    done = run(copy, "mix", "boron-drench", *ROW[:4], "--place", "north", "--on", "2026-06-01",
               "--region", "EU", "--json")  # fmt: skip
    judged = {f["id"]: f for f in json.loads(done.output)["findings"]}
    logged(copy, "boron-drench", *ROW[:4], "--place", "north", "--on", "2026-06-01")
    held = of(made(copy, region="EU"), "north").held
    assert {h.limit.id for h in held} == {
        id for id, f in judged.items() if f["level"] in ("over", "caution", "within") and f["limit"]
    }
    for h in held:
        found = judged[h.limit.id]
        assert float(h.likely) == pytest.approx(found["likely"]["value"], rel=1e-11)
        assert {"likely": "over", "high": "caution", "": "within"}[h.over] == found["level"]


def test_what_is_over_and_what_nobody_knows_is_said(document: Document) -> None:
    places = {place.title: place for place in document.places}
    assert list(places) == [
        "east", "north, until 2026-06-01", "north, from 2026-09-01",
        "north-a, 2026-06-01 to 2026-09-01", "north-b, 2026-06-01 to 2026-09-01",
    ]  # fmt: skip
    after = places["north, from 2026-09-01"]
    worst = after.bars[0]
    assert worst.mark == "OVER"
    assert any("2 entries together" in line for line in worst.more)
    assert any("as the mean over the merged ground" in line for line in worst.more)
    east = places["east"]
    excluded = [bar for bar in east.bars if bar.likely is None]
    assert [bar.ratio for bar in excluded] == ["any is too much"]
    assert excluded[0].mark == "OVER"
    assert "none at all" in excluded[0].limit
    lines = [line for s in east.sections for line in s.lines]
    assert "Who gave 1 of 1 entries." in lines
    assert "No soil test is on record." in lines


def test_what_may_not_be_given_at_all_is_over_on_ground_of_no_size_too(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    amounts = {("asked mass", "borax"): ("6 gram",) * 3}
    fill(file, entry("a", "2026-05-05", amounts=amounts, crop="bean", placement="band", ground={}))
    found = document_of(file, Asked(year="2026"), Garden())
    assert [line for line in found.places[0].about if "OVER: borate was given in 1" in line]


def test_the_garden_s_labels_are_held_too(tmp_path: Path) -> None:
    (tmp_path / "dust.toml").write_text(
        'product = "Saltmarsh dust"\nmaterial = "borax"\ntimes = 1\n', "utf-8"
    )
    garden = Garden(tmp_path / "garden.toml", {"label": ["dust.toml"]})
    season = tmp_path / "s.sqlite"
    amounts = {("asked mass", "borax"): ("6 gram",) * 3}
    fill(season, *(entry(day, f"2026-05-{day}", amounts=amounts, placement="band")
                   for day in ("01", "20")))  # fmt: skip
    bars = document_of(season, Asked(year="2026"), garden).places[0].bars
    [times] = [bar for bar in bars if bar.source.endswith("as typed")]
    assert (times.mark, times.ratio) == ("OVER", "200 % of the limit")
    assert times.figure == "twice in number"
    assert times.limit.startswith("at most once")


def test_corrections_undone_entries_and_withdrawn_events_stand_at_the_end(
    document: Document,
) -> None:
    changed, events = document.sections
    assert len(changed.lines) == 2
    assert re.search(r"60 g Borax .* was corrected on .*: 6 g Borax", changed.lines[0])
    assert "1 kg Wood ash" in changed.lines[1]
    assert "undone" in changed.lines[1]
    assert len(events.lines) == 2
    assert "P 41 ppm" in events.lines[0]
    assert "withdrawn" in events.lines[1]


def strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for item in value.values():
            yield from strings(item)
    elif isinstance(value, (list, tuple)):
        for item in value:
            yield from strings(item)


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b\u00a0]+", "", text)


def test_the_text_holds_every_word_and_its_bars_say_what_the_numbers_say(
    document: Document,
) -> None:
    text = page_bytes(document, "-", "a4").decode("utf-8")
    assert max(map(len, text.splitlines())) <= 80
    whole = squeezed(text)
    left_out = {document.title, document.page, document.none}
    left_out |= {text for p in document.places for text in (*p.heads, *p.sum_heads, p.key)}
    for line in strings(asdict(document)):
        assert squeezed(line) in whole or line in left_out, line
    bars = [b for p in document.places for b in p.bars if b.likely is not None]
    shown = re.findall(r"^ +\[([#: |>]+)\]$", text, re.MULTILINE)
    assert len(shown) == len(bars) > 5
    for bar, letters in zip(bars, shown, strict=True):
        share = Fraction(bar.ratio.split(" ")[0]) / 100
        assert (letters.rstrip("> ").rfind("#") > letters.index("|")) == (share > 1)
        assert letters.index("|") == int(len(letters) * LIMIT_AT)


@given(st.fractions(0, 3), st.fractions(0, 3))
def test_a_bar_crosses_the_mark_only_when_the_figure_does(one: Fraction, other: Fraction) -> None:
    likely, high = sorted((one, other))
    letters = drawn(likely, high)
    behind = letters[letters.index("|") + 1 :]
    assert ("#" in behind) == (likely > LIMIT_AT)
    assert bool(behind.strip()) == (high > LIMIT_AT)
    assert (">" in letters) == (high > 1)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_pdf_read_back_holds_every_number_and_unit(document: Document, paper: str) -> None:
    reader = PdfReader(io.BytesIO(page_bytes(document, "season.pdf", paper)))
    width = {"a4": 595.3, "letter": 612.0}[paper]
    assert all(abs(float(page.mediabox.width) - width) < 0.1 for page in reader.pages)
    whole = squeezed("".join(page.extract_text() for page in reader.pages))
    lines = [line for line in strings(asdict(document)) if re.search(r"\d", line)]
    assert len(lines) > 60
    # Where a page ends within an item the footer stands in between: numbers with their units
    # are looked for, which never break.
    amounts = {m for line in lines for m in re.findall(r"\d[\d.]* ?[A-Za-z%/]+[\w/]*", line)}
    assert len(amounts) > 80
    assert [amount for amount in amounts if squeezed(amount) not in whole] == []
    for number, page in enumerate(reader.pages, start=1):
        assert f"Page {number} / {len(reader.pages)}" in page.extract_text()
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_data()


def test_nothing_is_cleared(document: Document) -> None:
    text = page_bytes(document, "-", "a4").decode("utf-8").lower()
    assert "it clears nothing" in " ".join(text.split())
    assert re.findall(r"\b(safe|fine|ok|allowed|permitted|harmless|no danger)\b", text) == []


def test_one_place_and_some_days(file: Path) -> None:
    found = document_of(
        file, Asked(place="North-A", start="2026-06-02", end="2026-07-01"), Garden()
    )
    assert [place.title for place in found.places] == ["north-a, 2026-06-01 to 2026-09-01"]
    assert [row.day for row in found.places[0].given] == ["2026-06-20"]
    # What was given before the first day of the report still counts in its limits.
    assert any("2 entries together" in m for bar in found.places[0].bars for m in bar.more)
    assert any("add --region" in line for line in found.first)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (Asked(year="26"), "is no year"),
        (Asked(year="2026", start="2026-01-01"), "say the same"),
        (Asked(start="2026-05-01", end="2026-04-01"), "lies after"),
        (Asked(start="1.5.2026"), "is no day"),
        (Asked(place="nroth", year="2026"), "knows no place 'nroth'"),
        (Asked(region="Mars", year="2026"), "--region"),
    ],
)
def test_bad_words_are_one_sentence(asked: Asked, said: str, file: Path) -> None:
    with pytest.raises(DoseError) as refused:
        document_of(file, asked, Garden())
    assert said in str(refused.value)


def test_a_year_is_the_calendars() -> None:
    assert window_of(Asked(year="2024")) == ("2024-01-01", "2024-12-31")
    assert window_of(Asked(end="2024-03-01")) == ("2024-01-01", "2024-03-01")


def test_it_is_written_whole_or_not_at_all(file: Path, tmp_path: Path) -> None:
    out = tmp_path / "r.txt"
    assert "wrote" in run(file, "log", "report", "--year", "2026", "-o", str(out)).output
    before = out.read_bytes()
    for words in (("-o", str(out)), ("-o", str(tmp_path / "r.doc")), ("--paper", "a3")):
        assert isinstance(run(file, "log", "report", *words).exception, DoseError)
    assert out.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["r.txt"]


def test_a_year_without_entries_says_so(file: Path) -> None:
    text = run(file, "log", "report", "--year", "2019").output
    assert "Nothing is on record for this time." in text

"""The calendar file by our own strict reading of RFC 5545, beside that of the library."""

from __future__ import annotations

import datetime
import re
import sys
from collections.abc import Iterator
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from dosecalc.catalog.site import SiteText
from dosecalc.catalog.tools import ToolsText
from dosecalc.errors import DoseError, printable
from dosecalc.faces.calendar_file import calendar_bytes
from dosecalc.faces.job import Job
from dosecalc.faces.schedule import Dose, Line, plan
from dosecalc.faces.waits import waits

STAMP = datetime.datetime(2027, 1, 1, 6, 30, tzinfo=datetime.UTC)
DAYS = (datetime.date(2027, 5, 1), datetime.date(2027, 5, 9))
# 3.1: a name, parameters, a colon; none of the names here takes a quoted parameter.
ROW = re.compile(r"(?P<name>[A-Z-]+)(?:;[A-Z-]+=[A-Z-]+)*:(?P<value>.*)")
# 3.3.11: a comma, a semicolon and a backslash only behind a backslash, a line end as \n.
TEXT = re.compile(r"(?:[^\x00-\x08\x0a-\x1f\x7f,;\\]|\\[\\;,nN])*")
TEXTS = ("SUMMARY", "DESCRIPTION")
NEEDED = {"VEVENT": {"UID", "DTSTAMP", "DTSTART"}, "VALARM": {"ACTION", "TRIGGER", "DESCRIPTION"},
          "VCALENDAR": {"PRODID", "VERSION"}}  # fmt: skip
ONCE = (
    "UID",
    "DTSTAMP",
    "DTSTART",
    "DTEND",
    "SUMMARY",
    "DESCRIPTION",
    "TRANSP",
    "ACTION",
    "TRIGGER",
)


def rows(raw: bytes) -> Iterator[tuple[str, str]]:
    """Each unfolded row as its name and its value; refuses what the standard does."""
    assert raw.endswith(b"\r\n")
    whole = bytearray()
    for line in raw.removesuffix(b"\r\n").split(b"\r\n"):
        assert len(line) <= 75
        assert b"\r" not in line
        assert b"\n" not in line
        if line.startswith((b" ", b"\t")):
            whole += line[1:]
        else:
            whole += b"\n" + line
    for row in whole.decode("utf-8").removeprefix("\n").split("\n"):
        match = ROW.fullmatch(row)
        assert match is not None, row
        assert match["name"] not in TEXTS or TEXT.fullmatch(match["value"]), row
        yield match["name"], match["value"]


def components(raw: bytes) -> list[tuple[str, dict[str, str]]]:
    """Every component, well nested, each with what it must hold and nothing of it twice."""
    open_now: list[tuple[str, dict[str, str]]] = []
    found: list[tuple[str, dict[str, str]]] = []
    for name, value in rows(raw):
        if name == "BEGIN":
            open_now.append((value, {}))
        elif name == "END":
            kind, held = open_now.pop()
            assert kind == value
            assert NEEDED[kind] <= set(held)
            found.append((kind, held))
        else:
            held = open_now[-1][1]
            assert name not in held or name not in ONCE
            held[name] = value
    assert open_now == []
    return found


def plain(text: str) -> str:
    return re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], text)


@cache
def doses(place: str) -> tuple[Dose, ...]:
    job = Job("wettable-sulfur-apple", SiteText(area="100 m2", spray_volume="10 L"), ToolsText())
    return tuple(plan([Line(job, place, DAYS)]))


def made(place: str = "north", when: str = "") -> bytes:
    from dataclasses import replace

    found = [replace(dose, place=place) for dose in doses("north")]
    return calendar_bytes(found, waits(found, None), STAMP, when)


ANY = st.text(st.characters(codec="utf-8"), min_size=1, max_size=90)


@settings(deadline=None)
@given(place=ANY, when=ANY)
def test_any_name_comes_out_of_the_file_as_it_went_in(place: str, when: str) -> None:
    raw = made(place, when)
    events = [held for kind, held in components(raw) if kind == "VEVENT"]
    shown = printable(place, 200)
    assert all(shown in plain(event["SUMMARY"]) for event in events)
    assert f"Begins when: {printable(when, 200)}." in plain(events[0]["DESCRIPTION"]).split("\n")
    read = list(Calendar.from_ical(raw).walk("VEVENT"))
    assert [str(event["summary"]) for event in read] == [plain(e["SUMMARY"]) for e in events]


def test_days_are_whole_and_end_on_the_day_after() -> None:
    events = [held for kind, held in components(made()) if kind == "VEVENT"]
    given = [e for e in events if e["SUMMARY"].startswith("Dose")]
    assert [(e["DTSTART"], e["DTEND"]) for e in given] == [
        ("20270501", "20270502"), ("20270509", "20270510")
    ]  # fmt: skip
    assert {e["DTSTAMP"] for e in events} == {"20270101T063000Z"}
    assert len({e["UID"] for e in events}) == len(events)
    alarms = [held for kind, held in components(made()) if kind == "VALARM"]
    assert [alarm["TRIGGER"] for alarm in alarms] == ["-P1D", "-P1D"]


def test_the_same_plan_and_stamp_give_the_same_bytes() -> None:
    assert made("a, b; c") == made("a, b; c")


def test_without_the_library_the_way_out_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "icalendar", None)
    with pytest.raises(DoseError, match=r"dosecalc\[calendar\]"):
        made()

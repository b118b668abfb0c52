"""What can befall a season's file: no room, no rights, damage, clocks, any text."""

from __future__ import annotations

import datetime
import os
import random
import resource
import sqlite3
import subprocess
import sys
import textwrap
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.errors import DoseError
from dosecalc.faces.cli import group
from dosecalc.season import steps
from dosecalc.season.checks import MOST_TEXT
from dosecalc.season.entries import Entry, add, counting, everything, newest, one
from dosecalc.season.events import Event, add_event, every_event
from dosecalc.season.exchange import from_text, take_in, to_csv, to_json
from dosecalc.season.store import reading, whole, writing
from tests.season.test_season import ROW, entry, fill, log

HAND = ("--used", "10 g borax", "--row", "4 m", "--row-spacing", "45 cm", "--place", "north")


def child(
    folder: Path, *words: str, limit: int | None = None, **env: str
) -> subprocess.CompletedProcess[str]:
    """A command in its own process, in an empty home; with `limit` no file grows beyond it."""

    def no_room() -> None:
        assert limit is not None
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return subprocess.run(
        [sys.executable, "-m", "dosecalc", *words], cwd=folder, capture_output=True, text=True,
        check=False, preexec_fn=None if limit is None else no_room,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(map(os.path.abspath, sys.path)),
             "PYTHONDONTWRITEBYTECODE": "1", "HOME": str(folder), **env},
    )  # fmt: skip


def refused(done: subprocess.CompletedProcess[str], said: str) -> None:
    """Exit code 2, one sentence on standard error, no traceback."""
    assert done.returncode == 2, done.stderr
    assert done.stderr.startswith("dosecalc: ")
    assert done.stderr.count("\n") == 1
    assert said in done.stderr


def ids(file: Path) -> list[str]:
    with reading(file) as base:
        assert whole(base)
        return [e.id for e in everything(base)]


# No room, no rights.


def test_a_full_disk_in_the_middle_of_a_write_keeps_every_old_entry(tmp_path: Path) -> None:
    file = tmp_path / "season.sqlite"
    fill(file, *(entry(f"{n:03}", "2026-05-01") for n in range(50)))
    before = file.read_bytes()
    note = "x" * 9000  # more than the pages that are there can take
    done = child(tmp_path, "log", *HAND, "--note", note, limit=len(before))
    refused(done, "season.sqlite could not be used (")
    assert len(ids(file)) == 50
    assert child(tmp_path, "log", "verify").returncode == 0
    assert child(tmp_path, "log", *HAND, "--note", note).returncode in (0, 3)
    assert len(ids(file)) == 51


def test_a_full_disk_at_the_first_entry_leaves_nothing_that_is_taken_for_a_season(
    tmp_path: Path,
) -> None:
    refused(child(tmp_path, "log", *HAND, limit=1024), "could not be used (")
    again = child(tmp_path, "log", *HAND)
    if again.returncode == 2:  # the empty file that was left is named, never silently filled
        refused(again, "is empty")
        (tmp_path / "season.sqlite").unlink()
        again = child(tmp_path, "log", *HAND)
    assert again.returncode in (0, 3)
    assert len(ids(tmp_path / "season.sqlite")) == 1


def test_a_file_that_may_not_grow_keeps_what_it_had(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01"))

    def too_many() -> None:
        with writing(file) as base:
            pages = base.execute("PRAGMA page_count").fetchone()[0]
            base.execute(f"PRAGMA max_page_count = {pages}")
            for n in range(100):
                add(base, entry(f"b{n}", "2026-05-01", note="x" * 9000))

    with pytest.raises(DoseError, match=r"could not be used \(database or disk is full\)"):
        too_many()
    assert ids(file) == ["a"]


def test_a_full_disk_leaves_no_half_export_and_no_half_backup(tmp_path: Path) -> None:
    fill(tmp_path / "season.sqlite", *(entry(f"{n:03}", "2026-05-01") for n in range(50)))
    for words in (("export", "o.json"), ("export", "o.csv"), ("backup", "b.sqlite")):
        done = child(tmp_path, "log", *words, limit=4096)
        refused(done, words[1])
    assert [path.name for path in tmp_path.iterdir()] == ["season.sqlite"]
    assert len(ids(tmp_path / "season.sqlite")) == 50


@pytest.mark.parametrize(
    "words", [("log", *HAND), ("log", "list"), ("log", "undo", "last"), ("log", "verify")]
)
def test_a_folder_that_is_a_file_is_one_sentence(words: tuple[str, ...], tmp_path: Path) -> None:
    """No rights are needed to be refused here: it holds for root as well."""
    (tmp_path / "shelf").write_text("no folder", "utf-8")
    refused(child(tmp_path, *words, "--season", "shelf/season.sqlite"), "shelf/season.sqlite")
    assert (tmp_path / "shelf").read_text("utf-8") == "no folder"


@pytest.mark.parametrize("which", ["file", "folder"])
def test_without_the_right_to_write_it_is_still_read_and_nothing_is_lost(
    which: str, tmp_path: Path
) -> None:
    """Root may write everywhere: then the entry is there; anybody else is refused. Never half."""
    folder = tmp_path / "kept"
    folder.mkdir()
    file = folder / "season.sqlite"
    fill(file, entry("a", "2026-05-01"))
    locked = file if which == "file" else folder
    locked.chmod(0o400 if which == "file" else 0o500)
    try:
        listed = child(tmp_path, "log", "list", "--season", str(file))
        written = child(tmp_path, "log", *HAND, "--season", str(file))
    finally:
        locked.chmod(0o700)
    assert (listed.returncode, "a  2026-05-01  north" in listed.stdout) == (0, True)
    if os.geteuid() == 0:
        assert written.returncode in (0, 3)
        assert len(ids(file)) == 2
    else:
        refused(written, "could not be used (")
        assert ids(file) == ["a"]


# Damage.


def spoilt_middle(data: bytes) -> bytes:
    """Every page but the first with 60 bytes turned over in its middle."""
    found = bytearray(data)
    for at in range(4096 + 2000, len(found), 4096):
        found[at : at + 60] = bytes(byte ^ 0xFF for byte in found[at : at + 60])
    return bytes(found)


def spoilt_head(data: bytes) -> bytes:
    return b"\0" * 60 + data[60:]


def spoilt_pages(data: bytes) -> bytes:
    found = bytearray(data)
    for at in range(4096, len(found), 4096):
        found[at : at + 30] = b"\xff" * 30
    return bytes(found)


DAMAGE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "bytes of a page turned over": (spoilt_middle, "is damaged"),
    "heads of pages overwritten": (spoilt_pages, "is damaged"),
    "the file's head zeroed": (spoilt_head, "it is damaged: take the last backup"),
    "cut in the middle of a page": (lambda data: data[: len(data) // 2 + 77], "is damaged"),
    "cut at a page": (lambda data: data[:8192], "is damaged"),
    "cut within the head": (lambda data: data[:50], "is damaged"),
    "empty": (lambda data: b"", "is empty"),
    "a text": (lambda data: b"2 tbsp borax\n" * 900, "is no season file"),
}
COMMANDS = {
    "list": ("log", "list"),
    "show": ("log", "show", "last"),
    "verify": ("log", "verify"),
    "mix": ("mix", *ROW),
    "add": ("log", *HAND),
    "undo": ("log", "undo", "last"),
    "backup": ("log", "backup", "copy.sqlite"),
    "export": ("log", "export", "out.json"),
}


def full(file: Path) -> bytes:
    """A season of some pages; its bytes."""
    fill(file, *(entry(f"{n:03}", f"2026-05-{n % 28 + 1:02}", note="a note") for n in range(300)))
    return file.read_bytes()


@pytest.mark.parametrize("how", DAMAGE)
def test_damage_is_found_by_verify_and_named_and_made_no_worse(how: str, tmp_path: Path) -> None:
    file = tmp_path / "season.sqlite"
    spoil, said = DAMAGE[how]
    spoilt = spoil(full(file))
    file.write_bytes(spoilt)
    for words in COMMANDS.values():
        done = CliRunner().invoke(group, [*words, "--season", str(file)], standalone_mode=False)
        if done.exception is not None:
            assert isinstance(done.exception, DoseError), (words, done.exception)
            assert "\n" not in str(done.exception)
        assert file.read_bytes() == spoilt, words
    found = log(file, "verify").exception
    assert isinstance(found, DoseError)
    assert said in str(found)
    assert str(file) in str(found)


def test_nothing_is_written_into_a_file_that_is_damaged_anywhere(tmp_path: Path) -> None:
    """A page that the new entry would never touch is spoilt: the entry is refused all the same."""
    file = tmp_path / "s.sqlite"
    data = bytearray(full(file))
    refusals = 0
    for at in range(4096 * 2, len(data), 4096):
        spoilt = bytes(data[:at]) + b"\xff" * 30 + bytes(data[at + 30 :])
        file.write_bytes(spoilt)
        with pytest.raises(DoseError, match="damaged"), writing(file) as base:
            add(base, entry("new", "2026-06-01"))
        assert file.read_bytes() == spoilt
        refusals += 1
    assert refusals > 10


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("how", ["bytes of a page turned over", "empty", "cut at a page"])
def test_a_damaged_file_is_one_sentence_to_every_command(
    how: str, name: str, tmp_path: Path
) -> None:
    file = tmp_path / "season.sqlite"
    spoil, said = DAMAGE[how]
    file.write_bytes(spoil(full(file)))
    done = child(tmp_path, *COMMANDS[name])
    assert "Traceback" not in done.stderr
    if done.returncode != 0 or name in ("verify", "add", "mix", "backup"):
        refused(done, said)
    assert not (tmp_path / "copy.sqlite").exists()


def test_single_bytes_anywhere_are_never_a_traceback_and_never_written_over(
    tmp_path: Path,
) -> None:
    """A byte turned over at 120 places: found, or at least a sentence, and the file untouched."""
    file = tmp_path / "s.sqlite"
    data = full(file)
    rng = random.Random(11)
    found = 0
    for _ in range(120):
        at = rng.randrange(len(data))
        spoilt = data[:at] + bytes([data[at] ^ 0xFF]) + data[at + 1 :]
        file.write_bytes(spoilt)
        done = log(file, "verify")
        assert done.exception is None or isinstance(done.exception, DoseError), (at, done.exception)
        found += done.exception is not None
        listed = log(file, "list")
        assert listed.exception is None or isinstance(listed.exception, DoseError), at
        assert file.read_bytes() == spoilt
    assert found > 40  # the rest lies in free space or is a number that became another


def test_an_entry_that_was_never_written_so_is_named_by_verify(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    fill(file, entry("a", "2026-05-01"), entry("b", "2026-05-02"), entry("c", "2026-05-03"))
    with sqlite3.connect(file) as raw:
        raw.execute("UPDATE amount SET likely = '1000 grum' WHERE entry = 'b'")
        raw.execute("UPDATE entry SET day = '2026-05-93' WHERE id = 'c'")
    raw.close()
    done = log(file, "verify")
    assert "2 of its entries hold what dosecalc never wrote (b, c)" in str(done.exception)
    judged = log(file, *HAND, "--on", "2026-06-01")
    assert "is damaged" in str(judged.exception)
    assert ids(file) == ["a", "b", "c"]


@pytest.mark.parametrize(
    "wrong",
    [{"day": "2026-02-30"}, {"kind": "gift"}, {"kind": "undo"}, {"about": "b"}, {"about": 3},
     {"amounts": [["nutrient", "Cu", "1 gram", "2 grum", "3 gram"]]}, {"bed": ""},
     {"amounts": [["nutrient", "Cu", "3 gram", "2 gram", "1 gram"]]}, {"who": 7}, {"id": "a\nb"},
     {"amounts": [["heap", "Cu", "1 gram", "1 gram", "1 gram"]]}, {"ground": {"area": "wide"}},
     {"note": "\ud800"}, {"note": "x" * (MOST_TEXT + 1)}],
)  # fmt: skip
def test_an_import_that_would_poison_the_record_is_refused(
    wrong: dict[str, Any], tmp_path: Path
) -> None:
    import json

    file, source = tmp_path / "s.sqlite", tmp_path / "x.json"
    fill(file, entry("a", "2026-05-01"))
    with reading(file) as base:
        data = json.loads(to_json(base))
    data["entries"] = [{**data["entries"][0], "id": "new", **wrong}]
    source.write_text(json.dumps(data), "utf-8")
    done = log(file, "import", str(source))
    assert isinstance(done.exception, DoseError), done.exception
    assert ids(file) == ["a"]


def test_a_file_of_a_newer_version_is_refused_by_every_command(tmp_path: Path) -> None:
    file = tmp_path / "season.sqlite"
    fill(file, entry("a", "2026-05-01"))
    with sqlite3.connect(file) as raw:
        raw.execute(f"PRAGMA user_version = {len(steps.STEPS) + 1}")
    raw.close()
    before = file.read_bytes()
    for name, words in COMMANDS.items():
        refused(child(tmp_path, *words), "newer dosecalc")
        assert file.read_bytes() == before, name


# Clocks.


def test_a_clock_that_jumps_back_loses_nothing_and_orders_by_day(tmp_path: Path) -> None:
    file, copy = tmp_path / "s.sqlite", tmp_path / "t.sqlite"
    first = entry("a", "2026-05-01", written="2026-05-01T08:00:00+00:00")
    second = entry("b", "2026-05-02", written="2019-01-01T00:00:00+00:00")
    better = entry("c", "2026-05-02", kind="correct", about="b", written="2018-01-01T00:00:00")
    gone = entry("d", "2026-05-01", kind="undo", about="a", written="2017-01-01T00:00:00")
    fill(file, first, second)
    with reading(file) as base:
        assert [e.id for e in counting(base)] == ["a", "b"]
        assert [e.id for e in newest(base, 9)] == ["b", "a"]
        assert one(base, "last").id == "b"
    fill(file, better, gone)
    with reading(file) as base:
        assert [e.id for e in counting(base)] == ["c"]
        texts = [to_json(base), to_csv(base)]
        mine = list(everything(base))
    for text in texts:  # each stands behind the one it is about, whatever its clock said
        copy.unlink(missing_ok=True)
        with writing(copy) as base:
            assert take_in(base, from_text(text, "x")) == 4
        with reading(copy) as base:
            assert list(everything(base)) == mine


def test_an_event_withdrawn_by_an_earlier_clock_is_read_back(tmp_path: Path) -> None:
    file, copy = tmp_path / "s.sqlite", tmp_path / "t.sqlite"
    begun = Event("a", "crop start", None, "2026-05-01", "2026-05-01T08:00:00", "north")
    with writing(file) as base:
        add_event(base, begun)
        add_event(base, replace(begun, id="b", kind="withdrawn", about="a", written="2019"))
        assert [event.id for event in every_event(base)] == ["a", "b"]
        text = to_json(base)
    with writing(copy) as base:
        assert take_in(base, from_text(text, "x")) == 2


def test_a_table_sorted_by_hand_is_read_back(tmp_path: Path) -> None:
    file, copy = tmp_path / "s.sqlite", tmp_path / "t.sqlite"
    fill(file, entry("a", "2026-05-01"), entry("b", "2026-05-01", kind="correct", about="a"),
         entry("c", "2026-05-01", kind="undo", about="b"))  # fmt: skip
    with reading(file) as base:
        head, *rows = to_csv(base).splitlines(keepends=True)
    with writing(copy) as base:
        assert take_in(base, from_text(head + "".join(reversed(rows)), "x")) == 3
    with reading(copy) as base:
        assert list(counting(base)) == []


CLOCK = """
import datetime as real, sys
from types import SimpleNamespace
from dosecalc.faces import record
at = float(sys.argv[1])
class Fixed(real.datetime):
    @classmethod
    def now(cls, tz=None):
        return real.datetime.fromtimestamp(at, tz)
class Today(real.date):
    @classmethod
    def today(cls):
        return real.date.fromtimestamp(at)
record.datetime = SimpleNamespace(datetime=Fixed, date=Today, UTC=real.UTC)
from dosecalc.faces.cli import main
sys.argv = ["dosecalc", *sys.argv[2:]]
main()
"""


def at(moment: str, zone: str, folder: Path, *words: str) -> None:
    """A command run at a moment (UTC) by a clock in some zone."""
    seconds = datetime.datetime.fromisoformat(moment).timestamp()
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(CLOCK), str(seconds), *words], cwd=folder,
        capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(map(os.path.abspath, sys.path)),
             "TZ": zone},
    )  # fmt: skip
    assert done.returncode in (0, 3), done.stderr


def test_half_past_one_twice_in_the_night_the_clocks_go_back(tmp_path: Path) -> None:
    """In London 01:30 came twice on 26 October 2025: at 00:30 and at 01:30 UTC."""
    for moment, who in (("2025-10-26T00:30:00+00:00", "first"),
                        ("2025-10-26T01:30:00+00:00", "second")):  # fmt: skip
        local = datetime.datetime.fromisoformat(moment)
        at(moment, "Europe/London", tmp_path, "log", *HAND, "--who", who)
        assert local.utcoffset() == datetime.timedelta(0)
    with reading(tmp_path / "season.sqlite") as base:
        found = list(counting(base))
    assert [(e.who, e.day, e.written) for e in found] == [
        ("first", "2025-10-26", "2025-10-26T00:30:00.000000+00:00"),
        ("second", "2025-10-26", "2025-10-26T01:30:00.000000+00:00"),
    ]


@pytest.mark.parametrize(
    ("zone", "day"),
    [("Pacific/Auckland", "2025-10-27"), ("UTC", "2025-10-26"), ("Pacific/Honolulu", "2025-10-26"),
     ("Asia/Kolkata", "2025-10-27")],
)  # fmt: skip
def test_the_day_is_that_of_the_place_and_the_time_of_writing_is_utc(
    zone: str, day: str, tmp_path: Path
) -> None:
    at("2025-10-26T20:15:00+00:00", zone, tmp_path, "log", *HAND)
    with reading(tmp_path / "season.sqlite") as base:
        found = list(counting(base))
    assert [(e.day, e.written) for e in found] == [(day, "2025-10-26T20:15:00.000000+00:00")]


# Any text.

UGLY = (
    "'; DROP TABLE entry; --", '"); DELETE FROM entry; --', "Robert'); --", "a\x00b", "%_*?[x]",
    "=1+1", "+1", "-1", "@x", "\t=x", "\r=x", "\n=x", "'=x", "''", "\uff1d1", "a;b,c\"d\n\r\ne\r",
    "\u202egnp", "\u0000", " padded ", "NULL", "-" * 300,
)  # fmt: skip
TEXTS = ("bed", "crop", "recipe", "placement", "who", "weather", "stage", "registration", "note",
         "tool", "written")  # fmt: skip


@pytest.mark.parametrize("ugly", UGLY)
def test_no_text_is_ever_run_and_each_comes_back_exactly(ugly: str, tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    odd = replace(
        entry("odd", "2026-05-01"), **dict.fromkeys(TEXTS, ugly),
        amounts={("nutrient", ugly): ("1 gram",) * 3}, ground={ugly: "1 m2"},
    )  # fmt: skip
    fill(file, entry("a", "2026-05-01"), odd, entry("z", "2026-05-01"))
    with reading(file) as base:
        assert list(everything(base))[1] == odd
        assert "odd" in [e.id for e in counting(base, ugly)]
        with pytest.raises(DoseError):
            one(base, ugly)
        texts = [to_csv(base), to_json(base)]
    assert len(ids(file)) == 3
    source = tmp_path / "x"
    for text in texts:
        copy = tmp_path / "t.sqlite"
        copy.unlink(missing_ok=True)
        source.write_bytes(text.encode("utf-8"))
        done = log(copy, "import", str(source))
        assert done.exception is None, done.exception
        with reading(copy) as base:
            assert list(everything(base))[1] == odd


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_any_text_comes_back_from_csv_and_json(tmp_path_factory: Any, data: st.DataObject) -> None:
    anything = st.text(st.characters(codec="utf-8"), max_size=20)
    texts: dict[str, Any] = {name: data.draw(anything, name) for name in TEXTS if name != "bed"}
    bed = data.draw(anything.filter(bool), "bed")
    odd = replace(entry("odd", "2026-05-01"), bed=bed, **texts)
    folder = tmp_path_factory.mktemp("any")
    fill(folder / "s.sqlite", odd)
    with reading(folder / "s.sqlite") as base:
        found = [to_csv(base), to_json(base)]
    for text in found:
        assert [e for e in from_text(text, "x") if isinstance(e, Entry)] == [odd]


def test_no_cell_of_a_table_begins_like_a_formula(tmp_path: Path) -> None:
    import csv
    import io

    file = tmp_path / "s.sqlite"
    for n, ugly in enumerate(UGLY):
        texts: dict[str, Any] = dict.fromkeys(TEXTS, ugly)
        fill(file, replace(entry(f"{n:02}", "2026-05-01"), **texts))
    with reading(file) as base:
        rows = list(csv.reader(io.StringIO(to_csv(base))))
    cells = [cell for row in rows for cell in row]
    assert len(cells) > 300
    begins = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
    assert [cell for cell in cells if cell.startswith(begins)] == []


@pytest.mark.parametrize("option", ["--who", "--place", "--note", "--conditions", "--stage"])
def test_bytes_that_are_no_text_are_one_sentence(option: str, tmp_path: Path) -> None:
    words = [*HAND, option, os.fsdecode(b"a\xff")]
    refused(child(tmp_path, "log", *words), "bytes that are no text")
    fill(tmp_path / "season.sqlite", entry("a", "2026-05-01"))
    refused(child(tmp_path, "log", *words), "bytes that are no text")
    assert ids(tmp_path / "season.sqlite") == ["a"]


def test_a_text_too_long_is_one_sentence(tmp_path: Path) -> None:
    refused(child(tmp_path, "log", *HAND, "--note", "x" * (MOST_TEXT + 1)), "10001 characters")


def test_control_marks_of_a_record_do_not_reach_the_screen(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    wild = "\x1b[2Jnorth\u202e"
    amounts = {("asked mass", wild): ("1 gram",) * 3}
    fill(file, entry("a", "2026-05-01", bed=wild, note=wild, amounts=amounts))
    for words in (("list",), ("show", "a")):
        shown = log(file, *words).output
        assert "north" in shown
        assert "\x1b" not in shown
        assert "\u202e" not in shown


def test_nothing_is_written_but_what_was_named(tmp_path: Path) -> None:
    named = "kept.sqlite"

    def there() -> set[str]:
        return {str(path.relative_to(tmp_path)) for path in tmp_path.rglob("*")}

    made: set[str] = set()
    season = ("--season", named)
    for words, new in (
        (("log", *HAND, *season), {named}),
        (("log", "correct", "last", *HAND, *season), set()),
        (("mix", *ROW, *season), set()),
        (("check", "1 g borax", *HAND[2:], *season), set()),
        (("log", "list", *season), set()),
        (("log", "show", "last", *season), set()),
        (("log", "verify", *season), set()),
        (("log", "export", "o.csv", *season), {"o.csv"}),
        (("log", "import", "o.csv", "--season", "second.sqlite"), {"second.sqlite"}),
        (("log", "backup", "b.sqlite", *season), {"b.sqlite"}),
        (("log", "undo", "last", *season), set()),
        (("log", "undo", "last", "--season", "none.sqlite"), set()),
    ):  # fmt: skip
        done = child(tmp_path, *words)
        assert "Traceback" not in done.stderr
        made |= new
        assert there() == made, words


def test_every_text_field_of_an_entry_was_tried() -> None:
    plain = {f.name for f in fields(Entry)} - {"amounts", "ground", "id", "kind", "about", "day"}
    assert plain == set(TEXTS)

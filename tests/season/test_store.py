"""The file under stress: killed writers, four at once, damage, other files, newer files."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from dosecalc.errors import DoseError
from dosecalc.season import steps, store
from dosecalc.season.entries import add, counting, everything
from dosecalc.season.store import backup, reading, whole, writing
from tests.season.test_season import entry

WRITER = """
import sys
from pathlib import Path
from dosecalc.season.entries import Entry, add
from dosecalc.season.store import writing
file, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
for n in range(count):
    id = f"{name}-{n:04}"
    with writing(file) as base:
        add(base, Entry(id, "given", None, "2026-05-01", f"{n:06}", "north",
            amounts={("nutrient", f"x{k}"): ("1 gram",) * 3 for k in range(5)}))
    print(id, flush=True)
"""


def start(file: Path, name: str, count: int) -> subprocess.Popen[str]:
    words = [sys.executable, "-c", WRITER, str(file), name, str(count)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, text=True)


def test_a_killed_writer_loses_no_acknowledged_entry_and_leaves_no_half_one(
    tmp_path: Path,
) -> None:
    """200 writes in all, killed at random moments; bounded to a minute."""
    file = tmp_path / "s.sqlite"
    rng = random.Random(7)
    said: list[str] = []
    ends = time.monotonic() + 60
    for turn in range(8):
        with start(file, f"w{turn}", 25) as writer:
            assert writer.stdout is not None
            said += [writer.stdout.readline().strip() for _ in range(rng.randint(1, 20))]
            time.sleep(rng.random() * 0.01)
            os.kill(writer.pid, signal.SIGKILL)
            said += [line.strip() for line in writer.stdout if line.endswith("\n")]
        with reading(file) as base:
            assert whole(base)
            found = {e.id: e for e in everything(base)}
        assert set(said) <= set(found)
        assert all(len(e.amounts) == 5 for e in found.values())
        assert time.monotonic() < ends


def test_four_writers_at_once_write_everything_once(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    writers = [start(file, f"w{n}", 250) for n in range(4)]
    said = [line.strip() for w in writers for line in w.communicate(timeout=120)[0].splitlines()]
    assert [w.returncode for w in writers] == [0] * 4
    assert len(said) == len(set(said)) == 1000
    with reading(file) as base:
        assert sorted(e.id for e in counting(base)) == sorted(said)
        assert whole(base)


def test_a_write_that_fails_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        add(base, entry("a", "2026-05-01"))

    def interrupted() -> None:
        with writing(file) as base:
            add(base, entry("b", "2026-05-01"))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        interrupted()
    with reading(file) as base:
        assert [e.id for e in everything(base)] == ["a"]


def test_a_file_of_something_else_is_never_written_to(tmp_path: Path) -> None:
    text, other = tmp_path / "a.txt", tmp_path / "b.sqlite"
    text.write_text("borax " * 200, "utf-8")
    with sqlite3.connect(other) as base:
        base.execute("CREATE TABLE mine (x)")
    base.close()
    for file in (text, other, tmp_path):
        before = file.read_bytes() if file.is_file() else b""
        with pytest.raises(DoseError, match=r"no season file|not there"), writing(file):
            pass
        assert not file.is_file() or file.read_bytes() == before


def test_a_newer_file_is_refused_and_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        add(base, entry("a", "2026-05-01"))
    with sqlite3.connect(file) as raw:
        raw.execute(f"PRAGMA user_version = {len(steps.STEPS) + 1}")
    raw.close()
    before = file.read_bytes()
    for way in (reading, writing):
        with pytest.raises(DoseError, match="newer dosecalc"), way(file):
            pass
    assert file.read_bytes() == before


def test_an_older_file_is_carried_forward_with_a_backup_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        add(base, entry("a", "2026-05-01"))
    more = (*steps.STEPS, "CREATE TABLE more (x TEXT) STRICT; CREATE INDEX of_more ON more (x)")
    monkeypatch.setattr(store, "STEPS", more)
    with writing(file) as base:
        base.execute("INSERT INTO more VALUES ('1')")
    with reading(file) as base:
        assert base.execute("PRAGMA user_version").fetchone()[0] == len(more)
        assert [e.id for e in everything(base)] == ["a"]
    old = tmp_path / f"s.sqlite.step{len(steps.STEPS)}"
    monkeypatch.setattr(store, "STEPS", steps.STEPS)
    with reading(old) as base:
        assert [e.id for e in everything(base)] == ["a"]


def _read_all(base: sqlite3.Connection) -> None:
    assert not whole(base)
    list(everything(base))


def test_damage_is_found_and_named_and_made_no_worse(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        for n in range(200):
            add(base, entry(f"{n}", "2026-05-01"))
    data = bytearray(file.read_bytes())
    for at in range(4096 * 2, len(data), 4096):
        data[at : at + 60] = b"\xff" * 60
    file.write_bytes(data)
    with pytest.raises(DoseError, match="damaged"), reading(file) as base:
        _read_all(base)
    assert file.read_bytes() == bytes(data)


def test_amounts_are_text_and_nothing_else_goes_in(tmp_path: Path) -> None:
    file = tmp_path / "s.sqlite"
    with writing(file) as base:
        add(base, entry("a", "2026-05-01"))
        with pytest.raises(sqlite3.IntegrityError):
            base.execute("INSERT INTO amount VALUES ('a', 'nutrient', 'N', x'00', '1', '1')")
        with pytest.raises(sqlite3.IntegrityError):
            base.execute("INSERT INTO ground VALUES ('nobody', 'area', '1 m2')")
        with pytest.raises(sqlite3.IntegrityError):
            add(base, entry("b", "not a day"))


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(DoseError, match="could not be used"), writing(tmp_path / "no" / "s.sqlite"):
        pass


def test_a_backup_is_the_whole_season(tmp_path: Path) -> None:
    file, copy = tmp_path / "s.sqlite", tmp_path / "t.sqlite"
    with writing(file) as base:
        add(base, entry("a", "2026-05-01"))
    with reading(file) as base:
        backup(base, copy)
    with reading(copy) as base:
        assert [e.id for e in everything(base)] == ["a"]
        assert whole(base)

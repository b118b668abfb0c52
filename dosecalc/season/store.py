"""Opening a season file: one writer at a time, whole entries or none, damage found and named."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from dosecalc.errors import DoseError, refuse
from dosecalc.season.steps import APPLICATION, STEPS

WAIT = 20.0
"""Seconds that one process waits for another to finish writing."""
_DAMAGE = ("malformed", "corrupt", "decode to UTF-8", "no such table: entry")
"""Words of SQLite's for a file that was once a season."""
EMPTY_WAIT = 0.5
"""Seconds within which a process that has made a file begins to write into it."""


@contextmanager
def reading(file: Path) -> Iterator[sqlite3.Connection]:
    """A connection that only reads.

    It is opened for writing all the same: what a killed writer left half done must be rolled back
    before anybody may read.

    Raises
    ------
    DoseError
        When the file is missing, is no season, comes from a newer version, or is damaged.
    """
    if not file.is_file():
        raise refuse("season-missing", path=file)
    _not_empty(file)
    with _open(file, f"{file.absolute().as_uri()}?mode=rw") as base:
        base.execute("PRAGMA query_only = ON")
        yield base


@contextmanager
def writing(file: Path, *, new: bool = True) -> Iterator[sqlite3.Connection]:
    """A connection inside one write: all of it is kept, or nothing.

    The journal is SQLite's own rollback journal with every write pushed to the disk: one file
    that can be copied, and no second process to start. Two writers wait for one another.

    Parameters
    ----------
    file : Path
    new : bool
        Whether a file that is not there is made.

    Raises
    ------
    DoseError
        As `reading` (a missing file only where none is made), and when the file cannot be
        written or another process keeps it too long.
    """
    if file.exists() and not file.is_file():
        raise refuse("season-not", path=file)
    if file.is_file():
        _not_empty(file)
    elif not new:
        raise refuse("season-missing", path=file)
    with _open(file, f"{file.absolute().as_uri()}?mode=rwc") as base:
        base.execute("PRAGMA synchronous = FULL")
        base.execute("BEGIN IMMEDIATE")
        try:
            if base.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
                raise refuse("season-damaged", path=file)  # writing on could make it worse
            yield base
        except BaseException:
            base.rollback()
            raise
        base.commit()


def _not_empty(file: Path) -> None:
    """Refuse a file without a byte: no season was ever so, and what it held is gone.

    Only a file that another process is making this moment is empty for a while, and beside it lies
    the journal of that process.
    """
    journal = file.with_name(f"{file.name}-journal")
    start = time.monotonic()
    while file.stat().st_size == 0:
        if time.monotonic() - start > (WAIT if journal.exists() else EMPTY_WAIT):
            raise refuse("season-empty", path=file)
        time.sleep(0.02)


@contextmanager
def _open(file: Path, uri: str) -> Iterator[sqlite3.Connection]:
    base: sqlite3.Connection | None = None
    try:
        base = sqlite3.connect(uri, uri=True, timeout=WAIT, isolation_level=None)
        base.execute("PRAGMA foreign_keys = ON")
        _carry_forward(base, file, writes="mode=rwc" in uri)
        yield base
    except sqlite3.Error as err:
        raise _said(file, err) from None
    except UnicodeDecodeError:  # SQLite quotes damaged bytes in its own messages
        raise refuse("season-damaged", path=file) from None
    finally:
        if base is not None:
            base.close()


def _carry_forward(base: sqlite3.Connection, file: Path, *, writes: bool) -> None:
    """Check whose file it is, and take the steps that it lacks; a backup of it comes first."""
    base.execute("BEGIN")  # one look: another process may be taking the first steps meanwhile
    empty = not base.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    mark = base.execute("PRAGMA application_id").fetchone()[0]
    step = base.execute("PRAGMA user_version").fetchone()[0]
    base.rollback()
    if mark != APPLICATION and not (empty and mark == 0):
        raise refuse("season-not", path=file)
    if step > len(STEPS):
        raise refuse("season-newer", path=file, step=step, known=len(STEPS))
    if not empty and step < 1:
        raise refuse("season-damaged", path=file)
    if step == len(STEPS) or not writes:
        return
    base.execute("BEGIN IMMEDIATE")
    try:
        step = base.execute("PRAGMA user_version").fetchone()[0]  # another process may be quicker
        if 0 < step < len(STEPS):
            base.rollback()
            backup(base, file.with_name(f"{file.name}.step{step}"))
            base.execute("BEGIN IMMEDIATE")
        for number, step_text in enumerate(STEPS[step:], start=step + 1):
            for statement in step_text.split(";"):
                if statement.strip():
                    base.execute(statement)
            base.execute(f"PRAGMA user_version = {number}")
        base.execute(f"PRAGMA application_id = {APPLICATION}")
        base.commit()
    except BaseException:
        base.rollback()
        raise


def backup(base: sqlite3.Connection, file: Path) -> None:
    """A copy of the whole season in one file, taken while others may read.

    Raises
    ------
    DoseError
        When the copy cannot be written; then none is left.
    """
    mine = not file.exists()
    try:
        copy = sqlite3.connect(file)
        try:
            base.backup(copy)
        finally:
            copy.close()
    except sqlite3.Error as err:
        if mine:
            file.unlink(missing_ok=True)
        if any(word in str(err) for word in _DAMAGE):
            raise  # it is the season that cannot be read
        raise _said(file, err) from None


def whole(base: sqlite3.Connection) -> bool:
    """Whether SQLite finds the file whole and every reference leads somewhere."""
    found = base.execute("PRAGMA integrity_check").fetchone()[0]
    return found == "ok" and base.execute("PRAGMA foreign_key_check").fetchone() is None


def _said(file: Path, err: sqlite3.Error) -> DoseError:
    text = str(err)
    if "locked" in text or "busy" in text:
        return refuse("season-busy", path=file, seconds=f"{WAIT:g}")
    if "not a database" in text:
        return refuse("season-not", path=file)
    if any(word in text for word in _DAMAGE):
        return refuse("season-damaged", path=file)
    return refuse("season-write", path=file, why=text)

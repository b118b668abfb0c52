"""Entries of the season: given, corrected by a counter-entry, undone; never overwritten."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from uuid import uuid4

from dosecalc.errors import refuse

Amounts = Mapping[tuple[str, str], tuple[str, str, str]]
_COLUMNS = (
    "id", "kind", "about", "day", "written", "bed", "crop", "recipe", "placement", "who", "weather",
    "stage", "registration", "note", "tool",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the record.

    Parameters
    ----------
    id : str
        Made up at random, so that two people's records never clash.
    kind : {"given", "correct", "undo"}
    about : str or None
        The entry that a correction or an undo is about.
    day : str
        When it was given: YYYY-MM-DD, the day where it was given.
    written : str
        When it was written down, UTC; a clock that jumps changes no order of the days.
    bed, crop, recipe, placement, who, weather, stage, registration, note, tool : str
        "" where it was not told; `registration` is the product's, `tool` our version.
    amounts : mapping of (str, str) to (str, str, str)
        (kind, what) to low, likely and high: exact text with a unit.
    ground : mapping of str to str
        The site at that time: exact text with a unit.
    """

    id: str
    kind: str
    about: str | None
    day: str
    written: str
    bed: str
    crop: str = ""
    recipe: str = ""
    placement: str = ""
    who: str = ""
    weather: str = ""
    stage: str = ""
    registration: str = ""
    note: str = ""
    tool: str = ""
    amounts: Amounts = field(default_factory=dict)
    ground: Mapping[str, str] = field(default_factory=dict)


def new_id() -> str:
    """A random id, short enough to be typed: 12 hexadecimal digits."""
    return uuid4().hex[:12]


def add(base: sqlite3.Connection, entry: Entry) -> None:
    """Write one entry.

    Raises
    ------
    DoseError
        When a correction or an undo is about an entry that is not there or no longer counts.
    """
    if entry.about is not None:
        about = one(base, entry.about)
        if about.kind == "undo" or _replaced(base, about.id):
            raise refuse("season-replaced", id=about.id)
    values = tuple(getattr(entry, name) for name in _COLUMNS)
    marks = ", ".join("?" * len(_COLUMNS))
    base.execute(f"INSERT INTO entry ({', '.join(_COLUMNS)}) VALUES ({marks})", values)
    base.executemany(
        "INSERT INTO amount VALUES (?, ?, ?, ?, ?, ?)",
        [(entry.id, kind, what, *span) for (kind, what), span in entry.amounts.items()],
    )
    base.executemany(
        "INSERT INTO ground VALUES (?, ?, ?)",
        [(entry.id, what, size) for what, size in entry.ground.items()],
    )


def one(base: sqlite3.Connection, id: str) -> Entry:
    """The entry of that id, or of the one id that begins so; "last" is the last one written.

    Raises
    ------
    DoseError
        When there is none, or more than one.
    """
    if id == "last":
        newest_id = base.execute(
            "SELECT id FROM entry AS mine WHERE kind <> 'undo' AND NOT EXISTS"
            " (SELECT 1 FROM entry WHERE about = mine.id) ORDER BY rowid DESC LIMIT 1"
        ).fetchone()
        id = newest_id[0] if newest_id else id
    rows = base.execute(
        f"SELECT {', '.join(_COLUMNS)} FROM entry WHERE substr(id, 1, ?) = ? LIMIT 2",
        (len(id), id),
    ).fetchall()
    if not id or len(rows) != 1:
        raise refuse("season-no-entry", text=id)
    return _filled(base, rows[0])


def counting(base: sqlite3.Connection, bed: str | None = None) -> Iterator[Entry]:
    """Every entry that counts, the oldest day first: not undone, not corrected since."""
    rows = base.execute(
        f"SELECT {', '.join(_COLUMNS)} FROM entry AS mine WHERE kind <> 'undo'"
        " AND (?1 IS NULL OR bed = ?1)"
        " AND NOT EXISTS (SELECT 1 FROM entry WHERE about = mine.id)"
        " ORDER BY day, written, id",
        (bed,),
    ).fetchall()
    for row in rows:
        yield _filled(base, row)


def newest(base: sqlite3.Connection, most: int | None) -> list[Entry]:
    """The newest entries that count, the newest day first, without their amounts but one line."""
    rows = base.execute(
        f"SELECT {', '.join(_COLUMNS)} FROM entry AS mine WHERE kind <> 'undo'"
        " AND NOT EXISTS (SELECT 1 FROM entry WHERE about = mine.id)"
        " ORDER BY day DESC, written DESC, id LIMIT ?",
        (-1 if most is None else most,),
    ).fetchall()
    return [_filled(base, row) for row in rows]


def everything(base: sqlite3.Connection) -> Iterator[Entry]:
    """Every entry ever written, in an order in which each stands behind the one it is about."""
    rows = base.execute(
        f"SELECT {', '.join(_COLUMNS)} FROM entry ORDER BY written, rowid"
    ).fetchall()
    for row in rows:
        yield _filled(base, row)


def _replaced(base: sqlite3.Connection, id: str) -> bool:
    return base.execute("SELECT 1 FROM entry WHERE about = ?", (id,)).fetchone() is not None


def _filled(base: sqlite3.Connection, row: tuple[object, ...]) -> Entry:
    values = dict(zip(_COLUMNS, row, strict=True))
    id = values["id"]
    amounts = {
        (kind, what): (low, likely, high)
        for kind, what, low, likely, high in base.execute(
            "SELECT kind, what, low, likely, high FROM amount WHERE entry = ?", (id,)
        )
    }
    ground = dict(base.execute("SELECT what, size FROM ground WHERE entry = ?", (id,)).fetchall())
    return Entry(**values, amounts=amounts, ground=ground)  # type: ignore[arg-type]

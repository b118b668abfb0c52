"""Entries of the season: given, corrected by a counter-entry, undone; never overwritten."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

from dosecalc.errors import refuse
from dosecalc.season.checks import DamagedError, writable
from dosecalc.season.places import spellings

Amounts = Mapping[tuple[str, str], tuple[str, str, str]]
_Row = tuple[Any, ...]
"""Columns as they stand in the file: a damaged one may hold anything, see `_texts`."""
_COLUMNS = (
    "id", "kind", "about", "day", "written", "bed", "crop", "recipe", "placement", "who", "weather",
    "stage", "registration", "note", "tool",
)  # fmt: skip
_COUNTS = "kind <> 'undo' AND NOT EXISTS (SELECT 1 FROM entry WHERE about = mine.id)"
_AT_ONCE = 500
"""Entries whose amounts are fetched with one query: SQLite takes so many ids at least."""


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
        When a correction or an undo is about an entry that is not there or no longer counts, and
        for a text that no file can hold.
    """
    writable(getattr(entry, name) for name in _COLUMNS)
    writable(text for key, span in entry.amounts.items() for text in (*key, *span))
    writable(text for pair in entry.ground.items() for text in pair)
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
        found = _rows(base, f"{_COUNTS} ORDER BY rowid DESC LIMIT 1")
        if found:
            return next(_filled(base, found))
    if not id.isprintable():  # bytes that are no text never were an id
        raise refuse("season-no-entry", text=id)
    rows = _rows(base, "id = ?", (id,)) or _rows(
        base, "id >= ?1 AND substr(id, 1, length(?1)) = ?1 LIMIT 2", (id,)
    )
    if not id or len(rows) != 1:
        raise refuse("season-no-entry", text=id)
    return next(_filled(base, rows))


def counting(base: sqlite3.Connection, bed: str | None = None) -> Iterator[Entry]:
    """Every entry that counts, the oldest day first: not undone, not corrected since.

    Of one place however its entries spell it, where `bed` is given; see `places.folded`.
    """
    order = "ORDER BY day, written, id"
    if bed is None:
        return _filled(base, _rows(base, f"{_COUNTS} {order}"))
    names = spellings(base, bed)
    marks = ", ".join("?" * len(names))
    return _filled(base, _rows(base, f"bed IN ({marks}) AND {_COUNTS} {order}", names))


def newest(base: sqlite3.Connection, most: int | None) -> list[Entry]:
    """The newest entries that count, the newest day first, without their amounts but one line."""
    order = "ORDER BY day DESC, written DESC, id LIMIT ?"
    found = _rows(base, f"{_COUNTS} {order}", (-1 if most is None else most,))
    return list(_filled(base, found))


def everything(base: sqlite3.Connection) -> Iterator[Entry]:
    """Every entry ever written, in the order of writing: each stands behind the one it is about.

    The time of writing does not tell that order, because a clock can be set back.
    """
    return _filled(base, _rows(base, "TRUE ORDER BY rowid"))


def _replaced(base: sqlite3.Connection, id: str) -> bool:
    return base.execute("SELECT 1 FROM entry WHERE about = ?", (id,)).fetchone() is not None


def _rows(base: sqlite3.Connection, where: str, values: Sequence[object] = ()) -> list[_Row]:
    """Rows of the entries that a condition of this module names; values never stand in it."""
    query = f"SELECT {', '.join(_COLUMNS)} FROM entry AS mine WHERE {where}"
    return base.execute(query, values).fetchall()


def _filled(base: sqlite3.Connection, rows: list[_Row]) -> Iterator[Entry]:
    """The entries of such rows with their amounts and grounds: two queries for many, not each."""
    for start in range(0, len(rows), _AT_ONCE):
        some = rows[start : start + _AT_ONCE]
        ids = tuple(row[0] for row in some)
        marks = ", ".join("?" * len(ids))
        amounts: dict[object, dict[tuple[str, str], tuple[str, str, str]]] = {}
        for id, kind, what, *span in base.execute(
            f"SELECT entry, kind, what, low, likely, high FROM amount WHERE entry IN ({marks})"
            " ORDER BY entry, kind, what",
            ids,
        ):
            _texts(kind, what, *span)
            amounts.setdefault(id, {})[kind, what] = (span[0], span[1], span[2])
        ground: dict[object, dict[str, str]] = {}
        for id, what, size in base.execute(
            f"SELECT entry, what, size FROM ground WHERE entry IN ({marks}) ORDER BY entry, what",
            ids,
        ):
            _texts(what, size)
            ground.setdefault(id, {})[what] = size
        for row in some:
            values = dict(zip(_COLUMNS, row, strict=True))
            _texts(*(value for name, value in values.items() if name != "about" or value))
            yield Entry(
                **values,
                amounts=amounts.get(row[0], {}),
                ground=ground.get(row[0], {}),
            )


def _texts(*values: object) -> None:
    """Every value of a whole file is text; what a damaged one gives instead is named as damage."""
    if not all(isinstance(value, str) for value in values):
        raise DamagedError("malformed text")

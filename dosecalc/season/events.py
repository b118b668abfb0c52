"""What happened beside the doses: crops begun and ended, tests, beds divided, stock come in."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from dosecalc.errors import refuse
from dosecalc.season.checks import writable

KINDS = (
    "crop start", "crop end", "test", "split", "merge", "stock in", "stock count", "withdrawn",
)  # fmt: skip
_COLUMNS = ("id", "kind", "about", "day", "written", "what", "tool")


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that is no dose.

    Parameters
    ----------
    id : str
        Made up at random, as that of an `Entry`.
    kind : str
        One of `KINDS`; "withdrawn" takes another out.
    about : str or None
        The event that is withdrawn.
    day : str
        YYYY-MM-DD.
    written : str
        When it was written down, UTC.
    what : str
        The place, or for stock the product.
    tool : str
        Our version.
    details : mapping of str to str
        Exact text with a unit where it is an amount.
    """

    id: str
    kind: str
    about: str | None
    day: str
    written: str
    what: str
    tool: str = ""
    details: Mapping[str, str] = field(default_factory=dict)


def add_event(base: sqlite3.Connection, event: Event) -> None:
    """Write one event.

    Raises
    ------
    DoseError
        When it withdraws one that is not there or was withdrawn before, and for a text that no
        file can hold.
    """
    writable(getattr(event, name) for name in _COLUMNS)
    writable(text for pair in event.details.items() for text in pair)
    if event.about is not None:
        about = one_event(base, event.about)
        if about.kind == "withdrawn" or _withdrawn(base, about.id):
            raise refuse("season-replaced", id=about.id)
    marks = ", ".join("?" * len(_COLUMNS))
    base.execute(
        f"INSERT INTO event ({', '.join(_COLUMNS)}) VALUES ({marks})",
        tuple(getattr(event, name) for name in _COLUMNS),
    )
    base.executemany(
        "INSERT INTO detail VALUES (?, ?, ?)",
        [(event.id, name, text) for name, text in event.details.items()],
    )


def one_event(base: sqlite3.Connection, id: str) -> Event:
    """The event of that id, or of the one id that begins so.

    Raises
    ------
    DoseError
        When there is none, or more than one.
    """
    rows = (
        base.execute(
            f"SELECT {', '.join(_COLUMNS)} FROM event WHERE substr(id, 1, ?) = ? LIMIT 2",
            (len(id), id),
        ).fetchall()
        if id and _there(base)
        else []
    )
    if len(rows) != 1:
        raise refuse("season-no-entry", text=id)
    return next(_filled(base, rows))


def standing(
    base: sqlite3.Connection, kinds: Iterable[str] = KINDS, what: str | None = None
) -> list[Event]:
    """Every event of these kinds that was not withdrawn, the oldest day first."""
    if not _there(base):
        return []
    wanted = tuple(kind for kind in kinds if kind != "withdrawn")
    rows = base.execute(
        f"SELECT {', '.join(_COLUMNS)} FROM event AS mine"
        f" WHERE kind IN ({', '.join('?' * len(wanted))}) AND (? IS NULL OR what = ?)"
        " AND NOT EXISTS (SELECT 1 FROM event WHERE about = mine.id)"
        " ORDER BY day, written, id",
        (*wanted, what, what),
    ).fetchall()
    return list(_filled(base, rows))


def every_event(base: sqlite3.Connection) -> list[Event]:
    """Every event ever written, each behind the one it withdraws."""
    if not _there(base):
        return []
    rows = base.execute(f"SELECT {', '.join(_COLUMNS)} FROM event ORDER BY rowid")
    return list(_filled(base, rows.fetchall()))


def _there(base: sqlite3.Connection) -> bool:
    """Whether the file has come to the step that holds events; a reader takes no step."""
    return bool(base.execute("PRAGMA user_version").fetchone()[0] >= 2)


def _withdrawn(base: sqlite3.Connection, id: str) -> bool:
    return base.execute("SELECT 1 FROM event WHERE about = ?", (id,)).fetchone() is not None


def _filled(base: sqlite3.Connection, rows: list[tuple[str, ...]]) -> Iterator[Event]:
    for row in rows:
        values = dict(zip(_COLUMNS, row, strict=True))
        found = base.execute("SELECT name, text FROM detail WHERE event = ?", (values["id"],))
        yield Event(**values, details=dict(found.fetchall()))

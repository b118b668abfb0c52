"""The season out and in: JSON and CSV, each read back as exactly what was written."""

from __future__ import annotations

import csv
import io
import json
import sqlite3
from collections.abc import Iterable
from dataclasses import asdict, fields
from typing import Any

from dosecalc.errors import refuse
from dosecalc.season.entries import Entry, add, everything
from dosecalc.season.events import KINDS, Event, add_event, every_event
from dosecalc.units import read
from dosecalc.units.show import show

_PLAIN = tuple(f.name for f in fields(Entry) if f.name not in ("amounts", "ground"))
_OF_EVENT = tuple(f.name for f in fields(Event) if f.name not in ("what", "details"))
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
"""A cell that begins so could be run by a spreadsheet: it gets an apostrophe in front."""


def to_json(base: sqlite3.Connection) -> str:
    """Every entry, also those that were corrected or undone."""
    rows = []
    for entry in everything(base):
        row = asdict(entry)
        row["amounts"] = [[kind, what, *span] for (kind, what), span in entry.amounts.items()]
        rows.append(row)
    events = [asdict(event) for event in every_event(base)]
    whole = {"season": 2, "entries": rows, "events": events}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def to_csv(base: sqlite3.Connection) -> str:
    """The same, one entry or event a row; the place of an event stands under "bed"."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow((*_PLAIN, "amounts", "ground", "details"))
    for entry in everything(base):
        amounts = [[kind, what, *span] for (kind, what), span in entry.amounts.items()]
        cells = [getattr(entry, name) or "" for name in _PLAIN]
        cells += [json.dumps(amounts), json.dumps(dict(entry.ground)), ""]
        table.writerow([_defused(cell) for cell in cells])
    for event in every_event(base):
        plain = {name: getattr(event, name) or "" for name in _OF_EVENT} | {"bed": event.what}
        cells = [plain.get(name, "") for name in _PLAIN]
        cells += ["", "", json.dumps(dict(event.details))]
        table.writerow([_defused(cell) for cell in cells])
    return out.getvalue()


def from_text(text: str, path: str) -> list[Entry | Event]:
    """The entries and events of an export.

    Raises
    ------
    DoseError
        When it is no export of a season, with the row where it is wrong.
    """
    if text.lstrip().startswith("{"):
        try:
            data = json.loads(text)
            rows = data["entries"] if data["season"] in (1, 2) else None
            events = data.get("events", [])
        except (ValueError, KeyError, TypeError, RecursionError):
            rows = events = None
        if not isinstance(rows, list) or not isinstance(events, list):
            raise refuse("season-import", path=path, row=1)
        found = [_entry(row, path, at) for at, row in enumerate(rows, start=1)]
        return [*found, *(_event(e, path, at) for at, e in enumerate(events, start=1))]
    cells = list(csv.DictReader(io.StringIO(text)))
    return [_from_cells(row, path, at) for at, row in enumerate(cells, start=2)]


def take_in(base: sqlite3.Connection, rows: Iterable[Entry | Event]) -> int:
    """Add every entry and event that is not there yet; how many were added."""
    count = 0
    for row in rows:
        table = "entry" if isinstance(row, Entry) else "event"
        if base.execute(f"SELECT 1 FROM {table} WHERE id = ?", (row.id,)).fetchone() is None:
            if isinstance(row, Entry):
                add(base, row)
            else:
                add_event(base, row)
            count += 1
    return count


def _defused(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def _from_cells(row: dict[str, Any], path: str, at: int) -> Entry | Event:
    try:
        plain = {
            name: value.removeprefix("'") if value.startswith("'") else value
            for name, value in row.items()
        }
        plain["about"] = plain["about"] or None
        if plain["kind"] in KINDS:
            plain["details"] = json.loads(plain["details"])
            return _event({**plain, "what": plain["bed"]}, path, at)
        plain["amounts"] = json.loads(plain["amounts"])
        plain["ground"] = json.loads(plain["ground"])
    except (AttributeError, KeyError, TypeError, ValueError, RecursionError):
        raise refuse("season-import", path=path, row=at) from None
    return _entry(plain, path, at)


def _event(row: Any, path: str, at: int) -> Event:
    try:
        plain = {name: row[name] for name in (*_OF_EVENT, "what")}
        details = {str(name): str(text) for name, text in row["details"].items()}
    except (AttributeError, KeyError, TypeError, ValueError):
        raise refuse("season-import", path=path, row=at) from None
    texts = [value for name, value in plain.items() if name != "about"]
    if not all(isinstance(value, str) for value in texts) or plain["kind"] not in KINDS:
        raise refuse("season-import", path=path, row=at)
    return Event(**plain, details=details)


def _entry(row: Any, path: str, at: int) -> Entry:
    try:
        plain = {name: row[name] for name in _PLAIN}
        amounts = {
            (str(kind), str(what)): (str(low), str(likely), str(high))
            for kind, what, low, likely, high in row["amounts"]
        }
        ground = {str(what): str(size) for what, size in row["ground"].items()}
    except (AttributeError, KeyError, TypeError, ValueError):
        raise refuse("season-import", path=path, row=at) from None
    texts = [value for name, value in plain.items() if name != "about"]
    if not all(isinstance(value, str) for value in texts):
        raise refuse("season-import", path=path, row=at)
    return Entry(**plain, amounts=amounts, ground=ground)


def lines(entry: Entry) -> list[str]:
    """Every field of an entry that holds something, a line each."""
    rows = [f"{name}: {getattr(entry, name)}" for name in _PLAIN if getattr(entry, name)]
    for (kind, what), (low, likely, high) in sorted(entry.amounts.items()):
        span = likely if low == high else f"{likely} ({low} to {high})"
        rows.append(f"{kind} of {what}: {span}")
    rows += [f"{what}: {size}" for what, size in sorted(entry.ground.items())]
    return rows


def in_short(entry: Entry) -> str:
    """What was given, in one line: "40 mL borax"."""
    shown: list[str] = []
    done: set[str] = set()
    for (kind, what), (_, likely, _) in entry.amounts.items():
        if kind in ("asked mass", "asked volume") and what not in done:
            done.add(what)
            shown.append(f"{show(read.quantity(likely)).metric} {what}")
    return ", ".join(shown)

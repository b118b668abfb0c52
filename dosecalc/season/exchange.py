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
from dosecalc.season.checks import amount_of, sound, sound_event
from dosecalc.season.entries import Entry, add, everything
from dosecalc.season.events import KINDS, Event, add_event, every_event
from dosecalc.units.show import show

_PLAIN = tuple(f.name for f in fields(Entry) if f.name not in ("amounts", "ground"))
_OF_EVENT = tuple(f.name for f in fields(Event) if f.name not in ("what", "details"))
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20", "'")
"""A cell that begins so could be run by a spreadsheet: it gets an apostrophe in front. The wide
forms of the first four count as well."""


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
    # All cells in quotes: without them a lone carriage return in a cell would end its row.
    table = csv.writer(out, lineterminator="\n", quoting=csv.QUOTE_ALL)
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
    table = csv.DictReader(io.StringIO(text))
    try:
        cells = list(table)
    except csv.Error:
        raise refuse("season-import", path=path, row=table.line_num) from None
    if not {*_PLAIN, "amounts", "ground"} <= set(table.fieldnames or ()):
        raise refuse("season-import", path=path, row=1)
    return [_from_cells(row, path, at) for at, row in enumerate(cells, start=2)]


def take_in(base: sqlite3.Connection, rows: Iterable[Entry | Event]) -> int:
    """Add every entry and event that is not there yet; how many were added.

    A correction may stand in front of what it is about: a table that was sorted by hand counts.
    """
    there = {
        id for table in ("entry", "event") for (id,) in base.execute(f"SELECT id FROM {table}")
    }
    waiting = [row for row in rows if row.id not in there]
    count = 0
    while waiting:
        ready = [row for row in waiting if row.about is None or row.about in there] or waiting
        for row in ready:
            if row.id not in there:
                if isinstance(row, Entry):
                    add(base, row)
                else:
                    add_event(base, row)
                there.add(row.id)
                count += 1
        waiting = [row for row in waiting if row.id not in there]
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
    texts = [value for name, value in plain.items() if name != "about" or value is not None]
    if not all(isinstance(value, str) for value in texts):
        raise refuse("season-import", path=path, row=at)
    event = Event(**plain, details=details)
    if not sound_event(event):
        raise refuse("season-import", path=path, row=at)
    return event


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
    texts = [value for name, value in plain.items() if name != "about" or value is not None]
    if not all(isinstance(value, str) for value in texts):
        raise refuse("season-import", path=path, row=at)
    entry = Entry(**plain, amounts=amounts, ground=ground)
    if not sound(entry):
        raise refuse("season-import", path=path, row=at)
    return entry


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
            shown.append(f"{show(amount_of(likely)).metric} {what}")
    return ", ".join(shown)

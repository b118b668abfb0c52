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
from dosecalc.units import read
from dosecalc.units.show import show

_PLAIN = tuple(f.name for f in fields(Entry) if f.name not in ("amounts", "ground"))
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")
"""A cell that begins so could be run by a spreadsheet: it gets an apostrophe in front."""


def to_json(base: sqlite3.Connection) -> str:
    """Every entry, also those that were corrected or undone."""
    rows = []
    for entry in everything(base):
        row = asdict(entry)
        row["amounts"] = [[kind, what, *span] for (kind, what), span in entry.amounts.items()]
        rows.append(row)
    return json.dumps({"season": 1, "entries": rows}, indent=1, ensure_ascii=False) + "\n"


def to_csv(base: sqlite3.Connection) -> str:
    """The same, one entry a row."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow((*_PLAIN, "amounts", "ground"))
    for entry in everything(base):
        amounts = [[kind, what, *span] for (kind, what), span in entry.amounts.items()]
        cells = [getattr(entry, name) or "" for name in _PLAIN]
        cells += [json.dumps(amounts), json.dumps(dict(entry.ground))]
        table.writerow([_defused(cell) for cell in cells])
    return out.getvalue()


def from_text(text: str, path: str) -> list[Entry]:
    """The entries of an export.

    Raises
    ------
    DoseError
        When it is no export of a season, with the row where it is wrong.
    """
    if text.lstrip().startswith("{"):
        try:
            data = json.loads(text)
            rows = data["entries"] if data["season"] == 1 else None
        except (ValueError, KeyError, TypeError):
            rows = None
        if not isinstance(rows, list):
            raise refuse("season-import", path=path, row=1)
        return [_entry(row, path, at) for at, row in enumerate(rows, start=1)]
    found = list(csv.DictReader(io.StringIO(text)))
    return [_from_cells(row, path, at) for at, row in enumerate(found, start=2)]


def take_in(base: sqlite3.Connection, entries: Iterable[Entry]) -> int:
    """Add every entry that is not there yet; how many were added."""
    count = 0
    for entry in entries:
        if base.execute("SELECT 1 FROM entry WHERE id = ?", (entry.id,)).fetchone() is None:
            add(base, entry)
            count += 1
    return count


def _defused(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def _from_cells(row: dict[str, Any], path: str, at: int) -> Entry:
    try:
        plain = {
            name: value.removeprefix("'") if value.startswith("'") else value
            for name, value in row.items()
        }
        plain["about"] = plain["about"] or None
        plain["amounts"] = json.loads(plain["amounts"])
        plain["ground"] = json.loads(plain["ground"])
    except (AttributeError, KeyError, TypeError, ValueError):
        raise refuse("season-import", path=path, row=at) from None
    return _entry(plain, path, at)


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

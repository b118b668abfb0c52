"""The shape of a season file, in numbered steps; a file of an older step is carried forward."""

from __future__ import annotations

APPLICATION = 0x646F7365
"""Marks an SQLite file as a season ("dose"), so that no other file is ever written to."""

STEPS: tuple[str, ...] = (
    """
    CREATE TABLE entry (
        id TEXT PRIMARY KEY,
        kind TEXT NOT NULL CHECK (kind IN ('given', 'correct', 'undo')),
        about TEXT REFERENCES entry (id),
        day TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
        written TEXT NOT NULL,
        bed TEXT NOT NULL,
        crop TEXT NOT NULL,
        recipe TEXT NOT NULL,
        placement TEXT NOT NULL,
        who TEXT NOT NULL,
        weather TEXT NOT NULL,
        stage TEXT NOT NULL,
        registration TEXT NOT NULL,
        note TEXT NOT NULL,
        tool TEXT NOT NULL,
        CHECK ((kind = 'given') = (about IS NULL))
    ) STRICT;
    CREATE INDEX entry_by_bed ON entry (bed, day);
    CREATE INDEX entry_by_about ON entry (about);
    CREATE TABLE amount (
        entry TEXT NOT NULL REFERENCES entry (id),
        kind TEXT NOT NULL CHECK (kind IN ('asked mass', 'asked volume', 'measured', 'nutrient')),
        what TEXT NOT NULL,
        low TEXT NOT NULL,
        likely TEXT NOT NULL,
        high TEXT NOT NULL,
        PRIMARY KEY (entry, kind, what)
    ) STRICT, WITHOUT ROWID;
    CREATE TABLE ground (
        entry TEXT NOT NULL REFERENCES entry (id),
        what TEXT NOT NULL,
        size TEXT NOT NULL,
        PRIMARY KEY (entry, what)
    ) STRICT, WITHOUT ROWID;
    """,
    """
    CREATE TABLE event (
        id TEXT PRIMARY KEY,
        kind TEXT NOT NULL CHECK (kind IN (
            'crop start', 'crop end', 'test', 'split', 'merge', 'stock in', 'stock count',
            'withdrawn')),
        about TEXT REFERENCES event (id),
        day TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
        written TEXT NOT NULL,
        what TEXT NOT NULL,
        tool TEXT NOT NULL,
        CHECK ((kind = 'withdrawn') = (about IS NOT NULL))
    ) STRICT;
    CREATE INDEX event_by_what ON event (what, day);
    CREATE INDEX event_by_about ON event (about);
    CREATE TABLE detail (
        event TEXT NOT NULL REFERENCES event (id),
        name TEXT NOT NULL,
        text TEXT NOT NULL,
        PRIMARY KEY (event, name)
    ) STRICT, WITHOUT ROWID;
    """,
)
"""Amounts and sizes are exact text with their unit, never floats."""

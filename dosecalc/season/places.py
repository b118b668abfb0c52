"""Places of the record: which spellings are one place, and which only look like another."""

from __future__ import annotations

import re
import sqlite3
import unicodedata

_SMALL = frozenset({"the", "bed", "beds", "row", "rows", "plot", "field", "patch"})
"""Words that a grower leaves out of a place's name on a busy day."""
_SHORTEST = 4
"""A word of fewer letters is another word when one of them differs: bed A is not bed B."""


def tidy(name: str) -> str:
    """A name as it is written down: composed letters, one space between words."""
    return " ".join(unicodedata.normalize("NFC", name).split())


def folded(name: str) -> str:
    """What two spellings of one place share: neither capitals nor spaces make another place."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def spellings(base: sqlite3.Connection, name: str) -> list[str]:
    """Every spelling of this place that the record holds, the first written first."""
    rows = base.execute("SELECT bed FROM entry GROUP BY bed ORDER BY min(rowid)").fetchall()
    same = folded(name)
    return [bed for (bed,) in rows if folded(bed) == same]


def as_written(base: sqlite3.Connection, name: str) -> str:
    """The place as it was first written in the record, else the name tidied."""
    return next(iter(spellings(base, name)), tidy(name))


def near(base: sqlite3.Connection, name: str) -> str:
    """The place with entries that count whose name is all but this one; "" where none is."""
    rows = base.execute(
        "SELECT bed FROM entry AS mine WHERE kind <> 'undo'"
        " AND NOT EXISTS (SELECT 1 FROM entry WHERE about = mine.id)"
        " GROUP BY bed ORDER BY min(rowid)"
    ).fetchall()
    return next((bed for (bed,) in rows if alike(bed, name)), "")


def alike(one: str, other: str) -> bool:
    """Whether two names could be one place with a slip of the pen.

    So are names with other signs or spaces between the same letters, names that differ in a small
    word only ("the north bed", "north"), and names of which one word of four letters or more has
    one letter too many, too few, wrong or swapped with its neighbour. Other digits are another
    place.
    """
    mine, theirs = _words(one), _words(other)
    if "".join(mine) == "".join(theirs):
        return True
    if _digits(mine) != _digits(theirs):
        return False
    mine, theirs = _large(mine), _large(theirs)
    if len(mine) != len(theirs):
        return False
    differ = [(a, b) for a, b in zip(mine, theirs, strict=True) if a != b]
    return not differ or (len(differ) == 1 and _one_slip(*differ[0]))


def _words(name: str) -> list[str]:
    return re.findall(r"\w+", folded(name).replace("_", " "))


def _digits(words: list[str]) -> list[str]:
    return re.findall(r"\d+", " ".join(words))


def _large(words: list[str]) -> list[str]:
    """The words that are not small, all of them where every one is."""
    return [word for word in words if word not in _SMALL] or words


def _one_slip(a: str, b: str) -> bool:
    """Whether one letter more, less, other or swapped makes one word of the other."""
    if max(len(a), len(b)) < _SHORTEST or abs(len(a) - len(b)) > 1:
        return False
    at = next((n for n, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), len(min(a, b)))
    rest_a, rest_b = a[at:], b[at:]
    swapped = rest_a[:2] == rest_b[1::-1] and rest_a[2:] == rest_b[2:]
    return swapped or rest_a[1:] == rest_b[1:] or rest_a[1:] == rest_b or rest_a == rest_b[1:]

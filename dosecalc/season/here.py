"""Everything the record says of one piece of ground, gathered once."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, replace

from dosecalc.errors import refuse
from dosecalc.season.crops import Growing, growing, standing_on, window
from dosecalc.season.entries import Entry, counting
from dosecalc.season.events import standing
from dosecalc.season.ground import Ground, Lineage, Piece, follow
from dosecalc.season.places import folded, tidy
from dosecalc.season.soil import Sampled, sampled
from dosecalc.units.show import listed

Base = sqlite3.Connection
"""What the functions of the season take; a face opens it with `store` and hands it on."""


@dataclass(frozen=True, slots=True)
class Here:
    """One piece of ground with its past.

    Parameters
    ----------
    ground : Ground
    lineage : Lineage
    given : tuple of (int, Entry)
        Each entry that speaks of it, the oldest day first, behind the place in the lineage of the
        piece that it was given to.
    crops : tuple of Growing
    tests : tuple of Sampled
        The oldest first.
    """

    ground: Ground
    lineage: Lineage
    given: tuple[tuple[int, Entry], ...]
    crops: tuple[Growing, ...] = ()
    tests: tuple[Sampled, ...] = ()

    def with_given(self, given: Iterable[tuple[int, Entry]]) -> Here:
        """The same ground with other entries."""
        return replace(self, given=tuple(given))

    def placed(self, entries: Iterable[Entry]) -> list[tuple[int, Entry]]:
        """Entries that are not in the record, each with the piece of this ground it is for."""
        last = len(self.lineage.pieces) - 1
        found = ((self.ground.step(self.lineage, e.bed, e.day), e) for e in entries)
        return [(last if at is None else at, entry) for at, entry in found]

    def standing(self, day: str) -> tuple[str, ...]:
        """Ids of the crops that stand on it on that day."""
        return tuple(dict.fromkeys(g.crop for g in standing_on(self.crops, day)))

    def window(self, crop: str, day: str) -> tuple[str | None, str | None]:
        """See `crops.window`; where parts were merged no end holds for all of the ground."""
        start, ended = window(self.crops, crop, day)
        return start, None if self.lineage.merged else ended


def ground_of(base: Base) -> Ground:
    """Every split and merge of the record."""
    return follow(standing(base, ("split", "merge")))


def first_days(base: Base) -> dict[str, str]:
    """The first day on which anything that counts was given to each name, folded."""
    rows = base.execute(f"SELECT bed, min(day) FROM entry AS mine WHERE {_COUNTS} GROUP BY bed")
    found: dict[str, str] = {}
    for bed, day in rows.fetchall():
        found[folded(bed)] = min(day, found.get(folded(bed), day))
    return found


def given_after(base: Base, name: str, day: str) -> int:
    """How many entries of that name that count are of a later day."""
    return sum(entry.day > day for entry in counting(base, name))


_COUNTS = "kind <> 'undo' AND NOT EXISTS (SELECT 1 FROM entry WHERE about = mine.id)"


def alone(entries: Iterable[Entry]) -> Here:
    """Ground that was never split or merged."""
    return Here(Ground(), Lineage((Piece(""),)), tuple((0, entry) for entry in entries))


def here(base: Base, name: str, day: str) -> Here:
    """The ground of that name on that day.

    Raises
    ------
    DoseError
        When no ground has that name on that day: it was split or merged, or did not begin yet.
    """
    ground = ground_of(base)
    lineage = ground.now(tidy(name), day)
    if lineage is None:
        raise _not_there(ground, name, day)
    return gathered(base, ground, lineage)


def gathered(base: Base, ground: Ground, lineage: Lineage) -> Here:
    """What the record says of one piece."""
    given = [
        (step, entry)
        for name in lineage.names
        for entry in counting(base, name)
        if (step := ground.step(lineage, name, entry.day)) is not None
    ]
    given.sort(key=lambda pair: (pair[1].day, pair[1].written, pair[1].id))
    crops = growing(ground, lineage, standing(base, ("crop start", "crop end")))
    tests = [
        sampled(event)
        for event in standing(base, ("test",))
        if ground.step(lineage, event.what, event.day) is not None
    ]
    return Here(ground, lineage, tuple(given), crops, tuple(tests))


def _not_there(ground: Ground, name: str, day: str) -> Exception:
    mine = [piece for piece in ground.pieces if folded(piece.name) == folded(name)]
    gone = [piece for piece in mine if piece.end is not None and piece.end < day]
    if not gone:
        of = ground.lineage(ground.pieces.index(mine[0])).pieces[:-1]
        names = listed(list(dict.fromkeys(p.name for p in of if p.end == mine[0].start)))
        return refuse("ground-not-yet", name=name, day=mine[0].start, of=names)
    parts = listed(list(ground.parts_of(name)))
    return refuse("ground-became", name=name, day=gone[-1].end, parts=parts)

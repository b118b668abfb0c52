"""Which past a piece of ground has: beds that were split and merged, followed back.

A place is a name for a while: a split ends one piece of ground and begins its parts, a merge ends
several and begins one. Pieces only ever come of older ones, so that nothing runs in a circle.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from dosecalc.errors import DoseError, printable
from dosecalc.say import Say
from dosecalc.season.events import Event
from dosecalc.season.places import folded
from dosecalc.units import read
from dosecalc.units.measure import AREA, LENGTH, Measure
from dosecalc.units.show import listed, show

PART = "part "
"""A detail of a split or merge that begins so names a part; its text is the size, or ""."""


@dataclass(frozen=True, slots=True)
class Origin:
    """A piece that another came of.

    Parameters
    ----------
    at : int
        Its place in the list that both stand in.
    share : Fraction or None
        Its part of the ground of the piece that came of it: what was given per area there counts
        so much in the mean. None where a size was not told.
    mass : Fraction or None
        How much of the amounts given to it lies on the piece that came of it.
    """

    at: int
    share: Fraction | None
    mass: Fraction | None


@dataclass(frozen=True, slots=True)
class Piece:
    """One place while it kept its shape.

    Parameters
    ----------
    name : str
    start, end : str or None
        Days; None for always so, and for still so. Both days belong to it.
    size : str
        As told with the event that made it; "" where it was not.
    origins : tuple of Origin
    """

    name: str
    start: str | None = None
    end: str | None = None
    size: str = ""
    origins: tuple[Origin, ...] = ()


@dataclass(frozen=True, slots=True)
class Lineage:
    """One piece and every piece it came of, each behind those it came of; it stands last."""

    pieces: tuple[Piece, ...]
    indices: Mapping[int, int] = field(default_factory=dict)

    @property
    def piece(self) -> Piece:
        """The piece itself."""
        return self.pieces[-1]

    @property
    def names(self) -> tuple[str, ...]:
        """Every name it had or came of."""
        return tuple({folded(piece.name): piece.name for piece in self.pieces}.values())

    def highest(self, own: Sequence[Sequence[Fraction]]) -> tuple[Fraction, ...]:
        """The most that any part of the ground met.

        Parameters
        ----------
        own : sequence of sequence of Fraction
            What was given per area to each piece, several figures each.
        """
        found: list[tuple[Fraction, ...]] = []
        for piece, mine in zip(self.pieces, own, strict=True):
            before = [found[origin.at] for origin in piece.origins]
            most = [max(parts) for parts in zip(*before, strict=True)] or [Fraction(0)] * len(mine)
            found.append(tuple(a + b for a, b in zip(mine, most, strict=True)))
        return found[-1]

    def mean(self, own: Sequence[Fraction]) -> Fraction | None:
        """The mean over the ground, each part by its size; None where a size was not told."""
        weights = self.weights()
        if any(w is None and given for w, given in zip(weights, own, strict=True)):
            return None
        pairs = zip(weights, own, strict=True)
        return sum((w * given for w, given in pairs if w is not None), Fraction(0))

    def weights(self) -> tuple[Fraction | None, ...]:
        """What a figure per area of each piece counts in the mean over the last one."""
        return self._carried("share")

    def masses(self) -> tuple[Fraction | None, ...]:
        """How much of what was given to each piece lies on the last one, shared by size."""
        return self._carried("mass")

    def _carried(self, what: str) -> tuple[Fraction | None, ...]:
        found: list[Fraction | None] = [Fraction(0)] * len(self.pieces)
        found[-1] = Fraction(1)
        for at in range(len(self.pieces) - 1, -1, -1):
            for origin in self.pieces[at].origins:
                mine, part, known = found[at], getattr(origin, what), found[origin.at]
                unknown = mine is None or part is None or known is None
                found[origin.at] = None if unknown else known + mine * part
        return tuple(found)

    @property
    def merged(self) -> bool:
        """Whether parts with different pasts came together in it."""
        return any(len(piece.origins) > 1 for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Ground:
    """Every piece that events speak of, each behind those it came of.

    Parameters
    ----------
    pieces : tuple of Piece
    faults : tuple of Say
        Events that do not fit what went before; what they join is followed all the same, so that
        nothing given is lost.
    said : tuple of Say
        Sizes that do not add up.
    """

    pieces: tuple[Piece, ...] = ()
    faults: tuple[Say, ...] = ()
    said: tuple[Say, ...] = ()

    def given_to(self, name: str, day: str) -> int | None:
        """Which piece an entry of that name and day was given to; None where none has the name.

        On the day of a split the whole is meant. An entry of a day on which no ground had that
        name belongs to the last one that had it before, else to the first one after.
        """
        mine = [at for at, piece in enumerate(self.pieces) if folded(piece.name) == folded(name)]
        alive = [at for at in mine if _alive(self.pieces[at], day)]
        if alive:
            return alive[0]
        before = [at for at in mine if (self.pieces[at].end or "~") < day]
        return before[-1] if before else next(iter(mine), None)

    def now(self, name: str, day: str) -> Lineage | None:
        """The ground that has that name on that day, with what it came of; None where none has."""
        mine = [at for at, piece in enumerate(self.pieces) if folded(piece.name) == folded(name)]
        if not mine:
            return Lineage((Piece(name),), {-1: 0})
        alive = [at for at in mine if _alive(self.pieces[at], day)]
        return self.lineage(alive[-1]) if alive else None

    def lineage(self, at: int) -> Lineage:
        """One piece and every piece it came of."""
        wanted = {at}
        for index in range(at, -1, -1):
            if index in wanted:
                wanted.update(origin.at for origin in self.pieces[index].origins)
        order = sorted(wanted)
        places = {old: new for new, old in enumerate(order)}
        moved = [
            replace(piece, origins=tuple(replace(o, at=places[o.at]) for o in piece.origins))
            for piece in (self.pieces[old] for old in order)
        ]
        return Lineage(tuple(moved), places)

    def step(self, lineage: Lineage, name: str, day: str) -> int | None:
        """Which piece of a lineage an entry was given to; None for other ground."""
        at = self.given_to(name, day)
        if at is None:
            same = folded(name) == folded(lineage.piece.name)
            return lineage.indices.get(-1) if same else None
        return lineage.indices.get(at)

    def parts_of(self, name: str) -> tuple[str, ...]:
        """What the last ground of that name became."""
        last = max(at for at, piece in enumerate(self.pieces) if folded(piece.name) == folded(name))
        return tuple(p.name for p in self.pieces if any(o.at == last for o in p.origins))


def _alive(piece: Piece, day: str) -> bool:
    return (piece.start or "") <= day <= (piece.end or "~")


def sizes(event: Event) -> dict[str, str]:
    """The parts of a split or a merge, each with its size as told, "" where it was not."""
    return {
        name.removeprefix(PART): text
        for name, text in event.details.items()
        if name.startswith(PART)
    }


def follow(events: Iterable[Event], first: Mapping[str, str] | None = None) -> Ground:
    """Every split and merge, one after the other.

    Parameters
    ----------
    events : iterable of Event
        Those of the kinds "split" and "merge" that were not withdrawn, the oldest day first.
    first : mapping of str to str or None
        The first day on which something was given to each name (folded); a name of which
        something is known before an event begins it cannot be begun by the event.
    """
    pieces: list[Piece] = []
    faults: list[Say] = []
    said: list[Say] = []
    for event in events:
        parts = sizes(event)
        if event.kind == "split":
            old, new = [event.what], list(parts)
        else:
            old, new = list(parts), [event.what]
        sources = [_source(pieces, name, event, faults) for name in old]
        shares = _shares(list(parts.values()))
        if event.kind == "split":
            said += _adds_up(event, pieces[sources[0]], parts)
            origins: list[tuple[Origin, ...]] = [
                (Origin(sources[0], Fraction(1), share),) for share in shares
            ]
            told = list(parts.values())
        else:
            pairs = zip(sources, shares, strict=True)
            origins = [tuple(Origin(at, share, Fraction(1)) for at, share in pairs)]
            told = [event.details.get("size", "") or _total(list(parts.values()))]
        ended = {folded(pieces[at].name) for at in sources}
        for name, size, came_of in zip(new, told, origins, strict=True):
            other = _in_use(pieces, name, event.day, first or {}, ended)
            if other is not None:
                faults.append(
                    Say.of("ground-in-use", bed=printable(name), day=event.day, id=event.id)
                )
                came_of = (*came_of, Origin(other, None, None)) if other >= 0 else came_of
                if other >= 0:
                    pieces[other] = replace(pieces[other], end=event.day)
            pieces.append(Piece(name, event.day, None, size, came_of))
    return Ground(tuple(pieces), tuple(faults), tuple(said))


def _source(pieces: list[Piece], name: str, event: Event, faults: list[Say]) -> int:
    """The piece of that name that an event ends; one that was not heard of was always there."""
    mine = [at for at, piece in enumerate(pieces) if folded(piece.name) == folded(name)]
    if not mine:
        pieces.append(Piece(name, None, event.day))
        return len(pieces) - 1
    at = mine[-1]
    if pieces[at].end is not None:
        faults.append(Say.of("ground-gone", bed=printable(name), day=pieces[at].end, id=event.id))
    else:
        pieces[at] = replace(pieces[at], end=event.day)
    return at


def _in_use(
    pieces: list[Piece], name: str, day: str, first: Mapping[str, str], ended: Collection[str]
) -> int | None:
    """The other ground that has the name a piece is to get; -1 where entries alone know it."""
    if folded(name) in ended:
        return None
    mine = [at for at, piece in enumerate(pieces) if folded(piece.name) == folded(name)]
    if mine:
        return mine[-1] if pieces[mine[-1]].end is None else None
    return -1 if first.get(folded(name), "~") < day else None


def _measures(texts: Sequence[str]) -> list[Measure] | None:
    """The sizes read, None where one is missing or they are of two kinds."""
    try:
        found = [read.quantity(text) for text in texts]
    except DoseError:
        return None
    kinds = [dim for dim in (AREA, LENGTH) if all(size.is_a(dim) for size in found)]
    return found if kinds and all(size.value > 0 for size in found) else None


def _shares(texts: Sequence[str]) -> list[Fraction | None]:
    found = _measures(texts)
    if found is None:
        return [None] * len(texts)
    unit = found[0].unit
    total = sum((size.amount_in(unit) for size in found), Fraction(0))
    return [size.amount_in(unit) / total for size in found]


def _total(texts: Sequence[str]) -> str:
    found = _measures(texts)
    if found is None:
        return ""
    whole = found[0]
    for size in found[1:]:
        whole = whole + size
    return show(whole).metric if len(found) > 1 else texts[0]


def _adds_up(event: Event, whole: Piece, parts: Mapping[str, str]) -> list[Say]:
    """That the parts are not as big as the whole, where its size was told."""
    known = event.details.get("size", "") or whole.size
    found = _measures([known, *parts.values()]) if known else None
    if found is None:
        return []
    total = found[1]
    for size in found[2:]:
        total = total + size
    if total.amount_in(found[0].unit) == found[0].value:
        return []
    return [
        Say.of(
            "ground-adds-up", name=printable(event.what), day=event.day, id=event.id,
            parts=printable(listed(list(parts))), total=show(total).metric,
            whole=show(found[0]).metric,
        )
    ]  # fmt: skip

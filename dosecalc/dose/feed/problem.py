"""What is asked of the products on hand, in exact numbers, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

UNDER = Fraction(999, 1000)
"""Where a limit says "below", a plan stays at this share of it (our own choice, no source)."""


@dataclass(frozen=True, slots=True)
class Feed:
    """One product on hand.

    Parameters
    ----------
    id : str
    content : tuple of (str, Fraction)
        What one unit of it (1 kg or 1 L) brings of each nutrient word, in kg that count.
    cost : Fraction or None
        Of one unit.
    stock : Fraction or None
        How many units there are; None for as many as it takes.
    whole : Fraction or None
        It is given in whole measures of so many units.
    """

    id: str
    content: tuple[tuple[str, Fraction], ...]
    cost: Fraction | None = None
    stock: Fraction | None = None
    whole: Fraction | None = None

    def brings(self, nutrient: str) -> Fraction:
        """What one unit brings of a nutrient word, zero where it brings none."""
        return dict(self.content).get(nutrient, Fraction(0))


@dataclass(frozen=True, slots=True)
class Want:
    """What is needed of one nutrient on the whole site.

    Parameters
    ----------
    nutrient : str
    amount : Fraction
        In kg; zero or less where credits already bring it.
    near : Fraction
        The share of the amount within which more or less counts as met.
    """

    nutrient: str
    amount: Fraction
    near: Fraction = Fraction(0)

    @property
    def least(self) -> Fraction:
        """What must be supplied."""
        return self.amount * (1 - self.near) if self.amount > 0 else Fraction(0)

    @property
    def enough(self) -> Fraction:
        """From where on more is an excess."""
        return self.amount * (1 + self.near) if self.amount > 0 else Fraction(0)


@dataclass(frozen=True, slots=True)
class Bound:
    """One upper limit as a linear form over the feeds.

    Parameters
    ----------
    id : str
    parts : tuple of (str, Fraction)
        Id of a feed, and what one unit of it adds; never negative.
    most : Fraction
        What the limit leaves after everything that was given before; below zero if nothing.
    inclusive : bool
        True for "at most", False for "below".
    """

    id: str
    parts: tuple[tuple[str, Fraction], ...]
    most: Fraction
    inclusive: bool = True

    @property
    def room(self) -> Fraction:
        """What a plan may use of it."""
        return max(Fraction(0), self.most if self.inclusive else self.most * UNDER)


@dataclass(frozen=True, slots=True)
class Problem:
    """Needs, products on hand and limits.

    Parameters
    ----------
    feeds : tuple of Feed
    wants : tuple of Want
    bounds : tuple of Bound
    order : tuple of str
        Nutrient words, the one whose excess harms first in front.
    prefer : {"cost", "fewest", "least"}
        What decides among plans of the same excess: money, number of products, weight.
    apart : tuple of (str, str)
        Ids of two feeds that must not both be given.
    """

    feeds: tuple[Feed, ...]
    wants: tuple[Want, ...]
    bounds: tuple[Bound, ...] = ()
    order: tuple[str, ...] = ()
    prefer: str = "least"
    apart: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Member:
    """One of the needs and limits that clash.

    Parameters
    ----------
    kind : {"need", "limit", "stock"}
    id : str
        A nutrient word, the id of a `Bound` or of a `Feed`.
    asked : Fraction
        The figure itself: at least (need) or at most (limit, stock).
    reached : Fraction
        What can be had of it at best (need), or what it would take (limit, stock), while all the
        other members hold.
    """

    kind: str
    id: str
    asked: Fraction
    reached: Fraction


@dataclass(frozen=True, slots=True)
class Answer:
    """How much of each feed.

    Parameters
    ----------
    amounts : tuple of (str, Fraction)
        Units of each feed that is used.
    missing : tuple of (str, Fraction)
        What is short of a need, in kg; only where needs and limits clash.
    clash : tuple of Member
        Needs and limits that cannot all hold; without any one of them the rest can.
    scores : tuple of (str, Fraction)
        What each aim came to, in order; a smaller first difference is the better plan.
    proven : bool
        Whether no better plan exists by an exact proof; False where whole numbers were searched.
    """

    amounts: tuple[tuple[str, Fraction], ...]
    missing: tuple[tuple[str, Fraction], ...] = ()
    clash: tuple[Member, ...] = ()
    scores: tuple[tuple[str, Fraction], ...] = field(default=())
    proven: bool = True

    def units(self, feed: str) -> Fraction:
        """How many units of a feed, zero where it is not used."""
        return dict(self.amounts).get(feed, Fraction(0))

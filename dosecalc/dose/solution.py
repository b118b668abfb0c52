"""Feeding solutions: what salts in a litre come to, and how much of each a wanted strength takes.

Strengths are milligrams of an element in a litre of feed, exact; what growers call ppm. Whoever
wants another way to choose the salts (a cheapest blend, a nearest one) takes the same `Salt`,
`Want` and water, and hands back `Portion` values: everything behind that is the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import comb

from dosecalc.catalog.formula import NUTRIENTS, element_of
from dosecalc.catalog.material import Material, is_volume
from dosecalc.errors import refuse
from dosecalc.units.engine import Unit
from dosecalc.units.measure import GRAM, ML, Measure

MOST_SALTS = 12
"""So many products in one feed at most: beyond that it is the work of an optimiser."""
_MOST_TRIED = 20_000
"""So many choices are looked through, at most, to say how near a want that is not met can come."""
FORMS = ("nitrate", "ammonium", "urea")
"""Traits of a material that say in which form it holds its nitrogen."""
_BLENDS = frozenset({"complete-feed", "liquid-feed"})


@dataclass(frozen=True, slots=True)
class Salt:
    """One product of a feed: a salt, a soluble powder, a liquid.

    Parameters
    ----------
    key : str
        What a recipe calls it: a material id, or a name of the garden file.
    material : Material
    """

    key: str
    material: Material

    @property
    def unit(self) -> Unit:
        """What it is counted in: millilitres where its label counts by volume, else grams."""
        by_volume = any(c.basis == "w/v" for c in self.material.contents)
        return ML if by_volume else GRAM

    def holds(self, element: str) -> Fraction:
        """Grams of an element in one of its `unit`; 0 where it is not known to hold any.

        Raises
        ------
        DoseError
            When weight and volume would have to meet and its density is not known.
        """
        content = self.material.content(element)
        if content is None:
            return Fraction(0)
        share = content.factor.likely
        if (content.basis == "w/v") == (self.unit == ML):
            return share
        density = self.material.need_density(Measure(Fraction(1), self.unit)).likely
        return share * density if self.unit == ML else share / density

    def counted(self, amount: Measure) -> Fraction:
        """An amount, a mass or a volume, in its `unit`; through the density where it must.

        Raises
        ------
        DoseError
            When the density is not known.
        """
        if is_volume(amount) == (self.unit == ML):
            return amount.amount_in(self.unit)
        density = self.material.need_density(amount).likely
        if self.unit == ML:
            return amount.amount_in(GRAM) / density
        return amount.amount_in(ML) * density


@dataclass(frozen=True, slots=True)
class Portion:
    """How much of one product is in a litre of the finished feed, in its own unit."""

    salt: Salt
    per_litre: Fraction

    def in_volume(self, litres: Fraction) -> Measure:
        """The product in so many litres of feed."""
        return Measure(self.per_litre * litres, self.salt.unit)

    def grams(self) -> Fraction | None:
        """Grams of the product in a litre of feed; None where its density is not known."""
        if self.salt.unit == GRAM:
            return self.per_litre
        density = self.salt.material.density
        return None if density is None else self.per_litre * density.likely


@dataclass(frozen=True, slots=True)
class Want:
    """A wanted strength.

    Parameters
    ----------
    word : str
        "N", "P", "P2O5": an oxide word counts the oxide.
    per_litre : Fraction
        Milligrams of that word in a litre of feed.
    """

    word: str
    per_litre: Fraction

    @property
    def element(self) -> str:
        """The element that the word counts."""
        return element_of(self.word)[0]

    @property
    def goal(self) -> Fraction:
        """The same as milligrams of the element."""
        return self.per_litre * element_of(self.word)[1]


@dataclass(frozen=True, slots=True)
class Line:
    """One element of a feed.

    Parameters
    ----------
    element : str
    total : Fraction
        Milligrams in a litre, the water's own included.
    parts : tuple of (str, Fraction)
        Who brings how much of it: the name of each product; "" for the water.
    """

    element: str
    total: Fraction
    parts: tuple[tuple[str, Fraction], ...]


def supplied(portions: Iterable[Portion], water: Mapping[str, Fraction]) -> tuple[Line, ...]:
    """What a feed holds, element by element, and from what.

    Parameters
    ----------
    portions : iterable of Portion
    water : mapping of str to Fraction
        Milligrams of an element that the water itself holds in a litre.
    """
    known = list(portions)
    lines: list[Line] = []
    for element in NUTRIENTS:
        parts = [(p.salt.material.name, p.salt.holds(element) * p.per_litre * 1000) for p in known]
        parts.append(("", water.get(element, Fraction(0))))
        brought = tuple((name, mg) for name, mg in parts if mg)
        if brought:
            lines.append(Line(element, sum((mg for _, mg in brought), Fraction(0)), brought))
    return tuple(lines)


def nitrogen_forms(portions: Iterable[Portion]) -> dict[str, Fraction]:
    """Milligrams of nitrogen in a litre by form; "" for what the data do not tell.

    A straight salt with one such trait holds all of it in that form. A blend, and a salt of two
    forms, is not told apart: its bag must say.
    """
    found: dict[str, Fraction] = {}
    for portion in portions:
        mg = portion.salt.holds("N") * portion.per_litre * 1000
        if not mg:
            continue
        traits = portion.salt.material.traits
        told = [form for form in FORMS if form in traits]
        form = told[0] if len(told) == 1 and _BLENDS.isdisjoint(traits) else ""
        found[form] = found.get(form, Fraction(0)) + mg
    return found


def load(portions: Iterable[Portion]) -> Fraction | None:
    """Grams of product in a litre of feed; None where a density that would tell is not known."""
    grams = [portion.grams() for portion in portions]
    known = [g for g in grams if g is not None]
    return sum(known, Fraction(0)) if len(known) == len(grams) else None


@dataclass(frozen=True, slots=True)
class Miss:
    """One wanted strength that is not met, and what it comes to, both counted as its word."""

    want: Want
    got: Fraction


@dataclass(frozen=True, slots=True)
class Blend:
    """Products for the wanted strengths.

    Parameters
    ----------
    portions : tuple of Portion
        None of which is negative.
    misses : tuple of Miss
        Empty where every want is met exactly. Else as few wants as can be were given up, the last
        ones first, and these are they.
    """

    portions: tuple[Portion, ...]
    misses: tuple[Miss, ...] = ()


def blend(
    salts: Sequence[Salt], wants: Sequence[Want], water: Mapping[str, Fraction]
) -> Blend:  # fmt: skip
    """How much of each product meets the wants exactly; else how near the first ones come.

    Parameters
    ----------
    salts : sequence of Salt
    wants : sequence of Want
        In order of importance.
    water : mapping of str to Fraction
        As in `supplied`; it is credited.

    Raises
    ------
    DoseError
        When the wants do not fix the amounts (more products than wants), a product or a want has
        no part in it, or the water alone holds more than is wanted.
    """
    goals = _goals(salts, wants, water)
    table = [[salt.holds(want.element) * 1000 for salt in salts] for want in wants]
    _in_use(salts, wants, table, goals)
    found, fixed = _solve(table, goals)
    if found is not None and not fixed:
        raise refuse("solution-open", salts=len(salts), wants=len(wants))
    if found is not None and min(found) >= 0:
        return Blend(tuple(Portion(s, x) for s, x in zip(salts, found, strict=True)))
    return _nearest(salts, wants, table, goals, water)


def _goals(
    salts: Sequence[Salt], wants: Sequence[Want], water: Mapping[str, Fraction]
) -> list[Fraction]:
    if len(salts) > MOST_SALTS:
        raise refuse("solution-many", count=len(salts), most=MOST_SALTS)
    seen: set[str] = set()
    goals = []
    for want in wants:
        if want.element in seen:
            raise refuse("solution-want-twice", element=want.element)
        seen.add(want.element)
        goal = want.goal - water.get(want.element, Fraction(0))
        if goal < 0:
            raise refuse("solution-water-over", word=want.word)
        goals.append(goal)
    return goals


def _in_use(
    salts: Sequence[Salt], wants: Sequence[Want], table: list[list[Fraction]], goals: list[Fraction]
) -> None:
    for want, row, goal in zip(wants, table, goals, strict=True):
        if goal and not any(row):
            names = ", ".join(salt.material.name for salt in salts)
            raise refuse("solution-want-none", word=want.word, names=names)
    for at, salt in enumerate(salts):
        if not any(row[at] for row in table):
            words = ", ".join(want.word for want in wants)
            raise refuse("solution-salt-idle", name=salt.material.name, words=words)


def _solve(
    table: list[list[Fraction]], goals: list[Fraction]
) -> tuple[list[Fraction] | None, bool]:
    """One solution of the equations, None where there is none; and whether it is the only one."""
    width = len(table[0])
    rows = [[*row, goal] for row, goal in zip(table, goals, strict=True)]
    pivots: list[int] = []
    for column in range(width):
        top = len(pivots)
        at = next((i for i in range(top, len(rows)) if rows[i][column]), None)
        if at is None:
            continue
        rows[top], rows[at] = rows[at], rows[top]
        lead = rows[top][column]
        rows[top] = [value / lead for value in rows[top]]
        for i, row in enumerate(rows):
            if i != top and row[column]:
                times = row[column]
                rows[i] = [a - times * b for a, b in zip(row, rows[top], strict=True)]
        pivots.append(column)
    if any(row[width] for row in rows[len(pivots) :]):
        return None, False
    found = [Fraction(0)] * width
    for row, column in zip(rows, pivots, strict=False):
        found[column] = row[width]
    return found, len(pivots) == width


def _nearest(
    salts: Sequence[Salt], wants: Sequence[Want], table: list[list[Fraction]],
    goals: list[Fraction], water: Mapping[str, Fraction],
) -> Blend:  # fmt: skip
    """As few wants given up as can be, the last ones first; of those ways the least miss."""
    for given_up in range(1, len(wants)):
        kept = len(wants) - given_up
        size = min(len(salts), kept)
        if comb(len(wants), given_up) * comb(len(salts), size) > _MOST_TRIED:
            continue
        for out in sorted(combinations(range(len(wants)), given_up), reverse=True):
            rows = [at for at in range(len(wants)) if at not in out]
            ways: list[tuple[Fraction, Blend]] = []
            for chosen in combinations(range(len(salts)), size):
                part = [[table[at][i] for i in chosen] for at in rows]
                found, fixed = _solve(part, [goals[at] for at in rows])
                if found is None or not fixed or min(found) < 0:
                    continue
                portions = tuple(
                    Portion(salts[i], x) for i, x in zip(chosen, found, strict=True) if x
                )
                misses = _misses(portions, wants, water)
                worst = max(abs(m.got / m.want.per_litre - 1) for m in misses)
                ways.append((worst, Blend(portions, misses)))
            if ways:
                return min(ways, key=lambda way: way[0])[1]
    raise AssertionError("one want is met by any product that holds it")


def _misses(
    portions: tuple[Portion, ...], wants: Sequence[Want], water: Mapping[str, Fraction]
) -> tuple[Miss, ...]:
    """What is not met; never empty, since the caller tried the wants together before."""
    held = {line.element: line.total for line in supplied(portions, water)}
    got = [(want, held.get(want.element, Fraction(0)) / element_of(want.word)[1]) for want in wants]
    return tuple(Miss(want, mg) for want, mg in got if mg != want.per_litre)

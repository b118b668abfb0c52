"""Stock solutions: what an injector makes of them, and which salts may share a tank."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from dosecalc.catalog.material import Material
from dosecalc.catalog.rules import Pair
from dosecalc.dose.result import LEVELS
from dosecalc.dose.solution import Portion
from dosecalc.dose.together import capped, matches
from dosecalc.errors import refuse

_WHERE = frozenset({"tank", "stock tank"})


@dataclass(frozen=True, slots=True)
class Injector:
    """How an injector thins a stock.

    Parameters
    ----------
    part, whole : Fraction
        As written: `part` of stock and `whole`, "1:100" as 1 and 100.
    to_water : bool
        True where `whole` are parts of water beside the stock; else, as the trade counts, they
        are parts of the finished feed.
    percent : bool
        It was written as a percentage, which always counts the finished feed.
    """

    part: Fraction
    whole: Fraction
    to_water: bool = False
    percent: bool = False

    def __post_init__(self) -> None:
        if not 0 < self.part < self.whole:
            raise refuse("solution-injector-order")

    def times(self, tanks: int = 1) -> Fraction:
        """How many times the feed a stock is as strong, and litres of feed to a litre of stock.

        Parameters
        ----------
        tanks : int
            Stock tanks that are drawn from at the same ratio into the same water.

        Raises
        ------
        DoseError
            When so many tanks would leave no room for water.
        """
        if self.to_water:
            return (self.whole + tanks * self.part) / self.part
        found = self.whole / self.part
        if found <= tanks:
            raise refuse("solution-injector-full", tanks=tanks)
        return found


@dataclass(frozen=True, slots=True)
class Tank:
    """What goes into one stock tank; told apart from others by its content, never by a letter."""

    portions: tuple[Portion, ...]


def apart(pairs: Sequence[Pair], one: Material, other: Material, region: str | None) -> str:
    """The gravest level at which rules keep two materials out of one stock tank, "" for none.

    Rules for single crops are left to the judge, which knows the crop.
    """
    levels = [
        capped(pair.level, pair.source.strong)
        for pair in pairs
        if pair.where in _WHERE
        and pair.region in ("any", region)
        and "any" in pair.crops
        and (
            (matches(pair.a, one) and matches(pair.b, other))
            or (matches(pair.a, other) and matches(pair.b, one))
        )
    ]
    return min(levels, key=LEVELS.index, default="")


def tanks(
    portions: Sequence[Portion], pairs: Sequence[Pair], region: str | None = None
) -> tuple[Tank, ...]:
    """The fewest stock tanks in which nothing meets what would drop it out of solution.

    Among the ways with so few tanks, the one with the fewest cautions; then the one whose fullest
    tank holds the least. A product that must not meet itself does not exist here.

    Parameters
    ----------
    portions : sequence of Portion
    pairs : sequence of Pair
    region : str or None
    """
    levels = {
        (i, j): apart(pairs, portions[i].salt.material, portions[j].salt.material, region)
        for j in range(len(portions))
        for i in range(j)
    }
    stops = {pair for pair, level in levels.items() if level == "stop"}
    for count in range(1, len(portions) + 1):
        ways = list(_ways(len(portions), count, stops))
        if ways:
            best = min(ways, key=lambda way: _order(way, levels, portions))
            return tuple(Tank(tuple(portions[i] for i in group)) for group in best)
    return ()


def _ways(many: int, count: int, stops: set[tuple[int, int]]) -> Iterator[list[list[int]]]:
    """Every way to lay things into `count` groups that keeps all `stops` apart."""

    def lay(at: int, groups: list[list[int]]) -> Iterator[list[list[int]]]:
        if at == many:
            if len(groups) == count:
                yield [list(group) for group in groups]
            return
        for group in groups:
            if all((i, at) not in stops for i in group):
                group.append(at)
                yield from lay(at + 1, groups)
                group.pop()
        if len(groups) < count:
            groups.append([at])
            yield from lay(at + 1, groups)
            groups.pop()

    yield from lay(0, [])


def _order(
    way: list[list[int]], levels: dict[tuple[int, int], str], portions: Sequence[Portion]
) -> tuple[int, Fraction, list[list[int]]]:
    cautions = sum(
        levels[i, j] == "caution" for group in way for j in group for i in group if i < j
    )
    grams = [sum((portions[i].grams() or Fraction(0) for i in g), Fraction(0)) for g in way]
    return cautions, max(grams), way

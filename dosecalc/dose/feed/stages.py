"""One aim after the other: the needs, then what harms first, then money, products or weight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations
from math import comb

from dosecalc.dose.feed.problem import Answer, Problem
from dosecalc.dose.feed.program import Column, Optimum, Parts, Program, Row
from dosecalc.dose.feed.solve import Solver
from dosecalc.errors import refuse

ONE = Fraction(1)
ZERO = Fraction(0)
FEWEST = "fewest"
MOST_TRIED = 150
"""So many sets of feeds are tried to prove that none smaller does; a second at the most."""


@dataclass(frozen=True, slots=True)
class Built:
    """A program of one problem: its columns are feeds, then excesses, then shortfalls.

    Parameters
    ----------
    program : Program
    units : tuple of Fraction
        Units of a feed that one of its column stands for.
    aims : tuple of (str, Parts)
        What is made small, one after the other.
    """

    program: Program
    units: tuple[Fraction, ...]
    aims: tuple[tuple[str, Parts], ...]


def build(problem: Problem, *, short: bool = False) -> Built:
    """The linear program of a problem.

    Parameters
    ----------
    problem : Problem
    short : bool
        Let the needs fall short, as little as can be, each counted as a share of itself.
    """
    units = tuple(feed.whole or ONE for feed in problem.feeds)
    columns = [Column(f.id, whole=f.whole is not None) for f in problem.feeds]
    place = {feed.id: at for at, feed in enumerate(problem.feeds)}
    rows: list[Row] = []
    wants = {want.nutrient: want for want in problem.wants}
    aims: list[tuple[str, Parts]] = []
    lacking: list[tuple[int, Fraction]] = []
    excess: dict[str, int] = {}
    for nutrient in dict.fromkeys((*problem.order, *wants)):
        brings = tuple(
            (at, feed.brings(nutrient) * units[at])
            for at, feed in enumerate(problem.feeds)
            if feed.brings(nutrient)
        )
        want = wants.get(nutrient)
        if not brings and (want is None or not want.least):
            continue
        if brings:
            excess[nutrient] = len(columns)
            columns.append(Column(f"excess {nutrient}"))
            enough = want.enough if want is not None else ZERO
            over = (*brings, (excess[nutrient], -ONE))
            rows.append(Row(f"enough {nutrient}", over, high=enough))
        if want is not None and want.least:
            if short:
                lacking.append((len(columns), 1 / want.least))
                brings = (*brings, (len(columns), ONE))
                columns.append(Column(f"short {nutrient}"))
            rows.append(Row(f"need {nutrient}", brings, low=want.least))
    for bound in problem.bounds:
        parts = tuple((place[id], part * units[place[id]]) for id, part in bound.parts if part)
        if parts:
            rows.append(Row(f"limit {bound.id}", parts, high=bound.room))
    for at, feed in enumerate(problem.feeds):
        if feed.stock is not None:
            rows.append(Row(f"stock {feed.id}", ((at, units[at]),), high=feed.stock))
    if short:
        aims.append(("short", tuple(lacking)))
    first = [name for name in problem.order if name in excess]
    aims += [(f"excess {name}", ((excess[name], ONE),)) for name in first]
    rest = [name for name in excess if name not in problem.order]
    if rest:
        shares = tuple((excess[n], 1 / (wants[n].enough or ONE)) for n in rest)
        aims.append(("excess of the rest", shares))
    if problem.prefer == "cost":
        costs = tuple(
            (at, (feed.cost or ZERO) * units[at]) for at, feed in enumerate(problem.feeds)
        )
        aims.append(("cost", costs))
    if problem.prefer == FEWEST:
        aims.append((FEWEST, ()))
    aims.append(("least", tuple(enumerate(units))))
    return Built(Program(tuple(columns), tuple(rows)), units, tuple(aims))


def answer(problem: Problem, solver: Solver, *, short: bool = False) -> Answer | None:
    """The best plan; None where the needs and limits clash.

    Parameters
    ----------
    problem : Problem
    solver : Solver
    short : bool
        See `build`.

    Raises
    ------
    DoseError
        When no whole numbers of measures keep every bound, though parts of them would.
    """
    found = _answer(problem, solver, short=short)
    if found is None:
        return None
    for one, other in problem.apart:
        if found.units(one) and found.units(other):
            sides = [answer(_without(problem, out), solver, short=short) for out in (one, other)]
            left = [side for side in sides if side is not None]
            names = [name for name, _ in build(problem, short=short).aims]
            return min(left, key=lambda side: _rank(side, names), default=None)
    return found


def _without(problem: Problem, feed: str) -> Problem:
    return replace(
        problem,
        feeds=tuple(one for one in problem.feeds if one.id != feed),
        bounds=tuple(
            replace(b, parts=tuple(part for part in b.parts if part[0] != feed))
            for b in problem.bounds
        ),
        apart=tuple(pair for pair in problem.apart if feed not in pair),
    )


def _rank(found: Answer, names: list[str]) -> list[Fraction]:
    """What each aim came to; one that an answer does not name has nothing to make small."""
    scores = dict(found.scores)
    return [scores.get(name, ZERO) for name in names]


def _answer(problem: Problem, solver: Solver, *, short: bool) -> Answer | None:
    built = build(problem, short=short)
    if any(column.whole for column in built.program.columns):
        return _by_whole(problem, built, solver, short=short)
    program = built.program
    scores: list[tuple[str, Fraction]] = []
    found: Optimum | None = None
    proven = True
    for name, aim in built.aims:
        if name == FEWEST:
            if found is None and (found := solver.optimum(program)) is None:
                return None
            assert found is not None
            program, kept = _fewest(problem, program, scores, found, solver)
            scores.append((name, Fraction(len(kept))))
            proven = _none_fewer(program, kept, len(problem.feeds), solver)
            program = _only(program, kept, range(len(problem.feeds)))
            found = None
            continue
        aimed = replace(program, aim=aim)
        if found is None or aimed.worth(found.values):
            found = solver.optimum(aimed)
            if found is None:
                return None
            scores.append((name, aimed.worth(found.values)))
            program = _face(program, found)
        else:
            scores.append((name, ZERO))  # nothing is below zero: no need to solve
            program = program.fixed({at: ZERO for at, part in aim if part})
    assert found is not None
    return _told(problem, built, found.values, scores, proven=proven)


def _face(program: Program, best: Optimum) -> Program:
    """The same program, kept to the points that are as good as the best.

    What costs something to leave is held where it is: every best point does the same
    (complementary slackness), so no rounded figure is carried from one aim to the next.
    """
    columns = tuple(
        replace(column, low=value, high=value) if cost else column
        for column, value, cost in zip(program.columns, best.values, best.pull, strict=True)
    )
    rows = []
    for row, price in zip(program.rows, best.push, strict=True):
        bound = row.low if price > 0 else row.high
        rows.append(replace(row, low=bound, high=bound) if price else row)
    return replace(program, columns=columns, rows=tuple(rows))


def _fewest(
    problem: Problem, program: Program, scores: list[tuple[str, Fraction]],
    found: Optimum, solver: Solver,
) -> tuple[Program, set[int]]:  # fmt: skip
    """The same program, and which feeds stay: as few as the solver finds.

    Which can go is then checked; where the check fails, those of the corner at hand stay.
    """
    feeds = range(len(problem.feeds))
    used = {at for at in feeds if found.values[at]}
    most = _most(problem, dict(scores))
    start = len(program.columns)
    asked = replace(
        _with_switches(program, most, feeds), aim=tuple((start + at, ONE) for at in feeds)
    )
    chosen = None if len(used) < 2 else solver.whole(asked)
    if chosen is not None:
        fewer = {at for at in feeds if chosen[start + at]}
        if len(fewer) < len(used) and solver.optimum(_only(program, fewer, feeds)) is not None:
            used = fewer
    return program, used


def _only(program: Program, kept: set[int], feeds: range) -> Program:
    return program.fixed({at: ZERO for at in feeds if at not in kept})


def _none_fewer(program: Program, kept: set[int], count: int, solver: Solver) -> bool:
    """Whether no smaller number of feeds does, by trying them all; False where they are many."""
    feeds = range(count)
    size = len(kept) - 1
    if size < 0 or comb(count, size) > MOST_TRIED:
        return size < 0
    return all(
        solver.optimum(_only(program, set(some), feeds)) is None
        for some in combinations(feeds, size)
    )


def _most(problem: Problem, scores: Mapping[str, Fraction]) -> list[Fraction]:
    """More than can be used of each feed without an excess that an earlier aim forbids."""
    wants = {want.nutrient: want for want in problem.wants}
    shared = scores.get("excess of the rest", ZERO)
    found = []
    for feed in problem.feeds:
        ends = []
        for nutrient, part in feed.content:
            want = wants.get(nutrient)
            if not part or (want is None and nutrient not in problem.order):
                continue
            enough = want.enough if want is not None else ZERO
            if nutrient in problem.order:
                over = scores.get(f"excess {nutrient}", ZERO)
            else:
                over = shared * (enough or ONE)
            ends.append((enough + over) / part)
        found.append(min(ends, default=ONE) or ONE)
    return found


def _by_whole(problem: Problem, built: Built, solver: Solver, *, short: bool) -> Answer | None:
    """The best plan in whole measures: searched by the solver, each step checked exactly."""
    if solver.optimum(built.program) is None:
        return None
    program = built.program
    feeds = range(len(problem.feeds))
    if problem.prefer == FEWEST:
        program = _with_switches(program, _most_whole(problem), feeds)
    whole = [at for at, column in enumerate(program.columns) if column.whole]
    held: dict[int, Fraction] | None = None
    values: tuple[Fraction, ...] = ()
    scores: list[tuple[str, Fraction]] = []
    for name, aim in built.aims:
        if name == FEWEST:
            aim = tuple((len(built.program.columns) + at, ONE) for at in feeds)
        aimed = replace(program, aim=aim)
        guess = solver.whole(aimed)
        tried = [] if guess is None else [{at: guess[at] for at in whole}]
        tried += [] if held is None else [held]
        best: tuple[Fraction, dict[int, Fraction], tuple[Fraction, ...]] | None = None
        for numbers in tried:
            exact = solver.optimum(aimed.fixed(numbers))
            if exact is not None:
                worth = aimed.worth(exact.values)
                if best is None or worth < best[0]:
                    best = worth, numbers, exact.values
        if best is None:
            raise refuse("feed-no-whole")
        worth, held, values = best
        scores.append((name, worth))
        program = program.with_rows([Row(f"aim {name}", aim, high=worth)])
    return _told(problem, built, values, scores, proven=False)


def _with_switches(program: Program, most: list[Fraction], feeds: range) -> Program:
    start = len(program.columns)
    switches = tuple(Column(f"used {at}", high=ONE, whole=True) for at in feeds)
    rows = tuple(
        Row(f"used {at}", ((at, ONE / most[at]), (start + at, -ONE)), high=ZERO) for at in feeds
    )
    return Program((*program.columns, *switches), (*program.rows, *rows))


def _most_whole(problem: Problem) -> list[Fraction]:
    """More measures of each feed than a sensible plan uses: what one need takes, and one more."""
    found = []
    for feed in problem.feeds:
        unit = feed.whole or ONE
        ends = [
            want.enough / feed.brings(want.nutrient) / unit
            for want in problem.wants
            if feed.brings(want.nutrient)
        ]
        found.append(max(ends, default=ZERO) + 1)
    return found


def _told(
    problem: Problem, built: Built, values: tuple[Fraction, ...],
    scores: list[tuple[str, Fraction]], *, proven: bool,
) -> Answer:  # fmt: skip
    """The values of the columns as an answer, after one more check of every bound."""
    count = len(built.program.columns)
    if not built.program.holds(values[:count]):
        raise ArithmeticError("a plan breaks one of its own bounds")
    amounts = tuple(
        (feed.id, values[at] * built.units[at])
        for at, feed in enumerate(problem.feeds)
        if values[at]
    )
    missing = tuple(
        (column.id.removeprefix("short "), values[at])
        for at, column in enumerate(built.program.columns)
        if column.id.startswith("short ") and values[at]
    )
    return Answer(amounts, missing, (), tuple(scores), proven)

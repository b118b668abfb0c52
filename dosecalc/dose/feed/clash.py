"""Why nothing keeps every need and every limit: a smallest set of them that clash, and by how much.

The deletion filter: one after the other is left out; where the rest still clash, it stays out.
Reference: J. W. Chinneck, Feasibility and Infeasibility in Optimization (2008), chapter 6.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from dosecalc.dose.feed.problem import Answer, Member, Problem
from dosecalc.dose.feed.program import Column, Program, Row
from dosecalc.dose.feed.solve import Solver
from dosecalc.dose.feed.stages import answer, build

_MEMBERS = ("need", "limit", "stock")


def plan(problem: Problem, solver: Solver) -> Answer:
    """The best plan; where the needs cannot all be met, the nearest to them and what clashes.

    Parameters
    ----------
    problem : Problem
    solver : Solver

    Raises
    ------
    DoseError
        When no whole numbers of measures keep every bound, though parts of them would.
    """
    found = answer(problem, solver)
    if found is not None:
        return found
    nearest = answer(problem, solver, short=True)
    assert nearest is not None  # nothing at all keeps every limit
    return replace(nearest, clash=clashing(problem, solver))


def clashing(problem: Problem, solver: Solver) -> tuple[Member, ...]:
    """A smallest set of needs, limits and stocks that cannot all hold.

    Two feeds that must not both be given can bring a clash that no single plan has; then each
    side's own is named.
    """
    program = build(problem).program
    rows = _smallest(program, _proof(problem, solver), solver)
    if not rows:
        seen: dict[tuple[str, str], Member] = {}
        for pair in problem.apart:
            for out in pair:
                rest = replace(
                    problem,
                    feeds=tuple(feed for feed in problem.feeds if feed.id != out),
                    bounds=tuple(
                        replace(b, parts=tuple(p for p in b.parts if p[0] != out))
                        for b in problem.bounds
                    ),
                    apart=tuple(one for one in problem.apart if out not in one),
                )
                for member in clashing(rest, solver):
                    seen.setdefault((member.kind, member.id), member)
        return tuple(seen.values())
    return tuple(_member(program, rows, at, solver) for at in range(len(rows)))


def _proof(problem: Problem, solver: Solver) -> set[str]:
    """Ids of rows that clash: those that hold the nearest plan back, by their prices.

    Their prices prove that something must be short; without the shortfall they cannot all hold.
    """
    short = build(problem, short=True)
    best = solver.optimum(replace(short.program, aim=short.aims[0][1]))
    assert best is not None  # nothing at all keeps every limit
    return {row.id for row, price in zip(short.program.rows, best.push, strict=True) if price}


def _smallest(program: Program, proof: set[str], solver: Solver) -> list[Row]:
    """Rows of which each is needed for the clash; none where the rows of the proof all hold."""
    asked = [row for row in program.rows if row.id in proof and row.id.split(" ")[0] in _MEMBERS]
    if not solver.clashing(replace(program, rows=tuple(asked))):
        return []
    for row in list(asked):
        fewer = [other for other in asked if other is not row]
        if solver.clashing(replace(program, rows=tuple(fewer))):
            asked = fewer
    return asked


def _member(program: Program, rows: list[Row], at: int, solver: Solver) -> Member:
    """One of the clashing rows, with what it comes to while the others hold."""
    row = rows[at]
    kind, _, id = row.id.partition(" ")
    sign = Fraction(1 if row.low is not None else -1)
    eased = replace(row, parts=(*row.parts, (len(program.columns), sign)))
    others = (other for place, other in enumerate(rows) if place != at)
    alone = Program(
        (*program.columns, Column("ease")), (*others, eased),
        ((len(program.columns), Fraction(1)),),
    )  # fmt: skip
    best = solver.optimum(alone)
    assert best is not None  # without this one the others hold
    asked = row.low if row.low is not None else row.high
    assert asked is not None
    by = best.values[-1]
    return Member(kind, id, asked, asked - sign * by)

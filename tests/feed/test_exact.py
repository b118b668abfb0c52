"""Corners in Fractions: what the solver says is proven again, and the method without it agrees."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.dose.feed.exact import Tableau, certify, solved
from dosecalc.dose.feed.program import Basis, Column, Program, Row
from dosecalc.dose.feed.solve import Solver
from tests.feed.brute import corners

F = Fraction


@pytest.fixture(scope="module")
def solver() -> Solver:
    return Solver()


def random_program(seed: int) -> Program:
    """Few columns and rows of every kind of bound, often degenerate, sometimes with no point."""
    draw = random.Random(seed)
    count = draw.randint(1, 4)

    def number() -> Fraction:
        return F(draw.randint(-6, 6), draw.choice([1, 1, 2, 3, 7]))

    columns = tuple(
        Column(f"x{at}", high=draw.choice([None, F(draw.randint(0, 5), 2)])) for at in range(count)
    )
    rows = []
    for at in range(draw.randint(1, 4)):
        parts = tuple((c, number()) for c in range(count) if draw.random() < 0.8)
        low, high = sorted((number(), number()))
        kind = draw.choice(["low", "high", "both", "equal"])
        rows.append(
            Row(
                f"r{at}", parts,
                low=None if kind == "high" else low,
                high={"low": None, "equal": low}.get(kind, high),
            )
        )  # fmt: skip
    aim = tuple((c, F(draw.randint(0, 5), draw.choice([1, 3]))) for c in range(count))
    return Program(columns, tuple(rows), aim)


def best_by_hand(program: Program) -> Fraction | None:
    """The lowest aim over all corners; the aim has no negative part, so it has a lowest value."""
    count = len(program.columns)
    lines, sides = [], []

    def add(parts: dict[int, Fraction], low: Fraction | None, high: Fraction | None) -> None:
        line = [parts.get(at, F(0)) for at in range(count)]
        if high is not None:
            lines.append(line)
            sides.append(high)
        if low is not None:
            lines.append([-part for part in line])
            sides.append(-low)

    for at, column in enumerate(program.columns):
        add({at: F(1)}, column.low, column.high)
    for row in program.rows:
        add(dict(row.parts), row.low, row.high)
    found = [
        sum((part * point[at] for at, part in program.aim), F(0)) for point in corners(lines, sides)
    ]
    return min(found, default=None)


def test_solver_and_tableau_find_the_lowest_corner_and_nothing_where_there_is_none(
    solver: Solver,
) -> None:
    outcomes = {"point": 0, "none": 0}
    for seed in range(400):
        program = random_program(seed)
        by_hand = best_by_hand(program)
        found = solver.optimum(program)
        alone = Solver(alone=True).optimum(program)
        if by_hand is None:
            outcomes["none"] += 1
            assert found is None, seed
            assert alone is None, seed
            continue
        outcomes["point"] += 1
        assert found is not None, seed
        assert alone is not None, seed
        assert program.worth(found.values) == by_hand, seed
        assert program.worth(alone.values) == by_hand, seed
        assert program.holds(found.values), seed
        assert program.holds(alone.values), seed
    assert min(outcomes.values()) > 50


def test_the_rows_that_prove_a_clash_clash_without_the_others(solver: Solver) -> None:
    seen = 0
    for seed in range(300):
        program = random_program(seed)
        proof = solver.clashing(program)
        assert bool(proof) == (best_by_hand(program) is None), seed
        if proof:
            seen += 1
            rows = tuple(program.rows[at] for at in proof)
            assert best_by_hand(Program(program.columns, rows)) is None, seed
    assert seen > 50


def test_a_corner_that_is_not_the_best_or_breaks_a_bound_is_not_certified() -> None:
    columns = (Column("x"), Column("y", high=F(4)))
    rows = (Row("r", ((0, F(1)), (1, F(1))), low=F(3)),)
    program = Program(columns, rows, ((0, F(1)), (1, F(2))))
    best = certify(program, Basis(("basic", "low"), ("low",)))
    assert best is not None
    assert best.values == (F(3), F(0))
    assert best.pull == (F(0), F(1))
    assert best.push == (F(1),)
    assert certify(program, Basis(("low", "basic"), ("low",))) is None  # dearer
    assert certify(program, Basis(("low", "low"), ("basic",))) is None  # breaks the row
    assert certify(program, Basis(("basic", "basic"), ("low",))) is None  # fixes nothing
    assert certify(program, Basis(("high", "low"), ("basic",))) is None  # has no upper end
    assert certify(program, Basis(("basic", "low"), ("high",))) is None  # nor has the row


def test_an_aim_without_a_lowest_value_is_an_error() -> None:
    program = Program((Column("x"),), (Row("r", ((0, F(1)),), low=F(1)),), ((0, F(-1)),))
    with pytest.raises(ArithmeticError, match="no lowest value"):
        Tableau(program).run()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.integers(-4, 4), min_size=3, max_size=3), min_size=3, max_size=3))
def test_square_equations_are_solved_exactly_or_not_at_all(numbers: list[list[int]]) -> None:
    lines = [{at: F(n, 3) for at, n in enumerate(row) if n} for row in numbers]
    sides = [F(sum(row), 7) for row in numbers]
    found = solved(lines, sides, [0, 1, 2])
    a, b, c = numbers
    determinant = (
        a[0] * (b[1] * c[2] - b[2] * c[1])
        - a[1] * (b[0] * c[2] - b[2] * c[0])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
    )
    assert (found is not None) == (determinant != 0)
    if found is not None:
        for line, side in zip(lines, sides, strict=True):
            assert sum(part * found[at] for at, part in line.items()) == side


def test_floats_that_break_a_bound_are_mended(solver: Solver) -> None:
    """Random blends whose float optimum breaks a bound in Fractions; the answer never does."""
    broken = 0
    for seed in range(40):
        draw = random.Random(seed)
        columns = tuple(Column(f"x{at}") for at in range(20))
        rows = tuple(
            Row(
                f"n{n}",
                tuple((at, F(draw.randint(1, 4600), 10000)) for at in draw.sample(range(20), 6)),
                low=F(draw.randint(1, 1000), 7),
            )
            for n in range(12)
        )
        program = Program(columns, rows, tuple((at, F(draw.randint(1, 90), 7)) for at in range(20)))
        solver._load(program, whole=False)
        solver._highs.run()
        raw = tuple(F(value) for value in solver._highs.getSolution().col_value)
        broken += not program.holds(raw)
        found = solver.optimum(program)
        assert found is not None
        assert program.holds(found.values)
    assert broken > 20
    assert solver.unproven == 0

"""The solver, behind one door: it is asked for a corner or for whole numbers, never for a figure.

HiGHS reckons with floats, so its own optimum may break a bound in the last digit. What it says
is checked in Fractions (`exact.certify`); where that fails, `exact.Tableau` finds the corner.
"""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from dataclasses import replace
from fractions import Fraction
from typing import Any

from dosecalc.dose.feed.exact import Tableau, certify
from dosecalc.dose.feed.program import Basis, Column, Optimum, Program
from dosecalc.errors import refuse

_GAP = 1e-9


class Solver:
    """One session with the solver.

    Parameters
    ----------
    quiet : context manager or None
        Holds while the solver wakes, which then prints a banner to the standard output.
    alone : bool
        Do without the solver: the exact method alone, slow and only for a check of it.

    Raises
    ------
    DoseError
        When the solver is not installed.
    """

    def __init__(
        self, quiet: AbstractContextManager[Any] | None = None, *, alone: bool = False
    ) -> None:
        self.unproven = 0
        self._highs: Any = None
        if alone:
            return
        try:
            with quiet or nullcontext():
                import highspy

                self._kit: Any = highspy
                self._highs = self._kit.Highs()
        except ImportError:
            raise refuse("feed-no-solver") from None
        self._highs.setOptionValue("output_flag", False)
        self._highs.setOptionValue("threads", 1)

    def optimum(self, program: Program) -> Optimum | None:
        """The best corner, proven; None where no point keeps every bound.

        Raises
        ------
        ArithmeticError
            When the aim has no lowest value.
        """
        if self._highs is not None:
            self._load(program, whole=False)
            basis = self._basis()
            if basis is not None and (found := certify(program, basis)) is not None:
                return found
            if basis is None and self.clashing(program):
                return None
        self.unproven += 1
        basis = Tableau(program).run()
        return None if basis is None else certify(program, basis)

    def clashing(self, program: Program) -> tuple[int, ...]:
        """Places of rows that cannot all hold, proven; () where a point keeps every bound.

        The rows are eased by a column each; where that costs something, the prices of the rows
        prove the clash (Farkas).
        """
        eased = _eased(program)
        found = None
        if self._highs is not None:
            self._load(eased, whole=False)
            basis = self._basis()
            found = None if basis is None else certify(eased, basis)
        if found is None:
            self.unproven += 1
            basis = Tableau(eased).run()
            assert basis is not None
            found = certify(eased, basis)
        assert found is not None
        if eased.worth(found.values) == 0:
            return ()
        return tuple(at for at, price in enumerate(found.push) if price)

    def whole(self, program: Program) -> tuple[Fraction, ...] | None:
        """Whole numbers for the columns that ask for them, best as far as floats can tell.

        Returns
        -------
        tuple of Fraction or None
            A value for each column, whole where asked; the others are floats' and must be
            computed again. None where none were found.
        """
        assert self._highs is not None
        self._load(program, whole=True)
        self._highs.run()
        solution = self._highs.getSolution()
        status = self._highs.getModelStatus()
        if status != self._kit.HighsModelStatus.kOptimal:
            return None
        return tuple(
            Fraction(round(value)) if column.whole else Fraction(value).limit_denominator(10**12)
            for value, column in zip(solution.col_value, program.columns, strict=True)
        )

    def _load(self, program: Program, *, whole: bool) -> None:
        highs, no_end = self._highs, self._kit.kHighsInf
        highs.clearModel()
        highs.setOptionValue("mip_rel_gap", _GAP)
        for column in program.columns:
            highs.addVar(float(column.low), no_end if column.high is None else float(column.high))
        for at, part in program.aim:
            highs.changeColCost(at, float(part))
        for row in program.rows:
            highs.addRow(
                -no_end if row.low is None else float(row.low),
                no_end if row.high is None else float(row.high),
                len(row.parts),
                [at for at, _ in row.parts],
                [float(part) for _, part in row.parts],
            )
        if whole:
            for at, column in enumerate(program.columns):
                if column.whole:
                    highs.changeColIntegrality(at, self._kit.HighsVarType.kInteger)

    def _basis(self) -> Basis | None:
        """The corner that the solver chose; None where it found none."""
        highs = self._highs
        highs.run()
        if highs.getModelStatus() != self._kit.HighsModelStatus.kOptimal:
            return None
        status = self._kit.HighsBasisStatus
        words = {status.kBasic: "basic", status.kUpper: "high"}
        basis = highs.getBasis()
        return Basis(
            tuple(words.get(one, "low") for one in basis.col_status),
            tuple(words.get(one, "low") for one in basis.row_status),
        )


def _eased(program: Program) -> Program:
    """The same rows, each with a column that lets it be broken at a price; whole columns free."""
    count = len(program.columns)
    columns, rows = list(program.columns), []
    for row in program.rows:
        parts = list(row.parts)
        for bound, sign in ((row.low, 1), (row.high, -1)):
            if bound is not None:
                parts.append((len(columns), Fraction(sign)))
                columns.append(Column(f"ease {row.id}"))
        rows.append(replace(row, parts=tuple(parts)))
    prices = tuple((at, Fraction(1)) for at in range(count, len(columns)))
    return Program(tuple(columns), tuple(rows), prices)

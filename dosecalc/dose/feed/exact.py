"""Corners of a linear program in Fractions: proving one the best, and finding one without help.

Reference: V. Chvatal, Linear Programming (1983), chapters 3 (Bland's rule) and 8 (bounded
variables).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from dosecalc.dose.feed.program import Basis, Optimum, Program

ZERO = Fraction(0)
Line = dict[int, Fraction]


def certify(program: Program, basis: Basis) -> Optimum | None:
    """The corner of a basis, computed again exactly; None unless it holds and is the best.

    Parameters
    ----------
    program : Program
    basis : Basis
        From a solver that reckons with floats: only its choice of the corner is used.
    """
    columns, rows = program.columns, program.rows
    values: list[Fraction] = []
    for column, status in zip(columns, basis.columns, strict=True):
        if status == "high" and column.high is None:
            return None
        bound = column.high if status == "high" else column.low
        values.append(ZERO if status == "basic" or bound is None else bound)
    basic = [at for at, status in enumerate(basis.columns) if status == "basic"]
    tight = [at for at, status in enumerate(basis.rows) if status != "basic"]
    if len(basic) != len(tight):
        return None
    lines: list[Line] = []
    sides: list[Fraction] = []
    inside = set(basic)
    for at in tight:
        row = rows[at]
        bound = row.low if basis.rows[at] == "low" else row.high
        if bound is None:
            return None
        lines.append({c: part for c, part in row.parts if c in inside and part})
        sides.append(bound - sum((p * values[c] for c, p in row.parts if c not in inside), ZERO))
    found = solved(lines, sides, basic)
    if found is None:
        return None
    for at, value in found.items():
        values[at] = value
    if not program.holds(tuple(values)):
        return None
    return _best(program, basis, tuple(values), basic, tight)


def _best(
    program: Program, basis: Basis, values: tuple[Fraction, ...], basic: list[int],
    tight: list[int],
) -> Optimum | None:  # fmt: skip
    """The corner with what it would cost to leave it; None where leaving would pay."""
    aim = dict(program.aim)
    turned: dict[int, Line] = {at: {} for at in basic}
    for at in tight:
        for column, part in program.rows[at].parts:
            if column in turned and part:
                turned[column][at] = part
    prices = solved(
        [turned[at] for at in basic], [aim.get(at, ZERO) for at in basic], tight
    )  # fmt: skip
    if prices is None:
        return None
    pull = [aim.get(at, ZERO) for at in range(len(program.columns))]
    for at in tight:
        price = prices[at]
        if price:
            for column, part in program.rows[at].parts:
                pull[column] -= price * part
    push = [prices.get(at, ZERO) for at in range(len(program.rows))]
    for change, status, low, high in (
        *((d, s, c.low, c.high)
          for d, s, c in zip(pull, basis.columns, program.columns, strict=True)),
        *((y, s, r.low, r.high) for y, s, r in zip(push, basis.rows, program.rows, strict=True)),
    ):  # fmt: skip
        if change and (status == "basic" or (low != high and (change > 0) != (status == "low"))):
            return None
    return Optimum(values, tuple(pull), tuple(push))


def solved(
    lines: list[Line], sides: list[Fraction], unknowns: list[int]
) -> dict[int, Fraction] | None:
    """Solve square linear equations exactly; None where they do not fix every unknown.

    Parameters
    ----------
    lines : list of dict
        Coefficients by unknown.
    sides : list of Fraction
    unknowns : list of int
    """
    work = [(dict(line), side) for line, side in zip(lines, sides, strict=True)]
    done: list[tuple[int, Line, Fraction]] = []
    while work:
        work.sort(key=lambda item: len(item[0]), reverse=True)
        line, side = work.pop()
        if not line:
            if side:
                return None
            continue
        pivot = min(line, key=lambda at: sum(at in other for other, _ in work))
        lead = line.pop(pivot)
        line = {at: part / lead for at, part in line.items()}
        side /= lead
        done.append((pivot, line, side))
        for place, (other, right) in enumerate(work):
            times = other.pop(pivot, None)
            if times is None:
                continue
            for at, part in line.items():
                left = other.get(at, ZERO) - times * part
                if left:
                    other[at] = left
                else:
                    other.pop(at, None)
            work[place] = (other, right - times * side)
    if len(done) != len(unknowns):
        return None
    found: dict[int, Fraction] = {}
    for pivot, line, side in reversed(done):
        found[pivot] = side - sum((part * found[at] for at, part in line.items()), ZERO)
    return found


class Tableau:
    """The simplex method with bounded variables in Fractions, by Bland's rule; slow and sure.

    Columns are the variables 0, 1, ...; each row's value is a variable behind them.
    """

    def __init__(self, program: Program) -> None:
        self.count = len(program.columns)
        self.low = [*(c.low for c in program.columns), *(r.low for r in program.rows)]
        self.high = [*(c.high for c in program.columns), *(r.high for r in program.rows)]
        self.value: list[Fraction] = [c.low for c in program.columns]
        self.value += [row.value(tuple(self.value)) for row in program.rows]
        self.of: dict[int, Line] = {
            self.count + at: {c: part for c, part in row.parts if part}
            for at, row in enumerate(program.rows)
        }
        self.aim = dict(program.aim)

    def run(self) -> Basis | None:
        """A best basis; None where no point keeps every bound.

        Raises
        ------
        ArithmeticError
            When the aim has no lowest value.
        """
        while (broken := self._broken()) and self._step(self._slope(broken), broken):
            pass
        if self._broken():
            return None
        while self._step(self._slope_of_aim(), {}):
            pass
        return self._basis()

    def _broken(self) -> dict[int, int]:
        """Basic variables outside their bounds: +1 above, -1 below."""
        found = {}
        for at in self.of:
            low, high = self.low[at], self.high[at]
            if high is not None and self.value[at] > high:
                found[at] = 1
            elif low is not None and self.value[at] < low:
                found[at] = -1
        return found

    def _slope(self, weights: dict[int, int]) -> Line:
        slope: Line = {}
        for at, sign in weights.items():
            for column, part in self.of[at].items():
                slope[column] = slope.get(column, ZERO) + sign * part
        return slope

    def _slope_of_aim(self) -> Line:
        slope: Line = {}
        for at, weight in self.aim.items():
            for column, part in self.of[at].items() if at in self.of else ((at, Fraction(1)),):
                slope[column] = slope.get(column, ZERO) + weight * part
        return slope

    def _step(self, slope: Line, broken: dict[int, int]) -> bool:
        """Move one variable as far as it goes; False where no move helps."""
        for enter in sorted(slope):
            way = -1 if slope[enter] > 0 else 1
            if slope[enter] and self._can_move(enter, way):
                self._move(enter, way, broken)
                return True
        return False

    def _can_move(self, at: int, way: int) -> bool:
        end = self.high[at] if way > 0 else self.low[at]
        return end is None or self.value[at] != end

    def _ends(self, at: int, way: Fraction, broken: dict[int, int]) -> Iterator[Fraction]:
        """How far a basic variable lets the entering one go."""
        state = broken.get(at, 0)
        low, high = self.low[at], self.high[at]
        if way > 0:
            end = low if state < 0 else high
            if state > 0:
                return
        else:
            end = high if state > 0 else low
            if state < 0:
                return
        if end is not None:
            yield (end - self.value[at]) / way

    def _move(self, enter: int, way: int, broken: dict[int, int]) -> None:
        best: tuple[Fraction, int] | None = None
        end = self.high[enter] if way > 0 else self.low[enter]
        if end is not None:
            best = (abs(end - self.value[enter]), enter)
        for at, line in self.of.items():
            part = line.get(enter)
            if part:
                for far in self._ends(at, part * way, broken):
                    if best is None or (far, at) < best:
                        best = (far, at)
        if best is None:
            raise ArithmeticError("the aim has no lowest value")
        far, leave = best
        for at, line in self.of.items():
            part = line.get(enter)
            if part:
                self.value[at] += part * way * far
        self.value[enter] += way * far
        if leave != enter:
            self._swap(enter, leave)

    def _swap(self, enter: int, leave: int) -> None:
        line = self.of.pop(leave)
        lead = line.pop(enter)
        new = {at: -part / lead for at, part in line.items()}
        new[leave] = 1 / lead
        for other in self.of.values():
            times = other.pop(enter, None)
            if times:
                for at, part in new.items():
                    left = other.get(at, ZERO) + times * part
                    if left:
                        other[at] = left
                    else:
                        other.pop(at, None)
        self.of[enter] = new

    def _basis(self) -> Basis:
        states = []
        for at, value in enumerate(self.value):
            if at in self.of:
                states.append("basic")
            else:
                states.append("high" if value == self.high[at] != self.low[at] else "low")
        return Basis(tuple(states[: self.count]), tuple(states[self.count :]))

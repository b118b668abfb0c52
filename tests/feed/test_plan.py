"""Plans: the same best one as by hand, every bound kept exactly, and true clashes."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.dose.feed.clash import plan
from dosecalc.dose.feed.problem import UNDER, Answer, Bound, Feed, Problem, Want
from dosecalc.dose.feed.solve import Solver
from dosecalc.dose.feed.stages import answer, build
from dosecalc.errors import DoseError
from tests.feed.brute import lowest

F = Fraction
ZERO = F(0)
NUTRIENTS = ("N", "P2O5", "K2O", "Mg")

UREA = Feed("urea", (("N", F(46, 100)),), cost=F(2))
DAP = Feed("dap", (("N", F(18, 100)), ("P2O5", F(46, 100))), cost=F(3))
KCL = Feed("kcl", (("K2O", F(60, 100)),), cost=F(1))
BLEND = Feed("blend", (("N", F(15, 100)), ("P2O5", F(15, 100)), ("K2O", F(15, 100))), cost=F(1, 10))


@pytest.fixture(scope="module")
def solver() -> Solver:
    return Solver()


def random_problem(seed: int, feeds: int = 3, prefer: str = "least") -> Problem:
    draw = random.Random(seed)
    own = tuple(
        Feed(
            f"f{at}",
            tuple(
                (nutrient, F(draw.randint(1, 46), 100))
                for nutrient in draw.sample(NUTRIENTS, draw.randint(1, 3))
            ),
            cost=F(draw.randint(1, 30), 7),
            stock=draw.choice([None, None, F(draw.randint(1, 40))]),
        )
        for at in range(feeds)
    )
    wants = tuple(
        Want(nutrient, F(draw.randint(0, 20), 3), draw.choice([ZERO, F(1, 10)]))
        for nutrient in draw.sample(NUTRIENTS, draw.randint(1, 3))
    )
    bounds = tuple(
        Bound(
            f"b{at}",
            tuple((feed.id, F(draw.randint(0, 46), 100)) for feed in own),
            F(draw.randint(-1, 60), 3),
            draw.random() < 0.7,
        )
        for at in range(draw.randint(0, 2))
    )
    return Problem(own, wants, bounds, draw.choice([("P2O5", "N"), ("Mg",), ()]), prefer)


def broken(problem: Problem, amounts: dict[str, Fraction], missing: dict[str, Fraction]) -> list:
    """Needs, limits and stocks that amounts break, reckoned from the problem alone."""
    found: list[str] = []
    for want in problem.wants:
        least = want.amount * (1 - want.near)
        brought = sum(
            (amounts.get(f.id, ZERO) * dict(f.content).get(want.nutrient, ZERO)
             for f in problem.feeds), ZERO,
        )  # fmt: skip
        if brought + missing.get(want.nutrient, ZERO) < least:
            found.append(want.nutrient)
    for bound in problem.bounds:
        used = sum((amounts.get(id, ZERO) * part for id, part in bound.parts), ZERO)
        over = used > bound.most if bound.inclusive else used >= bound.most
        if used and over:
            found.append(bound.id)
    for feed in problem.feeds:
        if feed.stock is not None and amounts.get(feed.id, ZERO) > feed.stock:
            found.append(feed.id)
    return found + [id for id, amount in amounts.items() if amount < 0]


def kept(problem: Problem, found: Answer) -> bool:
    return broken(problem, dict(found.amounts), dict(found.missing)) == []


def by_hand(problem: Problem) -> tuple[Fraction, ...] | None:
    """The aims of the best plan by trying every corner of feeds and excesses."""
    feeds = problem.feeds
    nutrients = [
        n for n in dict.fromkeys((*problem.order, *(w.nutrient for w in problem.wants)))
        if any(dict(f.content).get(n) for f in feeds)
    ]  # fmt: skip
    size = len(feeds) + len(nutrients)

    def line(parts: dict[int, Fraction]) -> list[Fraction]:
        return [parts.get(at, ZERO) for at in range(size)]

    lines, sides = [line({at: F(-1)}) for at in range(size)], [ZERO] * size
    wants = {want.nutrient: want for want in problem.wants}
    for nutrient in dict.fromkeys((*nutrients, *wants)):
        brings = {
            at: dict(f.content)[nutrient]
            for at, f in enumerate(feeds)
            if nutrient in dict(f.content)
        }
        want = wants.get(nutrient, Want(nutrient, ZERO))
        if want.amount > 0:
            lines.append(line({at: -part for at, part in brings.items()}))
            sides.append(-want.amount * (1 - want.near))
        if nutrient in nutrients:
            lines.append(line({**brings, len(feeds) + nutrients.index(nutrient): F(-1)}))
            sides.append(want.amount * (1 + want.near))
    for bound in problem.bounds:
        parts = dict(bound.parts)
        lines.append(line({at: parts.get(f.id, ZERO) for at, f in enumerate(feeds)}))
        sides.append(max(ZERO, bound.most * (1 if bound.inclusive else UNDER)))
    for at, feed in enumerate(feeds):
        if feed.stock is not None:
            lines.append(line({at: F(1)}))
            sides.append(feed.stock)
    place = {n: len(feeds) + at for at, n in enumerate(nutrients)}
    aims = [line({place[n]: F(1)}) for n in problem.order if n in place]
    rest = {
        place[n]: 1 / ((wants[n].amount * (1 + wants[n].near)) or F(1))
        for n in nutrients if n not in problem.order
    }  # fmt: skip
    if rest:
        aims.append(line(rest))
    if problem.prefer == "cost":
        aims.append(line({at: f.cost or ZERO for at, f in enumerate(feeds)}))
    aims.append(line({at: F(1) for at in range(len(feeds))}))
    return lowest(lines, sides, aims)


def test_three_straights_meet_three_needs() -> None:
    problem = Problem((UREA, DAP, KCL), (Want("N", F(3, 2)), Want("P2O5", F(1)), Want("K2O", F(1))))
    found = plan(problem, Solver())
    assert found.units("dap") == F(100, 46)
    assert found.units("kcl") == F(100, 60)
    assert found.units("urea") == (F(3, 2) - F(18, 46)) / F(46, 100)
    assert found.proven


@pytest.mark.parametrize("prefer", ["least", "cost"])
def test_the_best_plan_is_that_of_every_corner_tried(solver: Solver, prefer: str) -> None:
    outcomes = {"plan": 0, "clash": 0}
    for seed in range(40):
        problem = random_problem(seed, feeds=2 + seed % 2, prefer=prefer)
        hand = by_hand(problem)
        found = answer(problem, solver)
        assert (found is None) == (hand is None), seed
        if found is None:
            outcomes["clash"] += 1
            continue
        outcomes["plan"] += 1
        assert tuple(value for _, value in found.scores) == hand, seed
        assert kept(problem, found), seed
        assert found.proven
    assert min(outcomes.values()) > 5
    assert solver.unproven == 0


def test_without_the_solver_the_exact_method_finds_the_same_plan(solver: Solver) -> None:
    alone = Solver(alone=True)
    for seed in range(60):
        problem = random_problem(seed, feeds=6)
        one, other = plan(problem, solver), plan(problem, alone)
        assert one.scores == other.scores, seed
        assert kept(problem, one), seed


def test_the_excess_that_harms_first_is_kept_down_first(solver: Solver) -> None:
    wants = (Want("N", F(3)), Want("P2O5", F(1)), Want("K2O", F(3)))
    problem = Problem((UREA, KCL, BLEND), wants, order=("P2O5", "N", "K2O"), prefer="cost")
    found = plan(problem, solver)
    assert found.units("blend") == F(100, 15)
    assert dict(found.scores)["excess P2O5"] == 0
    more_n = plan(replace(problem, wants=(Want("N", F(1, 2)), *wants[1:])), solver)
    assert dict(more_n.scores)["excess P2O5"] == 0
    assert dict(more_n.scores)["excess N"] == F(1, 2)


def test_money_decides_among_plans_of_one_excess(solver: Solver) -> None:
    dear = Feed("dear", (("N", F(46, 100)),), cost=F(20))
    problem = Problem((dear, UREA), (Want("N", F(1)),), order=("N",), prefer="cost")
    assert dict(plan(problem, solver).amounts) == {"urea": F(100, 46)}


@pytest.mark.parametrize("seed", range(30))
def test_fewest_products_is_the_smallest_set_that_is_as_good(solver: Solver, seed: int) -> None:
    problem = random_problem(seed, feeds=5, prefer="fewest")
    found = answer(problem, solver)
    if found is None:
        assert answer(replace(problem, prefer="least"), solver) is None
        return
    assert kept(problem, found)
    excess = [s for s in found.scores if s[0].startswith("excess")]
    assert dict(found.scores)["fewest"] >= len(found.amounts)
    for count in range(len(found.amounts)):
        for some in combinations(problem.feeds, count):
            ids = {feed.id for feed in some}
            fewer = replace(
                problem,
                feeds=some,
                bounds=tuple(
                    replace(b, parts=tuple(p for p in b.parts if p[0] in ids))
                    for b in problem.bounds
                ),
                prefer="least",
            )
            other = answer(fewer, solver)
            if other is not None:
                theirs = dict(other.scores)
                assert any(theirs.get(name, ZERO) > worth for name, worth in excess)


def whole_by_hand(problem: Problem, most: int) -> list[Fraction] | None:
    """The best scores over all whole numbers of measures up to `most`."""
    wants = {w.nutrient: w for w in problem.wants}
    nutrients = dict.fromkeys((*problem.order, *wants))
    best: list[Fraction] | None = None
    for numbers in product(range(most + 1), repeat=len(problem.feeds)):
        amounts = {f.id: n * (f.whole or F(1)) for f, n in zip(problem.feeds, numbers, strict=True)}
        if broken(problem, amounts, {}):
            continue
        over = {}
        for nutrient in nutrients:
            brought = sum(
                (amounts[f.id] * dict(f.content).get(nutrient, ZERO) for f in problem.feeds), ZERO
            )
            want = wants.get(nutrient, Want(nutrient, ZERO))
            over[nutrient] = max(ZERO, brought - want.amount * (1 + want.near))
        scores = [over[n] for n in problem.order]
        rest = [n for n in nutrients if n not in problem.order]
        scores.append(
            sum((over[n] / ((wants[n].amount * (1 + wants[n].near)) or 1) for n in rest), ZERO)
        )
        if problem.prefer == "fewest":
            scores.append(F(sum(n > 0 for n in numbers)))
        scores.append(sum(amounts.values(), ZERO))
        if best is None or scores < best:
            best = scores
    return best


def in_whole(problem: Problem, solver: Solver) -> Answer | None:
    """None where no whole numbers do, whether parts of measures would or not."""
    try:
        return answer(problem, solver)
    except DoseError:
        return None


@pytest.mark.parametrize("prefer", ["least", "fewest"])
def test_whole_measures_are_the_best_of_all_whole_numbers(solver: Solver, prefer: str) -> None:
    outcomes = {"plan": 0, "none": 0}
    for seed in range(40):
        draw = random.Random(seed)
        base = random_problem(seed, feeds=3, prefer=prefer)
        feeds = tuple(
            replace(f, whole=F(draw.randint(5, 16)), stock=None) for f in base.feeds
        )  # fmt: skip
        bound = Bound("all", tuple((f.id, F(1)) for f in feeds), F(60))
        problem = replace(base, feeds=feeds, bounds=(*base.bounds, bound))
        hand = whole_by_hand(problem, 60 // 5)
        found = in_whole(problem, solver)
        assert (found is None) == (hand is None), seed
        if found is None:
            outcomes["none"] += 1
            continue
        outcomes["plan"] += 1
        assert hand is not None
        assert kept(problem, found), seed
        theirs = [value for _, value in found.scores if value]
        assert theirs == [value for value in hand if value], seed
        for feed in feeds:
            assert (found.units(feed.id) / (feed.whole or 1)).denominator == 1
    assert min(outcomes.values()) > 3


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.fractions(F(1, 1000), F(1000)))
def test_a_site_so_many_times_as_large_needs_so_many_times_as_much(seed: int, times: F) -> None:
    solver = Solver(alone=True)
    some = random_problem(seed)
    base = replace(some, wants=tuple(w for w in some.wants if w.amount))
    large = replace(
        base,
        feeds=tuple(
            replace(f, stock=None if f.stock is None else f.stock * times) for f in base.feeds
        ),
        wants=tuple(replace(w, amount=w.amount * times) for w in base.wants),
        bounds=tuple(replace(b, most=b.most * times) for b in base.bounds),
    )
    one, other = answer(base, solver), answer(large, solver)
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        a_share = ("excess of the rest",)
        scaled = [value * (1 if name in a_share else times) for name, value in one.scores]
        assert [value for _, value in other.scores] == scaled


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000))
def test_one_more_product_never_makes_it_worse(seed: int) -> None:
    solver = Solver(alone=True)
    problem = random_problem(seed, feeds=4)
    last = problem.feeds[-1]
    fewer = replace(
        problem,
        feeds=problem.feeds[:-1],
        bounds=tuple(
            replace(b, parts=tuple(p for p in b.parts if p[0] != last.id)) for b in problem.bounds
        ),
    )
    one, other = plan(fewer, solver), plan(problem, solver)
    assert not (one.clash == () and other.clash)
    if (one.clash == ()) == (other.clash == ()):
        before, after = dict(one.scores), dict(other.scores)
        names = [name for name, _ in build(problem, short=bool(other.clash)).aims]
        assert [after.get(n, ZERO) for n in names] <= [before.get(n, ZERO) for n in names]


def clashes() -> Iterator[tuple[int, Problem]]:
    for seed in range(200):
        yield seed, random_problem(seed, feeds=3)


def test_a_clash_is_true_and_none_of_it_can_be_spared(solver: Solver) -> None:
    seen = 0
    for seed, problem in clashes():
        found = plan(problem, solver)
        assert kept(problem, found), seed
        if not found.clash:
            assert found.missing == ()
            continue
        seen += 1
        assert found.missing, seed
        for left_out in (None, *found.clash):
            held = {(m.kind, m.id) for m in found.clash if m is not left_out}
            only = Problem(
                tuple(
                    f if ("stock", f.id) in held else replace(f, stock=None) for f in problem.feeds
                ),
                tuple(w for w in problem.wants if ("need", w.nutrient) in held),
                tuple(b for b in problem.bounds if ("limit", b.id) in held),
            )
            assert (answer(only, solver) is None) == (left_out is None), (seed, left_out)
    assert seen > 30


def test_a_clash_says_by_how_much(solver: Solver) -> None:
    bound = Bound("field N", (("urea", F(46, 100)), ("dap", F(18, 100))), F(1))
    problem = Problem((UREA, DAP), (Want("N", F(3, 2)), Want("P2O5", F(1))), (bound,))
    found = plan(problem, solver)
    assert [(m.kind, m.id, m.asked, m.reached) for m in found.clash] == [
        ("need", "N", F(3, 2), F(1)),
        ("limit", "field N", F(1), F(3, 2)),
    ]
    assert dict(found.missing) == {"N": F(1, 2)}
    assert found.units("dap") == F(100, 46)


def test_a_need_that_nothing_brings_clashes_with_itself(solver: Solver) -> None:
    found = plan(Problem((UREA,), (Want("N", F(1)), Want("B", F(1, 100)))), solver)
    assert [(m.kind, m.id, m.reached) for m in found.clash] == [("need", "B", ZERO)]
    assert found.units("urea") == F(100, 46)


def test_a_limit_that_is_passed_already_leaves_nothing(solver: Solver) -> None:
    bound = Bound("N of the year", (("urea", F(46, 100)),), F(-1, 10))
    found = plan(Problem((UREA, KCL), (Want("N", F(1)), Want("K2O", F(1))), (bound,)), solver)
    assert found.units("urea") == 0
    assert found.units("kcl") == F(100, 60)
    assert ("limit", "N of the year") in {(m.kind, m.id) for m in found.clash}


def test_below_stays_under_the_figure_and_at_most_reaches_it(solver: Solver) -> None:
    for inclusive, most in ((True, F(1)), (False, UNDER)):
        bound = Bound("b", (("urea", F(46, 100)),), F(1), inclusive)
        found = plan(Problem((UREA,), (Want("N", F(2)),), (bound,)), solver)
        assert found.units("urea") * F(46, 100) == most


def test_two_that_must_not_both_be_given_are_not(solver: Solver) -> None:
    wants = (Want("N", F(1)), Want("P2O5", F(1)), Want("K2O", F(1)))
    both = Problem((UREA, DAP, KCL), wants, order=("P2O5", "N", "K2O"))
    apart = replace(both, feeds=(*both.feeds, BLEND), apart=(("dap", "kcl"),))
    found = plan(apart, solver)
    assert not (found.units("dap") and found.units("kcl"))
    assert kept(apart, found)
    assert not found.clash
    none = plan(replace(both, apart=(("dap", "kcl"),)), solver)
    assert {(m.kind, m.id) for m in none.clash} == {("need", "K2O"), ("need", "P2O5")}


def test_what_is_near_enough_counts_as_met_on_both_sides(solver: Solver) -> None:
    want = Want("N", F(100), F(1, 20))
    cheap = plan(Problem((UREA,), (want,), prefer="cost"), solver)
    assert cheap.units("urea") * F(46, 100) == 95
    bag = replace(UREA, whole=F(220))
    assert plan(Problem((bag,), (want,)), solver).scores[0] == ("excess of the rest", ZERO)


def test_measures_too_large_for_a_limit_are_refused_in_words(solver: Solver) -> None:
    bound = Bound("b", (("urea", F(1)),), F(3))
    problem = Problem((replace(UREA, whole=F(2)),), (Want("N", F(3) * F(46, 100)),), (bound,))
    with pytest.raises(DoseError, match="no whole numbers"):
        plan(problem, solver)


def test_the_limit_that_holds_the_nearest_plan_back_is_the_one_that_is_named(
    solver: Solver,
) -> None:
    wide = Bound("of the year", (("urea", F(46, 100)),), F(3))
    tight = Bound("at once", (("urea", F(46, 100)),), F(1))
    for bounds in ((wide, tight), (tight, wide)):
        found = plan(Problem((UREA,), (Want("N", F(5)),), bounds), solver)
        assert [(m.kind, m.id) for m in found.clash] == [("need", "N"), ("limit", "at once")]

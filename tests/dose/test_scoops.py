"""The search for scoops is exact: it finds what trying every combination finds, and soon."""

from __future__ import annotations

import time
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations_with_replacement

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.dose.scoops import MOST_SCOOPS, Scoop, Scoops, best
from dosecalc.units.measure import ML, Measure

F = Fraction
WHOLE, HALF = F(1), F(1, 2)
NARROW, SPRAY, SPREAD = (F(1, 10), F(0)), (F(1, 20), F(1, 20)), (F(1, 10), F(1, 10))


def scoop(millilitres: Fraction | int | str, share: Fraction = WHOLE) -> Scoop:
    size = F(millilitres)
    return Scoop(f"{size} mL spoon", Measure(size, ML), share)


def level_and_half(*sizes: Fraction | int | str) -> tuple[Scoop, ...]:
    """Every spoon level, and the smallest one filled half by eye."""
    smallest = min(sizes, key=F)
    return (*(scoop(size) for size in sizes), scoop(smallest, HALF))


def effort(filled: tuple[Scoop, ...]) -> int:
    """A half filled by eye errs more: it counts as much as three level spoons."""
    return sum(1 if one.share == 1 else 3 for one in filled)


def every_way(scoops: tuple[Scoop, ...]) -> Iterator[tuple[Scoop, ...]]:
    for count in range(1, MOST_SCOOPS + 1):
        for filled in combinations_with_replacement(scoops, count):
            halves_once = all(filled.count(one) <= 1 for one in scoops if one.share != 1)
            if halves_once and effort(filled) <= MOST_SCOOPS:
                yield filled


Key = tuple[bool, Fraction, Fraction, Fraction]


def key_of(
    filled: tuple[Scoop, ...], target: Fraction, tolerance: tuple[Fraction, Fraction]
) -> Key:
    """Within the tolerance the fewest, then plainest, then closest; outside it the closest."""
    below, above = tolerance
    shift = sum((one.size.value * one.share for one in filled), F(0)) / target - 1
    count, kinds = F(effort(filled)), F(len(set(filled)))
    if -below <= shift <= above:
        return False, count, kinds, abs(shift)
    return True, abs(shift), count, kinds


def flat(found: Scoops) -> tuple[Scoop, ...]:
    return tuple(one for one, count in found.counts for _ in range(count))


def by_force(
    target: Fraction, scoops: tuple[Scoop, ...], tolerance: tuple[Fraction, Fraction]
) -> Key | None:
    largest = max(one.size.value * one.share for one in scoops)
    if largest * MOST_SCOOPS < target * (1 - tolerance[0]):
        return None
    keys = [
        key_of(filled, target, tolerance)
        for filled in every_way(scoops)
        if tolerance[1] > 0 or sum(one.size.value * one.share for one in filled) <= target
    ]
    return min(keys, default=None)


def same_as_by_force(
    target: Fraction, scoops: tuple[Scoop, ...], tolerance: tuple[Fraction, Fraction]
) -> None:
    found = best(target, scoops, *tolerance)
    expected = by_force(target, scoops, tolerance)
    if expected is None:
        assert found is None
        return
    assert found is not None
    assert key_of(flat(found), target, tolerance) == expected


SETS = [
    level_and_half(5, 15),
    level_and_half(5, 20),
    level_and_half("4.93", "14.79"),
    level_and_half("1.25", "2.5", 5, 15),
    level_and_half(3),
    (scoop(5),),
    (scoop(7), scoop("2.3"), scoop("0.9")),
]
TARGETS = ["0.5", "0.6249", "1", "2.4", "2.5", "2.75", "5", "6", "7.5", "9.9", "10.4", "11.2",
           "23", "35.2", "40", "59.9", "61", "77", "118", "180", "199", "200", "260"]  # fmt: skip


@pytest.mark.parametrize("tolerance", [NARROW, SPRAY, SPREAD, (F(0), F(0)), (F(1, 20), F(1, 50))])
@pytest.mark.parametrize("scoops", SETS, ids=lambda found: "-".join(s.name for s in found))
def test_it_finds_what_trying_everything_finds(
    scoops: tuple[Scoop, ...], tolerance: tuple[Fraction, Fraction]
) -> None:
    totals = {}
    for filled in every_way(scoops):
        total = sum((one.size.value * one.share for one in filled), F(0))
        kind = effort(filled), len(set(filled))
        totals[total] = min(totals.get(total, kind), kind)
    largest = max(one.size.value * one.share for one in scoops)
    for target in map(F, TARGETS):
        found = best(target, scoops, *tolerance)
        keys: list[Key] = []
        for total, (count, kinds) in totals.items():
            shift = total / target - 1
            if tolerance[1] == 0 and shift > 0:
                continue
            if -tolerance[0] <= shift <= tolerance[1]:
                keys.append((False, F(count), F(kinds), abs(shift)))
            else:
                keys.append((True, abs(shift), F(count), F(kinds)))
        if not keys or largest * MOST_SCOOPS < target * (1 - tolerance[0]):
            assert found is None
        else:
            assert found is not None
            assert key_of(flat(found), target, tolerance) == min(keys), target


SIZES = st.lists(
    st.fractions(min_value=F(1, 4), max_value=25, max_denominator=16), min_size=1, max_size=3,
    unique=True,
)  # fmt: skip
TARGET = st.fractions(min_value=F(1, 10), max_value=320, max_denominator=50)
SHARES = st.sampled_from([F(0), F(1, 100), F(1, 20), F(1, 10)])


@settings(deadline=None, max_examples=60)
@given(SIZES, st.booleans(), TARGET, SHARES, SHARES)
def test_random_spoons_and_targets(
    sizes: list[Fraction], half: bool, target: Fraction, below: Fraction, above: Fraction
) -> None:
    scoops = level_and_half(*sizes) if half else tuple(map(scoop, sizes))
    same_as_by_force(target, scoops, (below, above))


@settings(deadline=None)
@given(SIZES, st.booleans(), TARGET, SHARES)
def test_never_above_where_nothing_above_is_tolerated(
    sizes: list[Fraction], half: bool, target: Fraction, below: Fraction
) -> None:
    scoops = level_and_half(*sizes) if half else tuple(map(scoop, sizes))
    found = best(target, scoops, below, F(0))
    assert found is None or found.total <= target


@settings(deadline=None)
@given(SIZES, TARGET, SHARES, SHARES)
def test_a_half_is_filled_once_at_most(
    sizes: list[Fraction], target: Fraction, below: Fraction, above: Fraction
) -> None:
    found = best(target, level_and_half(*sizes), below, above)
    if found is not None:
        assert all(count == 1 for one, count in found.counts if one.share != 1)
        assert all(count > 0 for _, count in found.counts)
        assert 1 <= found.fillings <= MOST_SCOOPS
        assert found.fillings == sum(count for _, count in found.counts)
        assert found.total == sum(one.holds * count for one, count in found.counts)


@settings(deadline=None)
@given(SIZES, st.permutations(range(4)), TARGET, SHARES)
def test_the_order_of_the_spoons_does_not_matter(
    sizes: list[Fraction], order: list[int], target: Fraction, share: Fraction
) -> None:
    scoops = level_and_half(*sizes)
    turned = tuple(scoops[i] for i in order if i < len(scoops))
    one, other = best(target, scoops, share, share), best(target, turned, share, share)
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        assert (one.total, one.fillings) == (other.total, other.fillings)


def test_largest_spoons_stand_first() -> None:
    found = best(F(35), level_and_half(5, 15), F(0), F(0))
    assert found is not None
    assert [(one.name, count) for one, count in found.counts] == [
        ("15 mL spoon", 2),
        ("5 mL spoon", 1),
    ]


def test_the_edges_of_the_tolerance_count_as_within() -> None:
    five = (scoop(5),)
    # 4.75 to 5.25 mL is 5 % either way of 5 mL: one spoon serves both ends and no further.
    for target, within in (("4.7619", False), ("5.2631", True), ("5.2632", False)):
        found = best(F(target), five, F(1, 20), F(1, 20))
        assert found is not None
        assert (abs(found.total / F(target) - 1) <= F(1, 20)) == within
    exact = best(F(100, 21), five, F(0), F(1, 20))  # 5 mL is exactly 5 % more
    assert exact is not None
    assert exact.fillings == 1


@pytest.mark.parametrize(
    ("target", "scoops", "tolerance"),
    [
        ("1", (), SPREAD),
        ("2.49", level_and_half(5), NARROW),  # even half of the spoon is more
        ("4.99", (scoop(5),), NARROW),
        ("66.67", (scoop(5),), SPREAD),  # 12 spoons are 60 mL, more than a tenth short
        ("1000", level_and_half(5, 15), SPREAD),
    ],
)
def test_none_where_there_is_no_way(
    target: str, scoops: tuple[Scoop, ...], tolerance: tuple[Fraction, Fraction]
) -> None:
    assert best(F(target), scoops, *tolerance) is None


@pytest.mark.parametrize(
    ("target", "scoops", "tolerance", "total"),
    [
        ("2.5", level_and_half(5), NARROW, "2.5"),
        ("5", (scoop(5),), NARROW, "5"),
        ("66.66", (scoop(5),), SPREAD, "60"),
        ("1", (scoop(5),), SPREAD, "5"),  # far off, but the closest there is
    ],
)
def test_a_way_just_inside(
    target: str, scoops: tuple[Scoop, ...], tolerance: tuple[Fraction, Fraction], total: str
) -> None:
    found = best(F(target), scoops, *tolerance)
    assert found is not None
    assert found.total == F(total)


# Nine measuring spoons on one ring, as kitchen shops sell them (from memory).
NINE = level_and_half("0.625", "1.25", "2.5", "3.75", 5, "7.5", 10, 15, 20)
FOUR = level_and_half("1.25", "2.5", 5, 15)
MOST_SECONDS = 1.0
"""A dose of several materials and tankfuls calls this dozens of times while somebody waits."""


@pytest.mark.parametrize(
    ("scoops", "share", "tolerance"),
    [
        (FOUR, "0.9", SPREAD),
        (FOUR, "0.98", SPRAY),
        (FOUR, "1.04", SPRAY),
        (FOUR, "1.09", SPREAD),
        (FOUR, "0.99", NARROW),
        (FOUR, "0.5137", (F(0), F(0))),
        (FOUR, "0.002", SPRAY),
        (NINE, "0.01", SPRAY),
        (NINE, "0.3", SPREAD),
        (NINE, "0.98", SPRAY),
    ],
)
def test_nobody_waits_for_it(
    scoops: tuple[Scoop, ...], share: str, tolerance: tuple[Fraction, Fraction]
) -> None:
    most = MOST_SCOOPS * max(one.holds for one in scoops)
    start = time.process_time()
    assert best(most * F(share), scoops, *tolerance) is not None
    assert time.process_time() - start < MOST_SECONDS

"""What holds of every sowing, and of every count."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.sowing import find_seed, read_published, read_seeds
from dosecalc.catalog.tally import Tally, read_tally, read_tally_rate
from dosecalc.dose import sowing
from dosecalc.dose.sowing import Lot
from dosecalc.errors import DoseError
from dosecalc.units.measure import GRAM, LITER, METER, SQUARE_METER, Measure

SEEDS = read_seeds(lookup.source)
share = st.fractions(Fraction(1, 100), 1, max_denominator=100)
coat = st.fractions(0, Fraction(99, 100), max_denominator=100)
positive = st.fractions(Fraction(1, 1000), 100_000, max_denominator=1000)
lots = st.builds(
    Lot,
    st.fractions(Fraction(1, 10_000), 2, max_denominator=10_000).map(lambda g: Measure(g, GRAM)),
    st.booleans(), share, share, share, coat,
)  # fmt: skip


@given(lots, positive)
def test_there_and_back_is_exact(lot: Lot, plants: Fraction) -> None:
    seeds = sowing.seeds_for(plants, lot)
    assert sowing.plants_from(seeds, lot) == plants
    assert sowing.seeds_in(sowing.weight_of(seeds, lot), lot) == seeds
    bag = Measure(plants, GRAM)
    assert sowing.live_in(sowing.bag_for(bag, lot), lot) == bag


@given(lots, positive, positive)
def test_weight_goes_with_the_plants(lot: Lot, plants: Fraction, times: Fraction) -> None:
    def grams(wanted: Fraction) -> Fraction:
        return sowing.weight_of(sowing.seeds_for(wanted, lot), lot).value

    assert grams(plants * times) == grams(plants) * times


@given(lots, share, share)
def test_worse_seed_never_needs_less(lot: Lot, one: Fraction, two: Fraction) -> None:
    def grams(found: Lot) -> Fraction:
        return sowing.weight_of(sowing.seeds_for(Fraction(100), found), found).value

    worse, better = sorted((one, two))
    assert grams(replace(lot, germination=worse)) >= grams(replace(lot, germination=better))
    assert grams(replace(lot, emergence=worse)) >= grams(replace(lot, emergence=better))
    assert grams(replace(lot, pure=worse)) >= grams(replace(lot, pure=better))
    thick, thin = (replace(lot, coated=False, coating=1 - value) for value in (worse, better))
    assert grams(thick) >= grams(thin)


@given(positive)
def test_whole_seed_is_one_plant_for_one_seed(plants: Fraction) -> None:
    lot = Lot(Measure(Fraction(2, 1000), GRAM))
    assert sowing.seeds_for(plants, lot) == plants
    assert sowing.weight_of(plants, lot).value == plants * 2 / 1000
    assert lot.live_share == lot.stand_share == 1


@given(share, coat)
def test_a_purity_of_the_bag_and_one_of_the_seed_are_one_purity(
    of_seed: Fraction, coating: Fraction
) -> None:
    of_bag = of_seed * (1 - coating)
    assert sowing.pure_without_coat(of_bag, coating) == of_seed


def test_a_purity_that_leaves_no_room_for_the_coat_is_refused() -> None:
    with pytest.raises(DoseError, match="more than the whole bag"):
        sowing.pure_without_coat(Fraction(99, 100), Fraction(34, 100))


@given(positive, positive)
def test_packs_are_never_short_and_never_one_too_many(need: Fraction, holds: Fraction) -> None:
    found = sowing.release(need, holds)
    assert found.packs is not None
    assert found.packs * holds == found.given >= need
    assert found.given - holds < need


def test_cells_on_a_seed_are_all_cells_over_all_seeds() -> None:
    holds = read_tally_rate("2 billion CFU/g", ("CFU",), "1/g")
    # 4 g of 2e9 a gram on 1 kg of 250 mg seeds: 8e9 over 4000 seeds.
    assert sowing.living_on_seed(holds, Measure(Fraction(4), GRAM), Fraction(4000)) == 2_000_000


@pytest.mark.parametrize(
    ("text", "number", "things"),
    [
        ("5 million nematodes", 5_000_000, "nematode"),
        ("2.5 million", 2_500_000, "nematode"),
        ("2 x 10^9 CFU", 2 * 10**9, "CFU"),
        ("1e6", 10**6, "nematode"),
        ("10^9", 10**9, "nematode"),
        ("1,500 seeds", 1500, "seed"),
    ],
)
def test_a_count_is_read(text: str, number: int, things: str) -> None:
    found = read_tally(text, ("nematode", "CFU", "seed"), "5 million")
    assert found == Tally(Fraction(number), things)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("5 kg", "no weight and no volume"),
        ("5 million plants", "not what is counted here"),
        ("250.000", "before thousands or before decimals"),
        ("2,500 million", "the comma can mean"),
        ("1.5", "no whole number"),
        ("0", "above zero"),
        ("-5", "is no count"),
        ("1e99", "above zero"),
        ("5 billion billion", "billion is not what is counted"),
        ("many", "is no count"),
        ("", "Nothing was written"),
        ("nan", "is no count"),
    ],
)
def test_what_is_no_count_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(DoseError) as caught:
        read_tally(text, ("nematode",), "5 million")
    assert sentence in str(caught.value)


@pytest.mark.parametrize("text", ["250", "50/", "/m2", "50 per", "50/m2 per week", "1/2 per plant"])
def test_what_says_not_what_it_is_counted_on_is_refused(text: str) -> None:
    with pytest.raises(DoseError, match="write"):
        read_tally_rate(text, ("animal",), "50/m2")


@pytest.mark.parametrize(
    ("text", "amount", "number"),
    [
        ("1 per 4 plants", Measure(Fraction(40), (("plant", 1),)), 10),
        ("1 billion/acre", Measure(Fraction(1), (("acre", 1),)), 10**9),
        ("8 per m of row", Measure(Fraction(20), METER), 160),
        ("50 per row metre", None, 0),
        ("250000/100 m2", Measure(Fraction(10), SQUARE_METER), 25_000),
    ],
)
def test_a_count_for_an_area_is_read(text: str, amount: Measure | None, number: int) -> None:
    if amount is None:
        with pytest.raises(DoseError):
            read_tally_rate(text, ("animal",), "50/m2")
        return
    assert read_tally_rate(text, ("animal",), "50/m2").over(amount) == number


def test_counts_of_one_basis_never_answer_another() -> None:
    rate = read_tally_rate("2e9 CFU/g", ("CFU",), "1/g")
    with pytest.raises(DoseError):
        rate.over(Measure(Fraction(1), LITER))
    with pytest.raises(DoseError):
        rate.over(Measure(Fraction(1), SQUARE_METER))


def test_every_seed_on_file_has_a_size_that_can_be_meant() -> None:
    assert len(SEEDS) >= 12
    for kind in SEEDS:
        for seen in kind.counts:
            lot = sowing.checked(Lot(sowing.one_from_count(seen.rate)))
            assert Fraction(1, 10_000) < lot.one.amount_in(GRAM) < 1, kind.id
            assert seen.printed.split()[0].replace(",", "") == str(seen.rate.tally.number)
        for name in (kind.id, kind.name, *kind.also):
            assert find_seed(name.upper(), SEEDS) == kind


def test_published_rates_say_where_they_were_read() -> None:
    found = read_published(lookup.source)
    assert len({rate.id for rate in found}) == len(found) >= 6
    assert {"inoculant", "living", "nematodes"} <= {rate.of for rate in found}

"""Feeding solutions: what holds for every salt, strength, tank and injector."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog import lookup
from dosecalc.catalog.limit import terms_of
from dosecalc.catalog.rules import Pair, read_rules
from dosecalc.dose.solution import (
    MOST_SALTS,
    Portion,
    Salt,
    Want,
    blend,
    load,
    nitrogen_forms,
    supplied,
)
from dosecalc.dose.stock import Injector, Tank, apart, tanks
from dosecalc.errors import DoseError
from dosecalc.faces.solution.words import read_held, read_injector, read_want
from dosecalc.units.measure import GRAM, LITER, ML, Measure
from tests.test_published import material

NAMES = (
    "calcium-nitrate-fertiliser", "potassium-nitrate", "monopotassium-phosphate", "epsom-salt",
    "ammonium-sulfate", "potassium-sulfate", "urea", "feed-20-20-20", "iron-chelate-edta",
)  # fmt: skip
SALTS = tuple(Salt(name, lookup.material(name)) for name in NAMES)
SOME = st.lists(st.sampled_from(SALTS), min_size=1, max_size=6, unique=True)
AMOUNT = st.fractions(min_value=Fraction(1, 1000), max_value=20, max_denominator=1000)
NO_WATER: dict[str, Fraction] = {}


def pairs_of(portions: list[Portion]) -> tuple[Pair, ...]:
    terms = terms_of((), [portion.salt.material for portion in portions])
    return read_rules(terms, lookup.source).pairs


def totals(portions: list[Portion]) -> dict[str, Fraction]:
    return {line.element: line.total for line in supplied(portions, NO_WATER)}


FIVE = (SALTS[0], SALTS[1], SALTS[2], SALTS[3], SALTS[6])
WORDS = ("Ca", "K2O", "P2O5", "Mg", "N")


@given(st.lists(AMOUNT, min_size=5, max_size=5), st.permutations(range(5)))
def test_what_is_worked_back_gives_forward_exactly_what_was_wanted(
    amounts: list[Fraction], order: list[int]
) -> None:
    portions = [Portion(salt, x) for salt, x in zip(FIVE, amounts, strict=True)]
    held = totals(portions)
    one = {word: Want(word, Fraction(1)).goal for word in WORDS}
    wants = [
        Want(WORDS[i], held[Want(WORDS[i], Fraction(1)).element] / one[WORDS[i]]) for i in order
    ]
    found = blend(FIVE, wants, NO_WATER)
    assert found.misses == ()
    assert list(found.portions) == portions
    assert totals(list(found.portions)) == held


@given(AMOUNT, AMOUNT)
def test_the_water_is_credited_exactly(fed: Fraction, own: Fraction) -> None:
    water = {"N": own}
    (portion,) = blend([SALTS[6]], [Want("N", fed + own)], water).portions
    (line,) = supplied([portion], water)
    assert line.total == fed + own
    assert line.parts == (("Urea", fed), ("", own))


@given(SOME, AMOUNT, AMOUNT)
def test_scaling_the_volume_scales_the_mass(
    salts: list[Salt], amount: Fraction, litres: Fraction
) -> None:
    for salt in salts:
        portion = Portion(salt, amount)
        assert portion.in_volume(litres * 3).value == 3 * portion.in_volume(litres).value
        counted = salt.counted(portion.in_volume(litres))
        assert counted == amount * litres


@given(SOME, AMOUNT)
def test_splitting_into_tanks_keeps_every_sum_and_lets_nothing_meet(
    salts: list[Salt], amount: Fraction
) -> None:
    portions = [Portion(salt, amount) for salt in salts]
    pairs = pairs_of(portions)
    found = tanks(portions, pairs)
    laid = [portion for tank in found for portion in tank.portions]
    assert sorted(p.salt.key for p in laid) == sorted(p.salt.key for p in portions)
    assert totals(laid) == totals(portions)
    for tank in found:
        for at, one in enumerate(tank.portions):
            for other in tank.portions[at + 1 :]:
                assert apart(pairs, one.salt.material, other.salt.material, None) != "stop"
    # Fewest: salts that all keep apart from each other need a tank each, and no more are made.
    clash = {
        (a.salt.key, b.salt.key)
        for a in portions
        for b in portions
        if apart(pairs, a.salt.material, b.salt.material, None) == "stop"
    }
    assert len(found) == (2 if clash else 1)


def test_calcium_stands_apart_from_sulfates_and_phosphates() -> None:
    portions = [Portion(salt, Fraction(1)) for salt in (*SALTS[:4], SALTS[8])]
    found = tanks(portions, pairs_of(portions))
    assert isinstance(found[0], Tank)
    sets = [{p.salt.key for p in tank.portions} for tank in found]
    (lime,) = [keys for keys in sets if "calcium-nitrate-fertiliser" in keys]
    (rest,) = [keys for keys in sets if keys is not lime]
    assert rest >= {"epsom-salt", "monopotassium-phosphate"}
    # The iron is a chelate, but the caution about phosphate costs no further tank to heed.
    assert "iron-chelate-edta" in lime


def test_three_that_all_keep_apart_take_three_tanks() -> None:
    portions = [
        Portion(Salt(name, lookup.material(name)), Fraction(1))
        for name in ("calcium-nitrate-fertiliser", "epsom-salt", "lime-sulfur")
    ]
    pairs = pairs_of(portions)
    one = pairs[0]
    more = tuple(
        Pair(
            "made-up", "epsom-salt", "lime-sulfur", "stock tank", 0, "either", "stop", "", "any",
            frozenset({"any"}), "", lookup.source("uc-fertigation-precipitation"), "",
        )
        for _ in (one,)
    )  # fmt: skip
    with_lime = Pair(
        "made-up-too", "calcium-nitrate-fertiliser", "lime-sulfur", "tank", 0, "either", "stop", "",
        "any", frozenset({"any"}), "", lookup.source("uc-fertigation-precipitation"), "",
    )  # fmt: skip
    assert len(tanks(portions, (*pairs, *more, with_lime))) == 3


def test_a_weak_source_alone_makes_no_further_tank() -> None:
    portions = [Portion(salt, Fraction(1)) for salt in (SALTS[1], SALTS[4])]
    pairs = pairs_of(portions)
    assert apart(pairs, SALTS[1].material, SALTS[4].material, None) == "caution"
    assert len(tanks(portions, pairs)) == 1


def test_cautions_are_heeded_where_that_costs_no_tank() -> None:
    """Ammonium sulfate goes with neither the calcium (stop) nor, if it can, the saltpetre."""
    portions = [Portion(salt, Fraction(1)) for salt in (SALTS[0], SALTS[1], SALTS[4])]
    sets = [{p.salt.key for p in tank.portions} for tank in tanks(portions, pairs_of(portions))]
    assert {"ammonium-sulfate"} in sets


@given(st.integers(min_value=2, max_value=2000))
def test_the_ratio_and_the_percentage_agree(whole: int) -> None:
    percent = Fraction(100, whole)
    as_ratio = read_injector(f"1:{whole}", to_water=False)
    as_words = read_injector(f"1 to {whole}", to_water=False)
    as_share = Injector(percent, Fraction(100), percent=True)
    assert as_ratio.times() == as_words.times() == as_share.times() == whole
    beside = read_injector(f"1:{whole}", to_water=True)
    assert beside.times() == whole + 1
    assert beside.times(2) == whole + 2


def test_a_percentage_is_read_as_a_share_of_the_feed() -> None:
    assert read_injector("1 %", to_water=False).times() == 100
    assert read_injector("0.78125 %", to_water=False).times() == 128
    assert read_injector("2:100", to_water=False).times() == 50


@pytest.mark.parametrize("text", ["100:1", "1:1", "100", "1/100", "0 %", "100 %", "%", "1::2"])
def test_a_setting_that_is_none_is_refused(text: str) -> None:
    with pytest.raises(DoseError):
        read_injector(text, to_water=False)


def test_a_percentage_counts_no_water() -> None:
    with pytest.raises(DoseError, match="counts the finished feed"):
        read_injector("1 %", to_water=True)


def test_too_many_tanks_leave_no_room_for_water() -> None:
    with pytest.raises(DoseError, match="no room for water"):
        Injector(Fraction(1), Fraction(2)).times(2)


@pytest.mark.parametrize(
    ("text", "word", "mg"),
    [
        ("200 ppm N", "N", "200"),
        ("200ppm N", "N", "200"),
        ("N 200 ppm", "N", "200"),
        ("0.2 g/L N", "N", "200"),
        ("60 mg/L P2O5", "P2O5", "60"),
        ("40 ppm of Mg", "Mg", "40"),
        ("200 g/m3 K", "K", "200"),
    ],
)
def test_a_wanted_strength_is_read(text: str, word: str, mg: str) -> None:
    assert read_want(text, None) == Want(word, Fraction(mg))


@pytest.mark.parametrize("text", ["20 kg N/ha", "2 g N/m2", "20 kg/ha N", "0.2 kg N/100 m2"])
def test_an_amount_on_the_ground_is_a_strength_of_its_irrigation(text: str) -> None:
    assert read_want(text, Measure(Fraction(10), (("mm", 1),))) == Want("N", Fraction(200))


@pytest.mark.parametrize(
    "text",
    ["200", "200 ppm", "200 N", "ppm N", "200 ppm n", "200 ppm N K", "2 % N", "200 ppm NO3",
     "200 ppm NO3-N", "200 ppm nitrogen", "0 ppm N", "-5 ppm N", "200 mL/L N", "20 kg N/ha",
     "1e3 ppm N", "200 ppm N-P"],
)  # fmt: skip
def test_what_is_no_wanted_strength_is_refused(text: str) -> None:
    with pytest.raises(DoseError):
        read_want(text, None)


def test_nitrate_and_its_nitrogen_are_told_apart() -> None:
    ion, element = read_held("50 mg/L NO3"), read_held("50 mg/L NO3-N")
    assert ion.element == element.element == "N"
    assert element.per_litre == 50
    # 14.007 of 62.004 (CIAAW 2021 weights).
    assert ion.per_litre == 50 * Fraction("14.007") / Fraction("62.004")
    for text in ("50 mg/L nitrate", "50 ppm nitrates", "50 mg/L N NO3", "50 NO3"):
        with pytest.raises(DoseError):
            read_held(text)


def test_phosphorus_and_its_oxide_are_told_apart() -> None:
    mkp = SALTS[2]
    element = blend([mkp], [Want("P", Fraction(50))], NO_WATER).portions[0].per_litre
    oxide = blend([mkp], [Want("P2O5", Fraction(50))], NO_WATER).portions[0].per_litre
    assert element / oxide == (2 * Fraction("30.974") + 5 * Fraction("15.999")) / (
        2 * Fraction("30.974")
    )


def test_a_want_that_cannot_be_met_says_by_how_much() -> None:
    feed = SALTS[7]
    found = blend([feed], [Want("N", Fraction(200)), Want("P2O5", Fraction(50))], NO_WATER)
    assert found.portions == (Portion(feed, Fraction(1)),)
    assert [(m.want.word, m.got) for m in found.misses] == [("P2O5", Fraction(200))]


def test_no_product_is_ever_taken_out_again() -> None:
    """20-20-20 and saltpetre for much nitrogen and little potassium would need less than none."""
    salts = [SALTS[7], SALTS[1]]
    found = blend(salts, [Want("N", Fraction(200)), Want("K", Fraction(100))], NO_WATER)
    assert all(portion.per_litre > 0 for portion in found.portions)
    (miss,) = found.misses
    assert miss.want.word == "K"
    # 20 % K2O beside 20 % N: 200 mg/L of nitrogen bring 200 of K2O, 0.8301 of it potassium.
    assert abs(miss.got - 200 * Fraction("0.830147")) < Fraction(1, 1000)


def test_as_few_wants_as_can_be_are_given_up_and_the_last_ones_first() -> None:
    """Calcium and potassium bring more nitrogen than is wanted: that one want goes, no other."""
    salts = [SALTS[0], SALTS[1], SALTS[6], SALTS[3]]
    wants = [Want(word, Fraction(100)) for word in ("Ca", "N", "K", "Mg")]
    found = blend(salts, wants, NO_WATER)
    held = totals(list(found.portions))
    assert [miss.want.word for miss in found.misses] == ["K"]
    assert (held["Ca"], held["N"], held["Mg"]) == (100, 100, 100)
    later = blend(salts, [*wants[:1], *wants[2:], wants[1]], NO_WATER)
    assert [miss.want.word for miss in later.misses] == ["N"]


def test_the_least_miss_is_taken() -> None:
    salts = [SALTS[7], SALTS[6]]
    wants = [Want("N", Fraction(200)), Want("K", Fraction(100)), Want("P", Fraction(500))]
    found = blend(salts, wants, NO_WATER)
    assert [m.want.word for m in found.misses] == ["P"]
    assert totals(list(found.portions))["N"] == 200
    assert totals(list(found.portions))["K"] == 100


@pytest.mark.parametrize(
    ("salts", "wants", "words"),
    [
        ((0, 6), ["N"], "do not fix"),
        ((6,), ["K"], "known to hold K"),
        ((6, 3), ["N", "K"], "known to hold K"),
        ((6, 3), ["N", "P"], "known to hold P"),
        ((6, 2, 3), ["N", "P", "K"], "holds none of what is wanted"),
        ((2,), ["P", "P2O5"], "wanted twice"),
        ((0,) * (MOST_SALTS + 1), ["N"], "more than are solved"),
    ],
)
def test_what_cannot_be_solved_is_refused(
    salts: tuple[int, ...], wants: list[str], words: str
) -> None:
    with pytest.raises(DoseError, match=words):
        blend([SALTS[i] for i in salts], [Want(w, Fraction(100)) for w in wants], NO_WATER)


def test_water_that_holds_more_than_is_wanted_is_refused() -> None:
    with pytest.raises(DoseError, match="already holds more N"):
        blend([SALTS[6]], [Want("N", Fraction(10))], {"N": Fraction(11)})


LIQUID = '[[analysis]]\nnutrient = "N"\npercent = "5"\nkind = "minimum"\nbasis = "{basis}"\n'\
    'source = "cornell-fertilizer-terms"\n'  # fmt: skip
DENSITY = '[density]\nlow = "1.2 g/mL"\nlikely = "1.2 g/mL"\nhigh = "1.2 g/mL"\nhow = "made up"\n'


def test_by_weight_and_by_volume_part_by_the_density() -> None:
    weight = Salt("a", material(LIQUID.format(basis="w/w") + DENSITY))
    volume = Salt("b", material(LIQUID.format(basis="w/v") + DENSITY))
    assert (weight.unit, volume.unit) == (GRAM, ML)
    want = [Want("N", Fraction(60))]
    mass = blend([weight], want, NO_WATER).portions[0]
    poured = blend([volume], want, NO_WATER).portions[0]
    assert (mass.per_litre, poured.per_litre) == (Fraction(6, 5), Fraction(6, 5))
    assert (mass.grams(), poured.grams()) == (Fraction(6, 5), Fraction(36, 25))
    litre = Measure(Fraction(1), LITER)
    assert weight.counted(litre) == 1200
    assert volume.counted(Measure(Fraction(1200), GRAM)) == 1000


def test_without_a_density_weight_and_volume_do_not_meet() -> None:
    bare = Salt("a", material(LIQUID.format(basis="w/w")))
    with pytest.raises(DoseError, match="weigh"):
        bare.counted(Measure(Fraction(1), LITER))
    poured = Portion(Salt("b", material(LIQUID.format(basis="w/v"))), Fraction(1))
    assert poured.grams() is None
    assert load([poured]) is None


def test_the_form_of_nitrogen_is_said_where_the_data_say_it_only() -> None:
    one = [Portion(salt, Fraction(1)) for salt in (SALTS[1], SALTS[4], SALTS[6])]
    forms = nitrogen_forms(one)
    assert set(forms) == {"nitrate", "ammonium", "urea"}
    assert sum(forms.values()) == totals(one)["N"]
    assert set(nitrogen_forms([Portion(SALTS[0], Fraction(1))])) == {""}
    assert set(nitrogen_forms([Portion(SALTS[7], Fraction(1))])) == {""}
    granular = Portion(Salt("g", lookup.material("feed-10-10-10")), Fraction(1))
    assert set(nitrogen_forms([granular])) == {""}


def test_the_load_is_what_was_put_in() -> None:
    portions = [Portion(SALTS[0], Fraction(1, 2)), Portion(SALTS[3], Fraction(1, 4))]
    assert load(portions) == Fraction(3, 4)

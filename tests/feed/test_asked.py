"""Needs, credits, soil reports and splits as people write them; what is unclear is refused."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dosecalc.catalog.asked import NITRATE_N, nutrient_in, read_asked, read_water
from dosecalc.catalog.credit import published, read_credit
from dosecalc.catalog.crops import find_crop
from dosecalc.catalog.formula import element_of
from dosecalc.catalog.site import SiteText, read_site
from dosecalc.catalog.soil import levels, read_report
from dosecalc.catalog.split import advice, read_split
from dosecalc.errors import DoseError

F = Fraction
BED = read_site(SiteText(area="100 m2"))


def refusal(call: Callable[..., object], *args: object) -> str:
    with pytest.raises(DoseError) as caught:
        call(*args)
    return caught.value.say.key


@pytest.mark.parametrize(
    ("text", "word", "basis"),
    [
        ("120 kg/ha N", "N", "area"),
        ("120 kg N/ha", "N", "area"),
        ("0.1 lb actual N per 100 sq ft", "N", "area"),
        ("2 oz of phosphate per 100 sq ft", "P2O5", "area"),
        ("40 kg/ha potash", "K2O", "area"),
        ("60 kg/ha P", "P", "area"),
        ("2 g/m boron", "B", "row length"),
        ("5 g/plant nitrogen", "N", "plant"),
        ("3 g/pot K", "K", "pot"),
        ("0.2 g/L N", "N", "medium volume"),
        ("200 g N", "N", "site"),
    ],
)
def test_an_amount_of_a_nutrient_is_read_with_its_basis(text: str, word: str, basis: str) -> None:
    found = read_asked(text, None, "--need")
    assert (found.word, found.basis, found.printed) == (word, basis, text)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("120 kg/ha", "feed-no-nutrient"),
        ("1 kg N and 2 kg P", "feed-several"),
        ("60 kg/ha phosphorus", "feed-two-words"),
        ("60 kg/ha potassium", "feed-two-words"),
        ("60 kg/ha NO3", "feed-two-words"),
        ("10 kg/ha magnesium", "feed-two-words"),
        ("10 kg/ha sulphur", "feed-two-words"),
        ("200 ppm N", "read-ppm"),
        ("2 L/ha N", "feed-amount-kind"),
        ("0 kg/ha N", "read-positive"),
        ("1 ton/acre N", "read-country"),
        ("120 kg/ha n", "feed-no-nutrient"),
        ("", "read-empty"),
    ],
)
def test_what_could_mean_two_things_is_refused(text: str, key: str) -> None:
    assert refusal(read_asked, text, None, "--need") == key


def test_oxides_and_elements_are_told_apart() -> None:
    for oxide, element in (("P2O5", "P"), ("K2O", "K"), ("MgO", "Mg"), ("SO3", "S")):
        as_oxide = read_asked(f"60 kg/ha {oxide}", None, "--need").on(BED)
        as_element = read_asked(f"60 kg/ha {element}", None, "--need").on(BED)
        assert as_element == F(60, 100)
        assert as_oxide == as_element * element_of(oxide)[1]
        assert as_oxide < as_element


def test_a_basis_that_the_site_does_not_tell_is_asked_for() -> None:
    keys = {
        "5 g/plant N": "need-plants", "5 g/pot N": "need-pots", "5 g/m N": "need-rows-in-bed",
        "5 g/L N": "need-medium",
    }  # fmt: skip
    for text, key in keys.items():
        assert refusal(read_asked(text, None, "--need").on, BED) == key
    row = read_site(SiteText(row="40 m"))
    assert refusal(read_asked("5 kg/ha N", None, "--need").on, row) == "need-row-spacing"
    assert read_asked("5 g/m N", None, "--need").on(row) == F(200, 1000)


def test_nitrate_and_its_nitrogen_are_told_apart() -> None:
    plain = read_water("10 mg/L NO3-N", "100 mm")
    nitrate = read_water("10 mg/L as NO3", "100 mm")
    assert plain.on(BED) == F(10 * 100 * 100, 10**6)  # 100 L on each of 100 m2
    assert nitrate.on(BED) == plain.on(BED) * NITRATE_N
    assert abs(NITRATE_N - F("0.2259")) < F("0.00005")
    assert refusal(read_water, "10 mg/L NO3", "100 mm") == "feed-nitrate"
    assert refusal(read_water, "10 mg/L", "100 mm") == "feed-water-holds"
    assert refusal(read_water, "10 mg/L NO3-N", "100 L") == "feed-water-depth"
    assert refusal(read_water, "10 mg NO3-N", "100 mm") == "feed-water-holds"


def test_the_nutrient_word_is_found_wherever_it_stands() -> None:
    assert nutrient_in("120 kg N/ha") == ("N", "120 kg/ha")
    assert nutrient_in("2 oz actual K2O per 100 sq ft") == ("K2O", "2 oz per 100 sq ft")


def test_a_published_credit_counts_its_low_end() -> None:
    found = read_credit("alfalfa-half-stand", None)
    assert found.asked.printed == "40 lb/acre N"
    assert found.up_to is not None
    assert found.asked.amount < found.up_to
    assert found.source is not None


def test_a_credit_by_what_was_spread_needs_how_much() -> None:
    assert refusal(read_credit, "feedlot-manure-before", None) == "feed-credit-spread"
    assert refusal(read_credit, "feedlot-manure-before: 3 kg", None) == "feed-credit-spread"
    assert refusal(read_credit, "alfalfa-half-stand: 3 t/ha", None) == "feed-credit-plain"
    found = read_credit("feedlot-manure-before: 10 US ton/acre", None)
    assert found.asked.amount.amount_in((("acre", -1), ("lb", 1))) == 40
    last = read_credit("feedlot-manure-last-year: 10 US ton/acre", None)
    assert last.asked.on(BED) * 2 == found.asked.on(BED)


def test_a_typed_credit_says_what_it_is_from_and_an_unknown_one_is_refused() -> None:
    found = read_credit("30 kg/ha N from vetch", None)
    assert (found.name, found.source, found.asked.on(BED)) == ("vetch", None, F(30, 100))
    assert refusal(read_credit, "clover", None) == "feed-credit"
    assert len(published()) >= 5


REPORT = """
lab = "The valley laboratory"
day = "2027-02-01"
depth = "15 cm"
ph = "6.4"
ph_in = "water"
organic_matter = "3.2 %"
"""
NO_DEPTH = REPORT.replace('depth = "15 cm"', "")


def report(tmp_path: Path, text: str, head: str = REPORT) -> Path:
    path = tmp_path / "soil.toml"
    path.write_text(head + text, "utf-8")
    return path


def figure(nutrient: str, value: str, extractant: str | None) -> str:
    by = "" if extractant is None else f'extractant = "{extractant}"\n'
    return f'[[figure]]\nnutrient = "{nutrient}"\nvalue = "{value}"\n{by}'


@pytest.mark.parametrize(
    ("value", "word"),
    [
        ("24 lb/acre", "very low"), ("25 lb/acre", "low"), ("45 lb/acre", "low"),
        ("46 lb/acre", "medium"), ("72 lb/acre", "high, the best for crops"),
        ("137 lb/acre", "high, the best for crops"), ("138 lb/acre", "very high, above the best"),
        ("36 ppm", "high, the best for crops"), ("35 mg/kg", "medium"),
    ],
)  # fmt: skip
def test_a_scale_speaks_as_it_was_printed(tmp_path: Path, value: str, word: str) -> None:
    found, silent = levels(read_report(report(tmp_path, figure("P", value, "Mehlich-3"))))
    assert [level.word for level in found] == [word]
    assert silent == ()
    assert found[0].much == (word == "very high, above the best")


def test_a_scale_is_silent_on_another_extractant_unit_or_depth(tmp_path: Path) -> None:
    for text, head in (
        (figure("P", "60 lb/acre", "Bray-1"), REPORT),
        (figure("P", "60 lb/acre", "Olsen"), REPORT),
        (figure("P", "30 mg/kg", "Mehlich-3"), REPORT.replace("15 cm", "30 cm")),
        (figure("P", "30 mg/L", "Mehlich-3"), REPORT),
        (figure("P2O5", "60 lb/acre", "Mehlich-3"), REPORT),
    ):
        found, silent = levels(read_report(report(tmp_path, text, head)))
        assert found == ()
        assert len(silent) == 1


@pytest.mark.parametrize(
    ("text", "head", "key"),
    [
        (figure("P", "23", "Olsen"), REPORT, "soil-unit"),
        (figure("P", "23 mg", "Olsen"), REPORT, "soil-unit"),
        (figure("P", "23 mg/kg", None), REPORT, "soil-extractant"),
        (figure("P", "46 lb/acre", "Mehlich-3"), NO_DEPTH, "soil-depth"),
        (figure("P", "23 ppm", "Olsen"), REPORT.replace('ph_in = "water"', ""), "soil-ph-in"),
        (figure("P", "23 ppm", "Olsen"), REPORT.replace("6.4", "64"), "soil-ph"),
        (figure("P", "23 ppm", "Olsen"), REPORT.replace("3.2 %", "3.2"), "soil-organic"),
        (figure("P", "23 ppm", "Olsen") * 2, REPORT, "soil-twice"),
        (figure("P", "23 ppm", "the usual"), REPORT, "soil-problems"),
        (figure("Q", "23 ppm", "Olsen"), REPORT, "soil-problems"),
        ("", REPORT, "soil-problems"),
        (figure("P", "23 ppm", "Olsen"), REPORT.replace("2027-02-01", "last week"), "season-day"),
    ],
)  # fmt: skip
def test_a_report_that_could_mean_several_things_is_refused(
    tmp_path: Path, text: str, head: str, key: str
) -> None:
    assert refusal(read_report, report(tmp_path, text, head)) == key


def test_a_split_adds_up_and_knows_its_waits() -> None:
    one, two = read_split("40 %, 60 % after 4 weeks")
    assert (one.share, one.days, two.share, two.days) == (F(2, 5), None, F(3, 5), 28)
    for wrong in ("40 %, 50 %", "100 %", "50 % after 3 days, 50 %", "50 %, 50 % after 1.5 days",
                  "0 %, 100 %", "forty %, 60 %"):  # fmt: skip
        assert refusal(read_split, wrong) == "feed-split"


def test_what_is_published_of_splits_is_found_by_the_crop() -> None:
    assert [one.days for one in advice(find_crop("beetroot"))] == [28]
    assert advice(None) == ()
    assert advice(find_crop("apple")) == ()


PIECES = st.lists(
    st.sampled_from(
        ["120", "1/2", "0", "-3", "1e9", "kg", "ha", "/", "per", "N", "P2O5", "phosphorus", "NO3",
         "%", ",", ":", "after", "as", "from", "clover", "28 days", "mg/L", "ppm", "\u00e9",
         "\u202e", "alfalfa-half-stand", "feedlot-manure-before", " "]
    ),
    max_size=8,
)  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(PIECES, st.sampled_from(["", " "]))
def test_any_words_are_read_or_refused_and_never_a_traceback(
    pieces: list[str], between: str
) -> None:
    text = between.join(pieces)
    for call in (
        lambda: read_asked(text, None, "--need"),
        lambda: read_credit(text, None),
        lambda: read_water(text, "100 mm"),
        lambda: read_water("9 mg/L NO3-N", text),
        lambda: read_split(text),
    ):
        with suppress(DoseError):
            call()

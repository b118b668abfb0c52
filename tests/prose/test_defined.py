"""Sizes that a text gives to its own words: a capful, a scoop, a bag."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.prose.defined import with_own_sizes
from dosecalc.catalog.prose.reading import read_text
from dosecalc.errors import DoseError


@pytest.mark.parametrize(
    ("text", "plainly"),
    [
        ("1 capful is 10 ml; 2 capfuls of fish emulsion in 4.5 L", "20 mL of Fish emulsion"),
        ("A scoop holds 30 g. Half a scoop of urea per 10 m2", "15 g of Urea"),
        ("one bag of compost is 40 l; 3 bags of compost per 4 m2", "120 L of Garden compost"),
        ("2 scoops of urea per 10 m2; my scoop weighs about 25 g", "50 g of Urea"),
        ("two 50 lb bags of gypsum per 1000 sq ft", "45.4 kg of Gypsum"),
        ("half of a 40 lb bag of gypsum over 680 sq ft", "9.07 kg of Gypsum"),
        ("a 40 lb bag of gypsum per 1000 sq ft", "18.1 kg of Gypsum"),
    ],
)
def test_a_size_that_the_text_gives_is_used(text: str, plainly: str) -> None:
    said = [say.english() for say in read_text(text, "us").says]
    assert any(line.startswith(f"That is {plainly} for each ") for line in said), said


@pytest.mark.parametrize(
    "text",
    [
        "1 capful is 10 ml; 1 capful is 15 ml; 2 capfuls of fish emulsion in 4.5 L",
        "1 capful is plenty; 2 capfuls of fish emulsion in 4.5 L",
        "1 capful is 0 ml; 2 capfuls of fish emulsion in 4.5 L",
        "1 capful is 3 hours; 2 capfuls of fish emulsion in 4.5 L",
        "2 capfuls of fish emulsion in 4.5 L",
        "two bags of gypsum per 1000 sq ft",
    ],
)
def test_a_size_that_is_not_given_is_asked_for(text: str) -> None:
    with pytest.raises(DoseError, match=r"cap|bag"):
        read_text(text, "us")


@given(st.text(max_size=60))
def test_a_text_without_a_size_stays_as_it_is(text: str) -> None:
    assert "holds" in text or " is " in text or with_own_sizes(text, "us").text == text

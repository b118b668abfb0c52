"""A purity in brackets counts in what a material holds, or is refused where it may be none."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dosecalc.catalog.formula import contents
from dosecalc.catalog.prose.reading import Reading, read_text
from dosecalc.errors import DoseError


def content(reading: Reading, id: str, element: str) -> Fraction:
    found = reading.materials[id].content(element)
    assert found is not None
    assert found.factor.low == found.factor.likely == found.factor.high
    return found.factor.likely


@pytest.mark.parametrize(
    ("text", "id", "element", "formula", "share"),
    [
        ("5 g copper sulphate (98 per cent) per litre", "copper-sulfate-pentahydrate", "Cu",
         "CuSO4.5H2O", "98/100"),
        ("5 g borax (purity 99.5%) per m2", "borax", "B", "Na2B4O7.10H2O", "995/1000"),
        ("borax powder (99 % pure): 5 g per m2", "borax", "B", "Na2B4O7.10H2O", "99/100"),
        ("5 g copper sulfate crystals (60 % pure) per litre", "copper-sulfate-pentahydrate", "S",
         "CuSO4.5H2O", "60/100"),
        ("90 g elemental sulfur (90 %) per m2", "elemental-sulfur", "S", "S", "90/100"),
        ("90 g ground limestone (85 %) per m2", "ground-limestone", "Ca", "CaCO3", "85/100"),
    ],
)  # fmt: skip
def test_a_purity_scales_what_the_formula_holds(
    text: str, id: str, element: str, formula: str, share: str
) -> None:
    found = read_text(text)
    assert content(found, id, element) == contents(formula)[element] * Fraction(share)
    assert found.own == {id}
    name = found.materials[id].name
    percent = f"{float(Fraction(share) * 100):g} %"
    assert name.endswith(f"({percent} pure)")
    plain = name.removesuffix(f" ({percent} pure)")
    assert f"{plain} is taken as {percent} pure, as written." in [s.english() for s in found.says]


def test_a_grade_that_is_known_by_its_percent_is_that_material() -> None:
    found = read_text("5 g calcium chloride powder (80%) per litre")
    assert set(found.materials) == {"calcium-chloride-flake"}
    assert not found.own
    spread = read_text("5 g calcium chloride (77-80 %) per litre")
    assert set(spread.materials) == {"calcium-chloride-flake"}


def test_a_written_share_within_the_one_figure_of_the_catalog_takes_its_place() -> None:
    found = read_text("5 g wettable sulfur (90 %) per litre")
    assert content(found, "wettable-sulfur", "S") == Fraction(9, 10)


def test_the_old_notation_keeps_a_purity_and_refuses_a_third_material() -> None:
    found = read_text("copper sulfate (98 %) and hydrated lime 4-4-50", "us")
    assert found.own == {"copper-sulfate-pentahydrate"}
    with pytest.raises(DoseError, match="how much Urea was not said"):
        read_text("copper sulfate, hydrated lime and urea 4-4-50", "us")


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("5 g copper sulfate (0 %) per litre", "more than 0 and at most 100"),
        ("5 g copper sulfate (101 % pure) per litre", "more than 0 and at most 100"),
        ("5 g copper sulfate (2 %) per litre", "how strong the mix is"),
        ("5 g potassium chloride (60 %) per m2", "of a nutrient"),
        ("5 g copper sulfate (90-98 %) per litre", "one number"),
        ("5 g neem oil (90 %) per litre", "leave the brackets out"),
        ("5 g 10-10-10 (90 %) per m2", "leave the brackets out"),
        ("5 g wettable sulfur (95 %) per litre", "leave the brackets out"),
        ("400 g ground limestone (CCE 80 %) per m2", "x 100 / 80 (1.25 times as much)"),
        ("400 g/m2 ground limestone, CCE of 80 %", "x 100 / 80 (1.25 times as much)"),
        ("400 g/m2 limestone with 80 per cent CCE", "x 100 / 80 (1.25 times as much)"),
        ("400 g/m2 hydrated lime, neutralising value 135 %", "(0.741 times as much)"),
        ("400 g/m2 limestone, calcium carbonate equivalent 92 %", "x 100 / 92"),
        ("400 g/m2 ground limestone of high CCE", "x 100 / that value"),
        ("400 g/m2 ground limestone, CCE 0 %", "x 100 / that value"),
    ],
)
def test_what_may_be_no_purity_is_refused_with_what_to_write(text: str, piece: str) -> None:
    with pytest.raises(DoseError) as caught:
        read_text(text)
    assert piece in str(caught.value)


def test_a_word_for_several_materials_keeps_its_purity_in_each_answer() -> None:
    text = "5 g zinc sulfate (98 %) per litre"
    with pytest.raises(DoseError) as caught:
        read_text(text)
    assert caught.value.doubt is not None
    for answer in caught.value.doubt.answers:
        found = read_text(text[: answer.start] + answer.new + text[answer.end :])
        assert all(name.endswith("(98 % pure)") for name in
                   (found.materials[id].name for id in found.own))  # fmt: skip
        assert found.own

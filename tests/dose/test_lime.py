"""Lime, sulfur and gypsum: more acid never needs less, and outside its range a method refuses."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.acidity import SoilText, read_soil
from dosecalc.catalog.liming import Method, fineness, free_lime, insteads, limit_waits, magnesium
from dosecalc.catalog.limit import read_limits
from dosecalc.catalog.lookup import material, source
from dosecalc.catalog.strength import CAO, LimingValue, pure_value, read_fineness, read_liming_value
from dosecalc.dose.acidify import check_free_lime
from dosecalc.dose.amend import check_place
from dosecalc.dose.lime_product import (
    LimeProduct,
    in_product,
    instead_of_sulfur,
    own_product,
    parts,
    pure_product,
)
from dosecalc.errors import DoseError
from dosecalc.units import read
from tests.dose.liming import METHODS, advised, bag, in_unit, need

TABLES = [m for m in METHODS.values() if m.table]
BANDS = [m for m in METHODS.values() if m.bands]


def case(method: Method, at: Fraction, column: int = 0) -> dict[str, str]:
    """A soil of a table or of bands, at a place of its rows and in one of its columns."""
    soil: dict[str, str] = {}
    number = str(float(at))
    if method.rows == "buffer":
        soil |= {"ph": "4.5", "buffer": f"{method.buffer} {number}"}
    elif method.rows == "acidity":
        soil |= {"ph": "4.5", "acidity": f"{number} meq/100 g"}
    else:
        soil["ph"] = number if method.ph_in == "water" else f"{number} in {method.ph_in}"
    if method.columns == "target":
        soil["target_ph"] = method.column[column]
    else:
        soil["texture"] = method.column[column]
    return soil


def refused(method: Method | str, **soil: str) -> str:
    with pytest.raises(DoseError) as err:
        need(method, **soil)
    return str(err.value)


# the data


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda m: m.id)
def test_the_data_of_a_method_are_whole(method: Method) -> None:
    width = len(method.column)
    assert all(len(row) == 1 + width for row in method.table)
    assert all(len(row) == 2 + width for row in method.step_table)
    assert len({row[0] for row in method.table}) == len(method.table)
    assert {band.texture for band in method.bands} <= set(method.column)
    assert len(method.per_step) in (0, width)
    assert method.unit.is_a((("[length]", -2), ("[mass]", 1)))
    assert method.setting
    assert method.source.grade
    assert bool(method.table) == (method.shape == "table")
    assert bool(method.bands) == (method.shape == "bands")
    assert bool(method.rules) == (method.shape == "acidity")
    assert bool(method.step_table) == (method.shape == "steps")
    assert (method.step is not None) == (method.shape == "per-step")


def test_more_acid_never_needs_less_in_any_printed_row() -> None:
    """Read down each column: a lower buffer or pH, or a higher acidity, asks as much or more."""
    seen = 0
    for method in TABLES:
        rows = sorted(method.table)
        more = 1 if method.rows == "acidity" or method.lowers else -1
        for column in range(1, len(method.column) + 1):
            figures = [row[column] for row in rows][::more]
            assert figures == sorted(figures), (method.id, column)
            seen += len(figures)
        if method.columns == "target":
            order = sorted(range(len(method.column)), key=lambda c: Fraction(method.column[c]))
            for row in rows:
                across = [row[1 + c] for c in order]
                assert across == sorted(across), (method.id, row)
    for method in BANDS:
        for texture in method.column:
            bands = [band for band in method.bands if band.texture == texture]
            assert [b.up_to for b in bands] == sorted(b.up_to for b in bands)
            amounts = [b.amount for b in bands]
            assert amounts == sorted(amounts, reverse=True)
            assert all(b.once is None or b.once < b.amount for b in bands)
    assert seen > 150


def test_what_splits_a_dose_names_a_limit_that_is_there() -> None:
    known = {limit.id for limit in read_limits(None, source)}
    assert set(limit_waits()) <= known
    assert len(limit_waits()) >= 5
    assert len(fineness()) >= 1
    assert len(insteads()) >= 2
    assert free_lime().since == 7
    assert all(rule.below > 0 for rule in magnesium())


# what stands in the rows


@pytest.mark.parametrize("method", TABLES, ids=lambda m: m.id)
def test_a_table_gives_its_own_figure_at_every_row_or_asks_for_none(method: Method) -> None:
    for row in method.table:
        for column, figure in enumerate(row[1:]):
            soil = case(method, row[0], column)
            if method.rows == "ph" and method.target == row[0]:
                continue
            if figure == 0:
                assert "asks for none" in refused(method, **soil)
                continue
            found = need(method, **soil)
            assert found.amount == method.unit * figure
            assert found.counts == method.counts


@pytest.mark.parametrize("method", TABLES, ids=lambda m: m.id)
def test_between_two_rows_the_one_that_asks_less_is_taken_and_said(method: Method) -> None:
    rows = sorted(method.table)
    column = len(method.column) - 1
    for low, high in pairwise(rows):
        middle = (low[0] + high[0]) / 2
        less = min(low[1 + column], high[1 + column])
        if less == 0:
            continue
        found = need(method, **case(method, middle, column))
        assert found.amount == method.unit * less
        assert "asks less" in found.lines[0].english()


@pytest.mark.parametrize("method", TABLES, ids=lambda m: m.id)
def test_a_table_ends_at_its_first_and_last_row(method: Method) -> None:
    rows = sorted(method.table)
    hair = Fraction(1, 100)
    for edge, step in ((rows[0][0], hair), (rows[-1][0], -hair)):
        column = len(method.column) - 1
        inside = case(method, edge + step, column)
        assert need(method, **inside).amount.value > 0
        text = refused(method, **case(method, edge - step, column))
        assert "lies outside" in text
        assert f"{float(edge):.1f}" in text


@pytest.mark.parametrize("method", BANDS, ids=lambda m: m.id)
def test_a_class_of_ph_ends_where_the_next_begins(method: Method) -> None:
    hair = Fraction(1, 100)
    for column, texture in enumerate(method.column):
        bands = [band for band in method.bands if band.texture == texture]
        for band, after in zip(bands, [*bands[1:], None], strict=True):
            at = need(method, **case(method, band.up_to, column))
            assert at.amount == method.unit * band.amount
            above = case(method, band.up_to + hair, column)
            if after is None:
                assert "lies outside" in refused(method, **above)
            else:
                assert need(method, **above).amount == method.unit * after.amount
        if bands[0].since is not None:
            assert need(method, **case(method, bands[0].since, column)).amount.value > 0
            assert "lies outside" in refused(method, **case(method, bands[0].since - hair, column))


def test_the_flat_dressing_ends_where_the_factor_begins() -> None:
    soil = {"ph": "5.5", "target_ph": "6.5"}
    at = need("pennsylvania-field", acidity="4.0 meq/100 g", **soil)
    above = need("pennsylvania-field", acidity="4.01 meq/100 g", **soil)
    assert in_unit(at.amount, "lb/acre") == 2000
    assert in_unit(above.amount, "lb/acre") == 840 * Fraction("4.01")
    most = need("pennsylvania-field", acidity="25.7 meq/100 g", **soil)
    assert in_unit(most.amount, "lb/acre") == 840 * Fraction("25.7")
    assert "lies outside" in refused("pennsylvania-field", acidity="25.8 meq/100 g", **soil)
    assert "lies outside" in refused("pennsylvania-field", acidity="0 meq/100 g", **soil)


def test_north_carolina_ends_at_its_buffer_and_its_target() -> None:
    soil = {"ph": "5.0", "target_ph": "6.6"}
    assert need("north-carolina", buffer="NCDA 6.59", **soil).amount.value == Fraction(4, 100)
    assert "no acidity" in refused("north-carolina", buffer="NCDA 6.6", **soil)
    assert "reaches pH 6.6" in refused(
        "north-carolina", buffer="NCDA 6.0", ph="5.0", target_ph="6.7"
    )
    both = refused("north-carolina", buffer="NCDA 6.0", acidity="1.2 meq/100 cm3", **soil)
    assert "only the one" in both


def test_a_credit_is_taken_off_and_eats_the_need() -> None:
    from dosecalc.dose.lime import lime_need

    soil = read_soil(SoilText(ph="5.0", target_ph="6.0", acidity="1.6 meq/100 cm3"))
    method = METHODS["north-carolina"]
    whole = lime_need(method, soil)
    assert in_unit(whole.amount, "US ton/acre") == 1
    assert any("--credit" in say.english() for say in whole.taken)
    less = lime_need(method, soil, None, read.quantity("0.25 US ton/acre"))
    assert in_unit(less.amount, "US ton/acre") == Fraction(3, 4)
    with pytest.raises(DoseError, match="asks for none"):
        lime_need(method, soil, None, read.quantity("1 US ton/acre"))
    other = read_soil(SoilText(ph="5.0", target_ph="5.6", buffer="Sikora 6.0"))
    with pytest.raises(DoseError, match="leave out --credit"):
        lime_need(METHODS["oregon-sikora"], other, None, read.quantity("1 US ton/acre"))


def test_michigan_adds_whole_steps_and_no_part_of_one() -> None:
    two = need("michigan-sulfur", ph="7.0", target_ph="5.0", texture="clay loam")
    assert in_unit(two.amount, "lb/100 sq ft") == Fraction("5.7")
    assert len(two.lines) == 2
    for ph, target in (("6.9", "6.0"), ("7.0", "6.5"), ("7.1", "6.0"), ("4.0", "3.0")):
        text = refused("michigan-sulfur", ph=ph, target_ph=target, texture="sand")
        assert "is not made of these" in text


def test_tennessee_counts_whole_tenths_and_the_south_one_unit() -> None:
    exact = need("tennessee-blueberry", ph="6.2", texture="silt loam")
    part = need("tennessee-blueberry", ph="6.29", texture="silt loam")
    assert exact.amount == part.amount
    assert in_unit(exact.amount, "lb/1000 sq ft") == 14
    sand = need("tennessee-blueberry", ph="6.2", texture="sand")
    clay = need("tennessee-blueberry", ph="6.2", texture="clay")
    assert sand.amount * 2 == clay.amount
    assert "asks for none" in refused("tennessee-blueberry", ph="5.55", texture="sand")
    assert "no acid is needed" in refused("tennessee-blueberry", ph="5.5", texture="sand")
    for target in ("5.5", "4.9", "4.0"):
        text = refused("south-blueberry", ph="6.0", target_ph=target, texture="sand")
        assert "at a time" in text


@given(
    low=st.integers(1, 300), more=st.integers(1, 300), ph=st.integers(40, 59),
    method=st.sampled_from(["pennsylvania-field", "north-carolina"]),
)  # fmt: skip
def test_a_formula_never_asks_less_for_more_acid(low: int, more: int, ph: int, method: str) -> None:
    per = "100 g" if method == "pennsylvania-field" else "100 cm3"
    target = "6.5" if method == "pennsylvania-field" else "6.4"
    high = min(low + more, 257)
    low = min(low, high)
    soils = [
        {"ph": f"{Fraction(ph, 10)!s}" if ph % 10 == 0 else f"{ph // 10}.{ph % 10}",
         "target_ph": target, "acidity": f"{n // 10}.{n % 10} meq/{per}"}
        for n in (low, high)
    ]  # fmt: skip
    less, much = (need(method, **soil).amount for soil in soils)
    assert less <= much


@given(start=st.integers(56, 69), texture=st.sampled_from(["silt loam", "clay", "sand"]))
def test_a_higher_ph_never_needs_less_sulfur(start: int, texture: str) -> None:
    one, other = (
        need("tennessee-blueberry", ph=f"{n // 10}.{n % 10}", texture=texture).amount
        for n in (start, start + 1)
    )
    assert one <= other


# scope


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda m: m.id)
def test_a_method_is_refused_outside_its_region_and_setting(method: Method) -> None:
    check_place(method, None, None)
    for setting in method.setting:
        check_place(method, None if method.region == "any" else method.region, setting)
    with pytest.raises(DoseError, match="not for container"):
        check_place(method, None, "container")
    if method.region != "any":
        with pytest.raises(DoseError, match="the region told is AU"):
            check_place(method, "AU", None)


@pytest.mark.parametrize(
    ("method", "soil", "words"),
    [
        ("oregon-sikora", {"target_ph": "6.4", "buffer": "Sikora 6.0"}, "needs the soil's pH"),
        ("oregon-sikora", {"ph": "5.2", "buffer": "Sikora 6.0"}, "one of pH 5.6, 6.0"),
        ("oregon-sikora", {"ph": "5.2", "target_ph": "6.4"}, "Sikora buffer reading"),
        ("oregon-sikora", {"ph": "5.2", "target_ph": "6.4", "buffer": "SMP 6.0"}, "this is SMP"),
        ("oregon-sikora", {"ph": "5.2", "target_ph": "6.5", "buffer": "Sikora 6"}, "not for 6.5"),
        ("oregon-sikora", {"ph": "6.4", "target_ph": "6.4", "buffer": "Sikora 6"}, "no lime is"),
        ("oregon-sikora", {"ph": "5 in KCl", "target_ph": "6.4", "buffer": "Sikora 6"}, "in water"),
        ("pennsylvania-field", {"ph": "5.2", "target_ph": "6.5"}, "acidity of the report"),
        ("pennsylvania-turf", {"ph": "5.2", "target_ph": "6.5", "acidity": "3 meq/100 cm3"},
         "100 cm3"),
        ("garden-limestone", {"ph": "5.2"}, "the texture"),
        ("garden-limestone", {"ph": "5.2", "texture": "sand"}, "not for sand"),
        ("garden-limestone", {"ph": "5.2", "texture": "loam", "target_ph": "6.0"}, "not for 6.0"),
        ("poland-arable", {"ph": "5.2", "texture": "light"}, "was read in water"),
        ("poland-arable", {"ph": "5.2 in KCl", "texture": "light", "target_ph": "6.5"},
         "leave out"),
        ("michigan-sulfur", {"ph": "6.0", "texture": "loam"}, "the target pH"),
        ("gypsum-sodium", {"sodium": "35 %", "cec": "22 meq/100 g"}, "aimed at"),
        ("gypsum-sodium", {"sodium": "15 %", "target_sodium": "15 %", "cec": "22 meq/100 g"},
         "no gypsum"),
        ("gypsum-sodium", {"sodium": "20 %", "target_sodium": "15 %", "cec": "22 meq/100 cm3"},
         "100 cm3"),
    ],
)  # fmt: skip
def test_what_is_missing_or_not_the_methods_own_is_asked_for(
    method: str, soil: dict[str, str], words: str
) -> None:
    assert words in refused(method, **soil)


def test_depth_is_scaled_only_where_the_source_scales_it() -> None:
    soil = {"ph": "5.0", "target_ph": "6.4", "buffer": "Sikora 6.0"}
    assert need("oregon-sikora", "6 in", **soil).amount == need("oregon-sikora", **soil).amount
    for depth in ("5.9 in", "6.1 in", "12 in"):
        with pytest.raises(DoseError, match="is for 15 cm"):
            need("oregon-sikora", depth, **soil)
    with pytest.raises(DoseError, match="prints no depth"):
        need("garden-limestone", "6 in", ph="5.0", texture="loam")
    salt = {"sodium": "30 %", "target_sodium": "15 %", "cec": "20 meq/100 g"}
    once = need("gypsum-sodium", "15 cm", **salt).amount
    assert once * 2 == need("gypsum-sodium", **salt).amount
    assert once * 4 == need("gypsum-sodium", "60 cm", **salt).amount


@pytest.mark.parametrize(
    ("ph", "fizzes", "words"),
    [
        ("7.0", None, "must be known"),
        ("6.99", None, None),
        ("7.4", "no", None),
        ("6.0", "yes", "cannot be lowered"),
        ("8.2", "yes", "cannot be lowered"),
    ],
)
def test_free_lime_makes_acidifying_hopeless(
    ph: str, fizzes: str | None, words: str | None
) -> None:
    soil = read_soil(SoilText(ph=ph, fizzes=fizzes))
    if words is None:
        check_free_lime(soil, free_lime())
        return
    with pytest.raises(DoseError, match=words):
        check_free_lime(soil, free_lime())


# the bag


@given(value=st.integers(10, 120), pounds=st.integers(1, 500))
def test_a_lime_of_twice_the_value_needs_half(value: int, pounds: int) -> None:
    advice = f"{pounds} lb/1000 sq ft of 100 % CaCO3"
    once = advised(advice, bag(f"{value} % CaCO3")).amount
    twice = advised(advice, bag(f"{2 * value} % CaCO3")).amount
    assert twice * 2 == once


def test_percent_of_oxide_is_not_percent_of_carbonate() -> None:
    advice = "100 lb/1000 sq ft of 100 % CaCO3"
    carbonate = advised(advice, bag("54 % CaCO3")).amount
    oxide = advised(advice, bag("54 % CaO")).amount
    assert carbonate == oxide * CAO
    assert pure_value("CaO") / pure_value("CaCO3") == CAO
    assert 1.784 < float(CAO) < 1.786


@pytest.mark.parametrize(
    "text",
    ["54", "54 %", "90 % lime", "CaCO3", "0 % CaCO3", "-5 % CaO", "300 % CaCO3", "141 % CaO", ""],
)
def test_a_value_without_its_count_is_refused(text: str) -> None:
    with pytest.raises(DoseError):
        read_liming_value(text)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("90 % CaCO3", "CaCO3", "90"), ("90% cce", "CaCO3", "90"), ("52.5 % CaO", "CaO", "52.5"),
        ("68 % ENV", "ENV", "68"), ("lime score 95", "lime score", "95"),
        ("1800 lb ENP/ton", "ENP", "1800"), ("400 lb ENM per US ton", "ENM", "400"),
        ("90 % sulphur", "S", "90"), ("85 % gypsum", "gypsum", "85"),
    ],
)  # fmt: skip
def test_a_value_is_read_with_its_count(text: str, kind: str, value: str) -> None:
    assert read_liming_value(text) == LimingValue(kind, Fraction(value))
    assert read_liming_value(LimingValue(kind, Fraction(value)).text()).kind == kind


def test_counts_that_no_source_joins_are_not_joined() -> None:
    for need_of, have in (
        ("100 % CaCO3", "1800 lb ENP/ton"), ("100 % CaCO3", "80 % ENV"),
        ("100 % ENV", "90 % CaCO3"), ("2000 lb ENP/ton", "90 % CaCO3"),
        ("lime score 100", "80 % ENV"),
    ):  # fmt: skip
        with pytest.raises(DoseError, match="no source here"):
            advised(f"1 US ton/acre of {need_of}", bag(have))
    score = advised("1 US ton/acre of lime score 100", bag("90 % CaCO3"))
    assert any("lime score was not told" in say.english() for say in score.taken)
    exact = advised("1 US ton/acre of lime score 100", bag("lime score 80"))
    assert in_unit(exact.amount, "US ton/acre") == Fraction(5, 4)
    enp = advised("2 US ton/acre of 2000 lb ENP/ton", bag("1600 lb ENP/ton"))
    assert in_unit(enp.amount, "US ton/acre") == Fraction(5, 2)


def test_fineness_counts_only_where_the_need_counts_it_and_with_its_own_sieves() -> None:
    sieves = "95 % through 20 mesh, 70 % through 60 mesh, 50 % through 100 mesh"
    fine = "100 % through 20 mesh, 100 % through 60 mesh, 100 % through 100 mesh"
    advice = "1 US ton/acre of 100 % ENV"
    assert advised(advice, bag("90 % CaCO3", sieves=fine)).counts.value == 90
    with pytest.raises(DoseError, match="not counted for this need"):
        advised("1 US ton/acre of 100 % CaCO3", bag("90 % CaCO3", sieves=sieves))
    with pytest.raises(DoseError, match="already counts the fineness"):
        advised(advice, bag("68 % ENV", sieves=sieves))
    with pytest.raises(DoseError, match="20, 60, 100 mesh"):
        advised(advice, bag("90 % CaCO3", sieves="90 % through 8 mesh, 50 % through 60 mesh"))
    none = "0 % through 20 mesh, 0 % through 60 mesh, 0 % through 100 mesh"
    with pytest.raises(DoseError, match="too coarse"):
        advised(advice, bag("90 % CaCO3", sieves=none))


@pytest.mark.parametrize(
    "text",
    ["95", "95 % through 2 mm", "50 % through 20 mesh, 70 % through 60 mesh",
     "50 % through 20 mesh, 40 % through 20 mesh", "120 % through 20 mesh", ""],
)  # fmt: skip
def test_a_fineness_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(DoseError):
        read_fineness(text)


def test_moisture_takes_more_of_it_and_is_not_counted_twice() -> None:
    dry = bag("90 % CaCO3")
    wet = replace(dry, moisture=Fraction(1, 10))
    advice = "90 lb/1000 sq ft of 100 % CaCO3"
    assert advised(advice, wet).amount * 9 == advised(advice, dry).amount * 10
    enp = replace(bag("1800 lb ENP/ton"), moisture=Fraction(1, 10))
    with pytest.raises(DoseError, match="already counts the moisture"):
        advised("2 US ton/acre of 2000 lb ENP/ton", enp)


def test_a_label_stronger_than_the_pure_material_is_refused() -> None:
    assert own_product(bag("100 % CaCO3")).content("Ca") is not None
    for value, name in (("101 % CaCO3", "ground-limestone"), ("57 % CaO", "ground-limestone"),
                        ("109 % CaCO3", "dolomitic-limestone")):  # fmt: skip
        with pytest.raises(DoseError, match="more than pure"):
            own_product(bag(value, name))
    half = own_product(bag("50 % CaCO3")).content("Ca")
    whole = material("ground-limestone").content("Ca")
    assert half is not None
    assert whole is not None
    assert half.factor.likely * 2 == whole.factor.likely


def test_a_material_without_a_formula_has_no_value_of_its_own() -> None:
    assert pure_product(material("ground-limestone")).value == 100
    with pytest.raises(DoseError, match="no liming value of its own"):
        pure_product(material("wood-ash"))


def test_salts_in_place_of_sulfur_by_their_factor() -> None:
    sulfur = need("michigan-sulfur", ph="6.0", target_ph="5.0", texture="loam")
    for salt in insteads():
        assert instead_of_sulfur(sulfur, salt).amount == sulfur.amount * salt.factor
    pure = LimeProduct(material("elemental-sulfur"), read_liming_value("80 % S"), True)
    assert in_product(sulfur, pure).amount * 4 == sulfur.amount * 5


@pytest.mark.parametrize(
    ("pounds", "dressings"),
    [("10", 1), ("10.01", 2), ("11", 2), ("20", 2), ("20.01", 3), ("21", 3), ("30", 3)],
)
def test_penn_state_splits_a_garden_as_it_prints(pounds: str, dressings: int) -> None:
    """11 to 20 lb per 100 sq ft in two, 21 lb and more in three."""
    amount = read.quantity(f"{pounds} lb/100 sq ft")
    assert parts(amount, [read.quantity("10 lb/100 sq ft")]) == dressings
    assert parts(amount, []) == 1


# a soil report


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("ph", "2.9"), ("ph", "10.1"), ("ph", "acid"), ("ph", "5.6 in vinegar"), ("ph", ""),
        ("ph", "5,6,7"), ("buffer", "6.0"), ("buffer", "lime index 62"), ("buffer", "SMP 62"),
        ("buffer", "Sikora"), ("buffer", "Sikora 3"), ("buffer", "Blue 6.0"),
        ("acidity", "6"), ("acidity", "6 meq"), ("acidity", "600 meq/100 g"), ("cec", "22"),
        ("sodium", "15"), ("sodium", "101 %"), ("magnesium", "60"), ("fizzes", "maybe"),
        ("texture", " "),
    ],
)  # fmt: skip
def test_a_figure_without_its_method_or_unit_is_not_interpreted(field: str, text: str) -> None:
    with pytest.raises(DoseError):
        read_soil(SoilText(**{field: text}))


def test_one_charge_in_three_units() -> None:
    for text in ("12 meq/100 g", "12 cmolc/kg", "12 cmol/kg", "120 mmolc/kg", "12 meq/100g"):
        found = read_soil(SoilText(cec=text)).cec
        assert found is not None
        assert (found.value, found.per) == (12, "100 g")

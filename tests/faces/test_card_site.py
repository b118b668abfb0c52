"""The drawing of the ground: inside its frame, to scale, the treated part as large as told."""

from __future__ import annotations

from itertools import pairwise
from math import isclose, isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosecalc.catalog.site import Site, SiteText, read_site
from dosecalc.faces.card.data import Drawing
from dosecalc.faces.card.site import drawing
from dosecalc.faces.card.words import Words
from dosecalc.units.measure import SQUARE_METER, Measure

CM = st.integers(10, 4000)
CUT = "Drawn shorter than it is: the stripe across is a cut in the drawing."
NO_WIDTH = "How wide the rows are was not told, and is not drawn to scale."
NO_GAP = "How far apart they lie was not told, and is not drawn to scale."


def drawn(basis: str | None = None, **typed: str) -> tuple[Drawing, Site]:
    """By row where rows were told, else by area, unless a basis is named."""
    site = read_site(SiteText(**typed))  # what cannot be read is never drawn
    basis = basis or ("row length" if "row" in typed else "area")
    found = drawing(SiteText(**typed), basis, Words())
    assert found is not None
    return found, site


def area(found: Drawing, kind: str) -> float:
    return sum(one.width * one.height for one in found.shapes if one.kind == kind)


def square_metres(told: Measure | None) -> float:
    assert told is not None
    return float(told.amount_in(SQUARE_METER))


def sound(found: Drawing) -> bool:
    numbers = [found.width, found.height, found.bar]
    numbers += [n for one in found.shapes for n in (one.x, one.y, one.width, one.height)]
    inside = all(
        one.x >= 0 and one.y >= 0 and one.width > 0 and one.height > 0
        and one.x + one.width <= found.width * (1 + 1e-9)
        and one.y + one.height <= found.height * (1 + 1e-9)
        for one in found.shapes
    )  # fmt: skip
    marked = any(one.kind in ("treated", "dot") for one in found.shapes)
    return inside and marked and all(map(isfinite, numbers)) and found.bar <= found.width / 3


def cut_is_honest(found: Drawing, length: float) -> bool:
    """Shortened, it says so, shows the cut and has no bar; else it is as long as told."""
    if isclose(found.width, length, rel_tol=1e-9):
        return CUT not in found.captions
    stripe = found.shapes[-1]
    meets = any(
        one.x < stripe.x + stripe.width * (1 - 1e-9)
        and stripe.x < (one.x + one.width) * (1 - 1e-9)
        for one in found.shapes[:-1]
    )  # fmt: skip
    across = stripe.kind == "other" and (stripe.y, stripe.height) == (0, found.height)
    least = isclose(found.width, 8 * found.height, rel_tol=1e-9) and found.width < length
    return across and least and not meets and found.captions[-1] == CUT and found.bar == 0


@given(CM, CM, st.integers(1, 24), st.none() | CM)
def test_beds_are_as_large_as_told(width: int, length: int, beds: int, path: int | None) -> None:
    typed = {"bed": f"{width} cm x {length} cm", "beds": str(beds)}
    if path is not None:
        typed["path"] = f"{path} cm"
    found, site = drawn(**typed)
    assert sound(found)
    assert cut_is_honest(found, max(width, length) / 100)
    assert (NO_GAP in found.captions) == (beds > 1 and path is None)
    if CUT in found.captions:
        return
    assert isclose(area(found, "treated"), square_metres(site.area), rel_tol=1e-9)
    if path is not None:
        gross = square_metres(site.gross_area)
        assert isclose(found.width * found.height, gross, rel_tol=1e-9)
        assert isclose(area(found, "other"), gross - square_metres(site.area), rel_tol=1e-6)


@given(CM, st.integers(1, 24), st.integers(20, 200), st.integers(5, 20))
def test_rows_are_bands_on_their_ground(length: int, rows: int, apart: int, band: int) -> None:
    found, site = drawn(
        row=f"{length} cm", rows=str(rows), row_spacing=f"{apart} cm", band=f"{band} cm"
    )
    assert sound(found)
    assert cut_is_honest(found, length / 100)
    strips = [one for one in found.shapes if one.kind == "treated"]
    assert all(isclose(one.height * 100, band) for one in strips)
    starts = sorted({one.y for one in strips})
    assert len(starts) == rows
    assert all(isclose((two - one) * 100, apart) for one, two in pairwise(starts))
    if CUT not in found.captions:
        assert isclose(area(found, "treated"), square_metres(site.band_area), rel_tol=1e-9)
        assert isclose(found.width * found.height, square_metres(site.ground), rel_tol=1e-9)


@given(CM, st.integers(1, 100), st.none() | CM, st.none() | CM)
def test_rows_never_hide_what_was_not_told(
    length: int, rows: int, apart: int | None, band: int | None
) -> None:
    typed = {"row": f"{length} cm", "rows": str(rows)}
    if apart is not None:
        typed["row_spacing"] = f"{apart} cm"
    if band is not None:
        typed["band"] = f"{band if apart is None else min(band, apart)} cm"
    found, site = drawn(**typed)
    assert sound(found)
    assert cut_is_honest(found, length / 100)
    assert (NO_WIDTH in found.captions) == (band is None)
    assert (NO_GAP in found.captions) == (apart is None and rows > 1)
    assert ("Only 24 of them are drawn." in found.captions) == (rows > 24)
    if band is not None and rows <= 24 and CUT not in found.captions:
        assert isclose(area(found, "treated"), square_metres(site.band_area), rel_tol=1e-9)


@pytest.mark.parametrize("what", ["plants", "pots"])
@given(count=st.integers(1, 1000))
def test_plants_and_pots_are_dots_that_are_counted(what: str, count: int) -> None:
    typed = {what: str(count)}
    if what == "pots":
        typed["pot_size"] = "2 L"
    found, _ = drawn(**typed)
    assert sound(found)
    assert len(found.shapes) == min(count, 60)
    assert found.captions[0].startswith(f"{count} ")
    assert (len(found.captions) == 2) == (count > 60)
    assert found.bar == 0


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"bed": "1.2 m x 8 m", "beds": "1,000"}, "1000 beds, "),
        ({"bed": "1.2 m x 8 m", "beds": "3.0"}, "3 beds, "),
        ({"row": "4 m", "rows": "4/2"}, "2 rows, "),
        ({"plants": "12.0"}, "12 plants."),
        ({"pots": "1,200"}, "1200 pots."),
    ],
)
def test_a_count_is_read_as_the_dose_reads_it(typed: dict[str, str], says: str) -> None:
    assert drawn(**typed)[0].captions[0].startswith(says)


def test_rows_on_a_bed_are_said() -> None:
    found, _ = drawn(bed="1.2 m x 8 m", beds="2", rows_per_bed="3", path="45 cm")
    assert found.captions[1] == "6 rows, each 8 m (26.2 ft)."


def test_what_has_no_told_sides_is_not_drawn() -> None:
    for typed in ({"area": "10 m2"}, {"shape": "circle: diameter 4 m"}, {"medium_volume": "60 L"}):
        read_site(SiteText(**typed))
        assert drawing(SiteText(**typed), "area", Words()) is None
    assert drawing(SiteText(), "area", Words()) is None


@given(CM, st.integers(1, 24), st.integers(20, 200))
def test_a_rate_per_area_marks_the_whole_ground_of_rows(length: int, rows: int, apart: int) -> None:
    typed = {"row": f"{length} cm", "rows": str(rows), "row_spacing": f"{apart} cm"}
    found, site = drawn("area", **typed)
    assert sound(found)
    assert NO_WIDTH not in found.captions
    if CUT not in found.captions:
        assert isclose(area(found, "treated"), square_metres(site.ground), rel_tol=1e-9)


@given(st.integers(60, 200), st.integers(2, 12), st.integers(1, 6), st.none() | st.integers(5, 30))
def test_a_rate_per_row_marks_the_rows_of_a_bed_and_no_more(
    width: int, metres: int, rows: int, band: int | None
) -> None:
    typed = {"bed": f"{width} cm x {metres} m", "rows_per_bed": str(rows), "path": "45 cm"}
    if band is not None:
        typed["band"] = f"{min(band, width // rows)} cm"
    found, site = drawn("row length", **typed)
    assert sound(found)
    assert (NO_WIDTH in found.captions) == (band is None)
    strips = sorted(one.y for one in found.shapes if one.kind == "treated" and one.x == 0)
    assert len(strips) == rows
    assert area(found, "treated") < square_metres(site.area) or band is not None
    if band is not None and CUT not in found.captions:
        assert isclose(area(found, "treated"), square_metres(site.band_area), rel_tol=1e-9)


def test_a_spray_along_a_band_marks_the_band() -> None:
    found, site = drawn("spray volume", row="4 m", row_spacing="60 cm", rows="3", band="20 cm")
    assert isclose(area(found, "treated"), square_metres(site.band_area))


@pytest.mark.parametrize(
    ("basis", "typed"),
    [
        ("plant", {"plants": "9"}),
        ("pot", {"pots": "9"}),
        ("plant", {"row": "4 m", "plant_spacing": "40 cm"}),
    ],
)
def test_what_is_given_to_each_is_said(basis: str, typed: dict[str, str]) -> None:
    assert drawn(basis, **typed)[0].treated == f"Each {basis} here gets its own amount."


def test_the_scale_bar_is_shorter_than_a_third_of_the_ground() -> None:
    found, _ = drawn(bed="1.2 m x 8 m")
    assert (found.bar, found.bar_text) == (2.0, "2 m")
    assert found.captions == ("1 bed, 1.2 m (3.94 ft) by 8 m (26.2 ft).",)
